"""Backup capacity, legs and neutral in island mode, and the neutral of a unit's circuit.

Test house: unit 40 A / 9.6 kW in island mode, backed-up load 30 A at power
factor 0.9 with 16 A of unbalance.
"""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.rules.art702_backup import backup_of
from linecalc.term import value_of
from tests.houses import SUPPLY_SIDE, check, checks, level, studied


def numbers(found):
    return found.level, round(value_of(found.demand), 6), round(value_of(found.limit), 6)


def firm_va(found) -> float:
    return value_of(backup_of(found.sized).firm_va)


def test_full_load_against_firm_power_in_volt_amperes_and_watts():
    # 30 x 240 = 7200 VA <= 40 x 240 = 9600 VA; 7200 x 0.9 = 6480 W <= 9600 W.
    assert numbers(check(studied(), "standby_capacity", "system")) == (Level.PASS, 7200.0, 9600.0)
    assert numbers(check(studied(), "standby_capacity.kw", "system")) == (Level.PASS, 6480.0, 9600.0)


def test_a_load_above_the_units_fails_and_equal_passes():
    assert level(studied({"load.BACKUP.current": "40 A"}), "standby_capacity", "system") is Level.PASS
    assert level(studied({"load.BACKUP.current": "41 A"}), "standby_capacity", "system") is Level.FAIL


def test_the_continuous_discharge_of_the_storage_holds_the_watts_down():
    found = check(studied({"equipment.unit-a.discharge_power": "6 kW"}), "standby_capacity.kw", "system")
    assert numbers(found) == (Level.FAIL, 6480.0, 6000.0)


@pytest.mark.parametrize("path", ["load.BACKUP.power_factor", "equipment.unit-a.discharge_power", "equipment.unit-a.ac_power_island"])
def test_watts_without_a_power_factor_or_a_rating_are_not_checked(path):
    assert level(studied({path: None}), "standby_capacity.kw", "system") is Level.NOT_CHECKED


def test_a_backed_up_panel_without_a_load_is_not_checked():
    assert level(studied({"load.BACKUP": None}), "standby_capacity", "system") is Level.NOT_CHECKED


def test_a_second_backed_up_panel_without_a_load_is_not_left_out():
    more = {
        "panel.SP": {"bus": "100 A", "main": "lugs", "terminals": "75 degC", "neutral_bond": False},
        "circuit.C5": {"from": "ID", "to": "SP", "path": ["R2"], "breaker": "40 A"},
    }
    found = check(studied(more), "standby_capacity", "system")
    assert found.level is Level.NOT_CHECKED and "SP" in found.message


TWO = {
    "unit.U2": {"equipment": "unit-a"},
    "panel.GP": {"bus": "125 A", "main": "lugs", "generation": True, "terminals": "75 degC", "neutral_bond": False},
    "circuit.C1": {"from": "GP", "to": "U1", "path": ["R2"], "breaker": "50 A"},
    "circuit.C5": {"from": "GP", "to": "U2", "path": ["R2"], "breaker": "50 A"},
    "circuit.C6": {"from": "BP", "to": "GP", "path": ["R6"], "breaker": "100 A", "bus_position": "opposite end", "conductor": "3 AWG Cu THWN-2"},
    "section.R6": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"},
}


def test_two_units_add_within_their_feeder():
    # 2 x 9600 = 19,200 VA; feeder 100 A: 24,000 VA; 3 AWG at 75: 100 A.
    assert firm_va(studied(TWO)) == pytest.approx(19200.0)


def test_the_device_on_the_way_holds_firm_power_down():
    # 70 A breaker: 16,800 VA.
    assert firm_va(studied({**TWO, "circuit.C6.breaker": "70 A"})) == pytest.approx(16800.0)


def test_the_conductors_on_the_way_hold_firm_power_down():
    # 6 AWG at 75: 65 A, 15,600 VA.
    assert firm_va(studied({**TWO, "circuit.C6.conductor": "6 AWG Cu THWN-2"})) == pytest.approx(15600.0)


def test_the_bus_on_the_way_holds_firm_power_down():
    # 60 A bus of the generation panel: 14,400 VA.
    assert firm_va(studied({**TWO, "panel.GP.bus": "60 A"})) == pytest.approx(14400.0)


def test_a_main_towards_the_loads_holds_firm_power_down():
    # Units beside the main panel behind the isolation device; its 60 A main: 14,400 VA.
    beside = {
        **TWO,
        "isolation.ID.rating": "200 A",
        "circuit.C6.from": "ID",
        "panel.BP.main": "60 A",
        "circuit.C3.conductor": "4/0 AWG Cu THWN-2",
        "circuit.C2.breaker": "150 A",
        "circuit.C2.conductor": "4/0 AWG Cu THWN-2",
    }
    assert firm_va(studied(beside)) == pytest.approx(14400.0)


