"""Voltage drop and rise of a circuit in every mode, at operating current.

References
----------
``conductor_ac_z``: Chapter 9 Table 9; ``conductor_dc_r``: Chapter 9 Table 8;
``voltage_drop_feeder_note``, ``voltage_drop_branch_note``: informational notes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from linecalc.calc.drop import cumulative_rise, dc_drop, effective_impedance, percent_of, phase_and_neutral_drop, two_wire_drop
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.loads import ASSUMED_POWER_FACTOR, BOTH_LEGS, legs_of, nominal_voltage
from linecalc.network.records import Circuit, Kind, Mode, Node, System
from linecalc.sizing.ahead import is_branch
from linecalc.sizing.records import Conductor, ModeDrop, SizedCircuit
from linecalc.sizing.surroundings import Place
from linecalc.term import Number, given, label, named, total, value_of

RULE = "voltage_drop"
LEG_V = 120.0


def circuit_drops(
    circuit: Circuit, currents: Currents, places: dict[str, Place], conductor: Conductor, neutral: Conductor | None
) -> tuple[ModeDrop, ...]:
    """The drop of a circuit in each of its modes that carries a current; none without a path."""
    if not circuit.sections:
        return ()
    if circuit.system is System.AC:
        return _ac_drops(circuit, currents, places, conductor, neutral)
    return _dc_drops(circuit, currents, conductor)


def _dc_drops(circuit: Circuit, currents: Currents, conductor: Conductor) -> tuple[ModeDrop, ...]:
    found = currents.of(circuit)
    if found.operating_a is None or found.base_v is None:
        return ()
    length = given(circuit.length_ft, "ft", "L", f"circuit.{circuit.tag}.path", "length of the path, one way")
    resistance = currents.book.dc_resistance(conductor.size, conductor.material)
    drop = label(dc_drop(length, found.operating_a, resistance, float(conductor.parallel)), f"{circuit.tag}.drop.dc")
    percent = label(percent_of(drop, found.base_v), f"{circuit.tag}.drop_percent.dc")
    return (ModeDrop(Mode.DC, found.operating_a, drop, found.base_v, percent),)


def _ac_drops(
    circuit: Circuit, currents: Currents, places: dict[str, Place], conductor: Conductor, neutral: Conductor | None
) -> tuple[ModeDrop, ...]:
    back = _way_back(circuit, currents.network, conductor, neutral)
    if any(currents.book.ac_resistance(way.size, way.material, "EMT") is None for way in (conductor, back)):
        return ()
    base = _base(circuit, currents.network)
    cite = "voltage_drop_branch_note" if is_branch(currents.network, circuit) else "voltage_drop_feeder_note"
    found = []
    for mode, current in currents.of(circuit).modes:
        amps = _plus(current.continuous, current.noncontinuous)
        if value_of(amps) == 0.0:
            continue
        amps = label(named(amps, "I", "A", f"operating current, {mode.value}"), f"{circuit.tag}.I.{mode.value}")
        factor = _power_factor(circuit, currents.network, mode)
        drop = label(_sum_of_sections(circuit, currents, places, (conductor, back), amps, factor, mode), f"{circuit.tag}.drop.{mode.value}")
        percent = label(percent_of(drop, base, cite), f"{circuit.tag}.drop_percent.{mode.value}")
        found.append(ModeDrop(mode, amps, drop, base, percent))
    return tuple(found)


def _single_leg(circuit: Circuit, network: Network) -> bool:
    node = network.nodes[circuit.down]
    return node.kind is Kind.LOAD and legs_of(node.item) != BOTH_LEGS


def _base(circuit: Circuit, network: Network) -> Number:
    """Nominal voltage; that of a leg for a 120 V load."""
    if _single_leg(circuit, network):
        return given(LEG_V, "V", "V_base", nominal_voltage(network.project).origin, "nominal voltage of a leg")
    return nominal_voltage(network.project, "V_base")


def _way_back(circuit: Circuit, network: Network, conductor: Conductor, neutral: Conductor | None) -> Conductor:
    """What carries the current back: the other ungrounded conductor, or the neutral of a 120 V load."""
    return neutral if neutral is not None and _single_leg(circuit, network) else conductor


def _plus(first: Number, second: Number) -> Number:
    if value_of(second) == 0.0:
        return first
    return second if value_of(first) == 0.0 else first + second


def _power_factor(circuit: Circuit, network: Network, mode: Mode) -> Number:
    """1 in a unit's own circuit and for export; else as given, else that of the load, else 0.85."""
    path = f"circuit.{circuit.tag}.power_factor"
    node = network.nodes[circuit.down]
    source = node.kind in (Kind.UNIT, Kind.INVERTER) and node.tag not in network.children
    if mode is Mode.EXPORT or source:
        return given(1.0, "", "pf", f"rule:{RULE}", "power factor of the source")
    if circuit.item.power_factor is not None:
        return given(circuit.item.power_factor, "", "pf", path, "power factor")
    load = _only_load(network, circuit.down)
    if load is not None and load.item.power_factor is not None:
        return given(load.item.power_factor, "", "pf", f"load.{load.tag}.power_factor", "power factor of the load")
    return given(ASSUMED_POWER_FACTOR, "", "pf", path, "power factor of loads, assumed")


