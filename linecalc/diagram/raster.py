"""Turn a rendered sheet into PNG or PDF through typst, with the shipped font."""

from __future__ import annotations

from importlib.resources import as_file, files

import typst

from linecalc.diagram.svg import render_svg
from linecalc.diagram.scene import Scene

_SOURCE = """\
#set document(title: sys.inputs.title, date: none)
#set page(width: {width}in, height: {height}in, margin: 0in)
#image(bytes(sys.inputs.svg), format: "svg", width: {width}in, height: {height}in, alt: sys.inputs.title)
"""


def render_png(scene: Scene, ppi: int = 150) -> bytes:
    """The sheet as PNG, *ppi* pixels per inch."""
    return _compile(scene, "png", float(ppi))


def render_pdf(scene: Scene) -> bytes:
    """The sheet as a one-page PDF with its font embedded and its text searchable."""
    return _compile(scene, "pdf", 144.0)


def _compile(scene: Scene, format_name: str, ppi: float) -> bytes:
    source = _SOURCE.format(width=f"{scene.width_in:g}", height=f"{scene.height_in:g}")
    inputs = {"svg": render_svg(scene), "title": scene.title}
    with as_file(files("linecalc.diagram") / "linecalc-drafting.ttf") as font:
        result = typst.compile(
            source.encode("utf-8"),
            format=format_name,
            ppi=ppi,
            font_paths=[str(font.parent)],
            ignore_system_fonts=True,
            sys_inputs=inputs,
        )
    return result if isinstance(result, bytes) else result[0]
