"""Fault current at points along a 120/240 V single-phase system, by vector sums of impedance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from linecalc.term import Number, largest, named, sqrt, total

FEET_PER_KFT = 1000.0
LINE_TO_NEUTRAL_AT_TERMINALS = 1.5
FAST_TRIP_MULTIPLE = 6.0
SERIES_MOTOR_SHARE = 0.01


@dataclass(frozen=True, slots=True)
class Impedance:
    """Resistance and reactance in ohms, kept apart so that sums are vector sums."""

    r_ohm: Number
    x_ohm: Number


def transformer_fault_current(rating_va: Number, voltage_v: Number, impedance_percent: Number) -> Number:
    """Line-to-line fault current at a transformer's terminals from its rating, in amperes.

    Parameters
    ----------
    rating_va : volt-amperes. voltage_v : line to line, volts. impedance_percent : nameplate, percent.

    References
    ----------
    `interrupting_rating` 110.9, for what it is used for.

    Examples
    --------
    >>> transformer_fault_current(24000.0, 240.0, 2.0)
    5000.0
    """
    current = rating_va / voltage_v * 100.0 / impedance_percent
    return named(current, "I_sc_xfmr", "A", "fault current at the transformer terminals, line to line")


def source_impedance(fault_ll_a: Number, voltage_v: Number, x_over_r: Number) -> Impedance:
    """Impedance behind a known line-to-line fault current.

    Parameters
    ----------
    fault_ll_a : line-to-line fault current in amperes. voltage_v : line to line, volts.
    x_over_r : its ratio of reactance to resistance, a plain number.

    Examples
    --------
    >>> source_impedance(10000.0, 240.0, 0.0)
    Impedance(r_ohm=0.024, x_ohm=0.0)
    """
    magnitude = named(voltage_v / fault_ll_a, "Z_s", "ohm", "source impedance, line to line")
    return _parts(magnitude, x_over_r, "s")


def source_impedance_line_to_neutral(
    fault_ll_a: Number, voltage_ln_v: Number, ratio: Number, x_over_r: Number
) -> Impedance:
    """Source impedance of a line-to-neutral fault, from the line-to-line fault current.

    Parameters
    ----------
    fault_ll_a : line-to-line fault current in amperes. voltage_ln_v : line to neutral, volts.
    ratio : line-to-neutral over line-to-line fault current: 1.5 at transformer terminals
        (published 1.33 to 1.67), 1.0 to 1.5 at a meter. x_over_r : a plain number.

    Examples
    --------
    >>> source_impedance_line_to_neutral(10000.0, 120.0, 1.5, 0.0)
    Impedance(r_ohm=0.008, x_ohm=0.0)
    """
    magnitude = named(voltage_ln_v / (ratio * fault_ll_a), "Z_s_LN", "ohm", "source impedance, line to neutral")
    return _parts(magnitude, x_over_r, "s_LN")


def _parts(magnitude_ohm: Number, x_over_r: Number, suffix: str) -> Impedance:
    resistance = named(
        magnitude_ohm / sqrt(1.0 + x_over_r * x_over_r), f"R_{suffix}", "ohm", "resistance of the source"
    )
    reactance = named(resistance * x_over_r, f"X_{suffix}", "ohm", "reactance of the source")
    return Impedance(resistance, reactance)


def conductor_impedance(
    r_ohm_per_kft: Number, x_ohm_per_kft: Number, length_ft: Number, sets: Number
) -> Impedance:
    """Impedance of one conductor over a run, one way.

    Parameters
    ----------
    r_ohm_per_kft, x_ohm_per_kft : of one conductor, ohm per 1000 ft; resistance at 25 degC, the
        high-current side. length_ft : one way in ft. sets : conductors in parallel.

    References
    ----------
    `conductor_ac_z` Chapter 9 Table 9.

    Examples
    --------
    >>> conductor_impedance(0.5, 0.0625, 100.0, 1)
    Impedance(r_ohm=0.05, x_ohm=0.00625)
    """
    resistance = r_ohm_per_kft * length_ft / FEET_PER_KFT / sets
    reactance = x_ohm_per_kft * length_ft / FEET_PER_KFT / sets
    return Impedance(
        named(resistance, "R_run", "ohm", "resistance of the run, one way", "conductor_ac_z"),
        named(reactance, "X_run", "ohm", "reactance of the run, one way", "conductor_ac_z"),
    )


def in_series(impedances: Sequence[Impedance]) -> Impedance:
    """Sum of impedances one after the other, resistances and reactances apart.

    Parameters
    ----------
    impedances : runs in series, in ohms.

    Examples
    --------
    >>> in_series([Impedance(0.5, 0.25), Impedance(0.25, 0.125)])
    Impedance(r_ohm=0.75, x_ohm=0.375)
    """
    return Impedance(
        named(total([part.r_ohm for part in impedances]), "R_sum", "ohm", "resistances in series"),
        named(total([part.x_ohm for part in impedances]), "X_sum", "ohm", "reactances in series"),
    )


def fault_line_to_line(voltage_v: Number, source: Impedance, run: Impedance) -> Number:
    """Bolted line-to-line fault current at the end of a run, in amperes.

    Parameters
    ----------
    voltage_v : line to line, volts. source : from `source_impedance`.
    run : one way, all conductors to the point in series; both legs of the loop are counted here.

    References
    ----------
    `interrupting_rating` 110.9; `sccr` 110.10.

    Examples
    --------
    >>> fault_line_to_line(240.0, Impedance(0.03, 0.0), Impedance(0.0, 0.02))
    4800.0
    """
    loop = _magnitude(source.r_ohm + 2.0 * run.r_ohm, source.x_ohm + 2.0 * run.x_ohm, "LL", "line to line")
    return named(voltage_v / loop, "I_LL", "A", "fault current, line to line", "interrupting_rating")


def fault_line_to_neutral(voltage_ln_v: Number, source: Impedance, phase: Impedance, neutral: Impedance) -> Number:
    """Bolted line-to-neutral fault current at the end of a run, in amperes.

    Parameters
    ----------
    voltage_ln_v : line to neutral, volts. source : from `source_impedance_line_to_neutral`.
    phase, neutral : one way, each with its own size.

    References
    ----------
    `interrupting_rating` 110.9; `sccr` 110.10.

    Examples
    --------
    >>> fault_line_to_neutral(120.0, Impedance(0.01, 0.0), Impedance(0.02, 0.02), Impedance(0.0, 0.02))
    2400.0
    """
    resistance = source.r_ohm + phase.r_ohm + neutral.r_ohm
    reactance = source.x_ohm + phase.x_ohm + neutral.x_ohm
    loop = _magnitude(resistance, reactance, "LN", "line to neutral")
    return named(voltage_ln_v / loop, "I_LN", "A", "fault current, line to neutral", "interrupting_rating")


def _magnitude(r_ohm: Number, x_ohm: Number, suffix: str, which: str) -> Number:
    resistance = named(r_ohm, f"R_{suffix}", "ohm", f"resistance of the loop, {which}")
    reactance = named(x_ohm, f"X_{suffix}", "ohm", f"reactance of the loop, {which}")
    magnitude = sqrt(resistance * resistance + reactance * reactance)
    return named(magnitude, f"Z_{suffix}", "ohm", f"impedance of the loop, {which}")


def assumed_contribution(start_a: Number, rated_a: Number) -> Number:
    """Fault current of a unit whose datasheet gives none, in amperes (assumed).

    Parameters
    ----------
    start_a : stated start or surge current in amperes, 0 where none. rated_a : rated current in amperes.

    References
    ----------
    `interconnection_fault_ratings` 705.16; the figure itself is an assumption.

    Examples
    --------
    >>> assumed_contribution(70.0, 40.0)
    80.0
    """
    current = largest(start_a, 2.0 * rated_a)
    return named(current, "I_src_fault", "A", "fault contribution, assumed", "interconnection_fault_ratings")


def with_contributions(fault_a: Number, contributions_a: Sequence[Number]) -> Number:
    """Fault current of the utility with the sources added arithmetically, in amperes.

    Parameters
    ----------
    fault_a : utility fault current at the point, amperes. contributions_a : one a source, amperes.

    References
    ----------
    `interconnection_fault_ratings` 705.16.

    Examples
    --------
    >>> with_contributions(5000.0, [80.0, 80.0])
    5160.0
    """
    current = total((fault_a, *contributions_a))
    return named(current, "I_fault", "A", "fault current with the sources", "interconnection_fault_ratings")


def worst_fault(faults_a: Sequence[Number]) -> Number:
    """The largest of the fault currents at a place, which interrupting ratings are held against, in amperes.

    Parameters
    ----------
    faults_a : line-to-line and line-to-neutral fault currents at the place, amperes.

    References
    ----------
    `interrupting_rating` 110.9; `sccr` 110.10.

    Examples
    --------
    >>> worst_fault([9000.0, 11000.0])
    11000.0
    """
    return named(largest(*faults_a), "I_fault", "A", "largest fault current at this place", "interrupting_rating")


def series_motor_limit(rating_a: Number) -> Number:
    """Motor current allowed between the two devices of a series combination, in amperes.

    Parameters
    ----------
    rating_a : the lower interrupting rating of the combination in amperes.

    References
    ----------
    `series_rating` 240.86(C).

    Examples
    --------
    >>> series_motor_limit(10000.0)
    100.0
    """
    return named(SERIES_MOTOR_SHARE * rating_a, "I_motor_max", "A", "1 % of the lower rating", "series_rating")


def storage_fault(currents_a: Sequence[Number]) -> Number:
    """Short-circuit current of the storage on one direct-current bus, in amperes.

    Parameters
    ----------
    currents_a : short-circuit current of each battery that feeds the bus, amperes.

    References
    ----------
    `interrupting_rating` 110.9.

    Examples
    --------
    >>> storage_fault([1200.0, 1200.0])
    2400.0
    """
    current = total(tuple(currents_a))
    return named(current, "I_sc_dc", "A", "short-circuit current of the storage together", "interrupting_rating")


def largest_fast_device(fault_a: Number) -> Number:
    """The largest breaker that a small fault current still trips at once, in amperes.

    Parameters
    ----------
    fault_a : all the current that flows into the fault, amperes.

    References
    ----------
    `island_fault`: breakers for dwellings trip at once from about six times their rating.

    Examples
    --------
    >>> largest_fast_device(240.0)
    40.0
    """
    return named(fault_a / FAST_TRIP_MULTIPLE, "I_fast", "A", "largest breaker that trips at once", "island_fault")
