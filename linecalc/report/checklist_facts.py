"""Facts that the checklist looks for in a study: each a short question, with the evidence or what is missing."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.scene import SHEET_HEIGHT_IN, SHEET_WIDTH_IN
from linecalc.diagram.texts import title_block
from linecalc.network.records import Kind, System
from linecalc.report.amounts import amount
from linecalc.report.labels import label_schedule
from linecalc.report.schedules import backed_up_grid, equipment_grid, load_grid, panel_grid, parts_grid
from linecalc.sizing.records import SizedCircuit
from linecalc.study import Study
from linecalc.term import value_of
from linecalc.units import Quantity

SIMPLE_BREAKER_A = 60.0
SIMPLE_BUS_A = 225.0
_IDENTIFIER = re.compile(r"[A-Z]-\d\d\d")


@dataclass(frozen=True, slots=True)
class Fact:
    """The answer to one question, and the words for it."""

    holds: bool
    reason: str


def _all(found: Iterable[object], lacking: str, told: str) -> Fact:
    """Holds where nothing is lacking; ``found`` names what lacks it."""
    names = [str(name) for name in found]
    return Fact(not names, f"{lacking}: {', '.join(names)}" if names else told)


def _any(found: Iterable[object], lacking: str) -> Fact:
    names = [str(name) for name in found]
    return Fact(bool(names), ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "") if names else lacking)


def _circuits(study: Study, system: System | None = None) -> list[SizedCircuit]:
    return [circuit for circuit in study.sized.circuits if system in (None, circuit.circuit.system)]


def _strings(study: Study) -> tuple:
    return study.network.of_kind(Kind.STRING)


def array_power(study: Study) -> Fact:
    """System size in kW DC."""
    watts = sum(value_of(string.power_w) for string in study.sized.strings)
    return Fact(watts > 0.0, f"{amount(watts / 1000.0, 'kW')} DC at standard test conditions")


def system_size(study: Study) -> Fact:
    """System size in kW AC, with storage power and energy."""
    sources = study.network.of_kind(Kind.UNIT, Kind.INVERTER)
    watts = sum(node.data.ac_power.value for node in sources)
    energy = sum(node.data.energy.value for node in study.network.of_kind(Kind.UNIT, Kind.STORAGE))
    return Fact(bool(sources), f"{amount(watts / 1000.0, 'kW')} AC, {amount(energy, 'kWh')} of storage")


def sheet_index(study: Study) -> Fact:
    """An index of the sheets of a set."""
    return Fact(False, "no set of sheets is bound yet: drawing and calculation sheet are separate files")


def sheet_number(study: Study) -> Fact:
    """The sheet's number and the total count."""
    count = title_block(study).sheet_count
    return Fact("of" in count, f"title block: {count}")


def sheet_identifier(study: Study) -> Fact:
    """Discipline letter, type digit and sequence."""
    sheet = title_block(study).sheet
    return Fact(bool(_IDENTIFIER.fullmatch(sheet)), f"title block: {sheet}")


def sheet_size(study: Study) -> Fact:
    """At least 11 x 17 in."""
    return Fact(min(SHEET_WIDTH_IN, SHEET_HEIGHT_IN) >= 11.0 and max(SHEET_WIDTH_IN, SHEET_HEIGHT_IN) >= 17.0, f"{SHEET_WIDTH_IN:g} x {SHEET_HEIGHT_IN:g} in")


def text_size(study: Study) -> Fact:
    """Ten-point text: capitals of 0.1 in."""
    return Fact(CAP_MIN_IN >= 0.1 - 1e-9, f"smallest capitals {CAP_MIN_IN:g} in, about ten-point text")


def lettering(study: Study) -> Fact:
    """Lettering of at least 1/8 in everywhere."""
    return Fact(CAP_MIN_IN >= 0.125 - 1e-9, f"smallest capitals {CAP_MIN_IN:g} in; {CAP_REVIEW_IN:g} in only for what a reviewer must read")


def legend(study: Study) -> Fact:
    """A legend of the symbols in use and the abbreviations."""
    return Fact(bool(study.network.nodes), "legend of the symbols used and list of the abbreviations used, on the drawing")


