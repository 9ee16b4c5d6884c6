"""Set a drawing that is too wide on two lines, the second below the first.

The wire between them leaves the first line at its right, runs back below it and enters the second
line at its left.  It can cross nothing where the run that is cut is the last branch of every thing
before it, so only such runs are cut.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from linecalc.diagram.plan import Branch, PlanNode, Style


@dataclass(frozen=True, slots=True)
class Folding:
    """The tree as it is, or as two lines; ``run_tag`` and ``existing`` are those of the cut run."""

    first: PlanNode
    second: PlanNode | None = None
    run_tag: str = ""
    existing: bool = False


def foldings(root: PlanNode) -> tuple[Folding, ...]:
    """The tree unfolded, then every way to fold it, the ones at a boundary first."""
    found = list(_folded(root))
    found.sort(key=lambda folding: not (folding.second and folding.second.boundary))
    return (Folding(root), *found)


def _folded(root: PlanNode) -> Iterator[Folding]:
    """Cut at each thing of the spine down to the first boundary."""
    spine: list[PlanNode] = []
    node = root
    while node.branches:
        spine.append(node)
        cut = node.branches[-1]
        if cut.node.branches and _leaves_at_right(node):
            yield Folding(_with_cut(spine), _second(node, cut), cut.run_tag, cut.existing)
        if node.boundary:
            return
        node = cut.node


def _leaves_at_right(node: PlanNode) -> bool:
    """Whether the last branch of a thing leaves it at its right, not from below."""
    below = node.style is Style.INLINE and len(node.branches) > 1
    return not below and node.style not in (Style.TAP, Style.STACK)


def _with_cut(spine: list[PlanNode]) -> PlanNode:
    """The first line: the spine with the last branch of its last thing leading to a turn."""
    last = spine[-1]
    cut = last.branches[-1]
    turn = PlanNode(last.tag, Style.TURN, "", ())
    kept = (*last.branches[:-1], replace(cut, node=turn, run_tag="", converter=False))
    node = replace(last, branches=kept, boundary="")
    for above in reversed(spine[:-1]):
        node = replace(above, branches=(*above.branches[:-1], replace(above.branches[-1], node=node)))
    return node


def _second(node: PlanNode, cut: Branch) -> PlanNode:
    """The second line: a turn, with the boundary of the thing that was cut, then the run."""
    run = replace(cut, device="", rating="", converter=False)
    return PlanNode(node.tag, Style.TURN, "", (), boundary=node.boundary, branches=(run,))
