"""Charts as plain SVG: state of charge, hours by starting hour, Pareto chart, wall layout. Black, grey and dashes; no colour is needed to read them."""

from __future__ import annotations

import math
from html import escape

from linecalc.options.answer import measure
from linecalc.options.content import Content
from linecalc.options.energy import trace_of
from linecalc.options.outage import STEP_H
from linecalc.options.records import Layout, Result
from linecalc.options.run import sun_words
from linecalc.project.options_model import Place

WIDTH, HEIGHT = 640.0, 300.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 56.0, 30.0, 26.0, 44.0
_STEPS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
_DASHES = ("", "7 4", "2 3", "10 3 2 3")
Point = tuple[float, float]


def charge_chart(content: Content, result: Result) -> str:
    """Stored energy over an outage that begins at the worst hour of each season, with the sun that ranks, aged storage."""
    answered = content.answered
    settings = answered.context.settings
    lines = []
    for row, trace in trace_of(answered.context, answered.built(result), settings, answered.context.profile):
        if row.day.sun == settings.sun and row.aged:
            hours = next(found.by_start_h for found in result.carried(settings.sun, True) if found.season == row.season)
            start = min(range(len(hours)), key=lambda hour: (hours[hour], hour))
            points = [(step * STEP_H, float(energy)) for step, energy in enumerate(trace[:, start])]
            lines.append((f"{row.season}, start {start} h", points))
    return _lines("Stored energy over the outage", "hours", "kWh", lines, settings.horizon_h)


def starts_chart(content: Content, result: Result) -> str:
    """Hours carried by starting hour and season."""
    settings = content.answered.context.settings
    lines = [(found.season, [(float(hour), hours) for hour, hours in enumerate(found.by_start_h)]) for found in result.carried(settings.sun, True)]
    return _lines(f"Hours carried by starting hour, {sun_words(settings.sun)}, aged storage", "starting hour", "hours", lines, 24.0)


def pareto_chart(content: Content) -> str:
    """Cost (or parts, where no price is known) against hours carried; the front is filled."""
    settings = content.answered.context.settings
    known = [found for found in content.answered.results if found.hours]
    if not known:
        return ""
    front = {found.candidate.name for found in content.answer.front}
    priced = all(found.bill.middle is not None for found in known)
    points = []
    for found in known:
        figures = measure(found, settings)
        cost = found.bill.middle if priced and found.bill.middle is not None else float(figures.units + figures.storage_modules)
        points.append((found, cost, figures.hours))
    right, top = _nice(max(point[1] for point in points)), _nice(max(point[2] for point in points))
    name = f"cost, {content.answered.context.options.currency}" if priced else "units and storage modules"
    body = _frame(name, "hours carried", right, top)
    winner = content.answer.winner
    for found, cost, hours in points:
        x, y = _at(cost, hours, right, top)
        on = found.candidate.name in front
        fill = "#000" if on else "#fff" if not found.reasons else "#bbb"
        tip = f"{found.candidate.name}: {hours:.1f} h, {found.verdict.value}"
        body.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{6 if winner is found else 4}" fill="{fill}" stroke="#000"><title>{escape(tip)}</title></circle>')
        if on:
            anchor = "end" if x > WIDTH * 0.7 else "start"
            body.append(f'<text x="{x + (-9 if anchor == "end" else 9):.1f}" y="{y - 7:.1f}" text-anchor="{anchor}">{escape(found.candidate.name)}</text>')
    return _svg("Cost and hours of every candidate; filled: Pareto front, grey: fails", WIDTH, HEIGHT, body)