def symbols(study: Study) -> Fact:
    """US graphic symbols."""
    return Fact(bool(study.network.nodes), "graphic symbols after IEEE 315")


def legible(study: Study) -> Fact:
    """No page that does not belong."""
    return Fact(False, "for the reader to judge; the drawing is checked for overlaps and crossings, the pages are not")


def existing_and_new(study: Study) -> Fact:
    """Existing and new equipment told apart."""
    existing = [node.tag for node in study.network.nodes.values() if getattr(node.item, "existing", False)]
    return Fact(True, f"(E) existing: {', '.join(existing) or 'none'}; the rest (N) new")


def modules(study: Study) -> Fact:
    """Module type, count and datasheet values."""
    return _any((f"{node.tag} {node.item.count} x {node.item.module}, {amount(node.data.power.value, 'W')}" for node in _strings(study)), "no modules")


def strings(study: Study) -> Fact:
    """Strings, their modules and where they lead."""
    return _any((f"{string.tag}: {string.count} in series to {string.unit}" for string in study.sized.strings), "no strings")


def inputs(study: Study) -> Fact:
    """The MPPT input of every string."""
    lacking = [string.tag for string in study.sized.strings if string.input is None and study.network.nodes[string.unit].data.mppt != 1]
    return _all(lacking, "input not stated", "every string names its input")


def series_fuse(study: Study) -> Fact:
    """The maximum series fuse of every module."""
    return _all((node.tag for node in _strings(study) if node.data.series_fuse is None), "series fuse not stated", "in the module schedule")


def coefficients(study: Study) -> Fact:
    """The temperature coefficient of Voc of every module."""
    return _all((node.tag for node in _strings(study) if node.data.voc_coefficient is None), "coefficient not stated", "in the module schedule")


def converters(study: Study) -> Fact:
    """Module-level electronics with their ratings."""
    found = dict.fromkeys(getattr(node.data, "electronics", "none") for node in _strings(study))
    return _any((kind for kind in found if kind != "none"), "none")


def pv_conductors(study: Study) -> Fact:
    """Size, kind and number of the conductors of every PV run."""
    return _determined(_circuits(study, System.PV))


def conductors(study: Study) -> Fact:
    """Every conductor in the schedule."""
    return _determined(_circuits(study))


def _determined(circuits: list[SizedCircuit]) -> Fact:
    return _all((circuit.tag for circuit in circuits if not circuit.determined), "not determined", f"{len(circuits)} circuits in the schedule")


def pv_raceways(study: Study) -> Fact:
    """Kind and size of every raceway with PV conductors."""
    tags = {tag for circuit in _circuits(study, System.PV) for tag in circuit.circuit.sections}
    return _sized_raceways(study, tags)


def raceways(study: Study) -> Fact:
    """Kind and size of every raceway."""
    return _sized_raceways(study, {tag for circuit in _circuits(study) for tag in circuit.circuit.sections})


def _sized_raceways(study: Study, tags: set[str]) -> Fact:
    inside = [raceway for raceway in study.sized.raceways if raceway.section in tags]
    if not inside:
        return Fact(False, "no raceway is described")
    return _all((raceway.section for raceway in inside if raceway.size is None), "no size", f"{len(inside)} raceways, sizes given or chosen")


def held(study: Study) -> Fact:
    """The conductors in every raceway."""
    return _all(
        (raceway.section for raceway in study.sized.raceways if not raceway.held),
        "contents not known",
        "conductors held and current-carrying conductors, in each raceway's block",
    )


def dc_disconnect(study: Study) -> Fact:
    """DC disconnects of their own, with voltage rating."""
    found = [node.tag for node in study.network.of_kind(Kind.DISCONNECT) if node.item.dc_voltage is not None]
    return _any(found, "the rating of the PV switch inside a unit is not given, and there is none beside it")


def source_ratings(study: Study) -> Fact:
    """Rating of every inverter and unit."""
    nodes = study.network.of_kind(Kind.UNIT, Kind.INVERTER)
    return _any((f"{node.tag} {amount(node.data.ac_power.value / 1000, 'kW')}, {amount(node.data.ac_current.value, 'A')}" for node in nodes), "none")


