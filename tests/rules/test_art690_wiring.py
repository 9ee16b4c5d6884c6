"""PV conductors beside other systems, and strings that lead to their unit."""

from __future__ import annotations

from linecalc.check import Level
from tests.houses import check, checks, level, studied


def test_pv_and_ac_in_one_raceway_fail_without_a_partition():
    found = check(studied({"circuit.C1.path": ["R1"], "section.R2": None}), "pv_wiring_methods", "R1")
    assert found.level is Level.FAIL and "C1" in found.message


def test_a_partition_or_raceways_apart_are_silent():
    assert checks(studied(), "pv_wiring_methods") == []
    parted = {"circuit.C1.path": ["R1"], "section.R2": None, "section.R1.partition": True}
    assert checks(studied(parted), "pv_wiring_methods") == []


def test_a_string_without_conductors_is_not_checked():
    found = studied({"circuit.P1": None, "section.R1": None})
    assert check(found, "pv_conductor", "S1").needs == ("a circuit from S1 to U1",)
    assert checks(studied(), "pv_conductor", "S1") == []


def test_a_string_whose_conductors_lead_to_another_unit_is_not_checked():
    two = {
        "unit.U2": {"equipment": "unit-a"},
        "circuit.C5": {"from": "BP", "to": "U2", "path": ["R2"], "breaker": "50 A"},
        "circuit.P1.to": "U2",
    }
    assert level(studied(two), "pv_conductor", "S1") is Level.NOT_CHECKED


def test_strings_of_two_inputs_on_one_circuit_fail():
    joined = {
        "junction.JB": {"terminals": "75 degC"},
        "string.S2": {"module": "mod", "count": 10, "to": "U1", "input": 2},
        "circuit.P1.to": "JB",
        "circuit.P2": {"from": "S2", "to": "JB", "path": ["R1"]},
        "circuit.P3": {"from": "JB", "to": "U1", "path": ["R1"]},
    }
    assert level(studied(joined), "mppt_limit.joined", "P3") is Level.FAIL
    assert checks(studied({**joined, "string.S2.input": 1}), "mppt_limit.joined") == []
