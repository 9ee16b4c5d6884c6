"""``linecalc sheet``: the calculation sheet of a project as a file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from linecalc.cli.check import exit_status
from linecalc.cli.output import suffix_of
from linecalc.cli.projects import study_of

if TYPE_CHECKING:
    from linecalc.advice import Fragile
    from linecalc.report.html_drawing import Drawing
    from linecalc.study import Study

SUFFIXES = (".txt", ".md", ".html", ".pdf")
_EXAMPLE = """\b
Example:
  linecalc sheet house.toml -o house.html
"""


@click.command("sheet", epilog=_EXAMPLE)
@click.argument("project", type=click.Path())
@click.option("-o", "--output", required=True, metavar="FILE", type=click.Path(), help="File to write: .txt, .md, .html or .pdf.")
@click.option("--edition", help="2017, 2020 or 2023; the project's own if left out.")
def command(project: str, output: str, edition: str | None) -> int:
    """Write the calculation sheet of PROJECT. The file is written even where something fails; the exit status is then 1."""
    suffix = suffix_of(output, SUFFIXES, {})

    from linecalc.advice import advise
    from linecalc.files import write_whole
    from linecalc.report.findings import counts, counts_text

    found = study_of(project, edition)
    advice = advise(found)
    write_whole(output, sheet_as(advice.study, suffix, advice.fragile))
    click.echo(f"wrote {output}: {counts_text(counts(found))}")
    return exit_status(found, strict=False)


def sheet_as(study: Study, suffix: str, fragile: tuple[Fragile, ...] = ()) -> str | bytes:
    """The sheet of a study in the format of a file suffix, with what is to be verified on site first."""
    from linecalc.report.sheet import sheet

    content = sheet(study, fragile)
    match suffix:
        case ".txt":
            from linecalc.report.text import sheet_text

            return sheet_text(content)
        case ".md":
            from linecalc.report.markdown import sheet_markdown

            return sheet_markdown(content)
        case ".pdf":
            from linecalc.report.permit import sheet_pdf

            return sheet_pdf(study, content)
    from linecalc.report.html import sheet_html

    return sheet_html(content, _drawing(study, {block.tag: block.title for block in content.blocks}))


def _drawing(study: Study, titles: dict[str, str]) -> Drawing:
    """The drawing, or why there is none: a sheet that cannot be drawn is still a sheet."""
    from linecalc.diagram import draw
    from linecalc.errors import RefusedError
    from linecalc.report.html_drawing import drawing_html, no_drawing

    try:
        return drawing_html(draw(study), titles)
    except RefusedError as error:
        return no_drawing(str(error))
