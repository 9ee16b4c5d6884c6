"""Article 110: interrupting and short-circuit ratings against the fault current at their place.

References
----------
``interrupting_rating`` 110.9, ``sccr`` 110.10, ``fault_current_marking`` 110.24(A),
``series_rating`` 240.86, ``interconnection_fault_ratings`` 705.16, ``island_fault``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.calc.compare import at_most
from linecalc.calc.fault import largest_fast_device, series_motor_limit, storage_fault, with_contributions
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.loads import load_current, term_of
from linecalc.network.records import Kind, Node, System
from linecalc.project.model import SERVICE
from linecalc.sizing.fault_records import Faults, PlaceFault
from linecalc.sizing.motor import MOTORS
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.term import Number, given, label, named, total, value_of

_TABLE = {Kind.PANEL: "panel", Kind.ISOLATION: "isolation", Kind.DISCONNECT: "disconnect", Kind.TRANSFER: "transfer"}
_RATED = (*_TABLE, Kind.UNIT, Kind.INVERTER)


@dataclass(frozen=True, slots=True)
class _Rating:
    """One rating to be held against a fault current: whose it is, its place, and the key it is read from."""

    rule: str
    subject: str
    place: str
    what: str
    rating: Number | None
    path: str


def interrupting_ratings(sized: Sized) -> Iterator[Check]:
    """The rating of each panel, disconnect, isolation device, unit and stated breaker against the fault current there.

    A rating inside the bracket of the line-to-neutral current is a warning, one
    below its lower end fails.

    References
    ----------
    ``interrupting_rating``: 110.9; ``sccr``: 110.10; ``interconnection_fault_ratings``: 705.16.
    """
    if sized.faults is None:
        return
    for rating in _ratings(sized):
        yield from _held(sized, sized.faults, rating)


def _ratings(sized: Sized) -> Iterator[_Rating]:
    on_ac = set(sized.network.order)
    for node in sized.network.of_kind(*_RATED):
        if node.tag in on_ac:
            yield _rating_of(node)
    for circuit in sized.circuits:
        stated = circuit.circuit.item.interrupting
        if circuit.circuit.system is not System.AC or stated is None or circuit.device is None:
            continue
        path = f"circuit.{circuit.tag}.interrupting"
        term = term_of(stated, "AIC", path, f"interrupting rating of the device of {circuit.tag}")
        where = circuit.device.where
        yield _Rating("interrupting_rating.breaker", circuit.tag, where, f"the {circuit.device.kind} in {where}", term, path)


def _rating_of(node: Node) -> _Rating:
    if node.kind in _TABLE:
        path, stated = f"{_TABLE[node.kind]}.{node.tag}.interrupting", node.item.interrupting
        rule, what = "interrupting_rating", f"{node.kind.value} {node.tag}"
    else:
        path, stated = f"equipment.{node.item.equipment}.interrupting", node.data.interrupting
        rule, what = "interconnection_fault_ratings", f"{node.kind.value} {node.tag}"
    term = None if stated is None else term_of(stated, "AIC", path, f"short-circuit rating of {node.tag}")
    return _Rating(rule, node.tag, node.tag, what, term, path)


def _held(sized: Sized, faults: Faults, rating: _Rating) -> Iterator[Check]:
    place = faults.at(rating.place)
    needs = faults.needs + (() if rating.rating is not None else (rating.path,))
    if needs or place is None:
        message = f"the rating of {rating.what} against the fault current there: input missing"
        yield not_checked(sized.book, rating.rule, rating.subject, message, needs or ("a line or neutral conductor to this place",))
        return
    if at_most(place.high, rating.rating):
        yield _verdict(sized, rating, place.high, Level.PASS)
        return
    if _has_series_rating(sized, rating):
        yield from _series(sized, place, rating)
        return
    within = at_most(place.low, rating.rating)
    yield _verdict(sized, rating, place.high if within else place.low, Level.WARN if within else Level.FAIL)


def _verdict(sized: Sized, rating: _Rating, fault: Number, broken: Level) -> Check:
    return limit_check(
        sized.book,
        rating.rule,
        rating.subject,
        fault,
        rating.rating,
        "A",
        f"{rating.what} is rated for the fault current there",
        _breaking(rating, broken),
        broken=broken,
    )


def _breaking(rating: _Rating, broken: Level) -> str:
    if broken is Level.WARN:
        return (
            f"{rating.what} is rated below the upper end of the line-to-neutral fault current (1.0 to 1.5 times line to line "
            "for a value at the meter); ask the utility for both values"
        )
    return f"{rating.what} is rated below the fault current there"


def _has_series_rating(sized: Sized, rating: _Rating) -> bool:
    node = sized.network.nodes.get(rating.subject)
    return node is not None and node.kind is Kind.PANEL and node.item.series_rating is not None


def _series(sized: Sized, place: PlaceFault, rating: _Rating) -> Iterator[Check]:
    """A stated tested series combination takes the place of the panel's own rating.

    References
    ----------
    ``series_rating``: 240.86(B) and (C); 110.22(C).
    """
    panel = sized.network.nodes[rating.subject].item
    base = f"panel.{rating.subject}"
    missing = tuple(f"{base}.{key}" for key in ("series_with", "series_listing") if getattr(panel, key) is None)
    if missing:
        message = "a series rating needs the device it was tested with and its listing"
        yield not_checked(sized.book, "series_rating", rating.subject, message, missing)
        return
    upstream = {circuit.up for circuit in sized.network.path_up(rating.subject)} | {rating.subject}
    if panel.series_with not in upstream:
        message = f"the series rating names {panel.series_with}, which does not lie between the utility and {rating.subject}"
        yield remark(sized.book, "series_rating", rating.subject, Level.FAIL, message)
        return
    limit = term_of(panel.series_rating, "AIC_series", f"{base}.series_rating", f"series rating with the device in {panel.series_with}")
    within = at_most(place.low, limit)
    yield limit_check(
        sized.book,
        "series_rating",
        rating.subject,
        place.high if within else place.low,
        limit,
        "A",
        f"tested series combination with the device in {panel.series_with} ({panel.series_listing}) covers the fault current; mark the panel",
        f"the series combination with the device in {panel.series_with} does not cover the fault current",
        broken=Level.WARN if within else Level.FAIL,
        terms=(rating.rating,),
    )
    yield from _series_motors(sized, rating, panel.series_with)


def _series_motors(sized: Sized, rating: _Rating, upstream: str) -> Iterator[Check]:
    """Motors between the two devices of a series combination: at most 1 % of the lower rating."""
    between = set(sized.network.below(upstream)) - {upstream} | {rating.subject}
    motors = [node for node in sized.network.of_kind(Kind.LOAD) if node.item.kind in MOTORS and node.item.panel in between]
    if not motors:
        return
    currents = [load_current(node.tag, node.item, []) for node in motors]
    yield limit_check(
        sized.book,
        "series_rating.motors",
        rating.subject,
        label(named(total(currents), "I_motors", "A", "motors behind the upstream device", "series_rating"), f"{rating.subject}.I_motors"),
        label(series_motor_limit(rating.rating), f"{rating.subject}.I_motor_max"),
        "A",
        "the motors behind the upstream device leave the series rating usable",
        "more motor current than 1 % of the lower rating: the series rating may not be used unless the motors lie beyond both devices",
        broken=Level.WARN,
    )


def storage_direct_current(sized: Sized) -> Iterator[Check]:
    """Direct-current devices of the storage circuits against the short-circuit current of the storage.

    References
    ----------
    ``interrupting_rating``: 110.9; ``interconnection_fault_ratings``: 705.16.
    """
    for unit in sized.network.of_kind(Kind.UNIT):
        modules = [node for node in sized.network.of_kind(Kind.STORAGE) if node.item.unit == unit.tag]
        ratings = list(_direct_ratings(sized, unit))
        if not modules or not ratings:
            continue
        missing = tuple(
            dict.fromkeys(f"equipment.{node.item.equipment}.short_circuit_current" for node in modules if node.data.short_circuit_current is None)
        )
        fault = None if missing else _storage_fault(unit, modules)
        for rating in ratings:
            needs = missing + (() if rating.rating is not None else (rating.path,))
            if needs or fault is None:
                message = f"{rating.what} against the short-circuit current of the storage: input missing"
                yield not_checked(sized.book, rating.rule, rating.subject, message, needs)
            else:
                yield _verdict(sized, rating, fault, Level.FAIL)


def _storage_fault(unit: Node, modules: list[Node]) -> Number:
    currents = [
        term_of(node.data.short_circuit_current, f"I_{node.tag}_sc", f"equipment.{node.item.equipment}.short_circuit_current", f"short-circuit current of {node.tag}")
        for node in modules
    ]
    return label(storage_fault(currents), f"{unit.tag}.I_sc_dc")


def _direct_ratings(sized: Sized, unit: Node) -> Iterator[_Rating]:
    """The ratings on the storage side of one unit: its own where stated, disconnects and devices in the circuits."""
    stated = unit.data.dc_interrupting
    if stated is not None:
        path = f"equipment.{unit.item.equipment}.dc_interrupting"
        yield _Rating("interrupting_rating.dc", unit.tag, unit.tag, f"the storage input of {unit.tag}", term_of(stated, "AIC_dc", path, "DC rating"), path)
    for circuit in _storage_circuits(sized, unit.tag):
        if circuit.device is not None:
            path, stated = f"circuit.{circuit.tag}.interrupting", circuit.circuit.item.interrupting
            term = None if stated is None else term_of(stated, "AIC_dc", path, "DC interrupting rating")
            yield _Rating("interrupting_rating.dc", circuit.tag, circuit.circuit.up, f"the device of {circuit.tag}", term, path)
        for tag in (circuit.circuit.up, circuit.circuit.down):
            node = sized.network.nodes[tag]
            if node.kind is Kind.DISCONNECT:
                path, stated = f"disconnect.{tag}.interrupting", node.item.interrupting
                term = None if stated is None else term_of(stated, "AIC_dc", path, "DC interrupting rating")
                yield _Rating("interrupting_rating.dc", tag, tag, f"disconnect {tag}", term, path)


def _storage_circuits(sized: Sized, unit: str) -> list[SizedCircuit]:
    """The storage circuits that lead to one unit, directly or through boxes and disconnects."""
    found, reached = [], {unit}
    waiting = [circuit for circuit in sized.circuits if circuit.circuit.system is System.STORAGE]
    progress = True
    while progress:
        here = [circuit for circuit in waiting if circuit.circuit.up in reached]
        found.extend(here)
        reached.update(circuit.circuit.down for circuit in here)
        waiting = [circuit for circuit in waiting if circuit not in here]
        progress = bool(here)
    return found


def marking(sized: Sized) -> Iterator[Check]:
    """The fault current at the service, stated for the reviewer; dwellings are outside the marking rule.

    References
    ----------
    ``fault_current_marking``: 110.24(A).
    """
    if sized.faults is None or sized.faults.utility_a is None:
        return
    place = sized.faults.at(SERVICE)
    at = sized.faults.point
    beyond = "; the utility's conductors to the meter are left out, the high side" if at == "transformer" else ""
    message = f"no field marking of the fault current is asked for at a dwelling; it is computed from the utility value at the {at}{beyond}"
    yield remark(sized.book, "fault_current_marking", SERVICE, Level.NOTE, message, (place.low, place.high))


def island_fault(sized: Sized) -> Iterator[Check]:
    """Devices that the fault current of the island alone does not trip at once.

    References
    ----------
    ``island_fault``: common practice.
    """
    network = sized.network
    if network.island is None or sized.faults is None:
        return
    inside = set(network.below(network.island))
    sources = [amps for tag, amps in sized.faults.sources if tag in inside and network.nodes[tag].kind is Kind.UNIT]
    if not sources:
        return
    fault = label(with_contributions(given(0.0, "A", "I_utility", "rule:island_fault", "no utility in an outage"), sources), "system.I_island_fault")
    fast = label(largest_fast_device(fault), "system.I_fast")
    slow = [
        circuit
        for circuit in sized.circuits
        if circuit.circuit.down in inside - {network.island} and circuit.device is not None and circuit.device.owner == circuit.tag and not at_most(circuit.device.rating, fast)
    ]
    if slow:
        names = ", ".join(f"{circuit.tag} {value_of(circuit.device.rating):g} A" for circuit in slow)
        message = f"with the units alone the fault current is too low to trip these at once, they trip by overload: {names}"
        yield remark(sized.book, "island_fault", "system", Level.NOTE, message, (fast,))
