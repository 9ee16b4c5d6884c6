"""Raceway fill: areas, percent, same-size rounding and jam ratio."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from linecalc.calc.compare import at_least
from linecalc.term import Number, named, total, value_of

SAME_SIZE_DECIMAL = 0.8
QUARTER_PI = math.pi / 4.0


def area_from_diameter(diameter_in: Number) -> Number:
    """Area of a round conductor or cable, in in2.

    Parameters
    ----------
    diameter_in : outside diameter in inches.

    References
    ----------
    `conductor_dimensions` Chapter 9 Table 5.

    Examples
    --------
    >>> round(area_from_diameter(0.25), 6)
    0.049087
    """
    area = QUARTER_PI * diameter_in * diameter_in
    return named(area, "A_wire", "in2", "area of the conductor from its diameter", "conductor_dimensions")


def group_area(count: Number, area_in2: Number) -> Number:
    """Area of equal conductors together, in in2.

    Parameters
    ----------
    count : conductors. area_in2 : of one, insulation included.

    References
    ----------
    `conductor_dimensions` Chapter 9 Tables 5 and 5A.

    Examples
    --------
    >>> group_area(3, 0.0625)
    0.1875
    """
    return named(count * area_in2, "A_group", "in2", "area of the equal conductors", "conductor_dimensions")


def conductor_area(areas_in2: Sequence[Number]) -> Number:
    """Area of all conductors in a raceway, grounding conductors included, in in2.

    Parameters
    ----------
    areas_in2 : areas of conductors or groups of them.

    References
    ----------
    `raceway_fill` Chapter 9 Table 1, Note 3.

    Examples
    --------
    >>> conductor_area([0.1875, 0.0625])
    0.25
    """
    return named(total(tuple(areas_in2)), "A_cond", "in2", "area of all conductors", "raceway_fill")


def fill_percent(conductor_area_in2: Number, internal_area_in2: Number) -> Number:
    """Share of a raceway's internal area that its conductors take, in percent.

    Parameters
    ----------
    conductor_area_in2, internal_area_in2 : in2.

    References
    ----------
    `raceway_fill` Chapter 9 Table 1.

    Examples
    --------
    >>> fill_percent(0.25, 1.0)
    25.0
    """
    return named(100.0 * conductor_area_in2 / internal_area_in2, "fill", "percent", "raceway fill", "raceway_fill")


@dataclass(frozen=True, slots=True)
class SameSizeCount:
    """How many equal conductors a raceway takes: the plain quotient and the whole number allowed."""

    quotient: Number
    wires: int


def wires_by_note_7(internal_area_in2: Number, one_conductor_area_in2: Number, percent: Number) -> SameSizeCount:
    """How many conductors of one size a raceway takes when a decimal of 0.8 counts as one more.

    Parameters
    ----------
    internal_area_in2 : of the raceway. one_conductor_area_in2 : of one, insulation included.
    percent : the fill allowed for that number of conductors.

    References
    ----------
    `raceway_fill` Chapter 9 Table 1, Note 7.

    Examples
    --------
    >>> wires_by_note_7(0.5, 0.05, 40.0).wires
    4
    >>> wires_by_note_7(0.48, 0.05, 40.0)
    SameSizeCount(quotient=3.84, wires=4)
    """
    quotient = internal_area_in2 * percent / 100.0 / one_conductor_area_in2
    whole = math.floor(value_of(quotient))
    wires = whole + 1 if at_least(value_of(quotient), whole + SAME_SIZE_DECIMAL) else whole
    return SameSizeCount(named(quotient, "n_7", "", "conductors of one size, before rounding", "raceway_fill"), wires)


def jam_ratio(internal_diameter_in: Number, conductor_diameter_in: Number) -> Number:
    """Raceway inside diameter over conductor outside diameter, a plain number.

    Parameters
    ----------
    internal_diameter_in, conductor_diameter_in : inches.

    References
    ----------
    `raceway_fill` Chapter 9 Table 1, informational note on jamming (2.8 to 3.2 with three conductors).

    Examples
    --------
    >>> jam_ratio(1.5, 0.5)
    3.0
    """
    return named(internal_diameter_in / conductor_diameter_in, "jam", "", "jam ratio", "raceway_fill")
