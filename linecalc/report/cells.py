"""Cells of code tables as the origin of a number: ``table:NAME/row/column``."""

from __future__ import annotations

from linecalc.codebook import Book


def is_cell(origin: str) -> bool:
    """Whether an origin is a cell of a code table."""
    return origin.startswith("table:")


def table_name(origin: str) -> str:
    """The name of the table that an origin ``table:NAME/row/column`` points into.

    Examples
    --------
    >>> table_name("table:310.16/1/0 AWG/cu_75c_a")
    '310.16'
    """
    return origin.removeprefix("table:").split("/")[0]


def cell_text(book: Book, origin: str) -> str | None:
    """The text of the cell that ``origin`` points at; None where it points at nothing.

    ``table:NAME`` alone stands for the table as a whole and gives its number.
    """
    name, *rest = origin.removeprefix("table:").split("/")
    table = book.table(name)
    if not rest:
        return table.number
    *parts, column = rest
    if column not in table.columns:
        return None
    at, row = table.columns.index(column), "/".join(parts)
    return next((cells[at] for cells in table.rows if _names_row(cells, row)), None)


def _names_row(cells: tuple[str, ...], row: str) -> bool:
    """Whether ``row`` is the leading cells of a row, joined by strokes (sizes such as 1/0 hold one too)."""
    return any("/".join(cells[:width]) == row for width in range(1, len(cells) + 1))
