"""The calculated load against service and mains, reduced mains, methods, refusals, readings."""

from __future__ import annotations

from typing import Any

import pytest

from linecalc.check import Level
from linecalc.study import Study, study
from linecalc.term import named_terms
from tests.dwellings import project
from tests.houses import check, checks, level, studied

SECTION = {"section": {"R1": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"}}}
FEEDER = {"circuit": {"C1": {"from": "service", "to": "MP", "path": ["R1"]}}}
PV = {
    "equipment": {"inv": {"kind": "inverter", "ac_power": "5 kW", "ac_current": "21 A"}},
    "inverter": {"I1": {"equipment": "inv"}},
    "circuit": {**FEEDER["circuit"], "C3": {"from": "MP", "to": "I1", "breaker": "30 A", "path": ["R1"]}},
}
MEASURED = {"measured_demand": "60 A", "measured_period": "1 year", "measured_source": "utility record (invented)"}
EV = {"EV": {"kind": "ev", "power": "9.6 kVA", "voltage": "240 V"}}
RANGE = {"RANGE": {"kind": "range", "power": "12 kVA"}}


def dwelling(loads: dict[str, Any], more: dict[str, Any] | None = None, edition: str = "2023", **keys: Any) -> Study:
    return study(project(loads, {**SECTION, **FEEDER, **(more or {})}, **keys), edition)


def with_panel(main: str, before: str | None = None) -> dict[str, Any]:
    panel = {"bus": "225 A", "main": main, **({"main_before": before} if before else {})}
    return {"panel": {"MP": panel}}


def test_a_load_within_the_service_rating_needs_no_upgrade_and_says_how_small_it_could_be() -> None:
    found = check(dwelling(RANGE), "service_load_rating", "service")
    assert found.level is Level.PASS and "no service upgrade" in found.message
    assert float(found.demand) == 55.0
    assert found.flip == "passes down to a rating of 60 A"


def test_a_load_above_the_service_rating_fails_and_names_the_upgrade() -> None:
    heat = {"HEAT": {"kind": "heat", "power": "80 kVA"}}
    found = check(dwelling({**RANGE, **heat}), "service_load_rating", "service")
    assert found.level is Level.FAIL
    assert "service upgrade, to 300 A at least" in found.message


def test_a_load_equal_to_the_service_rating_passes() -> None:
    exact = {"EV": {"kind": "ev", "power": "9600 VA"}}
    more = {"service": {"voltage": "240 V", "rating": "40 A"}}
    found = dwelling(exact, more, methods=["standard"], floor_area="0.001 ft2", small_appliance_circuits=0, laundry_circuits=0)
    assert level(found, "service_load_rating", "service") is Level.PASS


def test_a_stated_load_is_held_against_service_and_main_as_well() -> None:
    found = studied({"service.rating": "80 A", "panel.MP.main": "80 A"})
    assert level(found, "service_load_rating", "service") is Level.FAIL
    assert level(found, "feeder_load_rating", "MP") is Level.FAIL


@pytest.mark.parametrize(("main", "expected"), [("60 A", Level.PASS), ("50 A", Level.FAIL)])
def test_the_main_carries_the_calculated_load(main: str, expected: Level) -> None:
    assert level(dwelling(RANGE, with_panel(main)), "feeder_load_rating", "MP") is expected


def test_a_reduced_main_must_carry_the_continuous_part_at_125_percent() -> None:
    found = dwelling({**RANGE, **EV}, with_panel("100 A", "200 A"))
    load, reduced = check(found, "feeder_load_rating", "MP"), check(found, "feeder_load_rating.reduced_main", "MP")
    assert float(load.demand) == 95.0
    assert float(reduced.demand) == pytest.approx(95.0 + 0.25 * 40.0)
    assert load.level is Level.PASS and reduced.level is Level.FAIL
    assert "reduced from 200 A to 100 A" in reduced.message


def test_a_main_that_was_not_reduced_says_nothing_of_it() -> None:
    assert not checks(dwelling(RANGE, with_panel("100 A")), "feeder_load_rating.reduced_main")


def test_the_note_names_the_deciding_method_the_others_and_why() -> None:
    found = check(dwelling({**RANGE, **EV}), "load_total.method", "MP")
    assert found.level is Level.NOTE
    assert found.message.startswith("the lowest lawful method decides: Part III gives 95 A; the optional method for dwellings gives 5 A more: ")


def test_the_steps_of_every_method_stand_behind_the_note() -> None:
    found = dwelling({**RANGE, **EV})
    note = next(one for one in found.checks if one.rule.endswith(".method"))
    symbols = {term.symbol for root in note.roots() for term in named_terms(root)}
    assert {"S_light", "S_general", "S_pool", "S_total", "I_220", "S_cook", "I_N_L1"} <= symbols


def test_a_load_that_cannot_be_computed_is_not_checked_with_what_it_needs() -> None:
    found = dwelling(RANGE, floor_area=None)
    missing = check(found, "load_total", "MP")
    assert missing.level is Level.NOT_CHECKED
    assert missing.needs == ("dwelling.floor_area",)
    assert not checks(found, "service_load_rating")
    assert any(one.level is Level.NOT_CHECKED and one.subject == "C1" for one in found.checks)


@pytest.mark.parametrize("edition", ["2017", "2020"])
def test_measured_demand_is_refused_where_sources_serve_the_house_and_another_method_stands_in(edition: str) -> None:
    found = dwelling(EV, PV, edition, **MEASURED)
    refused = check(found, "load_measured", "MP")
    assert refused.level is Level.WARN
    assert "I1" in refused.message and "used instead" in refused.message
    assert checks(found, "service_load_rating")


def test_the_2023_edition_refuses_only_the_30_day_recording() -> None:
    assert not checks(dwelling(EV, PV, "2023", **MEASURED), "load_measured")
    thirty = dwelling(EV, PV, "2023", **{**MEASURED, "measured_period": "30 days"})
    assert "30-day" in check(thirty, "load_measured", "MP").message


def test_measured_demand_without_its_source_is_not_checked() -> None:
    found = check(dwelling(EV, **{**MEASURED, "measured_source": None}), "load_measured", "MP")
    assert found.level is Level.NOT_CHECKED and found.needs == ("dwelling.measured_source",)


def test_the_other_reading_of_ev_supply_equipment_is_a_note() -> None:
    found = check(dwelling({**RANGE, **EV}, methods=["optional"]), "load_optional_dwelling.reading", "MP")
    assert found.level is Level.NOTE and "40 % group" in found.message


def test_a_reading_that_breaks_the_rating_is_a_warning() -> None:
    old = {
        "AC": {"kind": "motor-compressor", "current": "60 A", "existing": True},
        "HEAT": {"kind": "heat", "power": "20 kVA", "existing": True},
    }
    found = dwelling(old, with_panel("100 A"), existing=True, methods=["existing"])
    reading = check(found, "load_existing_dwelling.reading", "MP")
    assert reading.level is Level.WARN
    assert "above 100 A" in reading.message


def test_a_house_without_a_dwelling_table_has_no_methods_to_compare() -> None:
    assert not [one for one in studied().checks if one.rule.endswith((".method", ".reading"))]


def test_kilowatts_of_a_computed_load_go_by_the_power_factor_of_the_dwelling() -> None:
    changes = {
        "load": RANGE_ON_BP,
        "dwelling": {"floor_area": "900 ft2", "share": {"BP": {"floor_area": "200 ft2"}}},
    }
    assert "dwelling.power_factor" in check(studied(changes), "standby_capacity.kw", "system").needs
    changes["dwelling"]["power_factor"] = 0.9
    found = check(studied(changes), "standby_capacity.kw", "system")
    load = next(one for one in studied(changes).currents.dwelling.buses if one.tag == "BP")
    assert float(found.demand) == pytest.approx(0.9 * 240.0 * float(load.used.current_a))


RANGE_ON_BP = {"RANGE": {"kind": "range", "power": "6 kVA", "panel": "BP"}, "DRYER": {"kind": "dryer", "power": "5 kVA", "panel": "MP"}}
