"""Schedules as a workbook."""

from __future__ import annotations

import io
from dataclasses import dataclass
from datetime import datetime

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from linecalc.caution import CAUTION
from linecalc.report.tabular import Cell, Table
from linecalc.report.wording import one_line
from linecalc.study import Study

#: A fixed date, so that equal schedules are equal files.
_CREATED = datetime(2000, 1, 1)
_WIDEST, _NARROWEST = 44, 6
#: Paper sizes of the format, 8.5 x 11 and 11 x 17 in, and how many characters the smaller one shows without becoming too small.
_LETTER, _TABLOID, _LETTER_CHARACTERS = 1, 3, 150
#: Characters of user text in a header, of the 255 that the format allows with the codes and the rest.
_HEADER_MOST = 80


def schedules_xlsx(study: Study, tables: tuple[Table, ...]) -> bytes:
    """One sheet a table: numbers as numbers, the head row frozen, the columns on one page in width."""
    out = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(out, options) as book:
        book.set_properties({"title": one_line(study.project.project.title), "subject": study.checked_against, "comments": CAUTION, "created": _CREATED})
        head = book.add_format({"bold": True, "text_wrap": True, "bottom": 1, "valign": "top"})
        body = book.add_format({"text_wrap": True, "valign": "top"})
        share = book.add_format({"valign": "top", "num_format": "0.00"})
        for table in tables:
            _fill(book.add_worksheet(table.name), study, table, _Formats(head, body, share))
    return out.getvalue()


@dataclass(frozen=True, slots=True)
class _Formats:
    """How the head, a cell and a percentage look."""

    head: Format
    body: Format
    share: Format


def _fill(sheet: Worksheet, study: Study, table: Table, formats: _Formats) -> None:
    widths = [_width(column.heading, [row[at] for row in table.rows]) for at, column in enumerate(table.columns)]
    for at, column in enumerate(table.columns):
        sheet.write_string(0, at, column.heading, formats.head)
        sheet.set_column(at, at, widths[at])
    for number, row in enumerate(table.rows, 1):
        for at, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(number, at, one_line(cell), formats.body)
            elif cell is not None:
                sheet.write_number(number, at, cell, formats.share if table.columns[at].unit == "%" else formats.body)
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    sheet.set_landscape()
    sheet.set_paper(_LETTER if sum(widths) <= _LETTER_CHARACTERS else _TABLOID)
    sheet.fit_to_pages(1, 0)
    sheet.set_header(f"&L{_code(study.project.project.title)}&C{table.title}&RPage &P of &N")
    sheet.set_footer(f"&L{_code(study.checked_against)}. {CAUTION}")


def _code(text: str) -> str:
    """User text in a header, where ``&`` begins a code; as much as fits beside the rest."""
    return one_line(text)[:_HEADER_MOST].replace("&", "&&")


def _width(heading: str, cells: list[Cell]) -> float:
    """Width in characters: the widest cell, the longest word of the head."""
    texts = [max(heading.split(), key=len), *(f"{cell:g}" if isinstance(cell, float) else str(cell) for cell in cells if cell is not None)]
    return float(min(_WIDEST, max(_NARROWEST, *(len(text) for text in texts)) + 2))
