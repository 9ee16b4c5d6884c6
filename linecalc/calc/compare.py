"""Comparisons against a limit: equal passes, nothing is rounded first."""

from __future__ import annotations

import math

from linecalc.term import Number, value_of

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
