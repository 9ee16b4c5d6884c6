"""Take the sources out of a tree that is too large, with a matched reference at both ends of each cut."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.diagram.plan import Branch, PlanNode, Style, nodes_of


@dataclass(frozen=True, slots=True)
class Piece:
    """A part drawn apart: it starts with a reference.  ``boundary`` labels the border it lies in."""

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


def cut_sources(root: PlanNode, where: str) -> Cut:
    """Cut every branch of a panel or tap that leads to sources and no further panel.

    *where* is what a reference says of the place of the piece, such as ``sheet E-601.2``; empty where
    it stands on the same sheet.
    """
    pieces: list[Piece] = []
    main = _without_sources(root, "", where, pieces)
    return Cut(main, tuple(pieces))


def relabelled(cut: Cut, letters: set[str], where: str) -> Cut:
    """The same cut, the references with these letters saying another place."""
    return replace(cut, main=_relabelled(cut.main, letters, where))


def _relabelled(node: PlanNode, letters: set[str], where: str) -> PlanNode:
    if node.style is Style.REFERENCE and node.symbol in letters and not node.branches:
        return replace(node, label=(f"{node.label[0].split(', ')[0]}, {where}",))
    branches = tuple(replace(branch, node=_relabelled(branch.node, letters, where)) for branch in node.branches)
    return replace(node, branches=branches)


def _without_sources(node: PlanNode, boundary: str, where: str, pieces: list[Piece]) -> PlanNode:
    inside = node.boundary or boundary
    branches = []
    for branch in node.branches:
        if node.style in (Style.BUS, Style.TAP) and _is_source(branch.node):
            letter = letter_of(len(pieces))
            pieces.append(Piece(letter, _start(node, branch, letter), inside))
            branches.append(replace(branch, node=_reference(branch, letter, where), converter=False))
        else:
            branches.append(replace(branch, node=_without_sources(branch.node, inside, where, pieces)))
    return replace(node, branches=tuple(branches))


def _is_source(node: PlanNode) -> bool:
    styles = {found.style for found in nodes_of(node)}
    return Style.UNIT in styles and not styles & {Style.BUS, Style.TAP}


def _reference(branch: Branch, letter: str, where: str) -> PlanNode:
    """The end of a wire that goes on elsewhere."""
    text = ", ".join(part for part in (_far(branch.node), where) if part)
    return PlanNode(f"reference {letter}", Style.REFERENCE, letter, (text,))


def _far(node: PlanNode) -> str:
    """Tag of what a piece is about: its unit."""
    return next(found.tag for found in nodes_of(node) if found.style is Style.UNIT)


def _start(node: PlanNode, branch: Branch, letter: str) -> PlanNode:
    """The start of a piece: the reference, then the cut run without its device."""
    run = replace(branch, run_tag="", device="", rating="")
    return PlanNode(f"reference {letter}", Style.REFERENCE, letter, (f"from {node.tag}",), branches=(run,))
