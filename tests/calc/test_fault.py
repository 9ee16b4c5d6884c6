"""Fault currents by vector sums; cases worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.fault import (
    LINE_TO_NEUTRAL_AT_TERMINALS,
    Impedance,
    assumed_contribution,
    conductor_impedance,
    fault_line_to_line,
    fault_line_to_neutral,
    in_series,
    source_impedance,
    source_impedance_line_to_neutral,
    transformer_fault_current,
    with_contributions,
)
from tests.calc.strategies import AMPERES, LENGTHS_FT, MORE, OHM_PER_KFT, between

NOTHING = Impedance(0.0, 0.0)
FAULTS_A = between(500.0, 50_000.0)
X_OVER_R = between(0.0, 10.0)
OHMS = between(0.0, 0.5)
RUNS = st.builds(Impedance, OHMS, OHMS)


def test_a_25_kva_transformer_of_2_percent() -> None:
    # 25000 / 240 / 0.02 = 5208 A
    assert transformer_fault_current(25000.0, 240.0, 2.0) == pytest.approx(5208.33, abs=0.01)


def test_the_source_impedance_has_the_magnitude_and_ratio_asked_for() -> None:
    # 240 V / 10 kA = 0.024 ohm; at X/R = 0.75 it is the 3-4-5 triangle 0.0192 and 0.0144.
    source = source_impedance(10000.0, 240.0, 0.75)
    assert (source.r_ohm, source.x_ohm) == (pytest.approx(0.0192), pytest.approx(0.0144))


def test_line_to_neutral_source_impedance_is_80_volts_over_the_line_to_line_current() -> None:
    source = source_impedance_line_to_neutral(10000.0, 120.0, LINE_TO_NEUTRAL_AT_TERMINALS, 0.75)
    assert math.hypot(source.r_ohm, source.x_ohm) == pytest.approx(80.0 / 10000.0)
    assert source.x_ohm / source.r_ohm == pytest.approx(0.75)


def test_at_the_source_both_faults_are_the_ones_it_was_made_from() -> None:
    line_to_line = fault_line_to_line(240.0, source_impedance(10000.0, 240.0, 1.3), NOTHING)
    neutral = source_impedance_line_to_neutral(10000.0, 120.0, LINE_TO_NEUTRAL_AT_TERMINALS, 1.3)
    assert line_to_line == pytest.approx(10000.0)
    assert fault_line_to_neutral(120.0, neutral, NOTHING, NOTHING) == pytest.approx(15000.0)


def test_the_bracket_at_a_meter_runs_from_one_to_one_and_a_half() -> None:
    faults = [
        fault_line_to_neutral(
            120.0, source_impedance_line_to_neutral(10000.0, 120.0, ratio, 1.0), NOTHING, NOTHING
        )
        for ratio in (1.0, 1.5)
    ]
    assert faults == [pytest.approx(10000.0), pytest.approx(15000.0)]


def test_fifty_feet_of_a_feeder_behind_ten_kiloamperes() -> None:
    # Source at X/R 0.75: 0.0192 + j 0.0144. Run, one way: 0.2 x 0.05 = 0.01, 0.06 x 0.05 = 0.003 ohm.
    # Loop: 0.0392 + j 0.0204, magnitude 0.044191 ohm; 240 V / 0.044191 ohm = 5431 A.
    run = conductor_impedance(0.2, 0.06, 50.0, 1)
    fault = fault_line_to_line(240.0, source_impedance(10000.0, 240.0, 0.75), run)
    assert fault == pytest.approx(5431.0, abs=1.0)


def test_the_same_point_line_to_neutral() -> None:
    # Source: 0.0064 + j 0.0048. Phase and neutral alike: + 0.02 + j 0.006.
    # 0.0264 + j 0.0108, magnitude 0.028524 ohm; 120 V / 0.028524 ohm = 4207 A.
    run = conductor_impedance(0.2, 0.06, 50.0, 1)
    source = source_impedance_line_to_neutral(10000.0, 120.0, 1.5, 0.75)
    assert fault_line_to_neutral(120.0, source, run, run) == pytest.approx(4207.0, abs=1.0)


def test_sums_are_vector_sums_not_sums_of_magnitudes() -> None:
    # 0.03 and 0.04 ohm at right angles are 0.05, not 0.07.
    assert fault_line_to_line(240.0, Impedance(0.03, 0.0), Impedance(0.0, 0.02)) == pytest.approx(4800.0)


def test_both_legs_of_the_loop_count() -> None:
    assert fault_line_to_line(240.0, NOTHING, Impedance(0.01, 0.0)) == pytest.approx(12000.0)
    assert fault_line_to_neutral(120.0, NOTHING, Impedance(0.01, 0.0), Impedance(0.02, 0.0)) == pytest.approx(4000.0)


def test_parallel_sets_divide_the_impedance() -> None:
    one, two = conductor_impedance(0.2, 0.06, 50.0, 1), conductor_impedance(0.2, 0.06, 50.0, 2)
    assert (two.r_ohm, two.x_ohm) == (one.r_ohm / 2, one.x_ohm / 2)


def test_runs_in_series_add_part_by_part() -> None:
    summed = in_series([Impedance(0.01, 0.003), Impedance(0.02, 0.004)])
    assert (summed.r_ohm, summed.x_ohm) == (pytest.approx(0.03), pytest.approx(0.007))
    assert in_series([]) == NOTHING


def test_a_unit_without_a_stated_fault_current_counts_as_its_start_current_or_twice_its_rating() -> None:
    assert assumed_contribution(140.0, 40.0) == 140.0
    assert assumed_contribution(60.0, 40.0) == 80.0
    assert assumed_contribution(0.0, 40.0) == 80.0


def test_contributions_are_added_arithmetically() -> None:
    assert with_contributions(5000.0, [80.0, 140.0]) == 5220.0
    assert with_contributions(5000.0, []) == 5000.0


@for_all(FAULTS_A, X_OVER_R, OHM_PER_KFT, OHM_PER_KFT, LENGTHS_FT, MORE)
def test_longer_never_raises_the_fault_current(fault, ratio, r, x, length, more) -> None:
    shorter, longer = conductor_impedance(r, x, length, 1), conductor_impedance(r, x, length + more, 1)
    source = source_impedance(fault, 240.0, ratio)
    neutral = source_impedance_line_to_neutral(fault, 120.0, 1.5, ratio)
    assert fault_line_to_line(240.0, source, longer) <= fault_line_to_line(240.0, source, shorter)
    assert fault_line_to_neutral(120.0, neutral, longer, longer) <= fault_line_to_neutral(
        120.0, neutral, shorter, shorter
    )


@for_all(FAULTS_A, X_OVER_R, RUNS, OHM_PER_KFT)
def test_hotter_or_thinner_conductors_never_raise_the_fault_current(fault, ratio, run, more) -> None:
    source = source_impedance(fault, 240.0, ratio)
    worse = Impedance(run.r_ohm + more, run.x_ohm)
    assert fault_line_to_line(240.0, source, worse) <= fault_line_to_line(240.0, source, run)


@for_all(FAULTS_A, between(0.0, 10_000.0), X_OVER_R, RUNS)
def test_a_stiffer_source_never_lowers_the_fault_current(fault, more, ratio, run) -> None:
    weak = fault_line_to_line(240.0, source_impedance(fault, 240.0, ratio), run)
    stiff = fault_line_to_line(240.0, source_impedance(fault + more, 240.0, ratio), run)
    assert stiff >= weak * (1 - 1e-12)


@for_all(FAULTS_A, X_OVER_R, RUNS)
def test_no_run_raises_the_current_of_its_source(fault, ratio, run) -> None:
    assert fault_line_to_line(240.0, source_impedance(fault, 240.0, ratio), run) <= fault * (1 + 1e-12)


@for_all(FAULTS_A, X_OVER_R, between(1.0, 1.5), RUNS)
def test_the_upper_end_of_the_bracket_is_never_the_lower_current(fault, ratio, factor, run) -> None:
    low, high = (
        fault_line_to_neutral(120.0, source_impedance_line_to_neutral(fault, 120.0, end, ratio), run, run)
        for end in (1.0, factor)
    )
    assert high >= low * (1 - 1e-12)


@for_all(FAULTS_A, X_OVER_R, st.lists(RUNS, min_size=1, max_size=4))
def test_the_order_of_runs_in_series_decides_nothing(fault, ratio, runs) -> None:
    source = source_impedance(fault, 240.0, ratio)
    forward = fault_line_to_line(240.0, source, in_series(runs))
    assert fault_line_to_line(240.0, source, in_series(runs[::-1])) == pytest.approx(forward, rel=1e-12)


@for_all(FAULTS_A, X_OVER_R, RUNS)
def test_the_vector_sum_never_gives_less_current_than_the_arithmetic_one(fault, ratio, run) -> None:
    source = source_impedance(fault, 240.0, ratio)
    arithmetic = 240.0 / (240.0 / fault + 2.0 * math.hypot(run.r_ohm, run.x_ohm))
    assert fault_line_to_line(240.0, source, run) >= arithmetic * (1 - 1e-12)


@for_all(between(10.0, 500.0), between(0.0, 25.0), between(0.5, 8.0))
def test_a_larger_or_softer_transformer_moves_the_fault_the_way_it_should(kva, more, percent) -> None:
    base = transformer_fault_current(kva * 1000.0, 240.0, percent)
    assert transformer_fault_current((kva + more) * 1000.0, 240.0, percent) >= base
    assert transformer_fault_current(kva * 1000.0, 240.0, percent + more) <= base


@for_all(FAULTS_A, st.lists(AMPERES, max_size=4), AMPERES)
def test_one_more_source_never_lowers_the_fault_current(fault, contributions, further) -> None:
    assert with_contributions(fault, [*contributions, further]) > with_contributions(fault, contributions)


@for_all(AMPERES, AMPERES, MORE)
def test_a_larger_unit_never_contributes_less(start, rated, more) -> None:
    assert assumed_contribution(start + more, rated) >= assumed_contribution(start, rated)
    assert assumed_contribution(start, rated + more) >= assumed_contribution(start, rated)
