"""Raceway fill by area, the limits by number, nipples, Note 7 and jamming."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.term import value_of
from tests.houses import check, checks, level, studied


def raceway(found, tag: str):
    return next(one for one in found.sized.raceways if one.section == tag)


def test_fill_counts_every_conductor_with_the_grounding_conductor():
    # R3: 3 x 6 AWG THWN-2 (0.0507) + 10 AWG (0.0211) = 0.1732 in2; EMT 3/4 0.533: 32.5 %.
    found = check(studied({"section.R3.size": "3/4 in"}), "raceway_fill", "R3")
    assert (found.level, value_of(found.limit)) == (Level.PASS, 40.0)
    assert value_of(found.demand) == pytest.approx(100 * 0.1732 / 0.533)


def test_an_overfilled_raceway_fails_and_the_smallest_that_holds_is_chosen():
    # EMT 1/2 0.304: 57 %.
    assert level(studied({"section.R3.size": "1/2 in"}), "raceway_fill", "R3") is Level.FAIL
    assert raceway(studied(), "R3").size == "3/4"


def test_a_nipple_may_be_filled_to_60_percent():
    found = check(studied({"section.R3.size": "1/2 in", "section.R3.length": "24 in"}), "raceway_fill", "R3")
    assert (found.level, value_of(found.limit)) == (Level.PASS, 60.0)


def test_limits_by_number_53_31_40():
    # One conductor 53 %, two 31 %, three or more 40 %.
    two = studied({"circuit.P1.egc": "raceway"})
    assert value_of(raceway(two, "R1").limit_percent) == 31.0
    assert value_of(raceway(studied(), "R1").limit_percent) == 40.0
    assert value_of(two.book.fill_limit(1, 10.0)) == 53.0


def test_spare_conductors_fill_as_large_as_the_largest_and_are_listed():
    # 0.1732 + 2 x 0.0507 = 0.2746 in2: 51.5 % of EMT 3/4, 31.8 % of 1 in (0.864).
    found = studied({"section.R3.spare_conductors": 2})
    assert raceway(found, "R3").size == "1"
    assert value_of(raceway(found, "R3").fill_percent) == pytest.approx(100 * 0.2746 / 0.864)
    assert any(one.path == "section.R3.spare_conductors" for one in found.assumptions)


def test_pv_wire_in_a_raceway_needs_its_diameter():
    pv = {"circuit.P1.conductor": "10 AWG Cu PV wire"}
    missing = check(studied(pv), "raceway_fill", "R1")
    assert missing.level is Level.NOT_CHECKED and missing.needs == ("circuit.P1.diameter",)
    # 2 x pi/4 x 0.25^2 + 10 AWG THWN-2 0.0211 = 0.1193 in2.
    known = check(studied({**pv, "circuit.P1.diameter": "0.25 in", "section.R1.size": "3/4 in"}), "raceway_fill", "R1")
    assert value_of(known.demand) == pytest.approx(100 * (2 * 3.14159265 / 4 * 0.0625 + 0.0211) / 0.533, rel=1e-6)


def test_a_bare_grounding_conductor_takes_its_bare_area():
    # 10 AWG bare stranded 0.011 in2.
    found = raceway(studied({"circuit.C2.egc": "10 AWG Cu bare"}), "R3")
    assert value_of(found.area_in2) == pytest.approx(3 * 0.0507 + 0.011)


def test_note_7_is_the_alternative_for_conductors_of_one_size():
    # 8 x 8 AWG THW 0.0437 = 0.3496 over 40 % of EMT 1 in (0.346): 7.92, and 0.92 counts as one more.
    # Mike Holt Forum, "Annex C1 error", https://forums.mikeholt.com/threads/annex-c1-error.133481: Annex C says 8.
    eight = {
        "circuit.C2.conductor": "8 AWG Cu THW",
        "circuit.C2.breaker": "40 A",
        "circuit.C2.egc": "8 AWG Cu THW",
        "circuit.C2.neutral": "8 AWG Cu THW",
        "section.R3.spare_conductors": 4,
        "section.R3.size": "1 in",
    }
    found = check(studied(eight), "raceway_fill", "R3")
    assert found.level is Level.PASS and "Note 7" in found.message
    assert level(studied({**eight, "section.R3.spare_conductors": 5}), "raceway_fill", "R3") is Level.FAIL


def test_no_trade_size_large_enough_fails():
    full = {"section.R3.spare_conductors": 100, "circuit.C2.conductor": "500 kcmil Cu THWN-2"}
    assert level(studied(full), "raceway_fill", "R3") is Level.FAIL


def test_free_air_has_no_fill():
    free = {
        "section.R1": {"method": "free air", "place": "under array", "ambient": "60 degC", "length": "30 ft"},
        "circuit.P1.conductor": "10 AWG Cu PV wire",
    }
    assert checks(studied(free), "raceway_fill", "R1") == []


def test_three_conductors_of_one_size_can_jam():
    # 3 x 1 AWG THWN-2, 0.1562 in2: d 0.446 in. EMT 1-1/4, d 1.380 in: ratio 3.09; 2 in, 2.067: 4.6.
    jam = {"circuit.C2.conductor": "1 AWG Cu THWN-2", "circuit.C2.neutral": "1 AWG Cu THWN-2"}
    found = check(studied({**jam, "section.R3.size": "1-1/4 in"}), "raceway_notes", "R3")
    assert found.level is Level.NOTE and "3.09" in found.message
    assert checks(studied({**jam, "section.R3.size": "2 in"}), "raceway_notes") == []
