"""Take parts out of a tree that is too large, with a matched reference at both ends of each cut."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from linecalc.diagram.plan import Branch, PlanNode, Style, nodes_of


@dataclass(frozen=True, slots=True)
class Piece:
    """A part drawn apart: it starts with a reference.

    ``letter`` is that of the reference, empty for the tree that starts at the utility.  ``boundary``
    labels the border it lies in.
    """

    letter: str
    root: PlanNode
    boundary: str = ""


@dataclass(frozen=True, slots=True)
class Cut:
    """What stays together, and the pieces in the order of their letters."""

    main: PlanNode
    pieces: tuple[Piece, ...]


def letter_of(number: int) -> str:
    """``A`` for 0, ``Z`` for 25, ``AA`` for 26."""
    head = letter_of(number // 26 - 1) if number >= 26 else ""
    return head + chr(ord("A") + number % 26)


def source_runs(root: PlanNode) -> tuple[str, ...]:
    """Runs from a panel, tap or box to sources and no further panel, in drawing order; none within another."""
    found: list[str] = []
    for branch in root.branches:
        if _parts_ways(root) and branch.run_tag and _is_source(branch.node):
            found.append(branch.run_tag)
        else:
            found.extend(source_runs(branch.node))
    return tuple(found)


def feeder_runs(root: PlanNode) -> tuple[str, ...]:
    """Runs from a panel, tap or box with several branches to a further panel, in drawing order."""
    return tuple(
        branch.run_tag for node in nodes_of(root) if _parts_ways(node) for branch in node.branches
        if branch.run_tag and any(beyond.style is Style.BUS for beyond in nodes_of(branch.node))
    )


def load_runs(root: PlanNode) -> tuple[str, ...]:
    """Runs from a panel to a thing ahead of a load, such as its disconnect, in drawing order."""
    apart = {*source_runs(root), *feeder_runs(root)}
    return tuple(
        branch.run_tag for node in nodes_of(root) if node.style is Style.BUS for branch in node.branches
        if branch.run_tag and branch.run_tag not in apart and branch.node.branches
    )


def panel_runs(root: PlanNode) -> tuple[str, ...]:
    """Runs into a panel from a thing at whose branches nothing is cut otherwise, such as the meter."""
    return tuple(
        branch.run_tag for node in nodes_of(root) if not _parts_ways(node) for branch in node.branches
        if branch.run_tag and branch.node.style is Style.BUS
    )


def input_runs(root: PlanNode) -> tuple[str, ...]:
    """Runs from a unit or inverter to its strings and storage modules, in drawing order."""
    return tuple(
        branch.run_tag for node in nodes_of(root) if node.style is Style.UNIT for branch in node.branches if branch.run_tag
    )


def cut_sources(root: PlanNode) -> Cut:
    """Cut every branch of a panel or tap that leads to sources and no further panel."""
    return cut_at(Piece("", root), frozenset(source_runs(root)))


def cut_at(piece: Piece, runs: frozenset[str], first: int = 0) -> Cut:
    """Cut a tree at these runs; letters are counted from *first*, and nothing is cut within what was cut off."""
    pieces: list[Piece] = []
    main = _without(piece.root, runs, piece.boundary, first, pieces)
    return Cut(main, tuple(pieces))


def with_sheets(root: PlanNode, here: str, ends: Mapping[str, str], starts: Mapping[str, str]) -> PlanNode:
    """The tree on the sheet *here*, each reference naming the sheet on which its partner stands.

    *ends* and *starts* give for each letter the sheet on which a wire ends and goes on.  A partner
    on the same sheet is not named.
    """
    branches = tuple(replace(branch, node=with_sheets(branch.node, here, ends, starts)) for branch in root.branches)
    if root.style is not Style.REFERENCE:
        return replace(root, branches=branches)
    sheet = (ends if root.branches else starts)[root.symbol]
    label = root.label[:1] if sheet == here else (root.label[0], f"sheet {sheet}")
    return replace(root, label=label, branches=branches)


def _without(node: PlanNode, runs: frozenset[str], boundary: str, first: int, pieces: list[Piece]) -> PlanNode:
    inside = node.boundary or boundary
    branches = []
    for branch in node.branches:
        if branch.run_tag in runs:
            letter = letter_of(first + len(pieces))
            pieces.append(Piece(letter, _start(node, branch, letter), inside))
            branches.append(replace(branch, node=_end(branch, letter)))
        else:
            branches.append(replace(branch, node=_without(branch.node, runs, inside, first, pieces)))
    return replace(node, branches=tuple(branches))


def _parts_ways(node: PlanNode) -> bool:
    """Whether a thing is one at whose branches a drafter cuts: a panel, a tap, a box with several branches."""
    return node.style in (Style.BUS, Style.TAP) or (node.style is Style.INLINE and len(node.branches) > 1)


def _is_source(node: PlanNode) -> bool:
    """Whether there are units or inverters beyond, no panel and no built-in transfer."""
    beyond = tuple(nodes_of(node))
    styles = {found.style for found in beyond}
    return Style.UNIT in styles and Style.BUS not in styles and not any(found.boundary for found in beyond)


def _end(branch: Branch, letter: str) -> PlanNode:
    """The end of a wire that goes on elsewhere."""
    return PlanNode(f"reference {letter}", Style.REFERENCE, letter, (f"to {_far(branch.node)}",))


def _far(node: PlanNode) -> str:
    """Tag of what a piece is about: its unit, else what comes first."""
    if not _is_source(node):
        return node.tag
    return next(found.tag for found in nodes_of(node) if found.style is Style.UNIT)


def _start(node: PlanNode, branch: Branch, letter: str) -> PlanNode:
    """The start of a piece: the reference, then the cut run without its device."""
    run = replace(branch, run_tag="", device="", rating="", converter=False)
    return PlanNode(f"reference {letter}", Style.REFERENCE, letter, (f"from {node.tag}",), branches=(run,))
