"""Where the left end of a row may not be on a wall or a strip of floor: obstacles, doors and windows, working space.

References
----------
3 ft to doors and windows: the storage articles of the residential and fire codes,
taken as the straight distance between the edges. Working space: 110.26(A).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from linecalc.calc.compare import at_most
from linecalc.options.rows import STANDS_OUT_IN, UNIT, WORKING_WIDTH_IN, Item, Row, Spot, working_width_in
from linecalc.project.options_model import Obstacle, Place

DOOR_IN = 36.0
WORKING_DEPTH_IN, WORKING_HEIGHT_IN = 36.0, 78.0
WALL_BOTTOM_IN = 18.0
_TINY_IN = 1e-9
Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Space:
    """A place with the mounting that is tried on it; inches, kilograms and kilowatt-hours."""

    name: str
    place: Place
    mounting: str

    @property
    def bottom_in(self) -> float:
        """Lower edge of the boxes."""
        if self.mounting == "floor":
            return 0.0
        return self.place.bottom.value if self.place.bottom is not None else WALL_BOTTOM_IN

    @property
    def energy_kwh(self) -> float:
        """Most nominal energy that may stand here."""
        return self.place.energy_max.value if self.place.energy_max is not None else math.inf


def why_never(space: Space, row: Row) -> str:
    """Why a row can stand nowhere on a place, for its height, depth, mass or energy; empty where it may."""
    place = space.place
    top = max(space.bottom_in + spot.up_in + spot.item.height_in + spot.item.clearance_in for spot in row.spots)
    high = max(top, WORKING_HEIGHT_IN)
    deep = max(spot.item.depth_in + (WORKING_DEPTH_IN if spot.item.kind == UNIT else 0.0) for spot in row.spots)
    if place.height is not None and high > place.height.value + _TINY_IN:
        return f"{space.name} is {place.height.value:.0f} in high, {high:.0f} in are needed"
    if place.depth_in_front is not None and deep > place.depth_in_front.value + _TINY_IN:
        return f"{space.name} is {place.depth_in_front.value:.0f} in deep, {deep:.0f} in are needed with {WORKING_DEPTH_IN:.0f} in of working space before the unit"
    if space.mounting == "wall" and place.mass_max is not None:
        heaviest = max((spot.item.mass_kg for spot in row.spots if spot.item.mass_kg is not None), default=0.0)
        if not at_most(heaviest, place.mass_max.value):
            return f"{heaviest:.0f} kg on a wall that carries {place.mass_max.value:.0f} kg ({space.name})"
    if not at_most(row.energy_kwh, space.energy_kwh):
        return f"{row.energy_kwh:.1f} kWh where {space.energy_kwh:.1f} kWh may stand ({space.name})"
    return ""


def forbidden(space: Space, row: Row) -> tuple[Span, ...]:
    """Open stretches in which the left end of the row may not be, merged and in order; the ends of the place are kept clear too."""
    width = space.place.width.value
    left, right = row.ends
    found = [(-math.inf, left.clearance_in), (width - right.clearance_in - row.width_in, math.inf)]
    for spot in row.spots:
        for obstacle in space.place.obstacle.values():
            found += [(low - spot.right_in, high - spot.right_in) for low, high in _beside(space, spot, obstacle)]
        if spot.item.kind == UNIT:
            found += [(low - spot.right_in, high - spot.right_in) for low, high in _narrow(space, spot.item)]
    return _merged([span for span in found if span[1] - span[0] > _TINY_IN])


def keep_in(obstacle: Obstacle, item: Item) -> float:
    """Distance that an item keeps from an obstacle, in inches."""
    if obstacle.clear is not None:
        return max(obstacle.clear.value, item.clearance_in if obstacle.kind in ("panel", "other") else 0.0)
    return max(DOOR_IN, item.clearance_in) if obstacle.kind in ("door", "window") else item.clearance_in


def edges_in(space: Space, obstacle: Obstacle) -> Span:
    """Lower and upper edge of an obstacle; where they are not given it reaches from the floor to the top."""
    bottom = obstacle.bottom.value if obstacle.bottom is not None else 0.0
    return bottom, bottom + obstacle.height.value if obstacle.height is not None else math.inf


def _beside(space: Space, spot: Spot, obstacle: Obstacle) -> list[Span]:
    """Where the left edge of one box may not be because of one obstacle."""
    low, high = edges_in(space, obstacle)
    bottom = space.bottom_in + spot.up_in
    between = max(low - bottom - spot.item.height_in, bottom - high, 0.0)
    keep = keep_in(obstacle, spot.item)
    left, right = obstacle.left.value, obstacle.left.value + obstacle.width.value
    found = []
    if between < keep - _TINY_IN:
        aside = math.sqrt(keep**2 - between**2) if obstacle.kind in ("door", "window") else keep
        found.append((left - aside - spot.item.width_in, right + aside))
    if obstacle.kind == "panel" and bottom < WORKING_HEIGHT_IN:
        beyond = max(WORKING_WIDTH_IN - obstacle.width.value, 0.0) / 2.0
        found.append((left - beyond - spot.item.width_in, right + beyond))
    return found


def _narrow(space: Space, unit: Item) -> list[Span]:
    """Stretches between what stands in the working space that are too narrow for a unit's working width."""
    blocks = sorted((found.left.value, found.left.value + found.width.value) for found in space.place.obstacle.values() if _stands_out(space, found, unit))
    found: list[Span] = []
    edge = 0.0
    for left, right in (*blocks, (space.place.width.value, math.inf)):
        if left - edge < working_width_in(unit) - _TINY_IN:
            found.append((edge - unit.width_in, left))
        if left < space.place.width.value:
            found.append((left - unit.width_in, right))
        edge = max(edge, right)
    return found


def _stands_out(space: Space, obstacle: Obstacle, unit: Item) -> bool:
    """Whether an obstacle stands in the working space: below its height, and more than 6 in beyond the front of the unit."""
    if obstacle.kind != "other" or edges_in(space, obstacle)[0] >= WORKING_HEIGHT_IN:
        return False
    return obstacle.depth is None or obstacle.depth.value > unit.depth_in + STANDS_OUT_IN


def working_span(space: Space, unit: Item, left_in: float) -> Span:
    """The working space of a unit that stands at ``left_in``: in the middle before it, moved aside where something blocks it."""
    wide = working_width_in(unit)
    low, high = 0.0, space.place.width.value
    for found in space.place.obstacle.values():
        if _stands_out(space, found, unit):
            if found.left.value + found.width.value <= left_in + _TINY_IN:
                low = max(low, found.left.value + found.width.value)
            elif found.left.value >= left_in + unit.width_in - _TINY_IN:
                high = min(high, found.left.value)
    start = min(max(left_in + unit.width_in / 2.0 - wide / 2.0, low), high - wide)
    return start, start + wide


def _merged(spans: list[Span]) -> tuple[Span, ...]:
    found: list[Span] = []
    for low, high in sorted(spans):
        if found and low < found[-1][1] - _TINY_IN:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return tuple(found)
