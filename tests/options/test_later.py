"""Storage modules added later: mounting, room, conductor, breaker, raceway, location, each with what to do now and otherwise."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from linecalc.options import later as module
from linecalc.options.build import Built, build
from linecalc.options.content import Content, blocked_line, growth_rows, growth_title
from linecalc.options.context import Context, context_of
from linecalc.options.later import BREAKER, CONDUCTOR, HARNESS, LOCATION, MOUNTING, NOTHING, RACEWAY, SPACE, Growth, Point, growth
from linecalc.options.records import Candidate, CircuitChoice, PlaceEnergy, RacewayChoice
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"


def points(found: Growth) -> dict[str, Point]:
    """The points by subject."""
    return {point.subject: point for point in found.points}


def grown(content: Content, more: int) -> Growth:
    """The first choice of a study with more storage modules."""
    return growth(content.answered.context, content.answer.winner.candidate, more)


def moved(content: Content, settings: list[tuple[str, object]]) -> Context:
    """The context of a study with something changed."""
    return context_of(with_values(content.answered.context.base, settings), str(EXAMPLES))


def test_all_six_subjects_and_the_harness_are_always_answered(array: Content):
    assert list(points(grown(array, 2))) == [MOUNTING, SPACE, CONDUCTOR, BREAKER, RACEWAY, HARNESS, LOCATION]


def test_the_units_are_placed_now_as_the_modules_ask_for(array: Content):
    """Alone the unit stands at 12 in; with a module of 28 in on its left at 12 + 28 + 12 = 52 in."""
    found = points(grown(array, 2))[SPACE]
    assert "place U1 at 52 to 82 in" in found.now and "12 to 40 in on garage-wall for U1-B2" in found.now and "80 in more" in found.now
    assert found.otherwise == "U1 moved, with circuits"


def test_where_nothing_electrical_changes_it_says_nothing(array: Content):
    found = points(grown(array, 2))
    assert [found[subject].now for subject in (CONDUCTOR, BREAKER, RACEWAY)] == [NOTHING] * 3


def test_ways_of_the_harness_and_the_parts_to_order_with_the_modules_are_named(array: Content):
    found = points(grown(array, 2))[HARNESS].now
    assert "3.4 ft to U1-B1, 3.4 ft to U1-B2" in found and "order stacking-kit, harness-short" in found


def test_energy_is_held_against_the_limit_of_the_location(array: Content):
    assert points(grown(array, 2))[LOCATION].now == "nominal energy grows from 10.4 to 31.2 kWh; 31.2 of 80 kWh in this place"


def test_growth_beyond_the_units_maximum_is_blocked_with_the_reason(storage: Content):
    found = grown(storage, 1)
    assert found.blocked == ("3 storage modules on one unit, at most 2 by its data",) and found.possible == 0 and not found.points
    assert "none can be added" in blocked_line(found)


def test_growth_that_does_not_fit_says_how_far_it_can_and_shows_that(units: Content):
    found = grown(units, 2)
    assert "does not fit" in found.blocked[0] and found.possible == 1
    assert "1 storage module can be added" in blocked_line(found) and "52.0 kWh" in points(found)[LOCATION].now
    assert growth_title(found) == "2 storage modules later: 2u2m-A18 becomes 2u4m-A18"
    assert growth_rows(found)


def test_the_most_modules_that_can_be_added_are_said(array: Content):
    """Three on one unit are one too many; two can be added, and the points are those of two."""
    found = grown(array, 3)
    assert found.possible == 2 and "31.2 of 80 kWh" in points(found)[LOCATION].now


def test_a_unit_that_hangs_is_set_on_the_floor_now_where_only_the_floor_takes_the_modules(array: Content):
    """On 100 in two modules beside the unit do not fit, and only on the floor they may be stacked: 41 + 48 in are 7.4 ft of harness."""
    longer = [("equipment.store-104.harness_length", "8 ft"), ("options.accessory.harness-long.up_to", "8 ft")]
    place = {"width": "100 in", "height": "9 ft", "depth_in_front": "12 ft", "mounting": ["wall", "floor"], "mass_max": "200 kg"}
    kit = {"price": 240, "per": "stacked module", "stack": 2}
    context = moved(array, [("options.place", {"wall": place}), ("unit.U1.mounting", "wall"), ("options.accessory.stacking-kit", kit), *longer])
    found = points(growth(context, array.answer.winner.candidate, 2))[MOUNTING]
    assert "let U1 stand on the floor now" in found.now and "mounted anew" in found.otherwise


def test_without_a_place_room_and_mounting_are_said_to_be_unchecked(array: Content):
    found = growth(moved(array, [("options.place", None)]), array.answer.winner.candidate, 1)
    assert "no wall or floor is given" in found.points[0].now


def test_on_a_wall_the_modules_need_their_own_backing(array: Content):
    place = {"width": "20 ft", "height": "9 ft", "depth_in_front": "12 ft", "mounting": ["wall"], "mass_max": "200 kg", "bottom": "20 in"}
    found = points(growth(moved(array, [("options.place", {"wall": place}), ("unit.U1.mounting", "wall")]), array.answer.winner.candidate, 1))
    assert "prepare the wall for U1-B1" in found[MOUNTING].now and "20 in up" in found[SPACE].now


@pytest.fixture
def changed(array: Content, monkeypatch) -> dict[str, Point]:
    """The points where the modules ask for a larger circuit, a new one with a raceway, and stand above the limit."""
    own = build

    def altered(context: Context, candidate: Candidate) -> Built:
        built = own(context, candidate)
        if candidate.storage_modules == 0:
            return built
        found = built.electrical
        circuits = tuple(replace(each, device_a=80.0, conductor="3 AWG Cu THWN-2") if each.tag == "C3" else each for each in found.circuits)
        raceways = tuple(replace(each, size="1") if each.section == "R5" else each for each in found.raceways)
        return replace(
            built,
            electrical=replace(
                found,
                circuits=(*circuits, CircuitChoice("CS", "U1 to U1-B1", 30.0, "10 AWG Cu", 4.0)),
                raceways=(*raceways, RacewayChoice("RS", "EMT", "1/2")),
                places=(PlaceEnergy("U1", 20.8, 20.0, False, "above the limit"),),
            ),
        )

    monkeypatch.setattr(module, "build", altered)
    return points(growth(array.answered.context, array.answer.winner.candidate, 1))


def test_a_larger_conductor_is_pulled_now_or_replaced_later(changed: dict[str, Point]):
    assert "pull C3: 3 AWG Cu THWN-2 instead of 6 AWG Cu THWN-2" in changed[CONDUCTOR].now
    assert "leave the way for CS, U1 to U1-B1: 10 AWG Cu" in changed[CONDUCTOR].now
    assert changed[CONDUCTOR].otherwise == "C3 pulled out and replaced; CS pulled later"


def test_a_larger_breaker_and_a_space_for_a_new_one_are_asked_for_now(changed: dict[str, Point]):
    assert changed[BREAKER].now == "C3: 80 A instead of 60 A; CS: a space for 30 A"
    assert "C3 replaced" in changed[BREAKER].otherwise


def test_a_larger_raceway_is_built_now_or_replaced_later(changed: dict[str, Point]):
    assert changed[RACEWAY].now == "R5: 1 in EMT instead of 3/4 in; RS: 1/2 in EMT, for later"
    assert changed[RACEWAY].otherwise == "R5 taken out and replaced"


def test_energy_above_the_limit_asks_for_another_place_now(changed: dict[str, Point]):
    assert "above 20 kWh: choose another place" in changed[LOCATION].now and changed[LOCATION].otherwise != NOTHING


def test_growth_of_the_array_case_is_in_the_study_itself(array: Content):
    assert array.growth[0].later.name == "1u1m-A12" and array.growth[0].added == 1
    assert read_project(EXAMPLES / "options_array.toml").options is not None
