"""Comparisons against a limit, and the extremes of several amounts: equal passes, nothing is rounded first."""

from __future__ import annotations

import math
from collections.abc import Sequence

from linecalc.term import Number, largest, smallest, value_of

RELATIVE_TOLERANCE = 1e-9


def at_most(amount: Number, limit: Number) -> bool:
    """Whether ``amount`` does not exceed ``limit``, both in the same unit.

    A relative tolerance of 1e-9 absorbs binary representation, nothing more.
    A value that is not a number is never within a limit.

    Examples
    --------
    >>> at_most(0.1 + 0.2, 0.3)
    True
    >>> at_most(200.4, 200.0)
    False
    """
    left, right = value_of(amount), value_of(limit)
    return left <= right or math.isclose(left, right, rel_tol=RELATIVE_TOLERANCE)


def at_least(amount: Number, limit: Number) -> bool:
    """Whether ``amount`` reaches ``limit``, both in the same unit.

    Examples
    --------
    >>> at_least(40.0, 40.0)
    True
    """
    return at_most(limit, amount)


def same(left: Number, right: Number) -> bool:
    """Whether two amounts differ by binary representation only.

    Examples
    --------
    >>> same(55.0 * 0.91, 50.05)
    True
    """
    return at_most(left, right) and at_most(right, left)


def largest_of(amounts: Sequence[Number]) -> Number:
    """The largest of one or more amounts in the same unit; a single one is itself.

    Raises
    ------
    ValueError
        There is no amount.

    Examples
    --------
    >>> largest_of([20.0, 30.0])
    30.0
    """
    if not amounts:
        raise ValueError("no amount to take the largest of")
    return largest(*amounts) if len(amounts) > 1 else amounts[0]


def smallest_of(amounts: Sequence[Number]) -> Number:
    """The smallest of one or more amounts in the same unit; a single one is itself.

    Raises
    ------
    ValueError
        There is no amount.

    Examples
    --------
    >>> smallest_of([20.0, 30.0])
    20.0
    """
    if not amounts:
        raise ValueError("no amount to take the smallest of")
    return smallest(*amounts) if len(amounts) > 1 else amounts[0]
