"""Storage in a dwelling by the residential and fire codes: energy by unit and place, spacing, distances, walls."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.project.read import read_project
from linecalc.study import Study, study
from linecalc.term import value_of
from linecalc.variants import with_values
from tests.houses import check, checks, level

PROJECT = Path(__file__).parents[1] / "projects" / "storage_circuit.toml"
IRC = {"site.fire_code_edition": None}
NFPA = {"site.irc_edition": None}


def house(changes: dict[str, object] | None = None, code: dict[str, object] = IRC) -> Study:
    project = read_project(PROJECT)
    return study(with_values(project, {**code, **(changes or {})}.items()))


# --- which code -----------------------------------------------------------------


def test_without_a_stated_code_nothing_is_compared_and_the_sheet_says_so() -> None:
    found = house({"site.irc_edition": None})
    assert level(found, "ess_place", "system") is Level.NOT_CHECKED
    assert "not compared" in check(found, "ess_place", "system").message
    assert not [one for one in found.checks if one.rule.startswith(("ess_energy.", "ess_place."))]


@pytest.mark.parametrize(
    ("changes", "section"),
    [
        ({"site.irc_edition": "2021"}, "IRC 2021, R328.5 (section from memory, verify)"),
        ({"site.irc_edition": "2024"}, "IRC 2024, R330.5 (section from memory, verify)"),
        ({"site.irc_edition": None, "site.fire_code_edition": "NFPA 855 2020"}, "NFPA 855 2020, 15.7.1"),
        ({"site.irc_edition": None, "site.fire_code_edition": "NFPA 855 2023"}, "NFPA 855 2023, 15.5.2"),
    ],
)
def test_each_check_cites_the_adopted_code_with_its_year_and_evidence(changes: dict, section: str) -> None:
    assert check(house(changes), "ess_energy.place", "U1").citation == section


def test_both_codes_are_checked_where_both_are_stated() -> None:
    found = house({"site.fire_code_edition": "NFPA 855 2023"})
    assert len(checks(found, "ess_energy.place", "U1")) == 2


def test_irc_2018_names_no_energies() -> None:
    found = house({"site.irc_edition": "2018"})
    assert level(found, "ess_energy", "system") is Level.NOTE
    assert not checks(found, "ess_energy.place") and not checks(found, "ess_energy.unit")


# --- energy of a unit -------------------------------------------------------------


# Hand: U1 10 kWh and B1 10 kWh: an assembly of exactly 20 kWh passes, 20.1 kWh does not.
@pytest.mark.parametrize(("energy", "verdict"), [("10 kWh", Level.PASS), ("10.1 kWh", Level.WARN)])
def test_an_assembly_counts_with_its_modules(energy: str, verdict: Level) -> None:
    listed = {"equipment.unit-a.listed_as": "assembly", "equipment.store-a.listed_as": "assembly", "equipment.store-a.energy": energy}
    one = check(house(listed), "ess_energy.unit", "U1")
    assert value_of(one.demand) == pytest.approx(10.0 + float(energy.split()[0]))
    assert one.level is verdict
    assert not checks(house(listed), "ess_energy.unit", "B1")


def test_cabinets_count_one_by_one() -> None:
    found = house({"equipment.store-a.energy": "19 kWh"})
    assert [value_of(check(found, "ess_energy.unit", tag).demand) for tag in ("U1", "B1")] == [10.0, 19.0]
    assert level(house({"equipment.store-a.energy": "20.5 kWh"}), "ess_energy.unit", "B1") is Level.WARN


def test_unknown_listing_leaves_the_unit_unchecked() -> None:
    found = house({"equipment.unit-a.listed_as": None})
    assert check(found, "ess_energy.unit", "U1").needs == ("equipment.unit-a.listed_as",)


# --- energy of a place -------------------------------------------------------------


@pytest.mark.parametrize(
    ("space", "limit"),
    [("utility closet", 40.0), ("basement", 40.0), ("storage or utility space", 40.0), ("attached garage", 80.0), ("detached garage", 80.0), ("exterior wall", 80.0), ("outdoors", 80.0)],
)
@pytest.mark.parametrize("code", [IRC, NFPA], ids=["IRC", "NFPA 855"])
def test_each_place_has_its_limit(space: str, limit: float, code: dict) -> None:
    found = house({"unit.U1.space": space, "unit.U1.door_distance": "36 in"}, code)
    one = check(found, "ess_energy.place", "U1")
    assert (value_of(one.demand), value_of(one.limit)) == (20.0, limit)


@pytest.mark.parametrize(("energy", "verdict"), [("30 kWh", Level.PASS), ("30.1 kWh", Level.WARN)])
def test_nominal_energy_decides_and_equal_passes(energy: str, verdict: Level) -> None:
    found = house({"unit.U1.space": "basement", "equipment.store-a.energy": energy, "equipment.store-a.usable_energy": "1 kWh"})
    assert level(found, "ess_energy.place", "U1") is verdict


def test_a_module_in_another_place_counts_there() -> None:
    found = house({"storage.B1.space": "basement"})
    assert value_of(check(found, "ess_energy.place", "B1").limit) == 40.0
    assert value_of(check(found, "ess_energy.place", "U1").demand) == 10.0


# Source: Florida Solar Design Group, "Residential battery limits are per location, not per dwelling",
# https://floridasolardesigngroup.com/residential-battery-limits-are-per-location-not-per-dwelling: NFPA 855 (2023)
# 15.5.2 permits 40 + 80 + 80 + 80 = 280 kWh in all; two separate garages are two places. Checked: yes.
def test_limits_are_per_place_so_two_garages_are_two_places() -> None:
    found = house({"storage.B1.building": "second garage", "storage.B1.space": "detached garage", "storage.B1.vehicle_protection": "barrier"}, NFPA)
    assert value_of(check(found, "ess_energy.place", "U1").demand) == value_of(check(found, "ess_energy.place", "B1").demand) == 10.0
    spaces = ("interior", "attached garage", "detached garage", "exterior wall")
    assert sum(value_of(found.book.cell("storage-limits", ("NFPA 855 2023", space), "limit", "E", "kWh", "")) for space in spaces) == 280.0


def test_the_total_of_the_dwelling_is_a_note_beside_them() -> None:
    one = check(house(), "ess_energy.total", "system")
    assert one.level is Level.NOTE and "some reviewers read them as per dwelling" in one.message
    assert value_of(one.terms[0]) == 20.0


def test_an_unknown_place_is_not_checked() -> None:
    found = house({"unit.U1.space": None})
    assert check(found, "ess_energy.place", "U1").needs == ("unit.U1.space",)
    assert check(found, "ess_energy.place", "B1").needs == ("storage.B1.space",)


@pytest.mark.parametrize("space", ["sleeping room", "other habitable space"])
def test_storage_in_a_habitable_room_is_a_warning(space: str) -> None:
    assert level(house({"unit.U1.space": space}), "ess_place.room", "U1") is Level.WARN


# --- distances -----------------------------------------------------------------------


@pytest.mark.parametrize(("distance", "verdict"), [("36 in", Level.PASS), ("3 ft", Level.PASS), ("35.9 in", Level.WARN), (None, Level.NOT_CHECKED)])
def test_units_keep_three_feet_between_them(distance: str | None, verdict: Level) -> None:
    assert level(house({"storage.B1.spacing": distance}), "ess_place.spacing", "B1") is verdict


def test_a_fire_test_report_allows_less() -> None:
    close = {"storage.B1.spacing": "6 in"}
    assert level(house({**close, "equipment.store-a.fire_test": "report 12 (invented)"}), "ess_place.spacing", "B1") is Level.PASS
    assert level(house({**close, "attachments.fire_test_report": "attached (invented)"}), "ess_place.spacing", "B1") is Level.PASS


def test_a_single_unit_has_nothing_to_keep_apart_from() -> None:
    alone = {"storage": {}, "circuit.B1-DC": None, "section.R5": None}
    assert not checks(house(alone), "ess_place.spacing")


@pytest.mark.parametrize(("distance", "verdict"), [("36 in", Level.PASS), ("30 in", Level.WARN), (None, Level.NOT_CHECKED)])
@pytest.mark.parametrize("space", ["exterior wall", "outdoors"])
def test_outdoors_three_feet_are_kept_from_doors_and_windows(space: str, distance: str | None, verdict: Level) -> None:
    assert level(house({"unit.U1.space": space, "unit.U1.door_distance": distance}), "ess_place.doors", "U1") is verdict


def test_in_a_garage_doors_and_windows_are_no_matter() -> None:
    assert not checks(house(), "ess_place.doors")


@pytest.mark.parametrize(
    ("protection", "verdict"),
    [("barrier", Level.PASS), ("raised", Level.PASS), ("out of path", Level.PASS), ("none", Level.WARN), (None, Level.NOT_CHECKED)],
)
def test_storage_in_a_garage_is_protected_from_vehicles(protection: str | None, verdict: Level) -> None:
    assert level(house({"unit.U1.vehicle_protection": protection}), "ess_place.vehicles", "U1") is verdict


@pytest.mark.parametrize(("mass", "wall", "verdict"), [("100 kg", "100 kg", Level.PASS), ("101 kg", "100 kg", Level.WARN), (None, "100 kg", Level.NOT_CHECKED), ("220 lb", "100 kg", Level.PASS)])
def test_the_wall_is_stated_to_carry_what_hangs_on_it(mass: str | None, wall: str, verdict: Level) -> None:
    found = house({"unit.U1.mounting": "wall", "equipment.unit-a.mass": mass, "unit.U1.wall_capacity": wall})
    assert level(found, "ess_mass", "U1") is verdict


@pytest.mark.parametrize(("kept", "verdict"), [("6 in", Level.PASS), ("5 in", Level.FAIL), (None, Level.NOT_CHECKED)])
def test_the_clearance_of_the_instructions_is_kept(kept: str | None, verdict: Level) -> None:
    found = house({"equipment.unit-a.clearance": "6 in", "unit.U1.clearance": kept})
    assert level(found, "listed_instructions.clearance", "U1") is verdict
