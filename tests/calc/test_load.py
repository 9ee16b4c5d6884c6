"""Loads as currents; cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.ampacity import terminal_need
from linecalc.calc.load import continuous_share, current_from_va, noncontinuous_share, whole_amperes
from linecalc.term import Rendered, given
from tests.calc.strategies import AMPERES, MORE, POWERS_W, VOLTS, between


def test_7200_volt_amperes_at_240_volts_are_30_amperes() -> None:
    assert current_from_va(7200.0, 240.0) == 30.0
    assert current_from_va(1500.0, 120.0) == 12.5


@pytest.mark.parametrize(
    ("total", "whole"), [(103.0, 103.0), (103.49, 103.0), (103.5, 104.0), (103.51, 104.0), (0.4, 0.0), (0.0, 0.0)]
)
def test_a_fraction_below_one_half_is_dropped(total: float, whole: float) -> None:
    assert whole_amperes(total) == whole


def test_one_half_but_for_binary_representation_is_raised() -> None:
    assert whole_amperes(103.5 * (1 - 1e-12)) == 104.0


def test_the_rounding_is_shown_as_a_step() -> None:
    total = given(103.25, "A", "I_sum", "test")
    assert Rendered(whole_amperes(total)).formula == "I_sum - 0.25"
    assert Rendered(whole_amperes(given(103.75, "A", "I_sum", "test"))).formula == "I_sum + 0.25"
    assert Rendered(whole_amperes(given(103.0, "A", "I_sum", "test"))).formula == "I_sum"


def test_a_30_ampere_vehicle_charger_in_a_103_ampere_load() -> None:
    continuous = continuous_share([30.0])
    rest = noncontinuous_share(103.0, continuous)
    assert (continuous, rest) == (30.0, 73.0)
    assert terminal_need(continuous, rest) == 110.5


def test_a_continuous_part_above_the_load_leaves_nothing_else() -> None:
    assert noncontinuous_share(20.0, 30.0) == 0.0


def test_without_continuous_loads_the_share_is_zero() -> None:
    assert continuous_share([]) == 0.0


@for_all(POWERS_W, VOLTS, MORE, between(0.5, 1.0))
def test_more_power_or_a_lower_voltage_never_gives_less_current(power, voltage, more, share) -> None:
    assert current_from_va(power + more, voltage) >= current_from_va(power, voltage)
    assert current_from_va(power, voltage * share) >= current_from_va(power, voltage)


@for_all(between(0.0, 2000.0))
def test_rounding_gives_a_whole_number_at_most_half_an_ampere_away(total: float) -> None:
    rounded = whole_amperes(total)
    assert rounded == int(rounded)
    assert abs(rounded - total) <= 0.5 + 1e-6


@for_all(between(0.0, 2000.0), MORE)
def test_rounding_keeps_the_order(total: float, more: float) -> None:
    assert whole_amperes(total + more) >= whole_amperes(total)


@for_all(AMPERES, AMPERES, MORE)
def test_a_larger_continuous_part_never_needs_less_at_the_terminals(load, continuous, more) -> None:
    base = terminal_need(continuous, noncontinuous_share(load, continuous))
    larger = terminal_need(continuous + more, noncontinuous_share(load, continuous + more))
    assert larger >= base * (1 - 1e-12)


@for_all(st.lists(AMPERES, max_size=5), AMPERES)
def test_one_more_continuous_load_never_lowers_the_share(currents: list, further: float) -> None:
    assert continuous_share([*currents, further]) > continuous_share(currents)


@for_all(AMPERES, AMPERES, MORE)
def test_more_load_never_leaves_a_smaller_rest(load, continuous, more) -> None:
    assert noncontinuous_share(load + more, continuous) >= noncontinuous_share(load, continuous)
