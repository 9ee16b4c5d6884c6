"""Set tables and blocks of text into groups of items."""

from __future__ import annotations

from linecalc.diagram.fonts import LINE_PITCH, ascent_in, shorten, text_width_in, wrap
from linecalc.diagram.plan import Table, TextBlock
from linecalc.diagram.scene import Box, Group, Item, Outline, Rule, Text

_PAD = 0.05
_HEADING_GAP = 0.06


def row_height(cap_in: float) -> float:
    """Height of a table row with one line of text."""
    return round(cap_in * 1.75, 3)


def column_widths(table: Table, cap_in: float) -> list[float]:
    """Width that each column needs for its longest cell, with padding."""
    widths = []
    for index, column in enumerate(table.columns):
        cells = [column.heading, *(row[index] for row in table.rows)]
        widths.append(max(text_width_in(cell, cap_in) for cell in cells) + 2 * _PAD)
    return widths


def fit_widths(table: Table, cap_in: float, width: float) -> list[float] | None:
    """Column widths within *width*; columns that may shrink give way and wrap. None if it cannot fit."""
    widths = column_widths(table, cap_in)
    excess = sum(widths) - width
    if excess <= 0:
        return widths
    elastic = [index for index, column in enumerate(table.columns) if column.shrink]
    least = {index: max(0.7, text_width_in(table.columns[index].heading, cap_in) + 2 * _PAD) for index in elastic}
    room = {index: widths[index] - least[index] for index in elastic}
    total = sum(max(0.0, value) for value in room.values())
    if total < excess:
        return None
    for index in elastic:
        widths[index] -= excess * max(0.0, room[index]) / total
    return widths


def table_group(table: Table, cap_in: float, width: float, title_in: float) -> Group | None:
    """The table with its title, no wider than *width*; cells wrap. None if it cannot be that narrow."""
    widths = fit_widths(table, cap_in, width)
    if widths is None:
        return None
    total = sum(widths)
    top = title_in * LINE_PITCH + _HEADING_GAP
    items: list[Item] = [
        Text(0, ascent_in(title_in), (shorten(table.title, total, title_in),), title_in, role="heading"),
    ]
    y = top
    for number, cells in enumerate([tuple(column.heading for column in table.columns), *table.rows]):
        if number:
            items.append(Rule(0, y, total, y, heavy=number == 1))
        wrapped = [wrap(cell, width - 2 * _PAD + 0.001, cap_in) for cell, width in zip(cells, widths)]
        items.extend(_row_items(wrapped, widths, y, cap_in))
        y += row_height(cap_in) + (max(len(lines) for lines in wrapped) - 1) * cap_in * LINE_PITCH
    x = 0.0
    for column_width in widths[:-1]:
        x += column_width
        items.append(Rule(x, top, x, y))
    items.append(Outline("table", Box(0, top, total, y)))
    return Group(total, y, tuple(items))


def _row_items(cells: list[tuple[str, ...]], widths: list[float], y: float, cap_in: float) -> list[Item]:
    items: list[Item] = []
    x = 0.0
    baseline = y + (row_height(cap_in) + cap_in) / 2
    for lines, width in zip(cells, widths):
        if any(lines):
            items.append(Text(x + _PAD, baseline, lines, cap_in, role="table"))
        x += width
    return items


def text_group(block: TextBlock, width: float, heading_in: float, cap_in: float) -> Group:
    """A heading and its paragraphs, wrapped to *width*."""
    items: list[Item] = []
    y = 0.0
    if block.heading:
        heading = wrap(block.heading, width, heading_in)
        items.append(Text(0, ascent_in(heading_in), heading, heading_in, role="heading"))
        y = len(heading) * heading_in * LINE_PITCH + 0.03
    for number, paragraph in enumerate(block.paragraphs, start=1):
        mark = f"{number}." if block.numbered else ""
        indent = text_width_in("10. ", cap_in) if mark else 0.0
        lines = wrap(paragraph, width - indent, cap_in)
        if mark:
            items.append(Text(0, y + ascent_in(cap_in), (mark,), cap_in, role="note"))
        items.append(Text(indent, y + ascent_in(cap_in), lines, cap_in, role="note"))
        y += len(lines) * cap_in * LINE_PITCH + 0.03
    return Group(width, y, tuple(items))


def run_in_group(
    heading: str, entries: tuple[tuple[str, str], ...], width: float, heading_in: float, cap_in: float
) -> Group:
    """Pairs of a short and a long text as one paragraph below a heading."""
    text = "; ".join(f"{key} = {meaning}" for key, meaning in entries)
    return text_group(TextBlock(heading, (text,)), width, heading_in, cap_in)
