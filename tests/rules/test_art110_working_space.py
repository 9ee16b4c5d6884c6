"""Working space: width, depth and height, by the code or by the equipment where it is larger."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import check, checks, level, studied

SPACE = {"panel.MP.working_width": "30 in", "panel.MP.working_depth": "36 in", "panel.MP.working_height": "6.5 ft"}


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_thirty_by_thirty_six_inches_by_six_and_a_half_feet_pass(edition: str) -> None:
    found = studied(SPACE, edition=edition)
    assert [level(found, f"working_space.{side}", "MP") for side in ("width", "depth", "height")] == [Level.PASS] * 3


@pytest.mark.parametrize(("key", "value", "side"), [("width", "29.9 in", "width"), ("depth", "35 in", "depth"), ("height", "77 in", "height")])
def test_each_dimension_that_is_too_small_fails_alone(key: str, value: str, side: str) -> None:
    found = studied({**SPACE, f"panel.MP.working_{key}": value})
    failing = {one.rule for one in found.checks if one.level is Level.FAIL}
    assert failing == {f"working_space.{side}"}


# Hand: a unit 34 in wide and 80 in high asks for 34 in and 80 in.
def test_equipment_larger_than_the_code_asks_for_its_own_size() -> None:
    unit = {"equipment.unit-a.width": "34 in", "equipment.unit-a.height": "80 in"}
    space = {"unit.U1.working_width": "33 in", "unit.U1.working_depth": "36 in", "unit.U1.working_height": "80 in"}
    found = studied({**unit, **space})
    one = check(found, "working_space.width", "U1")
    assert (value_of(one.limit), one.level) == (34.0, Level.FAIL)
    assert level(found, "working_space.height", "U1") is Level.PASS


def test_a_space_described_in_part_needs_the_rest() -> None:
    found = studied({"panel.MP.working_depth": "36 in"})
    assert check(found, "working_space", "MP").needs == ("panel.MP.working_width", "panel.MP.working_height")


def test_a_space_described_nowhere_is_one_line_for_the_house_and_with_location_rules_one_for_each() -> None:
    whole = check(studied(), "working_space")
    assert (whole.subject, whole.level) == ("system", Level.NOT_CHECKED)
    assert whole.needs == ("working_width, working_depth, working_height of BP, MP, U1, ID",)
    asked = studied({"site.irc_edition": "2021"})
    assert {one.subject for one in checks(asked, "working_space")} == {"MP", "BP", "ID", "U1"}
