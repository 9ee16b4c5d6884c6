"""Circuits of cooking appliances: load by Table 220.55 Note 4, 40 A at least, reduced neutrals, and what feeders carry of them."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.codebook import EDITIONS
from linecalc.network.records import Mode
from linecalc.term import value_of
from tests.houses import check, checks, circuit, level, studied

RANGE = {"panel": "MP", "kind": "range", "voltage": "240 V"}
PATH = {"from": "MP", "path": ["R2"], "material": "Cu", "insulation": "THWN-2"}


def cooking(loads, changes=None, edition=None):
    """The test house with cooking appliances, each on a circuit of its own: K1, K2, ..."""
    added = {}
    for number, (tag, load) in enumerate(loads.items(), 1):
        added |= {f"load.{tag}": {**RANGE, **load}, f"circuit.K{number}": {**PATH, "to": tag}}
    return studied({**added, **(changes or {})}, edition=edition)


def one_circuit(loads, changes=None):
    """The test house with cooking appliances behind one box, K0 to the box."""
    taps = {f"circuit.K{number}.from": "BOX" for number in range(1, len(loads) + 1)}
    box = {"junction.BOX": {"terminals": "75 degC"}, "circuit.K0": {**PATH, "to": "BOX"}}
    return cooking(loads, {**box, **taps, **(changes or {})})


def supply(found, tag):
    current = circuit(found, tag).currents.of(Mode.SUPPLY)
    return value_of(current.continuous) + value_of(current.noncontinuous)


# Source: NEC Annex D, Example D4(a), in the Pocket Guide to the NEC 2005 (flylib): a range up to 12 kW on a circuit of
# 8000 VA / 240 V = 33 A, two 8 AWG and one 10 AWG, https://flylib.com/books/en/2.419.1/example_no_d4_a_multifamily_dwelling.html
@pytest.mark.parametrize("edition", EDITIONS)
def test_a_12_kw_range_is_a_circuit_of_33_a_on_8_awg_with_a_10_awg_neutral(edition):
    found = cooking({"RANGE": {"power": "12 kW"}}, {"circuit.K1.neutral": "10 AWG Cu THWN-2"}, edition)
    assert supply(found, "K1") == pytest.approx(8000.0 / 240.0)
    sized = circuit(found, "K1")
    assert (value_of(sized.device.rating), sized.conductor.size) == (40.0, "8 AWG")
    assert level(found, "cooking_circuit", "K1") is Level.PASS
    assert level(found, "cooking_circuit.neutral", "K1") is Level.PASS


# Source: NEC Annex D, Example D4(b), same book: an 8 kW range, 80 % of column B, 27 A, three 10 AWG,
# https://flylib.com/books/en/2.419.1/example_no_d4_b_optional_calculation_for_multifamily_dwelling.html
def test_an_8_kw_range_is_a_circuit_of_27_a_on_10_awg():
    found = cooking({"RANGE": {"power": "8 kW"}})
    assert supply(found, "K1") == pytest.approx(26.67, abs=0.01)
    assert (value_of(circuit(found, "K1").device.rating), circuit(found, "K1").conductor.size) == (30.0, "10 AWG")
    assert checks(found, "cooking_circuit") == []


# Source: Mike Holt Forum, Single branch circuit for a cooktop and not more than two ovens: 6.6 + 7.45 = 14.05 kW,
# 110 % of 8 kW, 8800 / 240 = 36.6 A, 40 A,
# https://forums.mikeholt.com/threads/single-branch-circuit-for-a-cooktop-and-not-more-than-two-ovens-220-55-note-4.129189/
def test_a_cooktop_and_an_oven_on_one_circuit_are_one_range():
    found = one_circuit({"TOP": {"kind": "cooktop", "power": "7.45 kW"}, "OVEN": {"kind": "oven", "power": "6.6 kW"}})
    assert supply(found, "K0") == pytest.approx(36.67, abs=0.01)
    assert value_of(circuit(found, "K0").device.rating) == 40.0
    assert supply(found, "K1") == pytest.approx(7450.0 / 240.0)
    assert any(one.path == "junction.BOX.location" and "same room" in one.reason for one in found.assumptions)


# Source: Mike Holt Forum, Feeder to Dwelling unit with 1 oven: 7.2 + 2 x 2.4 = 12 kW, taken as 8 kW, 40 A,
# https://forums.mikeholt.com/threads/feeder-to-dwelling-unit-with-1-oven.2568725
def test_a_cooktop_and_two_ovens_of_12_kw_together_are_8_kw():
    found = one_circuit({"TOP": {"kind": "cooktop", "power": "7.2 kW"}, "O1": {"kind": "oven", "power": "2.4 kW"}, "O2": {"kind": "oven", "power": "2.4 kW"}})
    assert supply(found, "K0") == pytest.approx(8000.0 / 240.0)
    assert level(found, "cooking_circuit_load", "K0") is Level.NOTE


def test_three_ovens_on_one_circuit_count_by_their_nameplates():
    loads = {"TOP": {"kind": "cooktop", "power": "4.8 kW"}, **{f"O{n}": {"kind": "oven", "power": "2.4 kW"} for n in (1, 2, 3)}}
    assert supply(one_circuit(loads), "K0") == pytest.approx((4800.0 + 3 * 2400.0) / 240.0)


def test_one_oven_counts_by_its_nameplate_on_its_own_circuit():
    found = cooking({"OVEN": {"kind": "oven", "power": "6.6 kW"}})
    assert supply(found, "K1") == pytest.approx(27.5)
    assert checks(found, "cooking_circuit_load") == []


def test_a_range_of_8_75_kw_on_35_a_fails():
    # 80 % of 8.75 kW: 29.2 A, which 35 A would carry
    found = cooking({"RANGE": {"power": "8.75 kW"}}, {"circuit.K1.breaker": "35 A"})
    assert level(found, "cooking_circuit", "K1") is Level.FAIL
    smaller = cooking({"RANGE": {"power": "8.7 kW"}}, {"circuit.K1.breaker": "35 A"})
    assert checks(smaller, "cooking_circuit") == []


def test_a_range_of_unknown_power_is_left_with_its_stated_current():
    found = cooking({"RANGE": {"current": "50 A"}})
    assert supply(found, "K1") == 50.0 and checks(found, "cooking_circuit") == []


def test_conductors_of_a_range_carry_the_rating_of_its_device():
    # 8 AWG at 60 degC carries 40 A: a 45 A device would be the next size up, which cooking circuits do not get
    given = {"circuit.K1.breaker": "45 A", "circuit.K1.conductor": "8 AWG Cu THWN-2"}
    found = cooking({"RANGE": {"power": "12 kW"}}, given)
    assert not circuit(found, "K1").protection.protected


def test_a_reduced_neutral_below_70_percent_or_below_10_awg_fails():
    # 50 A circuit: 35 A needed, 10 AWG at 60 degC carries 30 A
    fifty = {"circuit.K1.breaker": "50 A", "circuit.K1.neutral": "10 AWG Cu THWN-2"}
    found = check(cooking({"RANGE": {"power": "16 kW"}}, fifty), "cooking_circuit.neutral")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.FAIL, 30.0, 35.0)
    thin = {"circuit.K1.neutral": "12 AWG Cu THWN-2"}
    assert level(cooking({"RANGE": {"power": "8 kW"}}, thin), "cooking_circuit.neutral") is Level.FAIL


def test_a_range_has_a_neutral_and_a_cooktop_may_have_none():
    assert circuit(cooking({"RANGE": {"power": "12 kW"}}), "K1").neutral.size == "8 AWG"
    without = cooking({"TOP": {"kind": "cooktop", "power": "7.2 kW"}}, {"circuit.K1.neutral": "none"})
    assert circuit(without, "K1").neutral is None and checks(without, "load_neutral", "K1") == []


def test_a_feeder_counts_70_percent_of_a_range_on_its_neutral():
    # 12 kW on BP beside no other load: 50 A on each leg, 35 A on the neutral of the feeder
    found = studied({"load.BACKUP": {**RANGE, "panel": "BP", "power": "12 kW"}})
    current = circuit(found, "C3").currents.of(Mode.SUPPLY)
    assert value_of(current.noncontinuous) == pytest.approx(50.0)
    assert value_of(current.neutral) == pytest.approx(35.0)


def test_a_circuit_to_a_box_of_loads_is_a_branch_circuit():
    found = one_circuit({"TOP": {"kind": "cooktop", "power": "7.2 kW"}, "OVEN": {"kind": "oven", "power": "2.4 kW"}})
    keys = {one.rule for one in found.checks if one.subject == "K0"}
    assert {"branch_continuous_conductor.T1", "branch_continuous_ocpd", "voltage_drop_branch_note"} <= keys
    assert not any(key.startswith("feeder") for key in keys)
