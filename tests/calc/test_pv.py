"""PV strings; cases worked by hand, modules invented."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all

from linecalc.calc.pv import (
    array_power,
    cell_temperature_by_noct,
    cell_temperature_hot,
    cold_voltage,
    cold_voltage_by_table,
    cold_voltage_by_volts,
    cold_working_voltage,
    hot_voltage,
    input_short_circuit,
    input_short_circuit_raised,
    input_working_current,
    relative_coefficient,
    source_current,
    string_protection_current,
    usable_array_power,
)
from linecalc.term import Rendered, given
from tests.calc.strategies import (
    AMPERES,
    FACTORS,
    FALLING_COEFFICIENTS,
    MODULES,
    MORE,
    POWERS_W,
    STRINGS,
    TEMPERATURES_C,
    VOLTS,
    between,
)

KELVINS = between(0.0, 60.0)


def test_one_string_counts_at_125_percent_of_its_short_circuit_current() -> None:
    assert source_current(13.9, 1) == pytest.approx(17.375)


def test_three_strings_in_parallel_count_three_times() -> None:
    assert source_current(10.0, 3) == 37.5


def test_eleven_modules_at_minus_14_degrees_by_percent() -> None:
    # 39 K below 25 at 0.26 %/K: 10.14 % above 11 x 38.1 = 419.1 V.
    assert cold_voltage(38.1, 11, -0.26, -14.0) == pytest.approx(419.1 * 1.1014)


def test_the_same_modules_by_volts_per_kelvin() -> None:
    # 39 K x 0.1 V/K = 3.9 V on each of 11 modules.
    assert cold_voltage_by_volts(38.1, 11, -0.1, -14.0) == pytest.approx(11 * 42.0)


def test_at_25_degrees_the_cold_voltage_is_the_stated_one() -> None:
    assert cold_voltage(38.1, 10, -0.26, 25.0) == pytest.approx(381.0)
    assert cold_voltage_by_volts(38.1, 10, -0.1, 25.0) == pytest.approx(381.0)


def test_the_table_factor_multiplies_the_stated_voltage() -> None:
    assert cold_voltage_by_table(40.0, 12, 1.14) == pytest.approx(547.2)


def test_the_cold_voltage_line_prints_as_a_reviewer_writes_it() -> None:
    voltage = cold_voltage(
        given(38.1, "V", "V_oc", "test"),
        given(11.0, "", "n", "test"),
        given(-0.26, "percent/K", "beta", "test"),
        given(-14.0, "degC", "T_low", "test"),
    )
    line = Rendered(voltage)
    assert line.formula == "n x V_oc x (1 + beta / 100 x (T_low - 25))"
    assert line.substitution == "11 x 38.1 V x (1 + (-0.26 %/K) / 100 x (-14 degC - 25))"
    assert line.result == "461.6"


def test_a_coefficient_in_volts_becomes_a_share_of_its_voltage() -> None:
    assert relative_coefficient(-0.1, 40.0) == pytest.approx(-0.25)


def test_a_cell_close_to_a_roof_is_35_kelvin_above_ambient() -> None:
    assert cell_temperature_hot(36.0, 35.0) == 71.0


def test_noct_scales_from_800_to_1000_watts_per_square_metre() -> None:
    # (45 - 20) x 1.25 = 31.25 K above ambient.
    assert cell_temperature_by_noct(36.0, 45.0) == pytest.approx(67.25)


def test_hot_working_voltage_of_eight_modules() -> None:
    # 46 K above 25 at 0.34 %/K: 15.64 % below 8 x 31.9 = 255.2 V.
    assert hot_voltage(31.9, 8, -0.34, 71.0) == pytest.approx(255.2 * 0.8436)


def test_cold_working_voltage_of_eight_modules() -> None:
    assert cold_working_voltage(31.9, 8, -0.34, -14.0) == pytest.approx(255.2 * 1.1326)


def test_input_currents_add_over_the_strings() -> None:
    assert input_short_circuit(13.9, 2) == 27.8
    assert input_short_circuit_raised(13.9, 2) == 34.75
    assert input_working_current(13.2, 2) == 26.4


def test_the_faulted_string_does_not_feed_itself() -> None:
    assert string_protection_current(1, 13.9, 0.0) == 0.0
    assert string_protection_current(2, 13.9, 0.0) == pytest.approx(17.375)
    assert string_protection_current(3, 13.9, 0.0) == pytest.approx(34.75)


def test_backfeed_from_the_unit_comes_on_top() -> None:
    assert string_protection_current(2, 13.9, 2.0) == pytest.approx(19.375)


def test_array_power_beside_what_the_unit_can_use() -> None:
    assert array_power(33, 420.0) == 13860.0
    assert usable_array_power(9600.0, 4200.0) == 13800.0


@for_all(VOLTS, MODULES, FALLING_COEFFICIENTS, TEMPERATURES_C, KELVINS)
def test_colder_never_lowers_the_open_circuit_voltage(voc, count, coefficient, low, colder) -> None:
    percent = [cold_voltage(voc, count, coefficient, low - drop) for drop in (0.0, colder)]
    volts = [cold_voltage_by_volts(voc, count, coefficient, low - drop) for drop in (0.0, colder)]
    working = [cold_working_voltage(voc, count, coefficient, low - drop) for drop in (0.0, colder)]
    assert percent[1] >= percent[0] and volts[1] >= volts[0] and working[1] >= working[0]


@for_all(VOLTS, MODULES, FALLING_COEFFICIENTS, between(-50.0, 25.0))
def test_one_more_module_never_lowers_the_cold_voltage(voc, count, coefficient, low) -> None:
    assert cold_voltage(voc, count + 1, coefficient, low) > cold_voltage(voc, count, coefficient, low)


@for_all(VOLTS, MODULES, FALLING_COEFFICIENTS, between(-50.0, 25.0), between(0.0, 0.5))
def test_a_steeper_coefficient_never_lowers_the_cold_voltage(voc, count, coefficient, low, steeper) -> None:
    assert cold_voltage(voc, count, coefficient - steeper, low) >= cold_voltage(voc, count, coefficient, low)


@for_all(VOLTS, MODULES, FACTORS, FACTORS)
def test_a_larger_table_factor_never_lowers_the_cold_voltage(voc, count, factor, other) -> None:
    lower, higher = sorted((factor, other))
    assert cold_voltage_by_table(voc, count, lower) <= cold_voltage_by_table(voc, count, higher)


@for_all(VOLTS, MODULES, FALLING_COEFFICIENTS, between(-50.0, 25.0))
def test_both_kinds_of_coefficient_agree_when_they_say_the_same(voc, count, coefficient_v, low) -> None:
    percent = relative_coefficient(coefficient_v, voc)
    by_volts = cold_voltage_by_volts(voc, count, coefficient_v, low)
    assert cold_voltage(voc, count, percent, low) == pytest.approx(by_volts, rel=1e-9)


@for_all(VOLTS, MODULES, FALLING_COEFFICIENTS, TEMPERATURES_C, KELVINS, KELVINS)
def test_hotter_never_raises_the_working_voltage(vmp, count, coefficient, high, rise, hotter) -> None:
    cooler_cell, hotter_cell = cell_temperature_hot(high, rise), cell_temperature_hot(high + hotter, rise)
    assert hotter_cell >= cooler_cell
    assert hot_voltage(vmp, count, coefficient, hotter_cell) <= hot_voltage(vmp, count, coefficient, cooler_cell)


@for_all(TEMPERATURES_C, between(40.0, 50.0), KELVINS)
def test_a_hotter_running_module_never_has_a_cooler_cell(high, noct, hotter) -> None:
    assert cell_temperature_by_noct(high, noct + hotter) >= cell_temperature_by_noct(high, noct)
    assert cell_temperature_by_noct(high + hotter, noct) >= cell_temperature_by_noct(high, noct)


@for_all(AMPERES, STRINGS, MORE)
def test_more_current_or_more_strings_never_gives_less(current: float, strings: int, more: float) -> None:
    for kernel in (source_current, input_short_circuit, input_short_circuit_raised, input_working_current):
        assert kernel(current + more, strings) >= kernel(current, strings)
        assert kernel(current, strings + 1) > kernel(current, strings)


@for_all(STRINGS, AMPERES, between(0.0, 50.0), MORE)
def test_a_faulted_string_sees_no_less_from_more_strings_or_more_backfeed(strings, isc, backfeed, more) -> None:
    base = string_protection_current(strings, isc, backfeed)
    assert string_protection_current(strings + 1, isc, backfeed) > base
    assert string_protection_current(strings, isc + more, backfeed) >= base
    assert string_protection_current(strings, isc, backfeed + more) >= base


@for_all(AMPERES, STRINGS)
def test_the_raised_current_is_never_below_the_stated_one(isc: float, strings: int) -> None:
    assert input_short_circuit_raised(isc, strings) > input_short_circuit(isc, strings)


@for_all(POWERS_W, POWERS_W)
def test_storage_never_lowers_what_the_unit_can_use(ac: float, charge: float) -> None:
    assert usable_array_power(ac, charge) > usable_array_power(ac, 0.0) == ac
