"""What is chosen where the project leaves it out, and which rule it is said to be governed by."""

from __future__ import annotations

import pytest

from linecalc.sizing.records import Governed
from linecalc.term import value_of
from tests.houses import SUPPLY_SIDE, circuit, studied


def chosen(changes, tag: str, base=None, edition=None) -> tuple[str, Governed]:
    found = circuit(studied(changes, base, edition) if base else studied(changes, edition=edition), tag)
    return found.conductor.size, found.governed_by


OPEN = {"circuit.C1.conductor": None, "circuit.C2.conductor": None, "circuit.C3.conductor": None, "circuit.P1.conductor": None}
SMALL_LOAD = {
    "load.T": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "5 A"},
    "circuit.C5": {"from": "BP", "to": "T", "path": ["R6"], "breaker": "15 A", "terminals_to": "75 degC"},
    "section.R6": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"},
}


def test_t1_governs_a_source_circuit_at_its_terminals():
    # 1.25 x 40 = 50 A: 10 AWG 35 A at 75 fails T1, 8 AWG 50 A.
    assert chosen(OPEN, "C1") == ("8 AWG", Governed.T1)


def test_t2_governs_in_a_hot_and_crowded_place():
    # T1: 8 AWG. At 60 degC with 10 conductors: 8 AWG 55 x 0.71 x 0.5 = 19.5; 4: 95 x 0.355 = 33.7; 3: 115 x 0.355 = 40.8 A.
    hot = {**OPEN, "section.R2.ambient": "60 degC", "section.R2.spare_conductors": 8}
    assert chosen({**hot, "equipment.unit-a.overcurrent_max": "50 A"}, "C1") == ("2 AWG", Governed.T3)
    # T3 then asks for more: 40.8 A is protected by 45 A at most; 2 AWG 130 x 0.355 = 46.15: next size 50.


def test_t2_itself_governs_where_no_device_asks_for_more():
    # PV, no device: I 16.25; 12 AWG 30 x 0.58 x 0.8 = 13.9 fails T2, 10 AWG 40 x 0.464 = 18.6.
    hot = {**OPEN, "section.R1.ambient": "70 degC", "section.R1.spare_conductors": 2}
    assert chosen(hot, "P1") == ("10 AWG", Governed.T2)


def test_t3_governs_where_the_device_is_larger_than_the_load():
    # 60 A device, need 55 A: 8 AWG 50 A fails T1. With a 30 A need: 8 AWG 50 A passes T1, fails T3 at 60 A.
    quiet = {**OPEN, "unit.U1.grid_charging": "no", "equipment.unit-a.ac_current": "20 A", "equipment.unit-a.ac_current_island": "20 A"}
    assert chosen(quiet, "C2") == ("6 AWG", Governed.T3)


def test_the_small_conductor_limit_governs():
    # 20 A device: 14 AWG carries 20 A at 75 degC, but 240.4(D) holds it at 15 A.
    assert chosen({**SMALL_LOAD, "circuit.C5.breaker": "20 A"}, "C5") == ("12 AWG", Governed.SMALL_CONDUCTOR)


def test_the_smallest_size_of_the_table_governs_a_small_load():
    assert chosen(SMALL_LOAD, "C5") == ("14 AWG", Governed.SMALLEST)


def test_aluminium_starts_at_12_awg_and_its_own_limit():
    # 12 AWG Al: 15 A.
    assert chosen({**SMALL_LOAD, "circuit.C5.material": "Al"}, "C5") == ("12 AWG", Governed.SMALLEST)
    assert chosen({**SMALL_LOAD, "circuit.C5.material": "Al", "circuit.C5.breaker": "20 A"}, "C5") == ("10 AWG", Governed.SMALL_CONDUCTOR)


def test_83_percent_governs_the_service_conductor():
    # 166 A: 1/0 150 A fails, 2/0 175 A.
    assert chosen({"service.conductor": None}, "C4") == ("2/0 AWG", Governed.DWELLING)


def test_the_supply_side_minimum_governs_a_small_source():
    # 1.25 x 16 = 20 A, 25 A fuse: 10 AWG by T3; at least 6 AWG in 2020 and 2023.
    small = {
        "equipment.unit-a.ac_current": "16 A",
        "equipment.unit-a.charge_current_ac": "10 A",
        "disconnect.D.device": "25 A",
        "circuit.C2.conductor": None,
    }
    assert chosen(small, "C2", SUPPLY_SIDE, "2023") == ("6 AWG", Governed.SUPPLY_SIDE)
    assert chosen(small, "C2", SUPPLY_SIDE, "2017")[0] == "10 AWG"


