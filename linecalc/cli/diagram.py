"""``linecalc diagram``: the single-line diagram of a project as a file."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from linecalc.cli.check import exit_status
from linecalc.cli.output import missing_package, suffix_of
from linecalc.cli.projects import study_of

if TYPE_CHECKING:
    from linecalc.diagram.scene import Scene

SUFFIXES = (".svg", ".png", ".pdf", ".dxf")
_EXAMPLE = """\b
Example:
  linecalc diagram house.toml -o house.svg
"""


@click.command("diagram", epilog=_EXAMPLE)
@click.argument("project", type=click.Path())
@click.option("-o", "--output", required=True, metavar="FILE", type=click.Path(), help="File to write: .svg, .png, .pdf or .dxf.")
@click.option("--edition", help="2017, 2020 or 2023; the project's own if left out.")
def command(project: str, output: str, edition: str | None) -> int:
    """Draw PROJECT. The file is written even where something fails; the exit status is then 1."""
    suffix = suffix_of(output, SUFFIXES, {})

    from linecalc.diagram import draw
    from linecalc.files import write_whole
    from linecalc.report.findings import counts, counts_text

    found = study_of(project, edition)
    scenes = draw(found)
    drawn = [_rendered(scene, suffix) for scene in scenes]
    for path, contents in zip(names(output, len(scenes)), drawn, strict=True):
        write_whole(path, contents)
        click.echo(f"wrote {path}: {counts_text(counts(found))}")
    return exit_status(found, strict=False)


def names(output: str, sheets: int) -> list[str]:
    """One file name a sheet: ``output`` itself, or numbered where there are several.

    Examples
    --------
    >>> names("house.svg", 2)
    ['house-1.svg', 'house-2.svg']
    """
    if sheets == 1:
        return [output]
    stem, suffix = os.path.splitext(output)
    return [f"{stem}-{number}{suffix}" for number in range(1, sheets + 1)]


def _rendered(scene: Scene, suffix: str) -> str | bytes:
    from linecalc.diagram import render_dxf, render_pdf, render_png, render_svg

    match suffix:
        case ".svg":
            return render_svg(scene)
        case ".png":
            return render_png(scene)
        case ".pdf":
            return render_pdf(scene)
    try:
        return render_dxf(scene)
    except ModuleNotFoundError as error:
        raise missing_package(error, "dxf", suffix) from None
