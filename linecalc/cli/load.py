"""``linecalc load``: the dwelling load calculation alone, line by line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from linecalc.cli.errors import as_json
from linecalc.cli.projects import study_of
from linecalc.errors import InputError, Problem

if TYPE_CHECKING:
    from linecalc.report.load_sheet import LoadSheet
    from linecalc.study import Study

FAILS = 1
_EXAMPLE = """\b
Example:
  linecalc load house.toml
  linecalc load house.toml --edition 2017 --format markdown
  linecalc load house.toml --set "dwelling.floor_area=2100 ft2" --format json
"""


@click.command("load", epilog=_EXAMPLE)
@click.argument("project", type=click.Path())
@click.option("--format", "form", type=click.Choice(["text", "markdown", "json"]), default="text", show_default=True)
@click.option("--edition", help="2017, 2020 or 2023; the project's own if left out.")
@click.option("--set", "settings", multiple=True, metavar="PATH=VALUE", help="Change a value before computing; an empty value removes the key.")
def command(project: str, form: str, edition: str | None, settings: tuple[str, ...]) -> int:
    """Compute the dwelling load of PROJECT by every method asked for: the whole dwelling, its parts, the backed-up loads."""
    from linecalc.report.load_sheet import load_sheet

    found = study_of(project, edition, settings)
    sheet = load_sheet(found)
    if not sheet.parts:
        message = "describes no load: give a [dwelling] table and its loads, or a load of kind \"calculated\""
        raise InputError([Problem(message, file=project, key="dwelling")])
    _print(found, sheet, form)
    return _status(sheet)


def _print(study: Study, sheet: LoadSheet, form: str) -> None:
    from linecalc.report.load_report import load_json, load_markdown, load_text

    if form == "json":
        click.echo(as_json(load_json(study)))
    else:
        click.echo(load_markdown(sheet) if form == "markdown" else load_text(sheet), nl=False)


def _status(sheet: LoadSheet) -> int:
    """1 where the load is above a rating."""
    from linecalc.check import Level

    return FAILS if any(check.level is Level.FAIL for check in sheet.checks) else 0
