"""``linecalc diagram``: the single-line diagram of a project as a file."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from linecalc.cli.check import exit_status
from linecalc.cli.output import suffix_of
from linecalc.cli.projects import study_of

if TYPE_CHECKING:
    from linecalc.diagram.scene import Scene

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

    from linecalc.diagram import draw
    from linecalc.files import write_whole
    from linecalc.report.findings import counts, counts_text

    found = study_of(project, edition)
    scenes = draw(found)
    for path, scene in zip(names(output, len(scenes)), scenes, strict=True):
        write_whole(path, _rendered(scene, suffix))
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
    from linecalc.diagram import render_png, render_svg

    return render_svg(scene) if suffix == ".svg" else render_png(scene)
