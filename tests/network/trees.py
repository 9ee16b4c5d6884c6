"""Random radial networks, built directly as the walk takes them."""

from __future__ import annotations

import random
from dataclasses import dataclass

from linecalc.network.flow import FlowTree
from linecalc.network.loads import LegLoad
from linecalc.network.records import Circuit, System

SIZES = ((0.78, 0.065), (0.49, 0.064), (0.31, 0.060), (0.20, 0.057), (0.10, 0.054))


@dataclass(frozen=True)
class Branch:
    """Length in ft, resistance and reactance in ohm per 1000 ft of the circuit to a node, and its own load in amperes."""

    length_ft: float
    r: float
    x: float
    load_a: float


@dataclass(frozen=True)
class Tree:
    """A flow tree with the branch that leads to each node but the root."""

    flow: FlowTree
    branches: dict[str, Branch]

    def path(self, tag: str) -> list[str]:
        """The nodes from ``tag`` up to the last one below the root."""
        found = []
        while tag in self.flow.parent:
            found.append(tag)
            tag = self.flow.parent[tag].up
        return found


def random_tree(nodes: int, seed: int, deepest: int = 0) -> Tree:
    """A tree of ``nodes`` nodes and a root; ``deepest`` bounds how far back a parent may lie (0: anywhere)."""
    source = random.Random(seed)
    tags = ["service", *(f"N{number}" for number in range(1, nodes + 1))]
    parent, branches, loads = {}, {}, {}
    for number in range(1, nodes + 1):
        lowest = max(0, number - deepest) if deepest else 0
        up, down = tags[source.randrange(lowest, number)], tags[number]
        parent[down] = Circuit(f"C{number}", System.AC, up, down, None, (), None)
        r, x = source.choice(SIZES)
        load = round(source.uniform(0.5, 8.0), 2)
        branches[down] = Branch(round(source.uniform(10, 80), 1), r, x, load)
        loads[down] = [LegLoad(0.0, load, 0.0, load)]
    return Tree(FlowTree(tuple(reversed(tags)), parent, {}, loads, {}, None), branches)


def tree_of(branches: dict[str, tuple[str, Branch]]) -> Tree:
    """A tree from node to its parent and branch, parents first."""
    parent = {tag: Circuit(f"C{tag}", System.AC, up, tag, None, (), None) for tag, (up, _) in branches.items()}
    loads = {tag: [LegLoad(0.0, branch.load_a, 0.0, branch.load_a)] for tag, (_, branch) in branches.items()}
    order = (*reversed(branches), "service")
    return Tree(FlowTree(order, parent, {}, loads, {}, None), {tag: branch for tag, (_, branch) in branches.items()})
