"""Grids as tables of a sheet: how wide their columns are, how high they become, and which stand side by side.

Lengths are inches.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from linecalc.diagram.fonts import CAP_MIN_IN, font_size_in, text_width_in
from linecalc.report.content import Grid
from linecalc.report.permit.items import Heading, Item, Listing, NewPage, Paragraph, Shelf
from linecalc.report.permit.typeset import LINE_IN, cell_lines, words
from linecalc.report.tabular import NOTHING

#: Beside the text of a cell, with a little for rounding.
_PADDING_IN, _SLACK_IN = 0.17, 0.03
#: Between two tables side by side; the template knows the same number.
GUTTER_IN = 0.3
#: Height of a row of one line, of a caption with the space below it and below the table.
_ROW_IN, _CAPTION_IN = 0.17, CAP_MIN_IN + 1.35 * font_size_in(CAP_MIN_IN)
#: A table or shelf no higher than this is never broken.
_WHOLE_IN = 4.5
#: A longer word in a table cell may be broken.
_WORD_MAX = 18
_HALVINGS = 30
#: A last page filled less than this is little.
_LITTLE = 0.3
#: Rounding of added heights.
_ROUNDING_IN = 1e-6


@dataclass
class _Open:
    """A shelf that is being filled: its stacks with their heights."""

    stacks: list[list[Listing]] = field(default_factory=list)
    heights: list[float] = field(default_factory=list)

    def growth(self, table: Listing, room: float) -> tuple[float, int] | None:
        """By how much the shelf becomes higher with the table, and in which stack, a new one included; None where it has no room."""
        found = [
            (max(0.0, height + height_of(table) - max(self.heights)), at)
            for at, height in enumerate([*self.heights, 0.0])
            if self._width_with(table, at) <= room
        ]
        return min(found, default=None)

    def _width_with(self, table: Listing, at: int) -> float:
        stacks = [[*stack, table] if number == at else stack for number, stack in enumerate([*self.stacks, []])]
        widths = [_stack_width(stack) for stack in stacks if stack]
        return sum(widths) + GUTTER_IN * (len(widths) - 1)

    def put(self, table: Listing, at: int) -> None:
        """The table in a stack, or in a new one."""
        if at == len(self.stacks):
            self.stacks.append([])
            self.heights.append(0.0)
        self.stacks[at].append(table)
        self.heights[at] += height_of(table)


def _stack_width(stack: Iterable[Listing]) -> float:
    return max(max(sum(table.widths), text_width_in(table.caption, CAP_MIN_IN)) for table in stack)


def shelves(grids: Iterable[Grid], room: float) -> tuple[Item, ...]:
    """The grids as tables, each under or beside earlier ones where there is room; row by row where the words need more.

    Of several ways to fill the shelves the one is taken that needs the least height.
    """
    found = tuple(grids)
    too_wide = tuple(grid for grid in found if sum(least_widths(grid)) > room)
    listed = [listing(grid, room) for grid in found if grid not in too_wide]
    high_first = listed[:1] + sorted(listed[1:], key=height_of, reverse=True)
    ways = [_filled(order, room, share) for order in (listed, high_first) for share in (0.0, 1.0)]
    best = min(ways, key=lambda way: sum(max(shelf.heights) for shelf in way))
    ranks = {table: at for at, table in enumerate(listed)}
    ordered = sorted((_ordered(shelf, ranks) for shelf in best), key=lambda shelf: ranks[shelf.stacks[0][0]])
    return (*(_shelf(shelf) for shelf in ordered), *(item for grid in too_wide for item in row_by_row(grid)))


def _filled(tables: list[Listing], room: float, share: float) -> list[_Open]:
    """Shelves filled in order; the last may grow by less than ``share`` of what a new one would take."""
    found: list[_Open] = []
    for table in tables:
        for shelf in found:
            most = share * (height_of(table) - _CAPTION_IN) if shelf is found[-1] else 0.0
            grown = shelf.growth(table, room)
            if grown is not None and (grown[0] == 0.0 or grown[0] < most):
                shelf.put(table, grown[1])
                break
        else:
            found.append(_Open([[table]], [height_of(table)]))
    return found


def _ordered(shelf: _Open, ranks: dict[Listing, int]) -> _Open:
    """The same shelf with its tables in the order in which they are read."""
    stacks = sorted((sorted(stack, key=ranks.__getitem__) for stack in shelf.stacks), key=lambda stack: ranks[stack[0]])
    return _Open(stacks, [sum(height_of(table) for table in stack) for stack in stacks])


def spread(items: tuple[Item, ...], height: float, heading: float = 0.0) -> tuple[Item, ...]:
    """The items with a new page before one of them where the last page would else hold little of what two pages can.

    ``heading`` is what the first page has less than ``height``.
    """
    pages: list[list[Item]] = [[]]
    used = heading
    for item in items:
        own = shelf_height(item)
        if own <= _WHOLE_IN and used + own > height:
            pages.append([])
            used = 0.0
        pages[-1].append(item)
        used += own
        while used > height:
            pages.append([])
            used -= height
    moved = _moved(pages, used, height)
    if moved is None:
        return items
    at = next(number for number, item in enumerate(items) if item is moved)
    return (*items[:at], NewPage(), *items[at:])


def _moved(pages: list[list[Item]], used: float, height: float) -> Item | None:
    """The low table or shelf at the end of the last page but one that would better begin the last; None where none would."""
    if len(pages) < 2 or len(pages[-2]) < 2 or used > _LITTLE * height:
        return None
    last = pages[-2][-1]
    own = shelf_height(last)
    begun = sum(shelf_height(item) for item in pages[-1])
    return last if own <= _WHOLE_IN and abs(begun - used) < _ROUNDING_IN and used + own <= height else None


def shelf_height(item: Item) -> float:
    """What a table or a shelf takes of a sheet's height; 0 for anything else."""
    if isinstance(item, Listing):
        return height_of(item)
    return max(sum(height_of(table) for table in stack) for stack in item.stacks) if isinstance(item, Shelf) else 0.0


