"""``linecalc schedule``: the schedules of a project and its bill of material as a file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from linecalc.cli.check import exit_status
from linecalc.cli.output import missing_package, suffix_of
from linecalc.cli.projects import study_of

if TYPE_CHECKING:
    from linecalc.study import Study

SUFFIXES = (".csv", ".xlsx")
_EXAMPLE = """\b
Example:
  linecalc schedule house.toml -o house.xlsx
"""


@click.command("schedule", epilog=_EXAMPLE)
@click.argument("project", type=click.Path())
@click.option("-o", "--output", required=True, metavar="FILE", type=click.Path(), help="File to write: .csv or .xlsx.")
@click.option("--edition", help="2017, 2020 or 2023; the project's own if left out.")
def command(project: str, output: str, edition: str | None) -> int:
    """Write conductor, equipment and panel schedules, backed-up loads and the bill of material of PROJECT.

    The file is written even where something fails; the exit status is then 1.
    """
    suffix = suffix_of(output, SUFFIXES, {})

    from linecalc.files import write_whole
    from linecalc.report.findings import counts, counts_text

    found = study_of(project, edition)
    write_whole(output, _rendered(found, suffix))
    click.echo(f"wrote {output}: {counts_text(counts(found))}")
    return exit_status(found, strict=False)


def _rendered(study: Study, suffix: str) -> str | bytes:
    from linecalc.report.schedule_tables import schedule_tables

    tables = schedule_tables(study)
    if suffix == ".csv":
        from linecalc.report.comma_separated import schedules_csv

        return schedules_csv(study, tables)
    try:
        from linecalc.report.workbook import schedules_xlsx
    except ModuleNotFoundError as error:
        raise missing_package(error, "xlsx", suffix) from None
    return schedules_xlsx(study, tables)
