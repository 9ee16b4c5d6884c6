"""Grounding conductors with their increase, and the bonding of the neutral."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import SUPPLY_SIDE, check, checks, circuit, level, studied


def egc(found, tag: str) -> tuple[str, str, str]:
    one = circuit(found, tag).egc
    return one.kind, one.base_size, one.needed_size


def test_the_table_size_by_the_device():
    # 60 A: 10 AWG Cu.
    assert egc(studied(), "C2") == ("wire", "10 AWG", "10 AWG")
    assert level(studied(), "egc", "C2") is Level.PASS


@pytest.mark.parametrize(("device", "size"), [("15 A", "14 AWG"), ("20 A", "12 AWG"), ("40 A", "10 AWG"), ("60 A", "10 AWG"), ("100 A", "8 AWG"), ("200 A", "6 AWG")])
def test_table_250_122_copper(device, size):
    assert circuit(studied({"circuit.C2.breaker": device, "circuit.C2.conductor": "4/0 AWG Cu THWN-2"}), "C2").egc.base_size == size


def test_a_grounding_conductor_below_the_table_fails():
    found = check(studied({"circuit.C2.egc": "12 AWG Cu"}), "egc", "C2")
    assert found.level is Level.FAIL
    assert (value_of(found.demand), value_of(found.limit)) == (6530.0, 10380.0)


def test_no_grounding_conductor_fails_and_a_metal_raceway_may_serve():
    assert level(studied({"circuit.C2.egc": "none"}), "egc", "C2") is Level.FAIL
    assert level(studied({"circuit.C2.egc": "raceway"}), "egc", "C2") is Level.PASS
    assert level(studied({"circuit.C2.egc": "raceway", "section.R3.method": "PVC40"}), "egc", "C2") is Level.FAIL


def test_conductors_raised_for_voltage_drop_raise_the_grounding_conductor_in_proportion():
    # Smallest that passes at 60 A: 6 AWG, 26,240 cmil. Installed 3 AWG, 52,620 cmil.
    # 10,380 x 52,620 / 26,240 = 20,815.3 cmil: 6 AWG.
    found = studied({"circuit.C2.conductor": "3 AWG Cu THWN-2"})
    assert circuit(found, "C2").smallest == "6 AWG"
    assert egc(found, "C2") == ("wire", "10 AWG", "6 AWG")
    assert value_of(circuit(found, "C2").egc.area_cmil) == pytest.approx(10380 * 52620 / 26240)
    assert level(studied({"circuit.C2.conductor": "3 AWG Cu THWN-2", "circuit.C2.egc": "8 AWG Cu"}), "egc_upsize", "C2") is Level.FAIL


def test_an_increase_for_ambient_or_number_does_not_count():
    # At 60 degC 6 AWG is 75 x 0.71 = 53.25 A: too small for a 60 A device? next size up from 53.25 is 60: passes.
    # Ten conductors: 75 x 0.5 = 37.5; 3 AWG 115 x 0.5 = 57.5: next size 60. So 3 AWG is the smallest sufficient.
    found = studied({"circuit.C2.conductor": "3 AWG Cu THWN-2", "section.R3.spare_conductors": 8})
    assert circuit(found, "C2").smallest == "3 AWG"
    assert egc(found, "C2") == ("wire", "10 AWG", "10 AWG")


def test_the_grounding_conductor_is_never_larger_than_the_circuits_own():
    # 20 A, 12 AWG raised to 6 AWG: 6530 x 26240 / 6530 = 26,240: 6 AWG, no more than the circuit's own.
    small = {
        "load.T": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "12 A"},
        "circuit.C5": {"from": "BP", "to": "T", "path": ["R2"], "breaker": "20 A", "conductor": "6 AWG Cu THWN-2"},
    }
    assert egc(studied(small), "C5") == ("wire", "12 AWG", "6 AWG")


def test_pv_circuits_take_an_assumed_device_and_no_increase():
    # 1.25 x 16.25 = 20.3 A, next standard 25 A: 10 AWG Cu. 6 AWG conductors do not raise it.
    assert egc(studied(), "P1") == ("wire", "10 AWG", "10 AWG")
    found = studied({"circuit.P1.conductor": "6 AWG Cu THWN-2"})
    assert value_of(circuit(found, "P1").egc.by_device_a) == 25.0
    assert egc(found, "P1") == ("wire", "10 AWG", "10 AWG")


def test_a_pv_grounding_conductor_is_capped_at_its_circuit():
    # 25 A asks for 10 AWG; the circuit is 12 AWG.
    assert egc(studied({"circuit.P1.conductor": "12 AWG Cu THWN-2"}), "P1") == ("wire", "10 AWG", "12 AWG")


def test_supply_side_conductors_have_a_bonding_jumper_by_their_size():
    # Table 250.102(C)(1): up to 2 AWG Cu: 8 AWG Cu.
    found = studied(base=SUPPLY_SIDE)
    assert egc(found, "C2") == ("supply-side bonding jumper", "8 AWG", "8 AWG")
    assert level(found, "ssbj", "C2") is Level.PASS
    assert level(studied({"circuit.C2.egc": "10 AWG Cu"}, SUPPLY_SIDE), "ssbj", "C2") is Level.FAIL


def test_the_device_from_the_utility_side_decides_on_the_supply_side_disconnect():
    assert egc(studied(base=SUPPLY_SIDE), "C1") == ("wire", "10 AWG", "10 AWG")


STORAGE = {
    "equipment.store": {"kind": "storage module", "energy": "5 kWh", "current": "60 A", "terminals": "75 degC"},
    "storage.B1": {"equipment": "store", "unit": "U1", "harness": "field-wired"},
    "circuit.B2": {"from": "U1", "to": "B1", "path": ["R2"], "breaker": "80 A"},
}


def test_a_storage_circuit_grounding_conductor_goes_by_its_device_and_is_raised_like_ac():
    # 80 A: 8 AWG. T1 75 A: 4 AWG Cu at 75 degC (85 A). 1 AWG installed: 16510 x 83690 / 41740 = 33,103: 4 AWG.
    assert egc(studied(STORAGE), "B2")[:2] == ("wire", "8 AWG")
    raised = studied({**STORAGE, "circuit.B2.conductor": "1 AWG Cu THWN-2", "section.R2.length": "20 in"})
    assert circuit(raised, "B2").smallest == "4 AWG"
    assert egc(raised, "B2") == ("wire", "8 AWG", "4 AWG")


def test_a_storage_circuit_without_current_or_device_is_not_checked():
    found = studied({**STORAGE, "equipment.store.current": None, "circuit.B2.breaker": None})
    assert level(found, "egc", "B2") is Level.NOT_CHECKED


def test_parallel_sets_have_a_full_size_grounding_conductor_each():
    found = studied({"circuit.C4.parallel": 2, "service.conductor": "1/0 AWG Cu THWN-2", "circuit.C2.parallel": 2, "circuit.C2.conductor": "1/0 AWG Cu THWN-2"})
    (raceway,) = [one for one in found.sized.raceways if one.section == "R3"]
    counts = {held.role: held.count for held in raceway.held}
    assert counts == {"ungrounded": 4, "neutral": 2, "grounding": 2}


def test_the_service_disconnect_bonds_the_neutral():
    assert level(studied(), "service_grounding", "MP") is Level.PASS
    assert level(studied({"panel.MP.neutral_bond": False}), "service_grounding", "MP") is Level.FAIL
    assert level(studied({"panel.MP.neutral_bond": None}), "service_grounding", "MP") is Level.NOT_CHECKED


def test_a_bond_at_the_meter_is_allowed_but_does_not_replace_the_one_in_the_disconnect():
    both = check(studied({"service.neutral_bond": True}), "service_grounding", "MP")
    assert both.level is Level.PASS and "at the meter" in both.message
    assert level(studied({"service.neutral_bond": True, "panel.MP.neutral_bond": False}), "service_grounding", "MP") is Level.FAIL


def test_a_second_bond_downstream_fails_and_an_unknown_one_is_not_checked():
    assert level(studied({"panel.BP.neutral_bond": True}), "neutral_for_grounding", "BP") is Level.FAIL
    assert level(studied({"panel.BP.neutral_bond": None}), "neutral_for_grounding", "BP") is Level.NOT_CHECKED
    assert checks(studied(), "neutral_for_grounding") == []


def test_an_isolation_device_ahead_of_the_main_panel_leaves_the_panel_the_service_disconnect():
    whole_home = {
        "isolation.ID.rating": "200 A",
        "circuit.C2": {"from": "service", "to": "ID", "path": ["R3"], "conductor": "2/0 AWG Cu THWN-2"},
        "circuit.C4": {"from": "ID", "to": "MP", "path": ["R5"], "conductor": "2/0 AWG Cu THWN-2"},
        "circuit.C3": {"from": "MP", "to": "BP", "path": ["R4"], "breaker": "60 A"},
    }
    found = studied(whole_home)
    assert level(found, "service_grounding", "MP") is Level.PASS
    assert checks(found, "neutral_for_grounding") == []
    # Its conductors are service conductors on both sides, protected by the main at their load end.
    for tag in ("C2", "C4"):
        assert circuit(found, tag).device.load_end and value_of(circuit(found, tag).device.rating) == 200.0


@pytest.mark.parametrize(("edition", "verdict"), [("2017", Level.WARN), ("2020", Level.FAIL), ("2023", Level.FAIL)])
def test_a_supply_side_disconnect_bonds_the_neutral_by_the_edition(edition, verdict):
    found = studied({"disconnect.D.neutral_bond": False}, SUPPLY_SIDE, edition)
    assert level(found, "supply_side_grounding", "D") is verdict
    assert level(studied(base=SUPPLY_SIDE, edition=edition), "service_grounding", "D") is Level.PASS


def test_neutral_not_switched_no_bond_at_the_units():
    assert level(studied(), "separately_derived", "ID") is Level.PASS
    for bond in ("always", "island only"):
        assert level(studied({"equipment.unit-a.neutral_bond": bond}), "neutral_for_grounding", "U1") is Level.FAIL


SWITCHED = {"isolation.ID.switches_neutral": True}


def test_neutral_switched_exactly_one_bond_at_the_source():
    assert level(studied({**SWITCHED, "equipment.unit-a.neutral_bond": "island only"}), "separately_derived", "ID") is Level.PASS
    assert level(studied(SWITCHED), "separately_derived", "ID") is Level.FAIL
    assert level(studied({**SWITCHED, "equipment.unit-a.neutral_bond": "always"}), "neutral_for_grounding", "U1") is Level.FAIL


def test_neutral_switched_two_units_that_bond_are_two_bonds():
    two = {"unit.U2": {"equipment": "unit-a"}, "circuit.C5": {"from": "BP", "to": "U2", "path": ["R2"], "breaker": "50 A"}}
    assert level(studied({**SWITCHED, **two, "equipment.unit-a.neutral_bond": "island only"}), "separately_derived", "ID") is Level.FAIL


def test_neutral_switched_a_bond_in_a_panel_of_the_island_is_one_too_many():
    found = studied({**SWITCHED, "equipment.unit-a.neutral_bond": "island only", "panel.BP.neutral_bond": True})
    assert level(found, "separately_derived", "ID") is Level.FAIL


@pytest.mark.parametrize("path", ["isolation.ID.switches_neutral", "equipment.unit-a.neutral_bond"])
def test_unknown_switching_or_bonding_is_not_checked(path):
    assert level(studied({path: None}), "separately_derived", "ID") is Level.NOT_CHECKED


def test_without_an_isolation_device_a_unit_that_always_bonds_is_a_second_bond():
    found = studied({"equipment.unit-a.neutral_bond": "always"}, SUPPLY_SIDE)
    assert level(found, "neutral_for_grounding", "U1") is Level.FAIL
