"""``linecalc compare``: what changes between two designs or adopted codes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from linecalc.cli.check import exit_status
from linecalc.cli.errors import as_json
from linecalc.cli.projects import study_of

if TYPE_CHECKING:
    from linecalc.study import Study

_EXAMPLE = """\b
Example:
  linecalc compare first.toml second.toml
  linecalc compare house.toml --editions 2017,2020,2023
  linecalc compare a.toml b.toml --edition 2020 --format json
"""


@click.command("compare", epilog=_EXAMPLE)
@click.argument("projects", nargs=-1, required=True, metavar="PROJECT [PROJECT]", type=click.Path())
@click.option("--editions", metavar="E,E,...", help="Compare one PROJECT under several adopted codes.")
@click.option("--edition", help="2017, 2020 or 2023 for both projects; each project's own if left out.")
@click.option("--format", "form", type=click.Choice(["text", "markdown", "json"]), default="text", show_default=True)
def command(projects: tuple[str, ...], editions: str | None, edition: str | None, form: str) -> int:
    """Show what changes between two designs, or between editions of the code for one, and nothing else."""
    from linecalc.comparison import compare
    from linecalc.report.comparison import comparison_json, comparison_markdown, comparison_text

    studies = _under_editions(projects, editions, edition) if editions else _designs(projects, edition)
    found = compare(studies)
    match form:
        case "json":
            click.echo(as_json(comparison_json(found)))
        case "markdown":
            click.echo(comparison_markdown(found), nl=False)
        case _:
            click.echo(comparison_text(found), nl=False)
    return max(exit_status(study, strict=False) for _, study in studies)


def _under_editions(projects: tuple[str, ...], editions: str, edition: str | None) -> list[tuple[str, Study]]:
    years = list(dict.fromkeys(year.strip().removeprefix("NEC ") for year in editions.split(",") if year.strip()))
    if len(projects) != 1 or edition is not None:
        raise click.UsageError("--editions compares one project with itself; give one PROJECT and no --edition")
    if len(years) < 2:
        raise click.UsageError("--editions needs at least two editions, like 2020,2023")
    return [(f"NEC {year}", study_of(projects[0], year)) for year in years]


def _designs(projects: tuple[str, ...], edition: str | None) -> list[tuple[str, Study]]:
    if len(projects) != 2:
        raise click.UsageError("give two projects, or one with --editions 2017,2020,2023")
    return [(path, study_of(path, edition)) for path in projects]
