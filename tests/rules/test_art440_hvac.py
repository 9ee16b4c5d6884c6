"""Air conditioners: nameplate values, values computed from the running current, fuses, disconnects."""

from __future__ import annotations

from typing import Any

import pytest

from linecalc.check import Check, Level
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied

COMPRESSOR = {
    "load.AC": {"panel": "BP", "kind": "motor-compressor", "voltage": "240 V", "rla": "24 A"},
    "circuit.C5": {"from": "BP", "to": "AC", "path": ["R2"], "terminals_to": "75 degC"},
}
NAMEPLATE = {
    **COMPRESSOR,
    "load.AC": {"panel": "BP", "kind": "motor-compressor", "voltage": "240 V", "rla": "17 A", "fan": "1.5 A", "mca": "22.8 A", "mocp": "40 A"},
}
AT_UNIT = {
    **NAMEPLATE,
    "circuit.C5": {"from": "BP", "to": "DA", "path": ["R2"], "breaker": "40 A"},
    "disconnect.DA": {"rating": "60 A", "device": "none", "terminals": "75 degC"},
    "circuit.C6": {"from": "DA", "to": "AC", "path": ["R6"], "terminals_to": "75 degC"},
    "section.R6": {"method": "EMT", "place": "wall", "moisture": "wet", "ambient": "30 degC", "length": "3 ft"},
}
EDITIONS = ("2017", "2020", "2023")


def house(changes: dict[str, Any], edition: str | None = None) -> Study:
    return studied(changes, edition=edition)


def device_a(changes: dict[str, Any], edition: str | None = None) -> float:
    return value_of(circuit(house(changes, edition), "C5").device.rating)


def held(changes: dict[str, Any], edition: str | None = None, rule: str = "hermetic_ocpd") -> Check:
    return check(house(changes, edition), rule, "C5")


@pytest.mark.parametrize(("edition", "expected"), [("2017", 40.0), ("2020", 40.0), ("2023", 45.0)])
def test_a_device_chosen_from_the_running_current_is_rounded_down_before_2023_and_up_since(edition: str, expected: float) -> None:
    # 1.75 x 24 = 42 A.
    assert device_a(COMPRESSOR, edition) == expected


@pytest.mark.parametrize("edition", EDITIONS)
def test_where_175_percent_is_a_standard_rating_the_editions_agree(edition: str) -> None:
    # 1.75 x 40 = 70 A.
    assert device_a({**COMPRESSOR, "load.AC.rla": "40 A"}, edition) == 70.0


@pytest.mark.parametrize(
    ("breaker", "before_2023", "since_2023"),
    [
        ("40 A", Level.PASS, Level.PASS),
        ("45 A", Level.WARN, Level.PASS),
        ("50 A", Level.WARN, Level.WARN),
        ("60 A", Level.FAIL, Level.FAIL),
    ],
)
def test_a_device_between_175_and_225_percent_is_only_for_starting(breaker: str, before_2023: Level, since_2023: Level) -> None:
    # 225 %: 54 A.
    changes = {**COMPRESSOR, "circuit.C5.breaker": breaker}
    assert held(changes, "2017").level is before_2023
    assert held(changes, "2020").level is before_2023
    assert held(changes, "2023").level is since_2023


def test_the_limit_that_is_broken_is_the_one_shown() -> None:
    assert value_of(held({**COMPRESSOR, "circuit.C5.breaker": "60 A"}).limit) == 54.0
    assert value_of(held({**COMPRESSOR, "circuit.C5.breaker": "50 A"}, "2017").limit) == 42.0


def test_the_fan_is_added_as_it_is() -> None:
    # 1.75 x 20 + 2.5 = 37.5 A; 1.25 x 20 + 2.5 = 27.5 A.
    changes = {**COMPRESSOR, "load.AC.rla": "20 A", "load.AC.fan": "2.5 A"}
    assert device_a(changes, "2017") == 35.0
    assert value_of(circuit(house(changes), "C5").t1_need) == 27.5


def test_a_small_compressor_gets_15_a() -> None:
    changes = {**COMPRESSOR, "load.AC.rla": "5 A"}
    assert device_a(changes, "2017") == 15.0
    assert held(changes, "2017").level is Level.PASS


def test_the_nameplate_governs_over_what_would_be_computed() -> None:
    # 1.75 x 17 + 1.5 = 31.25 A would allow 30 A; the nameplate allows 40 A.
    assert device_a(NAMEPLATE) == 40.0
    assert value_of(circuit(house(NAMEPLATE), "C5").t1_need) == 22.8
    assert held({**NAMEPLATE, "circuit.C5.breaker": "45 A"}, rule="hermetic_nameplate").level is Level.FAIL


