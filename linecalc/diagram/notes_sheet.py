"""A sheet of notes, abbreviations and legend alone, where the sheets of the diagram have no room for them."""

from __future__ import annotations

from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.plan import Plan
from linecalc.diagram.scene import Box, Item, Outline, Rule, Scene
from linecalc.diagram.surround import FRAME, PAD_IN, SIDE_INNER_IN, SIDE_WIDTH_IN, SIDE_X, group_makers
from linecalc.diagram.title_block import title_group

_COLUMNS = 2
_GAP_IN = 0.3


def notes_scene(plan: Plan, kinds: tuple[str, ...]) -> Scene | None:
    """All groups of text, from the left, in columns read downwards; None where they take more than a sheet."""
    block = plan.title_block
    title = title_group(block, SIDE_WIDTH_IN, CAP_REVIEW_IN, CAP_MIN_IN)
    title_top = FRAME.y1 - title.height
    items: list[Item] = [
        Outline("frame", FRAME), Rule(SIDE_X, FRAME.y0, SIDE_X, FRAME.y1, heavy=True), *title.at(SIDE_X, title_top),
    ]
    columns = _columns(title_top)
    y = FRAME.y0 + PAD_IN
    for make in group_makers(plan.blocks, plan.abbreviations, tuple(dict.fromkeys(kinds))):
        group = make(columns[0].width())
        while y + group.height > columns[0].y1:
            columns = columns[1:]
            if not columns:
                return None
            y = FRAME.y0 + PAD_IN
            group = make(columns[0].width())
        items.extend(group.at(columns[0].x0, y))
        y += group.height + _GAP_IN
    return Scene(tuple(items), f"{block.title}: {block.sheet_title}", plan.description, block.sheet, notes=plan.notes)


def _columns(title_top: float) -> tuple[Box, ...]:
    """The columns of a sheet: as wide as each other at the left, the last one above the title block."""
    pitch = (SIDE_X - FRAME.x0 - 2 * PAD_IN + _GAP_IN) / _COLUMNS
    starts = [FRAME.x0 + PAD_IN + number * pitch for number in range(_COLUMNS)]
    wide = [Box(x, FRAME.y0, x + pitch - _GAP_IN, FRAME.y1 - PAD_IN) for x in starts]
    side = Box(SIDE_X + PAD_IN, FRAME.y0, SIDE_X + PAD_IN + SIDE_INNER_IN, title_top - PAD_IN)
    return (*wide, side)
