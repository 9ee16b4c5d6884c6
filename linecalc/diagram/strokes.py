"""How lines look, for every format: weights, dashes, the shapes of outlines."""

from __future__ import annotations

import math
from dataclasses import dataclass

from linecalc.diagram.geometry import HEAVY_PT, LIGHT_PT, MEDIUM_PT, Arc, Circle, Polyline
from linecalc.diagram.scene import Outline

#: What exists already is drawn this thin, and dashed where a stroke is long enough to show it.
EXISTING_PT = 0.75
DASH_PT = (4.0, 2.4)
_DASHED_FROM_IN = 0.3
_BOUNDARY_DASH_PT = (10.0, 3.0, 2.0, 3.0)


@dataclass(frozen=True, slots=True)
class LineStyle:
    """Weight in points; dashes and gaps in points, none for a line drawn through."""

    weight_pt: float
    dash_pt: tuple[float, ...] = ()


OUTLINES = {
    "frame": LineStyle(HEAVY_PT),
    "table": LineStyle(MEDIUM_PT),
    "title": LineStyle(MEDIUM_PT),
    "enclosure": LineStyle(LIGHT_PT),
    "boundary": LineStyle(MEDIUM_PT, _BOUNDARY_DASH_PT),
    "run tag": LineStyle(LIGHT_PT),
    "reference": LineStyle(MEDIUM_PT),
}


def dashed(stroke: Polyline | Circle | Arc) -> bool:
    """Whether a stroke of an existing thing is long enough to show dashes, and not painted."""
    filled = isinstance(stroke, Polyline) and stroke.filled
    return not filled and length_in(stroke) > _DASHED_FROM_IN


def length_in(stroke: Polyline | Circle | Arc) -> float:
    """Length of a stroke in inches."""
    if isinstance(stroke, Polyline):
        points = (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
        return sum(math.dist(a, b) for a, b in zip(points, points[1:]))
    if isinstance(stroke, Circle):
        return 2 * math.pi * stroke.radius
    return math.radians(stroke.end_deg - stroke.start_deg) * stroke.radius


def outline_points(outline: Outline) -> tuple[tuple[float, float], ...]:
    """The corner points of an outline; the last is to be joined to the first."""
    box = outline.box
    if outline.kind == "run tag":
        return _stadium(box.x0, box.y0, box.x1, box.y1)
    if outline.kind == "reference":
        return _flag(box.x0, box.y0, box.x1, box.y1)
    return (box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)


def _stadium(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    """A rectangle with half-circle ends; a circle where it is as wide as high."""
    radius = (y1 - y0) / 2
    middle = (y0 + y1) / 2
    steps = 16
    right = [
        (x1 - radius + radius * math.sin(math.pi * i / steps), middle - radius * math.cos(math.pi * i / steps))
        for i in range(steps + 1)
    ]
    left = [(x0 + x1 - x, y0 + y1 - y) for x, y in right]
    return (*right, *left)


def _flag(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    """A rectangle with a point at its right."""
    middle = (y0 + y1) / 2
    shoulder = x1 - (y1 - y0) / 3
    return ((x0, y0), (shoulder, y0), (x1, middle), (shoulder, y1), (x0, y1))
