"""Compose one sheet: frame, title block, notes and legend at the right, diagram, schedule below."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import product

from linecalc.diagram.blocks import Block, Columns, Density, UnitText, measure, set_columns, used_symbols
from linecalc.diagram.fold import Folding, foldings
from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.legend import legend_group
from linecalc.diagram.place import place_block
from linecalc.diagram.plan import Plan, Table, nodes_of
from linecalc.diagram.scene import (
    SHEET_HEIGHT_IN,
    SHEET_WIDTH_IN,
    Box,
    Group,
    Item,
    Outline,
    Rule,
    Scene,
    Wire,
    snap,
)
from linecalc.diagram.table import columns_group, table_group, text_group
from linecalc.diagram.title_block import title_group
from linecalc.diagram.typical import SEPARATOR, grouped
from linecalc.errors import RefusedError

MARGIN_IN = 0.375
SIDE_WIDTH_IN = 3.25
PAD_IN = 0.125
FRAME = Box(MARGIN_IN, MARGIN_IN, SHEET_WIDTH_IN - MARGIN_IN, SHEET_HEIGHT_IN - MARGIN_IN)
SIDE_X = FRAME.x1 - SIDE_WIDTH_IN
SIDE_INNER_IN = SIDE_WIDTH_IN - 2 * PAD_IN
_GROUP_GAP_IN = 0.25
_SHELF_GAP_IN = 0.1
BAND_WIDTH_IN = SIDE_X - FRAME.x0 - 2 * PAD_IN

_INSIDE, _ABOVE = UnitText.INSIDE, UnitText.ABOVE
#: From the roomiest to the tightest setting of the diagram.
DENSITIES = (
    Density(0.125, 0.125, 3, 9, 0.5, _INSIDE),
    Density(0.125, 0.125, 3, 9, 0.25, _INSIDE),
    Density(0.125, 0.125, 3, 9, 0.125, _ABOVE),
    Density(0.125, 0.11, 3, 9, 0.125, _INSIDE),
    Density(0.125, 0.11, 3, 9, 0.125, _ABOVE),
    Density(0.125, 0.1, 3, 9, 0.1, _INSIDE),
    Density(0.125, 0.1, 3, 9, 0.1, _ABOVE),
    Density(0.125, 0.1, 2, 7, 0.0625, _INSIDE),
    Density(0.125, 0.1, 2, 7, 0.0625, _ABOVE),
    Density(0.125, 0.1, 2, 5, 0.03, _INSIDE),
    Density(0.125, 0.1, 1, 5, 0.03, _INSIDE),
    Density(0.125, 0.1, 1, 5, 0.03, _ABOVE),
    Density(0.1, 0.1, 1, 3, 0.03, _INSIDE),
)
_LINE_GAP_IN = 0.25
_TURN_IN = 0.0625


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the diagram: its measured tree and its columns."""

    block: Block
    columns: Columns

    def height(self) -> float:
        """Height of the line."""
        return self.block.up + self.block.down


@dataclass(frozen=True, slots=True)
class Fitted:
    """A diagram that fits: its folding, its one or two lines and its setting."""

    folding: Folding
    lines: tuple[Line, ...]
    density: Density

    def height(self) -> float:
        """Height of all lines with the gap between them."""
        return sum(line.height() for line in self.lines) + _LINE_GAP_IN * (len(self.lines) - 1)


def compose(plan: Plan) -> Scene:
    """Set a plan on one sheet.

    Raises
    ------
    RefusedError
        The content does not fit on one sheet at the smallest text size.
    """
    around = surround(plan)
    foot, foot_top = _foot_items(around.shelves)
    area = Box(FRAME.x0 + PAD_IN, FRAME.y0 + PAD_IN, SIDE_X - PAD_IN, foot_top - 0.1)
    fitted = fit_diagram(plan, area)
    items: list[Item] = [
        Outline("frame", FRAME),
        Rule(SIDE_X, FRAME.y0, SIDE_X, FRAME.y1, heavy=True),
        Rule(FRAME.x0, foot_top, SIDE_X, foot_top),
        *_side_items(plan, around.side),
        *foot,
        *place_lines(fitted, area),
    ]
    return Scene(
        tuple(items), plan.title_block.title + ": " + plan.title_block.sheet_title, plan.description,
        plan.title_block.sheet, notes=plan.notes,
    )


