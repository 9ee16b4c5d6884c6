"""Schedules beside that of the conductors: equipment, PV modules, grounding, panels, backed-up loads, parts, labels."""

from __future__ import annotations

from linecalc.network.build import natural
from linecalc.network.records import Kind, Node
from linecalc.project.equipment import PvModule
from linecalc.report.amounts import amount, both
from linecalc.report.content import Grid
from linecalc.report.labels import Label
from linecalc.report.parts import Part, parts
from linecalc.sizing.grounding_records import BondPoint, SharedGround
from linecalc.study import Study
from linecalc.term import value_of
from linecalc.units import Quantity

_NOTHING = "-"
_RATINGS = (
    ("bus", "bus"),
    ("main", "main"),
    ("rating", "rating"),
    ("device", "device"),
    ("dc_voltage", "DC"),
    ("interrupting", "interrupting"),
)
_DATA = (
    ("ac_power", "AC"),
    ("ac_current", "AC"),
    ("dc_voltage_max", "DC to"),
    ("energy", "energy"),
    ("storage_current", "storage"),
    ("current", "storage"),
    ("interrupting", "interrupting"),
)
EQUIPMENT = (Kind.PANEL, Kind.ISOLATION, Kind.DISCONNECT, Kind.COMBINER, Kind.JUNCTION, Kind.UNIT, Kind.INVERTER, Kind.STORAGE)
_LOAD_DATA = (("mca", "MCA"), ("mocp", "MOCP"), ("rla", "RLA"), ("fan", "fan"), ("lra", "LRA"), ("current", ""), ("power", ""))


def schedules(study: Study) -> tuple[Grid, ...]:
    """Every schedule that has rows."""
    grids = (
        equipment_grid(study),
        module_grid(study),
        storage_grid(study),
        load_grid(study),
        grounding_grid(study),
        shared_grid(study),
        panel_grid(study),
        backed_up_grid(study),
        *parts_grids(study),
    )
    return tuple(grid for grid in grids if grid.rows)


def equipment_grid(study: Study) -> Grid:
    """Tag, quantity, description, ratings, terminals, enclosure, listing and place of every piece of equipment."""
    rows = tuple(_equipment(node) for node in study.network.of_kind(*EQUIPMENT))
    columns = ("Tag", "Qty", "Description", "Ratings", "Terminals", "Listing", "Location")
    return Grid("Equipment schedule", columns, rows)


def _equipment(node: Node) -> tuple[str, ...]:
    item, data = node.item, node.data
    description = item.description or getattr(data, "description", None) or node.kind.value
    ratings = [*_amounts(item, _RATINGS), *_amounts(data, _DATA), *_switch(node)]
    terminals = getattr(item, "terminals", None) or getattr(data, "terminals", None)
    return (
        node.tag,
        "1",
        f"{description}, {'existing' if item.existing else 'new'}",
        ", ".join(dict.fromkeys(ratings)) or _NOTHING,
        amount(terminals.value, terminals.unit) if terminals is not None else _NOTHING,
        getattr(data, "listing", None) or _NOTHING,
        ", ".join(part for part in (item.location, f"enclosure type {item.enclosure}" if item.enclosure else None) if part) or _NOTHING,
    )


def _switch(node: Node) -> list[str]:
    """What a disconnect offers beside its ratings, as far as it is stated."""
    if node.kind is not Kind.DISCONNECT:
        return []
    told = [] if node.item.device_kind == "none" else [node.item.device_kind]
    for key, word in (("lockable", "lockable open"), ("visible_break", "visible break"), ("readily_accessible", "readily accessible")):
        stated = getattr(node.item, key)
        told += [] if stated is None else [word if stated else f"no {word}" if key == "visible_break" else f"not {word}"]
    if node.item.meter_distance is not None:
        told.append(f"{both(node.item.meter_distance.value, 'ft')} from the meter")
    return told


def _amounts(record: object, keys: tuple[tuple[str, str], ...]) -> list[str]:
    found = []
    for key, word in keys:
        value = getattr(record, key, None)
        if isinstance(value, Quantity):
            found.append(f"{word} {amount(value.value, value.unit)}".strip())
        elif key == "main" and value == "lugs":
            found.append("main lugs")
    return found


def module_grid(study: Study) -> Grid:
    """Datasheet values of the PV modules in use, with how many there are."""
    counts: dict[str, int] = {}
    for node in study.network.of_kind(Kind.STRING):
        counts[node.item.module] = counts.get(node.item.module, 0) + node.item.count
    rows = tuple(_module(name, counts[name], study.project.equipment[name]) for name in sorted(counts, key=natural))
    columns = ("Module", "Qty", "Power", "Voc, Isc", "Vmp, Imp", "Voc coefficient", "Series fuse", "System", "Listing")
    return Grid("PV modules at standard test conditions", columns, rows)


def _module(name: str, count: int, module: PvModule) -> tuple[str, ...]:
    pairs = (f"{_written(module.voc)}, {_written(module.isc)}", f"{_written(module.vmp)}, {_written(module.imp)}")
    limits = (_written(value) for value in (module.voc_coefficient, module.series_fuse, module.system_voltage))
    return (name, str(count), _written(module.power), *pairs, *limits, module.listing or _NOTHING)


def _written(value: Quantity | None) -> str:
    return value.as_written if value is not None else _NOTHING


