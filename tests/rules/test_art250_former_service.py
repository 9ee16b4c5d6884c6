"""An old main panel that becomes a subpanel, and one grounding conductor for a whole raceway."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from tests.houses import BASE, check, checks, level, studied

MOVED = {
    **BASE,
    "panel": {**BASE["panel"], "MP": {**BASE["panel"]["MP"], "neutral_bond": False, "existing": True}},
    "disconnect": {
        "SD": {
            "rating": "200 A",
            "device": "200 A",
            "device_kind": "breaker",
            "service_disconnect": True,
            "neutral_bond": True,
            "terminals": "75 degC",
        }
    },
    "circuit": {
        **BASE["circuit"],
        "C4": {"from": "service", "to": "SD", "path": ["R5"]},
        "C5": {"from": "SD", "to": "MP", "path": ["R6"], "conductor": "2/0 AWG Cu THWN-2"},
    },
    "section": {**BASE["section"], "R6": {"method": "EMT", "place": "hall", "moisture": "dry", "ambient": "30 degC", "length": "20 ft"}},
}
DONE = {
    "panel.MP.former_service": True,
    "panel.MP.electrode_conductor_moved": True,
    "panel.MP.grounding_bus": "separate",
    "panel.MP.three_wire": (),
}
RULES = ("former_service", "former_service.electrode", "panel_grounding_bus", "range_dryer_frames")


def moved(changes=None, edition=None):
    return studied(changes, MOVED, edition)


def test_an_existing_panel_behind_new_equipment_is_asked_about():
    assert check(moved(), "former_service", "MP").needs == ("panel.MP.former_service",)


def test_an_existing_panel_behind_existing_equipment_is_not():
    assert not checks(moved({"disconnect.SD.existing": True}), "former_service")
    assert not checks(moved({"panel.MP.existing": None}), "former_service")
    assert not checks(moved({"panel.MP.former_service": False}), "former_service")


def test_a_panel_that_stays_the_service_equipment_is_never_asked_about():
    assert not checks(studied({"panel.MP.existing": True}), "former_service")


@pytest.mark.parametrize("rule", RULES)
def test_all_four_points_pass_where_they_are_done(rule):
    assert level(moved(DONE), rule, "MP") is Level.PASS


@pytest.mark.parametrize(
    ("key", "value", "rule"),
    [
        ("panel.MP.electrode_conductor_moved", False, "former_service.electrode"),
        ("panel.MP.grounding_bus", "none", "panel_grounding_bus"),
        ("circuit.C5.neutral", "none", "former_service"),
        ("circuit.C5.egc", "none", "former_service"),
    ],
)
def test_a_point_that_is_not_done_fails_by_itself(key, value, rule):
    found = moved({**DONE, key: value})
    assert level(found, rule, "MP") is Level.FAIL
    assert all(level(found, other, "MP") is Level.PASS for other in RULES if other != rule)


@pytest.mark.parametrize("key", ["electrode_conductor_moved", "grounding_bus", "three_wire"])
def test_a_point_that_is_not_stated_is_not_checked(key):
    found = moved({**DONE, f"panel.MP.{key}": None})
    assert [one.needs for one in found.checks if one.subject == "MP" and one.level is Level.NOT_CHECKED and "MP." + key in one.needs[0]]


def test_the_bond_left_in_the_old_panel_fails():
    assert level(moved({**DONE, "panel.MP.neutral_bond": True}), "neutral_for_grounding", "MP") is Level.FAIL


@pytest.mark.parametrize(("edition", "section"), [("2017", "250.140 Exception"), ("2020", "250.140 Exception"), ("2023", "250.140(B)")])
def test_old_three_wire_ranges_and_dryers_warn_with_the_section_of_the_edition(edition, section):
    found = checks(moved({**DONE, "panel.MP.three_wire": ("range", "dryer")}, edition), "range_dryer_frames", "MP")
    assert [one.level for one in found] == [Level.WARN, Level.WARN]
    assert all(section in one.citation for one in found)


def test_an_old_three_wire_feeder_warns():
    assert level(moved({**DONE, "panel.MP.three_wire": ("feeder",)}), "feeder_grounding", "MP") is Level.WARN


TWO_STRINGS = {
    "string.S2": {"module": "mod", "count": 10, "to": "U1", "input": 2},
    "circuit.P2": {"from": "S2", "to": "U1", "path": ["R1"], "conductor": "8 AWG Cu THWN-2", "egc": "10 AWG Cu", "terminals_from": "75 degC"},
    "circuit.P1.egc": "12 AWG Cu",
}


def test_one_grounding_conductor_in_a_raceway_is_the_largest_that_any_circuit_requires():
    # 1.25 x 1.25 x 13 A = 20.3 A: assumed 25 A, 10 AWG for each circuit.
    shared = studied(TWO_STRINGS).sized.grounding.shared
    assert [(one.section, one.circuits, one.needed_size) for one in shared] == [("R1", ("P1", "P2"), "10 AWG")]


@pytest.mark.parametrize(("size", "verdict"), [("12 AWG Cu", Level.FAIL), ("10 AWG Cu", Level.PASS), ("8 AWG Cu", Level.PASS)])
def test_a_shared_grounding_conductor_is_held_against_that(size, verdict):
    assert level(studied({**TWO_STRINGS, "section.R1.egc": size}), "shared_egc", "R1") is verdict


def test_a_shared_grounding_conductor_counts_once_in_the_fill():
    def held(changes):
        raceway = next(one for one in studied(changes).sized.raceways if one.section == "R1")
        return [(one.size, one.count) for one in raceway.held if one.role == "grounding"]

    assert held(TWO_STRINGS) == [("12 AWG", 1), ("10 AWG", 1)]
    assert held({**TWO_STRINGS, "section.R1.egc": "10 AWG Cu"}) == [("10 AWG", 1)]


def test_the_array_is_bonded_and_uses_the_electrodes_of_the_building():
    stated = {"grounding.array_bonding": "listed clamps", "grounding.array_listing": "UL 2703", "grounding.array_electrode": "building"}
    found = studied(stated)
    assert level(found, "pv_equipment_grounding") is Level.PASS
    assert level(found, "pv_grounding_electrode") is Level.PASS
    assert level(studied(), "pv_equipment_grounding") is Level.NOT_CHECKED
    assert level(studied(), "pv_grounding_electrode") is Level.NOT_CHECKED
    assert level(studied({**stated, "grounding.array_electrode": "none"}), "pv_grounding_electrode") is Level.FAIL


@pytest.mark.parametrize("circuit", ["P1", "C1", "C3"])
def test_a_gap_in_the_grounding_conductors_cuts_the_array_off_its_electrodes(circuit):
    found = studied({f"circuit.{circuit}.egc": "none", "grounding.array_electrode": "building"})
    assert level(found, "pv_grounding_electrode") is Level.FAIL
    assert circuit in check(found, "pv_grounding_electrode").message
