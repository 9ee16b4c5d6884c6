"""Raceway fill; cases worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.raceway import (
    area_from_diameter,
    conductor_area,
    fill_percent,
    group_area,
    jam_ratio,
    wires_by_note_7,
)
from tests.calc.strategies import between

AREAS_IN2 = between(0.005, 2.0)
INTERNAL_IN2 = between(0.1, 20.0)
PERCENTS = st.sampled_from([31.0, 40.0, 53.0, 60.0])


def test_a_quarter_inch_wire_has_an_area_of_a_twentieth_of_a_square_inch() -> None:
    assert area_from_diameter(0.25) == pytest.approx(math.pi / 64.0)


def test_three_large_and_one_small_conductor() -> None:
    # 3 x 0.0507 + 0.0211 = 0.1732; of 0.864: 20.05 %
    area = conductor_area([group_area(3, 0.0507), 0.0211])
    assert area == pytest.approx(0.1732)
    assert fill_percent(area, 0.864) == pytest.approx(20.046, abs=1e-3)


def test_an_empty_raceway_is_not_filled() -> None:
    assert fill_percent(conductor_area([]), 0.864) == 0.0


def test_a_decimal_of_eight_tenths_counts_as_one_more_wire() -> None:
    result = wires_by_note_7(1.0, 0.1, 38.0)
    assert (result.quotient, result.wires) == (pytest.approx(3.8), 4)


def test_a_decimal_just_below_eight_tenths_does_not() -> None:
    assert wires_by_note_7(1.0, 0.1, 37.99).wires == 3


def test_eight_tenths_but_for_binary_representation_counts() -> None:
    # 0.48 x 40 / 100 / 0.04 is 4.8, a hair below it in binary.
    below = math.nextafter(4.8, 0.0)
    assert wires_by_note_7(below, 1.0, 100.0).wires == 5


def test_a_whole_number_but_for_binary_representation_is_that_number() -> None:
    assert wires_by_note_7(math.nextafter(3.0, 0.0), 1.0, 100.0).wires == 3


def test_a_single_conductor_needs_eight_tenths_of_its_own_area() -> None:
    assert wires_by_note_7(0.8, 1.0, 100.0).wires == 1
    assert wires_by_note_7(0.79, 1.0, 100.0).wires == 0


def test_three_wires_of_a_third_of_the_diameter_may_jam() -> None:
    assert jam_ratio(1.5, 0.5) == 3.0


@for_all(st.lists(AREAS_IN2, min_size=1, max_size=9), AREAS_IN2, INTERNAL_IN2)
def test_one_more_conductor_never_fills_less(areas, further, internal) -> None:
    assert fill_percent(conductor_area([*areas, further]), internal) > fill_percent(conductor_area(areas), internal)


@for_all(AREAS_IN2, INTERNAL_IN2, between(0.0, 5.0))
def test_a_wider_raceway_never_fills_more(area, internal, wider) -> None:
    assert fill_percent(area, internal + wider) <= fill_percent(area, internal)


@for_all(INTERNAL_IN2, AREAS_IN2, PERCENTS, between(0.0, 2.0))
def test_a_wider_raceway_or_thinner_wires_never_take_fewer(internal, area, percent, more) -> None:
    base = wires_by_note_7(internal, area, percent).wires
    assert wires_by_note_7(internal + more, area, percent).wires >= base
    assert wires_by_note_7(internal, area + more, percent).wires <= base


@for_all(INTERNAL_IN2, AREAS_IN2, PERCENTS)
def test_rounding_adds_at_most_a_fifth_of_a_wire(internal, area, percent) -> None:
    result = wires_by_note_7(internal, area, percent)
    assert -0.8 - 1e-6 <= result.wires - result.quotient <= 0.2 + 1e-6


@for_all(between(0.05, 3.0), between(0.0, 1.0))
def test_a_thicker_wire_never_has_a_smaller_area(diameter, thicker) -> None:
    assert area_from_diameter(diameter + thicker) >= area_from_diameter(diameter)
    assert jam_ratio(3.0, diameter + thicker) <= jam_ratio(3.0, diameter)


@for_all(st.integers(1, 20), AREAS_IN2)
def test_a_group_fills_as_its_conductors_one_by_one(count, area) -> None:
    assert group_area(count, area) == pytest.approx(conductor_area([area] * count))
