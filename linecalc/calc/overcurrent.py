"""Overcurrent devices: what they must be, and what conductor they protect (T3)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from linecalc.calc.compare import at_least, at_most
from linecalc.term import Number, named, smallest, value_of

CONTINUOUS_FACTOR = 1.25
NEXT_SIZE_UP_LIMIT_A = 800.0


def device_need(continuous_a: Number, noncontinuous_a: Number, cite: str = "") -> Number:
    """The least rating of an overcurrent device for a load, in amperes.

    Parameters
    ----------
    continuous_a, noncontinuous_a : currents in amperes, floats or Terms.
    cite : codebook key of the article that asks for it, which depends on the circuit.

    References
    ----------
    `branch_continuous_ocpd` 210.20(A); `feeder_continuous_ocpd` 215.3; `pv_ocpd` 690.9(B)(1);
    `source_ocpd` 705.30(B), 705.65 in 2017; `ess_ocpd` 706.31(B), 706.21(B) in 2017.

    Examples
    --------
    >>> device_need(40.0, 0.0)
    50.0
    """
    need = CONTINUOUS_FACTOR * continuous_a + noncontinuous_a
    return named(need, "I_dev", "A", "least rating of the overcurrent device", cite, "device")


def next_standard_at_or_above(ratings: Sequence[Number], need_a: Number) -> Number | None:
    """The smallest of ``ratings`` that reaches ``need_a``, in amperes, or None where none does.

    Parameters
    ----------
    ratings : standard ratings of the edition in amperes, in any order. need_a : amperes.

    References
    ----------
    `standard_ocpd` 240.6(A).

    Examples
    --------
    >>> next_standard_at_or_above([40.0, 45.0, 50.0], 41.0)
    45.0
    """
    need = value_of(need_a)
    return min((rating for rating in ratings if rating >= need or at_least(rating, need)), key=value_of, default=None)


def largest_standard_at_or_below(ratings: Sequence[Number], limit_a: Number) -> Number | None:
    """The largest of ``ratings`` within ``limit_a``, in amperes, or None where all are above it.

    Parameters
    ----------
    ratings : standard ratings of the edition in amperes, in any order. limit_a : amperes.

    References
    ----------
    `standard_ocpd` 240.6(A).

    Examples
    --------
    >>> largest_standard_at_or_below([40.0, 45.0, 50.0], 48.0)
    45.0
    """
    return max((rating for rating in ratings if at_most(rating, limit_a)), key=value_of, default=None)


def ampacity_to_protect(terminal_a: Number, conditions_a: Number) -> Number:
    """The ampacity that the device must protect: the lower of two columns, in amperes.

    Parameters
    ----------
    terminal_a : terminal-column ampacity in amperes.
    conditions_a : insulation-column ampacity after factors in amperes.

    References
    ----------
    `terminal_temperature` 110.14(C)(1); `ampacity_rules` 310.14(A)(2), 310.15(A)(2) in 2017.

    Examples
    --------
    >>> ampacity_to_protect(65.0, 54.0)
    54.0
    """
    meaning = "ampacity to be protected: the lower of terminals and conditions"
    return named(smallest(terminal_a, conditions_a), "I_z", "A", meaning, "terminal_temperature", "T3.ampacity")


class ProtectionBasis(Enum):
    """Why a device does or does not protect a conductor."""

    WITHIN_AMPACITY = "device within the ampacity"
    NEXT_SIZE_UP = "device is the next standard size above the ampacity"
    ABOVE_LIMIT = "device above what the ampacity allows"


@dataclass(frozen=True, slots=True)
class Protection:
    """Whether a device protects a conductor (T3), and the largest that would, in amperes.

    ``cite`` is the codebook key of the clause that set ``limit_a``.
    """

    protected: bool
    limit_a: Number
    basis: ProtectionBasis
    cite: str


def protected_by_device(
    ampacity_a: Number, device_a: Number, ratings: Sequence[Number], next_size_up_allowed: bool
) -> Protection:
    """Whether ``device_a`` protects a conductor of ``ampacity_a`` (T3).

    Parameters
    ----------
    ampacity_a : the ampacity to be protected in amperes. device_a : device rating in amperes.
    ratings : standard ratings of the edition in amperes.
    next_size_up_allowed : False for a branch circuit for several receptacles.

    References
    ----------
    `next_size_up` 240.4(B); `over_800` 240.4(C).

    Examples
    --------
    >>> protected_by_device(54.0, 60.0, [50.0, 60.0, 70.0], True).protected
    True
    >>> protected_by_device(54.0, 60.0, [50.0, 60.0, 70.0], False).protected
    False
    """
    limit_a, cite = _device_limit(ampacity_a, ratings, next_size_up_allowed)
    limit_a = named(limit_a, "I_dev_max", "A", "largest device that protects the conductor", cite, "T3")
    if at_most(device_a, ampacity_a):
        return Protection(True, limit_a, ProtectionBasis.WITHIN_AMPACITY, cite)
    if at_most(device_a, limit_a):
        return Protection(True, limit_a, ProtectionBasis.NEXT_SIZE_UP, cite)
    return Protection(False, limit_a, ProtectionBasis.ABOVE_LIMIT, cite)


def _device_limit(ampacity_a: Number, ratings: Sequence[Number], next_size_up_allowed: bool) -> tuple[Number, str]:
    above = next_standard_at_or_above(ratings, ampacity_a)
    if not next_size_up_allowed:
        return ampacity_a, "next_size_up"
    if above is None or not at_most(above, NEXT_SIZE_UP_LIMIT_A):
        return ampacity_a, "over_800"
    return (ampacity_a if at_most(above, ampacity_a) else above), "next_size_up"
