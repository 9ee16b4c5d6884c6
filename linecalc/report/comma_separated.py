"""Schedules as CSV text."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

from linecalc.caution import CAUTION
from linecalc.report.tabular import Cell, Table
from linecalc.report.wording import one_line
from linecalc.study import Study

_FORMULA_STARTS = ("=", "+", "-", "@")
#: A negative coefficient is no formula.
_COEFFICIENT = re.compile(r"-\d+(\.\d+)? ?(%|mV|V)/(K|degC)")


def schedules_csv(study: Study, tables: tuple[Table, ...]) -> str:
    """All tables in one text, each under its title, an empty line between two.

    A text that a spreadsheet would take for a formula begins with an apostrophe.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerows([_plain(text)] for text in _head(study))
    for table in tables:
        writer.writerow([])
        writer.writerow([table.title])
        writer.writerow([column.heading for column in table.columns])
        writer.writerows([_csv_cell(cell) for cell in row] for row in table.rows)
    return out.getvalue()


def _head(study: Study) -> Iterator[str]:
    yield one_line(study.project.project.title)
    yield study.checked_against
    yield CAUTION


def _csv_cell(cell: Cell) -> str | float | int:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return _plain(cell)
    return int(cell) if float(cell).is_integer() else cell


def _plain(text: str) -> str:
    found = one_line(text)
    harmless = found in _FORMULA_STARTS or _COEFFICIENT.fullmatch(found)
    return f"'{found}" if found.startswith(_FORMULA_STARTS) and not harmless else found
