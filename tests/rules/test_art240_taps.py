"""Feeder taps: a third or a tenth of what can feed them, by edition; length, device, grounding conductor."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.project.read import read_project
from linecalc.sizing.records import Governed
from linecalc.study import Study, study
from linecalc.term import value_of
from linecalc.variants import with_values
from tests.houses import check, circuit, level

PROJECT = Path(__file__).parents[1] / "projects" / "tap.toml"


def house(changes: dict[str, object] | None = None, edition: str | None = None) -> Study:
    project = read_project(PROJECT)
    return study(with_values(project, changes.items()) if changes else project, edition)


# Source: Mike Holt Enterprises, forum, "Load-Side Source Connection to a Feeder" (2023 NEC 705.12(A)(3)),
# https://forums.mikeholt.com/threads/load-side-source-connection-to-a-feeder.2580771/latest: a 60 A source between a
# 200 A meter-main and a 200 A panel: (200 + 60) / 3 = 87 A, so 3 AWG copper instead of 6 AWG. Checked against the current table: yes.
def test_a_60_a_source_on_a_200_a_feeder_needs_a_tap_of_87_a_and_3_awg_in_2023() -> None:
    found = house()
    assert value_of(check(found, "feeder_taps", "C4").limit) == pytest.approx(260 / 3)
    assert circuit(found, "C4").conductor.size == "3 AWG"
    assert circuit(found, "C4").governed_by is Governed.TAP


# Hand: 2017 and 2020 add 125 % of the current, 50 A, in place of the 60 A device: 250 / 3 = 83.3 A, 4 AWG has 85 A.
@pytest.mark.parametrize("edition", ["2017", "2020"])
def test_earlier_editions_add_the_source_current_in_place_of_its_device(edition: str) -> None:
    found = house(edition=edition)
    assert value_of(check(found, "feeder_taps", "C4").limit) == pytest.approx(250 / 3)
    assert circuit(found, "C4").conductor.size == "4 AWG"


# Hand: 260 / 10 = 26 A; the 60 A device then decides: 6 AWG has 65 A.
def test_a_tap_of_ten_feet_needs_a_tenth_and_its_device() -> None:
    found = house({"section.R4.length": "10 ft"})
    assert value_of(check(found, "feeder_taps", "C4").limit) == pytest.approx(26.0)
    assert circuit(found, "C4").conductor.size == "6 AWG"


def test_a_tap_conductor_has_no_next_larger_device() -> None:
    found = house({"section.R4.length": "10 ft", "circuit.C4.conductor": "8 AWG Cu THWN-2", "disconnect.DS.device": "60 A"})
    assert level(found, "next_size_up", "C4") is Level.FAIL  # 50 A conductor, 60 A fuse
    exact = house({"section.R4.length": "10 ft", "circuit.C4.conductor": "8 AWG Cu THWN-2", "disconnect.DS.device": "50 A"})
    assert level(exact, "next_size_up", "C4") is Level.PASS


def test_a_tap_above_25_ft_fails() -> None:
    assert level(house({"section.R4.length": "25 ft"}), "feeder_taps", "C4") is Level.PASS
    assert level(house({"section.R4.length": "25.1 ft"}), "tap_rules", "C4") is Level.FAIL


def test_a_tap_without_a_device_at_its_end_fails() -> None:
    found = house({"disconnect.DS.device": "none", "disconnect.DS.device_kind": "none"})
    assert level(found, "tap_rules.device", "C4") is Level.FAIL


# Hand: 250.122(G): by the 200 A feeder device 6 AWG, not by the 60 A fuse (10 AWG).
def test_the_grounding_conductor_of_a_tap_goes_by_the_feeder_device() -> None:
    assert circuit(house(), "C4").egc.size == "6 AWG"


def test_a_tap_to_loads_alone_goes_by_the_feeder_device_alone() -> None:
    changes = {"unit": {}, "circuit.C5": None, "section.R5": None, "panel.SP": {"bus": "100 A", "main": "60 A", "neutral_bond": False}}
    found = house({**changes, "disconnect": {"SD": {"rating": "200 A", "device": "200 A", "device_kind": "breaker", "neutral_bond": True}}, "circuit.C4.to": "SP"})
    one = check(found, "tap_rules", "C4")
    assert value_of(one.limit) == pytest.approx(200 / 3)


def test_a_tap_that_joins_no_feeder_is_not_checked() -> None:
    assert level(house({"circuit.C3.from": "SD", "circuit.C4.from": "MP", "junction": {}, "circuit.C2": None, "section.R2": None}), "tap_rules", "C4") is Level.NOT_CHECKED


# Hand: in cable a tenth of 260 A does not serve, a third does: 86.7 A.
def test_a_tap_in_cable_takes_the_third_at_any_length_and_is_a_warning() -> None:
    found = house({"section.R4.length": "10 ft", "section.R4.method": "SER", "circuit.C4.insulation": "SE"})
    assert level(found, "tap_rules.raceway", "C4") is Level.WARN
    assert value_of(check(found, "feeder_taps", "C4").limit) == pytest.approx(260 / 3)
    assert not [one for one in house().checks if one.rule == "tap_rules.raceway"]


def test_a_tap_with_a_breaker_where_it_begins_is_not_checked() -> None:
    assert level(house({"circuit.C4.breaker": "60 A"}), "tap_rules", "C4") is Level.NOT_CHECKED
