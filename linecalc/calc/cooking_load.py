"""Household cooking load by Table 220.55: columns A, B and C, and Notes 1 to 3."""

from __future__ import annotations

import math
from collections.abc import Sequence

from linecalc.calc.compare import RELATIVE_TOLERANCE, smallest_of
from linecalc.term import Number, largest, named, total, value_of

COLUMN_C_KW = 12.0
STEP_PERCENT = 5.0
MAJOR_FRACTION = 0.5


def column_demand(ratings_kw: Sequence[Number], demand_percent: Number) -> Number:
    """Demand of column A or B, in kilowatts.

    Parameters
    ----------
    ratings_kw : nameplate ratings that the column holds, in kilowatts. demand_percent : of the
    column for their number.

    References
    ----------
    `load_range` Table 220.55, Note 3.

    Examples
    --------
    >>> round(column_demand([4.0, 4.0, 5.1], 55.0), 3)
    7.205
    """
    return named(total(tuple(ratings_kw)) * demand_percent / 100.0, "P_AB", "kW", "cooking demand of the column", "load_range")


def rating_in_kilowatts(rating_va: Number, meaning: str = "rating") -> Number:
    """Nameplate rating as the table takes it, in kilowatts; kilovolt-amperes count alike.

    Parameters
    ----------
    rating_va : volt-amperes. meaning : whose it is, as printed.

    References
    ----------
    `load_range` 220.55.

    Examples
    --------
    >>> rating_in_kilowatts(12000.0)
    12.0
    """
    return named(rating_va / 1000.0, "P", "kW", meaning, "load_range")


def average_rating(ratings_kw: Sequence[Number]) -> Number:
    """Average rating for column C, in kilowatts, each appliance at 12 kW at least.

    Parameters
    ----------
    ratings_kw : nameplate ratings in kilowatts, one or more.

    References
    ----------
    `load_range` Table 220.55, Notes 1 and 2.

    Examples
    --------
    >>> average_rating([11.0, 18.0])
    15.0
    """
    at_least_twelve = [rating if value_of(rating) >= COLUMN_C_KW else largest(COLUMN_C_KW, rating) for rating in ratings_kw]
    average = total(tuple(at_least_twelve)) / float(len(ratings_kw)) if len(ratings_kw) > 1 else at_least_twelve[0]
    return named(average, "P_avg", "kW", "average rating, each at 12 kW at least", "load_range")


def kilowatts_over(average_kw: Number) -> Number:
    """Whole kilowatts by which an average rating exceeds 12 kW, a fraction of one half or more raised.

    Parameters
    ----------
    average_kw : by :func:`average_rating`, in kilowatts, 12 at least.

    References
    ----------
    `load_range` Table 220.55, Notes 1 and 2 ("major fraction").

    Examples
    --------
    >>> kilowatts_over(13.6), kilowatts_over(12.4)
    (2.0, 0.0)
    """
    value = value_of(average_kw)
    whole = float(math.floor(value + MAJOR_FRACTION + value * RELATIVE_TOLERANCE))
    rounded = average_kw
    if whole > value:
        rounded = average_kw + (whole - value)
    elif whole < value:
        rounded = average_kw - (value - whole)
    return named(rounded - COLUMN_C_KW, "n_over", "kW", "whole kilowatts over 12 kW", "load_range")


def column_c_demand(table_kw: Number, over_kw: Number) -> Number:
    """Demand of column C, in kilowatts, raised by 5 percent for each kilowatt over 12 kW.

    Parameters
    ----------
    table_kw : column C for the number of appliances. over_kw : by :func:`kilowatts_over`.

    References
    ----------
    `load_range` Table 220.55, column C, Notes 1 and 2.

    Examples
    --------
    >>> column_c_demand(8.0, 0.0), round(column_c_demand(25.0, 2.0), 3)
    (8.0, 27.5)
    """
    demand = table_kw if value_of(over_kw) == 0.0 else table_kw * (1.0 + STEP_PERCENT * over_kw / 100.0)
    return named(demand, "P_C", "kW", "cooking demand of column C", "load_range")


def cooking_load(demands_kw: Sequence[Number], beside_va: Sequence[Number]) -> Number:
    """Cooking load, in volt-amperes: the lowest lawful demand, and what the table does not cover.

    Parameters
    ----------
    demands_kw : lawful demands of the same appliances, in kilowatts, one or more. beside_va :
    appliances outside the table (up to 1.75 kW, over 27 kW) at nameplate, in volt-amperes.

    Raises
    ------
    ValueError
        No demand is given.

    References
    ----------
    `load_range` 220.55 permits the table; kilowatts and kilovolt-amperes count alike.

    Examples
    --------
    >>> cooking_load([14.0, 7.205], [])
    7205.0
    """
    covered = 1000.0 * smallest_of(demands_kw)
    return named(total((covered, *beside_va)), "S_cook", "VA", "cooking load, the lowest lawful", "load_range")
