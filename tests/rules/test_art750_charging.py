"""Charging from the utility, and the control that limits it."""

from __future__ import annotations

from linecalc.check import Level
from linecalc.network.records import Mode
from linecalc.term import value_of
from tests.houses import check, checks, circuit, studied

LIMITED = {"unit.U1.grid_charging_limit": "8 A", "unit.U1.grid_charging_control": "listed control, set to 8 A"}


def charging_a(found) -> float:
    return value_of(circuit(found, "C1").currents.of(Mode.CHARGE).continuous)


def test_a_limit_with_its_listed_control_takes_the_place_of_the_charging_current():
    assert charging_a(studied()) == 20.0
    found = studied(LIMITED)
    assert charging_a(found) == 8.0
    told = check(found, "ems.charging", "U1")
    assert told.level is Level.NOTE and "8 A from the utility counted; listed control, set to 8 A" in told.message


def test_a_limit_without_its_control_does_not_count():
    found = studied({"unit.U1.grid_charging_limit": "8 A"})
    assert charging_a(found) == 20.0
    assert check(found, "ems.charging", "U1").needs == ("unit.U1.grid_charging_control",)


def test_a_control_that_forbids_charging_is_named_on_the_sheet():
    found = studied({"unit.U1.grid_charging": "no", "unit.U1.grid_charging_control": "charge from PV only"})
    assert charging_a(found) == 0.0
    assert check(found, "ems.charging", "U1").message == "charging of U1: no charging from the utility counted; charge from PV only"


def test_without_control_or_limit_nothing_is_said():
    assert checks(studied(), "ems.charging") == []
