"""The largest single load as the chosen method of an island behind a utility service."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import check, checks, level, studied

LARGEST = {
    "backup.method": "largest single load",
    "load.BACKUP": None,
    "load.PUMP": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "power": "4.8 kVA"},
    "load.OVEN": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "power": "7.2 kVA"},
    "load.SAUNA": {"panel": "MP", "kind": "appliance", "voltage": "240 V", "power": "12 kVA"},
}


def test_the_largest_backed_up_load_is_held_against_firm_power():
    # The sauna is not backed up; the oven takes 7.2 kVA of 40 A x 240 V = 9.6 kVA.
    found = check(studied(LARGEST), "standalone_capacity", "system")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 7200.0, 9600.0)
    large = {**LARGEST, "load.OVEN.power": "9.84 kVA"}
    assert level(studied(large), "standalone_capacity", "system") is Level.FAIL


def test_the_full_load_is_not_held_against_firm_power_then_but_printed():
    found = studied(LARGEST)
    assert checks(found, "standby_capacity", "system") == []
    # 4.8 + 7.2 = 12 kVA of 9.6 kVA.
    assert check(found, "standalone_capacity.whole", "system").message.endswith("loads must be chosen by hand")


def test_without_a_single_load_nothing_can_be_checked():
    found = studied({"backup.method": "largest single load"})
    assert level(found, "standalone_capacity", "system") is Level.NOT_CHECKED


@pytest.mark.parametrize(("edition", "expected"), [("2017", Level.NOTE), ("2020", Level.NOTE), ("2023", Level.WARN)])
def test_the_edition_says_whether_its_article_covers_the_island(edition: str, expected: Level):
    assert level(studied(LARGEST, edition=edition), "standalone_capacity.scope", "system") is expected


def test_another_method_asks_nothing_of_the_largest_load():
    assert checks(studied(), "standalone_capacity", "system") == []
