"""Storage modules: number, harness, and the DC circuit at the lowest voltage."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied

MODULE = {
    "kind": "storage module",
    "energy": "5 kWh",
    "discharge_power": "5 kW",
    "charge_power": "4.2 kW",
    "power_at": "terminals",
    "voltage_min": "50 V",
    "terminals": "75 degC",
}
STORAGE = {
    "equipment.store": MODULE,
    "storage.B1": {"equipment": "store", "unit": "U1", "harness": "field-wired"},
    "circuit.B2": {"from": "U1", "to": "B1", "path": ["R6"], "breaker": "125 A"},
    "section.R6": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"},
}


def current(changes) -> float:
    (_, one), = circuit(studied({**STORAGE, **changes}), "B2").currents.modes
    return value_of(one.continuous)


def test_the_larger_of_discharge_and_charge_at_the_lowest_voltage():
    # 5000 / 50 = 100 A; charge 4200 / 50 = 84 A.
    assert current({}) == pytest.approx(100.0)
    assert current({"equipment.store.charge_power": "6 kW"}) == pytest.approx(120.0)


def test_power_at_the_ac_side_adds_losses_to_discharge_and_takes_them_off_charge():
    # 5000 / (0.95 x 50) = 105.26 A; charge 6000 x 0.95 / 50 = 114 A.
    ac = {"equipment.store.power_at": "ac side", "equipment.store.efficiency": "95 %"}
    assert current(ac) == pytest.approx(105.26315789)
    assert current({**ac, "equipment.store.charge_power": "6 kW"}) == pytest.approx(114.0)


def test_a_nameplate_current_goes_before_power():
    assert current({"equipment.store.current": "90 A"}) == 90.0


@pytest.mark.parametrize("key", ["discharge_power", "charge_power", "voltage_min", "power_at"])
def test_a_missing_figure_leaves_the_circuit_not_checked(key):
    found = studied({**STORAGE, f"equipment.store.{key}": None})
    for rule in ("ess_conductor.T1", "ess_conductor.T2", "ess_ocpd"):
        assert level(found, rule, "B2") is Level.NOT_CHECKED


def test_device_and_conductor_at_125_percent():
    # 125 A; 1 AWG Cu at 75: 130 A.
    found = studied(STORAGE)
    assert level(found, "ess_ocpd", "B2") is Level.PASS
    assert circuit(found, "B2").conductor.size == "1 AWG"
    assert level(studied({**STORAGE, "circuit.B2.breaker": "110 A"}), "ess_ocpd", "B2") is Level.FAIL


def test_a_field_wired_circuit_without_a_device_is_not_checked():
    assert level(studied({**STORAGE, "circuit.B2.breaker": None}), "ess_ocpd", "B2") is Level.NOT_CHECKED


def test_the_drop_is_on_the_base_of_the_lowest_voltage():
    # 2 x 10 ft x 100 A x 0.154 ohm/kft (1 AWG, Table 8) = 0.308 V of 50 V: 0.616 %.
    (drop,) = circuit(studied(STORAGE), "B2").drops
    assert value_of(drop.percent) == pytest.approx(100 * 2 * 10 * 100 * 0.154 / 1000 / 50)


def test_two_modules_on_one_circuit_add():
    two = {
        "junction.JB": {"terminals": "75 degC"},
        "equipment.unit-a.storage_modules_max": 2,
        "storage.B3": {"equipment": "store", "unit": "U1", "harness": "field-wired"},
        "circuit.B2": {"from": "U1", "to": "JB", "path": ["R6"], "breaker": "250 A"},
        "circuit.B4": {"from": "JB", "to": "B1", "path": ["R6"], "breaker": "125 A"},
        "circuit.B5": {"from": "JB", "to": "B3", "path": ["R6"], "breaker": "125 A"},
    }
    assert current(two) == pytest.approx(200.0)


def test_no_more_modules_than_the_unit_allows():
    assert level(studied(STORAGE), "listed_instructions.storage_modules", "U1") is Level.PASS
    more = {"storage.B3": {"equipment": "store", "unit": "U1", "harness": "factory"}}
    assert level(studied({**STORAGE, **more}), "listed_instructions.storage_modules", "U1") is Level.FAIL
    assert checks(studied(), "listed_instructions.storage_modules") == []


HARNESS = {
    "equipment.store": {**MODULE, "harness_part": "H-1 (invented)", "harness_length": "8 ft", "harness_current": "110 A"},
    "storage.B1": {"equipment": "store", "unit": "U1", "harness": "factory", "distance": "6 ft"},
}


def test_a_factory_harness_is_printed_and_its_reach_checked():
    found = check(studied(HARNESS), "listed_instructions.harness", "B1")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 6.0, 8.0)
    assert "H-1" in found.message
    assert level(studied({**HARNESS, "storage.B1.distance": "9 ft"}), "listed_instructions.harness", "B1") is Level.FAIL


@pytest.mark.parametrize("path", ["equipment.store.harness_part", "equipment.store.harness_length", "storage.B1.distance"])
def test_a_harness_of_unknown_reach_is_not_checked(path):
    assert level(studied({**HARNESS, path: None}), "listed_instructions.harness", "B1") is Level.NOT_CHECKED


def test_the_current_of_a_harness_is_compared_where_it_is_stated():
    assert level(studied(HARNESS), "ess_circuit_current", "B1") is Level.PASS
    assert level(studied({**HARNESS, "equipment.store.harness_current": "95 A"}), "ess_circuit_current", "B1") is Level.FAIL
    assert level(studied({**HARNESS, "equipment.store.harness_current": None}), "ess_circuit_current", "B1") is Level.NOTE


@pytest.mark.parametrize("harness", [None, "field-extended", "field-wired"])
def test_a_module_whose_wiring_is_not_described_is_not_checked(harness):
    found = studied({**HARNESS, "storage.B1": {"equipment": "store", "unit": "U1", "harness": harness} if harness else {"equipment": "store", "unit": "U1"}})
    assert level(found, "ess_circuit_current", "B1") is Level.NOT_CHECKED
