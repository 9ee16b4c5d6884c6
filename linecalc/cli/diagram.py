"""``linecalc diagram``: the single-line diagram of a project as a file."""

from __future__ import annotations

import click

from linecalc.cli.check import exit_status
from linecalc.cli.output import suffix_of

SUFFIXES = (".svg", ".png")
_LATER = {
    ".pdf": "a diagram cannot be written as .pdf yet; write .svg or .png",
    ".dxf": "a diagram cannot be written as .dxf yet; write .svg or .png",
}
_EXAMPLE = """\b
Example:
  linecalc diagram house.toml -o house.svg
"""


@click.command("diagram", epilog=_EXAMPLE)
@click.argument("project", type=click.Path())
@click.option("-o", "--output", required=True, metavar="FILE", type=click.Path(), help="File to write: .svg or .png.")
@click.option("--edition", help="2017, 2020 or 2023; the project's own if left out.")
def command(project: str, output: str, edition: str | None) -> int:
    """Draw PROJECT. The file is written even where something fails; the exit status is then 1."""
    suffix = suffix_of(output, SUFFIXES, _LATER)

    from linecalc.diagram import draw, render_svg
    from linecalc.files import write_whole
    from linecalc.project.read import read_project
    from linecalc.report.findings import counts, counts_text
    from linecalc.study import study

    found = study(read_project(project), edition)
    scene = draw(found)
    if suffix == ".svg":
        write_whole(output, render_svg(scene))
    else:
        from linecalc.diagram.render_png import render_png

        write_whole(output, render_png(scene))
    click.echo(f"wrote {output}: {counts_text(counts(found))}")
    return exit_status(found, strict=False)
