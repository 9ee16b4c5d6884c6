"""A unit with its storage modules as a row, and the stretches where its left end may not be: all by hand."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.keepout import Space, edges_in, forbidden, keep_in, why_never, working_span
from linecalc.options.packing import free_stretches, leftmost, pack
from linecalc.options.records import ArrayPlan, Candidate, Layout
from linecalc.options.rows import Item, Row, apart_in, item_of, rows_of, working_width_in
from linecalc.options.standing import stand
from linecalc.project.equipment import StorageData, UnitData
from linecalc.project.options_model import Options, Place

UNIT = Item("unit", "unit", 30.0, 44.0, 10.0, 12.0, 140.0, 10.4)
MODULE = Item("module", "storage module", 28.0, 48.0, 9.0, 12.0, 110.0, 10.4)


def rows(modules: int, stack: int = 1, unit: Item = UNIT, module: Item = MODULE) -> tuple[Row, ...]:
    """The rows that one unit may form."""
    candidate = Candidate(1, (modules,), ArrayPlan("A", (), None, (), ()))
    return rows_of(candidate, ["U1"], unit, module, stack)[0]


def order(row: Row) -> list[str]:
    """Tags from left to right."""
    return [spot.item.tag for spot in sorted(row.spots, key=lambda spot: (spot.right_in, spot.up_in))]


def space(width: str = "200 in", mounting: str = "floor", **keys) -> Space:
    """A place with one mounting."""
    return Space("wall", Place.model_validate({"width": width, "height": "9 ft", "depth_in_front": "10 ft", **keys}), mounting)


def test_a_unit_alone_is_one_row():
    (row,) = rows(0)
    assert order(row) == ["U1"] and row.width_in == 30.0 and row.ways_in == ()


def test_the_unit_may_stand_at_every_place_between_its_modules_and_in_the_middle_first():
    assert [order(row) for row in rows(2)] == [["U1-B2", "U1", "U1-B1"], ["U1", "U1-B1", "U1-B2"], ["U1-B2", "U1-B1", "U1"]]


def test_modules_are_numbered_outwards_from_their_unit():
    assert order(rows(3)[0]) == ["U1-B2", "U1", "U1-B1", "U1-B3"]


def test_positions_within_a_row_are_widths_and_clearances_added_up():
    """28 + 12 + 30 + 12 + 28 = 110; the unit begins at 40, the right module at 82."""
    row = rows(2)[0]
    assert row.width_in == 110.0
    assert [spot.right_in for spot in row.spots] == [0.0, 40.0, 82.0]


def test_ways_run_from_middle_to_middle():
    """Middle of the unit 55; of the modules 14 and 96: 41 in each. On one side only: 41 and 81."""
    assert dict(rows(2)[0].ways_in) == {"U1-B1": 41.0, "U1-B2": 41.0}
    assert dict(rows(2)[1].ways_in) == {"U1-B1": 41.0, "U1-B2": 81.0}


def test_stacks_are_filled_from_the_first_column_and_add_their_height_to_the_way():
    """Three modules in stacks of two: a stack and a single one."""
    row = rows(3, stack=2)[0]
    assert {spot.item.tag: spot.up_in for spot in row.spots} == {"U1": 0.0, "U1-B1": 0.0, "U1-B2": 48.0, "U1-B3": 0.0}
    assert dict(row.ways_in) == {"U1-B1": 41.0, "U1-B2": 41.0 + 48.0, "U1-B3": 41.0}
    assert row.width_in == 110.0


@settings(max_examples=60, deadline=None)
@given(modules=st.integers(0, 8), stack=st.integers(1, 4))
def test_every_row_holds_the_unit_and_all_modules_once_without_overlap(modules: int, stack: int):
    wanted = sorted(["U1", *(f"U1-B{number}" for number in range(1, modules + 1))])
    found = rows(modules, stack)
    assert len(found) == -(-modules // stack) + 1
    for row in found:
        assert sorted(spot.item.tag for spot in row.spots) == wanted
        columns = sorted({(spot.right_in, spot.item.width_in) for spot in row.spots})
        for (left, wide), (right, _) in zip(columns, columns[1:], strict=False):
            assert right - left - wide >= 12.0 - 1e-9
        assert row.width_in == pytest.approx(columns[-1][0] + columns[-1][1])
        assert row.energy_kwh == pytest.approx(10.4 * (modules + 1))
        assert all(spot.up_in <= (stack - 1) * 48.0 for spot in row.spots)


def test_the_first_row_has_the_shortest_longest_way():
    for modules in range(1, 7):
        longest = [max(way for _, way in row.ways_in) for row in rows(modules)]
        assert longest[0] == min(longest)


def test_rows_that_differ_in_tags_only_have_the_same_shape():
    candidate = Candidate(2, (1, 1), ArrayPlan("A", (), None, (), ()))
    first, second = rows_of(candidate, ["U1", "U2"], UNIT, MODULE, 1)
    assert [row.shape for row in first] == [row.shape for row in second] and first[0] != second[0]


def test_neighbours_keep_the_larger_clearance():
    assert apart_in(UNIT, Item("x", "storage module", 20.0, 40.0, 9.0, 4.0, None, 5.0)) == 12.0


@pytest.mark.parametrize("depth, gap", [(16.0, 6.0), (16.1, 10.0)])
def test_beside_what_stands_out_more_than_six_inches_a_narrow_unit_keeps_its_working_width(depth: float, gap: float):
    """20 in wide, 10 in deep: 30 - 20 = 10 in beside what is deeper than 16 in."""
    narrow = Item("unit", "unit", 20.0, 44.0, 10.0, 6.0, None, 10.4)
    deep = Item("module", "storage module", 28.0, 48.0, depth, 6.0, None, 10.4)
    assert apart_in(narrow, deep) == apart_in(deep, narrow) == gap


def test_only_units_have_a_working_width():
    assert working_width_in(Item("u", "unit", 20.0, 44.0, 10.0, 6.0, None, 1.0)) == 30.0
    assert working_width_in(Item("u", "unit", 36.0, 44.0, 10.0, 6.0, None, 1.0)) == 36.0
    assert working_width_in(MODULE) == 28.0


def test_a_box_without_its_sizes_is_asked_for():
    needs: list[str] = []
    data = UnitData.model_construct(kind="unit", width=None, height=None, depth=None, clearance=None)
    assert item_of("unit", data, needs, "equipment.u") is None
    assert needs == ["equipment.u.width", "equipment.u.height", "equipment.u.depth", "equipment.u.clearance"]
    assert item_of("unit", data, needs, "equipment.u") is None and len(needs) == 4


def test_a_box_is_taken_from_the_data():
    data = StorageData.model_validate(
        {"kind": "storage module", "energy": "10.4 kWh", "width": "28 in", "height": "48 in", "depth": "9 in", "clearance": "12 in", "mass": "110 kg"}
    )
    assert item_of("module", data, [], "equipment.m") == MODULE


def test_an_empty_place_forbids_its_ends_only():
    """200 wide, a row of 30 with 12 in at both ends: from 12 to 158."""
    assert forbidden(space(), rows(0)[0]) == ((-math.inf, 12.0), (158.0, math.inf))
    assert free_stretches(space(), rows(0)[0]) == ((12.0, 188.0),)


def test_a_door_forbids_three_feet_and_the_width_of_the_box():
    """Door from 90 to 126: the left end of 30 in stays out of 90 - 36 - 30 = 24 to 126 + 36 = 162, the end of the place begins at 158."""
    found = forbidden(space(obstacle={"door": {"kind": "door", "left": "90 in", "width": "36 in"}}), rows(0)[0])
    assert found == ((-math.inf, 12.0), (24.0, math.inf))


def test_a_window_above_forbids_less_the_higher_it_is():
    """Sill 60: 16 in above the unit, sqrt(36^2 - 16^2) = 32.25 in aside; sill 80: 36 in above, nothing."""

    def window(sill: str) -> Space:
        return space(obstacle={"w": {"kind": "window", "left": "90 in", "width": "20 in", "bottom": sill, "height": "20 in"}})

    aside = math.sqrt(36.0**2 - 16.0**2)
    assert forbidden(window("60 in"), rows(0)[0])[1] == pytest.approx((90.0 - aside - 30.0, 110.0 + aside))
    assert len(forbidden(window("80 in"), rows(0)[0])) == 2


def test_a_low_obstacle_is_under_what_hangs_high():
    """A bench of 20 in with clearance 12: boxes that hang at 32 in and more are above it."""
    bench = {"bench": {"left": "60 in", "width": "40 in", "bottom": "0 in", "height": "20 in", "depth": "10 in"}}
    assert len(forbidden(space(mounting="wall", bottom="32 in", obstacle=bench), rows(0)[0])) == 2
    assert len(forbidden(space(mounting="wall", bottom="31 in", obstacle=bench), rows(0)[0])) == 3


def test_another_distance_may_be_stated_but_not_less_than_the_clearance_to_plain_obstacles():
    place = space(obstacle={"d": {"kind": "door", "left": "1 in", "width": "1 in", "clear": "6 in"}, "p": {"left": "1 in", "width": "1 in", "clear": "6 in"}}).place
    assert keep_in(place.obstacle["d"], UNIT) == 6.0
    assert keep_in(place.obstacle["p"], UNIT) == 12.0


def test_edges_that_are_not_given_reach_from_floor_to_top():
    place = space(obstacle={"a": {"left": "1 in", "width": "1 in"}, "b": {"left": "1 in", "width": "1 in", "bottom": "20 in", "height": "5 in"}}).place
    assert edges_in(space(), place.obstacle["a"]) == (0.0, math.inf) and edges_in(space(), place.obstacle["b"]) == (20.0, 25.0)


@pytest.mark.parametrize(
    "keys, mounting, words",
    [
        ({"height": "77 in"}, "floor", "wall is 77 in high, 78 in are needed"),
        ({"height": "79 in"}, "wall", ""),
        ({"height": "79 in", "bottom": "24 in"}, "wall", "wall is 79 in high, 80 in are needed"),
        ({"depth_in_front": "45 in"}, "floor", "46 in are needed with 36 in of working space"),
        ({"depth_in_front": "46 in"}, "floor", ""),
        ({"mass_max": "139 kg"}, "wall", "140 kg on a wall that carries 139 kg"),
        ({"mass_max": "139 kg"}, "floor", ""),
        ({"energy_max": "10 kWh"}, "floor", "10.4 kWh where 10.0 kWh may stand"),
    ],
)
def test_why_a_row_can_stand_nowhere_on_a_place(keys: dict[str, str], mounting: str, words: str):
    """The unit is 44 in high with 12 in above it, 10 in deep, 140 kg, 10.4 kWh; on a wall it hangs at 18 in unless said."""
    found = why_never(space(mounting=mounting, **keys), rows(0)[0])
    assert (words in found) if words else found == ""


def test_the_working_space_lies_in_the_middle_where_it_can():
    narrow = Item("unit", "unit", 20.0, 44.0, 10.0, 6.0, None, 10.4)
    assert working_span(space(), narrow, 50.0) == (45.0, 75.0)
    assert working_span(space(), narrow, 0.0) == (0.0, 30.0)
    assert working_span(space(), narrow, 180.0) == (170.0, 200.0)


def test_rows_are_put_as_far_left_as_they_can_and_in_the_order_of_their_places():
    groups = rows_of(Candidate(2, (0, 0), ArrayPlan("A", (), None, (), ())), ["U1", "U2"], UNIT, MODULE, 1)
    found = pack(groups, (space(),))
    assert [(put.row.unit, put.left_in) for put in found.puts] == [("U1", 12.0), ("U2", 54.0)]


def test_the_search_goes_on_to_a_mixed_order_where_the_widest_first_does_not_fit():
    """Left of the door 166 - 36 = 130: 12 + 30 to 42, 54 + 70 = 124. Right of it only the other 70 fits: 12 more at the end."""
    place = space("320 in", obstacle={"door": {"kind": "door", "left": "166 in", "width": "30 in"}})
    groups = rows_of(Candidate(3, (1, 1, 0), ArrayPlan("A", (), None, (), ())), ["U1", "U2", "U3"], UNIT, MODULE, 1)
    found = pack(groups, (place,))
    assert found.puts is not None and len(found.puts) == 3
    ends = [(put.left_in, put.left_in + put.row.width_in) for put in found.puts]
    assert ends == [(12.0, 82.0), (94.0, 124.0), (232.0, 302.0)]


@settings(max_examples=150, deadline=None)
@given(
    widths=st.lists(st.integers(20, 90), min_size=2, max_size=4),
    doors=st.lists(st.integers(0, 500), min_size=1, max_size=2),
    width=st.integers(200, 560),
)
def test_the_search_is_exact_for_rows_of_every_width(widths: list[int], doors: list[int], width: int):
    """Against every order of rows, each as far left as it can be; a bad end in one order forbids nothing in another."""
    place = space(f"{width} in", obstacle={f"d{number}": {"kind": "door", "left": f"{left} in", "width": "30 in"} for number, left in enumerate(doors)})
    groups = tuple(rows(0, unit=Item("unit", "unit", float(wide), 44.0, 10.0, 12.0, None, 1.0))[:1] for wide in widths)
    assert (pack(groups, (place,)).puts is not None) is any(_in_order([rows[0] for rows in each], place) for each in itertools.permutations(groups))


def _in_order(line: list[Row], place: Space) -> bool:
    at = 0.0
    for row in line:
        found = leftmost(forbidden(place, row), at)
        if found is None:
            return False
        at = found + row.width_in + 12.0
    return True


@settings(max_examples=60, deadline=None)
@given(spans=st.lists(st.tuples(st.integers(-20, 200), st.integers(1, 40)), max_size=8), least=st.integers(-20, 220))
def test_the_first_free_position_is_free_and_none_before_it_is(spans: list[tuple[int, int]], least: int):
    closed = sorted((float(low), float(low + wide)) for low, wide in spans)
    merged: list[tuple[float, float]] = []
    for low, high in closed:
        if merged and low < merged[-1][1]:
            merged[-1] = (merged[-1][0], max(high, merged[-1][1]))
        else:
            merged.append((low, high))
    found = leftmost(tuple(merged), float(least))
    assert found is not None and found >= least
    assert not any(low < found < high for low, high in merged)
    assert all(any(low < half / 2.0 < high for low, high in merged) for half in range(2 * least + 1, math.ceil(2.0 * found)))


def test_a_box_that_is_in_no_project_is_passed_over():
    house = {"unit": {"U1": {}}, "storage": {}}
    from linecalc.options.records import Box

    boxes = (Box("U1", "wall", 12.0, 0.0, 30.0, 44.0, "unit", 10.0, "floor"), Box("U1-B1", "wall", 54.0, 0.0, 28.0, 48.0, "storage module", 9.0, "floor"))
    options = Options.model_validate({"place": {"wall": {"width": "20 ft"}}})
    stand(house, options, Layout(boxes, (), 70.0, "floor", (), ()), ["U1"])
    assert house == {"unit": {"U1": {"mounting": "floor"}}, "storage": {}}


def test_the_spacing_of_a_layout_is_the_least_gap_between_columns():
    from linecalc.options.records import Box

    def box(left: float, bottom: float, place: str = "wall") -> Box:
        return Box("x", place, left, bottom, 28.0, 48.0, "storage module", 9.0, "floor")

    layout = Layout((box(0.0, 0.0), box(0.0, 48.0), box(40.0, 0.0), box(84.0, 0.0), box(0.0, 0.0, "shed")), (), 0.0, "floor", (), ())
    assert layout.spacing_in == 12.0
    assert Layout((box(0.0, 0.0), box(0.0, 48.0)), (), 0.0, "floor", (), ()).spacing_in is None


def test_an_end_that_failed_further_right_is_tried_again_further_left():
    """Left of the door 40 in are free, right of it from 154 in to 318 in: only the row of 30 may stand on the left, whatever comes first."""
    place = space("330 in", obstacle={"door": {"kind": "door", "left": "88 in", "width": "30 in"}})
    groups = tuple(rows(0, unit=Item("unit", "unit", wide, 44.0, 10.0, 12.0, None, 1.0)) for wide in (80.0, 60.0, 30.0))
    found = pack(groups, (place,))
    assert found.puts is not None and found.puts[0].row.width_in == 30.0
    assert [put.left_in for put in found.puts] in ([12.0, 154.0, 246.0], [12.0, 154.0, 226.0])
