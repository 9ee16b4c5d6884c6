"""Load and source figures of each node, read from the project, in amperes at 240 V legs."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.load import current_from_va
from linecalc.calc.source import unit_circuit_current
from linecalc.network.build import Network
from linecalc.network.records import Assumption, Kind, Node
from linecalc.project.equipment import UnitData
from linecalc.project.model import Load
from linecalc.term import Number, Term, given, label, named
from linecalc.units import Quantity

ASSUMED_POWER_FACTOR = 0.85
EV_LEAST_VA = 7200.0


@dataclass(frozen=True, slots=True)
class LegLoad:
    """Amperes of a load on each leg, continuous and noncontinuous parts apart."""

    leg1_continuous: Number
    leg1_noncontinuous: Number
    leg2_continuous: Number
    leg2_noncontinuous: Number
    unbalance: Number = 0.0


NO_LOAD = LegLoad(0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class SourceFigures:
    """Continuous currents of a source: exporting, islanded, charging from the utility."""

    export_a: Number
    island_a: Number
    charge_a: Number
    circuit_a: Number


def term_of(quantity: Quantity, symbol: str, path: str, meaning: str = "") -> Term:
    """A project quantity as an input term."""
    return given(quantity.value, quantity.unit, symbol, path, meaning)


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
        return SourceFigures(export, 0.0, 0.0, label(unit_circuit_current(export, 0.0, 0.0), f"{node.tag}.I_unit"))
    island = _island(network, node, export, base, assumptions)
    charge = _charge(network, node, export, base, assumptions)
    largest = label(unit_circuit_current(export, island, charge), f"{node.tag}.I_unit")
    return SourceFigures(export, island, charge, largest)


def _island(network: Network, node: Node, export: Term, base: str, assumptions: list[Assumption]) -> Number:
    if not any(found.kind is Kind.ISOLATION for found in network.nodes.values()):
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
    if node.data.charge_current_ac is not None:
        return term_of(node.data.charge_current_ac, "I_charge", f"{base}.charge_current_ac", "charging current from the utility")
    path = f"{base}.charge_current_ac"
    assumptions.append(Assumption(path, f"{export.value:g} A", "no charging current given; the export rating is taken"))
    return given(export.value, "A", "I_charge", path, "charging current, assumed equal to export")


def leg_loads(network: Network, edition: str, assumptions: list[Assumption]) -> tuple[dict[str, list[LegLoad]], dict[str, LegLoad]]:
    """Loads by the node that feeds them, and calculated loads by panel.

    A load with a circuit of its own hangs on its own node; the others on their
    panel. A calculated load stands for its panel and everything downstream.
    """
    fixed: dict[str, list[LegLoad]] = {}
    calculated: dict[str, LegLoad] = {}
    for node in network.of_kind(Kind.LOAD):
        amps = load_current(node.tag, node.item, edition, assumptions)
        if node.item.kind == "calculated":
            calculated[node.item.panel] = _calculated(node.tag, node.item, amps)
        else:
            place = node.tag if node.tag in network.parent else node.item.panel
            fixed.setdefault(place, []).append(_on_legs(node.item, amps))
    return fixed, calculated


def _calculated(tag: str, load: Load, amps: Number) -> LegLoad:
    part: Number = 0.0
    if load.continuous_part is not None:
        part = term_of(load.continuous_part, f"I_cont_{tag}", f"load.{tag}.continuous_part", "continuous part of the calculated load")
    rest = amps - part if part else amps
    unbalance: Number = 0.0
    if load.unbalance is not None:
        unbalance = term_of(load.unbalance, f"I_unb_{tag}", f"load.{tag}.unbalance", "largest unbalance of the calculated load")
    return LegLoad(part, rest, part, rest, unbalance)


def is_continuous(load: Load) -> bool:
    """Whether a load counts as continuous: stated, else EV supply equipment and heating are."""
    if load.continuous is not None:
        return load.continuous
    return load.kind in ("ev", "heat")


def _on_legs(load: Load, amps: Number) -> LegLoad:
    continuous, rest = (amps, 0.0) if is_continuous(load) else (0.0, amps)
    match load.legs or "L1-L2":
        case "L1":
            return LegLoad(continuous, rest, 0.0, 0.0)
        case "L2":
            return LegLoad(0.0, 0.0, continuous, rest)
    return LegLoad(continuous, rest, continuous, rest)


def load_current(tag: str, load: Load, edition: str, assumptions: list[Assumption]) -> Number:
    """The current of a load on its legs, in amperes, for the load calculation.

    Running current plus fan for a motor-compressor, its circuit ampacity where
    only that is given; EV supply equipment by 220.57 in 2023.

    References
    ----------
    ``load_ev``: 220.57 (2023).
    """
    base = f"load.{tag}"
    if load.current is not None:
        return term_of(load.current, f"I_{tag}", f"{base}.current", "load current")
    if load.rla is not None:
        running = term_of(load.rla, f"RLA_{tag}", f"{base}.rla", "rated-load current")
        if load.fan is None:
            return named(running, f"I_{tag}", "A", "running current of the compressor", "load_noncoincident")
        return named(running + term_of(load.fan, f"I_fan_{tag}", f"{base}.fan", "fan current"), f"I_{tag}", "A", "compressor and fan", "load_noncoincident")
    if load.mca is not None:
        assumptions.append(Assumption(f"{base}.rla", f"{load.mca.value:g} A", "only MCA is given; it stands for the running current"))
        return term_of(load.mca, f"MCA_{tag}", f"{base}.mca", "minimum circuit ampacity")
    return _from_power(tag, load, edition, assumptions)


def _from_power(tag: str, load: Load, edition: str, assumptions: list[Assumption]) -> Number:
    base = f"load.{tag}"
    volts = term_of(load.voltage, f"V_{tag}", f"{base}.voltage", "load voltage") if load.voltage else None
    if volts is None:
        assumptions.append(Assumption(f"{base}.voltage", "240 V", "no voltage given for the load"))
        volts = given(240.0, "V", f"V_{tag}", f"{base}.voltage", "load voltage, assumed")
    power = term_of(load.power, f"S_{tag}", f"{base}.power", "load")
    if load.kind == "ev" and edition == "2023" and power.value < EV_LEAST_VA:
        power = given(EV_LEAST_VA, "VA", f"S_{tag}", f"{base}.power", "EV supply equipment, at least 7200 VA")
    if load.power.unit == "VA" or load.kind in ("ev", "heat"):
        return label(current_from_va(power, volts), f"{tag}.I_load")
    factor = load.power_factor
    if factor is None:
        assumptions.append(Assumption(f"{base}.power_factor", f"{ASSUMED_POWER_FACTOR}", "load in watts without a power factor"))
        factor = ASSUMED_POWER_FACTOR
    pf = given(factor, "", f"pf_{tag}", f"{base}.power_factor", "power factor")
    return label(current_from_va(named(power / pf, f"S_{tag}", "VA", "apparent power"), volts), f"{tag}.I_load")
