"""Generators: what the conductors ahead of their first device must carry."""

from __future__ import annotations

from linecalc.term import Number, named

GENERATOR_FACTOR = 1.15


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
