"""Give every thing of a plan its height: the room of each thing and of all that is beyond it.

A thing's *anchor* is the height of the wire that enters it.  Branches of one thing lie below each
other and share no height, so no wire needs a bend and none can cross another.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.diagram.columns import Columns, Density, UnitText, ratings_interlock
from linecalc.diagram.fonts import LINE_PITCH, ascent_in, text_width_in
from linecalc.diagram.label_text import (
    NO_LABEL,
    Label,
    ground_label,
    panel_label,
    stack_height,
    stacked_label,
    wrap_label,
)
from linecalc.diagram.plan import Branch, Feed, PlanNode, Style, branches_of, nodes_of, text_above
from linecalc.diagram.scene import snap_up
from linecalc.diagram.symbols import shape

TAG_HEIGHT = 0.2
BOND_HEIGHT = 0.3125
#: From the foot of an enclosure to the electrode, and from there to its text.
ELECTRODE_DROP = 0.09375
ELECTRODE_HEIGHT = ELECTRODE_DROP + 0.28125
#: From the lowest wire of a stack to what stands apart below it.
APART_GAP = 0.25


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
    ground: Label = NO_LABEL
    apart: tuple[Label, ...] = ()

    def complete(self) -> bool:
        """Whether no text of the thing, or of anything beyond it, was cut."""
        own = all(label.complete for label in (self.label, self.ground, *self.stack, *self.apart))
        return own and all(child.complete() for child in self.children)


def measure(node: PlanNode, column: int, columns: Columns, density: Density, kept_free: float = 0.0) -> Block:
    """The room of a thing and of everything beyond it.

    ``kept_free`` is the width beside a panel's text that belongs to the label of a boundary.
    """
    children = tuple(
        _measure_branch(node, branch, column + 1, columns, density) for branch in node.branches
    )
    own = len(columns.x) - 1 if node.end else column
    rows = _rows(node, children, density)
    reach_up, reach_down = _reach(node, children, rows, density)
    if node.style is Style.BUS:
        return _bus_block(node, own, columns, density, rows, children, reach_up, reach_down, kept_free)
    label = wrap_label(node, own, columns, density)
    ground = ground_label(node, own, columns, density)
    stack = tuple(stacked_label(item.label, own, columns, density) for item in node.stack)
    top, bottom = _enclosure(node, rows, label, density)
    apart = tuple(stacked_label(item.label, own, columns, density) for item in node.apart)
    if stack:
        top = -stack_height(stack, density)
    if apart:
        bottom = max(0.0, *rows) + APART_GAP + stack_height(apart, density)
    up, down = _own_room(node, top, bottom, label, ground, density)
    up, down = snap_up(max(up, reach_up)), snap_up(max(down, reach_down))
    return Block(node, own, label, up, down, top, bottom, rows, children, stack, ground, apart)


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
    top, bottom = _enclosure(node, rows, NO_LABEL, density)
    ground = ground_label(node, column, columns, density)
    down = bottom + _ground_height(node, ground, density)
    room = columns.right - 0.1 - columns.x[column] - kept_free
    wide = panel_label(node, room, density, kept_free)
    narrow = panel_label(node, min(columns.pitch(column), room), density)
    wide_top = min(top, -reach_up)
    wide_up = -wide_top + wide.height(density) + 0.05
    narrow_up = -top + narrow.height(density) + 0.05
    if narrow.complete and max(narrow_up, reach_up) <= wide_up:
        label, up = narrow, max(narrow_up, reach_up)
        if kept_free:
            up = max(up, reach_up + density.head_in * LINE_PITCH + 0.05)
    else:
        label, up, top = wide, wide_up, wide_top
        if kept_free:
            up = max(up, reach_up + density.head_in * LINE_PITCH + 0.05)
    down = max(down, reach_down)
    return Block(node, column, label, snap_up(up), snap_up(down), top, bottom, rows, children, (), ground)


def _measure_branch(node: PlanNode, branch: Branch, column: int, columns: Columns, density: Density) -> Block:
    """The room of what a branch of *node* leads to, with the rating above its wire."""
    block = measure(branch.node, column, columns, density, _kept_free(node, density))
    if not branch.rating or ratings_interlock(node, density):
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
    chosen = {Feed.MIDDLE: len(offsets) // 2, Feed.LAST: len(offsets) - 1}.get(node.feed, 0)
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


def _ground_height(node: PlanNode, ground: Label, density: Density) -> float:
    """Height of an electrode with its text, below the thing it belongs to."""
    return 0.0 if node.electrode is None else ELECTRODE_HEIGHT + ground.height(density) + 0.03


def _own_room(
    node: PlanNode, top: float, bottom: float, label: Label, ground: Label, density: Density
) -> tuple[float, float]:
    """How far a thing and its text reach above and below its anchor."""
    height = label.height(density)
    if node.style is Style.LEAF:
        return max(-top, height / 2), max(bottom, height / 2)
    if node.style is Style.REFERENCE:
        return max(-top, height / 2), bottom + (0.03 + height if node.branches else 0.0)
    if node.style is Style.INLINE:
        bond = 0.0 if node.bond is None else BOND_HEIGHT
        text = 0.0625 + height if height else 0.0
        if text_above(node):
            return -top + text, bottom + bond + _ground_height(node, ground, density)
        return max(-top, 0.22), bottom + bond + text
    if node.style is Style.UNIT and density.unit_text is UnitText.ABOVE and height:
        return -top + height + 0.03, bottom
    return max(-top, 0.22), bottom


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
        Style.STACK: [item.symbol for item in (*node.stack, *node.apart)],
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
