"""Single-line diagrams: a Study becomes scenes, scenes become SVG, PNG or PDF."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from linecalc.diagram.scene import Scene
    from linecalc.study import Study


def draw(study: Study) -> tuple[Scene, ...]:
    """The sheets of the single-line diagram.

    Raises
    ------
    RefusedError
        The system does not fit on the sheets at the smallest text size.
    """
    from linecalc.diagram.sheet import compose
    from linecalc.diagram.study_plan import plan_of

    return compose(plan_of(study))


def render_svg(scene: Scene) -> str:
    """A sheet as SVG."""
    from linecalc.diagram import svg

    return svg.render_svg(scene)


def render_png(scene: Scene, ppi: int = 150) -> bytes:
    """A sheet as PNG, *ppi* pixels per inch."""
    from linecalc.diagram import raster

    return raster.render_png(scene, ppi)


def render_pdf(scene: Scene) -> bytes:
    """A sheet as a one-page PDF."""
    from linecalc.diagram import raster

    return raster.render_pdf(scene)


def render_dxf(scene: Scene) -> str:
    """A sheet as DXF, on layers by the US National CAD Standard."""
    from linecalc.diagram import dxf

    return dxf.render_dxf(scene)
