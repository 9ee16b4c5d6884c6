"""Give every thing of a plan its column and its room: widths first, then heights.

The tree grows to the right.  Every thing has a column by its distance from the utility; strings
and storage modules share the last one.  A thing's *anchor* is the height of the wire that enters
it.  Branches of one thing lie below each other and share no height, so no wire needs a bend and
none can cross another.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from linecalc.diagram.fonts import LINE_PITCH, ascent_in, text_width_in, wrap, wrap_to
from linecalc.diagram.plan import Branch, Feed, PlanNode, Style, branches_of, nodes_of
from linecalc.diagram.scene import snap_up
from linecalc.diagram.symbols import shape

PANEL_WIDTH = 1.0
UNIT_WIDTH = 2.375
UNIT_NARROW_WIDTH = 1.375
UNIT_TEXT_X = 0.7
UNIT_TEXT_WIDTH = 1.1
TAP_WIDTH = 0.125
STACK_WIDTH = 0.5
STACK_TEXT_X = 0.6
REFERENCE_WIDTH = 0.375
TAG_HEIGHT = 0.2
#: Room between the boundary line or the run tag and the next column.
COLUMN_GAP = 0.15
BOND_HEIGHT = 0.3125
ELECTRODE_HEIGHT = 0.4375
LEAF_TEXT_GAP = 0.1
#: In settings with gaps this small, the text beside a leaf stands on one line where it can.
_ONE_LINE_BELOW = 0.1
#: Room that the text beside the last column gets at least.
_LEAST_TEXT = 1.5
#: Room that the text of a load or of a reference needs at least in the last column.
_LOAD_TEXT = 1.25
#: A panel carries the arithmetic of its bus: its text is never cut.
_ALL_LINES = 40


class UnitText(Enum):
    """Where the text of a unit stands: inside makes it wide, above makes it high."""

    INSIDE = "inside"
    ABOVE = "above"


@dataclass(frozen=True, slots=True)
class Density:
    """How tightly a drawing is set.  Lengths in inches.

    ``leaf_lines`` limits the text beside a leaf, ``box_lines`` that below a junction box or combiner
    after its head, ``label_lines`` that of other things but panels.
    """

    head_in: float
    text_in: float
    leaf_lines: int
    label_lines: int
    row_gap_in: float
    unit_text: UnitText
    box_lines: int = 9


@dataclass(frozen=True, slots=True)
class Columns:
    """Left edge of each column, width of what stands in it, and where the drawing ends."""

    x: tuple[float, ...]
    width: tuple[float, ...]
    right: float

    def pitch(self, column: int) -> float:
        """Room for the text of a thing in this column: up to the gap before the next one."""
        following = self.x[column + 1] if column + 1 < len(self.x) else self.right
        return following - COLUMN_GAP - self.x[column]


@dataclass(frozen=True, slots=True)
class Label:
    """Wrapped text: the head line (or lines) in the larger size, then the rest."""

    head: tuple[str, ...]
    rest: tuple[str, ...]

    def height(self, density: Density) -> float:
        """From the top of the first accent to the lowest descender."""
        total = len(self.head) * density.head_in * LINE_PITCH
        return total + len(self.rest) * density.text_in * LINE_PITCH


@dataclass(frozen=True, slots=True)
class Block:
    """A thing with its room: ``up`` and ``down`` reach from its anchor around its whole branch.

    ``rows`` are the anchors of its branches, from its own anchor; ``top`` and ``bottom`` those of
    its enclosure.
    """

    node: PlanNode
    column: int
    label: Label
    up: float
    down: float
    top: float
    bottom: float
    rows: tuple[float, ...]
    children: tuple[Block, ...]
    stack: tuple[Label, ...] = ()


def unit_width(density: Density) -> float:
    """Width of the enclosure of a unit."""
    return UNIT_WIDTH if density.unit_text is UnitText.INSIDE else UNIT_NARROW_WIDTH


def symbol_width(node: PlanNode, density: Density) -> float:
    """Width of what is drawn for a node, without its text."""
    if node.style is Style.TURN:
        return 0.0
    if node.style is Style.REFERENCE:
        return REFERENCE_WIDTH
    if node.style is Style.BUS:
        return PANEL_WIDTH
    if node.style is Style.UNIT:
        return unit_width(density)
    if node.style is Style.TAP:
        return TAP_WIDTH
    if node.style is Style.STACK:
        return STACK_WIDTH
    return shape(node.symbol).width


def tag_width(run_tag: str, density: Density) -> float:
    """Width of the outline around a run tag."""
    return snap_up(max(0.25, text_width_in(run_tag, density.text_in) + 0.12)) if run_tag else 0.0


def edge_need(branch: Branch, density: Density) -> float:
    """Least length of wire between a thing and the next column, with rating and run tag."""
    if branch.node.style in (Style.TAP, Style.TURN) and not branch.run_tag:
        return 0.25 + (text_width_in(branch.rating, density.text_in) if branch.rating else 0.0)
    rating = text_width_in(branch.rating, density.text_in) + 0.1 if branch.rating else 0.05
    return rating + tag_width(branch.run_tag, density) + COLUMN_GAP + 0.1


def depth_of(root: PlanNode) -> int:
    """Number of the last column: where the strings and storage modules stand."""
    return max(column for _, column in _columned(root, 0))


def _columned(node: PlanNode, column: int) -> list[tuple[PlanNode, int]]:
    found = [(node, column)]
    for branch in node.branches:
        found.extend(_columned(branch.node, column + 1))
    return found


def natural_widths(root: PlanNode, density: Density) -> tuple[list[float], list[float]]:
    """Least width of each column, and of the wires after each column but the last."""
    last = depth_of(root)
    widths, edges = [0.0] * (last + 1), [0.0] * last
    for node, column in _columned(root, 0):
        own = last if node.end else column
        widths[own] = max(widths[own], symbol_width(node, density))
        for branch in node.branches:
            edges[column] = max(edges[column], edge_need(branch, density))
            edges[column] = max(edges[column], _text_need(node) - symbol_width(node, density) + COLUMN_GAP)
    return widths, edges


def _text_need(node: PlanNode) -> float:
    """Least width for a thing with its text, in inches."""
    if node.style is Style.INLINE and node.label:
        return 0.8
    return STACK_TEXT_X + 0.6 if node.style is Style.STACK else 0.0


def leaf_text_width(root: PlanNode, density: Density) -> float:
    """Width that the longest text beside a leaf of the last column would like."""
    wanted = 0.0
    for node in nodes_of(root):
        if node.style is Style.LEAF and node.end:
            wanted = max(wanted, _leaf_wish(node, density))
        elif node.style in (Style.LEAF, Style.REFERENCE) and not node.branches:
            wanted = max(wanted, min(_leaf_wish(node, density), _LOAD_TEXT))
    return wanted


def _leaf_wish(node: PlanNode, density: Density) -> float:
    if density.leaf_lines == 1:
        return text_width_in("; ".join(node.label), density.text_in)
    widths = [text_width_in(node.label[0], density.head_in)]
    widths += [text_width_in(line, density.text_in) for line in node.label[1:]]
    return max(widths)


def set_columns(root: PlanNode, density: Density, left: float, right: float) -> Columns | None:
    """Spread the columns over the width; None if they do not fit."""
    widths, edges = natural_widths(root, density)
    needed = sum(widths) + sum(edges)
    wish = min(leaf_text_width(root, density), 3.5) + LEAF_TEXT_GAP
    least = min(wish, _LEAST_TEXT)
    spare = right - left - needed
    if spare < least:
        return None
    text = max(least, min(wish, spare))
    stretch = min((spare - text) / max(1, len(edges)), 0.9)
    x = [left]
    for width, edge in zip(widths, edges):
        x.append(x[-1] + width + edge + stretch)
    return Columns(tuple(x), tuple(widths), right)


def least_width(root: PlanNode, density: Density) -> float:
    """Width below which a tree cannot be set."""
    widths, edges = natural_widths(root, density)
    text = min(min(leaf_text_width(root, density), 3.5) + LEAF_TEXT_GAP, _LEAST_TEXT)
    return sum(widths) + sum(edges) + text + 0.001


def measure(node: PlanNode, column: int, columns: Columns, density: Density, kept_free: float = 0.0) -> Block:
    """The room of a thing and of everything beyond it.

    ``kept_free`` is the width beside a panel's text that belongs to the label of a boundary.
    """
    children = tuple(
        _measure_branch(branch, column + 1, columns, density, _kept_free(node, density)) for branch in node.branches
    )
    own = len(columns.x) - 1 if node.end else column
    rows = _rows(node, children, density)
    reach_up, reach_down = _reach(node, children, rows, density)
    if node.style is Style.BUS:
        return _bus_block(node, own, columns, density, rows, children, reach_up, reach_down, kept_free)
    label = wrap_label(node, own, columns, density)
    stack = tuple(_stacked_label(item.label, own, columns, density) for item in node.stack)
    top, bottom = _enclosure(node, rows, label, density)
    if stack:
        top = -stack_height(stack, density)
    up, down = _own_room(node, top, bottom, label, density)
    up, down = snap_up(max(up, reach_up)), snap_up(max(down, reach_down))
    return Block(node, own, label, up, down, top, bottom, rows, children, stack)


def _reach(
    node: PlanNode, children: tuple[Block, ...], rows: tuple[float, ...], density: Density
) -> tuple[float, float]:
    """How far the branches reach above and below the anchor, the boundary around them included."""
    if not children:
        return 0.0, 0.0
    up = max(child.up - row for child, row in zip(children, rows))
    down = max(child.down + row for child, row in zip(children, rows))
    if node.boundary:
        strip = 0.0 if _label_beside(node) else density.head_in * LINE_PITCH
        return up + strip + 0.1, down + 0.1
    return up, down


def branch_reach(block: Block, density: Density) -> tuple[float, float]:
    """How far a measured thing's branches and their boundary reach above and below its anchor."""
    return _reach(block.node, block.children, block.rows, density)


