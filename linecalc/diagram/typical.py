"""Draw things that are the same once: two storage modules of one unit as ``U1-B1, U1-B2``."""

from __future__ import annotations

from dataclasses import replace

from linecalc.diagram.balloons import SEPARATOR
from linecalc.diagram.plan import Branch, PlanNode, Style



def grouped(node: PlanNode) -> PlanNode:
    """The tree with equal storage modules beside each other put together."""
    branches: list[Branch] = []
    for branch in node.branches:
        if branches and _same(branches[-1], branch):
            branches[-1] = _together(branches[-1], branch)
        else:
            branches.append(replace(branch, node=grouped(branch.node)))
    return replace(node, branches=tuple(branches))


def _same(first: Branch, second: Branch) -> bool:
    """Whether two runs and what they lead to differ in their tags only."""
    for branch in (first, second):
        if branch.node.style is not Style.LEAF or branch.node.symbol != "storage module":
            return False
    blank = PlanNode("", Style.LEAF, "", ())
    alike = replace(first, run_tag="", node=blank) == replace(second, run_tag="", node=blank)
    return alike and _what(first.node) == _what(second.node) and bool(first.run_tag) == bool(second.run_tag)


def _what(node: PlanNode) -> tuple[object, ...]:
    """All that is said of a thing, without its tag."""
    head = node.label[0].removeprefix(node.tag)
    return (head, *node.label[1:], node.existing, node.symbol)


def _together(first: Branch, second: Branch) -> Branch:
    tag = first.node.tag + SEPARATOR + second.node.tag
    head = tag + first.node.label[0].removeprefix(first.node.tag)
    node = replace(first.node, tag=tag, label=(head, *first.node.label[1:]))
    run = SEPARATOR.join(found for found in (first.run_tag, second.run_tag) if found)
    return replace(first, node=node, run_tag=run)
