"""Walls and strips of floor drawn to scale: what stands there, what is in the way, distances and working spaces."""

from __future__ import annotations

from html import escape

from linecalc.options.frame import FONT, WIDTH, svg, text, width_of
from linecalc.options.keepout import DOOR_IN, WORKING_HEIGHT_IN
from linecalc.options.records import Layout
from linecalc.project.options_model import Obstacle, Place

_MARGIN = 14.0
_TICKS_IN = (12.0, 24.0, 48.0, 96.0, 240.0)


def layout_drawing(layout: Layout, places: dict[str, Place]) -> str:
    """Every place from the front, one below the other, at one scale."""
    widest = max(place.width.value for place in places.values())
    scale = (WIDTH - 2.0 * _MARGIN) / widest
    body: list[str] = []
    top = 6.0
    for name, place in places.items():
        drawn, bottom = _wall(name, place, layout, scale, top + 18.0)
        body += [text(_MARGIN, top + 11.0, f"{name}: {place.width.value:.0f} in wide{_high(place)}"), *drawn]
        top = bottom + 14.0
    body += _key(top)
    return svg("Where units and storage modules stand, seen from the front, to scale", WIDTH, top + 38.0, body)


def _high(place: Place) -> str:
    return f", {place.height.value:.0f} in high" if place.height is not None else ""


def _wall(name: str, place: Place, layout: Layout, scale: float, top: float) -> tuple[list[str], float]:
    """One place; returns its lower end on the drawing too."""
    boxes = [box for box in layout.boxes if box.place == name]
    tall = place.height.value if place.height is not None else max([96.0, *(box.bottom_in + box.height_in + 12.0 for box in boxes)])
    floor = top + tall * scale
    clip_high, wide = tall * scale, place.width.value * scale
    body = [f'<rect x="{_MARGIN:.1f}" y="{top:.1f}" width="{wide:.1f}" height="{clip_high:.1f}" fill="#fff" stroke="#000"/>']
    for found in place.obstacle.values():
        body += _kept_free(found, place, tall, scale, floor)
    for space in layout.working:
        if space.place == name:
            high = min(WORKING_HEIGHT_IN, tall) * scale
            body.append(f'<rect x="{_MARGIN + space.left_in * scale:.1f}" y="{floor - high:.1f}" width="{(space.right_in - space.left_in) * scale:.1f}" height="{high:.1f}" fill="none" stroke="#000" stroke-dasharray="2 3"/>')
    for tag, found in place.obstacle.items():
        bottom, upper = _edges(found, tall)
        words = tag if found.kind in tag or found.kind == "other" else f"{tag} ({found.kind})"
        body += _box(words, _MARGIN + found.left.value * scale, floor - upper * scale, found.width.value * scale, (upper - bottom) * scale, "#ddd")
    for box in boxes:
        body += _box(box.tag, _MARGIN + box.left_in * scale, floor - (box.bottom_in + box.height_in) * scale, box.width_in * scale, box.height_in * scale, "#fff", "2")
    return [*body, *_ruler(place, scale, floor)], floor + 22.0


def _edges(found: Obstacle, tall: float) -> tuple[float, float]:
    bottom = found.bottom.value if found.bottom is not None else 0.0
    usual = 80.0 if found.kind == "door" else tall
    return bottom, min(bottom + found.height.value, tall) if found.height is not None else min(max(usual, bottom), tall)


def _kept_free(found: Obstacle, place: Place, tall: float, scale: float, floor: float) -> list[str]:
    """The distance to a door or window, within the wall."""
    if found.kind not in ("door", "window"):
        return []
    keep = found.clear.value if found.clear is not None else DOOR_IN
    bottom, upper = _edges(found, tall)
    left, right = max(found.left.value - keep, 0.0), min(found.left.value + found.width.value + keep, place.width.value)
    low, high = max(bottom - keep, 0.0), min(upper + keep, tall)
    return [
        f'<rect x="{_MARGIN + left * scale:.1f}" y="{floor - high * scale:.1f}" width="{(right - left) * scale:.1f}" height="{(high - low) * scale:.1f}" fill="#f3f3f3" stroke="#777" stroke-dasharray="6 4"/>'
    ]


def _ruler(place: Place, scale: float, floor: float) -> list[str]:
    """Feet along the floor."""
    step = next((found for found in _TICKS_IN if found * scale >= 30.0), _TICKS_IN[-1])
    body = []
    for number in range(int(place.width.value // step) + 1):
        x = _MARGIN + number * step * scale
        words = f"{number * step / 12.0:g}" if number else "0 ft"
        body += [f'<path d="M{x:.1f},{floor:.1f} v5" stroke="#000"/>', text(x, floor + 17.0, words, "middle")]
    return body


def _box(words: str, x: float, y: float, width: float, height: float, fill: str, stroke: str = "1") -> list[str]:
    """A rectangle with its name, upright where it is too narrow for it, smaller where neither fits."""
    size = FONT
    long = max(width, height)
    upright = width_of(words) > width - 2.0 and height > width
    if width_of(words) > (height if upright else width) - 2.0:
        size = max(FONT * (long - 2.0) / width_of(words), 8.0)
    x0, y0 = x + width / 2.0, y + height / 2.0
    turned = f' transform="rotate(-90 {x0:.1f} {y0:.1f})"' if upright else ""
    return [
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" fill="{fill}" stroke="#000" stroke-width="{stroke}"/>',
        f'<text x="{x0:.1f}" y="{y0 + size * 0.35:.1f}" text-anchor="middle" font-size="{size:.1f}"{turned}>{escape(words)}</text>',
    ]


def _key(top: float) -> list[str]:
    return [
        f'<rect x="{_MARGIN:.1f}" y="{top:.1f}" width="26" height="12" fill="none" stroke="#000" stroke-dasharray="2 3"/>',
        text(_MARGIN + 32.0, top + 11.0, "working space before a unit, 36 in deep"),
        f'<rect x="{_MARGIN:.1f}" y="{top + 18.0:.1f}" width="26" height="12" fill="#f3f3f3" stroke="#777" stroke-dasharray="6 4"/>',
        text(_MARGIN + 32.0, top + 29.0, "kept free around doors and windows"),
    ]
