"""Where units and storage modules stand: every fit is hand-worked; nothing overlaps, nothing stands too near."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.keepout import DOOR_IN, Space, forbidden
from linecalc.options.packing import leftmost, pack
from linecalc.options.placement import layout_of
from linecalc.options.records import ArrayPlan, Box, Candidate, Layout
from linecalc.options.rows import Item, rows_of
from linecalc.options.standing import door_distance_in
from linecalc.project.options_model import Options, Place

UNIT = Item("unit", "unit", 30.0, 44.0, 10.0, 12.0, 140.0, 10.4)
MODULE = Item("module", "storage module", 28.0, 48.0, 9.0, 12.0, 110.0, 10.4)
NARROW = Item("unit", "unit", 20.0, 44.0, 10.0, 6.0, 140.0, 10.4)
KIT = {"stacking-kit": {"price": 240, "per": "stacked module", "stack": 2}}
DOOR = {"kind": "door", "left": "90 in", "width": "36 in"}


def candidate(*modules: int) -> Candidate:
    """Units with that many storage modules each."""
    return Candidate(len(modules), modules, ArrayPlan("A", (), None, (), ()))


def wall(width: str = "20 ft", **keys) -> dict[str, dict]:
    """One place."""
    return {"wall": {"width": width, "height": "9 ft", "depth_in_front": "10 ft", **keys}}


def placed(modules: tuple[int, ...], places: dict[str, dict], wanted: str = "floor", unit: Item = UNIT, module: Item = MODULE, reach_in: float | None = None, **options) -> Layout:
    """The layout of a candidate on some places."""
    found = Options.model_validate({"place": places, **options})
    return layout_of(candidate(*modules), [f"U{number + 1}" for number in range(len(modules))], unit, module, found, wanted, reach_in)


def tags(layout: Layout) -> list[str]:
    """The boxes from left to right, those below first."""
    return [box.tag for box in sorted(layout.boxes, key=lambda box: (box.place, box.left_in, box.bottom_in))]


def test_a_row_of_unit_and_module_needs_both_widths_and_the_clearance_between():
    assert placed((1,), wall()).taken_in == 30.0 + 12.0 + 28.0


def test_modules_stand_in_turn_right_and_left_of_their_unit_and_the_harness_ways_follow():
    found = placed((2,), wall())
    assert tags(found) == ["U1-B2", "U1", "U1-B1"]
    assert dict(found.ways_ft)["U1-B1"] == pytest.approx((15.0 + 12.0 + 14.0) / 12.0)


@pytest.mark.parametrize("width, fits", [("94 in", True), ("93.9 in", False)])
def test_a_row_fits_exactly_with_clearance_at_both_ends(width: str, fits: bool):
    assert (not placed((1,), wall(width)).reasons) is fits


def test_a_door_keeps_three_feet_on_both_sides_clear():
    found = placed((1,), wall("20 ft", obstacle={"door": {**DOOR, "left": "0 in"}}))
    assert min(box.left_in for box in found.boxes) == 36.0 + DOOR_IN


def test_a_door_may_state_another_distance():
    found = placed((1,), wall("20 ft", obstacle={"roller-door": {**DOOR, "left": "0 in", "clear": "12 in"}}))
    assert min(box.left_in for box in found.boxes) == 36.0 + 12.0


@pytest.mark.parametrize("sill, fits", [("96 in", True), ("83 in", False)])
def test_below_a_high_window_there_is_room_three_feet_under_its_sill(sill: str, fits: bool):
    """The module is 48 in high: 48 + 36 = 84 in."""
    found = placed((1,), wall("94 in", height="12 ft", obstacle={"window": {"kind": "window", "left": "20 in", "width": "40 in", "bottom": sill, "height": "30 in"}}))
    assert (not found.reasons) is fits


def test_below_a_window_the_lower_box_stands_and_the_taller_one_stands_aside():
    """Sill 82 in: 38 in above the unit (44 in), enough; 34 in above the module (48 in), so it stays sqrt(36^2 - 34^2) in aside."""
    window = {"kind": "window", "left": "60 in", "width": "10 in", "bottom": "82 in", "height": "20 in"}
    found = {box.tag: box for box in placed((1,), wall("120 in", obstacle={"window": window})).boxes}
    aside = math.sqrt(36.0**2 - 34.0**2)
    module = found["U1-B1"]
    assert module.left_in >= 70.0 + aside - 1e-9 or module.left_in + 28.0 <= 60.0 - aside + 1e-9
    assert found["U1"].left_in < 70.0 or module.left_in < 60.0


def test_an_obstacle_above_the_units_is_not_in_the_way_and_one_in_the_working_height_is():
    def shelf(bottom: str, **keys: str) -> Layout:
        return placed((1,), wall("94 in", obstacle={"shelf": {"left": "20 in", "width": "40 in", "bottom": bottom, **keys}}))

    assert not shelf("80 in").reasons
    assert shelf("70 in").reasons
    assert not shelf("70 in", depth="16 in").reasons, "6 in beyond the front of the unit may stand in the working space"
    assert shelf("70 in", depth="17 in").reasons
    assert shelf("10 in").reasons


def test_a_narrow_unit_needs_thirty_inches_between_what_stands_before_it():
    """Two cupboards with 28 in between: the unit is 20 in wide with 4 in either side, but cannot be worked on."""

    def between(gap: int) -> Layout:
        cupboards = {"a": {"left": "0 in", "width": "50 in", "clear": "0 in"}, "b": {"left": f"{50 + gap} in", "width": "50 in", "clear": "0 in"}}
        return placed((0,), wall(f"{100 + gap} in", obstacle=cupboards), unit=Item("unit", "unit", 20.0, 44.0, 10.0, 0.0, None, 10.4))

    assert between(28).reasons
    assert not between(30).reasons


def test_before_a_panel_the_working_width_stays_clear():
    """A panel of 14 in has 30 in of working space: 8 in on either side; the clearance of 6 in is less."""
    found = placed((0,), wall("10 ft", obstacle={"MP": {"kind": "panel", "left": "40 in", "width": "14 in"}}), unit=NARROW)
    assert found.boxes[0].left_in == 6.0
    narrow = placed((0,), wall("93 in", obstacle={"MP": {"kind": "panel", "left": "30 in", "width": "14 in"}}), unit=NARROW)
    assert narrow.boxes[0].left_in == pytest.approx(30.0 + 14.0 + 8.0)


def test_units_go_on_both_sides_of_a_door_where_one_side_is_too_short():
    found = placed((0, 0), wall("216 in", obstacle={"door": DOOR}))
    assert not found.reasons
    lefts = sorted(box.left_in for box in found.boxes)
    assert lefts[0] < 90.0 < lefts[1]


def test_a_row_is_turned_around_where_only_one_order_fits():
    """Under a sill of 80 in the module of 48 in is too tall within 36 in, the unit of 44 in is not: only the module at the far end fits."""
    window = {"kind": "window", "left": "0 in", "width": "30 in", "bottom": "80 in", "height": "20 in"}
    found = placed((1,), wall("94 in", obstacle={"window": window}))
    assert not found.reasons and tags(found) == ["U1", "U1-B1"]
    mirrored = placed((1,), wall("94 in", obstacle={"window": {**window, "left": "64 in"}}))
    assert not mirrored.reasons and tags(mirrored) == ["U1-B1", "U1"]


def test_modules_are_stacked_only_where_they_do_not_fit_side_by_side_and_a_kit_allows_it():
    assert placed((2,), wall("94 in")).reasons
    stacked = placed((2,), wall("94 in", height="10 ft"), accessory=KIT)
    assert not stacked.reasons and stacked.stacked == 1
    assert [box.bottom_in for box in sorted(stacked.boxes, key=lambda box: box.tag)] == [0.0, 0.0, 48.0]
    assert placed((2,), wall("20 ft", height="10 ft"), accessory=KIT).stacked == 0


def test_a_stack_needs_its_height_and_its_harness_is_longer_by_what_stands_below():
    """Two modules: 96 in and 12 in of clearance are 108 in."""
    assert placed((2,), wall("94 in", height="107 in"), accessory=KIT).reasons
    ways = dict(placed((2,), wall("94 in", height="108 in"), accessory=KIT).ways_ft)
    assert ways["U1-B2"] == pytest.approx(ways["U1-B1"] + 48.0 / 12.0)


def test_nothing_is_stacked_on_a_wall():
    assert placed((2,), wall("94 in", mounting=["wall"], mass_max="400 kg"), "wall", accessory=KIT).reasons


def test_a_stack_is_taken_where_side_by_side_is_beyond_the_harness():
    """Three modules in one row: the third is 15 + 12 + 28 + 12 + 14 = 81 in away; stacked the farthest is 41 + 48 = 89 in."""
    assert placed((3,), wall("30 ft"), reach_in=81.0).stacked == 0
    module = Item("module", "storage module", 28.0, 30.0, 9.0, 12.0, 110.0, 10.4)
    found = placed((3,), wall("30 ft"), module=module, reach_in=72.0, accessory=KIT)
    assert found.stacked == 1 and max(way for _, way in found.ways_ft) <= 6.0


def test_working_space_in_front_and_headroom_are_needed():
    assert "working space" in placed((0,), wall(depth_in_front="45 in")).reasons[0].message
    assert "78 in" in placed((0,), wall(height="77 in")).reasons[0].message


def test_the_working_space_is_moved_aside_where_something_stands_beside_the_unit():
    found = placed((0,), wall("80 in", obstacle={"shelf": {"left": "0 in", "width": "10 in", "clear": "0 in"}}), unit=NARROW)
    (space,) = found.working
    box = found.boxes[0]
    assert space.right_in - space.left_in == 30.0
    assert 10.0 <= space.left_in <= box.left_in and box.left_in + 20.0 <= space.right_in


def test_a_wall_that_does_not_carry_a_box_is_a_reason_and_an_unknown_wall_is_a_need():
    weak = placed((0,), wall(mounting=("wall",), mass_max="100 kg"), "wall")
    unknown = placed((0,), wall(mounting=("wall",)), "wall")
    assert "140 kg" in weak.reasons[0].message
    assert any("mass_max" in need for need in unknown.needs)


def test_where_the_wall_is_too_weak_the_floor_is_taken_if_it_may_be():
    found = placed((0,), wall(mounting=("wall", "floor"), mass_max="100 kg"), "wall")
    assert not found.reasons and {box.mounting for box in found.boxes} == {"floor"}


def test_the_height_of_what_hangs_is_listed_as_assumed_or_taken_as_given():
    assumed = placed((0,), wall(mounting=("wall",), mass_max="400 kg"), "wall")
    stated = placed((0,), wall(mounting=("wall",), mass_max="400 kg", bottom="30 in"), "wall")
    assert [found.path for found in assumed.assumptions] == ["options.place.wall.bottom"] and not stated.assumptions
    assert (assumed.boxes[0].bottom_in, stated.boxes[0].bottom_in) == (18.0, 30.0)


def test_the_energy_limit_of_a_place_sends_the_second_unit_to_the_other_place():
    places = wall("30 ft", energy_max="15 kWh") | {"shed": {"width": "10 ft", "height": "9 ft", "depth_in_front": "10 ft"}}
    found = placed((0, 0), places)
    assert {box.place for box in found.boxes} == {"wall", "shed"}


def test_rows_that_fit_nowhere_name_their_widths_and_the_free_stretches():
    found = placed((1, 1), wall("12 ft", obstacle={"door": {**DOOR, "left": "108 in"}}))
    assert found.reasons[0].message == "does not fit: 70 and 70 in of units and storage modules, 12 in between, on free stretches (wall: none in)"
    wide = placed((1, 1), wall("12 ft"))
    assert "wall: 120 in" in wide.reasons[0].message


def test_a_search_that_is_stopped_says_so_and_does_not_say_that_nothing_fits():
    groups = rows_of(candidate(2, 1, 0), ["U1", "U2", "U3"], UNIT, MODULE, 1)
    space = Space("wall", Place.model_validate(wall("200 in")["wall"]), "floor")
    assert pack(groups, (space,), most=2).stopped
    assert not pack(groups, (space,)).stopped


def test_twelve_units_are_placed_or_refused_at_once():
    groups = rows_of(candidate(*[2] * 12), [f"U{number}" for number in range(1, 13)], UNIT, MODULE, 1)
    spaces = tuple(Space(f"wall-{number}", Place.model_validate(wall("40 ft", obstacle={"door": DOOR})["wall"]), "floor") for number in range(1, 5))
    assert not pack(groups, spaces).stopped and pack(groups, spaces).puts is None
    assert pack(groups[:8], spaces).puts is not None


def test_the_distance_to_a_door_is_the_straight_one():
    place = Place.model_validate(wall(obstacle={"w": {"kind": "window", "left": "100 in", "width": "20 in", "bottom": "84 in", "height": "20 in"}})["wall"])
    box = Box("U1", "wall", 40.0, 0.0, 30.0, 44.0, "unit", 10.0, "floor")
    assert door_distance_in(box, place) == pytest.approx(math.hypot(30.0, 40.0))
    assert door_distance_in(box, Place.model_validate(wall()["wall"])) is None


def test_the_first_free_position_is_outside_every_stretch():
    spans = ((-math.inf, 12.0), (20.0, 50.0), (50.0, 60.0), (90.0, math.inf))
    assert [leftmost(spans, least) for least in (0.0, 15.0, 20.0, 21.0, 55.0, 90.0, 91.0)] == [12.0, 15.0, 20.0, 50.0, 60.0, 90.0, None]


def _apart(one: Box, other: Box) -> float:
    aside = max(one.left_in - other.left_in - other.width_in, other.left_in - one.left_in - one.width_in, 0.0)
    above = max(one.bottom_in - other.bottom_in - other.height_in, other.bottom_in - one.bottom_in - one.height_in, 0.0)
    return math.hypot(aside, above)


@settings(max_examples=60, deadline=None)
@given(
    modules=st.lists(st.integers(0, 3), min_size=1, max_size=4),
    width=st.integers(60, 700),
    left=st.integers(0, 400),
    sill=st.integers(0, 100),
    kit=st.booleans(),
    hung=st.booleans(),
)
def test_nothing_overlaps_and_nothing_stands_near_a_door_or_window(modules: list[int], width: int, left: int, sill: int, kit: bool, hung: bool):
    window = {"kind": "window", "left": f"{left} in", "width": "36 in", "bottom": f"{sill} in", "height": "40 in"}
    places = wall(f"{width} in", height="10 ft", obstacle={"window": window}, mass_max="400 kg")
    found = placed(tuple(modules), places, "wall" if hung else "floor", accessory=KIT if kit else {})
    assert found.reasons or len(found.boxes) == len(modules) + sum(modules)
    place = Place.model_validate(places["wall"])
    for one, other in itertools.combinations(found.boxes, 2):
        stacked = one.left_in == other.left_in and one.place == other.place
        assert _apart(one, other) >= (0.0 if stacked else 12.0) - 1e-9
        assert not stacked or abs(one.bottom_in - other.bottom_in) >= 48.0 - 1e-9
    for box in found.boxes:
        assert 12.0 - 1e-9 <= box.left_in and box.left_in + box.width_in <= width - 12.0 + 1e-9
        assert box.bottom_in + box.height_in + 12.0 <= 120.0 + 1e-9
        assert door_distance_in(box, place) >= DOOR_IN - 1e-6
    for space in found.working:
        assert 0.0 <= space.left_in and space.right_in <= width


@settings(max_examples=40, deadline=None)
@given(modules=st.lists(st.integers(0, 2), min_size=1, max_size=3), width=st.integers(100, 460), left=st.integers(0, 300))
def test_the_search_finds_a_fit_exactly_where_trying_every_order_on_a_fine_grid_does(modules: list[int], width: int, left: int):
    """Whole inches everywhere, so that a grid of one inch loses nothing."""
    place = Place.model_validate(wall(f"{width} in", obstacle={"door": {**DOOR, "left": f"{left} in"}})["wall"])
    space = Space("wall", place, "floor")
    groups = rows_of(candidate(*modules), ["U1", "U2", "U3"][: len(modules)], UNIT, MODULE, 1)
    assert (pack(groups, (space,)).puts is not None) is any(_by_grid(order, space, width) for order in itertools.permutations([rows[0] for rows in groups]))


def _by_grid(order, space: Space, width: int) -> bool:
    """Rows of the same depth and clearance in a given order, each at the first whole inch where it is allowed."""
    at = 0
    for row in order:
        spans = forbidden(space, row)
        at = next((inch for inch in range(at, width) if not any(low + 1e-9 < inch < high - 1e-9 for low, high in spans)), None)
        if at is None:
            return False
        at += int(row.width_in) + 12
    return True
