"""Noncoincident loads: which loads run together, as cases of which the largest counts.

References
----------
``load_noncoincident``: 220.60. The load is computed with each alternative
alone, its own largest motor included, and the largest result counts.
"""

from __future__ import annotations

from dataclasses import dataclass
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

    Heating and cooling are alternatives without being told; other loads are
    where they name the same group. Beyond 64 combinations each group counts
    its largest load.
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
    heating = tuple(item for item in climate if item.kind in HEATING)
    cooling = tuple(item for item in climate if item.kind in COOLING)
    sides = [(heating, ()), ((), cooling)] if heating and cooling else [(heating, cooling)]
    found = []
    for warm, cold in sides:
        out = [item.tag for item in climate if item not in warm + cold]
        found.append(Case(running, warm, cold, tuple(left + out)))
    return found


def _groups(items: tuple[LoadItem, ...]) -> list[list[LoadItem]]:
    names = dict.fromkeys(item.group for item in items if item.group is not None)
    return [[item for item in items if item.group == name] for name in names]
