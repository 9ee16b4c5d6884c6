"""Fault current from the service down every conductor, with what the sources add.

References
----------
``interrupting_rating`` 110.9; ``sccr`` 110.10; ``interconnection_fault_ratings`` 705.16;
``conductor_ac_z`` Chapter 9 Table 9; ``conductor_dc_r`` Table 8, note on temperature.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from linecalc.calc.drop import resistance_at
from linecalc.calc.fault import (
    LINE_TO_NEUTRAL_AT_TERMINALS,
    Impedance,
    assumed_contribution,
    conductor_impedance,
    fault_line_to_line,
    fault_line_to_neutral,
    in_series,
    source_impedance,
    source_impedance_line_to_neutral,
    transformer_fault_current,
    with_contributions,
    worst_fault,
)
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.loads import term_of
from linecalc.network.records import Assumption, Kind, Node
from linecalc.sizing.fault_records import Faults, PlaceFault
from linecalc.sizing.records import Conductor, SizedCircuit
from linecalc.term import Number, Term, given, label, named, total, value_of

RULE = "interrupting_rating"
METER, TRANSFORMER, STANDALONE = "meter", "transformer", "stand-alone"
CONDUCTOR_C = 25.0
ASSUMED_X_OVER_R = 2.0
LEG_V = 120.0
LOWEST_RATIO = 1.0


@dataclass(frozen=True, slots=True)
class _Utility:
    """The source behind the service; ``ln`` holds the low and the high end, one element where they are equal."""

    voltage_v: Term
    leg_v: Term
    ll: Impedance
    ln: tuple[Impedance, ...]


@dataclass(frozen=True, slots=True)
class _Way:
    """One-way impedances from the service to a place; None where nothing lies between, or no such conductor leads there."""

    phase: Impedance | None
    neutral: Impedance | None
    both_lines: bool
    has_neutral: bool


_AT_SERVICE = _Way(None, None, True, True)


def fault_figures(currents: Currents, circuits: Sequence[SizedCircuit], assumptions: list[Assumption]) -> Faults:
    """The fault current at every AC place of the house.

    What is not known of a run (its path, its size) leaves the run out, the high
    side, and is listed as assumed.
    """
    network, book = currents.network, currents.book
    sources = tuple((node.tag, _contribution(currents, node, assumptions)) for node in network.of_kind(Kind.UNIT, Kind.INVERTER))
    if network.is_standalone():
        return Faults(STANDALONE, None, None, sources, {tag: _of_sources(tag, sources) for tag in network.order}, ())
    fault_a, point, needs = _stated(network, assumptions)
    if fault_a is None:
        return Faults(point, None, None, sources, {}, needs)
    x_over_r = _x_over_r(network, assumptions)
    utility = _utility(network, fault_a, x_over_r, point)
    by_tag = {circuit.tag: circuit for circuit in circuits}
    ways = {network.order[-1]: _AT_SERVICE}
    places = {}
    for tag in reversed(network.order):
        if tag in network.parent:
            circuit = by_tag[network.parent[tag].tag]
            ways[tag] = _onward(ways[circuit.circuit.up], circuit, tag, network, book, assumptions)
        found = _place(tag, ways[tag], utility, sources)
        if found is not None:
            places[tag] = found
    return Faults(point, fault_a, x_over_r, sources, places, ())


def _of_sources(tag: str, sources: tuple[tuple[str, Number], ...]) -> PlaceFault:
    """The fault current at a place without a utility: what the sources together give, conductors left out."""
    together = named(total([amps for _, amps in sources]), "I_fault", "A", "what the sources together give", RULE)
    found = label(together, f"{tag}.I_fault")
    return PlaceFault(tag, found, found, found, found, found)


def _stated(network: Network, assumptions: list[Assumption]) -> tuple[Number | None, str, tuple[str, ...]]:
    """The utility value, stated or from the transformer's nameplate, and the point where it holds."""
    service = network.project.service
    if service.fault_current is not None:
        point = service.fault_current_at
        if point is None:
            point = METER
            reason = "where the fault current holds is not stated; both readings of the line-to-neutral value are shown"
            assumptions.append(Assumption("service.fault_current_at", point, reason))
        return term_of(service.fault_current, "I_sc", "service.fault_current", f"utility fault current at the {point}, line to line"), point, ()
    if service.transformer is not None and service.transformer_impedance is not None:
        rating = term_of(service.transformer, "S_xfmr", "service.transformer", "transformer rating")
        percent = term_of(service.transformer_impedance, "Z_xfmr", "service.transformer_impedance", "transformer impedance")
        volts = term_of(service.voltage, "V_LL", "service.voltage", "nominal voltage, line to line")
        return label(transformer_fault_current(rating, volts, percent), "service.I_sc"), TRANSFORMER, ()
    return None, service.fault_current_at or "", ("service.fault_current",)


