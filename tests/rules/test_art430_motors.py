"""Motors by horsepower: the table's current sizes the circuit."""

from __future__ import annotations

from typing import Any

import pytest

from linecalc.check import Level
from linecalc.errors import InputError
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied

PUMP = {
    "load.PUMP": {"panel": "BP", "kind": "motor", "voltage": "240 V", "hp": "1-1/2 hp"},
    "circuit.C5": {"from": "BP", "to": "PUMP", "path": ["R2"], "terminals_to": "75 degC"},
}


def house(changes: dict[str, Any] | None = None, edition: str | None = None) -> Study:
    return studied({**PUMP, **(changes or {})}, edition=edition)


def device_a(changes: dict[str, Any] | None = None, edition: str | None = None) -> float:
    return value_of(circuit(house(changes, edition), "C5").device.rating)


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_the_device_is_250_percent_of_the_tables_current(edition: str) -> None:
    # 10 A x 2.5 = 25 A, a standard rating.
    assert device_a(edition=edition) == 25.0


@pytest.mark.parametrize(("hp", "expected"), [("1 hp", 20.0), ("3 hp", 45.0), ("5 hp", 70.0), ("1/2 hp", 15.0)])
def test_in_between_it_is_the_next_standard_size_up(hp: str, expected: float) -> None:
    # 8 x 2.5 = 20; 17 x 2.5 = 42.5; 28 x 2.5 = 70; 4.9 x 2.5 = 12.25 A.
    assert device_a({"load.PUMP.hp": hp}, "2020") == expected


def test_2023_has_a_10_ampere_rating_and_the_table_does_not_reach_below_what_it_gives() -> None:
    # 4.9 A x 2.5 = 12.25 A: 15 A in every edition.
    assert device_a({"load.PUMP.hp": "1/2 hp"}, "2023") == 15.0


@pytest.mark.parametrize(("volts", "legs", "need"), [("240 V", None, 12.5), ("230 V", None, 12.5), ("120 V", "L1", 25.0), ("115 V", "L1", 25.0)])
def test_the_conductor_carries_125_percent_of_the_column_that_serves_the_voltage(volts: str, legs: str | None, need: float) -> None:
    changes = {"load.PUMP.voltage": volts, "load.PUMP.legs": legs}
    assert value_of(circuit(house(changes), "C5").t1_need) == need


@pytest.mark.parametrize(("breaker", "expected"), [("20 A", Level.PASS), ("25 A", Level.PASS), ("40 A", Level.WARN), ("45 A", Level.FAIL)])
def test_up_to_400_percent_only_where_a_smaller_device_does_not_start_the_motor(breaker: str, expected: Level) -> None:
    assert level(house({"circuit.C5.breaker": breaker}), "motor_ocpd", "C5") is expected


def test_a_device_below_the_full_load_current_fails() -> None:
    assert level(house({"load.PUMP.hp": "3 hp", "circuit.C5.breaker": "15 A"}), "motor_ocpd.running", "C5") is Level.FAIL


def test_fuses_are_held_to_the_share_of_a_dual_element_fuse() -> None:
    # 1.75 x 10 = 17.5 A, next size 20 A; 225 %: 22.5 A.
    fused = {
        "circuit.C5": {"from": "BP", "to": "DA", "path": ["R2"], "breaker": "25 A"},
        "disconnect.DA": {"rating": "30 A", "device": "20 A", "device_kind": "fuse", "terminals": "75 degC"},
        "circuit.C6": {"from": "DA", "to": "PUMP", "path": ["R6"], "terminals_to": "75 degC"},
        "section.R6": {"method": "EMT", "place": "wall", "moisture": "wet", "ambient": "30 degC", "length": "3 ft"},
    }
    assert level(house(fused), "motor_ocpd", "C6") is Level.PASS
    assert level(house({**fused, "disconnect.DA.device": "25 A"}), "motor_ocpd", "C6") is Level.FAIL


def test_the_tables_current_counts_even_where_the_nameplate_is_lower() -> None:
    found = house({"load.PUMP.current": "8.6 A"})
    assert value_of(circuit(found, "C5").t1_need) == 12.5
    assert checks(found, "motor_current") == []


def test_a_nameplate_current_above_the_table_looks_misread() -> None:
    assert level(house({"load.PUMP.current": "11 A"}), "motor_current", "PUMP") is Level.WARN


def test_a_motor_without_horsepower_goes_by_its_stated_current() -> None:
    found = house({"load.PUMP.hp": None, "load.PUMP.current": "9 A"})
    assert value_of(circuit(found, "C5").t1_need) == 11.25
    assert value_of(circuit(found, "C5").device.rating) == 25.0


def test_a_motor_with_a_nameplate_mocp_goes_by_it() -> None:
    found = house({"load.PUMP.mocp": "20 A"})
    assert value_of(circuit(found, "C5").device.rating) == 20.0
    assert checks(found, "motor_ocpd", "C5") == []
    assert level(found, "hermetic_nameplate", "C5") is Level.PASS


def test_a_horsepower_that_the_table_lacks_is_refused_with_those_it_has() -> None:
    with pytest.raises(InputError, match="load.PUMP.hp"):
        house({"load.PUMP.hp": "4 hp"})


def test_the_motor_counts_in_its_feeder_by_the_table() -> None:
    base = house({"load.BACKUP": None})
    assert value_of(circuit(base, "C3").currents.of(circuit(base, "C3").currents.modes[1][0]).noncontinuous) == 10.0


def test_the_current_is_followed_to_the_cell_of_the_table() -> None:
    origins = {used.origin for step in house().steps for used in step.inputs()}
    assert "table:430.248/1-1/2/flc_230v_a" in origins
    assert "table:430.52/single-phase/inverse_time_breaker_percent" in origins
    assert check(house(), "motor_ocpd", "C5").citation.startswith("430.52(C)(1)")


TWO_MOTORS = {
    "load.BACKUP": {"panel": "BP", "kind": "motor", "voltage": "240 V", "current": "30 A", "power_factor": 0.9},
    "load.FAN": {"panel": "BP", "kind": "motor", "voltage": "240 V", "current": "20 A", "power_factor": 0.9},
}


def test_a_feeder_of_two_motors_carries_both_and_a_quarter_of_the_larger():
    # 30 + 20 + 0.25 x 30 = 57.5 A; 6 AWG at 75 degC terminals: 65 A.
    found = check(studied(TWO_MOTORS), "motor_conductor_several", "C3")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 65.0, 57.5)
    small = check(studied({**TWO_MOTORS, "circuit.C3.conductor": "8 AWG Cu THWN-2"}), "motor_conductor_several", "C3")
    assert (small.level, value_of(small.demand)) == (Level.FAIL, 50.0)


def test_a_calculated_load_upstream_holds_the_addition_already():
    assert checks(studied(TWO_MOTORS), "motor_conductor_several", "C4") == []


def test_the_addition_is_not_checked_where_the_ampacity_is_not_known():
    found = studied({**TWO_MOTORS, "section.R4.ambient": None, "section.R4.place": "attic"})
    assert level(found, "motor_conductor_several", "C3") is Level.NOT_CHECKED
