"""Storage places and runtime against published articles on the residential and fire codes."""

from __future__ import annotations

import pytest

from linecalc.calc.storage import energy_together, runtime
from linecalc.check import Level
from linecalc.study import Study
from tests.houses import level, studied

CODES = {"IRC 2021": {"site.irc_edition": "2021"}, "NFPA 855 2020": {"site.fire_code_edition": "NFPA 855 2020"}, "NFPA 855 2023": {"site.fire_code_edition": "NFPA 855 2023"}}


def house(code: str, changes: dict[str, object]) -> Study:
    """The test house with one cabinet in an attached garage, changed."""
    plain = {"unit.U1.space": "attached garage", "unit.U1.vehicle_protection": "barrier", "equipment.unit-a.listed_as": "cabinet"}
    return studied({**CODES[code], **plain, **changes})


# Source: National Fire Protection Association, NFPA Today, "Residential Energy Storage System Regulations", 1 October 2021:
# the residential chapter covers units of 1 to 20 kWh; above 20 kWh a unit is treated as a commercial one.
@pytest.mark.parametrize(("energy", "verdict"), [("20 kWh", Level.PASS), ("20.1 kWh", Level.WARN)])
def test_a_residential_unit_holds_at_most_20_kwh(energy: str, verdict: Level) -> None:
    assert level(house("NFPA 855 2020", {"equipment.unit-a.energy": energy}), "ess_energy.unit", "U1") is verdict


# Source: SolSmart, "Solar permitting, step 4", 16 September 2021, items 1 and 2: units no larger than 20 kWh, 36 in apart
# or by large-scale fire testing.
@pytest.mark.parametrize(("energy", "verdict"), [("20 kWh", Level.PASS), ("21 kWh", Level.WARN)])
def test_the_residential_code_has_the_same_unit(energy: str, verdict: Level) -> None:
    assert level(house("IRC 2021", {"equipment.unit-a.energy": energy}), "ess_energy.unit", "U1") is verdict


# Source: Isaksen Solar, "Understanding NFPA 855" (2020 standard), 7 May 2024: at most 40 kWh inside the home, basement
# included; at most 80 kWh in an attached garage.
@pytest.mark.parametrize(
    ("space", "energy", "verdict"),
    [("basement", "40 kWh", Level.PASS), ("basement", "41 kWh", Level.WARN), ("attached garage", "80 kWh", Level.PASS), ("attached garage", "81 kWh", Level.WARN)],
)
def test_40_kwh_inside_and_80_in_an_attached_garage(space: str, energy: str, verdict: Level) -> None:
    found = house("NFPA 855 2020", {"unit.U1.space": space, "equipment.unit-a.energy": energy})
    assert level(found, "ess_energy.place", "U1") is verdict


# Source: DIY Solar Forum, "ESS (energy storage system) sizing in residential garage",
# https://diysolarforum.com/threads/ess-energy-storage-system-sizing-in-residential-garage.67351/: "three standard server rack
# batteries" pass 20 kWh by 0.3 kWh, that is, 20.3 kWh in one assembly. The size of one battery is not stated.
def test_an_assembly_of_20_3_kwh_is_over_one_unit() -> None:
    found = house("NFPA 855 2023", {"equipment.unit-a.energy": "20.3 kWh", "equipment.unit-a.listed_as": "assembly"})
    assert level(found, "ess_energy.unit", "U1") is Level.WARN


# Source: Florida Solar Design Group, "Residential battery limits are per location, not per dwelling": four places of
# NFPA 855 (2023), 15.5.2, 40 + 80 + 80 + 80 kWh, together 280 kWh.
def test_all_places_together_hold_280_kwh() -> None:
    assert energy_together([40.0, 80.0, 80.0, 80.0]) == 280.0


# Source: HeatSpring, "A look at NFPA 855" (2023): 3 ft from windows and doors that open into the dwelling.
# Source: Sustainable Energy Action Committee, "Where can an energy storage system be located", 12 January 2023 (IRC): the same.
@pytest.mark.parametrize("code", ["NFPA 855 2023", "IRC 2021"])
@pytest.mark.parametrize(("distance", "verdict"), [("3 ft", Level.PASS), ("2.9 ft", Level.WARN)])
def test_outdoors_three_feet_are_kept_from_doors_and_windows(code: str, distance: str, verdict: Level) -> None:
    assert level(house(code, {"unit.U1.space": "exterior wall", "unit.U1.door_distance": distance}), "ess_place.doors", "U1") is verdict


# Source: Sustainable Energy Action Committee, the same page: not in habitable spaces, sleeping rooms among them.
def test_not_in_a_sleeping_room() -> None:
    assert level(house("IRC 2021", {"unit.U1.space": "sleeping room"}), "ess_place.room", "U1") is Level.WARN


# Source: SolSmart, "Solar permitting, step 4", item 4: in a garage units on side walls, and on end walls above 48 in, need no
# vehicle protection; on end walls below 48 in they do.
@pytest.mark.parametrize(("protection", "verdict"), [("out of path", Level.PASS), ("raised", Level.PASS), ("barrier", Level.PASS), ("none", Level.WARN)])
def test_vehicle_protection_in_a_garage(protection: str, verdict: Level) -> None:
    assert level(house("IRC 2021", {"unit.U1.vehicle_protection": protection}), "ess_place.vehicles", "U1") is verdict


# Trade fact, common practice, no source: a four-ton air conditioner uses about 4 kWh an hour, so a 13 kWh battery carries it
# alone three to four hours.
def test_13_kwh_carry_a_four_ton_air_conditioner_three_to_four_hours() -> None:
    assert 3.0 <= runtime(13.0, 4000.0) <= 4.0
