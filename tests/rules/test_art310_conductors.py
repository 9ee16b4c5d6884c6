"""T1, T2, terminals, insulation, parallel sets, rooftop, the 10 ft and 10 percent rule, 83 percent."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.sizing.records import Governed
from linecalc.term import value_of
from tests.houses import SUPPLY_SIDE, check, checks, circuit, level, studied


def numbers(found):
    return found.level, round(value_of(found.demand), 6), round(value_of(found.limit), 6)


def test_t1_takes_the_terminal_column_without_factors():
    # R1 lies at 50 degC; 10 AWG at 75 degC terminals is 35 A all the same. 1.25 x 1.25 x 13 = 20.3125 A.
    assert numbers(check(studied(), "pv_conductor.T1", "P1")) == (Level.PASS, 35.0, 20.3125)


def test_t1_fails_before_any_factor():
    # 10 AWG at 75: 35 A < 50 A.
    found = check(studied({"circuit.C1.conductor": "10 AWG Cu THWN-2"}), "inverter_output_conductor.T1", "C1")
    assert numbers(found) == (Level.FAIL, 35.0, 50.0)


def test_t2_takes_the_insulation_column_with_the_ambient_factor():
    # 40 A x 0.82 (46 to 50 degC, 90 degC column) = 32.8 A against 16.25 A.
    assert numbers(check(studied(), "pv_conductor.T2", "P1")) == (Level.PASS, 32.8, 16.25)


def test_t2_fails_after_factors():
    # 14 AWG: 25 x 0.65 (61 to 65 degC) = 16.25 A passes exactly; at 70 degC 25 x 0.58 = 14.5 A fails.
    small = {"circuit.P1.conductor": "14 AWG Cu THWN-2"}
    assert numbers(check(studied({**small, "section.R1.ambient": "65 degC"}), "pv_conductor.T2", "P1")) == (Level.PASS, 16.25, 16.25)
    assert numbers(check(studied({**small, "section.R1.ambient": "70 degC"}), "pv_conductor.T2", "P1")) == (Level.FAIL, 14.5, 16.25)


def test_t2_is_not_checked_where_an_attic_has_no_ambient():
    found = check(studied({"section.R1.ambient": None}), "pv_conductor.T2", "P1")
    assert found.level is Level.NOT_CHECKED and found.needs == ("section.R1.ambient",)


def test_too_hot_for_the_insulation_is_a_failure_not_a_gap():
    # 60 degC leaves no factor for 60 degC insulation, and 90 degC none for any.
    assert level(studied({"section.R1.ambient": "90 degC"}), "pv_conductor.T2", "P1") is Level.FAIL
    hot = {"circuit.P1.conductor": "10 AWG Cu TW", "section.R1.ambient": "60 degC"}
    assert level(studied(hot), "pv_conductor.T2", "P1") is Level.FAIL


def test_where_nothing_passes_the_size_shown_is_the_one_that_the_terminals_ask_for():
    found = circuit(studied({"section.R1.ambient": "90 degC", "circuit.P1.conductor": None}), "P1")
    assert (found.conductor.size, found.governed_by) == ("12 AWG", Governed.NOTHING_PASSES)


def test_an_unknown_ambient_elsewhere_is_assumed_from_the_site_and_listed():
    # Garage: 35 degC assumed, 0.96 at 90 degC; 75 x 0.96 = 72.
    found = studied({"section.R3.ambient": None})
    assert value_of(circuit(found, "C2").t2_ampacity) == pytest.approx(72.0)
    assert any(one.path == "section.R3.ambient" for one in found.assumptions)


def test_a_factor_above_one_only_with_a_given_ambient():
    # 20 degC: 1.08 (16 to 20 degC, 90 degC column). 75 x 1.08 = 81 A.
    cold = {"section.R3.ambient": "20 degC"}
    assert value_of(circuit(studied(cold), "C2").t2_ampacity) == pytest.approx(81.0)
    assumed = {"section.R3.ambient": {"value": "20 degC", "basis": "assumed"}}
    assert value_of(circuit(studied(assumed), "C2").t2_ampacity) == pytest.approx(75.0)


def test_between_two_bands_the_warmer_one():
    # 50.5 degC: 0.76 (51 to 55).
    assert value_of(circuit(studied({"section.R1.ambient": "50.5 degC"}), "P1").t2_ampacity) == pytest.approx(40 * 0.76)


@pytest.mark.parametrize(
    ("spares", "factor"), [(0, 1.0), (1, 1.0), (2, 0.8), (4, 0.8), (5, 0.7), (7, 0.7), (8, 0.5), (18, 0.5), (19, 0.45)]
)
def test_count_of_current_carrying_conductors_with_spares(spares, factor):
    # Two of the circuit and the spares: to 3: 1, 4-6: 0.8, 7-9: 0.7, 10-20: 0.5, 21-30: 0.45.
    found = circuit(studied({"section.R3.spare_conductors": spares}), "C2")
    assert value_of(found.t2_ampacity) == pytest.approx(75 * factor)


def test_neutral_and_grounding_conductor_do_not_count():
    (section,) = circuit(studied(), "C2").sections
    assert section.current_carrying == 2


def test_parallel_sets_and_every_circuit_in_the_raceway_count():
    changes = {"circuit.C2.parallel": 2, "circuit.C2.conductor": "1/0 AWG Cu THWN-2", "circuit.C3.path": ["R3"], "section.R4": None}
    (section,) = circuit(studied(changes), "C2").sections
    assert section.current_carrying == 6


def test_a_nipple_has_no_count_factor():
    crowded = {"section.R3.spare_conductors": 8}
    assert value_of(circuit(studied({**crowded, "section.R3.length": "24 in"}), "C2").t2_ampacity) == pytest.approx(75.0)
    assert value_of(circuit(studied({**crowded, "section.R3.length": "25 in"}), "C2").t2_ampacity) == pytest.approx(37.5)


FREE_AIR = {
    "section.F1": {"method": "free air", "place": "under array", "moisture": "wet", "ambient": "60 degC", "length": "30 ft"},
    "circuit.P1": {"from": "S1", "to": "U1", "path": ["F1"], "conductor": "10 AWG Cu PV wire", "terminals_from": "75 degC"},
    "section.R1": None,
}


def test_free_air_takes_table_310_17():
    # 10 AWG 90 degC in free air 55 A x 0.71 (56 to 60 degC).
    assert value_of(circuit(studied(FREE_AIR), "P1").t2_ampacity) == pytest.approx(55 * 0.71)


def test_strings_bundled_in_free_air_are_adjusted_for_their_number():
    second = {
        "string.S2": {"module": "mod", "count": 10, "to": "U1", "input": 2},
        "circuit.P2": {"from": "S2", "to": "U1", "path": ["F1"], "conductor": "10 AWG Cu PV wire", "terminals_from": "75 degC"},
    }
    assert value_of(circuit(studied({**FREE_AIR, **second}), "P1").t2_ampacity) == pytest.approx(55 * 0.71 * 0.8)


def test_under_an_array_without_an_ambient_is_not_checked():
    assert level(studied({**FREE_AIR, "section.F1.ambient": None}), "pv_conductor.T2", "P1") is Level.NOT_CHECKED


ROOF = {
    "section.R1": {"method": "EMT", "place": "roof", "sun": True, "height_above_roof": "0.8 in", "ambient": "35 degC", "length": "30 ft"},
}


@pytest.mark.parametrize(("edition", "factor"), [("2017", 0.58), ("2020", 0.58), ("2023", 0.96)])
def test_rooftop_adder_by_the_height_of_the_edition(edition, factor):
    # 0.8 in lies below 7/8 in (2017, 2020): 35 + 33 = 68 degC, 0.58; above 3/4 in (2023): 35 degC, 0.96.
    assert value_of(circuit(studied(ROOF, edition=edition), "P1").t2_ampacity) == pytest.approx(40 * factor)


@pytest.mark.parametrize(("edition", "height"), [("2017", "0.875 in"), ("2020", "0.875 in"), ("2023", "0.75 in")])
def test_at_the_height_itself_there_is_no_adder(edition, height):
    found = circuit(studied({**ROOF, "section.R1.height_above_roof": height}, edition=edition), "P1")
    assert value_of(found.t2_ampacity) == pytest.approx(40 * 0.96)


def test_no_adder_in_shade_and_none_for_xhhw_2():
    low = {**ROOF, "section.R1.height_above_roof": "0.5 in"}
    assert value_of(circuit(studied(low), "P1").t2_ampacity) == pytest.approx(40 * 0.58)
    assert value_of(circuit(studied({**low, "section.R1.sun": False}), "P1").t2_ampacity) == pytest.approx(40 * 0.96)
    assert value_of(circuit(studied({**low, "circuit.P1.conductor": "10 AWG Cu XHHW-2"}), "P1").t2_ampacity) == pytest.approx(40 * 0.96)


def test_an_unknown_height_on_a_roof_is_taken_as_none_and_listed():
    found = studied({**ROOF, "section.R1.height_above_roof": None})
    assert value_of(circuit(found, "P1").t2_ampacity) == pytest.approx(40 * 0.58)
    assert any(one.path == "section.R1.height_above_roof" for one in found.assumptions)


def test_2017_asks_for_the_height_as_such_whatever_the_insulation():
    low = {**ROOF, "section.R1.height_above_roof": "0.5 in"}
    assert level(studied(low, edition="2017"), "rooftop_adder", "P1") is Level.WARN
    assert level(studied({**low, "circuit.P1.conductor": "10 AWG Cu XHHW-2"}, edition="2017"), "rooftop_adder", "P1") is Level.WARN
    assert checks(studied({**ROOF, "section.R1.height_above_roof": "1 in"}, edition="2017"), "rooftop_adder") == []
    assert checks(studied(low, edition="2020"), "rooftop_adder") == []


SHORT_ROOF = {
    # 6.5 ft roof at 68 degC (0.58: 23.2 A), 38 ft attic at 50 degC (0.82: 32.8 A), 22 ft garage at 30 degC (40 A).
    "section.A": {"method": "EMT", "place": "roof", "moisture": "wet", "sun": True, "height_above_roof": "0 in", "ambient": "35 degC", "length": "6.5 ft"},
    "section.B": {"method": "EMT", "place": "attic", "moisture": "dry", "ambient": "50 degC", "length": "38 ft"},
    "section.C": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "22 ft"},
    "section.R1": None,
    "circuit.P1.path": ["A", "B", "C"],
}


def test_ten_feet_and_ten_percent_set_the_short_roof_aside():
    # 6.5 ft <= 10 ft and <= 10 % of 66.5 ft = 6.65 ft: the attic governs with 32.8 A.
    found = circuit(studied(SHORT_ROOF), "P1")
    assert value_of(found.t2_ampacity) == pytest.approx(32.8)
    assert found.run.set_aside == ("A",)
    assert "A set aside by the 10 ft and 10 % rule" in check(studied(SHORT_ROOF), "pv_conductor.T2", "P1").message


def test_a_little_longer_the_roof_governs():
    # 6.8 ft > 10 % of 66.8 ft.
    found = circuit(studied({**SHORT_ROOF, "section.A.length": "6.8 ft"}), "P1")
    assert value_of(found.t2_ampacity) == pytest.approx(23.2)
    assert found.run.set_aside == ()


def test_above_ten_feet_the_roof_governs_whatever_the_percent():
    found = circuit(studied({**SHORT_ROOF, "section.A.length": "10.1 ft", "section.B.length": "300 ft"}), "P1")
    assert value_of(found.t2_ampacity) == pytest.approx(23.2)


def test_the_other_reading_of_2017_is_printed_with_its_result():
    # 10 % of the length at the higher ampacity, 60 ft: 6.0 < 6.5, the roof would govern.
    found = check(studied(SHORT_ROOF, edition="2017"), "ampacity_rules", "P1")
    assert found.level is Level.WARN and "23.2 A" in found.message
    assert checks(studied(SHORT_ROOF, edition="2020"), "ampacity_rules", "P1") == []
    assert checks(studied({**SHORT_ROOF, "section.A.length": "5.9 ft"}, edition="2017"), "ampacity_rules", "P1") == []


def test_terminals_given_set_the_column():
    assert circuit(studied(), "C2").terminal_column_c == 75
    assert level(studied(), "terminal_temperature", "C2") is Level.PASS


def test_unknown_terminals_to_100_amperes_are_assumed_60_and_listed():
    found = studied({"panel.MP.terminals": None})
    assert circuit(found, "C2").terminal_column_c == 60
    assert level(found, "terminal_temperature", "C2") is Level.NOTE
    assert any(one.path == "circuit.C2.terminals_from" and one.value == "60 degC" for one in found.assumptions)


# Source: 110.14(C)(1)(a) as quoted by the Mike Holt Forum, Temperature limitation 110.14C: circuits of 100 A or less,
# "or marked 14 AWG through 1 AWG conductors", https://xenforo.mikeholt.com/goto/post?id=1531828
@pytest.mark.parametrize(("marked", "column"), [(["14 AWG", "1 AWG"], 60), (["1/0 AWG", "250 kcmil"], 75), (["4 AWG", "250 kcmil"], 75)])
def test_unlisted_terminals_above_100_amperes_go_by_the_sizes_they_are_marked_for(marked, column):
    found = studied({"panel.MP.terminals": None, "circuit.C4.wire_range_to": marked})
    assert circuit(found, "C4").terminal_column_c == column
    assert any(one.path == "circuit.C4.terminals_to" and one.value == f"{column} degC" for one in found.assumptions)


def test_listed_terminals_keep_their_temperature_whatever_sizes_they_are_marked_for():
    assert circuit(studied({"circuit.C4.wire_range_to": ["14 AWG", "1 AWG"]}), "C4").terminal_column_c == 75


def test_unlisted_terminals_up_to_100_amperes_stay_at_60_whatever_sizes_they_are_marked_for():
    found = studied({"panel.MP.terminals": None, "circuit.C2.wire_range_from": ["1/0 AWG", "250 kcmil"]})
    assert circuit(found, "C2").terminal_column_c == 60


@pytest.mark.parametrize(("marked", "verdict"), [(["14 AWG", "8 AWG"], Level.PASS), (["6 AWG", "1 AWG"], Level.FAIL), (["14 AWG", "10 AWG"], Level.FAIL)])
def test_a_conductor_fits_the_terminals_it_ends_in(marked, verdict):
    # C1 is 8 AWG
    assert level(studied({"equipment.unit-a.wire_range": marked}), "terminal_wire_range", "C1") is verdict
    assert level(studied({"circuit.C1.wire_range_from": marked}), "terminal_wire_range", "C1") is verdict
    assert checks(studied({"equipment.unit-a.wire_range": marked}), "terminal_wire_range", "P1") == []


def test_terminals_whose_sizes_are_not_stated_raise_nothing():
    assert checks(studied(), "terminal_wire_range") == []


def test_unknown_terminals_above_100_amperes_are_assumed_75():
    found = studied({"panel.MP.terminals": None})
    assert circuit(found, "C4").terminal_column_c == 75


def test_the_lower_of_both_ends_counts():
    assert circuit(studied({"isolation.ID.terminals": "60 degC"}), "C2").terminal_column_c == 60


def test_90_degrees_never_at_a_panel_and_elsewhere_only_with_a_separate_connector():
    assert circuit(studied({"panel.MP.terminals": "90 degC", "isolation.ID.terminals": "90 degC"}), "C2").terminal_column_c == 75
    dc = {
        "junction.J1": {"terminals": "90 degC"},
        "junction.J2": {"terminals": "90 degC"},
        "circuit.P1": {"from": "S1", "to": "J1", "path": ["R1"], "terminals_from": "75 degC"},
        "circuit.P2": {"from": "J1", "to": "J2", "path": ["R1"]},
        "circuit.P3": {"from": "J2", "to": "U1", "path": ["R1"]},
    }
    assert circuit(studied(dc), "P2").terminal_column_c == 75
    assert circuit(studied({**dc, "circuit.P2.separate_connector": True}), "P2").terminal_column_c == 90
    assert circuit(studied({**dc, "circuit.P3.separate_connector": True}), "P3").terminal_column_c == 75


def test_the_terminal_column_is_never_above_the_insulation():
    # TW is 60 degC: 6 AWG 55 A, not 65 A.
    found = check(studied({"circuit.C2.conductor": "6 AWG Cu TW"}), "feeder_continuous_conductor.T1", "C2")
    assert numbers(found) == (Level.PASS, 55.0, 55.0)


def test_insulation_by_the_wettest_place_of_the_run():
    # XHHW is 90 dry, 75 wet: one wet section makes the whole run 75 degC. 6 AWG 65 A.
    run = {"circuit.C2.conductor": "6 AWG Cu XHHW"}
    assert value_of(circuit(studied(run), "C2").t2_ampacity) == pytest.approx(75.0)
    wet = {**run, "circuit.C2.path": ["R3", "W"], "section.W": {"method": "EMT", "place": "outdoor wall", "ambient": "30 degC", "length": "3 ft"}}
    assert circuit(studied(wet), "C2").insulation_c == 75
    assert value_of(circuit(studied(wet), "C2").t2_ampacity) == pytest.approx(65.0)


def test_thhn_fails_in_a_wet_place_and_passes_in_a_damp_one():
    thhn = {"circuit.C2.conductor": "6 AWG Cu THHN"}
    assert level(studied(thhn), "insulation_rating", "C2") is Level.PASS
    assert level(studied({**thhn, "section.R3.moisture": "damp"}), "insulation_rating", "C2") is Level.PASS
    assert level(studied({**thhn, "section.R3.moisture": "wet"}), "wire_in_wet_place", "C2") is Level.FAIL


@pytest.mark.parametrize("place", ["outdoor wall", "roof", "underground", "outside of the garage", "somewhere"])
def test_a_place_outdoors_underground_or_unknown_is_taken_as_wet_and_listed(place):
    found = studied({"section.R3.moisture": None, "section.R3.place": place, "section.R3.sun": False})
    assert circuit(found, "C2").sections[0].moisture == "wet"
    assert any(one.path == "section.R3.moisture" for one in found.assumptions)


def test_an_unknown_insulation_is_not_checked():
    found = studied({"circuit.C2.conductor": "6 AWG Cu ZZZ"})
    assert level(found, "feeder_continuous_conductor.T2", "C2") is Level.NOT_CHECKED


def test_parallel_conductors_start_at_1_0():
    two = {"circuit.C2.parallel": 2}
    found = check(studied({**two, "circuit.C2.conductor": "1/0 AWG Cu THWN-2"}), "parallel_conductors", "C2")
    assert found.level is Level.PASS and "equal lengths assumed" in found.message
    assert level(studied({**two, "circuit.C2.conductor": "1 AWG Cu THWN-2"}), "parallel_conductors", "C2") is Level.FAIL
    assert circuit(studied({**two, "circuit.C2.conductor": None}), "C2").conductor.size == "1/0 AWG"
    assert checks(studied(), "parallel_conductors") == []


@pytest.mark.parametrize(("edition", "conductor", "verdict"), [
    ("2023", "6 AWG Cu THWN-2", Level.PASS),
    ("2023", "8 AWG Cu THWN-2", Level.FAIL),
    ("2020", "6 AWG Al XHHW-2", Level.FAIL),
    ("2020", "4 AWG Al XHHW-2", Level.PASS),
])
def test_least_size_of_supply_side_conductors(edition, conductor, verdict):
    assert level(studied({"circuit.C2.conductor": conductor}, SUPPLY_SIDE, edition), "supply_side_conductor", "C2") is verdict


def test_2017_has_no_least_size_on_the_supply_side():
    assert checks(studied({"circuit.C2.conductor": "8 AWG Cu THWN-2"}, SUPPLY_SIDE, "2017"), "supply_side_conductor") == []


def test_83_percent_for_the_conductor_that_carries_the_whole_dwelling():
    # 0.83 x 200 = 166 A; 2/0 Cu at 75: 175 A. 1/0: 150 A.
    assert numbers(check(studied(), "dwelling_83pct", "C4")) == (Level.PASS, 175.0, 166.0)
    assert numbers(check(studied({"service.conductor": "1/0 AWG Cu THWN-2"}), "dwelling_83pct", "C4")) == (Level.FAIL, 150.0, 166.0)


def test_83_percent_counts_the_ampacity_after_factors():
    # 2/0 at 45 degC: 195 x 0.87 = 169.65; at 50 degC: 195 x 0.82 = 159.9.
    assert level(studied({"section.R5.ambient": "45 degC"}), "dwelling_83pct", "C4") is Level.PASS
    assert level(studied({"section.R5.ambient": "50 degC"}), "dwelling_83pct", "C4") is Level.FAIL
    assert level(studied({"section.R5.ambient": None, "section.R5.place": "roof"}), "dwelling_83pct", "C4") is Level.NOT_CHECKED


def test_83_percent_never_for_partial_feeders_or_source_circuits():
    found = studied({"circuit.C2.breaker": "100 A", "isolation.ID.rating": "200 A"})
    assert {one.subject for one in checks(found, "dwelling_83pct")} == {"C4"}


def test_83_percent_only_from_100_to_400_amperes():
    assert checks(studied({"panel.MP.main": "90 A"}), "dwelling_83pct") == []
    assert checks(studied({"panel.MP.main": "450 A", "panel.MP.bus": "600 A"}), "dwelling_83pct") == []


def test_83_percent_not_where_a_source_joins_beside_behind_the_service_disconnect():
    # Service disconnect SD, then the isolation device where a unit joins beside the feeder to MP.
    changes = {
        "disconnect.SD": {"rating": "200 A", "device": "200 A", "device_kind": "breaker", "terminals": "75 degC", "neutral_bond": True, "service_disconnect": True},
        "panel.MP.neutral_bond": False,
        "isolation.ID.rating": "200 A",
        "circuit.C4": {"from": "service", "to": "SD", "path": ["R5"]},
        "circuit.C2": {"from": "SD", "to": "ID", "path": ["R3"], "conductor": "2/0 AWG Cu THWN-2"},
        "circuit.C6": {"from": "ID", "to": "MP", "path": ["R4"], "conductor": "2/0 AWG Cu THWN-2"},
        "circuit.C3": {"from": "MP", "to": "BP", "path": ["R4"], "breaker": "60 A"},
    }
    assert {one.subject for one in checks(studied(changes), "dwelling_83pct")} == {"C4", "C2", "C6"}
    beside = {**changes, "circuit.C1": {"from": "ID", "to": "U1", "path": ["R2"], "breaker": "50 A"}}
    assert {one.subject for one in checks(studied(beside), "dwelling_83pct")} == {"C4", "C2"}


def test_a_circuit_without_a_path_is_not_checked_and_nothing_is_chosen_for_it():
    found = studied({"circuit.C2.path": None, "circuit.C2.conductor": None, "section.R3": None})
    assert level(found, "ampacity_rules", "C2") is Level.NOT_CHECKED
    assert circuit(found, "C2").governed_by is Governed.NOT_DETERMINED
    assert not any(one.level is Level.PASS and ".T" in one.rule for one in found.of_subject("C2"))


def test_an_existing_conductor_without_a_size_is_not_checked():
    found = studied({"circuit.C2.conductor": None, "circuit.C2.existing": True})
    assert level(found, "feeder_continuous_conductor.T2", "C2") is Level.NOT_CHECKED
    assert circuit(found, "C2").governed_by is Governed.NOT_DETERMINED


def test_a_raceway_stated_dry_outdoors_or_underground_warns():
    assert level(studied({"section.R3.place": "outdoor wall"}), "wire_in_wet_place", "R3") is Level.WARN
    assert checks(studied(), "wire_in_wet_place") == []


def test_use_2_inside_a_building_warns_and_outdoors_or_marked_rhw_2_raises_nothing():
    assert level(studied({"circuit.C1.conductor": "8 AWG Cu USE-2"}), "se_cable_uses.use", "C1") is Level.WARN
    outdoors = {"circuit.C1.conductor": "8 AWG Cu USE-2", "section.R2.place": "outdoor wall", "section.R2.moisture": "wet"}
    assert not checks(studied(outdoors), "se_cable_uses.use")
    assert not checks(studied({"circuit.C1.conductor": "8 AWG Cu RHW-2"}), "se_cable_uses.use")
