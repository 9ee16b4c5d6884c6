"""Motor circuits and starts; cases worked by hand."""

from __future__ import annotations

from hypothesis import given as for_all

from linecalc.calc.motor import (
    hermetic_circuit_ampacity,
    hermetic_device_limit,
    hermetic_disconnect_need,
    hermetic_start_limit,
    locked_rotor_current,
    motor_circuit_ampacity,
    motor_device_limit,
    start_capability,
    start_demand,
)
from tests.calc.strategies import AMPERES, MORE, between

HORSEPOWER = between(0.1, 10.0)
KVA_PER_HP = between(1.0, 22.0)


def test_the_compressor_counts_at_125_percent_and_the_fan_at_100() -> None:
    assert hermetic_circuit_ampacity(20.0, 2.0) == 27.0


def test_the_device_takes_175_percent_of_the_compressor_and_the_fan_as_it_is() -> None:
    assert hermetic_device_limit(20.0, 2.0) == 37.0
    assert hermetic_start_limit(20.0, 2.0) == 47.0


def test_a_small_compressor_may_have_15_a_all_the_same() -> None:
    assert hermetic_device_limit(6.0, 0.5) == 15.0
    assert hermetic_start_limit(6.0, 0.5) == 15.0


def test_the_disconnect_takes_115_percent_of_everything() -> None:
    assert hermetic_disconnect_need(16.0, 4.0) == 23.0


def test_a_motor_without_fan_counts_at_125_percent() -> None:
    assert motor_circuit_ampacity(16.0) == 20.0


def test_the_device_of_a_motor_is_a_share_of_its_full_load_current() -> None:
    assert motor_device_limit(17.0, 250.0) == 42.5


def test_locked_rotor_current_is_kva_over_volts() -> None:
    # 2 hp x 11.19 kVA/hp = 22.38 kVA; over 240 V: 93.25 A.
    assert locked_rotor_current(11.19, 2.0, 240.0) == 93.25


def test_a_start_adds_to_what_runs() -> None:
    assert start_demand(96.0, 75.0) == 171.0
    assert start_capability([140.0, 140.0, 60.0]) == 340.0


@for_all(AMPERES, AMPERES, MORE)
def test_a_larger_compressor_or_fan_never_asks_for_less(rla, fan, more) -> None:
    for kernel in (hermetic_circuit_ampacity, hermetic_device_limit, hermetic_start_limit, hermetic_disconnect_need):
        assert kernel(rla + more, fan) >= kernel(rla, fan)
        assert kernel(rla, fan + more) >= kernel(rla, fan)


@for_all(AMPERES, AMPERES)
def test_the_device_never_is_held_below_the_conductor(rla, fan) -> None:
    assert hermetic_device_limit(rla, fan) >= hermetic_circuit_ampacity(rla, fan)
    assert hermetic_start_limit(rla, fan) >= hermetic_device_limit(rla, fan)


@for_all(KVA_PER_HP, HORSEPOWER, between(100.0, 250.0), MORE)
def test_more_kva_and_more_horsepower_never_lower_the_locked_rotor_current(kva, horsepower, volts, more) -> None:
    base = locked_rotor_current(kva, horsepower, volts)
    assert locked_rotor_current(kva + more, horsepower, volts) >= base
    assert locked_rotor_current(kva, horsepower + more, volts) >= base
    assert locked_rotor_current(kva, horsepower, volts + more) <= base


@for_all(AMPERES, AMPERES, MORE)
def test_one_more_load_never_makes_a_start_easier(start, others, more) -> None:
    assert start_demand(start, others + more) >= start_demand(start, others)
