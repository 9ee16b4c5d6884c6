"""Give every thing of a plan its column: how wide it is, and how far the next one stands from it.

The tree grows to the right.  Every thing has a column by its distance from the utility; strings
and storage modules share the last one.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from linecalc.diagram.fonts import text_width_in
from linecalc.diagram.plan import Branch, PlanNode, Style, nodes_of
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
#: Room between the boundary line or the run tag and the next column.
COLUMN_GAP = 0.15
LEAF_TEXT_GAP = 0.1
#: Room that the text beside the last column gets at least.
_LEAST_TEXT = 1.5
#: Room that the text of a load or of a reference needs at least in the last column.
_LOAD_TEXT = 1.25


class UnitText(Enum):
    """Where the text of a unit stands: inside makes it wide, above makes it high."""

    INSIDE = "inside"
    ABOVE = "above"


class Cutting(Enum):
    """Whether texts may be cut short to make a drawing fit."""

    NEVER = "never"
    ALLOWED = "allowed"


@dataclass(frozen=True, slots=True)
class Density:
    """How tightly a drawing is set.  Lengths in inches.

    ``leaf_lines`` limits the text beside a leaf, ``box_lines`` that below a junction box or combiner
    after its head, ``label_lines`` that of other things but panels.  Where ``cutting`` is ``never``,
    a drawing in which any other limit would cut a text does not fit.
    """

    head_in: float
    text_in: float
    leaf_lines: int
    label_lines: int
    row_gap_in: float
    unit_text: UnitText
    box_lines: int = 9
    cutting: Cutting = Cutting.NEVER


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
    return STACK_TEXT_X + 0.9 if node.style is Style.STACK else 0.0


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
