"""The schedules that leave as files: conductors, equipment, panels, backed-up loads, modules, bill of material."""

from __future__ import annotations

from linecalc.network.build import natural
from linecalc.network.records import Kind, Node, System
from linecalc.project.equipment import PvModule, Record
from linecalc.report.parts import parts
from linecalc.report.schedules import EQUIPMENT, backed_up_grid
from linecalc.report.tabular import Cell, Column, Table, table_of
from linecalc.sizing.records import Device, Egc, SizedCircuit, SizedRaceway
from linecalc.study import Study
from linecalc.term import Number, value_of
from linecalc.units import Quantity, convert

_CONDUCTOR_COLUMNS = (
    Column("Run"), Column("From"), Column("To"), Column("System"), Column("Status"), Column("Sets"), Column("Ungrounded"),
    Column("Size"), Column("Material"), Column("Insulation"), Column("Neutral"), Column("EGC"), Column("Raceway"),
    Column("Length", "ft"), Column("Length", "m"), Column("Device", "A"), Column("Current", "A"), Column("Needed", "A"),
    Column("Terminals carry", "A"), Column("Ambient factor"), Column("Count factor"),
    Column("Carries after factors", "A"), Column("Fill", "%"), Column("Drop", "%"), Column("Set by"),
)  # fmt: skip
_EQUIPMENT_NUMBERS = (
    (Column("Bus", "A"), ("bus",)), (Column("Main", "A"), ("main",)), (Column("Rating", "A"), ("rating",)),
    (Column("Device", "A"), ("device",)), (Column("AC power", "kW"), ("ac_power",)), (Column("AC current", "A"), ("ac_current",)),
    (Column("DC up to", "V"), ("dc_voltage", "dc_voltage_max", "voltage_max")), (Column("Storage", "kWh"), ("energy",)),
    (Column("Interrupting", "kA"), ("interrupting",)), (Column("Terminals", "degC"), ("terminals",)),
)  # fmt: skip
_MODULE_NUMBERS = (
    (Column("Power", "W"), "power"), (Column("Voc", "V"), "voc"), (Column("Isc", "A"), "isc"), (Column("Vmp", "V"), "vmp"),
    (Column("Imp", "A"), "imp"), (Column("Series fuse", "A"), "series_fuse"), (Column("System voltage", "V"), "system_voltage"),
)  # fmt: skip


def schedule_tables(study: Study) -> tuple[Table, ...]:
    """Every schedule that has rows, the conductors first."""
    found = (
        conductor_table(study),
        equipment_table(study),
        module_table(study),
        panel_table(study),
        table_of(backed_up_grid(study), "Backed-up loads"),
        parts_table(study),
    )
    return tuple(table for table in found if table.rows)


def conductor_table(study: Study) -> Table:
    """One row a circuit. Current is the largest of the modes; needed is the larger of T1 and T2; drop that of the worst mode.

    Factors and fill are those of the worst section on the way.
    """
    raceways = {raceway.section: raceway for raceway in study.sized.raceways}
    rows = tuple(_conductor(circuit, raceways) for circuit in study.sized.circuits)
    return Table("Conductors", "Conductor schedule", _CONDUCTOR_COLUMNS, rows)


def _conductor(sized: SizedCircuit, raceways: dict[str, SizedRaceway]) -> tuple[Cell, ...]:
    circuit, conductor = sized.circuit, sized.conductor
    start, end = (circuit.up, circuit.down) if circuit.system is System.AC else (circuit.down, circuit.up)
    length = circuit.length_ft
    currents = [value_of(mode.continuous) + value_of(mode.noncontinuous) for _, mode in sized.currents.modes]
    drops = [value_of(drop.percent) for drop in sized.drops]
    return (
        sized.tag, start, end, circuit.system.value, "existing" if circuit.item.existing else "new", conductor.parallel, sized.ungrounded,
        conductor.size if sized.determined else None, conductor.material, conductor.insulation,
        sized.neutral.text if sized.neutral is not None else None, _egc(sized.egc), _raceways(sized, raceways),
        length, None if length is None else _rounded(convert(length, "ft", "m")), _device(sized.device),
        _rounded(max(currents)) if currents else None, _rounded(max(value_of(sized.t1_need), value_of(sized.t2_need))),
        _number(sized.t1_ampacity), _least([section.ambient_factor for section in sized.sections]),
        _least([section.count_factor for section in sized.sections]), _number(sized.t2_ampacity),
        _fill(sized, raceways),
        _rounded(max(drops)) if drops else None, sized.governed_by.value,
    )  # fmt: skip


def _egc(egc: Egc | None) -> str | None:
    if egc is None:
        return None
    if egc.kind == "raceway":
        return "raceway"
    return f"{egc.size} {egc.material}" + ("" if egc.kind == "wire" else f", {egc.kind}")


def _raceways(sized: SizedCircuit, raceways: dict[str, SizedRaceway]) -> str | None:
    texts = []
    for section in sized.sections:
        raceway = raceways.get(section.section)
        texts.append(f"{raceway.size} in {section.method}" if raceway is not None and raceway.size else section.method)
    return ", ".join(dict.fromkeys(texts)) or None


