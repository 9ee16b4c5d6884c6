"""PV inverters inside the backup boundary: limit, curtailment, restart."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.project.read import read_project
from linecalc.study import Study, study
from linecalc.term import value_of
from linecalc.variants import with_values
from tests.houses import check, checks, level, studied

PROJECT = Path(__file__).parents[1] / "projects" / "ac_coupled.toml"


def house(changes: dict[str, object] | None = None) -> Study:
    project = read_project(PROJECT)
    return study(with_values(project, changes.items()) if changes else project)


# Hand: one inverter of 5 kW; the unit's datasheet allows 7.6 kW.
@pytest.mark.parametrize(("most", "verdict"), [("7.6 kW", Level.PASS), ("5 kW", Level.PASS), ("4.9 kW", Level.FAIL), (None, Level.NOT_CHECKED)])
def test_the_inverters_inside_the_boundary_stay_within_what_the_units_control(most: str | None, verdict: Level) -> None:
    found = house({"equipment.unit-a.ac_coupled_max": most})
    assert level(found, "listed_instructions.ac_coupled", "system") is verdict


def test_the_sheet_states_how_the_inverters_are_curtailed_and_how_the_island_restarts() -> None:
    found = house()
    curtailed = check(found, "listed_instructions.ac_coupled_curtailment", "system")
    assert curtailed.level is Level.NOTE
    assert curtailed.message == "I1, with the storage full: U1 raises its frequency above 60.5 Hz while the storage is full"
    assert "U1 starts again from PV" in check(found, "listed_instructions.ac_coupled_restart", "system").message


@pytest.mark.parametrize("key", ["ac_coupled_curtailment", "ac_coupled_restart"])
def test_a_statement_that_is_missing_is_not_checked(key: str) -> None:
    found = house({f"equipment.unit-a.{key}": None})
    assert check(found, f"listed_instructions.{key}", "system").needs == (f"equipment.unit-a.{key}",)


# Hand: 5 kW of PV, 5 kW of charging: equal passes.
@pytest.mark.parametrize(("charge", "verdict"), [("5 kW", Level.PASS), ("4.9 kW", Level.NOTE)])
def test_pv_beyond_the_charge_rate_is_told(charge: str, verdict: Level) -> None:
    found = house({"equipment.unit-a.charge_power": charge})
    one = check(found, "usable_array_power.ac_coupled", "system")
    assert (value_of(one.demand), one.level) == (5000.0, verdict)


def test_an_inverter_outside_the_boundary_needs_no_statement() -> None:
    found = house({"circuit.C6.from": "MP"})
    assert not checks(found, "listed_instructions.ac_coupled_curtailment")
    assert not checks(found, "listed_instructions.ac_coupled")


def test_a_house_without_pv_inverters_has_nothing_to_state() -> None:
    assert not checks(studied(), "listed_instructions.ac_coupled_restart")
