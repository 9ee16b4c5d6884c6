"""Loads as currents: from volt-amperes, and split into continuous and not."""

from __future__ import annotations

import math
from collections.abc import Sequence

from linecalc.calc.compare import at_least
from linecalc.term import Number, largest, named, total, value_of

HALF_AMPERE = 0.5


def current_from_va(load_va: Number, voltage_v: Number, cite: str = "", meaning: str = "load current") -> Number:
    """Current of a load, in amperes; of a source at power factor 1 as well.

    Parameters
    ----------
    load_va : volt-amperes. voltage_v : nominal volts between its conductors. cite : codebook key.
    meaning : what it is, as printed.

    References
    ----------
    `load_total` 220.40 and others.

    Examples
    --------
    >>> current_from_va(7200.0, 240.0)
    30.0
    """
    return named(load_va / voltage_v, "I_load", "A", meaning, cite)


def apparent_power(current_a: Number, voltage_v: Number, cite: str = "", meaning: str = "apparent power") -> Number:
    """Volt-amperes of a current at a nominal voltage.

    Parameters
    ----------
    current_a : amperes. voltage_v : nominal volts. cite : codebook key. meaning : what it is, as printed.

    References
    ----------
    `load_total` 220.40; `load_measured` 220.87.

    Examples
    --------
    >>> apparent_power(30.0, 240.0)
    7200.0
    """
    return named(current_a * voltage_v, "S", "VA", meaning, cite)


def apparent_from_real(power_w: Number, power_factor: Number, cite: str = "", meaning: str = "apparent power") -> Number:
    """Volt-amperes of a power in watts at a power factor.

    Parameters
    ----------
    power_w : watts. power_factor : 0 to 1. cite : codebook key. meaning : what it is, as printed.

    References
    ----------
    `load_total` 220.40; `load_measured` 220.87.

    Examples
    --------
    >>> apparent_from_real(6120.0, 0.85)
    7200.0
    """
    return named(power_w / power_factor, "S", "VA", meaning, cite)


def whole_amperes(current_a: Number) -> Number:
    """A calculated load in whole amperes, a fraction below 0.5 dropped, others raised.

    The only rounding that decides anything; once, on the total of a load calculation.

    Parameters
    ----------
    current_a : total of the calculation in amperes.

    References
    ----------
    `calc_fractions` 220.5(B).

    Examples
    --------
    >>> whole_amperes(103.25), whole_amperes(103.5)
    (103.0, 104.0)
    """
    value = value_of(current_a)
    floor = math.floor(value)
    whole = floor + 1 if at_least(value, floor + HALF_AMPERE) else floor
    rounded = current_a
    if whole > value:
        rounded = current_a + (whole - value)
    elif whole < value:
        rounded = current_a - (value - whole)
    return named(rounded, "I_220", "A", "calculated load in whole amperes, raised or lowered once: a fraction from 0.5 up, a smaller one down", "calc_fractions")


def continuous_share(currents_a: Sequence[Number]) -> Number:
    """Continuous part of a feeder or service load, in amperes.

    Parameters
    ----------
    currents_a : the continuous loads downstream (EV supply equipment, charging), each in amperes.

    References
    ----------
    `feeder_continuous_conductor` 215.2(A)(1).

    Examples
    --------
    >>> continuous_share([30.0, 17.5])
    47.5
    """
    current = total(tuple(currents_a))
    return named(current, "I_cont", "A", "continuous part of the load", "feeder_continuous_conductor")


def noncontinuous_share(load_a: Number, continuous_a: Number) -> Number:
    """What a load holds beside its continuous part, in amperes, never below zero.

    Parameters
    ----------
    load_a : the whole load in amperes. continuous_a : its continuous part in amperes.

    References
    ----------
    `feeder_continuous_conductor` 215.2(A)(1).

    Examples
    --------
    >>> noncontinuous_share(103.0, 30.0)
    73.0
    """
    rest = largest(0.0, load_a - continuous_a)
    return named(rest, "I_nonc", "A", "part of the load that is not continuous", "feeder_continuous_conductor")
