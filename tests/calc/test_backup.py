"""Firm power, legs and neutral in island mode; cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.backup import (
    combined_discharge,
    combined_rating,
    firm_apparent_power,
    firm_power,
    largest_single_load,
    leg_current,
    neutral_current,
    real_power,
    source_neutral_need,
)
from linecalc.calc.load import apparent_power
from linecalc.term import Rendered, given
from tests.calc.strategies import AMPERES, MORE, POWER_FACTORS, POWERS_W, VOLTS

LIMITS = st.lists(POWERS_W, min_size=1, max_size=6)


def test_two_units_of_9600_volt_amperes_stand_for_19200() -> None:
    assert combined_rating([9600.0, 9600.0]) == 19200.0


def test_storage_discharge_limits_what_the_units_could_give() -> None:
    discharge = combined_discharge([5000.0, 5000.0])
    assert firm_power([combined_rating([9600.0, 9600.0]), discharge]) == 10000.0


def test_a_device_on_the_way_limits_the_firm_power() -> None:
    assert firm_apparent_power([19200.0, apparent_power(60.0, 240.0)]) == 14400.0


def test_without_any_limit_there_is_no_firm_power() -> None:
    for kernel in (firm_power, firm_apparent_power, largest_single_load):
        with pytest.raises(ValueError, match="no amount"):
            kernel([])


def test_kilowatts_need_a_power_factor() -> None:
    assert real_power(8000.0, 0.85) == 6800.0


def test_each_leg_carries_the_240_volt_load_and_its_own() -> None:
    # 4800 VA at 240 V is 20 A on both legs; 1500 VA and 600 VA at 120 V are 12.5 A and 5 A.
    leg_1, leg_2 = leg_current(20.0, 12.5), leg_current(20.0, 5.0)
    assert (leg_1, leg_2) == (32.5, 25.0)
    assert neutral_current(leg_1, leg_2) == 7.5


def test_legs_in_balance_leave_the_neutral_without_current() -> None:
    assert neutral_current(12.5, 12.5) == 0.0


def test_loads_on_one_leg_all_return_over_the_neutral() -> None:
    assert neutral_current(17.0, 0.0) == 17.0


def test_what_240_volt_appliances_put_on_the_neutral_adds_to_the_difference() -> None:
    # 38 A and 20 A on the legs, a range with 28 A on the neutral: 18 + 28
    assert neutral_current(38.0, 20.0, 28.0) == 46.0


def test_the_neutral_line_subtracts_the_lower_leg_from_the_higher() -> None:
    line = Rendered(neutral_current(given(5.0, "A", "I_1", "test"), given(12.5, "A", "I_2", "test")))
    assert line.formula == "I_2 - I_1"
    assert line.result == "7.5"


def test_the_largest_load_counts_alone() -> None:
    assert largest_single_load([1500.0, 4800.0, 1200.0]) == 4800.0


@for_all(LIMITS, POWERS_W)
def test_one_more_limit_never_raises_the_firm_power(limits: list, further: float) -> None:
    for kernel in (firm_power, firm_apparent_power):
        assert kernel([*limits, further]) <= kernel(limits) == min(limits)


@for_all(LIMITS, st.integers(0, 5), MORE)
def test_a_larger_limit_never_lowers_the_firm_power(limits: list, index: int, more: float) -> None:
    raised = list(limits)
    raised[index % len(limits)] += more
    assert firm_power(raised) >= firm_power(limits)


@for_all(LIMITS, POWERS_W)
def test_one_more_unit_or_storage_never_gives_less(powers: list, further: float) -> None:
    assert combined_rating([*powers, further]) > combined_rating(powers)
    assert combined_discharge([*powers, further]) > combined_discharge(powers)


@for_all(AMPERES, AMPERES, MORE)
def test_more_load_never_gives_less_leg_current(two_pole, single_pole, more) -> None:
    assert leg_current(two_pole + more, single_pole) >= leg_current(two_pole, single_pole)
    assert leg_current(two_pole, single_pole + more) >= leg_current(two_pole, single_pole)


@for_all(AMPERES, AMPERES)
def test_the_legs_may_be_named_either_way(leg_1: float, leg_2: float) -> None:
    assert neutral_current(leg_1, leg_2) == neutral_current(leg_2, leg_1) == abs(leg_1 - leg_2)


@for_all(AMPERES, AMPERES, MORE)
def test_more_on_the_heavier_leg_never_unloads_the_neutral(leg_1, leg_2, more) -> None:
    lower, higher = sorted((leg_1, leg_2))
    assert neutral_current(higher + more, lower) >= neutral_current(higher, lower)


@for_all(POWERS_W, POWER_FACTORS)
def test_real_power_never_exceeds_apparent_power(apparent, factor) -> None:
    assert real_power(apparent, factor) <= apparent


@for_all(AMPERES, VOLTS, MORE)
def test_a_larger_device_never_passes_less(rating, voltage, more) -> None:
    assert apparent_power(rating + more, voltage) >= apparent_power(rating, voltage)


def test_the_neutral_of_a_source_carries_125_percent_of_the_unbalance():
    assert source_neutral_need(14.0) == 17.5
