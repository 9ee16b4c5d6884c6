"""Interrupting ratings against the fault current at their place: every verdict and its edges.

The house of tests/houses.py with 10 kA at the meter, X/R 0.75, and one unit that adds 80 A. At MP: 9314 A line to line,
8657 to 12091 A line to neutral; at ID: 7330 A line to line (worked in tests/sizing/test_fault.py).
"""

from __future__ import annotations

from typing import Any

import pytest

from linecalc.check import Check, Level
from linecalc.errors import InputError
from linecalc.report.sheet import sheet
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import BASE, check, checks, level, studied

RATED = {
    "service.fault_current": "10 kA",
    "service.fault_current_at": "meter",
    "service.x_over_r": 0.75,
    "panel.MP.interrupting": "22 kA",
    "panel.BP.interrupting": "10 kA",
    "isolation.ID.interrupting": "10 kA",
    "equipment.unit-a.interrupting": "10 kA",
}
MOTOR = {
    "load.AC": {"panel": "BP", "kind": "motor-compressor", "voltage": "240 V", "rla": "17 A", "mca": "22 A", "mocp": "35 A", "lra": "80 A"},
    "circuit.C5": {"from": "BP", "to": "AC", "path": ["R2"], "terminals_to": "75 degC"},
}


def house(changes: dict[str, Any] | None = None) -> Study:
    return studied({**RATED, **(changes or {})})


def rating(tag: str, changes: dict[str, Any] | None = None) -> Check:
    return check(house(changes), "interrupting_rating", tag)


def test_a_rating_above_both_currents_passes() -> None:
    found = rating("MP")
    assert found.level is Level.PASS
    assert value_of(found.demand) == pytest.approx(12091.0, abs=1.0)
    assert value_of(found.limit) == 22000.0


def test_a_rating_inside_the_bracket_of_a_meter_value_is_a_warning() -> None:
    found = rating("MP", {"panel.MP.interrupting": "10 kA"})
    assert found.level is Level.WARN
    assert value_of(found.demand) == pytest.approx(12091.0, abs=1.0)
    assert "1.0 to 1.5" in found.message


def test_a_rating_below_the_lower_end_fails() -> None:
    found = rating("MP", {"panel.MP.interrupting": "9.3 kA"})
    assert found.level is Level.FAIL
    assert value_of(found.demand) == pytest.approx(9314.0, abs=1.0)


def test_a_value_at_the_transformer_leaves_no_bracket_and_fails_where_the_meter_value_warned() -> None:
    assert rating("MP", {"service.fault_current_at": "transformer", "panel.MP.interrupting": "10 kA"}).level is Level.FAIL


def test_an_equal_rating_passes() -> None:
    demand = value_of(rating("MP").demand)
    assert rating("MP", {"panel.MP.interrupting": f"{demand!r} A"}).level is Level.PASS
    assert rating("MP", {"panel.MP.interrupting": f"{demand * 0.9999!r} A"}).level is Level.WARN


@pytest.mark.parametrize(
    ("key", "rule", "subject"),
    [
        ("panel.MP.interrupting", "interrupting_rating", "MP"),
        ("panel.BP.interrupting", "interrupting_rating", "BP"),
        ("isolation.ID.interrupting", "interrupting_rating", "ID"),
        ("equipment.unit-a.interrupting", "interconnection_fault_ratings", "U1"),
    ],
)
def test_a_rating_not_given_is_not_checked_and_named(key: str, rule: str, subject: str) -> None:
    found = check(house({key: None}), rule, subject)
    assert found.level is Level.NOT_CHECKED and found.needs == (key,)


def test_without_the_utility_value_no_rating_is_checked() -> None:
    found = house({"service.fault_current": None})
    verdicts = [*checks(found, "interrupting_rating"), *checks(found, "interconnection_fault_ratings")]
    assert {one.subject for one in verdicts} == {"MP", "BP", "ID", "U1"}
    assert all(one.level is Level.NOT_CHECKED and one.needs == ("service.fault_current",) for one in verdicts)