def fit_diagram(plan: Plan, area: Box) -> Fitted:
    """The roomiest setting with which the diagram fits into the area, on one line or two.

    Raises
    ------
    RefusedError
        Not even the tightest one fits.
    """
    apart = foldings(plan.root)
    together = foldings(grouped(plan.root))
    for density in DENSITIES:
        for folding in apart if density.leaf_lines > 1 else (*apart, *together):
            fitted = _fitted(folding, density, area)
            if fitted is not None:
                return fitted
    count = sum(1 for _ in nodes_of(plan.root))
    raise RefusedError(
        f"the single-line diagram has {count} things and does not fit on one 17 x 11 in sheet at 0.1 in text; "
        "drawings of several sheets are not supported yet"
    )


def _fitted(folding: Folding, density: Density, area: Box) -> Fitted | None:
    roots = (folding.first,) if folding.second is None else (folding.first, folding.second)
    lines = []
    for number, root in enumerate(roots):
        columns = set_columns(root, density, area.x0 + number * _TURN_IN, area.x1)
        if columns is None:
            return None
        lines.append(Line(measure(root, 0, columns, density), columns))
    found = Fitted(folding, tuple(lines), density)
    return found if found.height() <= area.height() - 0.0625 else None


def place_lines(fitted: Fitted, area: Box) -> list[Item]:
    """The items of all lines, spread over the height of the area, and the wire between two lines."""
    spare = max(0.0, area.height() - fitted.height())
    gap = spare / (len(fitted.lines) + 1)
    y = area.y0 + gap
    items: list[Item] = []
    anchors = []
    for line in fitted.lines:
        anchor = snap(y + line.block.up)
        anchors.append(anchor)
        items.extend(place_block(line.block, anchor, line.columns, fitted.density))
        y += line.height() + _LINE_GAP_IN + gap
    if len(fitted.lines) == 2:
        items.append(_return_wire(fitted, anchors))
    return items


def _return_wire(fitted: Fitted, anchors: list[float]) -> Wire:
    """From the end of the first line back to the start of the second."""
    first, second = fitted.lines
    x, y = _turn_point(first, anchors[0])
    middle = (anchors[0] + first.block.down + anchors[1] - second.block.up) / 2
    left = second.columns.x[0]
    points = ((x, y), (x, middle), (left, middle), (left, anchors[1]))
    return Wire(points, fitted.folding.run_tag, fitted.folding.existing)


def _turn_point(line: Line, anchor: float) -> tuple[float, float]:
    """Where the cut run leaves the first line: at its last branch."""
    block, y = line.block, anchor
    while block.children:
        y += block.rows[-1]
        block = block.children[-1]
    return line.columns.x[block.column], y


def legend_kinds(plan: Plan) -> tuple[str, ...]:
    """What the legend has to explain."""
    kinds = list(used_symbols(plan.root))
    if plan.schedule.rows:
        kinds.append("run tag")
    existing = {node.existing for node in nodes_of(plan.root)}
    if True in existing:
        kinds.append("existing")
    if False in existing:
        kinds.append("new")
    if any(node.boundary for node in nodes_of(plan.root)):
        kinds.append("boundary")
    return tuple(dict.fromkeys(kinds))


@dataclass(frozen=True, slots=True)
class Surround:
    """What stands around the diagram: groups at the right, shelves of groups at the foot."""

    side: tuple[Group, ...]
    shelves: tuple[tuple[Group, ...], ...]

    def foot_height(self) -> float:
        """Height of the shelves."""
        return sum(max(group.height for group in shelf) + _SHELF_GAP_IN for shelf in self.shelves)


def surround(plan: Plan) -> Surround:
    """Of all ways to place notes, abbreviations, legend and schedule, the one with the lowest foot.

    Raises
    ------
    RefusedError
        No way fits on the sheet.
    """
    title = _title(plan)
    room = FRAME.y1 - title.height - FRAME.y0 - PAD_IN
    makers = _makers(plan)
    ways = []
    for chosen in product((True, False), repeat=len(makers)):
        side = tuple(make(SIDE_INNER_IN) for make, beside in zip(makers, chosen) if beside)
        if sum(group.height + PAD_IN for group in side) > room:
            continue
        rest = [make for make, beside in zip(makers, chosen) if not beside]
        ways.extend(Surround(side, shelves) for shelves in _feet(plan.schedule, rest))
    if not ways:
        raise RefusedError("the notes and the conductor schedule do not fit on one 17 x 11 in sheet")
    return min(ways, key=lambda way: (round(way.foot_height(), 2), -len(way.side)))