def _shelf(shelf: _Open) -> Listing | Shelf:
    if len(shelf.stacks) == 1 and len(shelf.stacks[0]) == 1:
        return shelf.stacks[0][0]
    return Shelf(tuple(tuple(stack) for stack in shelf.stacks), max(shelf.heights) <= _WHOLE_IN)


def height_of(table: Listing) -> float:
    """What a table takes of a sheet's height, with its caption."""
    return _CAPTION_IN + sum(_row_height(row) for row in (table.columns, *table.rows))


def _row_height(row: tuple[str, ...]) -> float:
    return _ROW_IN + max(cell.count("\n") for cell in row) * LINE_IN


def tables(grids: Iterable[Grid], room: float) -> tuple[Item, ...]:
    """The grids as tables; one whose rows do not fit into the room unbroken is written row by row."""
    found = tuple(grids)
    fitting = [grid for grid in found if sum(natural_widths(grid)) <= room]
    return (*shelves(fitting, room), *(item for grid in found if grid not in fitting for item in row_by_row(grid)))


def row_by_row(grid: Grid) -> tuple[Heading | Paragraph, ...]:
    """Each row as a paragraph: its first cell, then what stands under each head."""
    told = ("; ".join(f"{head}: {cell}" for head, cell in zip(grid.columns[1:], row[1:], strict=True) if cell not in ("", NOTHING)) for row in grid.rows)
    return Heading(grid.caption, 4), *(Paragraph(text, f"{grid.columns[0]} {row[0]}") for row, text in zip(grid.rows, told, strict=True))


def natural_widths(grid: Grid) -> list[float]:
    """The width of each column that breaks no text."""
    return [max(_width(text) for text in cells) for cells in zip(grid.columns, *grid.rows, strict=True)]


def least_widths(grid: Grid) -> list[float]:
    """The width of each column that breaks no word."""
    return [max(_width(word[:_WORD_MAX]) for text in cells for word in words(text)) for cells in zip(grid.columns, *grid.rows, strict=True)]


def listing(grid: Grid, room: float) -> Listing:
    """A grid as a table no wider than ``room``, its columns as wide as their texts where there is room.

    Where there is not, the heads are broken first, then the widest columns.
    """
    natural, least = natural_widths(grid), least_widths(grid)
    columns = list(zip(*grid.rows, strict=True)) if grid.rows else [()] * len(grid.columns)
    below = [max([low, *(_width(text) for text in cells)]) for low, cells in zip(least, columns, strict=True)]
    widths = _fitted(natural, below, room) if sum(below) <= room else _fitted(below, least, room)
    table = Listing(grid.caption, _set(grid.columns, widths), widths, tuple(_set(row, widths) for row in grid.rows))
    return replace(table, whole=height_of(table) <= _WHOLE_IN)


def _set(row: tuple[str, ...], widths: tuple[float, ...]) -> tuple[str, ...]:
    """The cells of a row broken into lines."""
    return tuple("\n".join(cell_lines(text, width - _PADDING_IN + _SLACK_IN)) for text, width in zip(row, widths, strict=True))


def _width(text: str) -> float:
    return text_width_in(text, CAP_MIN_IN) + _PADDING_IN


def _fitted(natural: list[float], least: list[float], room: float) -> tuple[float, ...]:
    """Natural widths where they fit; else room is taken from the widest columns first."""
    if sum(natural) <= room:
        return tuple(round(width, 3) for width in natural)
    if sum(least) >= room:
        return tuple(round(width * room / sum(least), 3) for width in least)
    low, high = 0.0, room
    for _ in range(_HALVINGS):
        most = (low + high) / 2
        low, high = (low, most) if sum(_capped(natural, least, most)) > room else (most, high)
    return tuple(round(width - 0.0005, 3) for width in _capped(natural, least, low))


def _capped(natural: list[float], least: list[float], most: float) -> list[float]:
    """Natural widths, none above ``most`` unless its longest word is."""
    return [max(low, min(width, most)) for low, width in zip(least, natural, strict=True)]