def _x_over_r(network: Network, assumptions: list[Assumption]) -> Number:
    service, path = network.project.service, "service.x_over_r"
    if service.x_over_r is not None:
        return given(service.x_over_r, "", "XR", path, "X/R of the utility source")
    reason = "X/R of the source not given; the upper end for small transformers, which leaves more current at the end of a run"
    assumptions.append(Assumption(path, f"{ASSUMED_X_OVER_R:g}", reason))
    return given(ASSUMED_X_OVER_R, "", "XR", path, "X/R of the utility source, assumed")


def _utility(network: Network, fault_a: Number, x_over_r: Number, point: str) -> _Utility:
    volts = term_of(network.project.service.voltage, "V_LL", "service.voltage", "nominal voltage, line to line")
    leg = given(LEG_V, "V", "V_LN", "service.voltage", "nominal voltage, line to neutral")
    ratios = (LINE_TO_NEUTRAL_AT_TERMINALS,) if point == TRANSFORMER else (LOWEST_RATIO, LINE_TO_NEUTRAL_AT_TERMINALS)
    ln = tuple(
        _labelled(source_impedance_line_to_neutral(fault_a, leg, ratio, x_over_r), f"service.{end}", "_sLN")
        for ratio, end in zip(ratios, ("LN", "LN_high"))
    )
    return _Utility(volts, leg, _labelled(source_impedance(fault_a, volts, x_over_r), "service.LL", "_s"), ln)


def _labelled(impedance: Impedance, step_id: str, suffix: str) -> Impedance:
    """The same impedance under semantic step ids such as ``C3.R`` and ``C3.X``."""
    return Impedance(
        label(impedance.r_ohm, f"{step_id}.R", f"R{suffix}"), label(impedance.x_ohm, f"{step_id}.X", f"X{suffix}")
    )


def _contribution(currents: Currents, node: Node, assumptions: list[Assumption]) -> Number:
    """What one source adds: its datasheet value, else the larger of start current and twice its rating.

    References
    ----------
    ``interconnection_fault_ratings``: 705.16.
    """
    base = f"equipment.{node.item.equipment}"
    path = f"{base}.fault_contribution"
    if node.data.fault_contribution is not None:
        return term_of(node.data.fault_contribution, f"I_{node.tag}_sc", path, f"fault contribution of {node.tag}")
    figures = currents.sources[node.tag]
    rated = max((figures.export_a, figures.island_a), key=value_of)
    start = getattr(node.data, "start_current", None)
    start_a = 0.0 if start is None else term_of(start, "I_start", f"{base}.start_current", "start current")
    found = assumed_contribution(start_a, rated)
    reason = "fault contribution not given; the larger of start current and twice the rated current"
    assumptions.append(Assumption(path, f"{value_of(found):g} A", reason))
    return label(found, f"{node.tag}.I_sc", f"I_{node.tag}_sc")


def _onward(
    way: _Way, circuit: SizedCircuit, tag: str, network: Network, book: Book, assumptions: list[Assumption]
) -> _Way:
    """The way continued through one circuit."""
    both_lines = way.both_lines and circuit.ungrounded == 2
    has_neutral = way.has_neutral and circuit.neutral is not None
    unknown = _unknown(circuit, book)
    if unknown:
        assumptions.append(Assumption(f"circuit.{circuit.tag}.path", "0 ft", f"{unknown}: left out of the fault current, the high side"))
        return _Way(way.phase, way.neutral, both_lines, has_neutral)
    phase = _run(circuit, circuit.conductor, "", network, book)
    neutral = None
    if has_neutral:
        same = (circuit.neutral.size, circuit.neutral.material) == (circuit.conductor.size, circuit.conductor.material)
        neutral = phase if same else _run(circuit, circuit.neutral, "_N", network, book)
    whole = _sum(way.phase, phase, tag, "")
    if neutral is phase and way.neutral is way.phase:
        return _Way(whole, whole, both_lines, has_neutral)
    return _Way(whole, None if neutral is None else _sum(way.neutral, neutral, tag, "_N"), both_lines, has_neutral)


