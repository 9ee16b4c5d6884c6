"""Voltage drop and rise along conductors."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.term import Number, named, sqrt, total

TABLE_C = 75.0
FEET_PER_KFT = 1000.0


def resistance_at(r75_ohm_per_kft: Number, alpha_per_k: Number, temperature_c: Number) -> Number:
    """Conductor resistance at another temperature than 75 degC, in ohm per 1000 ft.

    Parameters
    ----------
    r75_ohm_per_kft : resistance at 75 degC. alpha_per_k : coefficient referred to 75 degC
        (0.00323 copper, 0.00330 aluminium). temperature_c : conductor temperature in degC.

    References
    ----------
    `conductor_dc_r` Chapter 9 Table 8, note on temperature.

    Examples
    --------
    >>> resistance_at(2.0, 0.0032, 25.0)
    1.68
    """
    resistance = r75_ohm_per_kft * (1.0 + alpha_per_k * (temperature_c - TABLE_C))
    return named(resistance, "R_T", "ohm/kft", "resistance at the conductor's temperature", "conductor_dc_r")


def effective_impedance(r_ohm_per_kft: Number, x_ohm_per_kft: Number, power_factor: Number) -> Number:
    """Impedance that counts for drop, R cos(phi) + X sin(phi), in ohm per 1000 ft.

    Parameters
    ----------
    r_ohm_per_kft, x_ohm_per_kft : AC resistance and reactance of one conductor, ohm per 1000 ft.
    power_factor : cosine of phi, 0 to 1.

    References
    ----------
    `conductor_ac_z` Chapter 9 Table 9, Note 2.

    Examples
    --------
    >>> effective_impedance(0.5, 0.25, 1.0)
    0.5
    """
    impedance = r_ohm_per_kft * power_factor + x_ohm_per_kft * sqrt(1.0 - power_factor * power_factor)
    return named(impedance, "Z_eff", "ohm/kft", "effective impedance at the power factor", "conductor_ac_z")


def two_wire_drop(
    length_ft: Number,
    current_a: Number,
    r_ohm_per_kft: Number,
    x_ohm_per_kft: Number,
    power_factor: Number,
    sets: Number,
) -> Number:
    """Drop out and back over two equal conductors, in volts.

    Parameters
    ----------
    length_ft : one way in ft. current_a : operating current in amperes.
    r_ohm_per_kft, x_ohm_per_kft : of one conductor, ohm per 1000 ft. power_factor : 0 to 1.
    sets : conductors in parallel per phase.

    References
    ----------
    `conductor_ac_z` Chapter 9 Table 9.

    Examples
    --------
    >>> two_wire_drop(100.0, 40.0, 0.5, 0.0625, 1.0, 1)
    4.0
    """
    impedance = effective_impedance(r_ohm_per_kft, x_ohm_per_kft, power_factor)
    drop = 2.0 * length_ft * current_a * impedance / FEET_PER_KFT / sets
    return named(drop, "V_drop", "V", "voltage drop, out and back", "conductor_ac_z")


def dc_drop(length_ft: Number, current_a: Number, r_ohm_per_kft: Number, sets: Number) -> Number:
    """Drop of a DC circuit, out and back, in volts.

    Parameters
    ----------
    length_ft : one way in ft. current_a : operating current in amperes.
    r_ohm_per_kft : DC resistance of one conductor, ohm per 1000 ft. sets : conductors in parallel.

    References
    ----------
    `conductor_dc_r` Chapter 9 Table 8.

    Examples
    --------
    >>> dc_drop(100.0, 12.5, 1.25, 1)
    3.125
    """
    drop = 2.0 * length_ft * current_a * r_ohm_per_kft / FEET_PER_KFT / sets
    return named(drop, "V_drop", "V", "voltage drop, out and back", "conductor_dc_r")


def phase_and_neutral_drop(
    length_ft: Number, current_a: Number, phase_ohm_per_kft: Number, neutral_ohm_per_kft: Number, sets: Number
) -> Number:
    """Drop of a 120 V load over its phase conductor and a neutral of its own size, in volts.

    Parameters
    ----------
    length_ft : one way in ft. current_a : operating current in amperes.
    phase_ohm_per_kft, neutral_ohm_per_kft : effective impedances (`effective_impedance`), ohm per 1000 ft.
    sets : conductors in parallel.

    References
    ----------
    `conductor_ac_z` Chapter 9 Table 9.

    Examples
    --------
    >>> phase_and_neutral_drop(100.0, 10.0, 0.5, 0.75, 1)
    1.25
    """
    drop = length_ft * current_a * (phase_ohm_per_kft + neutral_ohm_per_kft) / FEET_PER_KFT / sets
    return named(drop, "V_drop_120", "V", "voltage drop over phase and neutral", "conductor_ac_z")


def percent_of(drop_v: Number, base_v: Number, cite: str = "") -> Number:
    """A drop or rise as percent of its base voltage.

    Parameters
    ----------
    drop_v, base_v : volts.
    cite : codebook key of the note it is held against, which depends on the circuit.

    References
    ----------
    `voltage_drop_branch_note` 210.19; `voltage_drop_feeder_note` 215.2 (informational notes).

    Examples
    --------
    >>> percent_of(4.8, 240.0)
    2.0
    """
    return named(100.0 * drop_v / base_v, "drop", "percent", "share of the base voltage", cite)


def cumulative_rise(percents: Sequence[Number]) -> Number:
    """Voltage rise from a unit to the meter: the sum of its circuits' rises, in percent.

    Parameters
    ----------
    percents : rise of each circuit on the way, percent of the same base.

    Examples
    --------
    >>> cumulative_rise([0.5, 0.25])
    0.75
    """
    return named(total(tuple(percents)), "rise", "percent", "voltage rise from the source to the meter")


def longest_length(length_ft: Number, drop_percent: Number, target_percent: Number) -> Number:
    """Length at which a uniform run just keeps its target, in ft.

    Parameters
    ----------
    length_ft : present length in ft. drop_percent : its drop. target_percent : the target.

    Examples
    --------
    >>> longest_length(100.0, 2.0, 3.0)
    150.0
    """
    return named(length_ft * target_percent / drop_percent, "L_max", "ft", "length at which the target is just kept")
