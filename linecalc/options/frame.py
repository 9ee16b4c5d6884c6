"""Axes, legends and text of the charts as plain SVG. Black, grey and dashes; no colour is needed to read them."""

from __future__ import annotations

import math
from html import escape

WIDTH, HEIGHT = 460.0, 290.0
LEFT, RIGHT, TOP, BOTTOM = 54.0, 26.0, 46.0, 42.0
FONT = 13.0
LETTER = 0.56 * FONT
DASHES = ("", "7 4", "2 3", "10 3 2 3")
_STEPS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
_PARTS = 4
Point = tuple[float, float]
Region = tuple[float, float, float, float]


def axes(across: str, up: str, right: float, top: float) -> list[str]:
    """Axes from zero with four parts each, named, with faint lines across."""
    x0, y0, x1, y1 = LEFT, HEIGHT - BOTTOM, WIDTH - RIGHT, TOP
    body = []
    for part in range(_PARTS + 1):
        share = part / _PARTS
        x, y = x0 + share * (x1 - x0), y0 - share * (y0 - y1)
        body.append(f'<path d="M{x0:.1f},{y:.1f} H{x1:.1f}" stroke="#ddd" fill="none"/>')
        body.append(text(x, y0 + 17.0, mark(share * right), "middle"))
        body.append(text(x0 - 6.0, y + 4.0, mark(share * top), "end"))
    body.append(f'<path d="M{x0:.1f},{y1:.1f} V{y0:.1f} H{x1:.1f}" fill="none" stroke="#000"/>')
    body.append(text((x0 + x1) / 2.0, HEIGHT - 6.0, across, "middle"))
    middle = (y0 + y1) / 2.0
    body.append(f'<text x="13" y="{middle:.1f}" text-anchor="middle" transform="rotate(-90 13 {middle:.1f})">{escape(up)}</text>')
    return body


def at(x: float, y: float, right: float, top: float) -> Point:
    """Where a point of the axes lies on the drawing."""
    return LEFT + x / right * (WIDTH - LEFT - RIGHT), HEIGHT - BOTTOM - y / top * (HEIGHT - BOTTOM - TOP)


def legends(names: list[str]) -> list[str]:
    """The keys of lines at the top: two in a row, or one where a name is too wide for half a row."""
    each = 1 if any(width_of(name) > WIDTH / 2.0 - 46.0 for name in names) else 2
    body = []
    for index, name in enumerate(names):
        x, y = 10.0 + (index % each) * (WIDTH / 2.0), 12.0 + (index // each) * 18.0
        body += [f'<path d="M{x:.1f},{y:.1f} h30" stroke="#000" stroke-width="2" stroke-dasharray="{DASHES[index % len(DASHES)]}"/>', text(x + 36.0, y + 4.0, name)]
    return body


def text(x: float, y: float, words: str, anchor: str = "start") -> str:
    """A line of text."""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def width_of(words: str) -> float:
    """About how wide a text is drawn."""
    return len(words) * LETTER


def nice(most: float) -> float:
    """The end of an axis with four round parts, at or above ``most``.

    Examples
    --------
    >>> nice(50.0)
    60.0
    """
    if most <= 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(most / _PARTS))
    return _PARTS * power * next(step for step in _STEPS if step * power >= most / _PARTS * (1.0 - 1e-9))


def mark(value: float) -> str:
    """A number at an axis."""
    return f"{value:,.0f}" if value >= 100.0 else f"{value:.3g}"


def label_place(x: float, y: float, words: str, taken: list[Region]) -> tuple[float, float] | None:
    """Where a label beside a point overlaps nothing that is there already; None where it does everywhere."""
    wide = width_of(words)
    for left, base in ((x + 8.0, y - 7.0), (x - wide - 8.0, y - 7.0), (x + 8.0, y + 16.0), (x - wide - 8.0, y + 16.0), (x - wide / 2.0, y - 12.0), (x - wide / 2.0, y + 22.0)):
        region = (left, base - 11.0, left + wide, base + 3.0)
        inside = left >= LEFT and left + wide <= WIDTH - 2.0 and base - 11.0 >= TOP - 8.0 and base <= HEIGHT - BOTTOM - 2.0
        if inside and not any(region[0] < other[2] and other[0] < region[2] and region[1] < other[3] and other[1] < region[3] for other in taken):
            taken.append(region)
            return left, base
    return None


def svg(title: str, width: float, height: float, body: list[str]) -> str:
    """The whole drawing."""
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" role="img" font-family="sans-serif" font-size="{FONT:g}">'
    return "\n".join([head, f"<title>{escape(title)}</title>", *body, "</svg>"])
