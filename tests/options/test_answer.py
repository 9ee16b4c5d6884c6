"""First choice and Pareto front."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.answer import answer, clipped_percent, pareto, used_a_year_kwh, winner_of
from linecalc.options.content import Content, verdict_line
from linecalc.options.records import ArrayPlan, Bill, Candidate, Hours, Lost, Result
from linecalc.options.run import judged
from linecalc.options.words import step_words


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


def test_what_has_no_price_comes_after_what_has_one_and_leaves_it_undecided(storage: Content):
    priced, unpriced = made(100.0, 5.0), made(9.0, 5.0, modules=1)
    unpriced = replace(unpriced, bill=Bill((), None, None, ("store-104",)))
    assert winner_of((unpriced, priced), limits(storage)) is priced
    sorted_out = replace(storage, answer=replace(storage.answer, passing=(priced, unpriced), winner=priced), turns=())
    assert "Undecided" in verdict_line(sorted_out) and "no price of store-104" in verdict_line(sorted_out)


def test_without_any_price_the_fewest_parts_are_the_first_choice(storage: Content):
    found = tuple(replace(made(1.0, 5.0, modules=modules), bill=Bill((), None, None, ("x",))) for modules in (2, 0, 1))
    assert winner_of(found, limits(storage)).candidate.storage_modules == 0


def test_results_are_sorted_by_their_verdict(storage: Content):
    found = answer(storage.answered.results, storage.answered.context.settings)
    assert len(found.passing) + len(found.unsettled) + len(found.failing) == len(storage.answered.results)
    assert found.winner in found.front and set(found.front) <= set(found.passing)


def test_storage_above_the_limit_of_its_place_is_not_settled(storage: Content):
    result = storage.answer.winner
    place = replace(result.electrical.places[0], energy_kwh=90.0, within=False, message="above the limit")
    built = replace(storage.answered.built(result), electrical=replace(result.electrical, places=(place,)))
    found = judged(storage.answered.context, built, result, storage.answered.context.settings)
    assert [reason.message for reason in found.unsettled] == ["above the limit (90.0 against 80 kWh)"]


def test_where_nothing_passes_the_nearest_is_named_with_its_reason(units: Content):
    context = units.answered.context
    failing = tuple(found for found in units.answered.results if found.reasons)
    assert answer(failing, context.settings).winner is None
    assert "No candidate passes everything; nearest is" in step_words(context, failing, context.settings, None)[0]
