"""The strokes that symbols are made of, in inches from the symbol's top left corner, y downwards."""

from __future__ import annotations

from dataclasses import dataclass

#: Line weights on paper, in points.
LIGHT_PT = 0.75
MEDIUM_PT = 1.25
HEAVY_PT = 2.0


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight strokes through points; ``filled`` paints the inside black, ``closed`` joins up."""

    points: tuple[tuple[float, float], ...]
    weight_pt: float = MEDIUM_PT
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; ``filled`` paints it black."""

    x: float
    y: float
    radius: float
    weight_pt: float = MEDIUM_PT
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, from *start_deg* to *end_deg*, counted against the clock from 3 o'clock."""

    x: float
    y: float
    radius: float
    start_deg: float
    end_deg: float
    weight_pt: float = MEDIUM_PT


@dataclass(frozen=True, slots=True)
class Letters:
    """Letters that are part of a symbol, centred at (x, y) on their cap height."""

    x: float
    y: float
    text: str
    cap_in: float = 0.1


Stroke = Polyline | Circle | Arc | Letters


@dataclass(frozen=True, slots=True)
class Terminal:
    """A point where a wire may connect; ``side`` is ``left``, ``right``, ``top`` or ``bottom``."""

    name: str
    x: float
    y: float
    side: str


@dataclass(frozen=True, slots=True)
class Shape:
    """A symbol's size, strokes and terminals."""

    kind: str
    width: float
    height: float
    strokes: tuple[Stroke, ...]
    terminals: tuple[Terminal, ...]


def moved(stroke: Stroke, dx: float, dy: float) -> Stroke:
    """A stroke moved by some inches."""
    if isinstance(stroke, Polyline):
        points = tuple((x + dx, y + dy) for x, y in stroke.points)
        return Polyline(points, stroke.weight_pt, stroke.closed, stroke.filled)
    if isinstance(stroke, Circle):
        return Circle(stroke.x + dx, stroke.y + dy, stroke.radius, stroke.weight_pt, stroke.filled)
    if isinstance(stroke, Arc):
        return Arc(
            stroke.x + dx, stroke.y + dy, stroke.radius,
            stroke.start_deg, stroke.end_deg, stroke.weight_pt,
        )
    return Letters(stroke.x + dx, stroke.y + dy, stroke.text, stroke.cap_in)


def scaled(stroke: Stroke, factor: float) -> Stroke:
    """A stroke with all lengths multiplied; weights and letters keep their size."""
    if isinstance(stroke, Polyline):
        points = tuple((x * factor, y * factor) for x, y in stroke.points)
        return Polyline(points, stroke.weight_pt, stroke.closed, stroke.filled)
    if isinstance(stroke, Circle):
        return Circle(stroke.x * factor, stroke.y * factor, stroke.radius * factor, stroke.weight_pt, stroke.filled)
    if isinstance(stroke, Arc):
        return Arc(
            stroke.x * factor, stroke.y * factor, stroke.radius * factor,
            stroke.start_deg, stroke.end_deg, stroke.weight_pt,
        )
    return Letters(stroke.x * factor, stroke.y * factor, stroke.text, stroke.cap_in)


def line(x0: float, y0: float, x1: float, y1: float, weight_pt: float = MEDIUM_PT) -> Polyline:
    """One straight stroke."""
    return Polyline(((x0, y0), (x1, y1)), weight_pt)


def rectangle(x0: float, y0: float, x1: float, y1: float, weight_pt: float = MEDIUM_PT) -> Polyline:
    """A closed rectangle."""
    return Polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), weight_pt, closed=True)
