"""When an item of the checklist applies to a design at all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from linecalc.check import Level
from linecalc.network.records import Kind, System
from linecalc.report.notes import permit_notes
from linecalc.sizing.grounding_system import service_disconnects
from linecalc.sizing.holders import is_outdoors, units_with_storage
from linecalc.sizing.records import BusVerdict
from linecalc.study import Study

MOTORS = ("motor", "motor-compressor")


@dataclass(frozen=True, slots=True)
class Condition:
    """A question to the design; ``otherwise`` is the reason where the answer is no."""

    holds: Callable[[Study], bool]
    otherwise: str


def _of_kind(*kinds: Kind) -> Callable[[Study], bool]:
    return lambda study: bool(study.network.of_kind(*kinds))


def _inside_backup(study: Study) -> set[str]:
    return {tag for node in study.network.of_kind(Kind.ISOLATION) for tag in study.network.below(node.tag)}


def _motors_backed_up(study: Study) -> bool:
    inside = _inside_backup(study)
    return any(node.item.kind in MOTORS and node.item.panel in inside for node in study.network.of_kind(Kind.LOAD))


def _uses(study: Study, *keys: str) -> bool:
    return any(
        bus.used is not None and bus.used.verdict is BusVerdict.PASS and bus.used.key in keys and bus.sources for bus in study.sized.buses
    )


def _noted(study: Study, rule: str) -> bool:
    """Whether a rule says that it asks for nothing here."""
    return any(check.rule == rule and check.level is Level.NOTE for check in study.checks)


def _dc_inside(study: Study) -> bool:
    return any(note.key == "dc_inside" for note in permit_notes(study))


def _outdoors(study: Study) -> bool:
    return any(is_outdoors(getattr(node.item, "location", None)) for node in study.network.nodes.values())


def _electronics(study: Study) -> bool:
    return any(getattr(node.data, "electronics", "none") != "none" for node in study.network.of_kind(Kind.STRING))


def _production_meter(study: Study) -> bool:
    words = (study.project.facts.metering or "").lower()
    metered = any(circuit.meter is not None for circuit in study.project.circuit.values())
    return metered or ("production meter" in words and "no production meter" not in words)


def _close_storage(study: Study) -> bool:
    """Whether units or modules may stand closer than the code's spacing: several of them, and no spacing of 3 ft stated."""
    placed = study.network.of_kind(Kind.UNIT, Kind.STORAGE)
    spacings = [getattr(node.item, "spacing", None) for node in placed]
    return len(placed) > 1 and any(spacing is None or spacing.value < 36.0 for spacing in spacings)


def _device_asked(study: Study, rule: str) -> bool:
    return study.book.cite(rule).asked and bool(service_disconnects(study.network)) and not _noted(study, rule)


CONDITIONS: dict[str, Condition] = {
    "strings": Condition(_of_kind(Kind.STRING), "no PV strings"),
    "sources": Condition(_of_kind(Kind.UNIT, Kind.INVERTER), "no inverter or unit"),
    "storage": Condition(lambda study: bool(units_with_storage(study.sized)), "no storage"),
    "storage_shutdown": Condition(
        lambda study: bool(units_with_storage(study.sized)) and study.book.cite("ess_emergency_shutdown").asked,
        "no storage, or the edition does not ask for it",
    ),
    "backup": Condition(_of_kind(Kind.ISOLATION), "no backup: no isolation device"),
    "service": Condition(lambda study: study.project.service is not None, "no utility service"),
    "converters": Condition(_electronics, "no module-level electronics in this design"),
    "generator": Condition(lambda study: bool(getattr(study.project, "generator", {})), "no generator in this design"),
    "dc_inside": Condition(_dc_inside, "no PV conductors inside the building"),
    "dc_raceways": Condition(
        lambda study: any(
            circuit.circuit.system is System.PV and raceway.section in circuit.circuit.sections
            for raceway in study.sized.raceways
            for circuit in study.sized.circuits
        ),
        "no PV conductors in raceways",
    ),
    "existing_panels": Condition(
        lambda study: any(node.item.existing for node in study.network.of_kind(Kind.PANEL)), "no existing panel"
    ),
    "load_side": Condition(lambda study: any(bus.sources for bus in study.sized.buses), "no bus carries a source current"),
    "supply_side": Condition(lambda study: study.sized.supply_side is not None, "no supply-side connection"),
    "source_disconnects": Condition(
        lambda study: any(node.item.dc_voltage is None for node in study.network.of_kind(Kind.DISCONNECT)), "no AC disconnect beside breakers"
    ),
    "utility_disconnect": Condition(
        lambda study: any(node.item.utility_disconnect for node in study.network.of_kind(Kind.DISCONNECT)), "no disconnect for the utility"
    ),
    "opposite_end": Condition(
        lambda study: _uses(study, "busbar_120", "busbar_center_fed"), "no bus rests on the place of a breaker"
    ),
    "sum_of_breakers": Condition(lambda study: _uses(study, "busbar_all_breakers"), "no bus rests on the sum of its breakers"),
    "surge": Condition(lambda study: _device_asked(study, "surge_protection"), "not asked for: existing service equipment stays, or the edition has no such rule"),
    "emergency": Condition(
        lambda study: _device_asked(study, "emergency_disconnect"), "not asked for: existing service equipment stays, or the edition has no such rule"
    ),
    "outdoors": Condition(_outdoors, "no equipment outdoors"),
    "outdoor_storage": Condition(
        lambda study: any(is_outdoors(node.item.location) for node in (*units_with_storage(study.sized), *study.network.of_kind(Kind.STORAGE))),
        "no storage outdoors",
    ),
    "production_meter": Condition(_production_meter, "no production meter in this design"),
    "power_control": Condition(lambda study: study.project.power_control is not None, "no power control setting"),
    "managed": Condition(lambda study: study.project.backup.method == "load management", "no load management in this design"),
    "measured": Condition(
        lambda study: study.project.dwelling is not None and study.project.dwelling.measured_demand is not None,
        "the load is calculated, no measured demand is stated"
    ),
    "motors": Condition(
        lambda study: any(node.item.kind in MOTORS for node in study.network.of_kind(Kind.LOAD)), "no motor among the loads"
    ),
    "motors_backed_up": Condition(_motors_backed_up, "no motor among the backed-up loads"),
    "sun": Condition(
        lambda study: any(section.sun for section in study.project.section.values()), "no raceway or cable in the sun over a roof"
    ),
    "close_storage": Condition(_close_storage, "one unit, or a spacing of 3 ft and more"),
}