def _label_beside(node: PlanNode) -> bool:
    """Whether a boundary's label stands beside the text of the only panel inside."""
    return len(node.branches) == 1 and node.branches[0].node.style is Style.BUS


def boundary_label_width(node: PlanNode, density: Density) -> float:
    """Width of the label of a boundary on one line."""
    return text_width_in(node.boundary, density.head_in) if node.boundary else 0.0


def _kept_free(node: PlanNode, density: Density) -> float:
    if not node.boundary or not _label_beside(node):
        return 0.0
    return min(boundary_label_width(node, density), 4.5) + 0.3


def _bus_block(
    node: PlanNode, column: int, columns: Columns, density: Density, rows: tuple[float, ...],
    children: tuple[Block, ...], reach_up: float, reach_down: float, kept_free: float,
) -> Block:
    """A panel with its text above: narrow in its own column, or wide above all its branches.

    The one that makes the block lower is taken.
    """
    top, bottom = _enclosure(node, rows, Label((), ()), density)
    down = bottom + (0.0 if node.electrode is None else ELECTRODE_HEIGHT)
    whole = replace(density, label_lines=_ALL_LINES)
    room = columns.right - 0.1 - columns.x[column] - kept_free
    wide = _wrapped(node, room, whole)
    narrow = _wrapped(node, min(columns.pitch(column), room), whole)
    wide_top = min(top, -reach_up)
    wide_up = -wide_top + wide.height(density) + 0.05
    narrow_up = -top + narrow.height(density) + 0.05
    if max(narrow_up, reach_up) <= wide_up:
        label, up = narrow, max(narrow_up, reach_up)
        if kept_free:
            up = max(up, reach_up + density.head_in * LINE_PITCH + 0.05)
        top = -(up - narrow.height(density) - 0.05)
    else:
        label, up, top = wide, wide_up, wide_top
        if kept_free:
            up = max(up, reach_up + density.head_in * LINE_PITCH + 0.05)
    return Block(node, column, label, snap_up(up), snap_up(max(down, reach_down)), top, bottom, rows, children)


