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
from linecalc.diagram.plan import Plan, Table
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
    every = _makers(plan, kinds)
    makers, left = every[: len(every) - inside], tuple(every[len(every) - inside :])
    ways = []
    for chosen in product((True, False), repeat=len(makers)):
        side = tuple(make(SIDE_INNER_IN) for make, beside in zip(makers, chosen) if beside)
        rest = [make for make, beside in zip(makers, chosen) if not beside]
        for shelves in _feet(plan.schedule, rest):
            way = Surround(style, title, side, shelves, left)
            if way.side_height() <= FRAME.height() and way.foot_height() <= FRAME.height() * _FOOT_SHARE:
                ways.append(way)
    return min(ways, key=lambda way: (round(way.foot_height(), 2), -len(way.side)), default=None)


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


def _makers(plan: Plan, kinds: tuple[str, ...]) -> list[Maker]:
    """One function a group that sets it to a width."""
    makers: list[Maker] = [
        partial(text_group, block, heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN) for block in plan.blocks
    ]
    if plan.abbreviations:
        makers.append(
            partial(run_in_group, "ABBREVIATIONS", plan.abbreviations, heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN)
        )
    makers.append(partial(legend_group, tuple(dict.fromkeys(kinds)), heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN))
    return [lru_cache(maxsize=None)(make) for make in makers]


def _feet(schedule: Table, makers: list[Maker]) -> Iterator[tuple[tuple[Group, ...], ...]]:
    """Ways to set the foot of the sheet, as shelves from the bottom up."""
    for tables in (_single(schedule), _double(schedule)):
        if tables is None:
            continue
        if not makers:
            yield _shelves(tables)
            continue
        for beside in range(len(makers) + 1):
            yield from _beside(tables, makers[:beside], makers[beside:])


def _beside(tables: list[Group], first: list[Maker], rest: list[Maker]) -> Iterator[tuple[tuple[Group, ...], ...]]:
    """Some groups beside the schedule, if there is room, the others on a shelf above."""
    left = FOOT_WIDTH_IN - sum(group.width + _GROUP_GAP_IN for group in tables)
    for near in _widths(len(first), left):
        for far in _widths(len(rest), FOOT_WIDTH_IN):
            groups = [make(width) for make, width in zip((*first, *rest), (*near, *far))]
            yield _shelves([*tables, *groups])


def _widths(count: int, width: float) -> Iterator[tuple[float, ...]]:
    """Ways to share a width: evenly, or the last group (the legend) taking what the others leave."""
    if count == 0:
        yield ()
        return
    even = (width - _GROUP_GAP_IN * (count - 1)) / count
    if even >= _LEAST_GROUP_IN:
        yield (even,) * count
    last = width - (SIDE_INNER_IN + _GROUP_GAP_IN) * (count - 1)
    if count > 1 and last >= _LEAST_GROUP_IN:
        yield (*(SIDE_INNER_IN,) * (count - 1), last)


def _shelves(groups: list[Group]) -> tuple[tuple[Group, ...], ...]:
    """Groups beside each other as far as the width of the foot reaches, then on a further shelf."""
    shelves: list[list[Group]] = []
    for group in groups:
        used = sum(found.width + _GROUP_GAP_IN for found in shelves[-1]) if shelves else FOOT_WIDTH_IN
        if used + group.width > FOOT_WIDTH_IN + 0.001:
            shelves.append([group])
        else:
            shelves[-1].append(group)
    return tuple(tuple(shelf) for shelf in shelves)


def _single(schedule: Table) -> list[Group] | None:
    """The schedule as one table, None if it is too wide."""
    if not schedule.rows:
        return []
    group = table_group(schedule, CAP_MIN_IN, FOOT_WIDTH_IN, CAP_REVIEW_IN)
    return None if group is None else [group]


def _double(schedule: Table) -> list[Group] | None:
    """The schedule as two tables beside each other, None if it is short or too wide for that."""
    rows = schedule.rows
    if len(rows) < 4:
        return None
    half = -(-len(rows) // 2)
    first = Table(schedule.title, schedule.columns, rows[:half])
    second = Table(f"{schedule.title}, continued", schedule.columns, rows[half:])
    width = (FOOT_WIDTH_IN - _GROUP_GAP_IN) / 2
    groups = [table_group(part, CAP_MIN_IN, width, CAP_REVIEW_IN) for part in (first, second)]
    found = [group for group in groups if group is not None]
    return found if len(found) == 2 else None
