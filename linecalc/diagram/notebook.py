"""A diagram that shows itself in a notebook."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from linecalc.diagram import draw, render_svg
from linecalc.diagram.scene import Scene

if TYPE_CHECKING:
    from linecalc.study import Study


@dataclass(frozen=True, slots=True)
class Diagram:
    """The sheets of a single-line diagram.

    Examples
    --------
    >>> import linecalc
    >>> linecalc.Diagram.of(linecalc.compute(project))  # doctest: +SKIP
    """

    scenes: tuple[Scene, ...]

    @classmethod
    def of(cls, study: Study) -> Diagram:
        """Draw a study.

        Raises
        ------
        RefusedError
            The system does not fit on the sheets at the smallest text size.
        """
        return cls(draw(study))

    def _repr_svg_(self) -> str:
        """The first sheet; a notebook that can show more takes the HTML."""
        return without_prolog(render_svg(self.scenes[0]))

    def _repr_html_(self) -> str:
        """All sheets, one below the other, as wide as the notebook."""
        return "".join(f'<div style="max-width:100%;overflow:auto;background:white">{without_prolog(render_svg(scene))}</div>' for scene in self.scenes)


def without_prolog(svg: str) -> str:
    """The SVG element alone, as it stands inside a page."""
    return svg[svg.index("<svg") :]
