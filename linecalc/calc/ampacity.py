"""Ampacity: what a conductor must carry, and what it may carry where it lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from linecalc.calc.compare import at_most, same, smallest_of
from linecalc.term import Number, named, smallest, total, value_of

CONTINUOUS_FACTOR = 1.25
DWELLING_FACTOR = 0.83
LOWER_PORTION_LIMIT_FT = 10.0
LOWER_PORTION_SHARE = 0.10


def terminal_need(continuous_a: Number, noncontinuous_a: Number, cite: str = "") -> Number:
    """Ampacity needed in the terminal column, before any factor (T1), in amperes.

    Parameters
    ----------
    continuous_a, noncontinuous_a : currents in amperes, floats or Terms.
    cite : codebook key of the article that asks for it, which depends on the circuit.

    References
    ----------
    `branch_continuous_conductor` 210.19(A)(1); `feeder_continuous_conductor` 215.2(A)(1);
    `service_continuous_conductor` 230.42(A)(1); `pv_conductor` 690.8(B)(1);
    `inverter_output_conductor` 705.28(B), 705.60(B) in 2017; `ess_conductor` 706.30(B), 706.20(B) in 2017.

    Examples
    --------
    >>> terminal_need(32.0, 10.0)
    50.0
    """
    need = CONTINUOUS_FACTOR * continuous_a + noncontinuous_a
    return named(need, "I_T1", "A", "ampacity needed at the terminals, before any factor", cite, "T1")


def conditions_need(continuous_a: Number, noncontinuous_a: Number, cite: str = "") -> Number:
    """Ampacity needed after ambient and count factors (T2), in amperes.

    Parameters
    ----------
    continuous_a, noncontinuous_a : currents in amperes, floats or Terms.
    cite : codebook key of the article that asks for it, which depends on the circuit.

    References
    ----------
    `branch_continuous_conductor` 210.19(A)(1); `feeder_continuous_conductor` 215.2(A)(1);
    `service_continuous_conductor` 230.42(A)(1); `pv_conductor` 690.8(B)(2);
    `inverter_output_conductor` 705.28(B), 705.60(B) in 2017; `ess_conductor` 706.30(B), 706.20(B) in 2017;
    `ampacity_rules` 310.14(A)(2), 310.15(A)(2) in 2017.

    Examples
    --------
    >>> conditions_need(32.0, 10.0)
    42.0
    """
    need = continuous_a + noncontinuous_a
    return named(need, "I_T2", "A", "ampacity needed after ambient and count factors", cite, "T2")


def raised_ambient(ambient_c: Number, adder_c: Number) -> Number:
    """Ambient temperature inside a raceway low over a sunlit roof, in degC.

    Parameters
    ----------
    ambient_c : outdoor ambient in degC. adder_c : the adder in kelvin.

    References
    ----------
    `rooftop_adder` 310.15(B)(2), 310.15(B)(3)(c) in 2017.

    Examples
    --------
    >>> raised_ambient(36.0, 33.0)
    69.0
    """
    return named(ambient_c + adder_c, "T_amb", "degC", "ambient with the rooftop adder", "rooftop_adder")


def corrected_ampacity(table_a: Number, ambient_factor: Number, count_factor: Number) -> Number:
    """Ampacity of one conductor in the conditions of its section, in amperes.

    Parameters
    ----------
    table_a : insulation-column ampacity in amperes. ambient_factor, count_factor : plain numbers.

    References
    ----------
    `ambient_correction` 310.15(B)(1), 310.15(B)(2) in 2017; `ccc_adjustment` 310.15(C)(1),
    310.15(B)(3)(a) in 2017.

    Examples
    --------
    >>> corrected_ampacity(75.0, 0.75, 0.8)
    45.0
    """
    ampacity = table_a * ambient_factor * count_factor
    meaning = "ampacity in the conditions of the section"
    return named(ampacity, "I_corr", "A", meaning, "ambient_correction", "ampacity")


def dwelling_ampacity_need(rating_a: Number) -> Number:
    """Ampacity of conductors that carry the whole load of a dwelling, in amperes.

    Parameters
    ----------
    rating_a : service or feeder device in amperes.

    References
    ----------
    `dwelling_83pct` 310.12, 310.15(B)(7) in 2017.

    Examples
    --------
    >>> dwelling_ampacity_need(200.0)
    166.0
    """
    need = DWELLING_FACTOR * rating_a
    return named(need, "I_83", "A", "ampacity needed for the whole load of a dwelling", "dwelling_83pct")


def parallel_ampacity(single_a: Number, sets: Number) -> Number:
    """Ampacity of equal conductors in parallel, in amperes.

    Parameters
    ----------
    single_a : ampacity of one conductor in amperes. sets : conductors in parallel per phase.

    References
    ----------
    `parallel_conductors` 310.10(G), 310.10(H) in 2017; whether they may be paralleled is not decided here.

    Examples
    --------
    >>> parallel_ampacity(150.0, 2)
    300.0
    """
    return named(sets * single_a, "I_par", "A", "ampacity of the parallel sets together", "parallel_conductors")


class LowerPortionBasis(Enum):
    """The length of which portions of lower ampacity may be 10 percent."""

    OF_HIGHER = "length at the higher ampacity"
    OF_CIRCUIT = "length of the circuit"


@dataclass(frozen=True, slots=True)
class Portion:
    """A stretch of a circuit: its tag, length in ft and ampacity in amperes."""

    tag: str
    length_ft: Number
    ampacity_a: Number


@dataclass(frozen=True, slots=True)
class LevelTrial:
    """One ampacity tried for the whole circuit, with the portions below it.

    ``lower_ft`` is the length of ``lower`` together; ``limit_ft`` and
    ``percent_limit_ft`` are the two limits it must keep to be set aside.
    """

    ampacity_a: Number
    tag: str
    lower: tuple[str, ...]
    lower_ft: Number
    limit_ft: Number
    percent_limit_ft: Number
    allowed: bool


@dataclass(frozen=True, slots=True)
class GoverningPortion:
    """The ampacity a circuit of several portions may use, in amperes.

    ``tag`` is the portion that sets it, ``set_aside`` the shorter, lower ones
    that do not count. ``trials`` runs from the highest ampacity tried down to
    the one used, so the last is allowed and every other is not; ``lower_ft``
    and the two limits are those of the last.
    """

    ampacity_a: Number
    tag: str
    set_aside: tuple[str, ...]
    lower_ft: Number
    limit_ft: Number
    percent_limit_ft: Number
    trials: tuple[LevelTrial, ...]


def governing_portion(portions: Sequence[Portion], basis: LowerPortionBasis) -> GoverningPortion:
    """The highest ampacity whose lower portions together keep both limits, 10 ft and 10 percent.

    Parameters
    ----------
    portions : the circuit from end to end, lengths in ft, ampacities in amperes after factors.
    basis : the length that the 10 percent is taken of, by edition.

    Raises
    ------
    ValueError
        There is no portion.

    References
    ----------
    `ampacity_rules` 310.14(A)(2) Exception, 310.15(A)(2) Exception in 2017.

    Examples
    --------
    >>> run = [Portion("roof", 6.5, 40.0), Portion("attic", 38.0, 55.0), Portion("garage", 22.0, 60.0)]
    >>> governing_portion(run, LowerPortionBasis.OF_HIGHER).tag
    'roof'
    >>> governing_portion(run, LowerPortionBasis.OF_CIRCUIT).tag
    'attic'
    """
    if not portions:
        raise ValueError("a circuit needs at least one portion")
    trials: list[LevelTrial] = []
    for level in sorted(portions, key=lambda portion: -value_of(portion.ampacity_a)):
        if trials and same(level.ampacity_a, trials[-1].ampacity_a):
            continue
        trials.append(_trial(level, portions, basis))
        if trials[-1].allowed:
            break
    used = trials[-1]
    meaning = "ampacity of the run, portions set aside left out"
    ampacity = named(used.ampacity_a, "I_run", "A", meaning, "ampacity_rules", "run")
    return GoverningPortion(
        ampacity, used.tag, used.lower, used.lower_ft, used.limit_ft, used.percent_limit_ft, tuple(trials)
    )


def _trial(level: Portion, portions: Sequence[Portion], basis: LowerPortionBasis) -> LevelTrial:
    kept = [portion for portion in portions if at_most(level.ampacity_a, portion.ampacity_a)]
    lower = [portion for portion in portions if not at_most(level.ampacity_a, portion.ampacity_a)]
    counted = {LowerPortionBasis.OF_HIGHER: kept, LowerPortionBasis.OF_CIRCUIT: portions}[basis]
    basis_ft = total([portion.length_ft for portion in counted])
    lower_ft = named(
        total([portion.length_ft for portion in lower]), "L_low", "ft", "length at lower ampacity", "ampacity_rules"
    )
    percent_limit_ft = named(
        LOWER_PORTION_SHARE * basis_ft, "L_10", "ft", f"10 % of the {basis.value}", "ampacity_rules"
    )
    allowed = not lower or (
        value_of(basis_ft) > 0.0 and at_most(lower_ft, LOWER_PORTION_LIMIT_FT) and at_most(lower_ft, percent_limit_ft)
    )
    ampacity = smallest_of([portion.ampacity_a for portion in kept])
    tags = tuple(portion.tag for portion in lower)
    return LevelTrial(
        ampacity, level.tag, tags, lower_ft, LOWER_PORTION_LIMIT_FT, percent_limit_ft, allowed
    )


def capped_ampacity(corrected_a: Number, cap_a: Number, cite: str) -> Number:
    """Ampacity after factors of a cable whose final ampacity has a cap, in amperes.

    Parameters
    ----------
    corrected_a : ampacity after factors, from the insulation's column. cap_a : ampacity of the
        column that the cable's article sets as the highest. cite : codebook key of that article.

    References
    ----------
    `nm_cable_ampacity` 334.80; `se_cable_interior` 338.10(B)(4)(a).

    Examples
    --------
    >>> capped_ampacity(64.5, 55.0, "nm_cable_ampacity")
    55.0
    """
    return named(smallest(corrected_a, cap_a), "I_capped", "A", "ampacity after factors, held to the cable's cap", cite)
