"""Article 240, taps: their length, their one device, their ampacity by what can feed them.

References
----------
``tap_rules`` 240.21(B)(1), (2); ``feeder_taps`` 705.12(A)(3), 705.12(B)(2) in 2020, 705.12(B)(2)(2) in 2017.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import Kind
from linecalc.rules.demand_checks import demand_check
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.sizing.taps import LONG_FT, tap_cables
from linecalc.units import Quantity


def taps(sized: Sized) -> Iterator[Check]:
    """A tap is at most 25 ft long, ends in one device, and carries its share of what can feed it.

    References
    ----------
    ``tap_rules``: 240.21(B)(1), (2); ``feeder_taps`` where sources join the feeder.
    """
    for circuit in sized.circuits:
        if circuit.circuit.item.tap:
            yield from _tap(sized, circuit)


def _tap(sized: Sized, circuit: SizedCircuit) -> Iterator[Check]:
    book, tag, length = sized.book, circuit.tag, circuit.circuit.length_ft
    if sized.network.nodes[circuit.circuit.up].kind not in (Kind.JUNCTION, Kind.DISCONNECT, Kind.ISOLATION):
        message = f"{tag} is called a tap, but {circuit.circuit.up} joins no feeder there; leave tap out"
        yield not_checked(book, "tap_rules", tag, message, (f"circuit.{tag}.tap",))
        return
    if isinstance(circuit.circuit.item.breaker, Quantity):
        message = f"{tag} is called a tap, but has a breaker where it begins; leave out tap or the breaker"
        yield not_checked(book, "tap_rules", tag, message, (f"circuit.{tag}.tap",))
        return
    if length is None:
        yield not_checked(book, "tap_rules", tag, "the length of the tap is not known", (f"circuit.{tag}.path",))
        return
    if not at_most(length, LONG_FT):
        yield remark(book, "tap_rules", tag, Level.FAIL, f"the tap is {length:g} ft long; above 25 ft it needs a device at the joint")
        return
    if circuit.device is None:
        message = f"the tap ends at {circuit.circuit.down} without a device: it must end in one device within its ampacity"
        yield remark(book, "tap_rules.device", tag, Level.FAIL, message)
    if cables := tap_cables(sized.network, circuit.circuit):
        methods = ", ".join(f"{section} is {sized.network.project.section[section].method} cable" for section in cables)
        message = f"{methods}: a tap lies in a raceway, or is protected from damage by other means that the AHJ accepts; a third of what can feed it is taken"
        yield remark(book, "tap_rules.raceway", tag, Level.WARN, message)
    if not circuit.demands:
        needs = ("the device of the feeder, and those of the sources on it",)
        yield not_checked(book, "feeder_taps", tag, "what can feed the tap is not known", needs)
    for demand in circuit.demands:
        words = f"{demand.why}: {circuit.conductor.text}"
        passing = f"{words} carries it; it must be protected from damage and end in one device"
        yield demand_check(sized, circuit, demand, "the ampacity of the tap is not known", passing, f"{words} is too small")
