"""Grounding conductors raised in proportion, and bonding jumpers; cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all

from linecalc.calc.compare import at_most
from linecalc.calc.grounding import proportional_egc_area, supply_side_jumper_area
from linecalc.term import Rendered, given
from tests.calc.strategies import AREAS_CMIL, between

CMIL_10, CMIL_8, CMIL_6, CMIL_4, CMIL_2 = 10380.0, 16510.0, 26240.0, 41740.0, 66360.0


def test_250_raised_to_350_kcmil_takes_a_4_awg_to_2_awg() -> None:
    area = proportional_egc_area(CMIL_4, 350_000.0, 250_000.0)
    assert area == pytest.approx(58436.0)
    assert CMIL_4 < area <= CMIL_2


def test_a_ratio_that_ends_2_circular_mils_above_a_size_is_not_rounded_into_it() -> None:
    area = proportional_egc_area(CMIL_10, CMIL_4, CMIL_8)
    assert area == pytest.approx(26242.35, abs=0.01)
    assert not at_most(area, CMIL_6)


def test_conductors_that_were_not_raised_leave_the_grounding_conductor_alone() -> None:
    assert proportional_egc_area(CMIL_10, CMIL_6, CMIL_6) == CMIL_10


def test_a_ratio_of_a_third_loses_nothing_to_rounding() -> None:
    assert proportional_egc_area(3.0, 10.0, 3.0) == 10.0


def test_multiplication_comes_before_division() -> None:
    terms = [given(value, "cmil", symbol, "test") for value, symbol in ((3.0, "A_base"), (7.0, "A_in"), (5.0, "A_min"))]
    assert Rendered(proportional_egc_area(*terms)).formula == "A_base x A_in / A_min"


def test_a_bonding_jumper_beyond_the_table_is_an_eighth() -> None:
    assert supply_side_jumper_area(1_200_000.0) == 150_000.0


@for_all(AREAS_CMIL, AREAS_CMIL, AREAS_CMIL, between(0.0, 1e6))
def test_a_larger_conductor_never_takes_a_smaller_grounding_conductor(base, installed, smallest, more) -> None:
    raised = proportional_egc_area(base, installed + more, smallest)
    assert raised >= proportional_egc_area(base, installed, smallest)


@for_all(AREAS_CMIL, AREAS_CMIL, AREAS_CMIL)
def test_area_and_ratio_say_the_same(base, installed, smallest) -> None:
    expected = base * (installed / smallest)
    assert proportional_egc_area(base, installed, smallest) == pytest.approx(expected, rel=1e-12)


@for_all(AREAS_CMIL, between(0.0, 1e6))
def test_a_larger_supply_never_takes_a_smaller_jumper(area, more) -> None:
    assert supply_side_jumper_area(area + more) >= supply_side_jumper_area(area)
