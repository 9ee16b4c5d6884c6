"""Packing on walls, and the bill of materials."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.placement import DOOR_IN, Group, Item, groups_of, layout_of
from linecalc.options.records import ArrayPlan, Candidate
from linecalc.options.run import run_options
from linecalc.project.options_model import Place
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
BASE = read_project(EXAMPLES / "options_storage.toml")
UNIT = Item("unit", "unit", 30.0, 44.0, 10.0, 12.0, 140.0, 10.4)
MODULE = Item("module", "storage module", 28.0, 48.0, 9.0, 12.0, 110.0, 10.4)


def groups(*modules: int) -> tuple[Group, ...]:
    """Units with that many storage modules each."""
    return groups_of(Candidate(len(modules), modules, ArrayPlan("A", (), None, (), ())), [f"U{n + 1}" for n in range(len(modules))], UNIT, MODULE)


def wall(width: str = "20 ft", **keys) -> dict[str, Place]:
    """One place."""
    return {"wall": Place.model_validate({"width": width, "height": "9 ft", "depth_in_front": "10 ft", **keys})}


def test_a_row_of_unit_and_module_needs_both_widths_and_the_clearance_between():
    assert groups(1)[0].width_in == 30.0 + 12.0 + 28.0


def test_modules_stand_in_turn_right_and_left_of_their_unit_and_the_harness_ways_follow():
    (group,) = groups(2)
    assert [item.tag for item in group.items] == ["U1-B2", "U1", "U1-B1"]
    ways = dict(layout_of((group,), wall(), "floor").ways_ft)
    assert ways["U1-B1"] == pytest.approx((15.0 + 12.0 + 14.0) / 12.0)


@pytest.mark.parametrize("width, fits", [("94 in", True), ("93.9 in", False)])
def test_a_row_fits_exactly_with_clearance_at_both_ends(width: str, fits: bool):
    assert (not layout_of(groups(1), wall(width), "floor").reasons) is fits


def test_a_door_keeps_three_feet_on_both_sides_clear():
    found = layout_of(groups(1), wall("20 ft", obstacle={"door": {"kind": "door", "left": "0 in", "width": "36 in"}}), "floor")
    assert min(box.left_in for box in found.boxes) == 36.0 + DOOR_IN


def test_an_obstacle_above_the_units_is_not_in_the_way():
    high = layout_of(groups(1), wall("94 in", obstacle={"shelf": {"left": "20 in", "width": "40 in", "bottom": "80 in"}}), "floor")
    low = layout_of(groups(1), wall("94 in", obstacle={"pipe": {"left": "20 in", "width": "40 in", "bottom": "10 in"}}), "floor")
    assert not high.reasons and low.reasons


def test_units_go_on_both_sides_of_a_door_where_one_side_is_too_short():
    found = layout_of(groups(0, 0), wall("216 in", obstacle={"door": {"kind": "door", "left": "90 in", "width": "36 in"}}), "floor")
    assert not found.reasons
    lefts = sorted(box.left_in for box in found.boxes)
    assert lefts[0] < 90.0 < lefts[1]


def test_working_space_in_front_and_headroom_are_needed():
    assert "working space" in layout_of(groups(0), wall(depth_in_front="45 in"), "floor").reasons[0].message
    assert "78 in" in layout_of(groups(0), wall(height="77 in"), "floor").reasons[0].message


def test_a_wall_that_does_not_carry_a_box_is_a_reason_and_an_unknown_wall_is_a_need():
    weak = layout_of(groups(0), wall(mounting=("wall",), mass_max="100 kg"), "wall")
    unknown = layout_of(groups(0), wall(mounting=("wall",)), "wall")
    assert "140 kg" in weak.reasons[0].message
    assert any("mass_max" in need for need in unknown.needs)


def test_the_energy_limit_of_a_place_sends_the_second_unit_to_the_other_place():
    places = wall("30 ft", energy_max="15 kWh") | {"shed": Place.model_validate({"width": "10 ft", "height": "9 ft", "depth_in_front": "10 ft"})}
    found = layout_of(groups(0, 0), places, "floor")
    assert {box.place for box in found.boxes} == {"wall", "shed"}


@settings(max_examples=60, deadline=None)
@given(modules=st.lists(st.integers(0, 3), min_size=1, max_size=4), width=st.integers(60, 700), left=st.integers(0, 400))
def test_nothing_overlaps_and_nothing_stands_in_front_of_a_door(modules: list[int], width: int, left: int):
    found = layout_of(groups(*modules), wall(f"{width} in", obstacle={"door": {"kind": "door", "left": f"{left} in", "width": "36 in"}}), "floor")
    row = sorted(found.boxes, key=lambda box: box.left_in)
    assert found.reasons or len(row) == len(modules) + sum(modules)
    for first, second in zip(row, row[1:], strict=False):
        assert second.left_in - first.left_in - first.width_in >= 12.0 - 1e-9
    for box in row:
        assert 12.0 - 1e-9 <= box.left_in and box.left_in + box.width_in <= width - 12.0 + 1e-9
        assert box.left_in + box.width_in <= left - DOOR_IN + 1e-9 or box.left_in >= left + 36.0 + DOOR_IN - 1e-9


def test_the_bill_counts_parts_and_harnesses_by_their_way():
    found = next(result for result in run_options(BASE, workers=1).results if result.candidate.name == "2u1m-A18")
    count = {part.item: part.count for part in found.bill.parts}
    assert count == {"mod-420": 18, "store-104": 1, "unit-76": 2, "mount-kit": 2, "stacking-kit": 1, "harness-short": 1, "unit-circuit": 1}
    assert found.bill.low == 18 * 420 + 5600 + 2 * 9200 + 2 * 180 + 240 + 160 + 900
    assert next(part for part in found.bill.parts if part.item == "mount-kit").order_with == "unit-76"


def test_a_price_that_is_missing_leaves_the_cost_unknown_and_a_budget_unsettled():
    house = with_values(BASE, [("options.price.store-104", None), ("options.budget", 50000)])
    found = {result.candidate.name: result for result in run_options(house, workers=1).results}
    assert found["1u2m-A18"].bill.middle is None
    assert any(reason.rule == "budget" for reason in found["1u2m-A18"].unsettled)


def test_a_budget_within_the_price_range_is_unsettled_and_below_it_fails():
    bill = next(result for result in run_options(BASE, workers=1).results if result.candidate.name == "1u2m-A18").bill
    for budget, verdict in ((bill.high, "passes"), ((bill.low + bill.high) / 2, "not settled"), (bill.low - 1, "fails")):
        found = run_options(with_values(BASE, [("options.budget", budget)]), workers=1).results
        assert next(result for result in found if result.candidate.name == "1u2m-A18").verdict.value == verdict
