"""What the layout says of each unit and storage module, written into its project: mounting, wall, distance to doors."""

from __future__ import annotations

import math

from linecalc.network.build import natural
from linecalc.options.chains import House, Table
from linecalc.options.records import Box, Layout
from linecalc.project.options_model import Obstacle, Options, Place


def stand(house: House, options: Options, layout: Layout, units: list[str]) -> None:
    """State how and where every box of the layout stands; what the project already says of the wall and of doors is kept."""
    for box in layout.boxes:
        keys = _keys(house, box, units)
        if keys is None:
            continue
        place = options.place[box.place]
        keys["mounting"] = box.mounting
        if box.mounting == "wall" and place.mass_max is not None and "wall_capacity" not in keys:
            keys["wall_capacity"] = place.mass_max
        away = door_distance_in(box, place)
        if away is not None and "door_distance" not in keys:
            keys["door_distance"] = {"value": f"{away:.1f} in", "basis": "computed", "source": "from the layout of the study"}


def door_distance_in(box: Box, place: Place) -> float | None:
    """Straight distance from a box to the nearest door or window of its place in inches; None where it has none."""
    return min((_between(box, found) for found in place.obstacle.values() if found.kind in ("door", "window")), default=None)


def _between(box: Box, found: Obstacle) -> float:
    left, right = found.left.value, found.left.value + found.width.value
    low = found.bottom.value if found.bottom is not None else 0.0
    high = low + found.height.value if found.height is not None else math.inf
    aside = max(left - box.left_in - box.width_in, box.left_in - right, 0.0)
    above = max(low - box.bottom_in - box.height_in, box.bottom_in - high, 0.0)
    return math.hypot(aside, above)


def _keys(house: House, box: Box, units: list[str]) -> Table | None:
    """The table of the project that a box stands for."""
    if box.tag in units:
        found: Table = house["unit"][box.tag]
        return found
    unit, _, number = box.tag.rpartition("-B")
    own = sorted((tag for tag, keys in house["storage"].items() if keys["unit"] == unit), key=natural)
    if int(number) > len(own):
        return None
    stored: Table = house["storage"][own[int(number) - 1]]
    return stored
