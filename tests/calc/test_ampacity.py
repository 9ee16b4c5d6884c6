"""Ampacity needs, factors, and portions of a run; cases worked by hand."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.ampacity import (
    LowerPortionBasis,
    Portion,
    conditions_need,
    corrected_ampacity,
    dwelling_ampacity_need,
    governing_portion,
    parallel_ampacity,
    raised_ambient,
    terminal_need,
)
from linecalc.calc.compare import at_most
from linecalc.term import Rendered, given
from tests.calc.strategies import AMPACITIES, AMPERES, FACTORS, LENGTHS_FT, MORE

OF_HIGHER, OF_CIRCUIT = LowerPortionBasis.OF_HIGHER, LowerPortionBasis.OF_CIRCUIT
BASES = st.sampled_from(LowerPortionBasis)
RUNS = st.lists(st.builds(Portion, st.just("part"), LENGTHS_FT, AMPACITIES), min_size=1, max_size=6)
THREE_LEVELS = [Portion("roof", 6.5, 40.0), Portion("attic", 38.0, 55.0), Portion("garage", 22.0, 60.0)]


def test_terminals_need_a_quarter_more_than_the_continuous_current() -> None:
    assert terminal_need(40.0, 0.0) == 50.0
    assert terminal_need(16.0, 4.0) == 24.0
    assert terminal_need(0.0, 30.0) == 30.0


def test_conditions_need_the_current_as_it_is() -> None:
    assert conditions_need(40.0, 0.0) == 40.0
    assert conditions_need(16.0, 4.0) == 20.0


def test_for_a_pv_string_the_second_125_percent_comes_from_the_terminals() -> None:
    assert terminal_need(1.25 * 13.9, 0.0) == pytest.approx(21.71875)


def test_the_terminal_line_prints_as_a_reviewer_writes_it() -> None:
    need = terminal_need(given(40.0, "A", "I_c", "test"), given(0.0, "A", "I_n", "test"), "feeder_continuous_conductor")
    line = Rendered(need)
    assert line.formula == "1.25 x I_c + I_n"
    assert line.substitution == "1.25 x 40 A + 0 A"
    assert line.result == "50"


def test_a_sunlit_roof_at_36_degrees_counts_as_69() -> None:
    assert raised_ambient(36.0, 33.0) == 69.0


def test_factors_multiply_the_insulation_column() -> None:
    assert corrected_ampacity(75.0, 0.82, 0.80) == pytest.approx(49.2)
    assert corrected_ampacity(75.0, 1.0, 1.0) == 75.0


def test_a_200_ampere_dwelling_needs_166_amperes() -> None:
    assert dwelling_ampacity_need(200.0) == pytest.approx(166.0)
    assert dwelling_ampacity_need(400.0) == pytest.approx(332.0)


def test_two_equal_sets_carry_twice_as_much() -> None:
    assert parallel_ampacity(150.0, 2) == 300.0


def test_the_three_portions_of_the_2017_reading_leave_the_roof_in_charge() -> None:
    result = governing_portion(THREE_LEVELS, OF_HIGHER)
    assert (result.tag, result.ampacity_a, result.set_aside) == ("roof", 40.0, ())
    attic = result.trials[1]
    assert (attic.tag, attic.lower_ft, attic.percent_limit_ft, attic.allowed) == ("attic", 6.5, 6.0, False)


def test_the_same_portions_of_the_2020_and_2023_reading_set_the_roof_aside() -> None:
    result = governing_portion(THREE_LEVELS, OF_CIRCUIT)
    assert (result.tag, result.ampacity_a, result.set_aside) == ("attic", 55.0, ("roof",))
    assert (result.lower_ft, result.limit_ft) == (6.5, 10.0)
    assert result.percent_limit_ft == pytest.approx(6.65)


def test_the_highest_level_is_tried_first_and_its_refusal_is_kept() -> None:
    garage = governing_portion(THREE_LEVELS, OF_CIRCUIT).trials[0]
    assert (garage.tag, garage.lower, garage.lower_ft, garage.allowed) == ("garage", ("roof", "attic"), 44.5, False)


def test_ten_percent_exactly_is_allowed() -> None:
    run = [Portion("roof", 6.0, 40.0), Portion("attic", 60.0, 55.0)]
    assert governing_portion(run, OF_HIGHER).tag == "attic"


def test_ten_feet_exactly_is_allowed_and_a_hundredth_more_is_not() -> None:
    assert governing_portion([Portion("a", 10.0, 40.0), Portion("b", 200.0, 55.0)], OF_HIGHER).tag == "b"
    assert governing_portion([Portion("a", 10.01, 40.0), Portion("b", 200.0, 55.0)], OF_HIGHER).tag == "a"


def test_ten_feet_alone_is_not_enough_on_a_short_run() -> None:
    run = [Portion("roof", 5.0, 40.0), Portion("wall", 20.0, 55.0)]
    assert governing_portion(run, OF_CIRCUIT).tag == "roof"


def test_two_separate_lower_portions_count_together() -> None:
    run = [Portion("roof", 6.0, 40.0), Portion("attic", 120.0, 60.0), Portion("wall", 6.0, 45.0)]
    assert governing_portion(run, OF_CIRCUIT).tag == "wall"
    assert governing_portion(run, OF_CIRCUIT).set_aside == ("roof",)


def test_lower_portions_of_equal_ampacity_are_one_level() -> None:
    run = [Portion("r1", 4.0, 40.0), Portion("attic", 120.0, 60.0), Portion("r2", 4.0, 40.0)]
    result = governing_portion(run, OF_CIRCUIT)
    assert (result.tag, result.set_aside) == ("attic", ("r1", "r2"))


def test_one_portion_is_the_whole_run() -> None:
    result = governing_portion([Portion("attic", 20.0, 55.0)], OF_HIGHER)
    assert (result.tag, result.ampacity_a, result.set_aside, len(result.trials)) == ("attic", 55.0, (), 1)


def test_portions_without_length_never_raise_the_ampacity() -> None:
    run = [Portion("roof", 0.0, 40.0), Portion("attic", 0.0, 55.0)]
    assert governing_portion(run, OF_HIGHER).tag == "roof"
    assert governing_portion(run, OF_CIRCUIT).tag == "roof"


def test_ten_percent_holds_on_a_run_of_inches_too() -> None:
    assert governing_portion([Portion("a", 0.05, 40.0), Portion("b", 0.6, 55.0)], OF_HIGHER).tag == "b"


def test_a_portion_without_length_is_set_aside_on_a_run_that_has_some() -> None:
    assert governing_portion([Portion("a", 0.0, 40.0), Portion("b", 20.0, 55.0)], OF_HIGHER).tag == "b"


def test_a_run_without_portions_is_an_error() -> None:
    with pytest.raises(ValueError, match="at least one portion"):
        governing_portion([], OF_CIRCUIT)


def test_the_ten_percent_line_names_the_length_it_is_taken_of() -> None:
    run = [
        Portion("roof", given(6.5, "ft", "L_roof", "test"), given(40.0, "A", "I_roof", "test")),
        Portion("attic", given(60.0, "ft", "L_attic", "test"), given(55.0, "A", "I_attic", "test")),
    ]
    higher, circuit = governing_portion(run, OF_HIGHER), governing_portion(run, OF_CIRCUIT)
    assert Rendered(higher.trials[0].percent_limit_ft).formula == "0.1 x L_attic"
    assert Rendered(circuit.percent_limit_ft).formula == "0.1 x (L_roof + L_attic)"
    assert Rendered(circuit.lower_ft).formula == "L_roof"


@for_all(AMPERES, AMPERES, MORE)
def test_more_current_never_needs_less(continuous: float, noncontinuous: float, more: float) -> None:
    for need in (terminal_need, conditions_need):
        assert need(continuous + more, noncontinuous) >= need(continuous, noncontinuous)
        assert need(continuous, noncontinuous + more) >= need(continuous, noncontinuous)


@for_all(AMPERES, AMPERES)
def test_terminals_never_need_less_than_conditions(continuous: float, noncontinuous: float) -> None:
    assert terminal_need(continuous, noncontinuous) >= conditions_need(continuous, noncontinuous)


@for_all(AMPACITIES, FACTORS, FACTORS, FACTORS)
def test_hotter_or_more_crowded_never_carries_more(table: float, factor: float, other: float, lower: float) -> None:
    worse = min(factor, lower)
    assert corrected_ampacity(table, worse, other) <= corrected_ampacity(table, factor, other)
    assert corrected_ampacity(table, other, worse) <= corrected_ampacity(table, other, factor)


@for_all(RUNS, BASES)
def test_a_run_carries_no_less_than_its_lowest_and_no_more_than_its_highest_portion(run: list, basis: object) -> None:
    used = governing_portion(run, basis).ampacity_a
    ampacities = [portion.ampacity_a for portion in run]
    assert min(ampacities) <= used <= max(ampacities)


@for_all(RUNS)
def test_the_whole_circuit_as_basis_never_gives_less_than_the_higher_length(run: list) -> None:
    assert governing_portion(run, OF_CIRCUIT).ampacity_a >= governing_portion(run, OF_HIGHER).ampacity_a


@for_all(RUNS, BASES, st.integers(0, 5), st.floats(0.05, 1.0))
def test_a_hotter_portion_never_raises_the_run(run: list, basis: object, index: int, factor: float) -> None:
    place = index % len(run)
    worse = list(run)
    worse[place] = dataclasses.replace(run[place], ampacity_a=run[place].ampacity_a * factor)
    assert governing_portion(worse, basis).ampacity_a <= governing_portion(run, basis).ampacity_a


@for_all(RUNS, BASES, MORE)
def test_a_longer_lowest_portion_never_raises_the_run(run: list, basis: object, more: float) -> None:
    lowest = min(range(len(run)), key=lambda place: run[place].ampacity_a)
    worse = list(run)
    worse[lowest] = dataclasses.replace(run[lowest], length_ft=run[lowest].length_ft + more)
    assert governing_portion(worse, basis).ampacity_a <= governing_portion(run, basis).ampacity_a


@for_all(RUNS, BASES, st.randoms())
def test_the_order_of_the_portions_decides_nothing(run: list, basis: object, random: object) -> None:
    shuffled = list(run)
    random.shuffle(shuffled)
    assert governing_portion(shuffled, basis).ampacity_a == governing_portion(run, basis).ampacity_a


@for_all(RUNS, BASES)
def test_what_is_set_aside_keeps_both_limits(run: list, basis: object) -> None:
    result = governing_portion(run, basis)
    if result.set_aside:
        assert at_most(result.lower_ft, result.limit_ft)
        assert at_most(result.lower_ft, result.percent_limit_ft)
    assert result.trials[-1].allowed
    assert not any(trial.allowed for trial in result.trials[:-1])
