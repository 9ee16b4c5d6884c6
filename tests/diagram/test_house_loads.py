"""Loads of a load calculation that have no circuit: one symbol a panel, every tag named."""

from __future__ import annotations

from pathlib import Path

from linecalc.diagram.plan import nodes_of
from linecalc.diagram.study_plan import plan_of
from linecalc.project.read import read_project
from linecalc.study import study
from linecalc.variants import with_value

B = read_project(Path(__file__).parents[2] / "examples" / "b.toml")


def labels(project) -> dict[str, tuple[str, ...]]:
    return {node.tag: node.label for node in nodes_of(plan_of(study(project)).root)}


def test_the_loads_without_a_circuit_are_one_leaf_with_all_their_tags_and_the_calculated_load() -> None:
    found = labels(B)
    assert found["DISP"][:3] == ("MP (E) house loads", "DISP, DRYER, DW, RANGE, WH", "138 A calculated")
    assert not {"DRYER", "DW", "RANGE", "WH"} & set(found)


def test_loads_with_a_circuit_keep_their_own_symbol() -> None:
    assert {"AC", "EV"} <= set(labels(B))


def test_one_load_alone_is_drawn_as_itself() -> None:
    project = B
    for tag in ("DISP", "DRYER", "DW", "RANGE"):
        project = with_value(project, f"load.{tag}", None)
    assert labels(project)["WH"][0].startswith("WH (E) heat pump water heater")
