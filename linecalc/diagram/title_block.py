"""The title block: job, sheet, edition, revisions, and the caution above it."""

from __future__ import annotations

from linecalc.diagram.fonts import LINE_PITCH, ascent_in, shorten, wrap_to
from linecalc.diagram.plan import TitleBlock
from linecalc.diagram.scene import Box, Group, Item, Outline, Rule, Text

_PAD = 0.08
_SHEET_CAP_IN = 0.25


def title_group(block: TitleBlock, width: float, review_in: float, cap_in: float) -> Group:
    """The title block as a group of the given width; its height follows its content."""
    items: list[Item] = []
    y = 0.0
    inner = width - 2 * _PAD
    y = _paragraph(items, block.caution, y, inner, review_in, 6)
    items.append(Rule(0, y, width, y, heavy=True))
    y = _paragraph(items, block.title, y, inner, 0.15, 2)
    for line in block.lines:
        y = _paragraph(items, line, y - 0.06, inner, cap_in, 2)
    items.append(Rule(0, y, width, y))
    if block.revisions:
        y = _revisions(items, block.revisions, y, width, cap_in)
    y = _sheet_rows(items, block, y, width, review_in, cap_in)
    items.insert(0, Outline("title", Box(0, 0, width, y)))
    return Group(width, y, tuple(items))


def _paragraph(items: list[Item], text: str, y: float, width: float, cap_in: float, most: int) -> float:
    """Add a paragraph below *y* and return where the next thing may begin."""
    lines = wrap_to(text, width, cap_in, most)
    items.append(Text(_PAD, y + _PAD / 2 + ascent_in(cap_in), lines, cap_in, role="title"))
    return y + _PAD / 2 + len(lines) * cap_in * LINE_PITCH + _PAD / 2


def _revisions(
    items: list[Item], revisions: tuple[tuple[str, str, str], ...], y: float, width: float, cap_in: float
) -> float:
    """Up to four revisions, the last ones."""
    height = cap_in * 1.75
    widths = (0.4, 0.95, width - 1.35)
    for row in (("rev.", "date", "revision"), *revisions[-4:]):
        x = 0.0
        for cell, cell_width in zip(row, widths):
            text = shorten(cell, cell_width - _PAD, cap_in)
            if text:
                items.append(Text(x + _PAD / 2, y + (height + cap_in) / 2, (text,), cap_in, role="title"))
            x += cell_width
        y += height
        items.append(Rule(0, y, width, y))
    return y


def _sheet_rows(
    items: list[Item], block: TitleBlock, y: float, width: float, review_in: float, cap_in: float
) -> float:
    """Sheet title and edition on the left, the sheet number large on the right."""
    divide = width - 1.15
    start = y
    left = divide - 2 * _PAD
    y = _paragraph(items, block.sheet_title, y, left, review_in, 2)
    y = _paragraph(items, block.edition, y - 0.06, left, review_in, 1)
    y = _paragraph(items, block.checked, y - 0.06, left, cap_in, 3)
    middle = divide + 1.15 / 2
    y = max(y, start + 0.75)
    number_y = start + (y - start) / 2 + _SHEET_CAP_IN / 2 - 0.06
    items.append(Text(middle, number_y, (block.sheet,), _SHEET_CAP_IN, "middle", role="title"))
    items.append(Text(middle, y - 0.06, (block.sheet_count,), cap_in, "middle", role="title"))
    items.append(Rule(divide, start, divide, y))
    return y
