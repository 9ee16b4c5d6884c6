"""Sources that join a feeder ahead of a segment, a tap or a bus, one after another or at equipment with a bus of its own."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from linecalc.check import Level
from linecalc.sizing.records import BusVerdict
from tests.houses import BASE, check, checks, circuit, studied, tables

PROJECTS = Path(__file__).parents[1] / "projects"


def _base(name: str) -> dict[str, Any]:
    raw = tomllib.loads((PROJECTS / f"{name}.toml").read_text())
    raw.pop("include")
    equipment = tomllib.loads((PROJECTS / "equipment.toml").read_text())
    return {**raw, **equipment}


TAP = _base("tap")
TWO_JOINTS = tables(
    {
        "junction.J2": {"terminals": "75 degC"},
        "unit.U2": {"equipment": "unit-a"},
        "disconnect.D2": TAP["disconnect"]["DS"],
        "circuit.C3": {"from": "J", "to": "J2", "path": ["R3"]},
        "circuit.C6": {"from": "J2", "to": "MP", "path": ["R6"]},
        "circuit.C7": {"from": "J2", "to": "D2", "path": ["R7"], "tap": True},
        "circuit.C8": {"from": "D2", "to": "U2", "path": ["R8"]},
        "section.R6": TAP["section"]["R3"],
        "section.R7": TAP["section"]["R4"],
        "section.R8": TAP["section"]["R5"],
    },
    TAP,
)


def test_a_segment_beyond_two_joints_carries_the_device_and_the_sources_of_both():
    found = studied(base=TWO_JOINTS)
    assert check(found, "feeder_connection", "C3").limit.value == pytest.approx(200.0 + 1.25 * 40.0)
    assert check(found, "feeder_connection", "C6").limit.value == pytest.approx(200.0 + 1.25 * 80.0)


def test_a_tap_is_fed_by_sources_that_join_ahead_of_it_too():
    found = studied(base=TWO_JOINTS)
    assert check(found, "feeder_taps", "C7").limit.value == pytest.approx((200.0 + 60.0 + 60.0) / 3.0)
    assert check(found, "feeder_taps", "C4").limit.value == pytest.approx((200.0 + 60.0 + 60.0) / 3.0)


def test_a_disconnect_without_a_device_does_not_end_a_segment():
    changes = {
        "disconnect.D9": {"rating": "200 A", "terminals": "75 degC"},
        "circuit.C3": {"from": "J", "to": "D9", "path": ["R3"]},
        "circuit.C6": {"from": "D9", "to": "MP", "path": ["R6"]},
        "section.R6": TAP["section"]["R3"],
    }
    found = studied(changes, TAP)
    assert check(found, "feeder_connection", "C6").limit.value == pytest.approx(250.0)
    assert circuit(found, "C6").conductor.size == "250 kcmil"


def test_a_disconnect_with_a_device_ends_a_segment():
    changes = {
        "disconnect.D9": {"rating": "200 A", "device": "200 A", "device_kind": "breaker", "terminals": "75 degC"},
        "circuit.C3": {"from": "J", "to": "D9", "path": ["R3"]},
        "circuit.C6": {"from": "D9", "to": "MP", "path": ["R6"]},
        "section.R6": TAP["section"]["R3"],
    }
    assert not checks(studied(changes, TAP), "feeder_connection", "C6")


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_the_feeder_behind_a_backup_port_carries_what_passes_through_and_the_unit_itself(edition: str):
    found = studied(base=_base("built_in_transfer"), edition=edition)
    assert check(found, "feeder_connection", "C3").limit.value == pytest.approx(60.0 + 1.25 * 40.0)
    assert check(found, "busbar_sum", "BP").demand.value == pytest.approx(110.0)


def test_a_device_at_the_backup_port_protects_the_feeder_behind_it():
    found = studied({"circuit.C3.breaker": "60 A"}, _base("built_in_transfer"))
    assert not checks(found, "feeder_connection", "C3")
    assert circuit(found, "C3").conductor.size == "6 AWG"


@pytest.mark.parametrize("internal_bus", ["yes", "no"])
def test_a_feeder_from_an_isolation_device_is_a_segment_whether_sources_join_on_its_bus_or_its_lugs(internal_bus: str):
    found = studied({"circuit.C1.from": "ID", "isolation.ID.internal_bus": internal_bus}, BASE)
    judged = check(found, "feeder_connection", "C3")
    assert (judged.level, judged.limit.value) == (Level.FAIL, pytest.approx(110.0))


def test_feed_through_conductors_are_a_segment_beyond_the_sources_on_their_panel():
    changes = {"panel.MM.bus": "250 A", "circuit.C2.conductor": None, "panel.LP.main": "lugs"}
    found = studied(changes, _base("feed_through"))
    assert check(found, "busbar_sum", "MM").level is Level.PASS
    assert check(found, "feeder_connection", "C2").limit.value == pytest.approx(250.0)
    bus = check(found, "busbar_sum", "LP")
    assert (bus.level, bus.demand.value) == (Level.FAIL, pytest.approx(250.0))


def test_the_circuit_of_a_source_is_no_segment_since_no_load_hangs_on_it():
    changes = {"unit.U2": {"equipment": "unit-a"}, "circuit.C6": {"from": "DS", "to": "U2", "path": ["R6"]}, "section.R6": TAP["section"]["R5"]}
    found = studied(changes, TAP)
    assert not checks(found, "feeder_connection", "C5")
    assert not checks(found, "feeder_connection", "C6")


def test_83_percent_is_never_for_a_segment_where_sources_add():
    found = studied(base=TAP)
    assert not checks(found, "dwelling_83pct", "C3")
    assert check(found, "next_size_up", "C3").level is Level.PASS
    without = studied({"unit": None, "disconnect.DS": None, "circuit.C4": None, "circuit.C5": None, "section.R4": None, "section.R5": None}, TAP)
    assert check(without, "dwelling_83pct", "C3").level is Level.PASS


def test_120_percent_is_not_usable_where_a_source_comes_in_with_the_supply():
    second = {"unit.U2": {"equipment": "unit-a"}, "circuit.C5": {"from": "ID", "to": "U2", "path": ["R6"], "breaker": "50 A"}, "section.R6": BASE["section"]["R2"]}
    bus = next(one for one in studied({**second, "panel.BP.bus": "150 A"}).sized.buses if one.tag == "BP")
    usable = [method.key for method in bus.methods if method.verdict is not BusVerdict.NOT_USABLE]
    assert usable == ["busbar_sum"] and bus.used.demand.value == pytest.approx(60.0 + 1.25 * 80.0)
