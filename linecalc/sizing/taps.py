"""Feeder taps: conductors joined to a feeder without a device at the joint, protected at their end.

References
----------
``tap_rules`` 240.21(B)(1), (2); ``feeder_taps`` 705.12(A)(3), 705.12(B)(2) in 2020, 705.12(B)(2)(2) in 2017.
"""

from __future__ import annotations

from collections.abc import Mapping

from linecalc.calc.compare import at_most
from linecalc.calc.interconnection import (
    feeder_segment_need,
    source_demand,
    tap_feeding_devices,
    tap_need_10_ft,
    tap_need_25_ft,
)
from linecalc.codebook.edition import TapFeeding
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.records import Circuit, Demand
from linecalc.sizing.cables import is_cable
from linecalc.sizing.joining import joints_upstream
from linecalc.sizing.records import Device
from linecalc.term import Number, label, named

SHORT_FT, LONG_FT = 10.0, 25.0


def tap_demands(circuit: Circuit, currents: Currents, devices: Mapping[str, Device | None]) -> tuple[Demand, ...]:
    """What the conductors of a tap must carry, by their length; none where length or feeder device is not known, or above 25 ft.

    A tenth is for raceways of at most 10 ft; a cable has the third, whatever its length.

    References
    ----------
    ``tap_rules``: 240.21(B)(1)(3), (B)(2)(3).
    """
    feeding = feeding_of(circuit, currents, devices)
    if feeding is None or circuit.length_ft is None or not at_most(circuit.length_ft, LONG_FT):
        return ()
    amps, cite = feeding
    short = at_most(circuit.length_ft, SHORT_FT) and not tap_cables(currents.network, circuit)
    need = (tap_need_10_ft if short else tap_need_25_ft)(amps)
    need = label(named(need, "I_tap", "A", f"ampacity needed for a tap of at most {SHORT_FT if short else LONG_FT:g} ft", cite), f"{circuit.tag}.tap")
    why = f"tap of {circuit.length_ft:g} ft: a {'tenth' if short else 'third'} of what can feed it"
    return (Demand("tap", need, cite, why),)


def tap_cables(network: Network, circuit: Circuit) -> tuple[str, ...]:
    """The sections of a tap that are cables, not raceways."""
    return tuple(tag for tag in circuit.sections if is_cable(network.project.section[tag]))


def feeding_of(circuit: Circuit, currents: Currents, devices: Mapping[str, Device | None]) -> tuple[Number, str] | None:
    """What can feed a tap, in amperes, and the citation key; None where a device is not known."""
    network = currents.network
    above = network.parent.get(circuit.up)
    feeder = None if above is None else devices[above.tag]
    if feeder is None or feeder.load_end:
        return None
    ahead = [tag for joint in joints_upstream(network, above, devices) for tag in joint.nodes]
    sources = [tag for tag in (*network.below(circuit.up), *ahead) if tag in currents.sources]
    if not sources:
        return feeder.rating, "tap_rules"
    if currents.book.wording.tap_feeding is TapFeeding.SOURCE_CURRENTS:
        demand = label(source_demand([currents.sources[tag].export_a for tag in sources], "feeder_taps"), f"{circuit.tag}.tap.sources")
        return label(named(feeder_segment_need(feeder.rating, demand), "I_feeding", "A", "feeder device and sources", "feeder_taps"), f"{circuit.tag}.tap.feeding"), "feeder_taps"
    own = [devices[network.parent[tag].tag] for tag in sources]
    if any(device is None for device in own):
        return None
    return label(tap_feeding_devices(feeder.rating, [device.rating for device in own]), f"{circuit.tag}.tap.feeding"), "feeder_taps"
