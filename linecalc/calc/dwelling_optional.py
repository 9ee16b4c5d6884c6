"""Dwelling load by Article 220 Part IV: the optional, existing-dwelling and measured methods."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.calc.compare import largest_of
from linecalc.term import Number, named, value_of

OPTIONAL_FIRST_VA = 10000.0
EXISTING_FIRST_VA = 8000.0
REMAINDER_FACTOR = 0.4
CENTRAL_HEAT_FACTOR = 0.65
SEPARATE_HEAT_FACTOR = 0.4
SEPARATE_HEAT_FROM = 4
MEASURED_FACTOR = 1.25


def optional_general(load_va: Number) -> Number:
    """General load of the optional method: 10 kVA in full, 40 percent of the rest, in volt-amperes.

    Parameters
    ----------
    load_va : all general loads at nameplate, in volt-amperes.

    References
    ----------
    `load_optional_dwelling` 220.82(B).

    Examples
    --------
    >>> optional_general(29700.0), optional_general(9000.0)
    (17880.0, 9000.0)
    """
    return named(_tiered(load_va, OPTIONAL_FIRST_VA), "S_general", "VA", "general load after 220.82(B)", "load_optional_dwelling")


def existing_general(load_va: Number) -> Number:
    """General load of an existing dwelling: 8 kVA in full, 40 percent of the rest, in volt-amperes.

    Parameters
    ----------
    load_va : all loads that the percentages apply to, at nameplate, in volt-amperes.

    References
    ----------
    `load_existing_dwelling` 220.83(A), (B).

    Examples
    --------
    >>> existing_general(28000.0)
    16000.0
    """
    return named(_tiered(load_va, EXISTING_FIRST_VA), "S_general", "VA", "load after the percentages of 220.83", "load_existing_dwelling")


def _tiered(load_va: Number, first_va: float) -> Number:
    return load_va if value_of(load_va) <= first_va else first_va + REMAINDER_FACTOR * (load_va - first_va)


def optional_heat(load_va: Number, separately_controlled: int) -> Number:
    """Electric space heating in the optional method, in volt-amperes.

    Parameters
    ----------
    load_va : connected heating in volt-amperes. separately_controlled : number of heaters with
    controls of their own; 0 for central heating.

    References
    ----------
    `load_optional_dwelling` 220.82(C): 65 percent, 40 percent of four or more separately controlled.

    Examples
    --------
    >>> optional_heat(15000.0, 0), optional_heat(9000.0, 5)
    (9750.0, 3600.0)
    """
    many = separately_controlled >= SEPARATE_HEAT_FROM
    factor = SEPARATE_HEAT_FACTOR if many else CENTRAL_HEAT_FACTOR
    which = "four or more separately controlled" if many else "central, or fewer than four controls"
    return named(factor * load_va, "S_heat", "VA", f"electric heating, {which}", "load_optional_dwelling")


def heat_pump_with_supplement(compressor_va: Number, supplement_va: Number) -> Number:
    """Heat pump at 100 percent with its supplemental heat at 65 percent, in volt-amperes.

    Parameters
    ----------
    compressor_va : compressor and fans, 0 where they cannot run with the supplemental heat.
    supplement_va : supplemental electric heat.

    References
    ----------
    `load_optional_dwelling` 220.82(C)(3).

    Examples
    --------
    >>> heat_pump_with_supplement(5760.0, 15000.0)
    15510.0
    """
    heat = CENTRAL_HEAT_FACTOR * supplement_va
    both = heat if value_of(compressor_va) == 0.0 else compressor_va + heat
    return named(both, "S_pump", "VA", "heat pump with supplemental heat", "load_optional_dwelling")


def largest_hvac(choices_va: Sequence[Number], cite: str = "load_optional_dwelling") -> Number:
    """Heating or cooling, the larger, in volt-amperes.

    Parameters
    ----------
    choices_va : heating and cooling, each after its factor. cite : citation key of the method.

    Raises
    ------
    ValueError
        There is none.

    References
    ----------
    `load_optional_dwelling` 220.82(C); `load_existing_dwelling` 220.83(B).

    Examples
    --------
    >>> largest_hvac([10080.0, 975.0])
    10080.0
    """
    return named(largest_of(choices_va), "S_hvac", "VA", "heating or cooling, the larger", cite)


def measured_existing(demand_va: Number) -> Number:
    """The existing load by its highest measured demand, at 125 percent, in volt-amperes.

    Parameters
    ----------
    demand_va : highest demand measured, in volt-amperes.

    References
    ----------
    `load_measured` 220.87.

    Examples
    --------
    >>> measured_existing(12000.0)
    15000.0
    """
    return named(MEASURED_FACTOR * demand_va, "S_125", "VA", "measured demand at 125 percent", "load_measured")
