"""Schedules as typed tables: texts and numbers, the unit of a number in the head of its column."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.report.amounts import amount
from linecalc.report.content import Grid

Cell = str | float | int | None
NOTHING = "-"


@dataclass(frozen=True, slots=True)
class Column:
    """Name of a column and, where it holds amounts, their unit."""

    name: str
    unit: str = ""

    @property
    def heading(self) -> str:
        """``Length (ft)``."""
        return f"{self.name} ({self.unit})" if self.unit else self.name


@dataclass(frozen=True, slots=True)
class Table:
    """One schedule. ``name`` is short enough for a tab of a workbook; an empty cell is None."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


def grid_of(table: Table) -> Grid:
    """The table as texts, each amount with its unit; percentages with two decimals, as on the drawing."""
    rows = tuple(tuple(_text(cell, column) for cell, column in zip(row, table.columns, strict=True)) for row in table.rows)
    return Grid(table.title, tuple(column.name for column in table.columns), rows)


def _text(cell: Cell, column: Column) -> str:
    if cell is None:
        return NOTHING
    if isinstance(cell, str):
        return cell
    return f"{cell:.2f} %" if column.unit == "%" else amount(float(cell), column.unit)


def table_of(grid: Grid, name: str) -> Table:
    """A table of texts, as it is."""
    return Table(name, grid.caption, tuple(Column(heading) for heading in grid.columns), grid.rows)


def without(table: Table, headings: tuple[str, ...]) -> Table:
    """The table without the columns of these headings."""
    kept = [at for at, column in enumerate(table.columns) if column.heading not in headings]
    rows = tuple(tuple(row[at] for at in kept) for row in table.rows)
    return Table(table.name, table.title, tuple(table.columns[at] for at in kept), rows)
