"""What a sheet has to show, before anything has a place: a tree of things, and texts around it.

The tree starts at the utility and ends at strings, storage modules and loads.  A plan holds
drawable text only (`linecalc.diagram.fonts.drawable`), and no electrical rule.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum


class Style(Enum):
    """How a thing is drawn."""

    INLINE = "inline"  # a symbol in the wire; a second branch leaves from below it
    BUS = "bus"  # an enclosure with a bus, any number of branches
    UNIT = "unit"  # an enclosure with inverter, internal DC bus and PV converters
    TAP = "tap"  # wires joined: no symbol of its own, any number of branches
    STACK = "stack"  # round symbols below each other, the wire leaving at the foot, any number of branches
    TURN = "turn"  # a point where a wire leaves a line of the drawing, or enters the next
    REFERENCE = "reference"  # a flag with a letter: the wire goes on, or comes from, elsewhere
    LEAF = "leaf"  # a symbol at the end of a wire, its text beside it


class Feed(Enum):
    """Where along its bus a panel is fed: at the first, the middle or the last branch, or from nowhere."""

    FIRST = "first"
    MIDDLE = "middle"
    LAST = "last"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Stacked:
    """One symbol of a stack, such as utility and meter, with the text beside it."""

    symbol: str
    label: tuple[str, ...]
    existing: bool = False


@dataclass(frozen=True, slots=True)
class PlanNode:
    """One thing of the tree.

    ``label`` is its text, the first line being its tag and name.  ``main`` is the rating of the
    main device of a bus, None for main lugs.  ``bond`` and ``electrode`` are the texts beside the
    neutral bond and the grounding electrode, None where there is none; ``electrode_existing`` draws
    the latter as existing.  ``end`` lines a leaf up
    with the others at the far end.  ``boundary`` is the label of the border drawn around all that
    its branches lead to; empty for none.  ``apart`` are symbols below a stack and its branches, without
    a wire.  ``circuits`` is how many circuits a leaf stands for, each with a load of its own.
    """

    tag: str
    style: Style
    symbol: str
    label: tuple[str, ...]
    existing: bool = False
    main: str | None = None
    feed: Feed = Feed.FIRST
    bond: str | None = None
    electrode: str | None = None
    electrode_existing: bool = False
    battery: bool = False
    end: bool = False
    boundary: str = ""
    stack: tuple[Stacked, ...] = ()
    apart: tuple[Stacked, ...] = ()
    circuits: int = 1
    branches: tuple[Branch, ...] = ()


@dataclass(frozen=True, slots=True)
class Branch:
    """A run of conductors to the next thing.

    ``run_tag`` is empty where no run is scheduled.  ``device`` is the symbol of the overcurrent
    device at the near end (``breaker``, ``fuse`` or empty), ``rating`` its text.  ``converter``
    draws the converter of a PV input of a unit.
    """

    node: PlanNode
    run_tag: str = ""
    device: str = ""
    rating: str = ""
    converter: bool = False
    existing: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table; ``shrink`` tells that its cells may wrap to save width."""

    heading: str
    shrink: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table of texts with a title."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


class Merging(Enum):
    """Which rows of a long schedule stand together: equal ones, or also those of other length, current and drop."""

    EQUAL = "equal"
    RANGES = "ranges"


@dataclass(frozen=True, slots=True)
class TextBlock:
    """A heading with paragraphs below it; ``numbered`` counts them."""

    heading: str
    paragraphs: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What the title block says."""

    title: str
    lines: tuple[str, ...]
    sheet_title: str
    sheet: str
    sheet_count: str
    edition: str
    checked: str
    caution: str
    revisions: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """One sheet's content."""

    root: PlanNode
    schedule: Table
    blocks: tuple[TextBlock, ...]
    title_block: TitleBlock
    abbreviations: tuple[tuple[str, str], ...]
    description: str = ""
    notes: tuple[str, ...] = ()
    merging: Merging = Merging.EQUAL


def text_above(node: PlanNode) -> bool:
    """Whether the text of an inline thing stands above it, since something else is below."""
    return node.electrode is not None or len(node.branches) > 1


def nodes_of(root: PlanNode) -> Iterator[PlanNode]:
    """The node and everything beyond it, in drawing order."""
    yield root
    for branch in root.branches:
        yield from nodes_of(branch.node)


def branches_of(root: PlanNode) -> Iterator[Branch]:
    """Every branch beyond a node, in drawing order."""
    for branch in root.branches:
        yield branch
        yield from branches_of(branch.node)
