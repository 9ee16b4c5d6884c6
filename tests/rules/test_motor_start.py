"""Motor starts in an outage. Backed-up load of the house: 30 A calculated, the motor's own 18.5 A in it."""

from __future__ import annotations

from typing import Any

import pytest

from linecalc.check import Check, Level
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import UNIT, check, checks, studied

STARTS = {
    "equipment.unit-a.start_current": "140 A",
    "equipment.unit-a.start_duration": "3 s",
    "load.AC": {"panel": "BP", "kind": "motor-compressor", "voltage": "240 V", "rla": "17 A", "fan": "1.5 A", "lra": "96 A", "mca": "22.8 A", "mocp": "40 A"},
    "circuit.C5": {"from": "BP", "to": "AC", "path": ["R2"], "breaker": "40 A", "terminals_to": "75 degC"},
}
SECOND = {
    "unit.U2": {"equipment": "unit-a"},
    "string.S2": {"module": "mod", "count": 10, "to": "U2", "input": 1},
    "circuit.P2": {"from": "S2", "to": "U2", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
    "circuit.C8": {"from": "BP", "to": "U2", "path": ["R2"], "breaker": "50 A", "conductor": "8 AWG Cu THWN-2", "bus_position": "opposite end"},
}


def house(changes: dict[str, Any] | None = None) -> Study:
    return studied({**STARTS, **(changes or {})})


def start(changes: dict[str, Any] | None = None) -> Check:
    return check(house(changes), "motor_start", "AC")


def test_the_locked_rotor_current_stands_beside_the_other_loads_without_the_motors_own() -> None:
    # 96 + 30 - 18.5 = 107.5 A.
    found = start()
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 107.5, 140.0)
    assert "3 s" in found.message


def test_a_start_above_the_units_start_current_fails() -> None:
    assert start({"load.AC.lra": "130 A"}).level is Level.FAIL


def test_an_equal_start_passes() -> None:
    assert start({"load.AC.lra": "128.5 A"}).level is Level.PASS
    assert start({"load.AC.lra": "128.6 A"}).level is Level.FAIL


def test_one_more_running_load_can_break_it() -> None:
    assert start({"load.BACKUP.current": "62.5 A"}).level is Level.PASS
    assert start({"load.BACKUP.current": "63 A"}).level is Level.FAIL


def test_the_more_loaded_leg_counts() -> None:
    # No calculated load: 18.5 A on both legs, 30 A at 120 V on L1: others 30 A.
    legs = {"load.BACKUP": None, "load.SPA": {"panel": "BP", "kind": "appliance", "voltage": "120 V", "legs": "L1", "current": "30 A", "power_factor": 0.9}}
    assert value_of(start(legs).demand) == 126.0


@pytest.mark.parametrize(("add", "limit"), [("yes", 280.0), ("no", 140.0), (None, 140.0)])
def test_start_currents_of_several_units_add_only_by_their_data(add: str | None, limit: float) -> None:
    found = start({**SECOND, "equipment.unit-a.start_currents_add": add})
    assert value_of(found.limit) == limit
    assert ("add by their data" in found.message) == (add == "yes")


def test_of_different_units_that_do_not_add_the_weakest_counts() -> None:
    small = {**UNIT, "start_current": "70 A", "start_duration": "1 s"}
    found = start({**SECOND, "equipment.unit-b": small, "unit.U2.equipment": "unit-b"})
    assert value_of(found.limit) == 70.0
    assert "1 s" in found.message


@pytest.mark.parametrize("key", ["equipment.unit-a.start_current", "equipment.unit-a.start_duration"])
def test_a_unit_without_start_current_or_duration_is_not_checked(key: str) -> None:
    found = start({key: None})
    assert found.level is Level.NOT_CHECKED and found.needs == (key,)


def test_a_motor_without_locked_rotor_current_and_code_letter_is_not_checked() -> None:
    found = start({"load.AC.lra": None})
    assert found.level is Level.NOT_CHECKED
    assert "load.AC.lra" in found.needs[0] and "code_letter" in found.needs[0]


def test_without_the_backed_up_load_the_start_is_not_checked_or_counts_the_motor_alone() -> None:
    # With no other load stated the panel's own load is the motor: nothing runs beside it.
    assert value_of(start({"load.BACKUP": None}).demand) == 96.0


