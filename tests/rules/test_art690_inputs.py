"""Inputs of a unit: current limits, fuses of strings, array power.

Module: Isc 13 A, Imp 12 A, 400 W, series fuse 25 A. Unit: two inputs of 14 A
working and 18 A short-circuit current, 12 kW array at most, 9.6 kW AC, 5 kW charging.
"""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import check, checks, level, studied

SECOND = {
    "string.S2": {"module": "mod", "count": 10, "to": "U1", "input": 1},
    "circuit.P2": {"from": "S2", "to": "U1", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
}
WIDE = {"equipment.unit-a.mppt_current": "30 A", "equipment.unit-a.mppt_short_circuit": "45 A"}


def test_short_circuit_current_of_one_string_is_within_the_rating():
    found = check(studied(), "mppt_limit.short_circuit", "S1")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 13.0, 18.0)


def test_two_strings_on_one_input_add_and_fail():
    found = check(studied(SECOND), "mppt_limit.short_circuit", "S1")
    assert (found.level, value_of(found.demand)) == (Level.FAIL, 26.0)


def test_two_strings_on_two_inputs_do_not_add():
    found = studied({**SECOND, "string.S2.input": 2})
    assert [value_of(one.demand) for one in checks(found, "mppt_limit.short_circuit")] == [13.0, 13.0]


def test_an_unknown_short_circuit_rating_is_not_checked():
    assert level(studied({"equipment.unit-a.mppt_short_circuit": None}), "mppt_limit.short_circuit", "S1") is Level.NOT_CHECKED


def test_raised_short_circuit_current_warns_unless_the_rating_is_at_stc():
    # 1.25 x 13 = 16.25 A against 16 A.
    tight = {"equipment.unit-a.mppt_short_circuit": "16 A"}
    assert level(studied(tight), "mppt_limit.short_circuit_raised", "S1") is Level.WARN
    assert checks(studied({**tight, "equipment.unit-a.mppt_short_circuit_basis": "STC"}), "mppt_limit.short_circuit_raised") == []
    assert level(studied({**tight, "equipment.unit-a.mppt_short_circuit_basis": "1.25 Isc"}), "mppt_limit.short_circuit_raised", "S1") is Level.FAIL
    assert checks(studied({"equipment.unit-a.mppt_short_circuit": "16.25 A"}), "mppt_limit.short_circuit_raised") == []


def test_working_current_above_the_range_clips_and_warns():
    assert level(studied(), "mppt_limit.working", "S1") is Level.PASS
    found = check(studied({"equipment.unit-a.mppt_current": "11.5 A"}), "mppt_limit.working", "S1")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.WARN, 12.0, 11.5)
    assert level(studied({"equipment.unit-a.mppt_current": None}), "mppt_limit.working", "S1") is Level.NOT_CHECKED


def test_a_string_without_an_input_is_not_checked_unless_the_unit_has_only_one():
    assert level(studied({"string.S1.input": None}), "mppt_limit", "S1") is Level.NOT_CHECKED
    found = studied({"string.S1.input": None, "equipment.unit-a.mppt": 1})
    assert checks(found, "mppt_limit") == []
    assert level(found, "mppt_limit.short_circuit", "S1") is Level.PASS


def test_unequal_strings_on_an_input_warn():
    assert checks(studied({**SECOND, **WIDE}), "mppt_limit.equal") == []
    assert level(studied({**SECOND, **WIDE, "string.S2.count": 9}), "mppt_limit.equal", "S1") is Level.WARN


def test_one_string_and_no_backfeed_needs_no_fuse():
    found = check(studied(), "pv_ocpd_not_required", "S1")
    assert (found.level, value_of(found.demand)) == (Level.PASS, 0.0)


def test_two_strings_need_no_fuse_where_the_other_stays_within_fuse_rating_and_conductors():
    # 1.25 x 13 + 0 = 16.25 A; fuse 25 A. 10 AWG at 50 degC, 4 conductors in R1:
    # 40 x 0.82 x 0.8 = 26.24 A, terminals 75: 35 A.
    found = check(studied({**SECOND, **WIDE}), "pv_ocpd_not_required", "S1")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 16.25, 25.0)


