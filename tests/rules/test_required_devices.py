"""Devices that must be present: pass where stated, not checked where not, left out where the edition does not ask."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.errors import InputError
from linecalc.term import value_of
from tests.houses import check, checks, house, level, studied
from tests.rules.required_house import RULES, STATED


def stated(changes=None, edition=None):
    return studied({**STATED, **(changes or {})}, edition=edition)


@pytest.mark.parametrize("rule", RULES)
def test_every_device_that_is_stated_passes(rule):
    assert {one.level for one in checks(stated(), rule)} == {Level.PASS}


@pytest.mark.parametrize(
    ("rule", "key"),
    [
        ("rapid_shutdown", "rapid_shutdown.equipment"),
        ("rapid_shutdown", "rapid_shutdown.listing"),
        ("rapid_shutdown.initiator", "rapid_shutdown.initiator"),
        ("rapid_shutdown.inside", "rapid_shutdown.inside"),
        ("pv_arc_fault", "equipment.unit-a.arc_fault"),
        ("pv_system_grounding", "equipment.unit-a.ground_fault"),
        ("pv_disconnect", "unit.U1.pv_disconnect"),
        ("pv_disconnect.voltage", "equipment.unit-a.dc_switch_voltage"),
        ("pv_disconnect.current", "equipment.unit-a.dc_switch_current"),
        ("pv_equipment_disconnect", "unit.U1.ac_disconnect_in_sight"),
        ("source_disconnect", "unit.U1.ac_disconnect"),
        ("source_disconnect", "panel.BP.location"),
        ("directory_sources", "service.location"),
        ("interactive_listing", "equipment.unit-a.listing"),
        ("ess_disconnect", "unit.U1.storage_disconnect"),
        ("ess_emergency_shutdown", "required.emergency_shutdown"),
        ("ess_emergency_shutdown", "required.emergency_shutdown_outdoors"),
        ("ess_listing", "equipment.unit-a.listing"),
        ("emergency_disconnect", "required.emergency_disconnect"),
        ("surge_protection", "required.surge_protection"),
        ("enclosure_types", "panel.MP.enclosure"),
    ],
)
def test_a_device_that_is_not_stated_is_not_checked_and_its_key_is_named(rule, key):
    found = check(stated({key: None}), rule)
    assert found.level is Level.NOT_CHECKED
    assert key in found.needs


@pytest.mark.parametrize(
    ("key", "value", "rule"),
    [
        ("equipment.unit-a.arc_fault", "none", "pv_arc_fault"),
        ("equipment.unit-a.ground_fault", "None", "pv_system_grounding"),
        ("rapid_shutdown.outdoors", False, "rapid_shutdown.initiator"),
        ("rapid_shutdown.location", "garage, interior", "rapid_shutdown.initiator"),
        ("required.emergency_shutdown_outdoors", False, "ess_emergency_shutdown"),
        ("panel.MP.location", "hall, interior", "emergency_disconnect"),
        ("panel.MP.enclosure", "1", "enclosure_types"),
        ("equipment.unit-a.dc_switch_voltage", "400 V", "pv_disconnect.voltage"),
        ("equipment.unit-a.dc_switch_current", "16 A", "pv_disconnect.current"),
    ],
)
def test_a_device_that_is_missing_or_in_the_wrong_place_fails(key, value, rule):
    assert level(stated({key: value}), rule) is Level.FAIL


def test_the_switch_inside_is_held_against_the_cold_voltage_and_the_current_of_its_input():
    # 10 modules of 40 V, -0.25 %/K, 40 K below 25 degC: 440 V. 1.25 x 13 A = 16.25 A.
    assert value_of(check(stated(), "pv_disconnect.voltage").demand) == pytest.approx(440.0)
    assert value_of(check(stated(), "pv_disconnect.current").demand) == pytest.approx(16.25)
    second = {
        "string.S2": {"module": "mod", "count": 10, "to": "U1", "input": 1},
        "circuit.P2": {"from": "S2", "to": "U1", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
    }
    assert value_of(check(stated(second), "pv_disconnect.current").demand) == pytest.approx(32.5)
    assert level(stated(second), "pv_disconnect.current") is Level.FAIL


@pytest.mark.parametrize(
    ("key", "rule"), [("unit.U1.ac_disconnect_in_sight", "pv_equipment_disconnect"), ("unit.U1.storage_disconnect_in_sight", "ess_disconnect")]
)
def test_a_disconnect_out_of_sight_is_for_the_ahj_to_judge(key, rule):
    changes = {key: False, **({"unit.U1.storage_disconnect": "C1"} if "storage" in key else {})}
    assert level(stated(changes), rule) is Level.WARN


def test_strings_below_80_v_need_no_arc_fault_protection():
    assert level(stated({"string.S1.count": 1, "equipment.unit-a.arc_fault": None}), "pv_arc_fault") is Level.NOTE


def test_an_exempt_array_needs_no_rapid_shutdown_but_says_why():
    found = stated({"rapid_shutdown.exempt": "the array stands on open ground", "rapid_shutdown.initiator": None})
    assert level(found, "rapid_shutdown") is Level.NOTE
    assert "open ground" in check(found, "rapid_shutdown").message
    assert not checks(found, "rapid_shutdown.initiator")


@pytest.mark.parametrize("rule", ["ess_emergency_shutdown", "emergency_disconnect", "surge_protection"])
def test_2017_does_not_ask_for_what_came_in_2020(rule):
    assert not checks(stated(edition="2017"), rule)
    assert level(stated(edition="2020"), rule) is Level.PASS


@pytest.mark.parametrize("rule", ["emergency_disconnect", "surge_protection"])
def test_existing_service_equipment_that_stays_is_only_noted(rule):
    unstated = {f"required.{key}": None for key in ("emergency_disconnect", "surge_protection", "surge_protection_at")}
    assert level(stated({**unstated, "panel.MP.existing": True}), rule) is Level.NOTE


def test_equipment_whose_place_does_not_say_outdoors_needs_no_outdoor_enclosure():
    assert not checks(stated({"panel.MP.location": "garage, interior", "panel.MP.enclosure": None}), "enclosure_types")


@pytest.mark.parametrize("enclosure", ["3", "3R", "4", "4X", "6P"])
def test_outdoor_enclosures(enclosure):
    assert level(stated({"panel.MP.enclosure": enclosure}), "enclosure_types") is Level.PASS


@pytest.mark.parametrize(("listing", "interactive", "storage"), [("UL 1741 SB", Level.PASS, Level.WARN), ("UL 9540", Level.WARN, Level.PASS)])
def test_a_listing_that_does_not_name_the_standard_is_a_warning(listing, interactive, storage):
    found = stated({"equipment.unit-a.listing": listing})
    assert (level(found, "interactive_listing"), level(found, "ess_listing")) == (interactive, storage)


@pytest.mark.parametrize(
    ("key", "value"), [("unit.U1.ac_disconnect", "C11"), ("unit.U1.pv_disconnect", "integrated"), ("required.emergency_disconnect", "MPP")]
)
def test_a_switch_that_is_no_tag_of_the_project_is_refused_with_the_nearest(key, value):
    with pytest.raises(InputError, match=value):
        house({**STATED, key: value})


def test_a_disconnect_that_is_not_readily_accessible_fails():
    disconnect = {"rating": "60 A", "device_kind": "none", "location": "attic", "readily_accessible": False, "terminals": "75 degC"}
    changes = {
        "disconnect.D": disconnect,
        "circuit.C1.from": "D",
        "circuit.C9": {"from": "BP", "to": "D", "path": ["R2"], "breaker": "50 A", "conductor": "8 AWG Cu THWN-2", "bus_position": "opposite end"},
        "unit.U1.ac_disconnect": "D",
    }
    assert level(stated(changes), "source_disconnect.access") is Level.FAIL
