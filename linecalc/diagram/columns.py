"""The records of a drawing's setting and its columns, and how wide each kind of thing is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from linecalc.diagram.plan import PlanNode, Style
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
#: Gap between rows below which a rating needs no height of its own.
_INTERLOCK_BELOW_IN = 0.02


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

    ``leaf_lines`` limits the text beside a leaf, ``label_lines`` that of other things but panels.
    Where ``cutting`` is ``never``, a drawing in which a limit would cut a text does not fit.
    ``box_lines`` is how many lines a junction box or combiner should have after its head: one
    runs them together; more is a limit only where texts may be cut.
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


def ratings_interlock(node: PlanNode, density: Density) -> bool:
    """Whether rows of a panel are so close that a rating reaches up beside the balloon and symbols of the row above it."""
    return node.style is Style.BUS and density.row_gap_in < _INTERLOCK_BELOW_IN


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