def _unknown(circuit: SizedCircuit, book: Book) -> str:
    """Why the impedance of a circuit is not known; empty where it is."""
    if not circuit.circuit.sections:
        return "path not given"
    if not circuit.determined:
        return "conductor not determined"
    ways = (circuit.conductor,) if circuit.neutral is None else (circuit.conductor, circuit.neutral)
    missing = [way.size for way in ways if book.ac_resistance(way.size, way.material, "EMT") is None]
    return f"{missing[0]} is not in the impedance table" if missing else ""


def _run(circuit: SizedCircuit, conductor: Conductor, suffix: str, network: Network, book: Book) -> Impedance:
    """The impedance of one conductor over the whole path, one way, cold."""
    found = [
        _stretch(circuit, conductor, suffix, method, tags, network, book)
        for method, tags in _by_method(circuit, network).items()
    ]
    own = f"_{circuit.tag}{suffix}"
    if len(found) == 1:
        return _labelled(found[0], f"{circuit.tag}.fault{suffix}", own)
    return _labelled(in_series(found), f"{circuit.tag}.fault{suffix}", own)


def _by_method(circuit: SizedCircuit, network: Network) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for tag in circuit.circuit.sections:
        found.setdefault(network.project.section[tag].method, []).append(tag)
    return found


def _stretch(
    circuit: SizedCircuit, conductor: Conductor, suffix: str, method: str, tags: list[str], network: Network, book: Book
) -> Impedance:
    """The impedance of one conductor over the sections of one wiring method."""
    step = f"{circuit.tag}.{tags[0]}.fault{suffix}"
    lengths = [
        given(network.project.section[tag].length.value, "ft", f"L_{tag}", f"section.{tag}.length", f"length of {tag}") for tag in tags
    ]
    length = named(total(lengths), "L", "ft", f"length in {method}") if len(lengths) > 1 else lengths[0]
    table = book.ac_resistance(conductor.size, conductor.material, method)
    cold = given(CONDUCTOR_C, "degC", "T_cold", f"rule:{RULE}", "conductors cold: the high-current side")
    resistance = label(resistance_at(table, book.resistance_alpha(conductor.material), cold), f"{step}.R25", "R_25")
    run = conductor_impedance(resistance, book.reactance(conductor.size, method), length, float(conductor.parallel))
    return _labelled(run, step, f"_{tags[0]}{suffix}")


def _sum(before: Impedance | None, run: Impedance, tag: str, suffix: str) -> Impedance:
    if before is None:
        return run
    return _labelled(in_series((before, run)), f"{tag}.fault{suffix}", f"_to_{tag}{suffix}")


_NOTHING = Impedance(0.0, 0.0)


def _place(tag: str, way: _Way, utility: _Utility, sources: tuple[tuple[str, Number], ...]) -> PlaceFault | None:
    """The fault current at a place, or None where no two conductors lead there that a fault could join."""
    phase = way.phase or _NOTHING
    ll = None
    if way.both_lines:
        ll = _with_sources(fault_line_to_line(utility.voltage_v, utility.ll, phase), sources, tag, "LL")
    ln: list[Number] = []
    if way.has_neutral:
        for end, source in zip(("LN", "LN_high"), utility.ln):
            utility_a = fault_line_to_neutral(utility.leg_v, source, phase, way.neutral or _NOTHING)
            ln.append(_with_sources(utility_a, sources, tag, end))
    known = [found for found in (ll, *ln) if found is not None]
    if not known:
        return None
    low = _worst([found for found in (ll, *ln[:1]) if found is not None], f"{tag}.I_fault")
    high = low if len(ln) < 2 else _worst([found for found in (ll, ln[1]) if found is not None], f"{tag}.I_fault_high")
    return PlaceFault(tag, ll, ln[0] if ln else None, ln[-1] if ln else None, low, high)


def _worst(faults: list[Number], step_id: str) -> Number:
    return label(worst_fault(faults), step_id) if len(faults) > 1 else faults[0]


def _with_sources(utility_a: Number, sources: tuple[tuple[str, Number], ...], tag: str, end: str) -> Number:
    found = label(utility_a, f"{tag}.I_{end}", f"I_{end}")
    if not sources:
        return found
    return label(with_contributions(found, [amps for _, amps in sources]), f"{tag}.I_{end}_all", f"I_{end}_all")