def test_a_nameplate_mocp_is_rounded_down() -> None:
    assert device_a({**NAMEPLATE, "load.AC.mocp": "38 A"}) == 35.0


def test_without_mocp_and_without_a_running_current_nothing_is_checked() -> None:
    found = held({**NAMEPLATE, "load.AC.mocp": None, "load.AC.rla": None, "load.AC.fan": None})
    assert found.level is Level.NOT_CHECKED
    assert found.needs == ("load.AC.mocp", "load.AC.rla")


def test_the_conductor_may_be_smaller_than_its_device() -> None:
    found = house({**NAMEPLATE, "circuit.C5.conductor": "10 AWG Cu THWN-2"})
    assert level(found, "hermetic_nameplate.T1", "C5") is Level.PASS
    assert checks(found, "next_size_up", "C5") == [] and checks(found, "small_conductors", "C5") == []


def test_a_conductor_below_mca_fails() -> None:
    assert level(house({**NAMEPLATE, "circuit.C5.conductor": "14 AWG Cu THWN-2"}), "hermetic_nameplate.T1", "C5") is Level.FAIL


def test_a_device_below_the_running_current_fails() -> None:
    assert level(house({**NAMEPLATE, "circuit.C5.breaker": "20 A"}), "hermetic_ocpd.running", "C5") is Level.PASS
    assert level(house({**NAMEPLATE, "circuit.C5.breaker": "15 A"}), "hermetic_ocpd.running", "C5") is Level.FAIL


def test_a_nameplate_mca_below_125_percent_of_the_running_current_looks_misread() -> None:
    # 1.25 x 17 + 1.5 = 22.75 A.
    assert checks(house(NAMEPLATE), "hermetic_nameplate.mca") == []
    assert level(house({**NAMEPLATE, "load.AC.mca": "22.7 A"}), "hermetic_nameplate.mca", "AC") is Level.WARN


def test_fuses_only_is_honoured() -> None:
    assert level(house({**NAMEPLATE, "load.AC.fuses_only": True}), "listed_instructions.fuses", "C5") is Level.FAIL
    fused = {**AT_UNIT, "load.AC.fuses_only": True, "disconnect.DA.device": "40 A", "disconnect.DA.device_kind": "fuse"}
    assert level(house(fused), "listed_instructions.fuses", "C6") is Level.PASS
    assert checks(house(NAMEPLATE), "listed_instructions.fuses") == []


def test_a_fuse_chosen_at_the_unit_follows_mocp_not_the_running_current() -> None:
    fused = {**AT_UNIT, "disconnect.DA.device": None, "disconnect.DA.device_kind": "fuse"}
    device = circuit(house(fused), "C6").device
    assert (value_of(device.rating), device.kind, device.selected) == (40.0, "fuse", True)


def test_a_circuit_through_a_disconnect_is_a_motor_circuit_on_both_sides() -> None:
    found = house(AT_UNIT)
    for tag in ("C5", "C6"):
        assert value_of(circuit(found, tag).t1_need) == 22.8
        assert checks(found, "next_size_up", tag) == []


def test_one_device_is_checked_once_however_many_circuits_it_protects() -> None:
    verdicts = checks(house(AT_UNIT), "hermetic_nameplate")
    assert [(one.subject, one.level) for one in verdicts] == [("C5", Level.PASS)]


def test_a_disconnect_at_the_unit_carries_115_percent() -> None:
    # 1.15 x 18.5 = 21.275 A.
    found = check(house(AT_UNIT), "hermetic_disconnect", "DA")
    assert (found.level, value_of(found.limit)) == (Level.PASS, pytest.approx(21.275))
    assert level(house({**AT_UNIT, "disconnect.DA.rating": "20 A"}), "hermetic_disconnect", "DA") is Level.FAIL


def test_a_disconnect_that_feeds_more_than_the_motor_is_no_part_of_its_circuit() -> None:
    shared = {
        **AT_UNIT,
        "load.PUMP": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "8 A"},
        "circuit.C7": {"from": "DA", "to": "PUMP", "path": ["R6"], "terminals_to": "75 degC"},
    }
    found = house(shared)
    assert checks(found, "hermetic_disconnect") == []
    assert checks(found, "feeder_continuous_conductor.T1", "C5")


def test_every_edition_cites_the_same_sections_for_the_device() -> None:
    assert {held(COMPRESSOR, edition).citation for edition in EDITIONS} == {"440.22(A)"}
