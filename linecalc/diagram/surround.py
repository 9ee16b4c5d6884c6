"""What stands around the diagram: title block, notes, abbreviations, legend and conductor schedule.

Two styles: a column at the right over the whole height with the schedule at the foot, or all of it
at the foot with the diagram over the whole width.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache, partial
from itertools import product

from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.legend import legend_group
from linecalc.diagram.plan import Plan, Table, TextBlock
from linecalc.diagram.scene import SHEET_HEIGHT_IN, SHEET_WIDTH_IN, Box, Group, Item, Outline, Rule
from linecalc.diagram.table import run_in_group, table_group, text_group
from linecalc.diagram.title_block import title_group

MARGIN_IN = 0.375
SIDE_WIDTH_IN = 3.25
PAD_IN = 0.125
FRAME = Box(MARGIN_IN, MARGIN_IN, SHEET_WIDTH_IN - MARGIN_IN, SHEET_HEIGHT_IN - MARGIN_IN)
SIDE_X = FRAME.x1 - SIDE_WIDTH_IN
SIDE_INNER_IN = SIDE_WIDTH_IN - 2 * PAD_IN
FOOT_WIDTH_IN = SIDE_X - FRAME.x0 - 2 * PAD_IN
_GROUP_GAP_IN = 0.25
_SHELF_GAP_IN = 0.1
_LEAST_GROUP_IN = 2.0
_FOOT_SHARE = 0.6

Maker = Callable[[float], Group]


class Style(Enum):
    """Whether the right column runs over the whole height or only beside the foot."""

    COLUMN = "column"
    FOOT = "foot"


class Place(Enum):
    """Where a group of text stands: above the title block, beside the schedule, or above it."""

    SIDE = "side"
    BESIDE = "beside"
    ABOVE = "above"


@dataclass(frozen=True, slots=True)
class Surround:
    """A way to set what stands around: groups above the title block, shelves of groups at the foot.

    ``inside`` are groups left for the empty corners of the diagram.
    """

    style: Style
    title: Group
    side: tuple[Group, ...]
    shelves: tuple[tuple[Group, ...], ...]
    inside: tuple[Maker, ...] = ()

    def side_height(self) -> float:
        """Height of the title block and the groups above it."""
        return self.title.height + sum(group.height + PAD_IN for group in self.side) + PAD_IN

    def foot_height(self) -> float:
        """Height of the foot: of its shelves, and of the title block where it stands beside them."""
        shelves = sum(max(group.height for group in shelf) + _SHELF_GAP_IN for shelf in self.shelves) + PAD_IN
        return max(shelves, self.side_height()) if self.style is Style.FOOT else shelves

    def foot_top(self) -> float:
        """Upper edge of the foot."""
        return FRAME.y1 - self.foot_height()

    def area(self) -> Box:
        """The room left for the diagram."""
        right = FRAME.x1 if self.style is Style.FOOT else SIDE_X
        return Box(FRAME.x0 + PAD_IN, FRAME.y0 + PAD_IN, right - PAD_IN, self.foot_top() - 0.06)


def surround(plan: Plan, kinds: tuple[str, ...], style: Style, inside: int = 0) -> Surround | None:
    """Of all ways to place notes, abbreviations, legend and schedule, the one with the lowest foot.

    The last *inside* groups (legend, abbreviations) are left for the empty corners of the diagram.
    None where no way leaves enough of the sheet to the diagram.
    """
    title = title_group(plan.title_block, SIDE_WIDTH_IN, CAP_REVIEW_IN, CAP_MIN_IN)
    every = group_makers(plan.blocks, plan.abbreviations, tuple(dict.fromkeys(kinds)))
    makers, left = every[: len(every) - inside], every[len(every) - inside :]
    best: Surround | None = None
    rank = (FRAME.height() * _FOOT_SHARE, 0)
    for places in product(Place, repeat=len(makers)):
        side = tuple(make(SIDE_INNER_IN) for make, place in zip(makers, places) if place is Place.SIDE)
        least = Surround(style, title, side, (), left)
        if least.side_height() > FRAME.height() or round(least.foot_height(), 2) > rank[0]:
            continue
        beside = [make for make, place in zip(makers, places) if place is Place.BESIDE]
        above = [make for make, place in zip(makers, places) if place is Place.ABOVE]
        for shelves in _feet(plan.schedule, beside, above):
            way = Surround(style, title, side, shelves, left)
            found = (round(way.foot_height(), 2), -len(side))
            if found < rank:
                best, rank = way, found
    return best


def surround_items(around: Surround) -> list[Item]:
    """Frame, lines between the parts, title block, and every group in its place."""
    top = around.foot_top()
    side_top = top if around.style is Style.FOOT else FRAME.y0
    right = FRAME.x1 if around.style is Style.FOOT else SIDE_X
    items: list[Item] = [
        Outline("frame", FRAME),
        Rule(SIDE_X, side_top, SIDE_X, FRAME.y1, heavy=True),
        Rule(FRAME.x0, top, right, top),
        *around.title.at(SIDE_X, FRAME.y1 - around.title.height),
    ]
    spare = FRAME.y1 - around.title.height - side_top - sum(group.height for group in around.side)
    gap = min(0.3, max(PAD_IN, spare / (len(around.side) + 1)))
    y = side_top + min(gap, PAD_IN)
    for group in around.side:
        items.extend(group.at(SIDE_X + PAD_IN, y))
        y += group.height + gap
    return [*items, *_shelf_items(around.shelves)]


def _shelf_items(shelves: tuple[tuple[Group, ...], ...]) -> list[Item]:
    y = FRAME.y1 - PAD_IN
    items: list[Item] = []
    for shelf in shelves:
        y -= max(group.height for group in shelf)
        x = FRAME.x0 + PAD_IN
        for group in shelf:
            items.extend(group.at(x, y))
            x += group.width + _GROUP_GAP_IN
        y -= _SHELF_GAP_IN
    return items


@lru_cache(maxsize=16)
def group_makers(
    blocks: tuple[TextBlock, ...], abbreviations: tuple[tuple[str, str], ...], kinds: tuple[str, ...]
) -> tuple[Maker, ...]:
    """One function a group that sets it to a width."""
    makers: list[Maker] = [
        partial(text_group, block, heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN) for block in blocks
    ]
    if abbreviations:
        makers.append(
            partial(run_in_group, "ABBREVIATIONS", abbreviations, heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN)
        )
    makers.append(partial(legend_group, kinds, heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN))
    return tuple(lru_cache(maxsize=None)(make) for make in makers)


def _feet(schedule: Table, beside: list[Maker], above: list[Maker]) -> Iterator[tuple[tuple[Group, ...], ...]]:
    """Ways to set the foot of the sheet: the schedule with groups beside it, then a shelf above."""
    upper = tuple(_shared_out(above)) if above else ()
    for tables in (_single(schedule), _double(schedule)):
        if tables is None:
            continue
        left = FOOT_WIDTH_IN - sum(group.width + _GROUP_GAP_IN for group in tables)
        if beside and left < _LEAST_GROUP_IN:
            continue
        for near in _near(beside, left):
            lower = (*tables, *near)
            yield tuple(shelf for shelf in (lower, upper) if shelf)


def _near(makers: list[Maker], width: float) -> Iterator[tuple[Group, ...]]:
    """Groups beside the schedule: one below the other, or beside each other."""
    if not makers:
        yield ()
        return
    yield (_stacked(tuple(make(width) for make in makers)),)
    even = (width - _GROUP_GAP_IN * (len(makers) - 1)) / len(makers)
    if len(makers) > 1 and even >= _LEAST_GROUP_IN:
        yield tuple(make(even) for make in makers)


@lru_cache(maxsize=256)
def _stacked(groups: tuple[Group, ...]) -> Group:
    """Groups below each other as one."""
    items: list[Item] = []
    y = 0.0
    for group in groups:
        items.extend(group.at(0.0, y))
        y += group.height + _SHELF_GAP_IN
    return Group(max(group.width for group in groups), y - _SHELF_GAP_IN, tuple(items))


def _shared_out(makers: list[Maker]) -> list[Group]:
    """Groups beside each other over the whole foot, each as wide as its content asks for."""
    room = FOOT_WIDTH_IN - _GROUP_GAP_IN * (len(makers) - 1)
    areas = [make(SIDE_INNER_IN).height for make in makers]
    widths = [max(_LEAST_GROUP_IN, room * area / sum(areas)) for area in areas]
    excess = sum(widths) - room
    widest = widths.index(max(widths))
    widths[widest] -= excess
    return [make(width) for make, width in zip(makers, widths)]


@lru_cache(maxsize=16)
def _single(schedule: Table) -> tuple[Group, ...] | None:
    """The schedule as one table, None if it is too wide."""
    if not schedule.rows:
        return ()
    group = table_group(schedule, CAP_MIN_IN, FOOT_WIDTH_IN, CAP_REVIEW_IN)
    return None if group is None else (group,)


@lru_cache(maxsize=16)
def _double(schedule: Table) -> tuple[Group, ...] | None:
    """The schedule as two tables beside each other, None if it is short or too wide for that."""
    rows = schedule.rows
    if len(rows) < 4:
        return None
    half = -(-len(rows) // 2)
    first = Table(schedule.title, schedule.columns, rows[:half])
    second = Table(f"{schedule.title}, continued", schedule.columns, rows[half:])
    width = (FOOT_WIDTH_IN - _GROUP_GAP_IN) / 2
    groups = [table_group(part, CAP_MIN_IN, width, CAP_REVIEW_IN) for part in (first, second)]
    found = tuple(group for group in groups if group is not None)
    return found if len(found) == 2 else None
