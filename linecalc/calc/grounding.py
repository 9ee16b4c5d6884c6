"""Grounding and bonding: sizes that follow from the circuit's conductors."""

from __future__ import annotations

from linecalc.term import Number, named

SUPPLY_SIDE_SHARE = 0.125


def proportional_egc_area(base_cmil: Number, installed_cmil: Number, smallest_cmil: Number) -> Number:
    """Area of a grounding conductor raised with its circuit, in the unit of ``base_cmil``.

    The multiplication comes before the division, and nothing is rounded.

    Parameters
    ----------
    base_cmil : area by the table of grounding conductors. installed_cmil : area of the installed
        ungrounded conductor. smallest_cmil : area of the smallest that meets T1 to T3 with all
        factors, at the same device. Circular mils.

    References
    ----------
    `egc_upsize` 250.122(B).

    Examples
    --------
    >>> proportional_egc_area(26240.0, 350000.0, 250000.0)
    36736.0
    """
    area = base_cmil * installed_cmil / smallest_cmil
    return named(area, "A_egc", "cmil", "area of the grounding conductor, raised in proportion", "egc_upsize")


def area_of_sets(area_cmil: Number, sets: Number) -> Number:
    """Area of the parallel sets of a conductor together, by which electrode conductors and bonding jumpers go.

    Parameters
    ----------
    area_cmil : area of one conductor, circular mils. sets : conductors in parallel.

    References
    ----------
    `gec` Table 250.66, Note 1; `ssbj` Table 250.102(C)(1).

    Examples
    --------
    >>> area_of_sets(167800.0, 2.0)
    335600.0
    """
    return named(area_cmil * sets, "A_ug", "cmil", "area of the largest ungrounded conductor, all sets", "ssbj")


def supply_side_jumper_area(ungrounded_cmil: Number) -> Number:
    """Area of a supply-side bonding jumper beyond the table, 12.5 percent, in the unit given.

    Parameters
    ----------
    ungrounded_cmil : total area of the largest ungrounded supply conductor or set, circular mils.

    References
    ----------
    `ssbj` 250.102(C), Note 1 to Table 250.102(C)(1).

    Examples
    --------
    >>> supply_side_jumper_area(2000000.0)
    250000.0
    """
    return named(
        SUPPLY_SIDE_SHARE * ungrounded_cmil, "A_ssbj", "cmil", "area of the supply-side bonding jumper", "ssbj"
    )
