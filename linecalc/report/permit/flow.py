"""Items through columns and pages: how much each page leaves free so that all are equally full.

The columns are filled here as the template fills them: a heading stays with
what follows, a low table is never broken, a paragraph leaves no single line.
Lengths are inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN, font_size_in
from linecalc.report.permit.items import Flow, Heading, Item, Lines, Listing, Shelf
from linecalc.report.permit.listings import shelf_height
from linecalc.report.permit.typeset import LINE_IN, in_lines

_EM_IN = font_size_in(CAP_MIN_IN)
#: Space above and below a paragraph, a heading, a small heading and a table; as in the template.
_PARAGRAPH_IN = (0.58 * _EM_IN, 0.58 * _EM_IN)
_HEADING_IN = (1.0 * _EM_IN, 0.55 * _EM_IN)
_SMALL_HEADING_IN = (0.8 * _EM_IN, 0.45 * _EM_IN)
_TABLE_IN = (0.8 * _EM_IN, 0.9 * _EM_IN)
#: Headings up to this level have the larger letters, up to the next the larger space.
_LARGE = 2
#: What the heading of the sheet takes of the columns of its first page.
_SHEET_HEADING_IN = 0.2
#: Left to the template at the end of each column.
_SLACK_IN = 0.1
_HALVINGS = 12
_FEWEST_LINES = 2


@dataclass(frozen=True, slots=True)
class _Piece:
    """What an item takes of a column: its own height, the space around it, the least of it that may stand at a column's end."""

    height: float
    around: tuple[float, float]
    least: float
    sticky: bool = False


def flow(columns: int, items: Iterable[Item], width: float, height: float) -> Flow:
    """Items for columns of a width on pages that leave ``height`` to a column."""
    found = in_lines(items, width)
    pieces = [_piece(item) for item in found]
    pages = math.ceil(_columns_filled(pieces, height - _SLACK_IN, columns) / columns)
    low, high = 0.0, height - _SLACK_IN
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        fits = middle > height / 4 and _columns_filled(pieces, middle, columns) <= pages * columns
        low, high = (low, middle) if fits else (middle, high)
    return Flow(columns, found, round(height - _SLACK_IN - high, 3))


def _columns_filled(pieces: list[_Piece], height: float, first: int) -> int:
    """How many columns of a height the pieces fill; the first ones are lower by the heading of the sheet."""
    filled, start = 1, _SHEET_HEADING_IN
    top: float = start
    below: float | None = None
    ahead: list[_Piece] = []
    for piece in pieces:
        ahead.append(piece)
        if piece.sticky:
            continue
        if top + _together(ahead, below) - piece.height + piece.least > height and top > start:
            filled, start = filled + 1, _SHEET_HEADING_IN if filled < first else 0.0
            top, below = start, None
        top += _together(ahead, below)
        while top > height and piece.least < piece.height:
            filled, start = filled + 1, _SHEET_HEADING_IN if filled < first else 0.0
            top = start + max(top - height, _FEWEST_LINES * LINE_IN)
        below, ahead = piece.around[1], []
    return filled


def _together(pieces: list[_Piece], below: float | None) -> float:
    """The height of pieces that stay together, with the space between them and, but at the top of a column, above them."""
    total = 0.0
    for piece in pieces:
        total += piece.height + (0.0 if below is None else max(below, piece.around[0]))
        below = piece.around[1]
    return total


def _piece(item: Item) -> _Piece:
    if isinstance(item, Lines):
        count = len(item.lines)
        whole = CAP_MIN_IN + (count - 1) * LINE_IN
        return _Piece(whole, _PARAGRAPH_IN, whole if count <= _FEWEST_LINES + 1 else CAP_MIN_IN + LINE_IN, item.sticky)
    if isinstance(item, Heading):
        letters = CAP_REVIEW_IN if item.level <= _LARGE else CAP_MIN_IN
        return _Piece(letters, _HEADING_IN if item.level <= _LARGE + 1 else _SMALL_HEADING_IN, letters, sticky=True)
    if isinstance(item, Listing | Shelf):
        return _table(shelf_height(item), item.whole)
    return _Piece(0.0, (0.0, 0.0), 0.0)


def _table(height: float, whole: bool) -> _Piece:
    own = height - _TABLE_IN[1]
    return _Piece(own, _TABLE_IN, own if whole else min(own, 4 * LINE_IN))