def _title(plan: Plan) -> Group:
    return title_group(plan.title_block, SIDE_WIDTH_IN, CAP_REVIEW_IN, CAP_MIN_IN)


def _makers(plan: Plan) -> list[Callable[[float], Group]]:
    """One function a group that sets it to a width."""
    makers: list[Callable[[float], Group]] = [
        partial(text_group, block, heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN) for block in plan.blocks
    ]
    if plan.abbreviations:
        makers.append(
            partial(columns_group, "ABBREVIATIONS", plan.abbreviations, heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN)
        )
    makers.append(partial(legend_group, legend_kinds(plan), heading_in=CAP_REVIEW_IN, cap_in=CAP_MIN_IN))
    return makers


def _feet(schedule: Table, makers: list[Callable[[float], Group]]) -> Iterator[tuple[tuple[Group, ...], ...]]:
    """Ways to set the foot of the sheet, as shelves from the bottom up."""
    for tables in (_single(schedule), _double(schedule)):
        if tables is None:
            continue
        left = BAND_WIDTH_IN - sum(group.width + _GROUP_GAP_IN for group in tables)
        if makers and left >= SIDE_INNER_IN:
            width = (left - _GROUP_GAP_IN * (len(makers) - 1)) / len(makers)
            if width >= 1.5:
                yield _shelves([*tables, *(make(width) for make in makers)])
        above = [make(BAND_WIDTH_IN / len(makers) - _GROUP_GAP_IN) for make in makers]
        yield _shelves([*tables, *above])


def _side_items(plan: Plan, groups: tuple[Group, ...]) -> list[Item]:
    """The right column: groups from the top, the title block at the foot."""
    title = _title(plan)
    items = list(title.at(SIDE_X, FRAME.y1 - title.height))
    room = FRAME.y1 - title.height - FRAME.y0 - PAD_IN
    spare = room - sum(group.height for group in groups)
    gap = min(0.3, max(PAD_IN, spare / (len(groups) + 1)))
    y = FRAME.y0 + PAD_IN
    for group in groups:
        items.extend(group.at(SIDE_X + PAD_IN, y))
        y += group.height + gap
    return items


def _foot_items(shelves: tuple[tuple[Group, ...], ...]) -> tuple[list[Item], float]:
    """The shelves at the foot of the sheet, and their top."""
    y = FRAME.y1 - PAD_IN
    items: list[Item] = []
    for shelf in shelves:
        y -= max(group.height for group in shelf)
        x = FRAME.x0 + PAD_IN
        for group in shelf:
            items.extend(group.at(x, y))
            x += group.width + _GROUP_GAP_IN
        y -= _SHELF_GAP_IN
    return items, y + 0.04


def _shelves(groups: list[Group]) -> tuple[tuple[Group, ...], ...]:
    """Groups beside each other as far as the width of the foot reaches, then on a further shelf."""
    shelves: list[list[Group]] = []
    for group in groups:
        used = sum(found.width + _GROUP_GAP_IN for found in shelves[-1]) if shelves else BAND_WIDTH_IN
        if used + group.width > BAND_WIDTH_IN + 0.001:
            shelves.append([group])
        else:
            shelves[-1].append(group)
    return tuple(tuple(shelf) for shelf in shelves)


def _single(schedule: Table) -> list[Group] | None:
    """The schedule as one table, None if it is too wide."""
    if not schedule.rows:
        return []
    group = table_group(schedule, CAP_MIN_IN, BAND_WIDTH_IN, CAP_REVIEW_IN)
    return None if group is None else [group]


def _double(schedule: Table) -> list[Group] | None:
    """The schedule as two tables beside each other, None if it is short or too wide for that."""
    rows = schedule.rows
    if len(rows) < 4:
        return None
    half = -(-len(rows) // 2)
    first = Table(schedule.title, schedule.columns, rows[:half])
    second = Table(f"{schedule.title}, continued", schedule.columns, rows[half:])
    width = (BAND_WIDTH_IN - _GROUP_GAP_IN) / 2
    groups = [table_group(part, CAP_MIN_IN, width, CAP_REVIEW_IN) for part in (first, second)]
    found = [group for group in groups if group is not None]
    return found if len(found) == 2 else None


def run_tags(scene: Scene) -> tuple[str, ...]:
    """Tags of the conductor runs that the scene shows."""
    shown = [item.subject for item in scene.of(Outline) if item.kind == "run tag" and item.subject != "legend"]
    return tuple(dict.fromkeys(tag for subject in shown for tag in subject.split(SEPARATOR)))
