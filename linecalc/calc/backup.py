"""Backup: firm power, legs and neutral in island mode."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.calc.compare import largest_of, smallest_of
from linecalc.term import Number, named, total, value_of

CONTINUOUS_FACTOR = 1.25


def combined_rating(ratings_va: Sequence[Number]) -> Number:
    """Sum of the continuous island ratings of several units, in volt-amperes.

    Parameters
    ----------
    ratings_va : continuous island ratings in volt-amperes; short-time ratings do not count.

    References
    ----------
    `standalone_conductor` 710.15(B).

    Examples
    --------
    >>> combined_rating([9600.0, 7600.0])
    17200.0
    """
    return named(total(tuple(ratings_va)), "S_units", "VA", "island ratings together", "standalone_conductor")


def combined_discharge(powers_w: Sequence[Number]) -> Number:
    """Sum of the continuous discharge powers of several storages, in watts.

    Parameters
    ----------
    powers_w : continuous discharge powers in watts.

    Examples
    --------
    >>> combined_discharge([5000.0, 5000.0])
    10000.0
    """
    return named(total(tuple(powers_w)), "P_storage", "W", "continuous storage discharge together")


def firm_apparent_power(limits_va: Sequence[Number]) -> Number:
    """Firm island power: the least of all limits between the units and the loads, in volt-amperes.

    Parameters
    ----------
    limits_va : island ratings together, and every device, bus and conductor on the way.

    Raises
    ------
    ValueError
        No limit is given.

    References
    ----------
    `standby_capacity` 702.4(A)(2), 702.4(B)(2) in 2017 and 2020.

    Examples
    --------
    >>> firm_apparent_power([17200.0, 24000.0])
    17200.0
    """
    return named(smallest_of(limits_va), "S_firm", "VA", "firm island power, apparent", "standby_capacity")


def firm_power(limits_w: Sequence[Number]) -> Number:
    """Firm island power: the least of ratings, storage discharge and the way to the loads, in watts.

    Parameters
    ----------
    limits_w : island ratings in watts together, storage discharge together, and the rest of the way.

    Raises
    ------
    ValueError
        No limit is given.

    References
    ----------
    `standby_capacity` 702.4(A)(2), 702.4(B)(2) in 2017 and 2020.

    Examples
    --------
    >>> firm_power([17200.0, 10000.0])
    10000.0
    """
    return named(smallest_of(limits_w), "P_firm", "W", "firm island power", "standby_capacity")


def real_power(apparent_va: Number, power_factor: Number) -> Number:
    """Real power of an apparent power, in watts.

    Parameters
    ----------
    apparent_va : volt-amperes. power_factor : 0 to 1, given.

    Examples
    --------
    >>> real_power(8000.0, 0.875)
    7000.0
    """
    return named(apparent_va * power_factor, "P_load", "W", "real power at the given power factor")


def leg_current(two_pole_a: Number, single_pole_a: Number) -> Number:
    """Current on one leg in island mode, in amperes.

    Parameters
    ----------
    two_pole_a : 240 V load in amperes. single_pole_a : 120 V load on that leg in amperes.

    Examples
    --------
    >>> leg_current(20.0, 12.5)
    32.5
    """
    return named(two_pole_a + single_pole_a, "I_leg", "A", "current on one leg")


def neutral_current(leg_1_a: Number, leg_2_a: Number, beside_a: Number = 0.0) -> Number:
    """Current on the neutral: the difference between the two legs, in amperes.

    Parameters
    ----------
    leg_1_a, leg_2_a : currents of the legs, with or without their 240 V load, in amperes.
    beside_a : what loads on both legs put on the neutral beside it, in amperes.

    References
    ----------
    `load_neutral` 220.61.

    Examples
    --------
    >>> neutral_current(12.5, 20.0), neutral_current(12.5, 20.0, 4.0)
    (7.5, 11.5)
    """
    lower, higher = (leg_1_a, leg_2_a) if value_of(leg_1_a) <= value_of(leg_2_a) else (leg_2_a, leg_1_a)
    difference = higher - lower
    if not isinstance(beside_a, float) or beside_a:
        difference = difference + beside_a
    return named(difference, "I_N", "A", "neutral current, the difference of the legs", "load_neutral")


def source_neutral_need(unbalance_a: Number) -> Number:
    """Ampacity of the neutral of a unit that feeds 120 V loads, in amperes.

    Parameters
    ----------
    unbalance_a : largest unbalance that the unit can carry, in amperes.

    References
    ----------
    `neutral_of_source` 705.28(C), 705.95 in 2017.

    Examples
    --------
    >>> source_neutral_need(16.0)
    20.0
    """
    meaning = "125 % of the unbalance that the unit can carry"
    return named(CONTINUOUS_FACTOR * unbalance_a, "I_N_125", "A", meaning, "neutral_of_source")


def largest_single_load(loads_va: Sequence[Number]) -> Number:
    """The largest single load that a stand-alone supply must carry, in volt-amperes.

    Parameters
    ----------
    loads_va : backed-up loads in volt-amperes.

    Raises
    ------
    ValueError
        No load is given.

    References
    ----------
    `standalone_capacity` 710.15(A).

    Examples
    --------
    >>> largest_single_load([1500.0, 4800.0])
    4800.0
    """
    return named(largest_of(loads_va), "S_largest", "VA", "largest single load", "standalone_capacity")