def test_a_unit_is_held_against_the_current_at_its_terminals_not_that_of_the_panel() -> None:
    at_unit = check(house(), "interconnection_fault_ratings", "U1")
    assert at_unit.level is Level.PASS
    assert value_of(at_unit.demand) < value_of(check(house(), "interrupting_rating", "BP").demand)


def test_a_breaker_with_a_rating_of_its_own_is_held_against_the_panel_it_sits_in() -> None:
    assert checks(house(), "interrupting_rating.breaker") == []
    found = check(house({"circuit.C2.interrupting": "10 kA"}), "interrupting_rating.breaker", "C2")
    assert found.level is Level.WARN
    assert value_of(found.demand) == pytest.approx(12091.0, abs=1.0)


def test_the_units_part_can_be_what_breaks_a_rating() -> None:
    exact = {"service.fault_current_at": "transformer", "panel.BP.interrupting": "5850 A"}
    assert rating("BP", {**exact, "equipment.unit-a.fault_contribution": "50 A"}).level is Level.PASS
    assert rating("BP", {**exact, "equipment.unit-a.fault_contribution": "70 A"}).level is Level.FAIL


SERIES = {
    "panel.BP.interrupting": "5 kA",
    "panel.BP.series_rating": "22 kA",
    "panel.BP.series_with": "MP",
    "panel.BP.series_listing": "tested combination, label inside the door (invented)",
}


def test_a_tested_series_combination_takes_the_place_of_the_panels_own_rating() -> None:
    found = house(SERIES)
    assert level(found, "series_rating", "BP") is Level.PASS
    assert checks(found, "interrupting_rating", "BP") == []
    assert rating("BP", {"panel.BP.interrupting": "5 kA"}).level is Level.FAIL


def test_a_series_rating_is_not_looked_at_where_the_own_rating_suffices() -> None:
    assert checks(house({**SERIES, "panel.BP.interrupting": "10 kA"}), "series_rating", "BP") == []


@pytest.mark.parametrize("key", ["series_with", "series_listing"])
def test_a_series_rating_without_its_listing_is_not_checked(key: str) -> None:
    found = check(house({**SERIES, f"panel.BP.{key}": None}), "series_rating", "BP")
    assert found.level is Level.NOT_CHECKED and found.needs == (f"panel.BP.{key}",)


def test_a_series_rating_with_a_device_that_is_not_upstream_fails() -> None:
    found = house({**{key.replace("BP", "MP"): value for key, value in SERIES.items()}, "panel.MP.series_with": "ID"})
    assert level(found, "series_rating", "MP") is Level.FAIL


def test_a_series_rating_below_the_fault_current_fails() -> None:
    assert level(house({**SERIES, "panel.BP.series_rating": "5.5 kA"}), "series_rating", "BP") is Level.FAIL


def test_motors_behind_the_upstream_device_are_held_to_1_percent_of_the_lower_rating() -> None:
    # 1 % of 5 kA is 50 A: 17 A stays below; a rating of 1.6 kA leaves 16 A.
    found = check(house({**SERIES, **MOTOR}), "series_rating.motors", "BP")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 17.0, 50.0)
    assert level(house({**SERIES, **MOTOR, "panel.BP.interrupting": "1.6 kA"}), "series_rating.motors", "BP") is Level.WARN


def test_the_series_device_must_be_a_tag_of_the_project() -> None:
    with pytest.raises(InputError, match="panel.BP.series_with"):
        house({**SERIES, "panel.BP.series_with": "XX"})


STORAGE = {
    "equipment.store": {
        "kind": "storage module",
        "energy": "10 kWh",
        "charge_power": "5 kW",
        "discharge_power": "5 kW",
        "power_at": "terminals",
        "voltage_min": "350 V",
        "short_circuit_current": "1.5 kA",
    },
    "storage.B1": {"equipment": "store", "unit": "U1", "harness": "field-wired", "distance": "4 ft"},
    "circuit.B": {"from": "B1", "to": "U1", "path": ["R6"], "breaker": "30 A", "interrupting": "2 kA", "conductor": "8 AWG Cu THWN-2"},
    "section.R6": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "4 ft"},
}


