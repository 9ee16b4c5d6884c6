"""The charts of the study: stored energy over the outage, hours by starting hour, cost against hours."""

from __future__ import annotations

from html import escape

from linecalc.options.answer import measure
from linecalc.options.content import Content
from linecalc.options.energy import trace_of
from linecalc.options.frame import DASHES, HEIGHT, WIDTH, Point, Region, at, axes, label_place, legends, nice, svg, text
from linecalc.options.outage import STEP_H
from linecalc.options.records import Result, Verdict
from linecalc.options.run import sun_words

MANY = 100
_MARKS = {Verdict.PASSES: ("#fff", ""), Verdict.UNSETTLED: ("#fff", "2 2"), Verdict.FAILS: ("#bbb", "")}


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
            lines.append((f"{row.season}, from {start} h", points))
    return _lines("Stored energy over the outage", "hours since the outage began", "stored energy, kWh", lines, settings.horizon_h)


def starts_chart(content: Content, result: Result) -> str:
    """Hours carried by starting hour and season."""
    settings = content.answered.context.settings
    lines = [(found.season, [(float(hour), hours) for hour, hours in enumerate(found.by_start_h)]) for found in result.carried(settings.sun, True)]
    return _lines(f"Hours carried by starting hour, {sun_words(settings.sun)}, aged storage", "hour of the day at which the outage begins", "hours carried", lines, 24.0)


def pareto_chart(content: Content) -> str:
    """Cost (or parts, where a price is not known) against hours carried; the front is filled, the first choice ringed."""
    settings = content.answered.context.settings
    known = [found for found in content.answered.results if found.hours]
    if not known:
        return ""
    priced = all(found.bill.middle is not None for found in known)
    places = [(found, *_place(found, measure(found, settings).hours, priced)) for found in known]
    right, top = nice(max(place[1] for place in places)), nice(max(place[2] for place in places))
    name = f"cost, middle of its range, {content.answered.context.options.currency}" if priced else "units and storage modules"
    body = [*axes(name, "hours carried, least", right, top), *_pareto_legend()]
    front = {found.candidate.name for found in content.answer.front}
    winner = content.answer.winner
    points = sorted(((found, *at(cost, hours, right, top)) for found, cost, hours in places), key=lambda point: (point[0].candidate.name in front, point[0] is winner))
    size = 4.5 if len(points) <= MANY else 2.5
    body += [_point(found, x, y, size, found.candidate.name in front, found is winner, settings.sun) for found, x, y in points]
    in_the_way = [point for point in points if len(points) <= MANY or point[0].candidate.name in front]
    taken: list[Region] = [(x - size, y - size, x + size, y + size) for _, x, y in in_the_way]
    for found, x, y in reversed(points):
        if found.candidate.name in front:
            spot = label_place(x, y, found.candidate.name, taken)
            body += [] if spot is None else [f'<g stroke="#fff" stroke-width="3" paint-order="stroke">{text(*spot, found.candidate.name)}</g>']
    return svg("Cost and hours of every candidate", WIDTH, HEIGHT, body)


def _place(found: Result, hours: float, priced: bool) -> Point:
    parts = float(found.candidate.units + found.candidate.storage_modules)
    return (found.bill.middle if priced and found.bill.middle is not None else parts), hours


def _point(found: Result, x: float, y: float, size: float, on_front: bool, chosen: bool, sun: str) -> str:
    fill, dash = _MARKS[found.verdict]
    tip = escape(f"{found.candidate.name}: {found.least_hours(sun) or 0.0:.1f} h, {found.verdict.value}")
    ring = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{size + 3.5:g}" fill="none" stroke="#000"/>' if chosen else ""
    return f'{ring}<circle cx="{x:.1f}" cy="{y:.1f}" r="{size:g}" fill="{"#000" if on_front else fill}" stroke="#000" stroke-width="{size / 4.5:.2g}" stroke-dasharray="{dash}"><title>{tip}</title></circle>'


def _pareto_legend() -> list[str]:
    keys = (("#000", "", "Pareto front"), ("#fff", "", "passes"), ("#fff", "2 2", "not settled"), ("#bbb", "", "fails"))
    body = []
    x = 12.0
    for fill, dash, words in keys:
        body += [f'<circle cx="{x:.1f}" cy="12" r="4.5" fill="{fill}" stroke="#000" stroke-dasharray="{dash}"/>', text(x + 9.0, 16.0, words)]
        x += 34.0 + 7.2 * len(words)
    body += ['<circle cx="12" cy="31" r="8" fill="none" stroke="#000"/><circle cx="12" cy="31" r="4.5" fill="#000"/>', text(25.0, 35.0, "first choice")]
    return body


def _lines(title: str, across: str, up: str, lines: list[tuple[str, list[Point]]], right: float) -> str:
    top = nice(max((y for _, points in lines for _, y in points), default=0.0))
    body = axes(across, up, right, top)
    drawn = _alike(lines)
    for index, (_, points) in enumerate(drawn):
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in (at(*point, right, top) for point in points))
        body.append(f'<polyline points="{path}" fill="none" stroke="#000" stroke-width="1.6" stroke-dasharray="{DASHES[index % len(DASHES)]}"/>')
    body += legends([name for name, _ in drawn])
    return svg(title, WIDTH, HEIGHT, body)


def _alike(lines: list[tuple[str, list[Point]]]) -> list[tuple[str, list[Point]]]:
    """Lines that lie on each other are drawn once, under the names of all of them."""
    found: list[tuple[list[str], list[Point]]] = []
    for name, points in lines:
        same = next((names for names, other in found if all(abs(a[1] - b[1]) < 1e-6 for a, b in zip(points, other, strict=True))), None)
        if same is None:
            found.append(([name], points))
        else:
            same.append(name)
    return [(_together(names), points) for names, points in found]


def _together(names: list[str]) -> str:
    """``spring, fall, from 13 h``: what the names share at their end stands once."""
    parts = [name.partition(", ") for name in names]
    tails = {tail for _, _, tail in parts}
    if len(names) == 1 or tails == {""}:
        return ", ".join(names)
    return f"{', '.join(head for head, _, _ in parts)}, {tails.pop()}" if len(tails) == 1 else "; ".join(names)