def test_each_units_own_circuit_holds_that_unit_down():
    # U1 behind a 30 A breaker: 7200 + 9600 = 16,800 VA.
    assert firm_va(studied({**TWO, "circuit.C1.breaker": "30 A"})) == pytest.approx(16800.0)


def test_a_unit_on_the_utility_side_of_the_isolation_device_is_not_firm():
    outside = {"unit.U2": {"equipment": "unit-a"}, "circuit.C5": {"from": "MP", "to": "U2", "path": ["R2"], "breaker": "50 A"}}
    assert firm_va(studied(outside)) == pytest.approx(9600.0)


def test_pv_is_never_firm():
    inverter = {"kind": "inverter", "ac_power": "3.8 kW", "ac_current": "16 A", "overcurrent_max": "20 A", "terminals": "75 degC"}
    more = {"equipment.inv": inverter, "inverter.I1": {"equipment": "inv"}, "circuit.C5": {"from": "BP", "to": "I1", "path": ["R2"], "breaker": "20 A"}}
    assert firm_va(studied(more)) == pytest.approx(9600.0)


def test_no_method_chosen_takes_the_strictest_and_says_so():
    found = check(studied({"backup.method": None}), "standby_capacity", "system")
    assert "no method chosen" in found.message and "reviewers differ" in found.message


def test_manual_connection_is_a_note():
    assert level(studied({"backup.method": "manual"}), "standby_capacity_manual", "system") is Level.NOTE


MANAGED = {"backup.method": "load management", "backup.management_setting": "38 A", "backup.management_listing": "UL 916", "load.BACKUP.current": "60 A"}


def test_load_management_holds_its_setting_against_firm_power():
    # 38 x 240 = 9120 <= 9600; 41 A: 9840.
    assert numbers(check(studied(MANAGED), "standby_capacity", "system")) == (Level.PASS, 9120.0, 9600.0)
    assert level(studied({**MANAGED, "backup.management_setting": "41 A"}), "standby_capacity", "system") is Level.FAIL


@pytest.mark.parametrize("path", ["backup.management_setting", "backup.management_listing"])
def test_load_management_without_setting_or_listing_is_not_checked(path):
    assert level(studied({**MANAGED, path: None}), "standby_capacity", "system") is Level.NOT_CHECKED


def test_the_more_loaded_leg_against_the_leg_rating():
    # 240 V: 20 A; L1: 24 A of 120 V loads; leg 44 A > 40 A although the average is 32 A.
    unequal = {
        "load.BACKUP": None,
        "load.A": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "20 A", "power_factor": 1.0},
        "load.B": {"panel": "BP", "kind": "appliance", "voltage": "120 V", "legs": "L1", "current": "24 A", "power_factor": 1.0},
    }
    assert numbers(check(studied(unequal), "standby_capacity.leg", "system")) == (Level.FAIL, 44.0, 40.0)
    assert numbers(check(studied({**unequal, "load.B.current": "20 A"}), "standby_capacity.leg", "system")) == (Level.PASS, 40.0, 40.0)
    assert level(studied({"equipment.unit-a.leg_current": None}), "standby_capacity.leg", "system") is Level.NOT_CHECKED


def test_the_unbalance_against_the_neutral_rating():
    assert numbers(check(studied(), "load_neutral", "system")) == (Level.PASS, 16.0, 40.0)
    assert numbers(check(studied({"equipment.unit-a.neutral_rating": "15 A"}), "load_neutral", "system")) == (Level.FAIL, 16.0, 15.0)
    assert level(studied({"equipment.unit-a.neutral_rating": None}), "load_neutral", "system") is Level.NOT_CHECKED


def test_an_unbalance_that_is_not_given_is_not_taken_as_none():
    assert level(studied({"load.BACKUP.unbalance": None}), "load_neutral", "system") is Level.NOT_CHECKED


def test_the_neutral_of_a_unit_that_feeds_120_volt_loads_is_full_size_and_carries_the_unbalance():
    # 1.25 x min(16, 40) = 20 A; 8 AWG at 75: 50 A.
    assert numbers(check(studied(), "neutral_of_source", "C1")) == (Level.PASS, 50.0, 20.0)


def test_a_reduced_neutral_needs_the_instructions():
    reduced = {"circuit.C1.neutral": "10 AWG Cu THWN-2"}
    assert level(studied(reduced), "neutral_of_source", "C1") is Level.FAIL
    allowed = {**reduced, "equipment.unit-a.reduced_neutral": "allowed"}
    assert numbers(check(studied(allowed), "neutral_of_source", "C1")) == (Level.PASS, 35.0, 20.0)
    # 1.25 x 30 = 37.5 A on 10 AWG.
    assert level(studied({**allowed, "load.BACKUP.unbalance": "30 A"}), "neutral_of_source", "C1") is Level.FAIL


