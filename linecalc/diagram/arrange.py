"""Find the roomiest setting of a tree on an area: on one line, on two, or with its sources apart."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from linecalc.diagram.blocks import Block, measure
from linecalc.diagram.columns import Columns, Cutting, Density, UnitText
from linecalc.diagram.cut import Cut, Piece, cut_sources
from linecalc.diagram.fold import Folding, foldings
from linecalc.diagram.fonts import LINE_PITCH, ascent_in, wrap_to
from linecalc.diagram.place import place_block
from linecalc.diagram.plan import PlanNode
from linecalc.diagram.scene import Box, Item, Outline, Text, Wire, snap_up
from linecalc.diagram.widths import needs_of, set_columns

_INSIDE, _ABOVE = UnitText.INSIDE, UnitText.ABOVE
#: For sheets with little on them, the roomiest first.
ROOMY = (
    Density(0.125, 0.125, 3, 9, 1.0, _INSIDE),
    Density(0.125, 0.125, 3, 9, 0.75, _INSIDE),
)
#: From the roomiest usual setting to the tightest that says everything.
CLEAR = (
    Density(0.125, 0.125, 3, 9, 0.5, _INSIDE),
    Density(0.125, 0.125, 3, 9, 0.25, _INSIDE),
    Density(0.125, 0.125, 3, 9, 0.125, _ABOVE, 3),
    Density(0.125, 0.11, 3, 9, 0.125, _INSIDE, 3),
    Density(0.125, 0.11, 3, 9, 0.125, _ABOVE, 3),
    Density(0.125, 0.1, 3, 9, 0.1, _INSIDE, 2),
    Density(0.125, 0.1, 3, 9, 0.1, _ABOVE, 2),
    Density(0.125, 0.1, 3, 9, 0.0625, _INSIDE, 1),
    Density(0.125, 0.1, 3, 9, 0.0625, _ABOVE, 1),
    Density(0.125, 0.1, 3, 9, 0.03, _INSIDE, 1),
    Density(0.125, 0.1, 3, 9, 0.03, _ABOVE, 1),
)
#: Settings with all text at the smallest size and the least gaps.
SMALL = (
    Density(0.1, 0.1, 3, 9, 0.03, _INSIDE, 1),
    Density(0.1, 0.1, 3, 9, 0.03, _ABOVE, 1),
)
#: Settings for a sheet full of short rows.
PACKED = (
    Density(0.1, 0.1, 3, 9, 0.015, _INSIDE, 1),
    Density(0.1, 0.1, 3, 9, 0.015, _ABOVE, 1),
)
#: Settings that cut texts.
TIGHT = (
    Density(0.125, 0.1, 2, 7, 0.03, _ABOVE, 1, Cutting.ALLOWED),
    Density(0.1, 0.1, 2, 5, 0.03, _INSIDE, 0, Cutting.ALLOWED),
    Density(0.1, 0.1, 1, 5, 0.03, _ABOVE, 0, Cutting.ALLOWED),
    Density(0.1, 0.1, 1, 3, 0.03, _INSIDE, 0, Cutting.ALLOWED),
)
_ROW_GAP_IN = 0.2
_SLOT_GAP_IN = 0.25
_INSET_IN = 0.1
_TURN_IN = 0.0625
_SPARE_IN = 0.0625
#: Pieces beside each other at most.
_ROW_MAX = 3


@dataclass(frozen=True, slots=True)
class Line:
    """A measured tree with its columns."""

    block: Block
    columns: Columns


@dataclass(frozen=True, slots=True)
class Row:
    """Lines beside each other; ``boundary`` labels the border that it shares with its neighbours."""

    lines: tuple[Line, ...]
    boundary: str = ""

    def height(self) -> float:
        """Height of the highest line."""
        return max(line.block.up + line.block.down for line in self.lines)


class Spread(Enum):
    """Where the spare height of the area goes: between the rows, or all of it below them."""

    EVEN = "even"
    TOP = "top"


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Rows below each other in one setting; ``folding`` where the second row continues the first.

    ``right`` are rows beside them, in ``right_area``.
    """

    rows: tuple[Row, ...]
    density: Density
    folding: Folding | None = None
    right: tuple[Row, ...] = ()
    right_area: Box | None = None

    def height(self) -> float:
        """Height of all rows with their gaps and the labels of boundaries."""
        return max(rows_height(self.rows, self.density), rows_height(self.right, self.density))