def storage_ratings(study: Study) -> Fact:
    """Energy and power of every unit and storage module."""
    nodes = study.network.of_kind(Kind.UNIT, Kind.STORAGE)
    return _any((f"{node.tag} {amount(node.data.energy.value, 'kWh')}" for node in nodes), "no storage")


def storage_voltages(study: Study) -> Fact:
    """DC voltage range and current of storage."""
    lacking = [node.tag for node in study.network.of_kind(Kind.UNIT) if None in (node.data.storage_voltage_min, node.data.storage_voltage_max)]
    lacking += [node.tag for node in study.network.of_kind(Kind.STORAGE) if None in (node.data.voltage_min, node.data.voltage_max)]
    return _all(lacking, "voltage range not stated", "in the storage schedule")


def isolation(study: Study) -> Fact:
    """The isolation device with its rating."""
    return _any((f"{node.tag} {amount(node.item.rating.value, 'A')}" for node in study.network.of_kind(Kind.ISOLATION)), "none")


def panels(study: Study) -> Fact:
    """Bus and main rating of every panel."""
    return _any((f"{node.tag} bus {amount(node.item.bus.value, 'A')}, {_main(node.item.main)}" for node in study.network.of_kind(Kind.PANEL)), "no panel")


def _main(main: object) -> str:
    return f"main {amount(main.value, 'A')}" if isinstance(main, Quantity) else "main lugs"


def panel_condition(study: Study) -> Fact:
    """Whether an existing panel is a split-bus or an obsolete one."""
    lacking = [node.tag for node in study.network.of_kind(Kind.PANEL) if node.item.existing and node.item.condition is None]
    return _all(lacking, "condition of the existing panel not stated", "single bus; split-bus panels are refused")


def backed_up(study: Study) -> Fact:
    """The list of backed-up loads."""
    return _any((row[0] for row in backed_up_grid(study).rows), "no load is named behind the isolation device")


def generator(study: Study) -> Fact:
    """A generator with its rating and transfer switch."""
    return _any(study.project.generator, "none")


def service_voltage(study: Study) -> Fact:
    """Voltage, phases and wires of the service."""
    service = study.project.service
    return Fact(service is not None, f"{amount(service.voltage.value, 'V')}, single-phase, three-wire" if service else "no service")


def interconnection(study: Study) -> Fact:
    """Where the sources connect: supply side or load side, and by which bus."""
    if study.sized.supply_side is not None:
        return Fact(True, f"supply side at {study.sized.supply_side.junction}")
    return _any((f"load side, bus of {bus.tag}" for bus in study.sized.buses if bus.sources), "no bus carries a source current")


def source_breakers(study: Study) -> Fact:
    """Rating and place of every backfed breaker."""
    buses = {bus.tag for bus in study.sized.buses if bus.sources}
    sources = {node.tag for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER)}
    found = []
    for circuit in _circuits(study, System.AC):
        feeds = sources & set(study.network.below(circuit.circuit.down))
        if feeds and circuit.device is not None and circuit.device.where in buses:
            found.append(f"{circuit.tag} {amount(circuit.device.rating, 'A')} in {circuit.device.where}, {circuit.circuit.item.bus_position or 'place not stated'}")
    return _any(found, "no source breaker in a panel")


def disconnect_features(study: Study) -> Fact:
    """Rating, fuses, lock and visible break of every AC disconnect."""
    nodes = [node for node in study.network.of_kind(Kind.DISCONNECT) if node.item.dc_voltage is None]
    lacking = [node.tag for node in nodes if node.item.lockable is None or node.item.visible_break is None]
    told = ", ".join(f"{node.tag} {amount(node.item.rating.value, 'A')}, {node.item.device_kind}" for node in nodes)
    return _all(lacking, "lockable or visible_break not stated", told)


def ends(study: Study) -> Fact:
    """Both ends of every run."""
    return _any((f"{circuit.tag} {circuit.circuit.item.from_} to {circuit.circuit.item.to}" for circuit in _circuits(study)), "no circuits")


def lengths(study: Study) -> Fact:
    """The length of every run."""
    return _all((circuit.tag for circuit in _circuits(study) if circuit.circuit.length_ft is None), "length not stated", "in the conductor schedule")


