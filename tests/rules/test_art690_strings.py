"""690.7 and the MPPT window: cold and hot voltage of strings.

Module of the test house: Voc 40 V, -0.25 %/K, Vmp 33 V, Pmax -0.35 %/K; 10 in
series; -15 degC low, 35 degC high, on a rack.
"""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import check, checks, level, studied


def test_cold_voltage_by_the_coefficient():
    # 10 x 40 x (1 + 0.0025 x 40) = 440 V against 600 V.
    found = check(studied(), "pv_max_voltage", "S1")
    assert found.level is Level.PASS
    assert value_of(found.demand) == pytest.approx(440.0)
    assert value_of(found.limit) == 600.0


def test_cold_voltage_above_600_volts_fails_and_says_how_many_modules_pass():
    # 14 x 44 = 616 V; 13 x 44 = 572 V.
    found = check(studied({"string.S1.count": 14}), "pv_max_voltage", "S1")
    assert found.level is Level.FAIL
    assert value_of(found.demand) == pytest.approx(616.0)
    assert found.flip == "passes to 13 modules in series"


def test_cold_voltage_exactly_at_the_limit_passes():
    # 10 x 40 x 1.1 = 440 V unit.
    assert level(studied({"equipment.unit-a.dc_voltage_max": "440 V"}), "pv_max_voltage", "S1") is Level.PASS
    assert level(studied({"equipment.unit-a.dc_voltage_max": "439 V"}), "pv_max_voltage", "S1") is Level.FAIL


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"equipment.unit-a.dc_voltage_max": "430 V"}, "the maximum of U1"),
        ({"equipment.mod.system_voltage": "430 V"}, "the modules' system voltage"),
        ({"circuit.P1.voltage_rating": "430 V"}, "the insulation of P1"),
    ],
)
def test_every_rating_on_the_way_is_a_limit(changes, name):
    found = check(studied(changes), "pv_max_voltage", "S1")
    assert found.level is Level.FAIL
    assert name in found.message
    assert value_of(found.limit) == 430.0