def rows_height(rows: tuple[Row, ...], density: Density) -> float:
    """Height of rows below each other, with gaps and the labels of boundaries."""
    labels = [row.boundary for row in rows]
    strips = sum(1 for before, label in zip(["", *labels], labels) if label and label != before)
    heights = sum(row.height() for row in rows)
    return heights + _ROW_GAP_IN * max(0, len(rows) - 1) + strips * label_strip(density)


def label_strip(density: Density) -> float:
    """Height that the label of a boundary around pieces takes."""
    return density.head_in * LINE_PITCH + _INSET_IN


def arrange_whole(root: PlanNode, area: Box, densities: tuple[Density, ...]) -> Arrangement | None:
    """The tree on one line or two, in the first setting that fits."""
    for density in densities:
        for folding in foldings(root):
            found = _whole(folding, density, area)
            if found is not None:
                return found
    return None


def arrange_cut(root: PlanNode, area: Box, densities: tuple[Density, ...]) -> Arrangement | None:
    """The tree with its sources apart, at its right or below it, in the first setting that fits."""
    cut = cut_sources(root)
    if not cut.pieces:
        return None
    for density in densities:
        found = _beside(cut, density, area, 1) or _beside(cut, density, area, 2) or _below(cut, density, area)
        if found is not None:
            return found
    return None


def arrange_pieces(pieces: tuple[Piece, ...], area: Box, densities: tuple[Density, ...]) -> Arrangement | None:
    """Pieces only, in the first setting that fits."""
    for density in densities:
        for count in range(1, min(_ROW_MAX, len(pieces)) + 1):
            rows = _piece_rows(pieces, density, area, count)
            if rows is None or max(len(row.lines) for row in rows) < count:
                break
            found = Arrangement(rows, density)
            if found.height() <= area.height() - _SPARE_IN:
                return found
    return None


def _below(cut: Cut, density: Density, area: Box) -> Arrangement | None:
    """What stayed together, then the pieces below it."""
    rows = _piece_rows(cut.pieces, density, area, _ROW_MAX)
    if rows is None:
        return None
    for folding in foldings(cut.main):
        main = _whole(folding, density, area)
        if main is not None:
            found = Arrangement((*main.rows, *rows), density, main.folding)
            if found.height() <= area.height() - _SPARE_IN:
                return found
    return None


def _beside(cut: Cut, density: Density, area: Box, count: int) -> Arrangement | None:
    """What stayed together on the left, the pieces on the right, *count* beside each other."""
    insets = 2 * _INSET_IN if any(piece.boundary for piece in cut.pieces) else 0.0
    left = needs_of(cut.main, density).total()
    piece_width = max(needs_of(piece.root, density).total() for piece in cut.pieces)
    right = count * piece_width + (count - 1) * _SLOT_GAP_IN + insets
    spare = area.width() - left - right - _SLOT_GAP_IN - 0.01
    if spare < 0:
        return None
    middle = area.x0 + left + spare / 2
    main = _whole(Folding(cut.main), density, Box(area.x0, area.y0, middle, area.y1))
    beside = Box(middle + _SLOT_GAP_IN, area.y0, area.x1, area.y1)
    rows = _piece_rows(cut.pieces, density, beside, count)
    if main is None or rows is None:
        return None
    found = replace(main, right=rows, right_area=beside)
    return found if found.height() <= area.height() - _SPARE_IN else None


def _whole(folding: Folding, density: Density, area: Box) -> Arrangement | None:
    roots = (folding.first,) if folding.second is None else (folding.first, folding.second)
    rows = []
    for number, root in enumerate(roots):
        line = _line(root, density, area.x0 + number * _TURN_IN, area.x1)
        if line is None:
            return None
        rows.append(Row((line,)))
    found = Arrangement(tuple(rows), density, folding if folding.second is not None else None)
    return found if found.height() <= area.height() - _SPARE_IN else None


def _line(root: PlanNode, density: Density, left: float, right: float) -> Line | None:
    columns = set_columns(root, density, left, right)
    if columns is None:
        return None
    block = measure(root, 0, columns, density)
    if density.cutting is Cutting.NEVER and not block.complete():
        return None
    return Line(block, columns)


