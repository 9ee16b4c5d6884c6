"""The load calculation as content: parts, grids, doubts, and its place in the calculation sheet."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.project.read import read_project
from linecalc.report.load_sheet import load_sheet
from linecalc.report.sheet import sheet
from linecalc.study import Study, study

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def example_b() -> Study:
    return study(read_project(EXAMPLES / "b.toml"))


def test_the_counted_column_adds_up_to_the_calculated_load(example_b: Study) -> None:
    for grid in load_sheet(example_b).parts[0].block.grids[:2]:
        rows = [row for row in grid.rows if row[2]]
        total = next(float(row[2].split()[0]) for row in rows if row[0] == "calculated load")
        parts = [float(row[2].split()[0]) for row in rows if row[0] != "calculated load"]
        assert sum(parts) == pytest.approx(total)


def test_every_row_names_its_section(example_b: Study) -> None:
    for part in load_sheet(example_b).parts:
        assert all(row[-1] for grid in part.block.grids for row in grid.rows)


def test_the_part_says_what_it_serves_and_where_else_the_same_load_flows(example_b: Study) -> None:
    found = load_sheet(example_b)
    assert [(part.tag, part.serves, part.backed_up) for part in found.parts] == [("MP", "whole dwelling", True)]
    assert found.parts[0].block.title == "Whole dwelling, all of it backed up: MP (also ID, SD, service)"


def test_a_stated_load_has_its_part_with_its_calculation() -> None:
    found = load_sheet(study(read_project(EXAMPLES / "a.toml")))
    texts = {fact.label: fact.text for part in found.parts for fact in part.block.facts if part.tag == "MP"}
    assert texts["Stated"] == "92 A" and texts["Calculation"] == "220.82, attached"


def test_the_calculation_sheet_shows_the_methods_at_the_bus(example_b: Study) -> None:
    block = next(block for block in sheet(example_b).blocks if block.tag == "MP")
    captions = [grid.caption for grid in block.grids]
    assert "Optional method [220.82]: 138 A, decides" in captions and "Neutral load" in captions


def test_no_part_claims_more_than_a_check(example_b: Study) -> None:
    text = str(load_sheet(example_b)).lower()
    assert "compliant" not in text and "approved" not in text