def neutrals(study: Study) -> Fact:
    """The neutral of every AC circuit, or that it has none."""
    with_neutral = [circuit.tag for circuit in _circuits(study, System.AC) if circuit.neutral is not None]
    return Fact(bool(_circuits(study, System.AC)), f"neutral in {', '.join(with_neutral) or 'no circuit'}; the others have none")


def devices(study: Study) -> Fact:
    """The overcurrent device of every circuit."""
    return _any((f"{circuit.tag} {amount(circuit.device.rating, 'A')}" for circuit in _circuits(study) if circuit.device is not None), "no device")


def grounding_conductors(study: Study) -> Fact:
    """The grounding conductor of every run; service conductors are bonded through the neutral."""
    lacking = [circuit.tag for circuit in _circuits(study) if circuit.egc is None and circuit.circuit.up != "service" and not _is_supply(study, circuit)]
    return _all(lacking, "no grounding conductor", "in the conductor schedule")


def _is_supply(study: Study, circuit: SizedCircuit) -> bool:
    return circuit.tag in {point.circuit for point in study.sized.grounding.points}


def terminals(study: Study) -> Fact:
    """Terminal temperature ratings of every circuit."""
    assumed = [circuit.tag for circuit in _circuits(study) if circuit.terminals_assumed]
    return Fact(True, f"in each circuit's block; assumed at {', '.join(assumed)}" if assumed else "in each circuit's block")


def terminal_limits(study: Study) -> Fact:
    """Ampacity held to the terminal temperature."""
    return _any((f"{circuit.tag} {circuit.terminal_column_c} degC" for circuit in _circuits(study)), "no circuits")


def feeders(study: Study) -> Fact:
    """Feeders and taps by tag."""
    found = [circuit.tag for circuit in _circuits(study, System.AC) if study.network.nodes[circuit.circuit.down].kind in (Kind.PANEL, Kind.ISOLATION, Kind.DISCONNECT)]
    return _any(found, "no feeder")


def production_meter(study: Study) -> Fact:
    """No loads between a production meter and the sources."""
    return Fact(False, "production meters are no part of the network, so what lies between is not known")


def low_temperature(study: Study) -> Fact:
    """The lowest temperature with its source."""
    return _temperature(study.project.site.low_temperature, "site.low_temperature")


def high_temperature(study: Study) -> Fact:
    """The high temperature with its source."""
    return _temperature(study.project.site.high_temperature, "site.high_temperature")


def _temperature(found: Quantity | None, path: str) -> Fact:
    if found is None or not found.source:
        return Fact(False, f"not stated with its source: {path}")
    return Fact(True, f"{found.as_written}, {found.source}")


def string_current(study: Study) -> Fact:
    """1.25 x Isc of every string."""
    return _any((f"{string.tag} {amount(string.max_current, 'A')}" for string in study.sized.strings), "no strings")


def ambient_factors(study: Study) -> Fact:
    """The temperature factor of every section."""
    return _sections(study, "ambient_factor")


def count_factors(study: Study) -> Fact:
    """The factor for the number of conductors in every section."""
    return _sections(study, "count_factor")


def _sections(study: Study, key: str) -> Fact:
    found = [section for circuit in _circuits(study) for section in circuit.sections if getattr(section, key) is not None]
    return Fact(bool(found), f"in {len(found)} sections of the circuits" if found else "no section has a factor")


def rooftop(study: Study) -> Fact:
    """The rooftop adder, or that the height above the roof spares it."""
    lacking = [tag for tag, section in study.project.section.items() if section.sun and section.method != "free air" and section.height_above_roof is None]
    adders = [section.section for circuit in _circuits(study) for section in circuit.sections if section.adder_c is not None]
    told = f"added in {', '.join(dict.fromkeys(adders))}" if adders else "no section lies low enough above the roof"
    return _all(lacking, "height above the roof not stated", told)


def busbar(study: Study) -> Fact:
    """Every bus with the method that decides."""
    lacking = [bus.tag for bus in study.sized.buses if bus.sources and bus.used is None]
    used = [f"{bus.tag} {study.book.cite(bus.used.key).section}" for bus in study.sized.buses if bus.sources and bus.used is not None]
    return _all(lacking, "no method could be judged", ", ".join(used))


