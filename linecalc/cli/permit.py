"""``linecalc permit``: the set of sheets that is handed in, as one PDF."""

from __future__ import annotations

import click

from linecalc.cli.check import exit_status
from linecalc.cli.output import suffix_of
from linecalc.cli.projects import study_of

SUFFIXES = (".pdf",)
_EXAMPLE = """\b
Example:
  linecalc permit house.toml -o house.pdf
"""


@click.command("permit", epilog=_EXAMPLE)
@click.argument("project", type=click.Path())
@click.option("-o", "--output", required=True, metavar="FILE", type=click.Path(), help="File to write: .pdf.")
@click.option("--edition", help="2017, 2020 or 2023; the project's own if left out.")
@click.option("--letter", "paper", flag_value="letter", default="ansi-b", help="Calculations on letter paper, the other sheets on 17 x 11 in.")
def command(project: str, output: str, edition: str | None, paper: str | None) -> int:
    """Write the set of PROJECT: notes, single-line diagram, schedules, calculations, labels.

    The file is written even where something fails; the exit status is then 1.
    """
    suffix_of(output, SUFFIXES, {})

    from linecalc.files import write_whole
    from linecalc.report.findings import counts, counts_text
    from linecalc.report.permit import permit_pdf
    from linecalc.report.sheet import sheet

    found = study_of(project, edition)
    write_whole(output, permit_pdf(found, sheet(found), paper or "ansi-b"))
    click.echo(f"wrote {output}: {counts_text(counts(found))}")
    return exit_status(found, strict=False)
