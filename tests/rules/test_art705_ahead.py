"""Supply-side connections that lie one behind another, serve loads too, or stand at the service itself."""

from typing import Any

import pytest

from linecalc.check import Level
from linecalc.errors import InputError
from tests.houses import SUPPLY_SIDE, check, checks, studied

DISCONNECT = SUPPLY_SIDE["disconnect"]["D"]
SHORT = SUPPLY_SIDE["section"]["R2"]
ONE_BEHIND_ANOTHER: dict[str, Any] = {
    "junction.J2": {"terminals": "75 degC"},
    "circuit.C3": {"from": "J", "to": "J2", "path": ["R4"]},
    "circuit.C9": {"from": "J2", "to": "MP", "path": ["R9"]},
    "unit.U2": {"equipment": "unit-a"},
    "disconnect.D2": DISCONNECT,
    "circuit.C5": {"from": "J2", "to": "D2", "path": ["R6"]},
    "circuit.C6": {"from": "D2", "to": "U2", "path": ["R7"]},
    "section.R6": SHORT,
    "section.R7": SHORT,
    "section.R9": SHORT,
}
WITH_LOADS: dict[str, Any] = {
    "panel.LP": {"bus": "125 A", "main": "lugs", "feed": "top", "terminals": "75 degC"},
    "circuit.C7": {"from": "D", "to": "LP", "path": ["R6"]},
    "section.R6": SHORT,
    "load.SHED": {"panel": "LP", "kind": "calculated", "current": "10 A", "continuous_part": "0 A"},
}


@pytest.mark.parametrize(("edition", "together", "limit"), [("2017", 100.0, 200.0), ("2020", 80.0, 195.0), ("2023", 80.0, 195.0)])
def test_supply_side_connections_one_behind_another_are_added_at_the_joint_nearest_to_the_service(edition: str, together: float, limit: float):
    summed = check(studied(ONE_BEHIND_ANOTHER, SUPPLY_SIDE, edition), "supply_side", "J")
    assert (summed.subject, summed.demand.value, summed.limit.value) == ("J", pytest.approx(together), pytest.approx(limit))


def test_a_source_disconnect_that_also_feeds_a_panel_is_still_a_supply_side_connection():
    found = studied(WITH_LOADS, SUPPLY_SIDE)
    assert check(found, "supply_side").level is Level.PASS
    assert check(found, "supply_side_conductor", "C2").level is Level.PASS
    assert check(found, "service_disconnects", "D").level is Level.WARN


def test_a_unit_on_the_bus_of_a_second_service_panel_is_no_supply_side_connection():
    changes = {
        "panel.LP": {"bus": "225 A", "main": "100 A", "feed": "top", "terminals": "75 degC", "neutral_bond": True},
        "load.SHED": WITH_LOADS["load.SHED"],
        "disconnect": None,
        "circuit.C2": {"from": "J", "to": "LP", "path": ["R3"]},
        "circuit.C1": {"from": "LP", "to": "U1", "path": ["R2"], "breaker": "50 A"},
    }
    found = studied(changes, SUPPLY_SIDE)
    assert not checks(found, "supply_side")
    assert check(found, "busbar_sum", "LP").demand.value == pytest.approx(150.0)


def test_a_circuit_that_brings_sources_to_the_service_beside_another_is_refused_by_its_key():
    changes = {"junction": None, "circuit.C2.from": "service", "circuit.C3.from": "service", "circuit.C4": None, "section.R5": None}
    with pytest.raises(InputError, match=r"circuit\.C2: brings sources to the service"):
        studied(changes, SUPPLY_SIDE)


# Hand: U2 behind J2 has 40 A; 4 AWG copper THWN-2 has 95 A at 30 degC, 12 AWG 30 A.
@pytest.mark.parametrize(("conductor", "level"), [("4 AWG Cu THWN-2", Level.PASS), ("12 AWG Cu THWN-2", Level.FAIL)])
def test_service_conductors_between_two_supply_side_connections_carry_the_sources_behind_the_farther_one(conductor: str, level: Level):
    found = studied({**ONE_BEHIND_ANOTHER, "circuit.C3.conductor": conductor}, SUPPLY_SIDE)
    farther = check(found, "supply_side", "J2")
    assert (farther.level, farther.demand.value) == (level, pytest.approx(40.0))


def test_in_2017_the_service_rating_holds_the_sum_at_the_joint_nearest_to_the_service_alone():
    assert not checks(studied(ONE_BEHIND_ANOTHER, SUPPLY_SIDE, "2017"), "supply_side", "J2")
