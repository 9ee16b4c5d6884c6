"""Wrap the text of each thing to the room that its style and its column give."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from linecalc.diagram.balloons import balloon
from linecalc.diagram.columns import (
    LEAF_TEXT_GAP,
    REFERENCE_WIDTH,
    STACK_TEXT_X,
    UNIT_TEXT_WIDTH,
    Columns,
    Cutting,
    Density,
    UnitText,
    symbol_width,
)
from linecalc.diagram.fonts import LINE_PITCH, shorten, text_width_in, wrap, wrap_to
from linecalc.diagram.lists import in_columns, run_on
from linecalc.diagram.plan import PlanNode, Style, nodes_of, text_above
from linecalc.diagram.scene import snap_up
from linecalc.diagram.symbols import shape

#: In settings with gaps this small, the text beside a leaf stands on one line where it can.
_ONE_LINE_BELOW = 0.1
#: A panel carries the arithmetic of its bus: its text is never cut.
_ALL_LINES = 40
_HEAD_LINES = 3
_GROUND_LINES = 4
_BOXES = ("junction", "combiner")
_BOX_LINES = 2
_WISH_MAX = 3.5
_TEXT_MAX = 6.0
#: The text of a leaf for several circuits: on so many lines, or so wide at most; in settings with gaps, in tight ones.
_GROUP_ROOMY, _GROUP_TIGHT = (8, 6.0), (4, 7.5)
#: From the wire to the foot of the text beside a leaf, at most.
_CLEAR_OF_LEAF = 0.25
#: Room before and after the text beside a leaf.
LEAF_MARGIN = LEAF_TEXT_GAP + 0.1


@dataclass(frozen=True, slots=True)
class Label:
    """Wrapped text: the head line (or lines) in the larger size, then the rest.

    ``complete`` tells that nothing was cut.  ``columns`` stand below the head in place of the rest, each with its
    distance from the left.
    """

    head: tuple[str, ...]
    rest: tuple[str, ...]
    complete: bool = True
    columns: tuple[tuple[float, tuple[str, ...]], ...] = ()

    def height(self, density: Density) -> float:
        """From the top of the first accent to the lowest descender."""
        total = len(self.head) * density.head_in * LINE_PITCH
        lines = max([len(self.rest), *(len(lines) for _, lines in self.columns)])
        return total + lines * density.text_in * LINE_PITCH


NO_LABEL = Label((), ())


def wrap_label(node: PlanNode, column: int, columns: Columns, density: Density) -> Label:
    """The text of any thing but a panel, wrapped to its room."""
    if not node.label:
        return NO_LABEL
    if node.style is Style.LEAF:
        return _leaf_label(node, column, columns, density)
    if node.style is Style.REFERENCE:
        return _reference_label(node, column, columns, density)
    if node.style is Style.UNIT:
        return _unit_label(node, column, columns, density)
    if node.style is Style.INLINE and _ends_beyond(node):
        one = _line_below(node, column, columns, density)
        if one is not None:
            return one
    if _is_small_box(node):
        return _box_label(node, columns.pitch(column), density)
    return _together(node.label[:1], node.label[1:], columns.pitch(column), density, density.label_lines)


def _box_label(node: PlanNode, width: float, density: Density) -> Label:
    """The text of a small box: line by line, or where one line is wanted all after its head run together."""
    rest = node.label[1:]
    if density.cutting is Cutting.ALLOWED:
        return _together(node.label[:1], rest, width, density, density.box_lines)
    if density.box_lines == 1 and rest:
        rest = ("; ".join(rest),)
    return _together(node.label[:1], rest, width, density, _ALL_LINES)


def _ends_beyond(node: PlanNode) -> bool:
    """Whether the wire beyond an inline thing leads to a leaf only, so that the room below that wire is free."""
    return len(node.branches) == 1 and node.branches[0].node.style is Style.LEAF and not text_above(node)


def _line_below(node: PlanNode, column: int, columns: Columns, density: Density) -> Label | None:
    """In tight settings the text of a thing ahead of a leaf on one line below it and its wire, where it fits."""
    line = "; ".join(node.label)
    room = columns.right - 0.1 - columns.x[column]
    low = shape(node.symbol).height / 2 < _CLEAR_OF_LEAF
    if low or density.row_gap_in > _ONE_LINE_BELOW or text_width_in(line, density.text_in) > room:
        return None
    return Label((), (line,))


def _is_small_box(node: PlanNode) -> bool:
    """Junction boxes and combiners between strings and their inputs, which have no arithmetic of their own."""
    if node.symbol not in _BOXES:
        return False
    return not any(beyond.style in (Style.BUS, Style.UNIT) for beyond in nodes_of(node))


def panel_label(node: PlanNode, width: float, density: Density, below: float = 0.0) -> Label:
    """The text of a panel, wrapped to a width and never cut after its head; from its third line on with *below* more room."""
    if not node.label:
        return NO_LABEL
    first = _together(node.label[:1], node.label[1:2], width, density, _ALL_LINES)
    further = _together((), node.label[2:], width + below, density, _ALL_LINES)
    return replace(first, rest=(*first.rest, *further.rest))


def stacked_label(lines: tuple[str, ...], column: int, columns: Columns, density: Density) -> Label:
    """The text beside a symbol of a stack."""
    width = columns.pitch(column) - STACK_TEXT_X
    return _together(lines[:1], lines[1:], width, density, density.label_lines)


def stack_item_height(label: Label, density: Density) -> float:
    """Height of one symbol of a stack with its text, and the wire to the next."""
    return snap_up(max(0.5, label.height(density)) + 0.1875)


def stack_height(stack: tuple[Label, ...], density: Density) -> float:
    """Height of a stack from its top to the anchor below it."""
    return sum(stack_item_height(label, density) for label in stack)


def ground_label(node: PlanNode, column: int, columns: Columns, density: Density) -> Label:
    """The text below the electrode of a thing, on at most four lines."""
    if not node.electrode:
        return NO_LABEL
    return _together((), (node.electrode,), columns.pitch(column), density, _GROUND_LINES)


def _together(
    head: tuple[str, ...], rest: tuple[str, ...], width: float, density: Density, most: int
) -> Label:
    """Head and rest wrapped, the rest to so many lines at most."""
    heads = [piece for line in head for piece in wrap(line, width, density.head_in)]
    rests = [piece for line in rest for piece in wrap(line, width, density.text_in) if line]
    most_heads = _HEAD_LINES if density.cutting is Cutting.ALLOWED else _ALL_LINES
    complete = len(heads) <= most_heads and len(rests) <= most
    top = wrap_to(head[0], width, density.head_in, most_heads) if head else ()
    return Label(top, _limited(rests, most, width, density), complete)


def _limited(lines: list[str], most: int, width: float, density: Density) -> tuple[str, ...]:
    """At most so many lines; what is left out shows as an ellipsis, none at all for no lines."""
    if len(lines) <= most:
        return tuple(lines)
    if most == 0:
        return ()
    rest = " ".join(lines[most - 1 :])
    return (*lines[: most - 1], shorten(rest, width, density.text_in))


def _unit_label(node: PlanNode, column: int, columns: Columns, density: Density) -> Label:
    """Inside the unit line by line, above it with all after the head on one line."""
    if density.unit_text is UnitText.INSIDE:
        return _together(node.label[:1], node.label[1:], UNIT_TEXT_WIDTH, density, density.label_lines)
    rest = ("; ".join(node.label[1:]),) if len(node.label) > 1 else ()
    width = columns.right - 0.1 - columns.x[column]
    return _together(node.label[:1], rest, width, density, density.label_lines)


def _reference_label(node: PlanNode, column: int, columns: Columns, density: Density) -> Label:
    """The text of a reference: below it at the start of a piece, beside it at the end of a wire."""
    if node.branches:
        return _together((), node.label, columns.pitch(column), density, len(node.label))
    room = columns.right - 0.1 - columns.x[column] - REFERENCE_WIDTH - LEAF_TEXT_GAP
    return _together((), (_reference_line(node),), room, density, 1)


def _reference_line(node: PlanNode) -> str:
    """The text of a reference on one line."""
    return ", ".join(node.label)


def _leaf_label(node: PlanNode, column: int, columns: Columns, density: Density) -> Label:
    """The text beside a leaf, in the room from its symbol to the end of the drawing."""
    room = columns.right - columns.x[column] - symbol_width(node, density) - LEAF_MARGIN
    return group_label(node, room, density) if node.circuits > 1 else leaf_label(node.label, room, density)


def group_label(node: PlanNode, width: float, density: Density) -> Label:
    """The text beside a leaf that stands for several circuits, never cut: in columns, or one after the other if long."""
    head = _together(node.label[:1], (), width, density, _ALL_LINES)
    columns = in_columns(node.label[1:], width, density.text_in)
    if columns:
        return replace(head, columns=columns)
    return replace(head, rest=run_on(node.label[1:], width, density.text_in))


@lru_cache(maxsize=20_000)
def leaf_label(label: tuple[str, ...], width: float, density: Density) -> Label:
    """On one line where the setting is tight and it fits, else on several."""
    one = "; ".join(label)
    fits = text_width_in(one, density.text_in) <= width
    if density.leaf_lines == 1 or (fits and density.row_gap_in <= _ONE_LINE_BELOW):
        return Label((), wrap_to(one, width, density.text_in, 1), fits)
    rest = "; ".join(label[1:])
    rests = wrap(rest, width, density.text_in) if rest else ()
    if density.row_gap_in <= _ONE_LINE_BELOW:
        lines = (*wrap(label[0], width, density.text_in), *rests)
        return Label((), _limited(list(lines), density.leaf_lines, width, density), len(lines) <= density.leaf_lines)
    head = wrap(label[0], width, density.head_in)
    if len(head) + len(rests) <= density.leaf_lines:
        return Label(head, rests)
    most = density.leaf_lines - 1
    return Label(wrap_to(label[0], width, density.head_in, 1), wrap_to(rest, width, density.text_in, most), False)


def leaf_text_wish(node: PlanNode, density: Density) -> float:
    """Width with which the text beside a leaf or a reference wraps least, at most 3.5 in."""
    if node.style is Style.REFERENCE:
        return text_width_in(_reference_line(node), density.text_in)
    if node.circuits > 1:
        lines, widest = _GROUP_TIGHT if density.row_gap_in <= _ONE_LINE_BELOW else _GROUP_ROOMY
        return min(max(_WISH_MAX, _all_width(node, density) / lines), widest)
    head = text_width_in(node.label[0], density.head_in)
    rest = text_width_in("; ".join(node.label[1:]), density.text_in)
    return min(max(head, rest) + 0.001, _WISH_MAX)


def leaf_text_least(node: PlanNode, density: Density) -> float:
    """The narrowest width in which nothing of the text beside a leaf or a reference is cut."""
    if node.style is Style.REFERENCE:
        return text_width_in(_reference_line(node), density.text_in) + 0.001
    if node.circuits > 1:
        return min(_all_width(node, density) + 0.001, _WISH_MAX)
    return _least_width(node.label, density)


def _all_width(node: PlanNode, density: Density) -> float:
    """Width of all that is said of a leaf, on one line."""
    return max(text_width_in("; ".join(node.label[1:]), density.text_in), text_width_in(node.label[0], density.head_in))


@lru_cache(maxsize=20_000)
def _least_width(label: tuple[str, ...], density: Density) -> float:
    width = 0.5
    while width < _TEXT_MAX and not leaf_label(label, width, density).complete:
        width += 0.125
    return width


def tag_width(run_tag: str, density: Density) -> float:
    """Width of the balloon around a run tag, or around those of several runs."""
    return snap_up(max(0.25, text_width_in(balloon(run_tag), density.text_in) + 0.12)) if run_tag else 0.0