def _measure_branch(
    branch: Branch, column: int, columns: Columns, density: Density, kept_free: float
) -> Block:
    """The room of what a branch leads to, with the rating above its wire."""
    block = measure(branch.node, column, columns, density, kept_free)
    if not branch.rating:
        return block
    return replace(block, up=max(block.up, snap_up(0.06 + ascent_in(density.text_in))))


def _rows(node: PlanNode, children: tuple[Block, ...], density: Density) -> tuple[float, ...]:
    """Anchors of the branches, from the node's own anchor."""
    offsets: list[float] = []
    for index, child in enumerate(children):
        if index == 0:
            offsets.append(0.0)
        else:
            before = children[index - 1]
            offsets.append(snap_up(offsets[-1] + before.down + density.row_gap_in + child.up))
    if not offsets:
        return ()
    chosen = {Feed.FIRST: 0, Feed.MIDDLE: len(offsets) // 2, Feed.LAST: len(offsets) - 1}[node.feed]
    return tuple(offset - offsets[chosen] for offset in offsets)


def _enclosure(
    node: PlanNode, rows: tuple[float, ...], label: Label, density: Density
) -> tuple[float, float]:
    """Top and bottom of what is drawn, from the anchor."""
    first, last = (rows[0], rows[-1]) if rows else (0.0, 0.0)
    if node.style is Style.BUS:
        main = 0.2 + ascent_in(density.text_in) if node.main else 0.25
        top = min(first - 0.25, -snap_up(main + 0.05))
        return top, last + (0.25 if node.bond is None else 0.1875 + BOND_HEIGHT)
    if node.style is Style.UNIT and density.unit_text is UnitText.ABOVE:
        return min(first - 0.15625, -0.3125), max(last + 0.15625, 0.28125)
    if node.style is Style.UNIT:
        text = 0.05 + label.height(density) + 0.03
        return min(first - 0.15625, -0.3125), snap_up(max(last + 0.15625, 0.28125, text))
    if node.style is Style.TURN:
        return 0.0, 0.0
    if node.style is Style.REFERENCE:
        return -TAG_HEIGHT / 2, TAG_HEIGHT / 2
    if node.style in (Style.TAP, Style.STACK):
        return first - 0.0625, last + 0.0625
    half = shape(node.symbol).height / 2
    return -half, half


def _own_room(
    node: PlanNode, top: float, bottom: float, label: Label, density: Density
) -> tuple[float, float]:
    """How far a thing and its text reach above and below its anchor."""
    height = label.height(density)
    ground = 0.0 if node.electrode is None else ELECTRODE_HEIGHT
    if node.style is Style.LEAF:
        return max(-top, height / 2), max(bottom, height / 2)
    if node.style is Style.REFERENCE:
        return max(-top, height / 2), bottom + (0.03 + height if node.branches else 0.0)
    if node.style is Style.INLINE:
        bond = 0.0 if node.bond is None else BOND_HEIGHT
        text = 0.0625 + height if height else 0.0
        if node.electrode is not None:
            return -top + text, bottom + bond + ground
        return max(-top, 0.22), bottom + bond + text
    if node.style is Style.UNIT and density.unit_text is UnitText.ABOVE and height:
        return -top + height + 0.03, bottom
    return max(-top, 0.22), bottom


def wrap_label(node: PlanNode, column: int, columns: Columns, density: Density) -> Label:
    """The text of a thing, wrapped to the room that its style and column give."""
    if not node.label:
        return Label((), ())
    if node.style is Style.LEAF:
        return _leaf_label(node, column, columns, density)
    if node.style is Style.REFERENCE:
        return Label((), wrap_to(node.label[0], _reference_room(node, column, columns), density.text_in, 1))
    if node.style is not Style.UNIT:
        lines = density.box_lines if node.symbol in ("junction", "combiner") else density.label_lines
        return _wrapped(node, columns.pitch(column), replace(density, label_lines=lines))
    if density.unit_text is UnitText.INSIDE:
        return _wrapped(node, UNIT_TEXT_WIDTH, density)
    return _wrapped(_one_line(node), columns.right - 0.1 - columns.x[column], density)


def _reference_room(node: PlanNode, column: int, columns: Columns) -> float:
    """The text of a reference stands below it at the start of a piece, beside it at the end of a wire."""
    if node.branches:
        return columns.pitch(column)
    return columns.right - 0.1 - columns.x[column] - REFERENCE_WIDTH - LEAF_TEXT_GAP


def _one_line(node: PlanNode) -> PlanNode:
    """The node with all its text after the head put on one line."""
    return replace(node, label=(node.label[0], "; ".join(node.label[1:]))) if len(node.label) > 2 else node


def _wrapped(node: PlanNode, width: float, density: Density) -> Label:
    """A label wrapped to a width: the head on at most two lines, the rest as the density allows."""
    if not node.label:
        return Label((), ())
    head = wrap_to(node.label[0], width, density.head_in, 2)
    rest = [piece for line in node.label[1:] for piece in wrap(line, width, density.text_in)]
    return Label(head, _limited(rest, density.label_lines))


def _stacked_label(lines: tuple[str, ...], column: int, columns: Columns, density: Density) -> Label:
    width = columns.pitch(column) - STACK_TEXT_X
    head = wrap_to(lines[0], width, density.head_in, 2)
    rest = [piece for line in lines[1:] for piece in wrap(line, width, density.text_in)]
    return Label(head, _limited(rest, density.label_lines))


def stack_item_height(label: Label, density: Density) -> float:
    """Height of one symbol of a stack with its text, and the wire to the next."""
    return snap_up(max(0.5, label.height(density)) + 0.1875)


def stack_height(stack: tuple[Label, ...], density: Density) -> float:
    """Height of a stack from its top to the anchor below it."""
    return sum(stack_item_height(label, density) for label in stack)


def _leaf_label(node: PlanNode, column: int, columns: Columns, density: Density) -> Label:
    left = columns.x[column] + symbol_width(node, density) + LEAF_TEXT_GAP
    width = columns.right - 0.1 - left
    together = "; ".join(node.label)
    narrow = density.row_gap_in <= _ONE_LINE_BELOW and text_width_in(together, density.text_in) <= width
    if density.leaf_lines == 1 or narrow:
        return Label((), wrap_to(together, width, density.text_in, 1))
    head = wrap_to(node.label[0], width, density.head_in, 1)
    rest = wrap_to("; ".join(node.label[1:]), width, density.text_in, density.leaf_lines - 1)
    return Label(head, rest if node.label[1:] else ())


def _limited(lines: list[str], most: int) -> tuple[str, ...]:
    """At most so many lines; what is left out shows as an ellipsis, none at all for no lines."""
    if len(lines) <= most:
        return tuple(lines)
    if most == 0:
        return ()
    return (*lines[: most - 1], lines[most - 1].rstrip(";, ") + "…")


def used_symbols(root: PlanNode) -> tuple[str, ...]:
    """Kinds of symbols that the plan needs, for the legend."""
    kinds: dict[str, None] = {}
    for node in nodes_of(root):
        for kind in _node_symbols(node):
            kinds.setdefault(kind)
    for branch in branches_of(root):
        if branch.device:
            kinds.setdefault(branch.device)
        if branch.converter:
            kinds.setdefault("converter")
    return tuple(kinds)


def _node_symbols(node: PlanNode) -> list[str]:
    if node.style is Style.TURN:
        return []
    if node.style is Style.REFERENCE:
        return ["reference"]
    found = {
        Style.BUS: ["bus"], Style.UNIT: ["inverter", "dc bus"], Style.TAP: ["connection"],
        Style.STACK: [item.symbol for item in node.stack],
    }.get(node.style, [node.symbol])
    if node.main:
        found = [*found, "breaker"]
    if node.battery:
        found = [*found, "battery"]
    if node.bond is not None:
        found = [*found, "neutral bond"]
    if node.electrode is not None:
        found = [*found, "electrode"]
    return found
