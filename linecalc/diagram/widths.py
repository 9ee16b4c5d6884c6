"""Give every thing of a plan its column: how wide it is, and how far the next one stands from it.

The tree grows to the right.  Every thing has a column by its distance from the utility; strings
and storage modules share the last one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.diagram.columns import (
    COLUMN_GAP,
    STACK_TEXT_X,
    Columns,
    Cutting,
    Density,
    ratings_interlock,
    symbol_width,
)
from linecalc.diagram.fonts import text_width_in
from linecalc.diagram.label_text import LEAF_MARGIN, leaf_text_least, leaf_text_wish, tag_width
from linecalc.diagram.plan import Branch, PlanNode, Style

#: Wires are not stretched by more than this between two columns, in inches.
_STRETCH_MAX = 1.5
#: Where texts may be cut, what is beside the last column gets at least this.
_LEAST_TEXT = 1.25
#: The text below an inline thing: so wide at least, and more where a line of it would wrap more often than this.
_INLINE_TEXT, _INLINE_TEXT_MAX, _INLINE_LINES = 0.8, 1.6, 5
_STACK_TEXT = 0.9


@dataclass(frozen=True, slots=True)
class Needs:
    """Least widths of the columns and of the wires between them, and of the text after the last.

    ``wish`` is the width with which no text after the last column would wrap.
    """

    columns: tuple[float, ...]
    wires: tuple[float, ...]
    text: float
    wish: float

    def total(self) -> float:
        """Width below which the tree cannot be set."""
        return sum(self.columns) + sum(self.wires) + self.text


def needs_of(root: PlanNode, density: Density) -> Needs:
    """What a tree needs in width."""
    placed = tuple(_columned(root, 0))
    last = max(column for _, column in placed)
    widths, wires = [0.0] * (last + 1), [0.0] * last
    for node, column in placed:
        own = last if node.end else column
        widths[own] = max(widths[own], symbol_width(node, density))
        for branch in node.branches:
            text = _text_need(node, density) - symbol_width(node, density) + COLUMN_GAP
            wires[column] = max(wires[column], edge_need(branch, density), text)
        if node.branches and ratings_interlock(node, density):
            wires[column] = max(wires[column], _interlocked_need(node, density))
    text = wish = 0.0
    for node, column in placed:
        if _has_text_beside(node):
            own = last if node.end else column
            room = _room_before_end(own, symbol_width(node, density), widths, wires)
            text = max(text, _least_text(node, density) + LEAF_MARGIN - room)
            wish = max(wish, leaf_text_wish(node, density) + LEAF_MARGIN - room)
    return Needs(tuple(widths), tuple(wires), text, max(text, wish))


def set_columns(root: PlanNode, density: Density, left: float, right: float) -> Columns | None:
    """Spread the columns over the width; None if they do not fit."""
    needs = needs_of(root, density)
    spare = right - left - needs.total()
    if spare < 0:
        return None
    text = min(needs.wish, needs.text + spare)
    stretch = min((needs.text + spare - text) / max(1, len(needs.wires)), _STRETCH_MAX)
    x = [left]
    for width, wire in zip(needs.columns, needs.wires):
        x.append(x[-1] + width + wire + stretch)
    return Columns(tuple(x), needs.columns, right)


def edge_need(branch: Branch, density: Density) -> float:
    """Least length of wire between a thing and the next column, with rating and run tag."""
    if branch.node.style in (Style.TAP, Style.TURN) and not branch.run_tag:
        return 0.25 + (text_width_in(branch.rating, density.text_in) if branch.rating else 0.0)
    rating = text_width_in(branch.rating, density.text_in) + 0.1 if branch.rating else 0.05
    return rating + tag_width(branch.run_tag, density) + COLUMN_GAP + 0.1


def _interlocked_need(node: PlanNode, density: Density) -> float:
    """Length of wire with which the longest rating of a panel ends ahead of its widest balloon."""
    rating = max(text_width_in(branch.rating, density.text_in) for branch in node.branches)
    return rating + 0.1 + max(tag_width(branch.run_tag, density) for branch in node.branches) + COLUMN_GAP + 0.1


def _columned(node: PlanNode, column: int) -> Iterator[tuple[PlanNode, int]]:
    yield node, column
    for branch in node.branches:
        yield from _columned(branch.node, column + 1)


def _has_text_beside(node: PlanNode) -> bool:
    return node.style is Style.LEAF or (node.style is Style.REFERENCE and not node.branches)


def _room_before_end(column: int, width: float, widths: list[float], wires: list[float]) -> float:
    """From the symbol of a thing to the right edge of the last column: room that its text may use."""
    return sum(widths[column:]) + sum(wires[column:]) - width


def _least_text(node: PlanNode, density: Density) -> float:
    if density.cutting is Cutting.ALLOWED:
        return min(_LEAST_TEXT, leaf_text_wish(node, density))
    return leaf_text_least(node, density)


def _text_need(node: PlanNode, density: Density) -> float:
    """Least width for a thing with its text, in inches."""
    if node.style is Style.REFERENCE:
        return max(text_width_in(line, density.text_in) for line in node.label) + 0.001
    if node.style is Style.INLINE and node.label:
        lines = [text_width_in(line, density.head_in) / _INLINE_LINES for line in node.label]
        return min(max(_INLINE_TEXT, *lines), _INLINE_TEXT_MAX)
    return STACK_TEXT_X + _STACK_TEXT if node.style is Style.STACK else 0.0
