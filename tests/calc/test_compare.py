"""Comparisons: equal passes, and nothing else does that should not."""

from __future__ import annotations

import math

import pytest
from hypothesis import given as for_all

from linecalc.calc.compare import at_least, at_most, largest_of, same, smallest_of
from linecalc.term import given
from tests.calc.strategies import AMPERES


def test_equal_passes() -> None:
    assert at_most(200.0, 200.0)
    assert at_least(200.0, 200.0)


def test_binary_representation_does_not_decide() -> None:
    assert 3 * 0.1 > 0.3
    assert at_most(3 * 0.1, 0.3)
    assert 55.0 * 1.1 > 60.5
    assert at_most(55.0 * 1.1, 60.5)


def test_the_smallest_real_excess_fails() -> None:
    assert not at_most(200.001, 200.0)
    assert not at_most(200.000001, 200.0)
    assert not at_least(199.999999, 200.0)


def test_nothing_is_rounded_before_a_comparison() -> None:
    assert not at_most(200.4, 200.0)


def test_tolerance_is_relative_so_zero_is_exact() -> None:
    assert at_most(0.0, 0.0)
    assert not at_most(1e-30, 0.0)


def test_negative_amounts_compare_by_their_order() -> None:
    assert at_most(-5.0, -4.0)
    assert not at_most(-4.0, -5.0)


def test_what_is_not_a_number_is_never_within_a_limit() -> None:
    assert not at_most(math.nan, 200.0)
    assert not at_most(200.0, math.nan)
    assert not same(math.nan, math.nan)


def test_an_infinite_amount_is_above_every_finite_limit() -> None:
    assert not at_most(math.inf, 1e9)
    assert at_least(math.inf, 1e9)


def test_terms_compare_as_their_values() -> None:
    assert at_most(given(50.0, "A", "I", "test"), given(50.0, "A", "I_dev", "test"))
    assert not at_most(given(50.1, "A", "I", "test"), 50.0)


@for_all(AMPERES, AMPERES)
def test_of_two_amounts_at_least_one_is_within_the_other(left: float, right: float) -> None:
    assert at_most(left, right) or at_most(right, left)
    assert same(left, right) == (at_most(left, right) and at_least(left, right))


@for_all(AMPERES)
def test_an_excess_of_a_millionth_is_seen_at_every_size(limit: float) -> None:
    assert not at_most(limit * (1 + 1e-6), limit)
    assert at_most(limit * (1 + 1e-12), limit)


def test_the_extreme_of_one_amount_is_itself() -> None:
    current = given(40.0, "A", "I", "test")
    assert largest_of([current]) is current
    assert smallest_of([current]) is current


def test_extremes_do_not_depend_on_the_order() -> None:
    assert largest_of([3.0, 7.0, 5.0]) == largest_of([7.0, 5.0, 3.0]) == 7.0
    assert smallest_of([3.0, 7.0, 5.0]) == smallest_of([7.0, 5.0, 3.0]) == 3.0


@pytest.mark.parametrize("extreme", [largest_of, smallest_of])
def test_nothing_has_no_extreme(extreme: object) -> None:
    with pytest.raises(ValueError, match="no amount"):
        extreme([])
