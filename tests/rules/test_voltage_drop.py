"""Drop and rise: by Table 9 and the raceway, by Table 8 on DC, on 120 V, per mode."""

from __future__ import annotations

import math

import pytest

from linecalc.check import Level
from linecalc.network.records import Mode
from linecalc.sizing.records import Governed
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied


def percent(found, tag: str, mode: Mode) -> float:
    return value_of(next(drop for drop in circuit(found, tag).drops if drop.mode is mode).percent)


def z(r: float, x: float, pf: float) -> float:
    return r * pf + x * math.sqrt(1 - pf * pf)


def test_export_rises_at_rated_current_and_power_factor_1():
    # 8 AWG in EMT, 0.78 ohm/kft: 2 x 10 x 40 x 0.78 / 1000 = 0.624 V: 0.26 %.
    assert percent(studied(), "C1", Mode.EXPORT) == pytest.approx(0.26)


def test_supply_drops_at_the_calculated_load_and_its_power_factor():
    # 6 AWG in steel 0.49 + j0.064, pf 0.9: 2 x 10 x 30 x Z / 1000 / 240.
    expected = 100 * 2 * 10 * 30 * z(0.49, 0.064, 0.9) / 1000 / 240
    assert percent(studied(), "C3", Mode.SUPPLY) == pytest.approx(expected)


def test_without_a_power_factor_085_is_taken_and_listed():
    found = studied({"load.BACKUP.power_factor": None})
    assert percent(found, "C3", Mode.SUPPLY) == pytest.approx(100 * 2 * 10 * 30 * z(0.49, 0.064, 0.85) / 1000 / 240)
    assert any(one.path == "circuit.C3.power_factor" for one in found.assumptions)


def test_the_reactance_goes_by_the_raceway():
    # 6 AWG in PVC 0.49 + j0.051.
    expected = 100 * 2 * 10 * 30 * z(0.49, 0.051, 0.9) / 1000 / 240
    assert percent(studied({"section.R4.method": "PVC40"}), "C3", Mode.SUPPLY) == pytest.approx(expected)


def test_sections_of_unlike_raceways_are_added_up():
    mixed = {"circuit.C3.path": ["R4", "R6"], "section.R6": {"method": "PVC40", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "20 ft"}}
    expected = 100 * 2 * 30 * (10 * z(0.49, 0.064, 0.9) + 20 * z(0.49, 0.051, 0.9)) / 1000 / 240
    assert percent(studied(mixed), "C3", Mode.SUPPLY) == pytest.approx(expected)


def test_parallel_sets_divide_the_drop():
    one = {"circuit.C3.conductor": "1/0 AWG Cu THWN-2"}
    assert percent(studied({**one, "circuit.C3.parallel": 2}), "C3", Mode.EXPORT) == pytest.approx(percent(studied(one), "C3", Mode.EXPORT) / 2)


def test_dc_drops_by_table_8_at_imp_on_the_string_voltage():
    # 10 AWG 1.24 ohm/kft: 2 x 30 x 12 x 1.24 / 1000 = 0.8928 V of 330 V.
    assert percent(studied(), "P1", Mode.DC) == pytest.approx(100 * 0.8928 / 330)


def test_a_120_volt_load_drops_over_phase_and_neutral_on_120_volts():
    # 12 AWG in EMT 2.0 + j0.068, pf 0.95, 12 A, 10 ft, out over the phase and back over the neutral.
    small = {
        "load.T": {"panel": "BP", "kind": "appliance", "voltage": "120 V", "legs": "L1", "current": "12 A", "power_factor": 0.95},
        "circuit.C5": {"from": "BP", "to": "T", "path": ["R2"], "breaker": "20 A", "conductor": "12 AWG Cu THWN-2"},
    }
    found = studied(small)
    assert percent(found, "C5", Mode.SUPPLY) == pytest.approx(100 * 10 * 12 * 2 * z(2.0, 0.068, 0.95) / 1000 / 120)
    assert (circuit(found, "C5").ungrounded, circuit(found, "C5").neutral.size) == (1, "12 AWG")
    # A neutral of another size counts with its own impedance (10 AWG 1.2 + j0.063).
    larger = studied({**small, "circuit.C5.neutral": "10 AWG Cu THWN-2"})
    both = z(2.0, 0.068, 0.95) + z(1.2, 0.063, 0.95)
    assert percent(larger, "C5", Mode.SUPPLY) == pytest.approx(100 * 10 * 12 * both / 1000 / 120)


def test_above_three_percent_is_a_note_only():
    assert level(studied(), "voltage_drop_feeder_note", "C2") is Level.PASS
    long = check(studied({"section.R3.length": "400 ft"}), "voltage_drop_feeder_note", "C2")
    assert long.level is Level.NOTE


def test_the_length_to_which_it_passes_is_told():
    # C1 export 0.26 % at 10 ft: 3 % at 115.4 ft.
    assert "115.4 ft" in check(studied(), "voltage_drop_feeder_note", "C1").flip


def test_a_target_of_the_user_is_a_warning():
    assert level(studied({"circuit.C1.drop_target": "0.3 %"}), "voltage_drop", "C1") is Level.PASS
    assert level(studied({"circuit.C1.drop_target": "0.2 %"}), "voltage_drop", "C1") is Level.WARN


def test_a_conductor_left_out_is_raised_to_the_target_of_its_circuit_or_of_the_project():
    # 0.2 %: 2 x 10 x 40 x R / 1000 <= 0.48 V: R <= 0.6: 6 AWG.
    for path in ("circuit.C1.drop_target", "service.drop_target"):
        found = circuit(studied({path: "0.2 %", "circuit.C1.conductor": None}), "C1")
        assert (found.conductor.size, found.governed_by, found.smallest) == ("6 AWG", Governed.DROP, "8 AWG")


def test_a_target_that_no_size_keeps_stops_nothing_and_warns():
    found = studied({"circuit.C1.drop_target": "0.0001 %", "circuit.C1.conductor": None})
    assert circuit(found, "C1").conductor.size == "8 AWG"
    assert level(found, "voltage_drop", "C1") is Level.WARN


def test_a_size_that_table_9_lacks_is_not_checked():
    found = studied({"circuit.C2.conductor": "700 kcmil Cu THWN-2"})
    assert level(found, "voltage_drop", "C2") is Level.NOT_CHECKED


def test_the_rise_from_the_unit_to_the_meter_is_the_sum_of_its_circuits():
    # 8 AWG 0.78 (10 ft), twice 6 AWG 0.49 (10 ft), 2/0 0.10 (10 ft, RMC) at 40 A.
    expected = 100 * 2 * 10 * 40 * (0.78 + 0.49 + 0.49 + 0.10) / 1000 / 240
    found = studied()
    assert value_of(circuit(found, "C1").rise_to_meter) == pytest.approx(expected)
    assert level(found, "voltage_drop.rise", "C1") is Level.NOTE
    assert "service conductors included" in check(found, "voltage_drop.rise", "C1").message


def test_a_rise_target_passes_or_warns():
    assert level(studied({"service.rise_target": "1 %"}), "voltage_drop.rise", "C1") is Level.PASS
    assert level(studied({"service.rise_target": "0.5 %"}), "voltage_drop.rise", "C1") is Level.WARN


def test_no_rise_where_a_length_on_the_way_is_unknown():
    assert checks(studied({"circuit.C4.path": None, "section.R5": None}), "voltage_drop.rise") == []