def test_a_device_of_a_storage_circuit_is_held_against_the_batterys_short_circuit_current() -> None:
    found = check(house(STORAGE), "interrupting_rating.dc", "B")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 1500.0, 2000.0)
    assert level(house({**STORAGE, "circuit.B.interrupting": "1.4 kA"}), "interrupting_rating.dc", "B") is Level.FAIL


def test_a_storage_device_or_battery_without_its_figure_is_not_checked() -> None:
    device = check(house({**STORAGE, "circuit.B.interrupting": None}), "interrupting_rating.dc", "B")
    battery = check(house({**STORAGE, "equipment.store.short_circuit_current": None}), "interrupting_rating.dc", "B")
    assert (device.level, device.needs) == (Level.NOT_CHECKED, ("circuit.B.interrupting",))
    assert (battery.level, battery.needs) == (Level.NOT_CHECKED, ("equipment.store.short_circuit_current",))


def test_a_factory_harness_without_devices_has_nothing_to_check() -> None:
    plain = {key: value for key, value in STORAGE.items() if key not in ("circuit.B", "section.R6")}
    assert checks(house({**plain, "storage.B1.harness": "factory"}), "interrupting_rating.dc") == []


def test_the_storage_input_of_a_unit_is_held_against_all_its_batteries_together() -> None:
    two = {**STORAGE, "equipment.unit-a.storage_modules_max": 2, "storage.B2": {"equipment": "store", "unit": "U1", "harness": "factory", "distance": "4 ft"}}
    found = check(house({**two, "equipment.unit-a.dc_interrupting": "5 kA"}), "interrupting_rating.dc", "U1")
    assert (found.level, value_of(found.demand)) == (Level.PASS, 3000.0)


def test_a_dwelling_needs_no_field_marking_and_the_figure_is_printed_all_the_same() -> None:
    found = check(house(), "fault_current_marking", "service")
    assert found.level is Level.NOTE and "meter" in found.message
    assert "left out" in check(house({"service.fault_current_at": "transformer"}), "fault_current_marking", "service").message


def test_devices_that_the_island_alone_does_not_trip_at_once_are_named() -> None:
    # 80 A / 6 = 13.3 A: the 50 A breaker C1 trips slowly; with 300 A and more it trips at once.
    assert "C1 50 A" in check(house(), "island_fault", "system").message
    assert checks(house({"equipment.unit-a.fault_contribution": "300 A"}), "island_fault") == []


def test_devices_outside_the_island_are_not_named() -> None:
    assert "C2" not in check(house(), "island_fault", "system").message


def test_without_an_island_there_is_no_note_on_it() -> None:
    no_island = {
        **RATED,
        "isolation": None,
        "isolation.ID.interrupting": None,
        "circuit.C3": None,
        "circuit.C2": {"from": "MP", "to": "BP", "path": ["R3"], "breaker": "60 A", "bus_position": "opposite end"},
        "section.R4": None,
        "panel.BP.backup": False,
    }
    base = {**BASE, "isolation": {}}
    found = studied({key: value for key, value in no_island.items() if not key.startswith("isolation")}, base=base)
    assert checks(found, "island_fault") == []


def test_the_sheet_shows_the_fault_current_at_each_place_and_what_it_rests_on() -> None:
    block = next(block for block in sheet(house()).blocks if block.tag == "MP")
    grid = next(grid for grid in block.grids if grid.caption.startswith("Fault current"))
    text = " ".join(" ".join(row) for row in grid.rows)
    assert "9314 A" in text and "8657 A to 12091 A" in text and "80 A" in text and "at the meter" in text


def test_every_line_behind_a_rating_stands_under_the_place_or_the_circuit_that_it_belongs_to() -> None:
    steps = {step.id for step in house().steps}
    assert {"MP.I_LL", "MP.I_LL_all", "C4.fault.R", "C4.R5.fault.R25", "service.LL.R", "U1.I_sc"} <= steps
