"""Field-wired DC storage circuits: current, breaker, conductor, voltage of the parts; runtime."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.network.records import Mode
from linecalc.project.read import read_project
from linecalc.study import Study, study
from linecalc.term import value_of
from linecalc.variants import with_values
from tests.houses import check, checks, circuit, level

PROJECT = Path(__file__).parents[1] / "projects" / "storage_circuit.toml"


def house(changes: dict[str, object] | None = None, edition: str | None = None) -> Study:
    project = read_project(PROJECT)
    return study(with_values(project, changes.items()) if changes else project, edition)


# Hand: 5000 W / 50 V = 100 A; 125 A for device and T1; over 100 A the 75 degC column: 1 AWG 130 A; 125 A device: 6 AWG Cu.
@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_a_field_wired_storage_circuit_is_sized_at_its_lowest_voltage(edition: str) -> None:
    found = circuit(house(edition=edition), "B1-DC")
    assert value_of(found.currents.of(Mode.DC).continuous) == 100.0
    assert value_of(found.device_need) == value_of(found.t1_need) == 125.0
    assert (found.conductor.size, found.egc.size) == ("1 AWG", "6 AWG")


def test_a_breaker_below_125_percent_fails() -> None:
    assert level(house({"circuit.B1-DC.breaker": "110 A"}), "ess_ocpd", "B1-DC") is Level.FAIL


@pytest.mark.parametrize(("rating", "verdict"), [("58 V", Level.PASS), ("57 V", Level.FAIL), (None, Level.NOT_CHECKED)])
def test_the_breaker_has_a_dc_rating_for_the_highest_voltage(rating: str | None, verdict: Level) -> None:
    assert level(house({"circuit.B1-DC.breaker_dc_voltage": rating}), "ess_dc_voltage.device", "B1-DC") is verdict


def test_the_insulation_reaches_the_highest_voltage() -> None:
    assert level(house(), "ess_dc_voltage.conductors", "B1-DC") is Level.PASS
    low = house({"circuit.B1-DC.voltage_rating": "30 V"})
    assert level(low, "ess_dc_voltage.conductors", "B1-DC") is Level.FAIL


def test_an_unknown_highest_voltage_is_not_checked() -> None:
    found = house({"equipment.store-a.voltage_max": None})
    assert check(found, "ess_dc_voltage", "B1-DC").needs == ("equipment.store-a.voltage_max",)


def test_above_100_v_the_sheet_says_what_that_means_in_a_dwelling() -> None:
    assert not checks(house(), "ess_dc_voltage.dwelling")
    high = house({"equipment.store-a.voltage_min": "350 V", "equipment.store-a.voltage_max": "450 V", "circuit.B1-DC.breaker": "20 A"})
    assert level(high, "ess_dc_voltage.dwelling", "B1-DC") is Level.NOTE


# Hand: 9 + 9 kWh usable, 4 kW: 4.5 h. Trade fact (common practice, no source): a four-ton air conditioner uses about
# 4 kWh an hour, so 13 kWh carry it alone three to four hours: 13 / 4 = 3.25 h.
def test_the_runtime_is_the_usable_energy_over_the_stated_load() -> None:
    assert value_of(check(house(), "ess_runtime", "system").terms[0]) == pytest.approx(4.5)
    alone = {"storage": {}, "circuit.B1-DC": None, "section.R5": None, "equipment.unit-a.energy": "13.5 kWh", "equipment.unit-a.usable_energy": "13 kWh"}
    assert value_of(check(house(alone), "ess_runtime", "system").terms[0]) == pytest.approx(3.25)


def test_without_usable_energy_the_runtime_is_not_checked_and_without_a_load_it_is_not_asked() -> None:
    found = house({"equipment.store-a.usable_energy": None})
    assert check(found, "ess_runtime", "system").needs == ("equipment.store-a.usable_energy",)
    assert not checks(house({"backup.runtime_load": None}), "ess_runtime")
