"""Studies of examples and of small changes of them, made once for all tests of a run."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from linecalc.diagram import draw
from linecalc.diagram.plan import Plan, PlanNode, nodes_of
from linecalc.diagram.scene import Scene, Symbol, Text
from linecalc.diagram.study_plan import plan_of
from linecalc.project.read import read_project
from linecalc.study import Study, study
from linecalc.variants import with_values

ROOT = Path(__file__).parents[2]


@lru_cache(maxsize=None)
def studied(path: str, *changes: tuple[str, object]) -> Study:
    """The study of a project file of the repository, with some of its values changed."""
    return study(with_values(read_project(ROOT / path), list(changes)))


@lru_cache(maxsize=None)
def planned(path: str, *changes: tuple[str, object]) -> Plan:
    """The plan of its drawing."""
    return plan_of(studied(path, *changes))


@lru_cache(maxsize=None)
def drawn(path: str, *changes: tuple[str, object]) -> tuple[Scene, ...]:
    """Its sheets."""
    return draw(studied(path, *changes))


def node_of(plan: Plan, tag: str) -> PlanNode:
    """The first thing of a plan with this tag that has a text."""
    return next(node for node in nodes_of(plan.root) if node.tag == tag and node.label)


def label_of(plan: Plan, tag: str) -> str:
    """All that stands beside a thing, on one line."""
    return " / ".join(node_of(plan, tag).label)


def block_of(plan: Plan, heading: str) -> str:
    """The paragraphs below a heading, on one line."""
    return " ".join(line for block in plan.blocks if block.heading.startswith(heading) for line in block.paragraphs)


def symbols_of(scenes: tuple[Scene, ...], kind: str) -> list[Symbol]:
    """The symbols of one kind that stand for a thing, not those of the legend."""
    return [item for scene in scenes for item in scene.of(Symbol) if item.kind == kind and item.subject]


def words_of(scenes: tuple[Scene, ...]) -> str:
    """All texts of all sheets."""
    return " ".join(line for scene in scenes for text in scene.of(Text) for line in text.lines)