def test_the_parallel_minimum_governs_parallel_sets():
    assert chosen({**OPEN, "circuit.C2.parallel": 2}, "C2") == ("1/0 AWG", Governed.PARALLEL)


def test_what_is_given_stays_and_the_smallest_sufficient_is_told_beside_it():
    found = circuit(studied({"circuit.C1.conductor": "3 AWG Cu THWN-2"}), "C1")
    assert (found.conductor.size, found.governed_by, found.smallest, found.selected) == ("3 AWG", Governed.GIVEN, "8 AWG", ("neutral", "egc"))


def test_what_is_left_out_is_listed_as_selected():
    found = circuit(studied({"circuit.C1.breaker": None, "circuit.C1.conductor": None}), "C1")
    assert found.selected == ("breaker", "conductor", "neutral", "egc")
    assert value_of(found.device.rating) == 50.0


@pytest.mark.parametrize(("current", "device"), [("10 A", 15.0), ("12 A", 15.0), ("12.1 A", 20.0), ("40 A", 50.0), ("41 A", 60.0), ("80 A", 100.0), ("80.1 A", 110.0)])
def test_a_breaker_left_out_is_the_next_standard_size_15_amperes_at_least(current, device):
    # 1.25 x I, rounded up to a standard rating; equal stays.
    changes = {"equipment.unit-a.ac_current": current, "equipment.unit-a.ac_current_island": current, "equipment.unit-a.grid_charging": "no", "circuit.C1.breaker": None}
    assert value_of(circuit(studied(changes), "C1").device.rating) == device


def test_a_disconnect_with_fuses_left_out_gets_its_fuse():
    found = circuit(studied({"disconnect.D.device": None}, SUPPLY_SIDE), "C1")
    assert value_of(found.device.rating) == 50.0


def test_a_conductor_without_material_or_insulation_is_chosen_and_listed():
    found = studied({"circuit.C2.conductor": None})
    assert circuit(found, "C2").conductor.text == "6 AWG Cu THWN-2"
    listed = [one.value for one in found.assumptions if one.path == "circuit.C2.conductor"]
    assert listed == ["Cu", "THWN-2"]


def test_pv_conductors_in_free_air_are_chosen_as_pv_wire():
    free = {"section.R1": {"method": "free air", "place": "under array", "ambient": "60 degC", "length": "30 ft"}, "circuit.P1.conductor": None}
    assert circuit(studied(free), "P1").conductor.insulation == "PV wire"


def test_a_chosen_neutral_is_full_size_before_the_increase_for_drop():
    found = circuit(studied({"circuit.C1.conductor": "4 AWG Cu THWN-2"}), "C1")
    assert found.neutral.size == "8 AWG"


def test_a_240_volt_load_has_no_neutral_and_a_120_volt_load_one():
    assert circuit(studied(SMALL_LOAD), "C5").neutral is None
    single = {**SMALL_LOAD, "load.T.voltage": "120 V", "load.T.legs": "L2"}
    assert circuit(studied(single), "C5").neutral.size == "14 AWG"


def test_a_pv_only_inverter_has_no_neutral():
    inverter = {
        "equipment.inv": {"kind": "inverter", "ac_power": "3.8 kW", "ac_current": "16 A", "overcurrent_max": "20 A", "terminals": "75 degC"},
        "inverter.I1": {"equipment": "inv"},
        "circuit.C5": {"from": "BP", "to": "I1", "path": ["R2"], "breaker": "20 A"},
    }
    assert circuit(studied(inverter), "C5").neutral is None


def test_every_number_of_a_selection_can_be_followed_to_its_inputs():
    from linecalc.term import named_terms

    names = {term.id for term in named_terms(circuit(studied(), "C2").protect_a)}
    assert {"C2.R3.ampacity", "C2.T3.ampacity"} <= names


def test_a_bonding_jumper_is_chosen_for_the_source_disconnect_and_not_for_the_house():
    found = studied(base=SUPPLY_SIDE)
    assert circuit(found, "C2").egc.kind == "supply-side bonding jumper"
    assert circuit(found, "C3").egc is None
