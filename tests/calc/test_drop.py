"""Voltage drop and rise; cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.drop import (
    cumulative_rise,
    dc_drop,
    effective_impedance,
    longest_length,
    percent_of,
    phase_and_neutral_drop,
    resistance_at,
    two_wire_drop,
)
from linecalc.term import Rendered, given
from tests.calc.strategies import AMPERES, LENGTHS_FT, MORE, OHM_PER_KFT, POWER_FACTORS, TEMPERATURES_C, VOLTS, between

SETS = st.integers(1, 4)


def test_at_75_degrees_the_resistance_is_the_tabled_one() -> None:
    assert resistance_at(0.491, 0.00323, 75.0) == 0.491


def test_copper_at_25_degrees_has_84_percent_of_its_resistance_at_75() -> None:
    # 1 - 0.00323 x 50 = 0.8385
    assert resistance_at(1.0, 0.00323, 25.0) == pytest.approx(0.8385)


def test_at_power_factor_one_the_reactance_drops_out() -> None:
    assert effective_impedance(0.49, 0.064, 1.0) == 0.49


def test_at_power_factor_085_the_sine_is_0527() -> None:
    # 0.49 x 0.85 + 0.064 x 0.52678 = 0.45021
    assert effective_impedance(0.49, 0.064, 0.85) == pytest.approx(0.450214, abs=1e-6)


def test_at_power_factor_zero_only_the_reactance_counts() -> None:
    assert effective_impedance(0.49, 0.064, 0.0) == 0.064


def test_forty_amperes_over_a_hundred_feet_and_back() -> None:
    # 2 x 100 ft x 40 A x 0.49 ohm / 1000 ft = 3.92 V, 1.633 % of 240 V
    drop = two_wire_drop(100.0, 40.0, 0.49, 0.064, 1.0, 1)
    assert drop == pytest.approx(3.92)
    assert percent_of(drop, 240.0) == pytest.approx(1.6333, abs=1e-4)


def test_two_sets_halve_the_drop() -> None:
    assert two_wire_drop(100.0, 40.0, 0.49, 0.064, 0.85, 2) == two_wire_drop(100.0, 40.0, 0.49, 0.064, 0.85, 1) / 2


def test_a_string_over_eighty_feet() -> None:
    # 2 x 80 ft x 13.2 A x 1.24 ohm / 1000 ft = 2.619 V
    assert dc_drop(80.0, 13.2, 1.24, 1) == pytest.approx(2.61888)


def test_a_neutral_of_the_phase_size_makes_a_120_volt_load_drop_as_a_two_wire_circuit() -> None:
    impedance = effective_impedance(0.49, 0.064, 0.85)
    assert phase_and_neutral_drop(60.0, 12.0, impedance, impedance, 1) == pytest.approx(
        two_wire_drop(60.0, 12.0, 0.49, 0.064, 0.85, 1)
    )


def test_a_smaller_neutral_adds_its_own_resistance() -> None:
    # 60 ft x 12 A x (0.49 + 0.78) ohm / 1000 ft = 0.9144 V
    assert phase_and_neutral_drop(60.0, 12.0, 0.49, 0.78, 1) == pytest.approx(0.9144)


def test_rises_on_the_way_add() -> None:
    assert cumulative_rise([0.5, 0.75, 0.25]) == 1.5
    assert cumulative_rise([]) == 0.0


def test_a_run_at_two_thirds_of_its_target_may_be_half_as_long_again() -> None:
    assert longest_length(100.0, 2.0, 3.0) == 150.0


def test_drop_prints_its_impedance_as_a_line_of_its_own() -> None:
    inputs = {"length_ft": 95.0, "current_a": 40.0, "r_ohm_per_kft": 0.49, "x_ohm_per_kft": 0.064, "power_factor": 0.85}
    terms = {key: given(value, "", key, "test") for key, value in inputs.items()}
    drop = two_wire_drop(**terms, sets=given(1.0, "", "sets", "test"))
    assert Rendered(drop).formula == "2 x length_ft x current_a x Z_eff / 1000 / sets"


@for_all(LENGTHS_FT, AMPERES, OHM_PER_KFT, OHM_PER_KFT, POWER_FACTORS, SETS, MORE)
def test_longer_or_more_current_or_thinner_never_drops_less(length, current, r, x, factor, sets, more) -> None:
    base = two_wire_drop(length, current, r, x, factor, sets)
    assert two_wire_drop(length + more, current, r, x, factor, sets) >= base
    assert two_wire_drop(length, current + more, r, x, factor, sets) >= base
    assert two_wire_drop(length, current, r + more, x, factor, sets) >= base
    assert two_wire_drop(length, current, r, x + more, factor, sets) >= base
    assert two_wire_drop(length, current, r, x, factor, sets + 1) <= base


@for_all(LENGTHS_FT, AMPERES, OHM_PER_KFT, SETS, MORE)
def test_the_same_holds_on_dc(length, current, r, sets, more) -> None:
    base = dc_drop(length, current, r, sets)
    assert dc_drop(length + more, current, r, sets) >= base
    assert dc_drop(length, current + more, r, sets) >= base
    assert dc_drop(length, current, r + more, sets) >= base
    assert dc_drop(length, current, r, sets + 1) <= base


@for_all(LENGTHS_FT, AMPERES, OHM_PER_KFT, OHM_PER_KFT, MORE)
def test_the_same_holds_over_phase_and_neutral(length, current, phase, neutral, more) -> None:
    base = phase_and_neutral_drop(length, current, phase, neutral, 1)
    assert phase_and_neutral_drop(length + more, current, phase, neutral, 1) >= base
    assert phase_and_neutral_drop(length, current + more, phase, neutral, 1) >= base
    assert phase_and_neutral_drop(length, current, phase + more, neutral, 1) >= base
    assert phase_and_neutral_drop(length, current, phase, neutral + more, 1) >= base
    assert phase_and_neutral_drop(length, current, phase, neutral, 2) <= base


@for_all(OHM_PER_KFT, TEMPERATURES_C, between(0.0, 60.0))
def test_a_hotter_conductor_never_has_less_resistance(r75, temperature, hotter) -> None:
    assert resistance_at(r75, 0.00323, temperature + hotter) >= resistance_at(r75, 0.00323, temperature) > 0.0


@for_all(OHM_PER_KFT, OHM_PER_KFT, POWER_FACTORS)
def test_effective_impedance_never_exceeds_the_impedance_itself(r, x, factor) -> None:
    assert effective_impedance(r, x, factor) <= (r * r + x * x) ** 0.5 * (1 + 1e-12)


@for_all(VOLTS, VOLTS, MORE)
def test_more_volts_never_are_a_smaller_percentage(drop, base, more) -> None:
    assert percent_of(drop + more, base) >= percent_of(drop, base)


@for_all(st.lists(between(0.0, 5.0), min_size=1, max_size=5), between(0.0, 5.0))
def test_one_more_circuit_on_the_way_never_lowers_the_rise(percents, further) -> None:
    assert cumulative_rise([*percents, further]) >= cumulative_rise(percents)


@for_all(LENGTHS_FT, AMPERES, OHM_PER_KFT, between(0.5, 5.0))
def test_at_the_longest_length_the_drop_is_the_target(length, current, r, target) -> None:
    reach = longest_length(length, percent_of(dc_drop(length, current, r, 1), 240.0), target)
    assert percent_of(dc_drop(reach, current, r, 1), 240.0) == pytest.approx(target, rel=1e-9)
