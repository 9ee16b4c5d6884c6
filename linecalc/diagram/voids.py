"""Use the empty corners of a diagram: set groups of text into the largest free rectangles."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from linecalc.diagram.scene import Box, Group, Item, Outline, Wire, item_box

_CELL_IN = 0.125
_CLEAR_IN = 0.15
#: A group is not set narrower than this.
LEAST_WIDTH_IN = 2.75


def fill_voids(items: list[Item], area: Box, makers: Iterable[Callable[[float], Group]]) -> list[Item] | None:
    """The items of all groups, each in a free rectangle of the area; None if one finds no room."""
    taken = [box.grown(_CLEAR_IN) for item in items for box in _solid(item)]
    placed: list[Item] = []
    for make in makers:
        spot = _spot(taken, area, make)
        if spot is None:
            return None
        group, free = spot
        placed.extend(group.at(free.x0, free.y1 - group.height))
        taken.append(Box(free.x0, free.y1 - group.height, free.x0 + group.width, free.y1).grown(_CLEAR_IN))
    return placed


def _solid(item: Item) -> tuple[Box, ...]:
    """What a group must not touch: a wire piece by piece, a boundary with all it encloses."""
    if isinstance(item, Wire):
        return item.segments()
    if isinstance(item, Outline):
        return (item.box,)
    return (item_box(item),)


def _spot(taken: list[Box], area: Box, make: Callable[[float], Group]) -> tuple[Group, Box] | None:
    """The group set to the width of a free rectangle that is high enough for it: the largest such."""
    for free in free_rectangles(taken, area):
        if free.width() >= LEAST_WIDTH_IN:
            group = make(free.width())
            if group.height <= free.height():
                return group, free
    return None


def free_rectangles(taken: list[Box], area: Box) -> list[Box]:
    """Free rectangles of the area that cannot grow downwards, largest first, on a raster of 1/8 in."""
    columns, rows = int(area.width() / _CELL_IN), int(area.height() / _CELL_IN)
    blocked = _raster(taken, area, columns, rows)
    found: list[Box] = []
    heights = [0] * columns
    for row in range(rows):
        heights = [0 if blocked[row][column] else heights[column] + 1 for column in range(columns)]
        found.extend(
            Box(
                area.x0 + first * _CELL_IN, area.y0 + (row + 1 - height) * _CELL_IN,
                area.x0 + last * _CELL_IN, area.y0 + (row + 1) * _CELL_IN,
            )
            for first, last, height in _under_histogram(heights)
            if (last - first) * _CELL_IN >= LEAST_WIDTH_IN and height * _CELL_IN >= 0.5
        )
    found.sort(key=lambda box: (-round(box.width() * box.height(), 3), box.x0, box.y0))
    return found[:40]


def _raster(taken: list[Box], area: Box, columns: int, rows: int) -> list[list[bool]]:
    """For each row and column of cells whether something is there."""
    blocked = [[False] * columns for _ in range(rows)]
    for box in taken:
        first_column = max(0, int((box.x0 - area.x0) / _CELL_IN))
        last_column = min(columns - 1, int((box.x1 - area.x0) / _CELL_IN))
        first_row = max(0, int((box.y0 - area.y0) / _CELL_IN))
        last_row = min(rows - 1, int((box.y1 - area.y0) / _CELL_IN))
        for row in range(first_row, last_row + 1):
            for column in range(first_column, last_column + 1):
                blocked[row][column] = True
    return blocked


def _under_histogram(heights: list[int]) -> list[tuple[int, int, int]]:
    """Maximal rectangles under a histogram: first column, column after the last, height."""
    found: list[tuple[int, int, int]] = []
    stack: list[tuple[int, int]] = []
    for column, height in enumerate([*heights, 0]):
        start = column
        while stack and stack[-1][1] >= height:
            start, before = stack.pop()
            if before > height:
                found.append((start, column, before))
        if height:
            stack.append((start, height))
    return found