def source_breaker(study: Study) -> Fact:
    """Source breakers against the 60 A of a simple path."""
    sources = {node.tag for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER)}
    rated = {circuit.tag: value_of(circuit.device.rating) for circuit in _circuits(study, System.AC) if circuit.circuit.down in sources and circuit.device is not None}
    within = all(rating <= SIMPLE_BREAKER_A for rating in rated.values())
    told = ", ".join(f"{tag} {rating:g} A" for tag, rating in rated.items())
    return Fact(bool(rated), f"{told}: {'within' if within else 'above'} 60 A" if rated else "no source breaker")


def bus_rating(study: Study) -> Fact:
    """Bus ratings against the 225 A of a simple path."""
    rated = {node.tag: node.item.bus.value for node in study.network.of_kind(Kind.PANEL)}
    within = all(rating <= SIMPLE_BUS_A for rating in rated.values())
    told = ", ".join(f"{tag} {rating:g} A" for tag, rating in rated.items())
    return Fact(bool(rated), f"{told}: {'within' if within else 'above'} 225 A" if rated else "no panel")


def label_values(study: Study) -> Fact:
    """Values on labels come from the calculation."""
    found = [(label.key, value) for label in label_schedule(study) for value in label.values]
    lacking = [f"{key} needs {value.needs}" for key, value in found if value.number is None]
    if not found:
        return Fact(False, "no label shows a value")
    return _all(lacking, "missing", f"{len(found)} values filled in from the calculation")


def storage_label_values(study: Study) -> Fact:
    """The highest DC voltage on the storage labels."""
    values = [value for label in label_schedule(study) if label.key == "storage_disconnect" for value in label.values if value.name.startswith("Highest")]
    return _all((value.needs for value in values if value.number is None), "missing", ", ".join(dict.fromkeys(value.text for value in values)))


def labels_drawn(study: Study) -> Fact:
    """Labels drawn beside the one-line."""
    return Fact(False, "labels are scheduled with their words, not drawn beside the single-line")


def sprinkler(study: Study) -> Fact:
    """Ridge setback with sprinklers."""
    return Fact(False, "roof setbacks are no part of an electrical calculation")


def equipment(study: Study) -> Fact:
    """The equipment schedule."""
    return _any((row[0] for row in equipment_grid(study).rows), "no equipment")


def panel_schedule(study: Study) -> Fact:
    """Breakers of the panels with their places."""
    return _any((f"{row[0]} {row[1]}" for row in panel_grid(study).rows), "no breaker is described")


def nameplates(study: Study) -> Fact:
    """Nameplate data of motors and air conditioners."""
    motors = [node for node in study.network.of_kind(Kind.LOAD) if node.item.kind in ("motor", "motor-compressor")]
    lacking = [node.tag for node in motors if node.item.rla is None and node.item.mca is None and node.item.current is None]
    return _all(lacking, "nameplate not stated", "; ".join(row[3] for row in load_grid(study).rows if row[0] in {node.tag for node in motors}))


def parts(study: Study) -> Fact:
    """The bill of material."""
    return _any((row[0] for row in parts_grid(study).rows), "nothing new")




_FUNCTIONS: tuple[Callable[[Study], Fact], ...] = (
    array_power, system_size, sheet_index, sheet_number, sheet_identifier, sheet_size, text_size, lettering, legend, symbols,
    legible, existing_and_new, modules, strings, inputs, series_fuse, coefficients, converters, pv_conductors, conductors,
    pv_raceways, raceways, held, dc_disconnect, source_ratings, storage_ratings, storage_voltages, isolation, panels,
    panel_condition, backed_up, generator, service_voltage, interconnection, source_breakers, disconnect_features, ends,
    lengths, neutrals, devices, grounding_conductors, terminals, terminal_limits, feeders, production_meter, low_temperature,
    high_temperature, string_current, ambient_factors, count_factors, rooftop, busbar, source_breaker, bus_rating,
    label_values, storage_label_values, labels_drawn, sprinkler, equipment, panel_schedule, nameplates, parts,
)  # fmt: skip
FACTS: dict[str, Callable[[Study], Fact]] = {function.__name__: function for function in _FUNCTIONS}
