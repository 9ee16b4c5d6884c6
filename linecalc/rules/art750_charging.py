"""Charging from the utility: the control that limits it is named.

References
----------
``ems``: 750.30, energy management.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import Kind, Node
from linecalc.sizing.records import Sized
from linecalc.term import value_of


def charging_controls(sized: Sized) -> Iterator[Check]:
    """What holds charging from the utility down is named; a limit without its control does not count.

    References
    ----------
    ``ems``: 750.30.
    """
    for unit in sized.network.of_kind(Kind.UNIT):
        if unit.item.grid_charging_limit is not None and unit.item.grid_charging_control is None:
            needs = (f"unit.{unit.tag}.grid_charging_control",)
            message = f"the control that limits charging of {unit.tag} is not named: full charging is counted"
            yield not_checked(sized.book, "ems.charging", unit.tag, message, needs)
        elif unit.item.grid_charging_control is not None:
            yield remark(sized.book, "ems.charging", unit.tag, Level.NOTE, _told(sized, unit))


def _told(sized: Sized, unit: Node) -> str:
    amps = value_of(sized.currents.sources[unit.tag].charge_a)
    counted = f"{amps:.4g} A from the utility counted" if amps else "no charging from the utility counted"
    return f"charging of {unit.tag}: {counted}; {unit.item.grid_charging_control}"