def storage_grid(study: Study) -> Grid:
    """Voltage range, current and energy of storage, of units and of modules."""
    rows = []
    for node in study.network.of_kind(Kind.UNIT, Kind.STORAGE):
        own = node.kind is Kind.UNIT
        low, high = (getattr(node.data, key) for key in (("storage_voltage_min", "storage_voltage_max") if own else ("voltage_min", "voltage_max")))
        current = node.data.storage_current if own else node.data.current or node.data.harness_current
        rows.append((node.tag, node.item.equipment, _written(node.data.energy), _written(node.data.usable_energy), _written(low), _written(high), _written(current)))
    return Grid("Storage", ("Tag", "Equipment", "Energy", "Usable", "Lowest DC", "Highest DC", "Current"), tuple(rows))


def load_grid(study: Study) -> Grid:
    """Nameplate data of the named loads."""
    rows = tuple(
        (node.tag, node.item.description or node.item.kind, node.item.panel, ", ".join(_amounts(node.item, _LOAD_DATA)) or _NOTHING)
        for node in study.network.of_kind(Kind.LOAD)
        if node.item.kind != "calculated"
    )
    return Grid("Loads, nameplate data", ("Tag", "Load", "Panel", "Nameplate"), rows)


def grounding_grid(study: Study) -> Grid:
    """Electrode conductors, bonding jumpers and grounded conductors, place by place."""
    rows = tuple(_point(point) for point in study.sized.grounding.points)
    columns = ("At", "Role", "By", "Electrode conductor", "Electrodes", "Bonding jumper", "Grounded conductor")
    return Grid("Grounding and bonding", columns, rows)


def _point(point: BondPoint) -> tuple[str, ...]:
    electrode, jumper, grounded = point.electrode, point.jumper, point.grounded
    each = ", ".join(f"{need.count} x {need.kind} ({need.needed_size})" for need in electrode.electrodes) or "not described"
    bond = _NOTHING
    if jumper is not None:
        bond = "listed with the equipment" if jumper.kind == "listed" else f"{jumper.size} {jumper.material}"
    neutral = _NOTHING if grounded is None else f"{grounded.size or 'none'}, at least {grounded.needed_size} {grounded.material}"
    return (point.tag, point.role.value, f"{point.ungrounded} ({point.circuit})", f"{electrode.size} {electrode.material}", each, bond, neutral)


def shared_grid(study: Study) -> Grid:
    """The one grounding conductor that could serve all circuits of a raceway."""
    rows = tuple(_shared(shared) for shared in study.sized.grounding.shared)
    return Grid("One grounding conductor for a raceway", ("Section", "Circuits", "Least size", "Decided by", "Stated"), rows)


def _shared(shared: SharedGround) -> tuple[str, ...]:
    stated = f"{shared.given_size} {shared.material}" if shared.given_size else "one each"
    return (shared.section, ", ".join(shared.circuits), f"{shared.needed_size} {shared.material}", shared.by_circuit, stated)


def panel_grid(study: Study) -> Grid:
    """The breakers of each panel that the project describes, with their places on the bus."""
    rows = []
    for node in study.network.of_kind(Kind.PANEL):
        for circuit in study.network.children.get(node.tag, ()):
            sized = study.sized.circuit(circuit.tag)
            device = sized.device
            own = device is not None and device.where == node.tag
            rating = f"{value_of(device.rating):g} A" if own else "no breaker here"
            rows.append((node.tag, circuit.tag, circuit.down, rating, circuit.item.bus_position or "not stated"))
        others = node.item.other_breakers
        if others:
            rows.append((node.tag, _NOTHING, "other branch circuits", ", ".join(f"{other.value:g} A" for other in others), _NOTHING))
    return Grid("Panel schedule", ("Panel", "Circuit", "To", "Breaker", "Place on the bus"), tuple(rows))


def backed_up_grid(study: Study) -> Grid:
    """What runs in an outage: every load behind the isolation device, and by which panel."""
    isolation = next(iter(study.network.of_kind(Kind.ISOLATION)), None)
    if isolation is None:
        return Grid("Backed-up loads", ("Load", "Panel", "Managed"), ())
    inside = set(study.network.below(isolation.tag))
    rows = tuple(
        (f"{node.tag}, {node.item.description or node.item.kind}", node.item.panel, "yes" if node.item.managed else "no")
        for node in study.network.of_kind(Kind.LOAD)
        if node.item.panel in inside
    )
    return Grid("Backed-up loads", ("Load", "Panel", "Managed"), rows)


def parts_grid(study: Study) -> Grid:
    """Bill of material: equipment by kind, harness kits, devices, conductors and raceways by size and length."""
    return _bill("Bill of material, new parts", parts(study))


def parts_grids(study: Study) -> tuple[Grid, Grid]:
    """The bill of material in two tables: what is counted, what is measured."""
    found = parts(study)
    return (
        _bill("Bill of material, new equipment and devices", tuple(part for part in found if part.unit == "each")),
        _bill("Bill of material, new conductors and raceways", tuple(part for part in found if part.unit != "each")),
    )


def _bill(caption: str, found: tuple[Part, ...]) -> Grid:
    rows = tuple((part.name, amount(part.quantity, "") if part.unit == "each" else both(part.quantity, part.unit)) for part in found)
    return Grid(caption, ("Part", "Quantity"), rows)


def label_grid(labels: tuple[Label, ...]) -> Grid:
    """The label schedule: where each hangs, its header, its words, what it is made of, and who asks for it."""
    rows = tuple(
        (
            str(number),
            label.where,
            label.color if label.signal.value == "none" else f"{label.signal.value}, {label.color}",
            label.wording,
            label.stock.value + ("; the section has words of its own" if label.prescribed else ""),
            label.citation + (f" (changed: {label.changed_by})" if label.changed_by and label.rule else ""),
        )
        for number, label in enumerate(labels, 1)
    )
    return Grid("Label schedule", ("No.", "Where", "Header", "Words", "Made of", "Section"), rows)
