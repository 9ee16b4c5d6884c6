"""Devices and what they protect (T3); cases worked by hand from the wording of 240.4 and 240.6."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.compare import at_most
from linecalc.calc.overcurrent import (
    ProtectionBasis,
    ampacity_to_protect,
    device_need,
    largest_standard_at_or_below,
    next_standard_at_or_above,
    protected_by_device,
)
from linecalc.term import given
from tests.calc.strategies import AMPERES, MORE

RATINGS = [
    15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0, 150.0, 175.0, 200.0,
    225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0, 700.0, 800.0, 1000.0, 1200.0, 1600.0, 2000.0,
]  # fmt: skip


def test_a_40_ampere_unit_needs_a_50_ampere_device() -> None:
    assert device_need(40.0, 0.0) == 50.0
    assert next_standard_at_or_above(RATINGS, 50.0) == 50.0


def test_a_need_just_above_a_standard_rating_takes_the_next() -> None:
    assert next_standard_at_or_above(RATINGS, 50.01) == 60.0


def test_a_need_equal_but_for_binary_representation_takes_the_same_rating() -> None:
    assert next_standard_at_or_above(RATINGS, 50.0 * (1 + 1e-12)) == 50.0


def test_a_maximum_is_rounded_down() -> None:
    assert largest_standard_at_or_below(RATINGS, 59.9) == 50.0
    assert largest_standard_at_or_below(RATINGS, 60.0) == 60.0


def test_beyond_the_standard_ratings_there_is_none() -> None:
    assert next_standard_at_or_above(RATINGS, 2000.1) is None
    assert largest_standard_at_or_below(RATINGS, 14.9) is None
    assert next_standard_at_or_above([], 20.0) is None


def test_the_order_of_the_ratings_decides_nothing() -> None:
    assert next_standard_at_or_above(RATINGS[::-1], 41.0) == 45.0
    assert largest_standard_at_or_below(RATINGS[::-1], 41.0) == 40.0


def test_the_rating_found_keeps_its_origin() -> None:
    ratings = [given(rating, "A", "I_std", f"table:240.6-A/{rating:g}") for rating in (40.0, 45.0)]
    assert next_standard_at_or_above(ratings, 41.0) is ratings[1]


def test_the_lower_of_terminals_and_conditions_is_protected() -> None:
    assert ampacity_to_protect(65.0, 54.0) == 54.0
    assert ampacity_to_protect(55.0, 75.0) == 55.0


def test_a_device_equal_to_the_ampacity_protects() -> None:
    result = protected_by_device(50.0, 50.0, RATINGS, True)
    assert (result.protected, result.limit_a, result.basis) == (True, 50.0, ProtectionBasis.WITHIN_AMPACITY)


def test_55_amperes_may_have_a_60_ampere_device() -> None:
    result = protected_by_device(55.0, 60.0, RATINGS, True)
    assert (result.protected, result.limit_a, result.basis) == (True, 60.0, ProtectionBasis.NEXT_SIZE_UP)
    assert result.cite == "next_size_up"


def test_55_amperes_may_not_have_a_70_ampere_device() -> None:
    result = protected_by_device(55.0, 70.0, RATINGS, True)
    assert (result.protected, result.limit_a, result.basis) == (False, 60.0, ProtectionBasis.ABOVE_LIMIT)


def test_an_ampacity_that_is_a_standard_size_has_no_next_size() -> None:
    result = protected_by_device(50.0, 60.0, RATINGS, True)
    assert (result.protected, result.limit_a) == (False, 50.0)


def test_an_ampacity_that_is_a_standard_size_but_for_binary_representation_has_none_either() -> None:
    ampacity = 50.0 * (1 - 1e-12)
    assert not protected_by_device(ampacity, 60.0, RATINGS, True).protected
    assert protected_by_device(ampacity, 50.0, RATINGS, True).protected


def test_a_branch_circuit_for_several_receptacles_gets_no_next_size() -> None:
    result = protected_by_device(55.0, 60.0, RATINGS, False)
    assert (result.protected, result.limit_a) == (False, 55.0)
    assert protected_by_device(55.0, 50.0, RATINGS, False).protected


@pytest.mark.parametrize(
    ("ampacity", "device", "protected", "limit"),
    [
        (760.0, 800.0, True, 800.0),
        (800.0, 800.0, True, 800.0),
        (800.1, 1000.0, False, 800.1),
        (960.0, 1000.0, False, 960.0),
        (1000.0, 1000.0, True, 1000.0),
    ],
)
def test_above_800_amperes_the_conductor_carries_the_device(ampacity, device, protected, limit) -> None:
    result = protected_by_device(ampacity, device, RATINGS, True)
    assert (result.protected, result.limit_a) == (protected, limit)


def test_the_next_size_must_itself_be_within_800_amperes() -> None:
    assert not protected_by_device(760.0, 801.0, [700.0, 801.0], True).protected
    assert protected_by_device(760.0, 800.0, [700.0, 800.0], True).protected


def test_above_800_amperes_the_clause_cited_is_the_one_for_it() -> None:
    assert protected_by_device(960.0, 1000.0, RATINGS, True).cite == "over_800"


def test_a_device_that_is_not_standard_is_held_against_the_same_limit() -> None:
    assert protected_by_device(54.0, 58.0, RATINGS, True).protected
    assert not protected_by_device(54.0, 60.5, RATINGS, True).protected


@for_all(AMPERES, MORE)
def test_more_current_never_needs_a_smaller_device(current: float, more: float) -> None:
    assert device_need(current + more, 0.0) >= device_need(current, 0.0)
    assert device_need(0.0, current + more) >= device_need(0.0, current)


@for_all(AMPERES, MORE, st.sampled_from(RATINGS), st.booleans())
def test_what_protects_a_weaker_conductor_protects_a_stronger_one(ampacity, more, device, allowed) -> None:
    if protected_by_device(ampacity, device, RATINGS, allowed).protected:
        assert protected_by_device(ampacity + more, device, RATINGS, allowed).protected


@for_all(AMPERES, st.sampled_from(RATINGS), st.sampled_from(RATINGS), st.booleans())
def test_a_smaller_device_protects_whatever_a_larger_one_does(ampacity, device, other, allowed) -> None:
    smaller, larger = min(device, other), max(device, other)
    if protected_by_device(ampacity, larger, RATINGS, allowed).protected:
        assert protected_by_device(ampacity, smaller, RATINGS, allowed).protected


@for_all(AMPERES, st.sampled_from(RATINGS))
def test_forbidding_the_next_size_never_helps(ampacity: float, device: float) -> None:
    if protected_by_device(ampacity, device, RATINGS, False).protected:
        assert protected_by_device(ampacity, device, RATINGS, True).protected


@for_all(AMPERES, st.sampled_from(RATINGS), st.booleans())
def test_the_limit_itself_is_the_border(ampacity: float, device: float, allowed: bool) -> None:
    result = protected_by_device(ampacity, device, RATINGS, allowed)
    assert result.protected == at_most(device, result.limit_a)
    assert result.limit_a >= ampacity


@for_all(AMPERES)
def test_the_two_roundings_meet_at_the_need(need: float) -> None:
    above, below = next_standard_at_or_above(RATINGS, need), largest_standard_at_or_below(RATINGS, need)
    assert above is not None and at_most(need, above)
    assert below is None or at_most(below, need)
