"""Cables beside raceways: caps, factors, places, the grounding conductor they hold, fill in a raceway."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.codebook import open_book
from linecalc.project.model import Section
from linecalc.sizing.cables import cable_insulation, cap_of, is_inside
from linecalc.sizing.records import Governed
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied
from tests.published.table_cells import copied, named, values
from tests.tables.reader import read_table

ROOT = Path(__file__).parents[2]


def cabled(method: str, changes: dict[str, object] | None = None, edition: str | None = None) -> Study:
    """The test house with the unit's circuit C1 in a cable through the garage."""
    return studied({"section.R2.method": method, "circuit.C1.conductor": None, **(changes or {})}, edition=edition)


def ampacity(found: Study, tag: str) -> float:
    return value_of(circuit(found, tag).t2_ampacity)


# Hand: 40 A export, T1 50 A; NM-B final ampacity at most the 60 degC column: 6 AWG 55 A, 8 AWG 40 A.
def test_nm_b_of_6_awg_carries_55_a_where_the_same_wire_in_emt_carries_75() -> None:
    nm, emt = cabled("NM-B"), cabled("EMT", {"circuit.C1.conductor": "6 AWG Cu THWN-2"})
    assert circuit(nm, "C1").conductor.text == "6 AWG Cu NM-B"
    assert ampacity(nm, "C1") == 55.0
    assert ampacity(emt, "C1") == 75.0


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_nm_b_of_8_awg_fails_after_factors_for_a_50_a_device(edition: str) -> None:
    found = cabled("NM-B", {"circuit.C1.conductor": "8 AWG Cu NM-B"}, edition)
    assert ampacity(found, "C1") == 40.0
    assert Governed.T3 in circuit(found, "C1").failing  # 40 A is a standard size: no next larger one


# Hand: attic at 50 degC, 90 degC column 75 A x 0.82 = 61.5 A, held to 55 A; at 60 degC 75 x 0.71 = 53.25 A.
@pytest.mark.parametrize(("ambient", "amps"), [("30 degC", 55.0), ("50 degC", 55.0), ("60 degC", 53.25)])
def test_nm_b_takes_its_factors_from_90_degc_and_then_the_cap(ambient: str, amps: float) -> None:
    found = cabled("NM-B", {"circuit.C1.conductor": "6 AWG Cu NM-B", "section.R2.ambient": ambient})
    assert ampacity(found, "C1") == pytest.approx(amps)


def test_the_conductors_of_nm_b_are_nm_b_whatever_is_written() -> None:
    found = cabled("NM-B", {"circuit.C1.conductor": "6 AWG Cu THHN"})
    assert circuit(found, "C1").conductor.insulation == "NM-B"
    assert any(assumption.path == "circuit.C1.conductor" and assumption.value == "NM-B" for assumption in found.assumptions)


# Hand: 10 AWG Al SE in thermal insulation 25 A (60 degC), without it 30 A (75 degC). 8 AWG is never held to 60.
@pytest.mark.parametrize(
    ("size", "insulated", "amps"), [("10 AWG", True, 25.0), ("10 AWG", None, 25.0), ("10 AWG", False, 30.0), ("8 AWG", True, 40.0)]
)
def test_se_cable_of_10_awg_and_smaller_is_held_to_60_degc_in_thermal_insulation(size: str, insulated: bool | None, amps: float) -> None:
    found = cabled("SER", {"circuit.C1.conductor": f"{size} Al SE", "section.R2.thermal_insulation": insulated})
    assert ampacity(found, "C1") == amps


def test_se_cable_outdoors_is_not_capped() -> None:
    section = Section(method="SER", place="outdoor wall", length=_feet("10 ft"))
    assert cap_of(section, "SE", "10 AWG") is None


def _feet(text: str):
    from linecalc import units

    return units.parse_quantity(text, units.LENGTH)


def test_uf_is_a_60_degc_cable_altogether() -> None:
    found = cabled("UF", {"circuit.C1.conductor": "6 AWG Cu UF"})
    assert ampacity(found, "C1") == 55.0
    assert circuit(found, "C1").terminal_column_c == 60


