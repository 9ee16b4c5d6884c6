"""Single conductors outside raceways, exposed PV conductors, raceways in wet places and in the sun."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from tests.houses import checks, level, studied

UNDER_ARRAY = {"section.R1.method": "free air", "section.R1.place": "under array", "section.R1.moisture": "wet"}
OUTDOORS = {"section.R2.place": "outdoor wall", "section.R2.moisture": "wet"}


def test_single_conductors_of_a_feeder_in_free_air_fail_and_in_a_raceway_raise_nothing():
    assert level(studied({"section.R4.method": "free air"}), "conductors_in_methods", "C3") is Level.FAIL
    assert not checks(studied(), "conductors_in_methods")


def test_overhead_service_conductors_may_be_in_free_air():
    assert not checks(studied({"section.R5.method": "free air", "section.R5.size": None}), "conductors_in_methods")


@pytest.mark.parametrize("insulation", ["PV wire", "USE-2"])
def test_exposed_pv_conductors_are_pv_wire_or_use_2(insulation):
    assert not checks(studied({**UNDER_ARRAY, "circuit.P1.conductor": f"10 AWG Cu {insulation}"}), "pv_wiring_methods.exposed")


@pytest.mark.parametrize("insulation", ["THWN-2", "XHHW-2", "RHW-2"])
def test_building_wire_of_a_string_in_free_air_fails(insulation):
    found = studied({**UNDER_ARRAY, "circuit.P1.conductor": f"10 AWG Cu {insulation}"})
    assert level(found, "pv_wiring_methods.exposed", "P1") is Level.FAIL


def test_fmc_fails_in_a_wet_place_and_lfmc_does_not():
    assert level(studied({**OUTDOORS, "section.R2.method": "FMC"}), "raceway_uses", "R2") is Level.FAIL
    assert not checks(studied({**OUTDOORS, "section.R2.method": "LFMC"}), "raceway_uses")
    assert not checks(studied({"section.R2.method": "FMC"}), "raceway_uses")


def test_ent_in_direct_sun_is_a_warning():
    assert level(studied({**OUTDOORS, "section.R2.method": "ENT", "section.R2.sun": True}), "raceway_uses", "R2") is Level.WARN
    assert not checks(studied({**OUTDOORS, "section.R2.method": "ENT", "section.R2.sun": False}), "raceway_uses")
