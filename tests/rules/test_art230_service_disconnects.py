"""The least rating of a dwelling's service disconnect: 100 A, by 230.79(C)."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.codebook import EDITIONS
from linecalc.term import value_of
from tests.houses import SUPPLY_SIDE, check, checks, level, studied

RULE = "service_disconnect_dwelling"


# Source: Mike Holt Forum, Minimum Service Size, which quotes 230.79(A) to (D):
# (C) one-family dwelling 100 A, https://forums.mikeholt.com/threads/minimum-service-size.143299
@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("main", "verdict"), [("200 A", Level.PASS), ("100 A", Level.PASS), ("90 A", Level.FAIL), ("60 A", Level.FAIL)])
def test_a_dwelling_needs_a_service_disconnect_of_100_a(main, verdict, edition):
    found = check(studied({"panel.MP.main": main}, edition=edition), RULE)
    assert (found.subject, found.level) == ("MP", verdict)
    assert value_of(found.limit) == 100.0


def test_existing_equipment_below_100_a_is_a_warning():
    assert level(studied({"panel.MP.main": "60 A", "panel.MP.existing": True}), RULE) is Level.WARN


def test_a_disconnect_for_sources_alone_is_no_disconnect_of_the_dwelling():
    # D, 60 A, serves the unit alone; its own least rating of 60 A is another rule
    assert [one.subject for one in checks(studied(base=SUPPLY_SIDE), RULE)] == ["MP"]


def with_disconnect(changes):
    """The supply-side house with a disconnect of its own ahead of its main panel."""
    disconnect = {"rating": "100 A", "device": "90 A", "device_kind": "breaker", "terminals": "75 degC", "neutral_bond": True}
    return {
        "disconnect.SD": {**disconnect, **changes},
        "circuit.C3": {"from": "J", "to": "SD", "path": ["R4"], "conductor": "2/0 AWG Cu THWN-2"},
        "circuit.C5": {"from": "SD", "to": "MP", "path": ["R4"], "conductor": "2/0 AWG Cu THWN-2"},
        "panel.MP.neutral_bond": False,
    }


def test_a_breaker_as_disconnect_goes_by_the_breaker_and_a_fused_switch_by_the_switch():
    assert level(studied(with_disconnect({}), SUPPLY_SIDE), RULE, "SD") is Level.FAIL
    assert level(studied(with_disconnect({"device_kind": "fuse"}), SUPPLY_SIDE), RULE, "SD") is Level.PASS


def test_two_disconnects_that_serve_the_house_count_together():
    lighting = {
        "panel.LP": {"bus": "125 A", "main": "60 A", "feed": "top", "terminals": "75 degC", "neutral_bond": False},
        "load.LIGHT": {"panel": "LP", "kind": "calculated", "current": "20 A", "continuous_part": "0 A", "unbalance": "5 A", "power_factor": 0.9},
        "circuit.C6": {"from": "D", "to": "LP", "path": ["R4"], "conductor": "6 AWG Cu THWN-2"},
    }
    found = check(studied({**lighting, "panel.MP.main": "60 A"}, SUPPLY_SIDE), RULE)
    assert (found.subject, found.level, value_of(found.demand)) == ("service", Level.PASS, 120.0)


def test_main_lugs_behind_the_service_leave_the_rating_unknown():
    found = check(studied({"panel.MP.main": "lugs", "load.HOUSE": None}), RULE)
    assert found.level is Level.NOT_CHECKED and found.needs == ("rating of MP",)


def test_a_service_device_above_the_stated_service_rating_is_a_warning():
    found = check(studied({"service.rating": "100 A"}), "service_load_rating.device", "MP")
    assert found.level is Level.WARN and "200 A device of MP is above the service rating of 100 A" in found.message
    assert not checks(studied(), "service_load_rating.device")