def test_backfeed_of_the_unit_counts_and_can_call_for_fuses():
    found = check(studied({**SECOND, **WIDE, "equipment.unit-a.backfeed_current": "10 A"}), "pv_ocpd_not_required", "S1")
    assert (found.level, value_of(found.demand)) == (Level.FAIL, 26.25)


def test_three_strings_push_two_currents():
    third = {
        "string.S3": {"module": "mod", "count": 10, "to": "U1", "input": 1},
        "circuit.P3": {"from": "S3", "to": "U1", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
    }
    found = check(studied({**SECOND, **WIDE, **third}), "pv_ocpd_not_required", "S1")
    assert (found.level, value_of(found.demand)) == (Level.FAIL, 32.5)


def test_conductors_of_a_string_smaller_than_the_other_strings_current_call_for_fuses():
    # 14 AWG at 50 degC, 4 conductors: 25 x 0.82 x 0.8 = 16.4 A, terminals 75: 20 A. 16.25 + 1 = 17.25 A.
    small = {"circuit.P2.conductor": "14 AWG Cu THWN-2", "equipment.unit-a.backfeed_current": "1 A"}
    found = check(studied({**SECOND, **WIDE, **small}), "pv_ocpd_not_required", "S1")
    assert found.level is Level.FAIL
    assert value_of(found.limit) == pytest.approx(16.4)


@pytest.mark.parametrize("path", ["equipment.mod.series_fuse", "equipment.unit-a.backfeed_current"])
def test_unknown_backfeed_or_fuse_rating_is_not_checked(path):
    assert level(studied({path: None}), "pv_ocpd_not_required", "S1") is Level.NOT_CHECKED


FUSED = {**SECOND, **WIDE, "string.S1.fuse": "25 A", "string.S2.fuse": "25 A"}


def test_a_string_fuse_is_within_the_module_rating_and_protects_the_string_conductors():
    # Needs 1.25 x 16.25 = 20.3 A; 25 A fuse on 10 AWG with 26.24 A.
    found = studied(FUSED)
    assert level(found, "pv_ocpd", "S1") is Level.PASS
    assert checks(found, "pv_ocpd_not_required") == []
    fuse = check(found, "pv_ocpd", "P1")
    assert (fuse.level, value_of(fuse.demand)) == (Level.PASS, 25.0)
    assert value_of(fuse.limit) == pytest.approx(20.3125)
    assert level(found, "next_size_up", "P1") is Level.PASS


def test_a_string_fuse_above_the_module_rating_fails():
    assert level(studied({**FUSED, "string.S1.fuse": "30 A"}), "pv_ocpd", "S1") is Level.FAIL
    assert level(studied({**FUSED, "equipment.mod.series_fuse": None}), "pv_ocpd", "S1") is Level.NOT_CHECKED


def test_a_string_fuse_below_156_percent_of_isc_fails():
    assert level(studied({**FUSED, "string.S1.fuse": "20 A"}), "pv_ocpd", "P1") is Level.FAIL


def test_array_power_against_the_stated_maximum():
    # 10 x 400 = 4000 W.
    found = check(studied(), "array_power_limit", "U1")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 4000.0, 12000.0)
    assert level(studied({"equipment.unit-a.array_power_max": "3.9 kW"}), "array_power_limit", "U1") is Level.FAIL
    assert checks(studied({"equipment.unit-a.array_power_max": None}), "array_power_limit") == []


def test_array_power_of_an_input():
    found = check(studied({"equipment.unit-a.input_power_max": "3.9 kW"}), "array_power_limit.input", "S1")
    assert (found.level, value_of(found.demand)) == (Level.FAIL, 4000.0)
    assert level(studied({"equipment.unit-a.input_power_max": "4 kW"}), "array_power_limit.input", "S1") is Level.PASS


def test_usable_array_power_is_ac_rating_and_charge_rate_and_only_warns():
    # 9.6 + 5 = 14.6 kW.
    found = check(studied(), "usable_array_power", "U1")
    assert (found.level, value_of(found.limit), found.citation) == (Level.PASS, 14600.0, "common practice, no source")
    small = {"equipment.unit-a.ac_power": "2 kW", "equipment.unit-a.charge_power": "1 kW"}
    assert level(studied(small), "usable_array_power", "U1") is Level.WARN
