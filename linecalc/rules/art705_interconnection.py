"""Article 705: busbars, feeders and supply-side connections.

References
----------
``busbar_sum`` and the other methods 705.12(B); ``feeder_connection``;
``supply_side`` 705.11, 705.12(A) in 2017.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Kind
from linecalc.calc.interconnection import source_powers_together, sources_together, supply_side_currents
from linecalc.codebook.edition import SupplySideLimit
from linecalc.rules.demand_checks import demand_checks
from linecalc.sizing.ahead import is_supply_side_source
from linecalc.sizing.records import BusFigures, BusMethod, BusVerdict, Sized
from linecalc.term import label, value_of

LEAST_DISCONNECT_A = 60.0


def busbars(sized: Sized) -> Iterator[Check]:
    """Every bus that a source reaches passes by one method of the edition.

    References
    ----------
    ``busbar_sum``, ``busbar_120``, ``busbar_all_breakers``, ``busbar_center_fed``: 705.12(B).
    """
    for bus in sized.buses:
        if bus.needs or bus.used is None:
            needs = bus.needs or ("a method of the busbar rule",)
            yield not_checked(sized.book, "busbar_sum", bus.tag, "what protects this bus is not known", needs)
            continue
        yield _bus_check(sized, bus)
        if bus.used.key == "busbar_feed_through" and bus.used.verdict is BusVerdict.PASS:
            message = f"the feed-through method sets no figure for the bus of {bus.tag} itself: readers differ, ask the AHJ"
            yield remark(sized.book, "busbar_feed_through.reading", bus.tag, Level.WARN, message)


def _bus_check(sized: Sized, bus: BusFigures) -> Check:
    used = bus.used
    section = sized.book.cite(used.key).section
    names = ", ".join(tag for tag, _ in bus.sources)
    passing = f"bus of {bus.tag} with {names}: {used.why}"
    breaking = f"bus of {bus.tag} with {names}: no method passes; nearest {section}, {used.why}"
    return limit_check(
        sized.book, used.key, bus.tag, used.demand, used.limit, "A", passing, breaking, flip=_left(bus), terms=(bus.source_demand,)
    )


def _left(bus: BusFigures) -> str | None:
    if bus.used.verdict is not BusVerdict.PASS or bus.left_a is None:
        return None
    left = f"the bus still takes {max(0.0, value_of(bus.left_a)):.4g} A of source current"
    if bus.largest_breaker_a is None:
        return f"{left}, no further standard breaker"
    where = "" if _by_sum(bus) else ", at the end opposite the supply"
    return f"{left}, largest further source breaker {bus.largest_breaker_a:g} A{where}"


def _by_sum(bus: BusFigures) -> bool:
    """Whether what is left comes from a method that asks for no position on the bus."""
    return any(method.left_a is bus.left_a for method in bus.methods if method.key != "busbar_120")


def other_methods(sized: Sized) -> Iterator[Check]:
    """Each method that was not used on a bus, and why, in one note a bus.

    References
    ----------
    ``busbar_sum`` and the other methods; each with its own section.
    """
    for bus in sized.buses:
        others = [method for method in bus.methods if method is not bus.used]
        if others:
            told = "; ".join(f"{sized.book.cite(method.key).text}: {_told(method)}" for method in others)
            terms = tuple(term for method in others for term in (method.demand, method.limit) if term is not None)
            yield remark(sized.book, "busbar_sum.other", bus.tag, Level.NOTE, f"other methods on {bus.tag}: {told}", terms)


def _told(method: BusMethod) -> str:
    if method.verdict is BusVerdict.NOT_USABLE:
        return f"not usable, {method.why}"
    verb = "also passes" if method.verdict is BusVerdict.PASS else "does not pass"
    return f"{verb}, {value_of(method.demand):.5g} A against {value_of(method.limit):.5g} A"


def feeder_segments(sized: Sized) -> Iterator[Check]:
    """A feeder segment beyond a source connection carries the utility device and the sources together.

    References
    ----------
    ``feeder_connection``: 705.12(A)(2), 705.12(B)(1) in 2020, 705.12(B)(2)(1) in 2017.
    """
    yield from demand_checks(sized, "segment", "the segment's ampacity is not known")


def supply_side(sized: Sized) -> Iterator[Check]:
    """The sum of supply-side sources against what the edition holds it to.

    References
    ----------
    ``supply_side``: 705.11 in 2020 and 2023, 705.12(A) in 2017.
    """
    found = sized.supply_side
    if found is None:
        return
    if found.needs or found.limit is None:
        yield not_checked(sized.book, "supply_side", found.junction, "the supply-side sum cannot be compared", found.needs)
        return
    yield limit_check(
        sized.book,
        "supply_side",
        found.junction,
        found.demand,
        found.limit,
        "A",
        f"supply-side sources are within the {found.limit_meaning}",
        f"supply-side sources are above the {found.limit_meaning}",
    )


def supply_side_between(sized: Sized) -> Iterator[Check]:
    """Service conductors between two supply-side connections carry the sources behind the farther one.

    References
    ----------
    ``supply_side``: 705.11 in 2020 and 2023; in 2017 the service rating holds the sum of all.
    """
    found, network = sized.supply_side, sized.network
    if found is None or sized.book.wording.supply_side is not SupplySideLimit.CURRENTS_TO_SERVICE_CONDUCTORS:
        return
    further = dict.fromkeys(sized.circuit(tag).circuit.up for tag in found.circuits)
    for joint in (tag for tag in further if tag != found.junction):
        circuit = sized.circuit(network.parent[joint].tag)
        if circuit.t2_ampacity is None:
            yield not_checked(sized.book, "supply_side", joint, "the supply-side sum cannot be compared", (f"the conductors and path of {circuit.tag}",))
            continue
        currents = [sized.currents.sources[tag].export_a for tag in network.below(joint) if tag in sized.currents.sources]
        yield limit_check(
            sized.book,
            "supply_side",
            joint,
            label(supply_side_currents(currents), f"{joint}.supply_side"),
            circuit.t2_ampacity,
            "A",
            f"sources behind {joint} are within the ampacity of the service conductors {circuit.tag} after factors",
            f"sources behind {joint} are above the ampacity of the service conductors {circuit.tag} after factors",
        )


def supply_side_disconnect(sized: Sized) -> Iterator[Check]:
    """The disconnect of a supply-side connection: below 60 A, or with loads behind it, is a warning.

    References
    ----------
    ``service_disconnect_rating``: 230.79(D); ``source_disconnect``: 705.20.
    """
    network = sized.network
    for circuit in sized.circuits:
        if not is_supply_side_source(circuit.circuit, sized.currents):
            continue
        node = network.nodes[circuit.circuit.down]
        if node.kind is not Kind.DISCONNECT:
            message = f"{node.tag} is the first thing behind the supply-side connection; a disconnect is needed there"
            yield remark(sized.book, "source_disconnect", circuit.tag, Level.FAIL, message)
            continue
        yield limit_check(
            sized.book,
            "service_disconnect_rating",
            node.tag,
            term_of(node.item.rating, "I_switch", f"disconnect.{node.tag}.rating", "rating of the disconnect"),
            LEAST_DISCONNECT_A,
            "A",
            "the supply-side disconnect is rated at least 60 A",
            "the supply-side disconnect is rated below 60 A",
            Sense.AT_LEAST,
            Level.WARN,
        )
        below = network.below(node.tag)
        loads = [load.tag for load in network.of_kind(Kind.LOAD) if load.tag in below or load.item.panel in below]
        if loads:
            message = f"the source disconnect also serves loads ({', '.join(loads)}): a second service disconnect, in its own enclosure"
            yield remark(sized.book, "service_disconnects", node.tag, Level.WARN, message)


def export_limit(sized: Sized) -> Iterator[Check]:
    """The sum of source ratings against the utility's cap and the meter's rating, where they are stated.

    References
    ----------
    ``utility_limit``: the limits are the utility's.
    """
    service = sized.network.project.service
    sources = sized.network.of_kind(Kind.UNIT, Kind.INVERTER)
    if service is None or not sources:
        return
    if service.export_limit is not None:
        powers = [term_of(node.data.ac_power, f"P_{node.tag}", f"equipment.{node.item.equipment}.ac_power", f"rated power of {node.tag}") for node in sources]
        yield limit_check(
            sized.book,
            "utility_limit.power",
            "system",
            label(source_powers_together(powers), "system.P_sources"),
            term_of(service.export_limit, "P_cap", "service.export_limit", "cap of the utility"),
            "W",
            "source ratings together are within the utility's cap",
            "source ratings together are above the utility's cap",
            broken=Level.WARN,
        )
    if service.meter_rating is not None:
        currents = [sized.currents.sources[node.tag].export_a for node in sources]
        yield limit_check(
            sized.book,
            "utility_limit.meter",
            "system",
            label(sources_together(currents), "system.I_sources"),
            term_of(service.meter_rating, "I_meter", "service.meter_rating", "rating of the meter"),
            "A",
            "source currents together are within the meter's rating",
            "source currents together are above the meter's rating",
            broken=Level.WARN,
        )
