"""Currents of units, inverters and storage; cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.source import combined_current, inverter_current_from_power, unit_circuit_current
from linecalc.calc.storage import (
    charge_current_at_terminals,
    charge_current_from_ac,
    discharge_current_at_terminals,
    discharge_current_from_ac,
    storage_circuit_current,
)
from tests.calc.strategies import AMPERES, MORE, POWERS_W, VOLTS, between

EFFICIENCIES = between(50.0, 100.0)


def test_the_island_rating_governs_where_it_is_the_largest() -> None:
    assert unit_circuit_current(40.0, 48.0, 17.5) == 48.0


def test_the_export_rating_governs_where_it_is_the_largest() -> None:
    assert unit_circuit_current(40.0, 31.7, 17.5) == 40.0


def test_charging_from_the_utility_governs_where_it_is_the_largest() -> None:
    assert unit_circuit_current(24.0, 24.0, 30.0) == 30.0


def test_9600_watts_at_240_volts_are_40_amperes() -> None:
    assert inverter_current_from_power(9600.0, 240.0) == 40.0


def test_sources_add() -> None:
    assert combined_current([40.0, 32.0, 16.0]) == 88.0
    assert combined_current([]) == 0.0


def test_5_kilowatts_at_the_storage_terminals_at_40_volts() -> None:
    assert discharge_current_at_terminals(5000.0, 40.0) == 125.0
    assert charge_current_at_terminals(4200.0, 40.0) == 105.0


def test_losses_add_to_the_discharge_and_come_off_the_charge() -> None:
    # 5000 W / (0.95 x 40 V) = 131.58 A; 5000 W x 0.95 / 40 V = 118.75 A
    assert discharge_current_from_ac(5000.0, 95.0, 40.0) == pytest.approx(131.578947)
    assert charge_current_from_ac(5000.0, 95.0, 40.0) == pytest.approx(118.75)


def test_without_losses_both_ways_of_stating_the_power_agree() -> None:
    assert discharge_current_from_ac(5000.0, 100.0, 40.0) == discharge_current_at_terminals(5000.0, 40.0)
    assert charge_current_from_ac(5000.0, 100.0, 40.0) == charge_current_at_terminals(5000.0, 40.0)


def test_the_larger_of_discharge_and_charge_sizes_the_circuit() -> None:
    assert storage_circuit_current(119.7, 94.0) == 119.7
    assert storage_circuit_current(94.0, 119.7) == 119.7


@for_all(AMPERES, AMPERES, AMPERES, MORE)
def test_no_larger_rating_gives_a_smaller_unit_current(export, island, charge, more) -> None:
    base = unit_circuit_current(export, island, charge)
    assert base >= max(export, island, charge)
    assert unit_circuit_current(export + more, island, charge) >= base
    assert unit_circuit_current(export, island + more, charge) >= base
    assert unit_circuit_current(export, island, charge + more) >= base


@for_all(st.lists(AMPERES, min_size=1, max_size=6), AMPERES)
def test_one_more_source_never_lowers_the_sum(currents: list, further: float) -> None:
    assert combined_current([*currents, further]) > combined_current(currents)


@for_all(POWERS_W, MORE, VOLTS, between(0.5, 1.0))
def test_more_power_or_a_lower_voltage_never_gives_less_current(power, more, voltage, share) -> None:
    for kernel in (inverter_current_from_power, discharge_current_at_terminals, charge_current_at_terminals):
        assert kernel(power + more, voltage) >= kernel(power, voltage)
        assert kernel(power, voltage * share) >= kernel(power, voltage)


@for_all(POWERS_W, MORE, EFFICIENCIES, VOLTS, between(0.5, 1.0))
def test_the_same_holds_where_the_power_is_stated_at_the_ac_side(power, more, efficiency, voltage, share) -> None:
    for kernel in (discharge_current_from_ac, charge_current_from_ac):
        assert kernel(power + more, efficiency, voltage) >= kernel(power, efficiency, voltage)
        assert kernel(power, efficiency, voltage * share) >= kernel(power, efficiency, voltage)


@for_all(POWERS_W, EFFICIENCIES, VOLTS, between(0.5, 1.0))
def test_a_less_efficient_unit_draws_more_and_charges_with_less(power, efficiency, voltage, share) -> None:
    worse = efficiency * share
    assert discharge_current_from_ac(power, worse, voltage) >= discharge_current_from_ac(power, efficiency, voltage)
    assert charge_current_from_ac(power, worse, voltage) <= charge_current_from_ac(power, efficiency, voltage)
