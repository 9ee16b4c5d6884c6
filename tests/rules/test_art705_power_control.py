"""A power control setting: where it takes the place of source current, and where not."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.network.records import Mode
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied

# The test house: one unit of 40 A behind MP (bus 225 A, main 200 A): 50 + 200 = 250 A against 270 A.
CONTROL = {"setting": "16 A", "listing": "listed power control, UL 1741 CRD (invented)", "covers": ["MP"]}


def controlled(changes: dict[str, object] | None = None, edition: str | None = None) -> Study:
    return studied({"power_control": CONTROL, **(changes or {})}, edition=edition)


def demand(found: Study, tag: str) -> float:
    return next(value_of(bus.source_demand) for bus in found.sized.buses if bus.tag == tag)


@pytest.mark.parametrize(("edition", "amps"), [("2017", 50.0), ("2020", 20.0), ("2023", 20.0)])
def test_the_setting_counts_on_a_covered_bus_from_2020(edition: str, amps: float) -> None:
    assert demand(controlled(edition=edition), "MP") == amps


def test_2017_says_that_it_has_no_such_rule() -> None:
    one = check(controlled(edition="2017"), "pcs", "system")
    assert one.level is Level.WARN
    assert "has no rule for a power control setting" in one.message


def test_other_buses_keep_the_full_rating() -> None:
    assert demand(controlled(), "BP") == 50.0


# Hand: bus 200 A, main 175 A: 50 + 175 = 225 > 200; with the setting 20 + 175 = 195.
def test_a_bus_that_is_too_small_passes_with_the_setting_by_the_first_method() -> None:
    small = {"panel.MP.bus": "200 A", "panel.MP.main": "175 A", "panel.MP.feed": None}
    assert level(studied(small), "busbar_sum", "MP") is Level.FAIL
    assert level(controlled(small), "busbar_sum", "MP") is Level.PASS


def test_a_setting_above_the_source_current_changes_nothing() -> None:
    assert demand(controlled({"power_control.setting": "60 A"}), "MP") == 50.0


def test_a_covered_feeder_exports_the_setting_and_the_units_circuit_its_rating() -> None:
    found = controlled({"power_control.covers": ["MP", "C2", "C1"]})
    assert value_of(circuit(found, "C2").currents.of(Mode.EXPORT).continuous) == 16.0
    assert value_of(circuit(found, "C1").currents.of(Mode.EXPORT).continuous) == 40.0
    assert level(found, "pcs.covers", "C1") is Level.WARN


def test_both_readings_of_the_setting_are_printed() -> None:
    one = check(controlled(), "pcs.reading", "MP")
    assert "find 216 A, within the 225 A of the same method" in one.message


def test_the_note_names_listing_setting_and_what_is_covered() -> None:
    one = check(controlled(), "pcs", "system")
    assert one.level is Level.NOTE
    assert "UL 1741 CRD" in one.message and "set to 16 A" in one.message and "on MP" in one.message


# --- centre-fed panels, the meter ---------------------------------------------


# Hand: 225 A bus x 1.2 = 270 A; 200 + 50 = 250 A; left (270 - 250) / 1.25 = 16 A, breaker 20 A.
@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_a_center_fed_panel_says_what_it_still_takes(edition: str) -> None:
    found = studied({"panel.MP.feed": "center"}, edition=edition)
    bus = next(one for one in found.sized.buses if one.tag == "MP")
    assert bus.used.key == "busbar_center_fed"
    assert value_of(bus.left_a) == pytest.approx(16.0)
    assert bus.largest_breaker_a == 20.0


def test_source_currents_are_held_against_the_meter_rating_where_it_is_stated() -> None:
    assert not checks(studied(), "utility_limit.meter")
    assert level(studied({"service.meter_rating": "40 A"}), "utility_limit.meter", "system") is Level.PASS
    assert level(studied({"service.meter_rating": "39 A"}), "utility_limit.meter", "system") is Level.WARN
