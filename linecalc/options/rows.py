"""A unit with its storage modules beside it as a rigid row, and the ways in which it may be arranged."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.options.records import Candidate
from linecalc.project.equipment import StorageData, UnitData

UNIT, MODULE = "unit", "storage module"
WORKING_WIDTH_IN = 30.0
STANDS_OUT_IN = 6.0


@dataclass(frozen=True, slots=True)
class Item:
    """One box to place; lengths in inches, mass in kilograms, energy in kilowatt-hours."""

    tag: str
    kind: str
    width_in: float
    height_in: float
    depth_in: float
    clearance_in: float
    mass_kg: float | None
    energy_kwh: float


@dataclass(frozen=True, slots=True)
class Spot:
    """An item within its row: from the row's left end, and above the row's lower edge."""

    item: Item
    right_in: float
    up_in: float


@dataclass(frozen=True, slots=True)
class Row:
    """A unit and its storage modules as they stand together. ``ways_in`` is the way of the harness by module."""

    unit: str
    spots: tuple[Spot, ...]
    width_in: float
    ways_in: tuple[tuple[str, float], ...]

    @property
    def energy_kwh(self) -> float:
        """Nominal energy of the row."""
        return sum(spot.item.energy_kwh for spot in self.spots)

    @property
    def ends(self) -> tuple[Item, Item]:
        """What stands at the left and at the right end."""
        return self.spots[0].item, max(self.spots, key=lambda spot: spot.right_in).item

    @property
    def shape(self) -> tuple[tuple[float, ...], ...]:
        """What the packing sees of it: the same for rows that differ in their tags only."""
        return tuple((spot.right_in, spot.up_in, spot.item.width_in, spot.item.height_in, spot.item.depth_in, spot.item.clearance_in) for spot in self.spots)


def item_of(tag: str, data: UnitData | StorageData, needs: list[str], path: str) -> Item | None:
    """The box of a piece of equipment; None, with ``needs`` filled, where its size is not given."""
    keys = ("width", "height", "depth", "clearance")
    missing = [f"{path}.{key}" for key in keys if getattr(data, key) is None]
    if missing:
        needs.extend(found for found in missing if found not in needs)
        return None
    kind = UNIT if isinstance(data, UnitData) else MODULE
    assert data.width and data.height and data.depth and data.clearance is not None
    mass = data.mass.value if data.mass is not None else None
    return Item(tag, kind, data.width.value, data.height.value, data.depth.value, data.clearance.value, mass, data.energy.value)


def working_width_in(item: Item) -> float:
    """Width of the working space in front of a unit: its own width, 30 in at least.

    References
    ----------
    110.26(A)(2). Storage modules hold no parts that are worked on live.
    """
    return max(WORKING_WIDTH_IN, item.width_in) if item.kind == UNIT else item.width_in


def apart_in(left: Item, right: Item) -> float:
    """Distance between neighbours: the larger clearance, and the working width of a unit beside what stands out more than 6 in before it."""
    gap = max(left.clearance_in, right.clearance_in)
    for one, other in ((left, right), (right, left)):
        if other.depth_in > one.depth_in + STANDS_OUT_IN:
            gap = max(gap, working_width_in(one) - one.width_in)
    return gap


def rows_of(candidate: Candidate, units: list[str], unit: Item, module: Item | None, stack: int) -> tuple[tuple[Row, ...], ...]:
    """For every unit of a candidate the rows it may form, the one with the shortest ways first.

    Parameters
    ----------
    stack : how many storage modules may stand one on another.
    """
    return tuple(_arrangements(replace(unit, tag=tag), module, count, stack) for tag, count in zip(units, candidate.modules, strict=True))


def _arrangements(unit: Item, module: Item | None, count: int, stack: int) -> tuple[Row, ...]:
    if module is None or count == 0:
        return (_row(unit, [], 0),)
    heights = [stack] * (count // stack) + ([count % stack] if count % stack else [])
    columns = [[replace(module, tag="") for _ in range(height)] for height in heights]
    balanced = len(columns) // 2
    places = sorted(range(len(columns) + 1), key=lambda left: (abs(left - balanced), left))
    return tuple(_row(unit, _numbered(unit.tag, columns, left), left) for left in places)


def _numbered(unit: str, columns: list[list[Item]], left: int) -> list[list[Item]]:
    """Columns from left to right, their modules numbered from the unit outwards, right and left in turn."""
    sides: dict[str, list[list[Item]]] = {"right": [], "left": []}
    most = {"right": len(columns) - left, "left": left}
    number = 0
    for index, column in enumerate(columns):
        wanted, other = ("right", "left") if index % 2 == 0 else ("left", "right")
        side = wanted if len(sides[wanted]) < most[wanted] else other
        sides[side].append([replace(item, tag=f"{unit}-B{number + place}") for place, item in enumerate(column, start=1)])
        number += len(column)
    return [*reversed(sides["left"]), *sides["right"]]


def _row(unit: Item, columns: list[list[Item]], left: int) -> Row:
    """``left`` columns stand left of the unit."""
    line = [*columns[:left], [unit], *columns[left:]]
    spots: list[Spot] = []
    at, before = 0.0, None
    middle = 0.0
    for column in line:
        if before is not None:
            at += apart_in(before, column[0])
        up = 0.0
        for item in column:
            spots.append(Spot(item, at, up))
            up += item.height_in
        if column[0] is unit:
            middle = at + unit.width_in / 2.0
        at += column[0].width_in
        before = column[0]
    ways = tuple(sorted((spot.item.tag, abs(spot.right_in + spot.item.width_in / 2.0 - middle) + spot.up_in) for spot in spots if spot.item is not unit))
    return Row(unit.tag, tuple(spots), at, ways)
