"""Source circuits on the AC side: what a unit's or inverter's circuit must carry."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.term import Number, largest, named, total

GENERATOR_FACTOR = 1.15


def unit_circuit_current(export_a: Number, island_a: Number, charge_a: Number) -> Number:
    """Current of a unit's output circuit: the largest of its continuous ones, in amperes.

    Parameters
    ----------
    export_a, island_a, charge_a : continuous ratings in amperes; no short-time rating counts.

    References
    ----------
    `inverter_output_current` 690.8(A)(1), 705.28(A), 705.60(A)(2) in 2017.

    Examples
    --------
    >>> unit_circuit_current(40.0, 48.0, 20.0)
    48.0
    """
    current = largest(export_a, island_a, charge_a)
    return named(current, "I_unit", "A", "largest continuous current of the unit", "inverter_output_current")


def inverter_current_from_power(power_w: Number, voltage_v: Number) -> Number:
    """AC current of a rated power at power factor 1, in amperes.

    Parameters
    ----------
    power_w : watts (or volt-amperes). voltage_v : nominal volts.

    References
    ----------
    `inverter_output_current` 690.8(A)(1), 705.28(A), 705.60(A)(2) in 2017.

    Examples
    --------
    >>> inverter_current_from_power(9600.0, 240.0)
    40.0
    """
    return named(power_w / voltage_v, "I_ac", "A", "rated AC current", "inverter_output_current")


def combined_current(currents_a: Sequence[Number], cite: str = "inverter_output_current") -> Number:
    """Sum of the rated currents of several sources, in amperes.

    Parameters
    ----------
    currents_a : continuous currents in amperes, one a source.
    cite : codebook key, `standalone_conductor` for a combined feeder in island mode.

    References
    ----------
    `inverter_output_current` 705.28(A), 705.60(A)(2) in 2017; `standalone_conductor` 710.15(B).

    Examples
    --------
    >>> combined_current([40.0, 40.0])
    80.0
    """
    return named(total(tuple(currents_a)), "I_src", "A", "current of the sources together", cite)


def generator_conductor_need(rated_a: Number) -> Number:
    """Ampacity of the conductors between a generator and the first overcurrent device, in amperes.

    Parameters
    ----------
    rated_a : nameplate current of the generator in amperes.

    References
    ----------
    `generator_conductor` 445.13(A).

    Examples
    --------
    >>> generator_conductor_need(80.0)
    92.0
    """
    return named(GENERATOR_FACTOR * rated_a, "I_gen_115", "A", "115 % of the generator's nameplate current", "generator_conductor")