def layout_drawing(layout: Layout, places: dict[str, Place]) -> str:
    """Walls and strips of floor to scale, with obstacles and what stands there."""
    widest = max(place.width.value for place in places.values())
    scale = (WIDTH - 20.0) / widest
    body: list[str] = []
    top = 20.0
    for name, place in places.items():
        high = (place.height.value if place.height is not None else 96.0) * scale
        floor = top + high
        body.append(f'<rect x="10" y="{top:.1f}" width="{place.width.value * scale:.1f}" height="{high:.1f}" fill="#fff" stroke="#000"/>')
        body.append(f'<text x="10" y="{top - 5:.1f}">{escape(name)}, {place.width.value:.0f} in wide</text>')
        for tag, found in place.obstacle.items():
            bottom = found.bottom.value if found.bottom is not None else 0.0
            tall = found.height.value if found.height is not None else high / scale - bottom
            body += _box(f"{tag} ({found.kind})", 10 + found.left.value * scale, floor - (bottom + tall) * scale, found.width.value * scale, tall * scale, "#ddd")
        for box in layout.boxes:
            if box.place == name:
                body += _box(box.tag, 10 + box.left_in * scale, floor - (box.bottom_in + box.height_in) * scale, box.width_in * scale, box.height_in * scale, "none")
        top = floor + 30.0
    return _svg("Where units and storage modules stand", WIDTH, top, body)


def _box(text: str, x: float, y: float, width: float, height: float, fill: str) -> list[str]:
    return [
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" fill="{fill}" stroke="#000"/>',
        f'<text x="{x + width / 2:.1f}" y="{y + height / 2 + 4:.1f}" text-anchor="middle">{escape(text)}</text>',
    ]


def _lines(title: str, across: str, up: str, lines: list[tuple[str, list[Point]]], right: float) -> str:
    top = max((y for _, points in lines for _, y in points), default=0.0)
    top = _nice(top)
    body = _frame(across, up, right, top)
    for index, (name, points) in enumerate(lines):
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in (_at(*point, right, top) for point in points))
        dash = _DASHES[index % len(_DASHES)]
        body.append(f'<polyline points="{path}" fill="none" stroke="#000" stroke-width="1.5" stroke-dasharray="{dash}"/>')
        key = 10.0 + index * (WIDTH - 10.0) / 4
        body.append(f'<line x1="{key:.1f}" y1="10" x2="{key + 26:.1f}" y2="10" stroke="#000" stroke-width="1.5" stroke-dasharray="{dash}"/>')
        body.append(f'<text x="{key + 30:.1f}" y="14">{escape(name)}</text>')
    return _svg(title, WIDTH, HEIGHT, body)


def _frame(across: str, up: str, right: float, top: float) -> list[str]:
    """Axes with five marks each."""
    x0, y0, x1, y1 = _LEFT, HEIGHT - _BOTTOM, WIDTH - _RIGHT, _TOP
    body = [f'<path d="M{x0},{y1} V{y0} H{x1}" fill="none" stroke="#000"/>']
    for part in range(5):
        share = part / 4
        x, y = x0 + share * (x1 - x0), y0 - share * (y0 - y1)
        body.append(f'<text x="{x:.1f}" y="{y0 + 16}" text-anchor="middle">{_mark(share * right)}</text>')
        body.append(f'<text x="{x0 - 6}" y="{y + 4:.1f}" text-anchor="end">{_mark(share * top)}</text>')
    body.append(f'<text x="{(x0 + x1) / 2}" y="{HEIGHT - 8}" text-anchor="middle">{escape(across)}</text>')
    body.append(f'<text x="14" y="{(y0 + y1) / 2}" text-anchor="middle" transform="rotate(-90 14 {(y0 + y1) / 2})">{escape(up)}</text>')
    return body


def _nice(most: float) -> float:
    """The end of an axis with four round parts, at or above ``most``."""
    if most <= 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(most / 4.0))
    return 4.0 * power * next(step for step in _STEPS if step * power >= most / 4.0 * (1.0 - 1e-9))


def _mark(value: float) -> str:
    return f"{value:,.0f}" if value >= 100.0 else f"{value:.3g}"


def _at(x: float, y: float, right: float, top: float) -> Point:
    return _LEFT + x / right * (WIDTH - _LEFT - _RIGHT), HEIGHT - _BOTTOM - y / top * (HEIGHT - _BOTTOM - _TOP)


def _svg(title: str, width: float, height: float, body: list[str]) -> str:
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" role="img" font-family="sans-serif" font-size="12">'
    return "\n".join([head, f"<title>{escape(title)}</title>", *body, "</svg>"])
