"""First choice, Pareto front, what would change it, and later growth."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.answer import answer, clipped_percent, pareto, used_a_year_kwh, winner_of
from linecalc.options.content import Content, content_of, verdict_line
from linecalc.options.later import growth
from linecalc.options.records import ArrayPlan, Bill, Candidate, Hours, Lost, Result
from linecalc.options.run import run_options
from linecalc.options.sensitivity import undecided
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
BASE = read_project(EXAMPLES / "options_storage.toml")


def made(cost: float, hours: float, clipped: float = 0.0, modules: int = 0) -> Result:
    """A result with given figures."""
    candidate = Candidate(1, (modules,), ArrayPlan(f"A{cost:g}-{hours:g}-{clipped:g}", (9,), None, (20.0,), (180.0,)))
    found = Hours("winter", "none", True, hours, hours, (hours,) * 24, 1.0, 0.0)
    return Result(candidate, None, None, None, Bill((), cost, cost, ()), hours=(found,), lost=(Lost("year", 100.0, 100.0 - clipped, 0.0, clipped, 0.0),))


def limits(storage: Content):
    """The settings of case 1 without a value of energy."""
    return replace(storage.answered.context.settings, value_of_kwh_a_year=0.0)


def test_the_cheapest_is_the_first_choice_and_hours_break_the_tie(storage: Content):
    results = (made(10.0, 5.0), made(9.0, 1.0), made(9.0, 2.0))
    assert winner_of(results, limits(storage)) is results[2]


def test_energy_used_counts_against_the_cost(storage: Content):
    dear, cheap = made(110.0, 5.0, clipped=0.0), made(100.0, 5.0, clipped=50.0)
    assert winner_of((dear, cheap), limits(storage)) is cheap
    assert winner_of((dear, cheap), replace(limits(storage), value_of_kwh_a_year=1.0)) is dear


def test_days_stand_for_a_year_where_no_year_is_known():
    found = replace(made(1.0, 1.0), lost=(Lost("a", 10.0, 8.0, 0.0, 2.0, 0.0), Lost("b", 20.0, 20.0, 0.0, 0.0, 0.0)))
    assert used_a_year_kwh(found) == pytest.approx(365.0 * 14.0)
    assert clipped_percent(found) == pytest.approx(100.0 * 2.0 / 30.0)


@settings(max_examples=60, deadline=None)
@given(figures=st.lists(st.tuples(st.integers(1, 6), st.integers(0, 6), st.integers(0, 6)), min_size=1, max_size=12))
def test_the_front_holds_exactly_what_nothing_beats(storage: Content, figures: list[tuple[int, int, int]]):
    results = tuple(made(float(cost), float(hours), float(lost)) for cost, hours, lost in figures)
    front = pareto(results, limits(storage))
    assert front
    for found, (cost, hours, lost) in zip(results, figures, strict=True):
        beaten = any(c <= cost and h >= hours and w <= lost and (c, h, w) != (cost, hours, lost) for c, h, w in figures)
        assert (found in front) is not beaten


def test_more_storage_modules_never_carry_fewer_hours_in_a_study(storage: Content):
    by_name = {found.candidate.name: found for found in storage.answered.results}
    for units, most in ((1, 2), (2, 3)):
        for modules in range(most):
            less, more = by_name[f"{units}u{modules}m-A18"], by_name[f"{units}u{modules + 1}m-A18"]
            assert more.least_hours("none") >= less.least_hours("none") - 1e-9


def test_a_larger_array_never_loses_less_in_a_study(array: Content):
    by_name = {found.candidate.name: found for found in array.answered.results}
    lost = [sum(day.clipped_kwh for day in by_name[f"1u1m-{name}"].lost) for name in ("A12", "A18", "A26")]
    assert lost == sorted(lost)


def test_a_price_range_that_changes_the_first_choice_leaves_it_undecided():
    house = with_values(BASE, [("options.price.store-104", [4000, 12000]), ("options.price.unit-76", [5000, 9800])])
    content = content_of(run_options(house, workers=1))
    found = undecided(content.turns)
    assert found and {turn.what for turn in found} <= {"price of store-104", "price of unit-76", "price of unit-circuit"}
    assert "Undecided" in verdict_line(content)


def test_a_narrow_price_range_leaves_it_decided(storage: Content):
    assert not storage.undecided
    assert "first choice" in verdict_line(storage)


def test_a_length_range_that_breaks_a_rule_changes_the_first_choice():
    house = with_values(BASE, [("circuit.C1.drop_target", "1 %"), ("circuit.C1.conductor", "8 AWG Cu THWN-2"), ("options.length_range", {"R3": ["10 ft", "900 ft"]})])
    content = content_of(run_options(house, workers=1))
    turns = [turn for turn in content.turns if turn.what == "section.R3.length"]
    assert [turn.moved for turn in turns] == ["10 ft", "900 ft"]
    assert not turns[0].changed


def test_the_load_is_always_among_the_moved_assumptions(units: Content):
    moved = {(turn.what, turn.moved) for turn in units.turns}
    assert {("load", "20 % less"), ("load", "20 % more")} <= moved
    assert any(turn.changed for turn in units.turns if turn.what == "load")


def test_growth_beyond_the_units_maximum_is_blocked_with_the_reason(storage: Content):
    found = growth(storage.answered.context, storage.answer.winner.candidate, 1)
    assert any("at most 2" in reason for reason in found.blocked)


def test_growth_within_it_needs_space_now_and_no_new_circuit(array: Content):
    found = growth(array.answered.context, array.answer.winner.candidate, 2)
    assert not found.blocked
    assert any("no circuit, breaker or raceway changes" in line for line in found.do_now)
    assert any("80 in" in line for line in found.do_now)
    assert any("10.4 to 31.2 kWh" in line for line in found.do_now)


def test_growth_that_does_not_fit_is_blocked():
    small = with_values(read_project(EXAMPLES / "options_array.toml"), [("options.place.garage-wall.width", "100 in"), ("options.place.garage-wall.obstacle", {}), ("options.units", [1, 1])])
    content = content_of(run_options(small, workers=1), 2)
    assert any("does not fit" in reason for reason in content.growth[0].blocked)


def test_where_nothing_passes_the_nearest_is_named_with_its_reason(units: Content):
    context = units.answered.context
    failing = tuple(found for found in units.answered.results if found.reasons)
    found = answer(context, failing, context.settings)
    assert found.winner is None
    assert "No candidate passes everything; nearest is" in found.words[0]
