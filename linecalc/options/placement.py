"""Where units and storage modules stand: a small packing of groups on the given walls and strips of floor.

A group is a unit with its storage modules beside it, in turn on its right and
left. Groups stand side by side with their clearances, 3 ft from doors and
windows, with the working space in front. The way of a harness is taken from
the middle of the unit to the middle of the module.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.calc.compare import at_most
from linecalc.options.records import Box, Candidate, Layout, Reason
from linecalc.project.equipment import StorageData, UnitData
from linecalc.project.options_model import Obstacle, Place

DOOR_IN = 36.0
WORKING_DEPTH_IN, WORKING_WIDTH_IN, WORKING_HEIGHT_IN = 36.0, 30.0, 78.0
WALL_BOTTOM_IN = 18.0
RULE = "placement"
_MOST_TRIES = 20_000


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
class Group:
    """A unit with its storage modules, from left to right."""

    unit: str
    items: tuple[Item, ...]

    @property
    def width_in(self) -> float:
        """Width of the row with the clearances inside it, and at least the working width."""
        gaps = sum(max(left.clearance_in, right.clearance_in) for left, right in zip(self.items, self.items[1:], strict=False))
        return max(sum(item.width_in for item in self.items) + gaps, WORKING_WIDTH_IN)

    @property
    def clearance_in(self) -> float:
        """Clearance to whatever stands beside the group."""
        return max(item.clearance_in for item in self.items)

    @property
    def energy_kwh(self) -> float:
        """Nominal energy of the group."""
        return sum(item.energy_kwh for item in self.items)


@dataclass(frozen=True, slots=True)
class _Gap:
    """A free stretch of a place, in inches from its left end."""

    place: str
    left_in: float
    right_in: float


@dataclass(frozen=True, slots=True)
class _Put:
    """A group at the left edge of its box."""

    group: Group
    place: str
    left_in: float


def item_of(tag: str, data: UnitData | StorageData, needs: list[str], path: str) -> Item | None:
    """The box of a piece of equipment; None, with ``needs`` filled, where its size is not given."""
    keys = ("width", "height", "depth", "clearance")
    missing = [f"{path}.{key}" for key in keys if getattr(data, key) is None]
    if missing:
        needs.extend(found for found in missing if found not in needs)
        return None
    kind = "unit" if isinstance(data, UnitData) else "storage module"
    assert data.width and data.height and data.depth and data.clearance is not None
    mass = data.mass.value if data.mass is not None else None
    return Item(tag, kind, data.width.value, data.height.value, data.depth.value, data.clearance.value, mass, data.energy.value)


def groups_of(candidate: Candidate, units: list[str], unit: Item, module: Item | None) -> tuple[Group, ...]:
    """The groups of a candidate; modules stand in turn right and left of their unit."""
    found = []
    for tag, count in zip(units, candidate.modules, strict=True):
        row = [_named(unit, tag)]
        for place in range(1, count + 1):
            if module is not None:
                row.insert(len(row) if place % 2 else 0, _named(module, f"{tag}-B{place}"))
        found.append(Group(tag, tuple(row)))
    return tuple(found)


def layout_of(groups: tuple[Group, ...], places: dict[str, Place], wanted: str | None) -> Layout:
    """Place every group, or say why it does not fit.

    Parameters
    ----------
    wanted : mounting of the project's units; where no place allows it, another that the place allows is taken.
    """
    reasons = [reason for group in groups for reason in _never_fits(group, places)]
    needs = [f"options.place.{name}.{key}" for name, place in places.items() for key in ("height", "depth_in_front") if getattr(place, key) is None]
    put = None if reasons else _pack(groups, places)
    if not reasons and put is None:
        widest = sum(group.width_in for group in groups)
        free = sum(gap.right_in - gap.left_in for name, place in places.items() for gap in _gaps(name, place, groups[0]))
        reasons.append(Reason(RULE, "", f"does not fit: {widest:.0f} in of units and storage modules with clearances on {free:.0f} in of free wall or floor"))
    boxes: list[Box] = []
    mounting = wanted or "floor"
    for found in put or ():
        place = places[found.place]
        mounting = wanted if wanted in place.mounting else place.mounting[0]
        reasons += _mass(found.group, place, mounting, needs)
        boxes += _boxes(found, mounting)
    taken = sum(group.width_in for group in groups)
    return Layout(tuple(boxes), _ways(groups), taken, mounting, tuple(reasons), tuple(dict.fromkeys(needs)))


def _named(item: Item, tag: str) -> Item:
    return Item(tag, item.kind, item.width_in, item.height_in, item.depth_in, item.clearance_in, item.mass_kg, item.energy_kwh)


def _never_fits(group: Group, places: dict[str, Place]) -> Iterator[Reason]:
    """Why a group fits on no place at all, for its height or depth."""
    why = []
    for name, place in places.items():
        tallest = max(item.height_in for item in group.items)
        deepest = max(item.depth_in for item in group.items)
        if place.height is not None and not at_most(max(tallest, WORKING_HEIGHT_IN), place.height.value):
            why.append(f"{name} is {place.height.value:.0f} in high, {max(tallest, WORKING_HEIGHT_IN):.0f} in are needed")
        elif place.depth_in_front is not None and not at_most(deepest + WORKING_DEPTH_IN, place.depth_in_front.value):
            why.append(f"{name} is {place.depth_in_front.value:.0f} in deep, {deepest:.0f} in and {WORKING_DEPTH_IN:.0f} in of working space are needed")
        else:
            return
    yield Reason(RULE, group.unit, "; ".join(why))


def _pack(groups: tuple[Group, ...], places: dict[str, Place]) -> tuple[_Put, ...] | None:
    """The first arrangement in which all groups fit, the widest groups first."""
    order = sorted(groups, key=lambda group: (-group.width_in, group.unit))
    gaps = [gap for name, place in places.items() for gap in _gaps(name, place, groups[0])]
    limits = {name: place.energy_max.value if place.energy_max is not None else float("inf") for name, place in places.items()}
    tries = [0]
    found = _place_next(order, tuple(gaps), limits, tries)
    return None if found is None else tuple(sorted(found, key=lambda put: (put.place, put.left_in)))


def _place_next(order: list[Group], gaps: tuple[_Gap, ...], left_kwh: dict[str, float], tries: list[int]) -> tuple[_Put, ...] | None:
    if not order:
        return ()
    group, tried = order[0], set()
    for index, gap in enumerate(gaps):
        tries[0] += 1
        if tries[0] > _MOST_TRIES:
            return None
        room = gap.right_in - gap.left_in
        key = (gap.place, round(room, 3))
        if key in tried or not at_most(group.width_in, room) or not at_most(group.energy_kwh, left_kwh[gap.place]):
            continue
        tried.add(key)
        after = _Gap(gap.place, gap.left_in + group.width_in + group.clearance_in, gap.right_in)
        rest = _place_next(order[1:], (*gaps[:index], after, *gaps[index + 1 :]), left_kwh | {gap.place: left_kwh[gap.place] - group.energy_kwh}, tries)
        if rest is not None:
            return (_Put(group, gap.place, gap.left_in), *rest)
    return None


def _gaps(name: str, place: Place, group: Group) -> list[_Gap]:
    """The free stretches between obstacles, ends of the place kept clear."""
    clear = group.clearance_in
    blocked = sorted(_blocked(found, group) for found in place.obstacle.values() if _in_the_way(found, group))
    edge, end, gaps = clear, place.width.value - clear, []
    for left, right in (*blocked, (end, end)):
        if min(left, end) > edge:
            gaps.append(_Gap(name, edge, min(left, end)))
        edge = max(edge, right)
    return gaps


def _in_the_way(found: Obstacle, group: Group) -> bool:
    if found.kind != "other" or found.bottom is None:
        return True
    return found.bottom.value < max(item.height_in for item in group.items) + group.clearance_in


def _blocked(found: Obstacle, group: Group) -> tuple[float, float]:
    beside = group.clearance_in
    if found.kind in ("door", "window"):
        beside = max(beside, DOOR_IN)
    elif found.kind == "panel":
        beside = max(beside, (WORKING_WIDTH_IN - found.width.value) / 2.0)
    return found.left.value - beside, found.left.value + found.width.value + beside


def _mass(group: Group, place: Place, mounting: str, needs: list[str]) -> list[Reason]:
    if mounting != "wall":
        return []
    if place.mass_max is None:
        needs.append("options.place mass_max (what the wall carries)")
        return []
    heavy = [item for item in group.items if item.mass_kg is not None and not at_most(item.mass_kg, place.mass_max.value)]
    needs += [f"mass of {item.tag}" for item in group.items if item.mass_kg is None]
    return [Reason(RULE, item.tag, f"{item.mass_kg:.0f} kg on a wall that carries {place.mass_max.value:.0f} kg") for item in heavy]


def _boxes(put: _Put, mounting: str) -> Iterator[Box]:
    left = put.left_in
    for index, item in enumerate(put.group.items):
        bottom = WALL_BOTTOM_IN if mounting == "wall" else 0.0
        yield Box(item.tag, put.place, left, bottom, item.width_in, item.height_in, item.kind)
        if index + 1 < len(put.group.items):
            left += item.width_in + max(item.clearance_in, put.group.items[index + 1].clearance_in)


def _ways(groups: tuple[Group, ...]) -> tuple[tuple[str, float], ...]:
    found = []
    for group in groups:
        centres, left = {}, 0.0
        for index, item in enumerate(group.items):
            centres[item.tag] = left + item.width_in / 2.0
            after = group.items[index + 1] if index + 1 < len(group.items) else item
            left += item.width_in + max(item.clearance_in, after.clearance_in)
        found += [(tag, abs(centre - centres[group.unit]) / 12.0) for tag, centre in centres.items() if tag != group.unit]
    return tuple(sorted(found))