def test_a_code_letter_stands_for_the_upper_end_of_its_band_at_rated_voltage() -> None:
    # Letter G, 5 hp, 230 V: 6.29 x 5 x 1000 / 230 = 136.7 A. Full-load current 28 A; others 30 - 28 = 2 A.
    pump = {"load.AC": {"panel": "BP", "kind": "motor", "voltage": "230 V", "hp": "5 hp", "code_letter": "G"}, "circuit.C5.breaker": "70 A"}
    found = start(pump)
    assert value_of(found.demand) == pytest.approx(6290.0 * 5 / 230 + 2.0)
    assert found.level is Level.PASS
    assert start({**pump, "load.AC.code_letter": "H"}).level is Level.FAIL


def test_horsepower_with_a_fraction_is_read_whole() -> None:
    # Letter L, 1-1/2 hp, 240 V: 9.99 x 1.5 x 1000 / 240 = 62.4375 A; others 30 - 10 A.
    pump = {"load.AC": {"panel": "BP", "kind": "motor", "voltage": "240 V", "hp": "1-1/2 hp", "code_letter": "L"}, "circuit.C5.breaker": "25 A"}
    assert value_of(start(pump).demand) == pytest.approx(62.4375 + 20.0)


def test_the_code_letter_without_an_upper_end_is_not_checked() -> None:
    pump = {"load.AC": {"panel": "BP", "kind": "motor", "voltage": "240 V", "hp": "1 hp", "code_letter": "V"}, "circuit.C5.breaker": "20 A"}
    assert start(pump).level is Level.NOT_CHECKED


def test_a_nameplate_current_goes_before_the_code_letter() -> None:
    pump = {"load.AC": {"panel": "BP", "kind": "motor", "voltage": "240 V", "hp": "1 hp", "code_letter": "V", "lra": "40 A"}, "circuit.C5.breaker": "20 A"}
    assert start(pump).level is Level.PASS


def test_a_soft_starter_counts_with_its_source_and_not_without() -> None:
    high = {"load.AC.lra": "160 A"}
    assert start(high).level is Level.FAIL
    with_source = start({**high, "load.AC.soft_start_current": {"value": "45 A", "source": "soft starter data sheet (invented)"}})
    assert (with_source.level, value_of(with_source.demand)) == (Level.PASS, 56.5)
    assert "soft starter data sheet" in with_source.message
    assert start({**high, "load.AC.soft_start_current": "45 A"}).level is Level.NOT_CHECKED


def test_an_inverter_driven_compressor_has_no_start_to_check() -> None:
    found = start({"load.AC.inverter_driven": True, "load.AC.lra": None})
    assert found.level is Level.NOTE and found.demand is None


def test_a_motor_that_is_not_backed_up_is_not_looked_at() -> None:
    outside = {"load.AC.panel": "MP", "circuit.C5.from": "MP"}
    assert checks(house(outside), "motor_start") == []


def test_loads_connected_by_hand_are_the_users_choice() -> None:
    assert checks(house({"backup.method": "manual"}), "motor_start") == []


def test_load_management_bounds_what_runs_beside_the_start() -> None:
    managed = {"backup.method": "load management", "backup.management_setting": "40 A", "backup.management_listing": "UL 916 (invented)"}
    # Calculated 90 A: others 71.5 A, held to 40 A by the management: 96 + 40.
    assert value_of(start({**managed, "load.BACKUP.current": "90 A"}).demand) == 136.0
    # Others 11.5 A stay below the setting.
    assert value_of(start(managed).demand) == 107.5


def test_two_motors_are_computed_one_at_a_time_and_the_reader_is_told() -> None:
    second = {
        "load.PUMP": {"panel": "BP", "kind": "motor", "voltage": "240 V", "hp": "1 hp", "code_letter": "J"},
        "circuit.C9": {"from": "BP", "to": "PUMP", "path": ["R2"], "terminals_to": "75 degC"},
    }
    found = house(second)
    assert {one.subject for one in checks(found, "motor_start")} == {"AC", "PUMP"}
    assert check(found, "motor_start.together", "system").level is Level.NOTE
    assert checks(house(), "motor_start.together") == []


def test_an_appliance_with_a_locked_rotor_current_is_a_motor_to_the_units() -> None:
    fridge = {"load.FR": {"panel": "BP", "kind": "appliance", "voltage": "120 V", "legs": "L1", "current": "6 A", "lra": "20 A", "power_factor": 0.9}}
    assert {one.subject for one in checks(house(fridge), "motor_start")} == {"AC", "FR"}
