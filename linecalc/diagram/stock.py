"""Strokes taken from schemdraw's own elements, scaled to the drawing grid.

schemdraw counts y upwards from the element's axis; strokes count downwards from the top left
corner of a symbol, so every element is placed by the point where its axis starts.
"""

from __future__ import annotations

import math

from schemdraw import elements
from schemdraw.segments import Segment, SegmentArc, SegmentCircle, SegmentPoly

from linecalc.diagram.geometry import MEDIUM_PT, Arc, Circle, Polyline, Stroke


def stock_strokes(name: str, scale: float, x: float, y: float) -> tuple[Stroke, ...]:
    """The strokes of schemdraw's element *name*, one unit of it drawn *scale* inches long.

    (x, y) is where the element's start lies in the symbol, in inches. Leads, texts and empty
    strokes are left out; open circles of terminals stay open.
    """
    element = getattr(elements, name)()
    strokes: list[Stroke] = []
    for segment in element.segments:
        if isinstance(segment, Segment):
            strokes.extend(_polylines(segment.path, scale, x, y))
        elif isinstance(segment, SegmentPoly):
            points = tuple((x + px * scale, y - py * scale) for px, py in segment.verts)
            strokes.append(Polyline(points, MEDIUM_PT, closed=bool(segment.closed)))
        elif isinstance(segment, SegmentCircle):
            cx, cy = segment.center
            strokes.append(Circle(x + cx * scale, y - cy * scale, segment.radius * scale))
        elif isinstance(segment, SegmentArc):
            strokes.append(_ellipse_arc(segment, scale, x, y))
    return tuple(strokes)


def _polylines(path: list, scale: float, x: float, y: float) -> list[Polyline]:
    """Split a path at its gaps (not-a-number points) into polylines of at least two points."""
    runs: list[list[tuple[float, float]]] = [[]]
    for px, py in path:
        if math.isnan(px) or math.isnan(py):
            runs.append([])
        else:
            runs[-1].append((x + px * scale, y - py * scale))
    return [Polyline(tuple(run)) for run in runs if len(set(run)) > 1]


def _ellipse_arc(segment: SegmentArc, scale: float, x: float, y: float) -> Polyline | Arc:
    """An arc of an ellipse as a polyline of short strokes; a circular one stays an arc."""
    cx, cy = segment.center
    width, height = segment.width * scale / 2, segment.height * scale / 2
    if abs(width - height) < 1e-9:
        return Arc(x + cx * scale, y - cy * scale, width, segment.theta1, segment.theta2)
    steps = 12
    points = []
    for step in range(steps + 1):
        angle = math.radians(segment.theta1 + (segment.theta2 - segment.theta1) * step / steps)
        points.append(
            (x + cx * scale + width * math.cos(angle), y - cy * scale - height * math.sin(angle))
        )
    return Polyline(tuple(points))
