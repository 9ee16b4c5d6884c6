"""``linecalc table``: a code table as linecalc holds it, with its number in the edition."""

from __future__ import annotations

import csv
import io
from typing import Any

import click

from linecalc.caution import CAUTION
from linecalc.cli.errors import as_json
from linecalc.errors import InputError, Problem
from linecalc.project.wording import nearest, quoted, suggestion

_SCHEMA = "linecalc/table/1"
_EXAMPLE = """\b
Example:
  linecalc table 310.16
  linecalc table 250.122 --edition 2017 --format csv
  linecalc table               (lists the names)
"""


@click.command("table", epilog=_EXAMPLE)
@click.argument("name", required=False)
@click.option("--edition", default="2023", show_default=True, help="2017, 2020 or 2023.")
@click.option("--format", "format_", type=click.Choice(["text", "csv", "json"]), default="text", show_default=True)
def command(name: str | None, edition: str, format_: str) -> None:
    """Print the code table NAME, named by its number in the 2023 edition.

    Without NAME the tables are listed. CSV holds the table alone; its citation
    goes to standard error.
    """
    from linecalc.codebook.edition import wording

    year = wording(edition).year
    if name is None:
        click.echo(_listing(year, format_))
        return
    table = _found(name, year)
    if format_ == "csv":
        click.echo(_csv(table.columns, table.rows), nl=False)
        click.echo(f"{_heading(table)}\n{CAUTION}", err=True)
    elif format_ == "json":
        click.echo(as_json(_document(table)))
    else:
        click.echo(_text(table))


def _found(name: str, year: str) -> Any:
    from linecalc.codebook import tables

    known = tables.names()
    if name not in known:
        close = nearest(name, known)
        problem = f"no table {quoted(name)}; {suggestion(close, known)}"
        raise InputError([Problem(problem, key="table", found=name, expected=", ".join(known), nearest=close)])
    return tables.load(name, year)


def _heading(table: Any) -> str:
    return f"{table.number}, NEC {table.edition}: {table.header.title}"


def _text(table: Any) -> str:
    from tabulate import tabulate

    body = tabulate(table.rows, headers=table.columns, tablefmt="simple", disable_numparse=True, stralign="right")
    return "\n".join([_heading(table), "", body, "", *_notes(table)])


def _notes(table: Any) -> list[str]:
    """What stands below the table: its note, what it was compared with, the caution."""
    notes = [table.header.unit_note] if table.header.unit_note else []
    notes += [f"Compared with: {source}" for source in table.header.checked]
    notes += [f"From memory, compared with no published copy: {cells}" for cells in table.header.from_memory]
    return [*notes, CAUTION]


def _csv(columns: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return text.getvalue()


def _document(table: Any) -> dict[str, Any]:
    numeric = [_is_numeric([row[index] for row in table.rows]) for index in range(len(table.columns))]
    rows = [
        {column: _cell(cell, number) for column, cell, number in zip(table.columns, row, numeric, strict=True)}
        for row in table.rows
    ]
    header = table.header
    return {
        "schema": _SCHEMA,
        "name": header.name,
        "edition": table.edition,
        "citation": table.number,
        "title": header.title,
        "key": list(header.key),
        "columns": list(table.columns),
        "rows": rows,
        "note": header.unit_note or None,
        "compared_with": list(header.checked),
        "from_memory": list(header.from_memory),
        "disclaimer": CAUTION,
    }


def _is_numeric(cells: list[str]) -> bool:
    """Whether every cell that is filled holds a number."""
    filled = [cell for cell in cells if cell]
    return bool(filled) and all(cell.replace(".", "", 1).removeprefix("-").isdigit() for cell in filled)


def _cell(cell: str, number: bool) -> str | float | int | None:
    if not cell:
        return None
    if not number:
        return cell
    return float(cell) if "." in cell else int(cell)


def _listing(year: str, format_: str) -> str:
    from linecalc.codebook import tables

    found = [tables.load(name, year) for name in tables.names()]
    columns = ("name", "number", "title")
    rows = tuple((table.header.name, table.number, table.header.title) for table in found)
    if format_ == "csv":
        return _csv(columns, rows).rstrip("\n")
    if format_ == "json":
        entries = [dict(zip(columns, row, strict=True)) for row in rows]
        return as_json({"schema": "linecalc/tables/1", "edition": year, "tables": entries, "disclaimer": CAUTION})
    from tabulate import tabulate

    return tabulate(rows, headers=columns, tablefmt="simple", disable_numparse=True)
