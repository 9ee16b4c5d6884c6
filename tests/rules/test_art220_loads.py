"""Loads that nothing states, and neutrals that are given on feeders and service conductors."""

from __future__ import annotations

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import SUPPLY_SIDE, check, checks, circuit, level, studied


def test_panels_with_loads_raise_nothing():
    assert [one for one in studied().checks if one.rule.endswith(".load")] == []


def test_a_panel_without_a_load_is_not_checked_on_every_feeder_that_serves_it():
    found = studied({"load.BACKUP": None, "load.HOUSE": None})
    assert level(found, "feeder_continuous_conductor.load", "C3") is Level.NOT_CHECKED
    service = check(found, "service_continuous_conductor.load", "C4")
    assert service.needs == ("a load, or a calculated load, on panel MP", "a load, or a calculated load, on panel BP")


def test_a_given_neutral_carries_the_neutral_load_and_reaches_the_grounding_conductor():
    # 10 AWG at 75: 35 A >= 16 A; 60 A device: 10 AWG.
    found = studied({"circuit.C2.neutral": "10 AWG Cu THWN-2"})
    load = check(found, "load_neutral", "C2")
    assert (load.level, value_of(load.demand), value_of(load.limit)) == (Level.PASS, 35.0, 16.0)
    assert level(found, "load_neutral.least", "C2") is Level.PASS


def test_a_given_neutral_that_is_too_small_fails():
    found = studied({"circuit.C2.neutral": "12 AWG Cu THWN-2", "load.BACKUP.unbalance": "28 A"})
    assert level(found, "load_neutral", "C2") is Level.FAIL
    assert level(found, "load_neutral.least", "C2") is Level.FAIL


def test_a_reduced_neutral_with_an_unknown_unbalance_is_not_checked():
    found = studied({"circuit.C2.neutral": "8 AWG Cu THWN-2", "load.BACKUP.unbalance": None})
    assert level(found, "load_neutral", "C2") is Level.NOT_CHECKED
    full = studied({"circuit.C2.neutral": "6 AWG Cu THWN-2", "load.BACKUP.unbalance": None})
    assert level(full, "load_neutral", "C2") is Level.PASS


def test_a_feeder_without_neutral_to_unbalanced_loads_fails():
    assert level(studied({"circuit.C3.neutral": "none"}), "load_neutral", "C3") is Level.FAIL
    balanced = studied({"circuit.C3.neutral": "none", "load.BACKUP.unbalance": "0 A"})
    assert checks(balanced, "load_neutral", "C3") == []


def test_service_conductors_bring_a_grounded_conductor_of_table_250_102():
    # 2/0 Cu: 4 AWG Cu.
    assert level(studied({"circuit.C4.neutral": "4 AWG Cu THWN-2"}), "service_grounding", "C4") is Level.PASS
    assert level(studied({"circuit.C4.neutral": "6 AWG Cu THWN-2"}), "service_grounding", "C4") is Level.FAIL
    assert level(studied({"circuit.C4.neutral": "none"}), "service_grounding", "C4") is Level.FAIL


def test_the_supply_side_disconnect_has_a_grounded_conductor_too():
    assert level(studied({"circuit.C2.neutral": "none"}, SUPPLY_SIDE), "service_grounding", "C2") is Level.FAIL
    assert level(studied({"circuit.C2.neutral": "8 AWG Cu THWN-2"}, SUPPLY_SIDE), "service_grounding", "C2") is Level.PASS


def test_neutrals_that_are_chosen_raise_no_check():
    assert [one for one in studied().checks if one.rule.startswith("load_neutral") and one.subject != "system"] == []


def test_a_calculated_load_below_one_downstream_of_it_is_a_warning():
    found = studied({"load.HOUSE.current": "25 A"})
    warned = check(found, "load_total.inside", "HOUSE")
    assert warned.level is Level.WARN and "25 A, is below BACKUP, 30 A" in warned.message
    assert not checks(studied({"load.HOUSE.current": "30 A"}), "load_total.inside")


def test_a_calculated_load_below_the_share_of_the_named_loads_that_the_least_method_takes_is_a_warning():
    # 4 x 9 kVA: 10 + 0.4 x 26 = 20.4 kVA, 85 A at 240 V.
    heaters = {f"load.H{count}": {"panel": "MP", "kind": "appliance", "voltage": "240 V", "power": "9 kVA"} for count in range(4)}
    warned = check(studied({**heaters, "load.HOUSE.current": "84 A"}), "load_total.named", "HOUSE")
    assert warned.level is Level.WARN and "84 A, is below 85 A" in warned.message and "4 loads named" in warned.message
    assert not checks(studied({**heaters, "load.HOUSE.current": "85 A"}), "load_total.named")


def test_a_stated_continuous_part_below_the_continuous_loads_downstream_is_a_warning():
    charger = {"load.EV": {"panel": "MP", "kind": "ev", "voltage": "240 V", "current": "40 A"}}
    warned = check(studied(charger), "load_total.continuous", "HOUSE")
    assert warned.level is Level.WARN and "0 A, is below the continuous loads downstream (EV), 40 A" in warned.message
    assert not checks(studied({**charger, "load.HOUSE.continuous_part": "40 A"}), "load_total.continuous")


def test_a_120_volt_load_without_a_leg_has_a_neutral():
    pump = {
        "load.PUMP": {"panel": "BP", "kind": "appliance", "voltage": "120 V", "current": "10 A"},
        "circuit.CP": {"from": "BP", "to": "PUMP", "path": ["R6"]},
        "section.R6": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"},
    }
    assert circuit(studied(pump), "CP").neutral is not None