def _piece_rows(pieces: tuple[Piece, ...], density: Density, area: Box, most: int) -> tuple[Row, ...] | None:
    """Pieces in rows, grouped by their boundary, at most so many beside each other; None if one is too wide."""
    rows: list[Row] = []
    for label in dict.fromkeys(piece.boundary for piece in pieces):
        waiting = [piece for piece in pieces if piece.boundary == label]
        while waiting:
            row = _widest_row(waiting, label, most, density, area)
            if row is None:
                return None
            rows.append(row)
            waiting = waiting[len(row.lines) :]
    return tuple(rows)


def _widest_row(waiting: list[Piece], label: str, most: int, density: Density, area: Box) -> Row | None:
    """A row of as many of the first pieces as are narrow enough for equal shares of the width."""
    for count in range(most, 0, -1):
        row = _row_of(waiting[:count], label, count, density, area)
        if row is not None:
            return row
    return None


def _row_of(pieces: list[Piece], label: str, count: int, density: Density, area: Box) -> Row | None:
    inset = _INSET_IN if label else 0.0
    width = (area.width() - 2 * inset - _SLOT_GAP_IN * (count - 1)) / count
    lines = []
    for number, piece in enumerate(pieces):
        left = area.x0 + inset + number * (width + _SLOT_GAP_IN)
        line = _line(piece.root, density, left, left + width)
        if line is None:
            return None
        lines.append(line)
    return Row(tuple(lines), label)


def place_arrangement(found: Arrangement, area: Box, spread: Spread = Spread.EVEN) -> list[Item]:
    """All items of an arrangement, spread over the height of the area."""
    items, anchors = _place_rows(found.rows, found.density, area, spread)
    if found.right and found.right_area is not None:
        items += _place_rows(found.right, found.density, found.right_area, spread)[0]
    if found.folding is not None:
        items.append(_return_wire(found, anchors))
    return items


def _place_rows(
    rows: tuple[Row, ...], density: Density, area: Box, spread: Spread
) -> tuple[list[Item], list[float]]:
    """The items of rows below each other, and the anchors of their lines."""
    gap = 0.0 if spread is Spread.TOP else max(0.0, area.height() - rows_height(rows, density)) / (len(rows) + 1)
    items: list[Item] = []
    anchors: list[float] = []
    y = area.y0 + gap
    for number, row in enumerate(rows):
        if row.boundary and (number == 0 or rows[number - 1].boundary != row.boundary):
            y += label_strip(density)
        for line in row.lines:
            anchor = snap_up(y + line.block.up)
            items.extend(place_block(line.block, anchor, line.columns, density))
            anchors.append(anchor)
        if row.boundary and _last_of_boundary(rows, number):
            top = _boundary_top(rows, number, y, gap, density)
            items.extend(_border(row.boundary, Box(area.x0, top, area.x1, y + row.height() + 0.08), density))
        y += row.height() + _ROW_GAP_IN + gap
    return items, anchors


def _last_of_boundary(rows: tuple[Row, ...], number: int) -> bool:
    return number + 1 == len(rows) or rows[number + 1].boundary != rows[number].boundary


def _boundary_top(rows: tuple[Row, ...], last: int, y: float, gap: float, density: Density) -> float:
    """Top of the border whose last row starts at *y*."""
    first = last
    while first > 0 and rows[first - 1].boundary == rows[last].boundary:
        first -= 1
        y -= rows[first].height() + _ROW_GAP_IN + gap
    return y - label_strip(density)


def _border(label: str, box: Box, density: Density) -> list[Item]:
    lines = wrap_to(f"{label}, continued", box.width() - 0.2, density.head_in, 1)
    text = Text(box.x0 + 0.1, box.y0 + 0.04 + ascent_in(density.head_in), lines, density.head_in, role="boundary label")
    return [Outline("boundary", box), text]


def _return_wire(found: Arrangement, anchors: list[float]) -> Wire:
    """From the end of the first line back to the start of the second."""
    first, second = found.rows[0].lines[0], found.rows[1].lines[0]
    x, y = _turn_point(first, anchors[0])
    middle = (anchors[0] + first.block.down + anchors[1] - second.block.up) / 2
    left = second.columns.x[0]
    assert found.folding is not None
    points = ((x, y), (x, middle), (left, middle), (left, anchors[1]))
    return Wire(points, found.folding.run_tag, found.folding.existing)


def _turn_point(line: Line, anchor: float) -> tuple[float, float]:
    """Where the cut run leaves the first line: at its last branch."""
    block, y = line.block, anchor
    while block.children:
        y += block.rows[-1]
        block = block.children[-1]
    return line.columns.x[block.column], y
