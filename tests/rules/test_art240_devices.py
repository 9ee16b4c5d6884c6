"""Overcurrent devices: need, listed maximum, protection of the conductor, small conductors, buses, switches."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied


def numbers(found):
    return found.level, value_of(found.demand), value_of(found.limit)


def test_a_device_at_125_percent_of_the_source_current_passes():
    # 1.25 x 40 = 50 A.
    assert numbers(check(studied(), "source_ocpd", "C1")) == (Level.PASS, 50.0, 50.0)


def test_a_device_below_125_percent_of_the_source_current_fails():
    assert numbers(check(studied({"circuit.C1.breaker": "45 A"}), "source_ocpd", "C1")) == (Level.FAIL, 45.0, 50.0)


def test_a_feeder_device_takes_the_worst_mode_with_continuous_parts_at_125_percent():
    # Charge: 1.25 x 20 + 30 = 55 A; export 50 A; supply 30 A.
    assert numbers(check(studied(), "feeder_continuous_ocpd", "C2")) == (Level.PASS, 60.0, 55.0)
    assert level(studied({"circuit.C2.breaker": "50 A"}), "feeder_continuous_ocpd", "C2") is Level.FAIL


def test_the_device_of_a_unit_stays_within_its_listed_maximum_and_is_not_rounded_up():
    assert numbers(check(studied(), "listed_instructions.breaker", "C1")) == (Level.PASS, 50.0, 50.0)
    over = {"equipment.unit-a.overcurrent_max": "48 A"}
    assert numbers(check(studied(over), "listed_instructions.breaker", "C1")) == (Level.FAIL, 50.0, 48.0)


def test_an_unknown_maximum_of_the_unit_is_not_checked():
    found = check(studied({"equipment.unit-a.overcurrent_max": None}), "listed_instructions.breaker", "C1")
    assert found.level is Level.NOT_CHECKED and found.needs == ("equipment.unit-a.overcurrent_max",)


MOTOR = {
    "load.AC": {"panel": "BP", "kind": "motor-compressor", "voltage": "240 V", "rla": "17 A", "fan": "1.5 A", "mca": "22.8 A", "mocp": "40 A"},
    "circuit.C5": {"from": "BP", "to": "AC", "path": ["R2"], "breaker": "40 A", "conductor": "10 AWG Cu THWN-2", "terminals_to": "75 degC"},
}


def test_a_motor_device_stays_within_mocp():
    assert numbers(check(studied(MOTOR), "hermetic_nameplate", "C5")) == (Level.PASS, 40.0, 40.0)
    assert level(studied({**MOTOR, "circuit.C5.breaker": "45 A"}), "hermetic_nameplate", "C5") is Level.FAIL


def test_mocp_rounds_down_where_the_device_is_chosen():
    found = studied({**MOTOR, "load.AC.mocp": "42 A", "circuit.C5.breaker": None})
    assert value_of(circuit(found, "C5").device.rating) == 40.0


def test_motor_circuits_are_outside_240_4_d_and_t3():
    # 10 AWG with a 40 A device would break both; motor circuits go by 240.4(G).
    found = studied(MOTOR)
    assert checks(found, "small_conductors", "C5") == []
    assert checks(found, "next_size_up", "C5") == []
    assert value_of(circuit(found, "C5").t1_need) == value_of(circuit(found, "C5").t2_need) == 22.8


def test_a_motor_without_mca_needs_125_percent_of_its_running_current_and_its_fan():
    # 1.25 x 17 + 1.5 = 22.75 A.
    found = studied({**MOTOR, "load.AC.mca": None})
    assert value_of(circuit(found, "C5").t1_need) == 22.75
    assert value_of(circuit(found, "C5").t2_need) == 22.75


def test_t3_device_within_the_ampacity():
    # C2: 6 AWG, terminals 75: 65 A; 90 column at 30 degC, given: 75 A. The lower, 65.
    found = check(studied(), "next_size_up", "C2")
    assert found.level is Level.PASS and "within its ampacity" in found.message
    assert value_of(circuit(studied(), "C2").protect_a) == 65.0


def test_t3_next_standard_size_up():
    # 65 A is not standard: 70 A passes as the next size, 80 A does not.
    assert numbers(check(studied({"circuit.C2.breaker": "70 A"}), "next_size_up", "C2")) == (Level.PASS, 70.0, 70.0)
    assert numbers(check(studied({"circuit.C2.breaker": "80 A"}), "next_size_up", "C2")) == (Level.FAIL, 80.0, 70.0)


def test_t3_a_standard_ampacity_is_not_rounded_up():
    # 8 AWG at 75 degC terminals: 50 A is itself standard.
    changes = {"circuit.C1.breaker": "60 A", "equipment.unit-a.overcurrent_max": "60 A"}
    assert numbers(check(studied(changes), "next_size_up", "C1")) == (Level.FAIL, 60.0, 50.0)


def test_t3_no_next_size_for_a_branch_with_several_receptacles():
    # 8 AWG, 60 degC terminals: 40 A. A 45 A device is next size up from 40? 40 is standard; take 6 AWG at 60: 55 A.
    load = {
        "load.SHOP": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "30 A"},
        "circuit.C5": {"from": "BP", "to": "SHOP", "path": ["R2"], "breaker": "60 A", "conductor": "6 AWG Cu THWN-2"},
    }
    assert level(studied(load), "next_size_up", "C5") is Level.PASS
    assert level(studied({**load, "circuit.C5.receptacles": True}), "next_size_up", "C5") is Level.FAIL


def test_t3_over_800_amperes_there_is_no_next_size():
    # Three sets of 600 kcmil in one raceway, six conductors: 3 x 475 x 0.8 = 1140 A; terminals 3 x 420 = 1260 A.
    # The next standard size, 1200 A, is not allowed; 1000 A is within the ampacity.
    big = {
        "panel.MP.bus": "2000 A",
        "panel.MP.main": "1200 A",
        "service.rating": "1600 A",
        "service.conductor": "600 kcmil Cu THWN-2",
        "circuit.C4.parallel": 3,
    }
    found = check(studied(big), "over_800", "C4")
    assert found.level is Level.FAIL
    assert value_of(found.limit) == pytest.approx(1140.0)
    assert level(studied({**big, "panel.MP.main": "1000 A"}), "over_800", "C4") is Level.PASS


def test_t3_is_not_checked_where_the_ambient_is_unknown():
    found = studied({"section.R3.ambient": None, "section.R3.place": "attic"})
    assert level(found, "next_size_up", "C2") is Level.NOT_CHECKED


def test_small_conductors_keep_their_limits_on_source_circuits_too():
    # 240.4(D): 10 AWG 30 A, 12 AWG 20 A.
    small = {
        "equipment.unit-a.ac_current": "16 A",
        "equipment.unit-a.ac_current_island": "16 A",
        "equipment.unit-a.charge_current_ac": "16 A",
        "circuit.C1.conductor": "12 AWG Cu THWN-2",
        "circuit.C1.breaker": "20 A",
    }
    assert numbers(check(studied(small), "small_conductors", "C1")) == (Level.PASS, 20.0, 20.0)
    assert numbers(check(studied({**small, "circuit.C1.breaker": "25 A"}), "small_conductors", "C1")) == (Level.FAIL, 25.0, 20.0)
    assert checks(studied(), "small_conductors", "C1") == []


def test_a_rating_that_is_not_standard_warns():
    assert level(studied({"circuit.C2.breaker": "65 A"}), "standard_ocpd", "C2") is Level.WARN
    assert checks(studied(), "standard_ocpd") == []


def test_ten_amperes_is_standard_only_in_2023():
    tiny = {
        "load.T": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "5 A"},
        "circuit.C5": {"from": "BP", "to": "T", "path": ["R2"], "breaker": "10 A"},
    }
    assert checks(studied(tiny, edition="2023"), "standard_ocpd") == []
    assert level(studied(tiny, edition="2020"), "standard_ocpd", "C5") is Level.WARN


def test_a_circuit_with_no_device_at_either_end_is_not_checked():
    found = studied({"circuit.C2.breaker": "none"})
    assert level(found, "feeder_continuous_ocpd", "C2") is Level.NOT_CHECKED
    assert check(found, "feeder_continuous_ocpd", "C2").needs == ("circuit.C2.breaker",)


def test_a_feeder_without_a_device_of_its_own_takes_over_the_one_upstream():
    device = circuit(studied(), "C3").device
    assert (value_of(device.rating), device.where, device.inherited) == (60.0, "MP", True)


def test_service_conductors_are_protected_at_their_load_end():
    device = circuit(studied(), "C4").device
    assert (value_of(device.rating), device.where, device.load_end) == (200.0, "MP", True)


def test_a_bus_is_protected_by_a_device_not_above_it():
    # BP has main lugs: the 60 A feeder breaker protects its 125 A bus.
    assert numbers(check(studied(), "panel_protection", "BP")) == (Level.PASS, 60.0, 125.0)
    assert numbers(check(studied({"panel.BP.bus": "50 A"}), "panel_protection", "BP")) == (Level.FAIL, 60.0, 50.0)
    assert level(studied({"circuit.C2.breaker": "none"}), "panel_protection", "BP") is Level.NOT_CHECKED


def test_an_own_main_protects_the_bus_before_the_feeder_device():
    assert numbers(check(studied({"panel.BP.main": "100 A"}), "panel_protection", "BP")) == (Level.PASS, 100.0, 125.0)


def test_an_isolation_device_is_rated_for_the_device_ahead_of_it():
    assert numbers(check(studied(), "listed_instructions.rating", "ID")) == (Level.PASS, 60.0, 100.0)
    assert level(studied({"isolation.ID.rating": "50 A"}), "listed_instructions.rating", "ID") is Level.FAIL


def test_a_dc_disconnect_is_rated_for_the_largest_current():
    # 1.25 x 13 = 16.25 A.
    dc = {
        "disconnect.D1": {"rating": "16 A", "dc_voltage": "600 V", "terminals": "75 degC"},
        "circuit.P1.to": "D1",
        "circuit.P2": {"from": "D1", "to": "U1", "path": ["R1"]},
    }
    assert numbers(check(studied(dc), "listed_instructions.rating", "D1")) == (Level.FAIL, 16.25, 16.0)
    assert level(studied({**dc, "disconnect.D1.rating": "20 A"}), "listed_instructions.rating", "D1") is Level.PASS


def test_what_passes_a_switch_whose_circuits_are_unknown_is_not_checked():
    lone = {
        "disconnect.D1": {"rating": "30 A", "dc_voltage": "60 V", "terminals": "75 degC"},
        "equipment.store": {"kind": "storage module", "energy": "5 kWh"},
        "storage.B1": {"equipment": "store", "unit": "U1", "harness": "field-wired"},
        "circuit.B2": {"from": "B1", "to": "D1", "path": ["R2"]},
        "circuit.B3": {"from": "D1", "to": "U1", "path": ["R2"]},
    }
    assert level(studied(lone), "listed_instructions.rating", "D1") is Level.NOT_CHECKED


def test_a_size_that_is_not_determined_has_no_small_conductor_limit_to_fail():
    changes = {"section.R2.ambient": None, "section.R2.place": "attic", "circuit.C1.conductor": None}
    found = studied(changes)
    assert level(found, "next_size_up", "C1") is Level.NOT_CHECKED
    assert not [one for one in checks(found, "small_conductors", "C1") if one.level is Level.FAIL]


# Hand: a 12 A, 120 V motor on 25 A: 14 AWG; the neutral of the same two wires is no larger, though Table 250.122 has 10 AWG for 25 A.
def test_a_neutral_is_never_larger_than_the_conductors_beside_it():
    motor = {
        "load.M": {"panel": "MP", "kind": "motor", "voltage": "120 V", "legs": "L1", "current": "12 A", "power_factor": 0.8},
        "circuit.C9": {"from": "MP", "to": "M", "path": ["R2"], "breaker": "25 A", "insulation": "THWN-2", "terminals_to": "75 degC"},
    }
    one = circuit(studied(motor), "C9")
    assert (one.conductor.size, one.neutral.size) == ("14 AWG", "14 AWG")


def test_nothing_is_chosen_for_an_existing_circuit_whose_breaker_or_grounding_conductor_is_not_given():
    existing = {"circuit.C2.existing": True}
    found = studied({**existing, "circuit.C2.breaker": None})
    one = check(found, "feeder_continuous_ocpd", "C2")
    assert (one.level, one.needs) == (Level.NOT_CHECKED, ("circuit.C2.breaker",)) and "read it on site" in one.message
    assert circuit(found, "C2").device is None
    assert level(studied(existing), "egc", "C2") is Level.NOT_CHECKED
    assert level(studied({**existing, "circuit.C2.egc": "10 AWG"}), "egc", "C2") is Level.PASS