def test_an_unknown_unbalance_loads_the_neutral_with_all_that_the_unit_gives():
    allowed = {"circuit.C1.neutral": "10 AWG Cu THWN-2", "equipment.unit-a.reduced_neutral": "allowed", "load.BACKUP.unbalance": None}
    assert numbers(check(studied(allowed), "neutral_of_source", "C1")) == (Level.FAIL, 35.0, 50.0)


def test_full_size_is_the_smallest_that_passes_before_any_increase_for_drop():
    found = studied({"circuit.C1.conductor": "4 AWG Cu THWN-2", "circuit.C1.neutral": "8 AWG Cu THWN-2"})
    assert level(found, "neutral_of_source", "C1") is Level.PASS


def test_a_missing_neutral_fails_and_an_unknown_purpose_is_not_checked():
    assert level(studied({"circuit.C1.neutral": "none"}), "neutral_of_source", "C1") is Level.FAIL
    assert level(studied({"equipment.unit-a.neutral": None}), "neutral_of_source", "C1") is Level.NOT_CHECKED


def test_a_sensing_neutral_may_be_reduced_to_the_grounding_conductor():
    # 50 A: 10 AWG.
    sensing = {"equipment.unit-a.neutral": "sensing"}
    assert studied(sensing).sized.circuit("C1").neutral.size == "10 AWG"
    assert level(studied(sensing), "neutral_of_source", "C1") is Level.PASS
    assert level(studied({**sensing, "circuit.C1.neutral": "12 AWG Cu THWN-2"}), "neutral_of_source", "C1") is Level.FAIL


def test_a_unit_without_a_neutral_has_none():
    found = studied({"equipment.unit-a.neutral": "none"})
    assert found.sized.circuit("C1").neutral is None
    assert checks(found, "neutral_of_source", "C1") == []


def test_without_an_isolation_device_nothing_is_backed_up():
    found = studied(base=SUPPLY_SIDE)
    assert [one for one in found.checks if one.rule.startswith("standby")] == []


AC_COUPLED = {
    "equipment.inv": {"kind": "inverter", "ac_power": "3.8 kW", "ac_current": "16 A", "overcurrent_max": "20 A", "terminals": "75 degC"},
    "inverter.I1": {"equipment": "inv"},
    "circuit.C5": {"from": "BP", "to": "I1", "path": ["R2"], "breaker": "20 A"},
}


def test_pv_inverters_inside_the_backup_boundary_stay_within_what_the_units_control():
    assert level(studied(AC_COUPLED), "listed_instructions.ac_coupled", "system") is Level.NOT_CHECKED
    assert numbers(check(studied({**AC_COUPLED, "equipment.unit-a.ac_coupled_max": "4 kW"}), "listed_instructions.ac_coupled", "system")) == (Level.PASS, 3800.0, 4000.0)
    assert level(studied({**AC_COUPLED, "equipment.unit-a.ac_coupled_max": "3 kW"}), "listed_instructions.ac_coupled", "system") is Level.FAIL
    assert checks(studied(), "listed_instructions.ac_coupled") == []


def test_load_management_is_held_to_firm_kilowatts_too():
    # 38 A x 240 V x 0.9 = 8208 W against 9.6 kW of the unit, then against 5 kW of its storage.
    assert numbers(check(studied(MANAGED), "standby_capacity.kw", "system")) == (Level.PASS, pytest.approx(8208.0), 9600.0)
    weak = studied({**MANAGED, "equipment.unit-a.discharge_power": "5 kW"})
    assert numbers(check(weak, "standby_capacity.kw", "system")) == (Level.FAIL, pytest.approx(8208.0), 5000.0)
    assert level(studied({**MANAGED, "load.BACKUP.power_factor": None}), "standby_capacity.kw", "system") is Level.NOT_CHECKED


def test_load_management_is_held_to_the_leg_rating_at_its_setting():
    assert numbers(check(studied(MANAGED), "standby_capacity.leg", "system")) == (Level.PASS, 38.0, 40.0)
    assert level(studied({**MANAGED, "equipment.unit-a.leg_current": "35 A"}), "standby_capacity.leg", "system") is Level.FAIL


@pytest.mark.parametrize("neutral", ["sensing", "none"])
def test_backed_up_120_v_loads_need_a_unit_whose_neutral_feeds_them(neutral):
    found = studied({"equipment.unit-a.neutral": neutral})
    assert level(found, "load_neutral.formed", "system") is Level.FAIL
    assert not checks(found, "load_neutral", "system")
    assert not checks(studied({"equipment.unit-a.neutral": neutral, "load.BACKUP.unbalance": "0 A"}), "load_neutral.formed")
    assert not checks(studied(), "load_neutral.formed")
