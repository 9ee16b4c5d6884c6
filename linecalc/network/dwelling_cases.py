"""Noncoincident loads: which loads run together, as cases of which the largest counts.

References
----------
``load_noncoincident``: 220.60. The load is computed with each alternative
alone, its own largest motor included, and the largest result counts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from math import prod

from linecalc.network.dwelling_records import COOLING, HEATING, LoadItem

MOST_CASES = 64


@dataclass(frozen=True, slots=True)
class Case:
    """Loads that run together, and those left out because they never run with them."""

    items: tuple[LoadItem, ...]
    heating: tuple[LoadItem, ...]
    cooling: tuple[LoadItem, ...]
    left_out: tuple[str, ...]


def cases(items: tuple[LoadItem, ...]) -> tuple[Case, ...]:
    """Every combination of alternatives, the heating season first.

    Heating and cooling are alternatives without being told, and so are the
    compressor and the supplemental heat of an interlocked heat pump; other
    loads are where they name the same group. Beyond 64 combinations each group
    counts its largest load.
    """
    groups = _groups(items)
    choices = groups
    if prod(len(group) for group in groups) > MOST_CASES:
        choices = [[max(group, key=lambda item: float(item.va))] for group in groups]
    climate = [item for item in items if item.group is None and item.kind in HEATING + COOLING]
    free = [item for item in items if item.group is None and item not in climate]
    found = []
    for chosen in product(*choices):
        running = [*free, *chosen]
        left = [item.tag for group in groups for item in group if item not in chosen]
        found.extend(_seasons(tuple(running), climate, left))
    return tuple(found)


def _seasons(running: tuple[LoadItem, ...], climate: list[LoadItem], left: list[str]) -> list[Case]:
    heating = [_ways_of_heating(item) for item in climate if item.kind in HEATING]
    cooling = tuple(item for item in climate if item.kind in COOLING)
    sides: list[tuple[tuple[LoadItem, ...], tuple[LoadItem, ...]]] = [(warm, ()) for warm in product(*heating)] if heating else []
    if cooling or not sides:
        sides.append(((), cooling))
    found = []
    for warm, cold in sides:
        run = {item.tag for item in warm + cold}
        out = [item.tag for item in climate if item.tag not in run]
        found.append(Case(running, warm, cold, tuple(left + out)))
    return found


def _ways_of_heating(item: LoadItem) -> list[LoadItem]:
    """A heating load as it may run: an interlocked heat pump by its compressor or by its supplemental heat."""
    if item.supplement_va is None or not item.interlocked:
        return [item]
    heat = replace(item, kind="heat", text=f"{item.text}, supplemental heat alone", va=item.supplement_va, motor_va=None, supplement_va=None)
    return [heat, replace(item, supplement_va=None)]


def _groups(items: tuple[LoadItem, ...]) -> list[list[LoadItem]]:
    names = dict.fromkeys(item.group for item in items if item.group is not None)
    return [[item for item in items if item.group == name] for name in names]