def _least(numbers: list[Number | None]) -> float | None:
    """The smallest, that of the worst section; None where one is not known."""
    return None if not numbers or None in numbers else _rounded(min(value_of(number) for number in numbers if number is not None))


def _fill(sized: SizedCircuit, raceways: dict[str, SizedRaceway]) -> float | None:
    """Fill of the fullest raceway on the way."""
    found = [raceways[section.section].fill_percent for section in sized.sections if section.section in raceways]
    known = [value_of(fill) for fill in found if fill is not None]
    return _rounded(max(known)) if known else None


def _device(device: Device | None) -> float | None:
    return None if device is None else _number(device.rating)


def _number(number: Number | None) -> float | None:
    return None if number is None else _rounded(value_of(number))


def _rounded(value: float) -> float:
    """Ten significant digits: what binary arithmetic adds beyond them is no information."""
    return float(f"{value:.10g}")


def equipment_table(study: Study) -> Table:
    """One row a piece of equipment, each rating in a column of its own; columns without any value are left out."""
    nodes = study.network.of_kind(*EQUIPMENT)
    heads = (Column("Tag"), Column("Quantity"), Column("Kind"), Column("Description"), Column("Status"), Column("Model"))
    last = (Column("Listing"), Column("Enclosure type"), Column("Location"))
    numbers = [(column, [_rating(node, keys, column.unit) for node in nodes]) for column, keys in _EQUIPMENT_NUMBERS]
    used = [(column, values) for column, values in numbers if any(value is not None for value in values)]
    rows = tuple(
        (*_named(node), *(values[index] for _, values in used), getattr(node.data, "listing", None), node.item.enclosure, node.item.location)
        for index, node in enumerate(nodes)
    )
    return Table("Equipment", "Equipment schedule", (*heads, *(column for column, _ in used), *last), rows)


def _named(node: Node) -> tuple[Cell, ...]:
    description = node.item.description or getattr(node.data, "description", None)
    status = "existing" if node.item.existing else "new"
    return node.tag, 1, node.kind.value, description, status, getattr(node.item, "equipment", None)


def _rating(node: Node, keys: tuple[str, ...], unit: str) -> Cell:
    """The first of the keys that the thing or its equipment data states, in the unit of the column."""
    for key in keys:
        for record in (node.item, node.data):
            found = _stated(record, key)
            if isinstance(found, Quantity):
                return _rounded(convert(found.value, found.unit, unit))
            if isinstance(found, str):
                return found
    return None


def _stated(record: Record | None, key: str) -> object:
    return getattr(record, key, None)


def module_table(study: Study) -> Table:
    """Datasheet values of the PV modules in use, with how many there are."""
    counts: dict[str, int] = {}
    for node in study.network.of_kind(Kind.STRING):
        counts[node.item.module] = counts.get(node.item.module, 0) + node.item.count
    rows = tuple(_module(name, counts[name], study.project.equipment[name]) for name in sorted(counts, key=natural))
    columns = (Column("Module"), Column("Quantity"), *(column for column, _ in _MODULE_NUMBERS), Column("Voc coefficient"), Column("Listing"))
    return Table("PV modules", "PV modules at standard test conditions", columns, rows)


def _module(name: str, count: int, module: PvModule) -> tuple[Cell, ...]:
    stated = (_stated(module, key) for _, key in _MODULE_NUMBERS)
    coefficient = module.voc_coefficient.as_written if module.voc_coefficient is not None else None
    return (name, count, *(_rounded(found.value) if isinstance(found, Quantity) else None for found in stated), coefficient, module.listing)


def panel_table(study: Study) -> Table:
    """The breakers of each panel that the project describes, with their places on the bus."""
    rows: list[tuple[Cell, ...]] = []
    for node in study.network.of_kind(Kind.PANEL):
        for circuit in study.network.children.get(node.tag, ()):
            device = study.sized.circuit(circuit.tag).device
            own = _device(device) if device is not None and device.where == node.tag else None
            rows.append((node.tag, circuit.tag, circuit.down, own, circuit.item.bus_position))
        for other in node.item.other_breakers or ():
            rows.append((node.tag, None, "other branch circuit", _rounded(other.value), None))
    columns = (Column("Panel"), Column("Circuit"), Column("To"), Column("Breaker", "A"), Column("Place on the bus"))
    return Table("Panels", "Panel schedules", columns, tuple(rows))


def parts_table(study: Study) -> Table:
    """The bill of material: pieces, or feet and metres."""
    rows = tuple(
        (part.kind, part.name, *((part.quantity, None, None) if part.unit == "each" else (None, _rounded(part.quantity), _rounded(convert(part.quantity, "ft", "m")))))
        for part in parts(study)
    )
    columns = (Column("Kind"), Column("Part"), Column("Quantity"), Column("Length", "ft"), Column("Length", "m"))
    return Table("Bill of material", "Bill of material, new parts, nothing added for waste", columns, rows)
