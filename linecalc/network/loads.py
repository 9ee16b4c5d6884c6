"""Load and source figures of each node, read from the project, in amperes at 240 V legs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from linecalc.calc.dwelling_load import neutral_cooking_dryer_current
from linecalc.calc.load import apparent_from_real, continuous_share, current_from_va, noncontinuous_share
from linecalc.calc.motor import running_current
from linecalc.codebook import EDITIONS, open_book
from linecalc.network.build import Network
from linecalc.network.records import Assumption, Kind, Node
from linecalc.project.equipment import UnitData
from linecalc.project.model import Load, Project
from linecalc.term import Number, Term, given, label, largest, named, smallest, value_of
from linecalc.units import Quantity

ASSUMED_POWER_FACTOR = 0.85
EV_LEAST_VA = 7200.0
UNITY_KINDS = ("ev", "heat", "range", "oven", "cooktop", "dryer", "water heater", "fixed appliance")
_SINGLE_POLE_V = 150.0
_LEAST_208_V, _LEAST_230_V = 204.0, 219.0
STANDALONE_V = 240.0
NEUTRAL_KINDS = ("range", "oven", "cooktop", "dryer")


@dataclass(frozen=True, slots=True)
class LegLoad:
    """Amperes of a load on each leg, continuous and noncontinuous parts apart."""

    leg1_continuous: Number
    leg1_noncontinuous: Number
    leg2_continuous: Number
    leg2_noncontinuous: Number
    unbalance: Number = 0.0




@dataclass(frozen=True, slots=True)
class SourceFigures:
    """Continuous currents of a source: exporting, islanded, charging from the utility.

    ``coupled_a`` is that of a PV inverter which runs in an outage beside the
    units: it carries current then, but forms no island and is never firm.
    """

    export_a: Number
    island_a: Number
    charge_a: Number
    coupled_a: Number = 0.0


def term_of(quantity: Quantity, symbol: str, path: str, meaning: str = "") -> Term:
    """A project quantity as an input term."""
    return given(quantity.value, quantity.unit, symbol, path, meaning)


def nominal_voltage(project: Project, symbol: str = "V_nom") -> Term:
    """The nominal voltage of the service; 240 V for a stand-alone system, which is computed as 120/240 V.

    References
    ----------
    ``standalone_conductor``: 710.15.
    """
    if project.service is None:
        return given(STANDALONE_V, "V", symbol, "rule:standalone_conductor", "nominal voltage, 120/240 V")
    return term_of(project.service.voltage, symbol, "service.voltage", "nominal voltage")


def source_figures(network: Network, assumptions: list[Assumption]) -> dict[str, SourceFigures]:
    """The continuous currents of every unit and inverter by tag.

    References
    ----------
    ``inverter_output_current``: 705.28(A), 690.8(A).
    """
    return {node.tag: _figures(network, node, assumptions) for node in network.of_kind(Kind.UNIT, Kind.INVERTER)}


def _figures(network: Network, node: Node, assumptions: list[Assumption]) -> SourceFigures:
    data = node.data
    base = f"equipment.{node.item.equipment}"
    export = term_of(data.ac_current, "I_export", f"{base}.ac_current", "continuous export current")
    if not isinstance(data, UnitData):
        inside = network.island is not None and node.tag in network.below(network.island)
        return SourceFigures(export, 0.0, 0.0, export if inside else 0.0)
    island = _island(network, node, export, base, assumptions)
    charge = _charge(network, node, export, base, assumptions)
    return SourceFigures(export, island, charge)


def _island(network: Network, node: Node, export: Term, base: str, assumptions: list[Assumption]) -> Number:
    if network.island is None or node.tag not in network.below(network.island):
        return 0.0
    if node.data.ac_current_island is not None:
        return term_of(node.data.ac_current_island, "I_island", f"{base}.ac_current_island", "continuous island current")
    path = f"{base}.ac_current_island"
    reason = "no island rating given; the export rating is taken, verify on the datasheet"
    assumptions.append(Assumption(path, f"{export.value:g} A", reason))
    return given(export.value, "A", "I_island", path, "continuous island current, assumed equal to export")


def _charge(network: Network, node: Node, export: Term, base: str, assumptions: list[Assumption]) -> Number:
    allowed = node.item.grid_charging or node.data.grid_charging
    if allowed == "no":
        return 0.0
    if allowed is None:
        reason = "not stated whether the unit charges from the utility; charging is assumed, the safe reading"
        assumptions.append(Assumption(f"unit.{node.tag}.grid_charging", "yes", reason))
    limit = node.item.grid_charging_limit
    if limit is not None and node.item.grid_charging_control is not None:
        return term_of(limit, "I_charge", f"unit.{node.tag}.grid_charging_limit", "charging current, limited by the listed control")
    if node.data.charge_current_ac is not None:
        return term_of(node.data.charge_current_ac, "I_charge", f"{base}.charge_current_ac", "charging current from the utility")
    path = f"{base}.charge_current_ac"
    assumptions.append(Assumption(path, f"{export.value:g} A", "no charging current given; the export rating is taken"))
    return given(export.value, "A", "I_charge", path, "charging current, assumed equal to export")


@dataclass(frozen=True, slots=True)
class Loads:
    """Loads as the walk takes them.

    ``fixed`` are by the node that feeds them (their own, or their panel);
    ``calculated`` by panel, each standing for its panel and everything
    downstream.
    """

    fixed: dict[str, list[LegLoad]]
    calculated: dict[str, LegLoad]


def leg_loads(network: Network, edition: str, assumptions: list[Assumption]) -> Loads:
    """All loads of a network as feeders count them, in amperes on each leg."""
    found = Loads({}, {})
    for node in network.of_kind(Kind.LOAD):
        nameplate = load_current(node.tag, node.item, assumptions)
        if node.item.kind == "calculated":
            found.calculated[node.item.panel] = _calculated(network, node.tag, node.item, nameplate, assumptions)
            continue
        place = node.tag if node.tag in network.parent else node.item.panel
        amps = feeder_current(node.tag, node.item, nameplate, edition)
        legs = legs_of(node.item)
        if node.item.legs is None and legs != BOTH_LEGS and network.project.dwelling is None:
            assumptions.append(Assumption(f"load.{node.tag}.legs", legs, "120 V load without a leg; put on L1 with all others like it"))
        found.fixed.setdefault(place, []).append(on_legs(node.item, legs, amps, neutral_part(node.tag, node.item, amps)))
    return found


def _calculated(network: Network, tag: str, load: Load, amps: Number, assumptions: list[Assumption]) -> LegLoad:
    part = _continuous_part(network, tag, load, amps, assumptions)
    rest = noncontinuous_share(amps, part) if value_of(part) else amps
    unbalance: Number = 0.0
    if load.unbalance is not None:
        unbalance = term_of(load.unbalance, f"I_unb_{tag}", f"load.{tag}.unbalance", "largest unbalance of the calculated load")
    return LegLoad(part, rest, part, rest, unbalance)


def _continuous_part(network: Network, tag: str, load: Load, amps: Number, assumptions: list[Assumption]) -> Number:
    """The continuous part of a calculated load: stated, else the continuous loads named downstream."""
    path = f"load.{tag}.continuous_part"
    if load.continuous_part is not None:
        return term_of(load.continuous_part, f"I_cont_{tag}", path, "continuous part of the calculated load")
    below = set(network.below(load.panel))
    inside = [node for node in network.of_kind(Kind.LOAD) if node.item.kind != "calculated" and node.item.panel in below and is_continuous(node.item)]
    named_ones = [load_current(node.tag, node.item, []) for node in inside]
    part: Number = label(smallest(continuous_share(named_ones), amps), f"{tag}.I_cont") if named_ones else 0.0
    names = ", ".join(node.tag for node in inside) or "no continuous load is named downstream"
    assumptions.append(Assumption(path, f"{value_of(part):g} A", f"continuous part not given; {names}"))
    return part


def loads_not_given(network: Network, computed: Mapping[str, bool]) -> dict[str, tuple[str, ...]]:
    """By AC node, the panels at it or downstream whose load nothing states.

    A calculated load stands for its panel and everything downstream; a
    generation panel has no load. ``computed`` tells of the nodes that the
    dwelling's calculation is asked for whether it could be made.
    """
    calculated = {node.item.panel for node in network.of_kind(Kind.LOAD) if node.item.kind == "calculated"}
    stated = {node.item.panel for node in network.of_kind(Kind.LOAD)}
    found: dict[str, tuple[str, ...]] = {}
    for tag in network.order:
        node = network.nodes[tag]
        if tag in calculated or tag in computed:
            found[tag] = () if tag in calculated or computed[tag] else (tag,)
            continue
        own = (tag,) if node.kind is Kind.PANEL and not node.item.generation and tag not in stated else ()
        found[tag] = own + tuple(panel for step in network.children.get(tag, ()) for panel in found[step.down])
    return found


def unbalance_not_given(network: Network, tag: str) -> tuple[str, ...]:
    """The calculated loads at or below a node that state no unbalance, as input paths."""
    below = set(network.below(tag))
    loads = (node for node in network.of_kind(Kind.LOAD) if node.item.kind == "calculated" and node.item.panel in below)
    return tuple(f"load.{node.tag}.unbalance" for node in loads if node.item.unbalance is None)


def is_continuous(load: Load) -> bool:
    """Whether a load counts as continuous in its own circuit: stated, else EV supply equipment and heating are, of rooms and water."""
    if load.continuous is not None:
        return load.continuous
    return load.kind in ("ev", "heat", "water heater")


BOTH_LEGS = "L1-L2"


def legs_of(load: Load) -> str:
    """The legs of a load: stated, else L1 for a 120 V load and both for any other."""
    if load.legs is not None:
        return load.legs
    return "L1" if load.voltage is not None and load.voltage.value < _SINGLE_POLE_V else BOTH_LEGS


def leg_voltage(legs: str) -> float:
    """Nominal voltage between both legs, or from one of them to the neutral, in volts."""
    return 240.0 if legs == BOTH_LEGS else 120.0


def load_voltage(tag: str, load: Load) -> Term:
    """The voltage of a load: stated, else by its legs."""
    path = f"load.{tag}.voltage"
    if load.voltage is not None:
        return term_of(load.voltage, f"V_{tag}", path, "load voltage")
    return given(leg_voltage(legs_of(load)), "V", f"V_{tag}", path, "load voltage, assumed")


def neutral_part(tag: str, load: Load, amps: Number) -> Number:
    """What a 240 V load puts on the neutral: 70 percent of a cooking appliance or dryer, nothing of any other, in amperes.

    References
    ----------
    ``load_neutral``: 220.61(B)(1).
    """
    if load.kind not in NEUTRAL_KINDS or legs_of(load) != BOTH_LEGS:
        return 0.0
    return label(neutral_cooking_dryer_current(amps), f"{tag}.I_N70", f"I_N70_{tag}")


def on_legs(load: Load, legs: str, amps: Number, neutral: Number = 0.0) -> LegLoad:
    """A load of ``amps`` on its legs, with what it puts on the neutral beside the difference of the legs."""
    continuous, rest = (amps, 0.0) if is_continuous(load) else (0.0, amps)
    match legs:
        case "L1":
            return LegLoad(continuous, rest, 0.0, 0.0)
        case "L2":
            return LegLoad(0.0, 0.0, continuous, rest)
    return LegLoad(continuous, rest, continuous, rest, neutral)


def feeder_current(tag: str, load: Load, nameplate: Number, edition: str) -> Number:
    """The current that a load adds to a feeder or service, in amperes.

    Its own circuit goes by the nameplate; in 2023 EV supply equipment counts
    for at least 7200 VA in a feeder.

    References
    ----------
    ``load_ev``: 220.57 (2023).
    """
    if load.kind != "ev" or edition != "2023":
        return nameplate
    volts = 120.0 if legs_of(load) != BOTH_LEGS else 240.0
    least = given(current_from_va(EV_LEAST_VA, volts), "A", "I_least", "rule:load_ev", "7200 VA at the voltage of the load")
    if value_of(nameplate) >= value_of(least):
        return nameplate
    return label(named(largest(nameplate, least), f"I_{tag}", "A", "EV supply equipment in a feeder, at least 7200 VA", "load_ev"), f"{tag}.I_feeder")


def load_current(tag: str, load: Load, assumptions: list[Assumption]) -> Number:
    """The current of a load on its legs by its own data, in amperes.

    Running current plus fan for a motor-compressor, its circuit ampacity where
    only that is given.
    """
    base = f"load.{tag}"
    if load.current is not None:
        return term_of(load.current, f"I_{tag}", f"{base}.current", "load current")
    if load.hp is not None:
        return motor_full_load(tag, load)
    if load.rla is not None:
        running = term_of(load.rla, f"RLA_{tag}", f"{base}.rla", "rated-load current")
        if load.fan is None:
            return named(running, f"I_{tag}", "A", "running current of the compressor", "load_noncoincident")
        return label(running_current(running, term_of(load.fan, f"I_fan_{tag}", f"{base}.fan", "fan current")), "", f"I_{tag}")
    if load.mca is not None:
        assumptions.append(Assumption(f"{base}.rla", f"{load.mca.value:g} A", "only MCA is given; it stands for the running current"))
        return term_of(load.mca, f"MCA_{tag}", f"{base}.mca", "minimum circuit ampacity")
    return _from_power(tag, load, assumptions)


def motor_full_load(tag: str, load: Load) -> Number:
    """Full-load current of a motor by its horsepower and voltage, in amperes; the table is the same in every edition.

    References
    ----------
    ``motor_flc``: Table 430.248; ``motor_current``: 430.6(A)(1).
    """
    current = open_book(EDITIONS[-1]).motor_full_load(load.hp.removesuffix(" hp"), _voltage_column(load))
    return label(named(current, f"FLC_{tag}", "A", "full-load current by horsepower", "motor_current"), f"{tag}.FLC")


def _voltage_column(load: Load) -> str:
    """The rated voltage of the table that serves the load's voltage."""
    volts = load_voltage("", load).value
    if volts < _SINGLE_POLE_V:
        return "115v"
    return "230v" if volts > _LEAST_230_V else "208v" if volts > _LEAST_208_V else "200v"


def _from_power(tag: str, load: Load, assumptions: list[Assumption]) -> Number:
    base = f"load.{tag}"
    volts = load_voltage(tag, load)
    if load.voltage is None:
        assumptions.append(Assumption(f"{base}.voltage", f"{volts.value:g} V", "no voltage given for the load; taken from its legs"))
    power = term_of(load.power, f"S_{tag}", f"{base}.power", "load")
    if load.power.unit == "VA" or (load.kind in UNITY_KINDS and load.power_factor is None):
        return label(current_from_va(power, volts), f"{tag}.I_load")
    factor = load.power_factor
    if factor is None:
        assumptions.append(Assumption(f"{base}.power_factor", f"{ASSUMED_POWER_FACTOR}", "load in watts without a power factor"))
        factor = ASSUMED_POWER_FACTOR
    pf = given(factor, "", f"pf_{tag}", f"{base}.power_factor", "power factor")
    return label(current_from_va(label(apparent_from_real(power, pf), "", f"S_{tag}"), volts), f"{tag}.I_load")