def test_mc_cable_goes_by_the_insulation_of_its_conductors() -> None:
    found = cabled("MC", {"circuit.C1.conductor": "6 AWG Cu THHN"})
    assert ampacity(found, "C1") == 75.0
    assert level(found, "mc_cable_uses", "R2") is Level.PASS


# Hand: two more cables of two current-carrying conductors beside it: six conductors, 0.8; 75 x 0.8 = 60, held to 55.
def test_bundled_cables_count_all_conductors() -> None:
    found = cabled("NM-B", {"section.R2.bundled_conductors": 4, "circuit.C1.conductor": "6 AWG Cu NM-B"})
    section = circuit(found, "C1").sections[0]
    assert (section.current_carrying, value_of(section.count_factor)) == (6, 0.8)
    assert ampacity(found, "C1") == 55.0
    assert level(found, "cable_bundling", "R2") is Level.PASS
    assert level(cabled("NM-B"), "cable_bundling", "R2") is Level.NOTE


@pytest.mark.parametrize("moisture", ["damp", "wet"])
def test_nm_b_in_a_damp_or_wet_place_fails(moisture: str) -> None:
    assert level(cabled("NM-B", {"section.R2.moisture": moisture}), "nm_cable_places", "R2") is Level.FAIL


def test_se_cable_underground_fails_and_uf_does_not() -> None:
    ground = {"section.R2.place": "underground", "section.R2.moisture": "wet"}
    assert level(cabled("SER", ground), "se_cable_uses", "R2") is Level.FAIL
    assert level(cabled("UF", ground), "uf_cable_uses", "R2") is Level.PASS


@pytest.mark.parametrize(("listed", "verdict"), [(None, Level.NOT_CHECKED), (False, Level.FAIL), (True, Level.PASS)])
def test_mc_cable_in_a_wet_place_needs_its_listing(listed: bool | None, verdict: Level) -> None:
    wet = {"section.R2.moisture": "wet", "circuit.C1.conductor": "6 AWG Cu XHHW-2", "section.R2.wet_listed": listed}
    assert level(cabled("MC", wet), "mc_cable_uses", "R2") is verdict


def test_one_cable_does_not_hold_two_circuits() -> None:
    found = cabled("NM-B", {"circuit.C2.path": ["R2"], "section.R3": None})
    assert Level.NOT_CHECKED in {one.level for one in checks(found, "cable_bundling", "R2")}


def test_seu_cable_has_no_neutral_behind_the_service_disconnect() -> None:
    assert level(cabled("SEU"), "se_cable_uses.neutral", "C1") is Level.FAIL
    service = studied({"section.R5.method": "SEU", "section.R5.size": None, "service.conductor": "4/0 AWG Al SE"})
    assert level(service, "se_cable_uses.neutral", "C4") is Level.PASS


# --- the grounding conductor a cable holds --------------------------------


def test_nm_b_brings_the_grounding_conductor_that_makers_put_in_it() -> None:
    found = cabled("NM-B")
    assert circuit(found, "C1").egc.size == "10 AWG"
    assert level(found, "egc", "C1") is Level.PASS


# Hand: 4 AWG in place of the sufficient 6 AWG: 10380 x 41740 / 26240 = 16512 cmil, 8 AWG has 16510: 6 AWG needed.
def test_nm_b_made_larger_for_voltage_drop_holds_too_small_a_grounding_conductor() -> None:
    found = cabled("NM-B", {"circuit.C1.conductor": "4 AWG Cu NM-B"})
    assert circuit(found, "C1").egc.size == "8 AWG"
    one = check(found, "egc_upsize", "C1")
    assert one.level is Level.FAIL
    assert circuit(found, "C1").egc.needed_size == "6 AWG"


def test_every_cell_of_the_cable_table_is_checked_or_owned_to_be_from_memory() -> None:
    header, rows = read_table(ROOT / "tables" / "cable-egc.csv")
    block = header["checked"][0]
    copy = copied(header, rows, ROOT / "tests" / "published" / "copies" / block["copy"])
    ours = values(header, rows)
    assert all(ours[cell] == size for cell, size in copy.items())
    memory = named(header, rows, header["from_memory"][0]["cells"])
    assert named(header, rows, block["cells"]) == copy.keys()
    assert copy.keys() | memory == ours.keys() and not copy.keys() & memory


