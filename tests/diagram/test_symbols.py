"""Symbols keep to their boxes and to the drawing grid."""

from __future__ import annotations

import math

import pytest

from linecalc.diagram import scene_checks as checks
from linecalc.diagram.fonts import text_width_in
from linecalc.diagram.geometry import Arc, Circle, Letters, Polyline
from linecalc.diagram.scene import GRID_IN, Box, Symbol
from linecalc.diagram.stock import stock_strokes
from linecalc.diagram.symbols import SYMBOL_KINDS, place, shape, shape_of, terminal_point

from tests.diagram.symbol_sheet import symbol_sheet


def extent(stroke):
    if isinstance(stroke, Polyline):
        return stroke.points
    if isinstance(stroke, Letters):
        half, cap = text_width_in(stroke.text, stroke.cap_in) / 2, stroke.cap_in / 2
        return ((stroke.x - half, stroke.y - cap), (stroke.x + half, stroke.y + cap))
    start, end = (0, 360) if isinstance(stroke, Circle) else (stroke.start_deg, stroke.end_deg)
    angles = [math.radians(start + (end - start) * i / 36) for i in range(37)]
    return [(stroke.x + stroke.radius * math.cos(a), stroke.y - stroke.radius * math.sin(a)) for a in angles]


@pytest.mark.parametrize("kind", SYMBOL_KINDS)
def test_every_stroke_stays_in_the_symbols_box(kind):
    found = shape(kind)
    for stroke in found.strokes:
        for x, y in extent(stroke):
            assert -0.001 <= x <= found.width + 0.001, stroke
            assert -0.001 <= y <= found.height + 0.001, stroke


@pytest.mark.parametrize("kind", SYMBOL_KINDS)
def test_terminals_lie_on_the_edge_they_name(kind):
    found = shape(kind)
    assert found.terminals
    for terminal in found.terminals:
        edge = {"left": terminal.x, "right": found.width - terminal.x,
                "top": terminal.y, "bottom": found.height - terminal.y}[terminal.side]
        assert edge == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("kind", SYMBOL_KINDS)
def test_sizes_are_on_the_drawing_grid(kind):
    found = shape(kind)
    for size in (found.width, found.height):
        assert size / GRID_IN == pytest.approx(round(size / GRID_IN))


@pytest.mark.parametrize("kind", SYMBOL_KINDS)
def test_every_terminal_of_an_inline_symbol_is_reached_by_a_stroke(kind):
    found = shape(kind)
    points = [p for stroke in found.strokes for p in extent(stroke)]
    for terminal in found.terminals:
        close = min(math.dist((terminal.x, terminal.y), p) for p in points)
        on_edge = any(_on_polyline((terminal.x, terminal.y), s) for s in found.strokes)
        assert close < 0.07 or on_edge


def _on_polyline(point, stroke):
    if not isinstance(stroke, Polyline):
        return False
    points = (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
    return any(
        abs(math.dist(a, point) + math.dist(point, b) - math.dist(a, b)) < 1e-6
        for a, b in zip(points, points[1:])
    )


def test_the_symbol_sheet_is_sound():
    sheet = symbol_sheet()
    assert checks.overlaps(sheet) == ()
    assert checks.wires_through(sheet) == ()
    assert checks.outside_frame(sheet) == ()


def test_a_bus_takes_its_size_from_its_box():
    bus = shape_of(Symbol("bus", Box(1, 1, 1.0625, 4), "MP"))
    assert (bus.width, bus.height) == (pytest.approx(0.0625, abs=0.001), 3)


def test_stock_elements_come_from_schemdraw_scaled_and_turned_downwards():
    cells = [s for s in stock_strokes("Battery", 1.0, 0.0, 0.0) if isinstance(s, Polyline)]
    assert len(cells) == 4
    arc = [s for s in stock_strokes("Breaker", 1.0, 0.0, 0.0) if isinstance(s, Polyline)]
    assert min(y for _, y in arc[0].points) == pytest.approx(-0.325)


def test_a_terminal_is_found_by_name_and_an_unknown_one_is_an_error():
    symbol = place("disconnect", 2, 3)
    assert terminal_point(symbol, "out") == (2.625, 3.25)
    with pytest.raises(KeyError, match="no terminal"):
        terminal_point(symbol, "third")
