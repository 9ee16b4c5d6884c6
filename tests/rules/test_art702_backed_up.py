"""Panels that are said to be backed up: what separates them, and what is left to feed them."""

from linecalc.check import Level
from tests.houses import check, checks, studied

RULE = "standby_transfer.backed_up"


def test_a_backup_panel_that_nothing_separates_from_the_utility_fails():
    found = studied({"isolation": None, "circuit.C3": None, "circuit.C2.to": "BP", "section.R4": None})
    assert check(found, RULE, "BP").level is Level.FAIL


def test_a_panel_ahead_of_the_isolation_device_is_not_backed_up():
    assert [one.subject for one in checks(studied({"panel.MP.backup": True}), RULE)] == ["MP"]


def test_a_backup_panel_without_a_unit_on_its_side_fails():
    found = studied({"circuit.C1.from": "MP"})
    assert "no unit is left" in check(found, RULE, "BP").message


def test_a_backup_panel_behind_an_isolation_device_with_a_unit_raises_nothing():
    assert not checks(studied(), RULE)