DISCONNECT = {
    "disconnect.D1": {"rating": "30 A", "dc_voltage": "600 V", "terminals": "75 degC"},
    "circuit.P1": {"from": "S1", "to": "D1", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
    "circuit.P2": {"from": "D1", "to": "U1", "path": ["R2"], "conductor": "10 AWG Cu THWN-2"},
}


def test_a_disconnect_on_the_way_must_have_a_dc_rating():
    assert level(studied(DISCONNECT), "pv_max_voltage", "S1") is Level.PASS
    low = check(studied({**DISCONNECT, "disconnect.D1.dc_voltage": "400 V"}), "pv_max_voltage", "S1")
    assert low.level is Level.FAIL and "the DC rating of D1" in low.message
    missing = check(studied({**DISCONNECT, "disconnect.D1.dc_voltage": None}), "pv_max_voltage", "S1")
    assert missing.level is Level.NOT_CHECKED and missing.needs == ("disconnect.D1.dc_voltage",)


@pytest.mark.parametrize(
    ("path", "need"),
    [
        ("site.low_temperature", "site.low_temperature"),
        ("equipment.unit-a.dc_voltage_max", "equipment.unit-a.dc_voltage_max"),
        ("equipment.mod.system_voltage", "equipment.mod.system_voltage"),
    ],
)
def test_a_missing_limit_or_temperature_is_not_checked(path, need):
    found = check(studied({path: None}), "pv_max_voltage", "S1")
    assert found.level is Level.NOT_CHECKED
    assert need in found.needs


def test_a_string_above_a_known_limit_fails_even_where_another_limit_is_missing():
    found = studied({"equipment.mod.system_voltage": None, "string.S1.count": 14})
    assert level(found, "pv_max_voltage", "S1") is Level.FAIL


def test_without_a_coefficient_the_table_decides_for_crystalline_silicon():
    # Table 690.7(A): -11 to -15 degC 1.16. 400 x 1.16 = 464 V.
    found = check(studied({"equipment.mod.voc_coefficient": None}), "pv_max_voltage", "S1")
    assert found.level is Level.PASS
    assert value_of(found.demand) == pytest.approx(464.0)


def test_without_a_coefficient_other_technologies_are_not_checked():
    found = check(studied({"equipment.mod.voc_coefficient": None, "equipment.mod.technology": "thin film"}), "pv_max_voltage", "S1")
    assert found.level is Level.NOT_CHECKED


def test_a_coefficient_in_volts_per_kelvin_gives_the_same_as_in_percent():
    # -0.25 % of 40 V = -0.1 V/K = -100 mV/K.
    for written in ("-0.1 V/K", "-100 mV/K"):
        found = check(studied({"equipment.mod.voc_coefficient": written}), "pv_max_voltage", "S1")
        assert value_of(found.demand) == pytest.approx(440.0)


def test_the_table_is_printed_beside_the_coefficient_and_only_as_a_note():
    found = check(studied(), "pv_voltage_table", "S1")
    assert found.level is Level.NOTE
    assert "464 V" in found.message and "440 V" in found.message
    assert checks(studied({"equipment.mod.voc_coefficient": None}), "pv_voltage_table") == []


def test_the_table_takes_the_colder_band():
    # -16 degC lies in the band -16 to -20: 1.18.
    found = check(studied({"site.low_temperature": "-16 degC", "equipment.mod.voc_coefficient": None}), "pv_max_voltage", "S1")
    assert value_of(found.demand) == pytest.approx(472.0)


def test_colder_than_the_table_does_not_stop_the_study():
    assert level(studied({"site.low_temperature": "-45 degC"}), "pv_max_voltage", "S1") is Level.PASS
    alone = studied({"site.low_temperature": "-45 degC", "equipment.mod.voc_coefficient": None})
    assert level(alone, "pv_max_voltage", "S1") is Level.NOT_CHECKED


def test_hot_working_voltage_on_a_rack():
    # T_cell = 35 + 30 = 65; 330 x (1 - 0.0035 x 40) = 283.8 V.
    found = check(studied(), "mppt_window.hot", "S1")
    assert found.level is Level.PASS
    assert value_of(found.demand) == pytest.approx(283.8)


@pytest.mark.parametrize(("mounting", "volts"), [("close to roof", 278.025), ("rack", 283.8), ("ground", 289.575)])
def test_cell_temperature_by_mounting(mounting, volts):
    # 35, 30, 25 K over 35 degC: 330 x (1 - 0.0035 x (45, 40, 35)).
    found = check(studied({"string.S1.mounting": mounting}), "mppt_window.hot", "S1")
    assert value_of(found.demand) == pytest.approx(volts)


def test_cell_temperature_by_noct_where_no_mounting_is_given():
    # 35 + (45 - 20) x 1.25 = 66.25; 330 x (1 - 0.0035 x 41.25) = 282.35625 V.
    found = check(studied({"site.mounting": None, "equipment.mod.noct": "45 degC"}), "mppt_window.hot", "S1")
    assert value_of(found.demand) == pytest.approx(282.35625)


def test_without_mounting_and_noct_the_hottest_mounting_is_assumed_and_listed():
    found = studied({"site.mounting": None})
    assert value_of(check(found, "mppt_window.hot", "S1").demand) == pytest.approx(278.025)
    assert any(one.path == "string.S1.mounting" for one in found.assumptions)


def test_a_vmp_coefficient_in_volts_per_kelvin_is_taken_as_its_share_of_vmp():
    # -99 mV/K of 33 V is -0.30 %/K
    in_volts = check(studied({"equipment.mod.vmp_coefficient": "-99 mV/K"}), "mppt_window.hot", "S1")
    in_percent = check(studied({"equipment.mod.vmp_coefficient": "-0.30 %/K"}), "mppt_window.hot", "S1")
    assert value_of(in_volts.demand) == pytest.approx(value_of(in_percent.demand), rel=1e-12)


def test_the_vmp_coefficient_goes_before_that_of_pmax_and_that_of_voc_is_never_taken():
    found = check(studied({"equipment.mod.vmp_coefficient": "-0.30 %/K"}), "mppt_window.hot", "S1")
    assert value_of(found.demand) == pytest.approx(330 * (1 - 0.0030 * 40))
    missing = check(studied({"equipment.mod.pmax_coefficient": None}), "mppt_window.hot", "S1")
    assert missing.level is Level.NOT_CHECKED


def test_below_the_window_is_a_warning_never_a_failure():
    found = check(studied({"equipment.unit-a.mppt_window": ["290 V", "500 V"]}), "mppt_window.hot", "S1")
    assert found.level is Level.WARN


@pytest.mark.parametrize("path", ["equipment.unit-a.mppt_window", "site.high_temperature"])
def test_an_unknown_window_or_temperature_is_not_checked(path):
    assert level(studied({path: None}), "mppt_window.hot", "S1") is Level.NOT_CHECKED


def test_cold_working_voltage_above_the_window_is_a_note():
    # 330 x (1 + 0.0035 x 40) = 376.2 V.
    assert checks(studied(), "mppt_window.cold") == []
    found = check(studied({"equipment.unit-a.mppt_window": ["90 V", "370 V"]}), "mppt_window.cold", "S1")
    assert found.level is Level.NOTE and "376.2 V" in found.message


def test_with_mounting_and_noct_the_hotter_cell_temperature_decides():
    # Rack: 35 + 30 = 65 degC; NOCT 50: 35 + (50 - 20) x 1000 / 800 = 72.5 degC; NOCT 43: 63.75 degC.
    hotter = studied({"equipment.mod.noct": "50 degC"}).sized.strings[0]
    cooler = studied({"equipment.mod.noct": "43 degC"}).sized.strings[0]
    assert value_of(hotter.cell_c) == 72.5
    assert value_of(cooler.cell_c) == 65.0
