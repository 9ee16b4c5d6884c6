"""Invented houses by the seed: every arrangement of panels that a drawing must hold."""

from __future__ import annotations

from random import Random

from linecalc.project.model import Project
from tests.diagram.random_parts import House, add_circuits, add_equipment, add_facts, add_source, add_unit
from tests.diagram.random_topologies import PANELS_MAX, TOPOLOGIES, add_subpanel

__all__ = ["TOPOLOGIES", "random_house", "topology_of"]
_EDITIONS = ("2017", "2020", "2023")
#: Two-pole breakers in a panel of 42 spaces.
_BREAKERS_MAX = 21


def topology_of(seed: int) -> str:
    """The topology of a seed: all of them in turn."""
    return tuple(TOPOLOGIES)[seed % len(TOPOLOGIES)]


def random_house(seed: int, units: int | None = None, strings: int | None = None, modules: int | None = None,
                 topology: str | None = None, circuits: int | None = None) -> Project:
    """A valid project, the same for the same seed.

    ``units``, ``strings`` and ``modules`` are totals of a *regular* house, in which all runs are alike;
    left out, there are 1 to 8 units with 1 to 6 strings and 0 to 3 modules each, and 1 to 4 panels.
    ``circuits`` are plain branch circuits of the first panel; left out, in every fourth irregular house as many as a panel of
    42 spaces may hold beside the two-pole breakers of the units.
    """
    topology = topology_of(seed) if topology is None else topology
    regular = units is not None
    house = House(seed, _EDITIONS[seed // len(TOPOLOGIES) % 3] if not regular else "2023", regular)
    add_equipment(house)
    count = house.random.randint(1, 8) if units is None else units
    if topology == "AC-coupled":
        count = max(count, 2)
    homes = TOPOLOGIES[topology](house, count)
    if not regular:
        add_facts(house)
        for _ in range(house.random.randint(0, PANELS_MAX - house.panel_count)):
            add_subpanel(house, homes)
    if circuits is None:
        circuits = Random(f"circuits of {seed}").randint(0, _BREAKERS_MAX - count - 3) if not regular and seed % 4 == 0 else 0
    add_circuits(house, house.panels[0], circuits)
    left_strings = _shares(strings, count) if strings is not None else [house.random.randint(1, 6) for _ in range(count)]
    left_modules = _shares(modules, count) if modules is not None else [house.random.randint(0, 3) for _ in range(count)]
    for index in range(count):
        home = homes[index % len(homes)] if regular else house.random.choice(homes)
        if topology == "AC-coupled" and index == 1:
            add_source(house, f"I{index}", home, left_strings[index])
        else:
            add_unit(house, index + 1, home, left_strings[index], left_modules[index])
    return house.build.build()


def _shares(total: int, parts: int) -> list[int]:
    """A number shared out as evenly as it goes."""
    return [total // parts + (1 if index < total % parts else 0) for index in range(parts)]