# --- a cable in a raceway ---------------------------------------------------


def test_the_fill_of_a_cable_in_a_raceway_is_not_checked_without_its_diameter() -> None:
    found = studied({"circuit.C1.conductor": "6 AWG Cu NM-B"})
    assert check(found, "raceway_fill", "R2").needs == ("circuit.C1.diameter",)


# Hand: 0.72 in across: 3.1416 x 0.72^2 / 4 = 0.407 in2; one cable, 53 %: EMT 1 in has 0.864 in2, 47 %.
def test_a_cable_counts_as_one_conductor_of_its_diameter() -> None:
    found = studied({"circuit.C1.conductor": "6 AWG Cu NM-B", "circuit.C1.diameter": "0.72 in"})
    raceway = next(one for one in found.sized.raceways if one.section == "R2")
    assert [(held.role, held.count) for held in raceway.held] == [("cable", 1)]
    assert (raceway.size, value_of(raceway.limit_percent)) == ("1", 53.0)
    assert value_of(raceway.fill_percent) == pytest.approx(47.12, abs=0.01)


# --- what the words of a place say ------------------------------------------


@pytest.mark.parametrize(
    ("place", "inside"),
    [("attic", True), ("detached garage, attic and wall", True), ("roof, in the sun", False), ("under array", False), ("north side", None)],
)
def test_the_words_of_a_place_tell_inside_from_outside_or_not_at_all(place: str, inside: bool | None) -> None:
    assert is_inside(Section(method="EMT", place=place, length=_feet("1 ft"))) is inside
    assert is_inside(Section(method="EMT", place=place, length=_feet("1 ft"), inside=True)) is True


def test_the_insulation_of_a_cable_left_out_is_the_lower_rating() -> None:
    assert cable_insulation(["SER"], None)[0] == "SE"
    assert cable_insulation(["EMT"], "THWN-2") == ("THWN-2", "")
    assert open_book("2023").insulation("SE").dry_c == 75


# --- PV inside the building ---------------------------------------------------


@pytest.mark.parametrize(("method", "verdict"), [("EMT", Level.PASS), ("FMC", Level.PASS), ("PVC40", Level.FAIL), ("ENT", Level.FAIL)])
@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_pv_conductors_inside_a_building_run_in_metal(method: str, verdict: Level, edition: str) -> None:
    found = studied({"section.R1.method": method}, edition=edition)
    one = check(found, "pv_inside_building", "P1")
    assert one.level is verdict
    if verdict is Level.FAIL:
        assert ("hazard control system" in one.message) == (edition == "2023")


def test_pv_conductors_in_mc_cable_inside_a_building_pass() -> None:
    found = studied({"section.R1.method": "MC", "circuit.P1.conductor": "10 AWG Cu THHN"})
    assert level(found, "pv_inside_building", "P1") is Level.PASS


def test_pv_conductors_in_plastic_somewhere_unknown_are_not_checked() -> None:
    found = studied({"section.R1.method": "PVC40", "section.R1.place": "north side"})
    assert check(found, "pv_inside_building", "P1").needs == ("section.R1.inside",)
    outside = studied({"section.R1.method": "PVC40", "section.R1.place": "north side", "section.R1.inside": False})
    assert level(outside, "pv_inside_building", "P1") is Level.PASS


# Hand: 10 x 40 V x (1 + 0.0025 x 40 K) = 440 V.
@pytest.mark.parametrize(("rating", "verdict"), [(None, Level.PASS), ("440 V", Level.PASS), ("300 V", Level.NOTE)])
def test_the_insulation_reaches_the_highest_voltage_of_the_string(rating: str | None, verdict: Level) -> None:
    found = studied({"circuit.P1.voltage_rating": rating})
    one = check(found, "insulation_rating.voltage", "P1")
    assert value_of(one.demand) == pytest.approx(440.0)
    assert one.level is verdict
    assert level(found, "pv_max_voltage", "S1") is (Level.FAIL if rating == "300 V" else Level.PASS)


