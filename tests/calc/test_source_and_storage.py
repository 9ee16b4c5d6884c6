"""Currents of units, inverters and storage; cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all

from linecalc.calc.load import current_from_va
from linecalc.calc.storage import (
    charge_current_at_terminals,
    charge_current_from_ac,
    discharge_current_at_terminals,
    discharge_current_from_ac,
    storage_circuit_current,
)
from tests.calc.strategies import MORE, POWERS_W, VOLTS, between

EFFICIENCIES = between(50.0, 100.0)


def test_9600_watts_at_240_volts_are_40_amperes() -> None:
    assert current_from_va(9600.0, 240.0) == 40.0


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


@for_all(POWERS_W, MORE, VOLTS, between(0.5, 1.0))
def test_more_power_or_a_lower_voltage_never_gives_less_current(power, more, voltage, share) -> None:
    for kernel in (current_from_va, discharge_current_at_terminals, charge_current_at_terminals):
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