def _only_load(network: Network, tag: str) -> Node | None:
    """The one load that a feeder serves: the node itself, the calculated load of its panel, or the only one downstream."""
    node = network.nodes[tag]
    if node.kind is Kind.LOAD:
        return node
    here = [load for load in network.of_kind(Kind.LOAD) if load.item.panel == tag]
    calculated = [load for load in here if load.item.kind == "calculated"]
    if calculated:
        return calculated[0]
    serving = [step.down for step in network.children.get(tag, ()) if network.nodes[step.down].kind not in (Kind.UNIT, Kind.INVERTER)]
    return _only_load(network, serving[0]) if not here and len(serving) == 1 else None


def assumes_power_factor(circuit: Circuit, currents: Currents) -> bool:
    """Whether the drop of a circuit rests on the assumed power factor of loads."""
    if circuit.system is not System.AC or not circuit.sections:
        return False
    modes = [mode for mode, current in currents.of(circuit).modes if value_of(current.continuous) + value_of(current.noncontinuous) > 0.0]
    return any("assumed" in _power_factor(circuit, currents.network, mode).meaning for mode in modes)


def _sum_of_sections(
    circuit: Circuit,
    currents: Currents,
    places: dict[str, Place],
    ways: tuple[Conductor, Conductor],
    amps: Number,
    factor: Number,
    mode: Mode,
) -> Number:
    """The drops of all stretches with the same impedance, added up; ``ways`` are out and back."""
    parts = []
    for method, tags in _by_method(circuit, places).items():
        lengths = [given(places[tag].item.length.value, "ft", f"L_{tag}", f"section.{tag}.length", f"length of {tag}") for tag in tags]
        length = named(total(lengths), "L", "ft", f"length in {method}") if len(lengths) > 1 else lengths[0]
        part = _stretch(currents.book, ways, method, length, amps, factor)
        parts.append(label(part, f"{circuit.tag}.{tags[0]}.drop.{mode.value}"))
    if len(parts) == 1:
        return parts[0]
    return named(total(parts), "V_drop", "V", "voltage drop of all sections", "conductor_ac_z")


def _stretch(book: Book, ways: tuple[Conductor, Conductor], method: str, length: Number, amps: Number, factor: Number) -> Number:
    """The drop of a stretch of one wiring method, out and back."""
    out, back = ways
    impedances = [(book.ac_resistance(way.size, way.material, method), book.reactance(way.size, method)) for way in ways]
    if out is back:
        return two_wire_drop(length, amps, *impedances[0], factor, float(out.parallel))
    effective = [effective_impedance(resistance, reactance, factor) for resistance, reactance in impedances]
    return phase_and_neutral_drop(length, amps, *effective, float(out.parallel))


def _by_method(circuit: Circuit, places: dict[str, Place]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for tag in circuit.sections:
        found.setdefault(places[tag].item.method, []).append(tag)
    return found


def with_rises(circuits: Iterable[SizedCircuit], network: Network) -> tuple[SizedCircuit, ...]:
    """The circuits with the export rise from each source circuit to the meter, where every drop on the way is known."""
    by_tag = {circuit.tag: circuit for circuit in circuits}
    return tuple(replace(circuit, rise_to_meter=_rise(circuit, by_tag, network)) for circuit in by_tag.values())


def _rise(circuit: SizedCircuit, by_tag: dict[str, SizedCircuit], network: Network) -> Number | None:
    if network.nodes[circuit.circuit.down].kind not in (Kind.UNIT, Kind.INVERTER):
        return None
    percents = []
    for step in network.path_up(circuit.circuit.down):
        drop = next((drop for drop in by_tag[step.tag].drops if drop.mode is Mode.EXPORT), None)
        if drop is None:
            return None
        percents.append(label(drop.percent, drop.percent.id, f"drop_{step.tag}"))
    return label(cumulative_rise(percents), f"{circuit.tag}.rise")
