"""Currents in every operating mode, by one walk over the tree.

References
----------
Modes: export, supply, charge (from the utility), island. Only sources,
charging and loads given as fixed amperes add; a calculated load stands for its
bus and everything downstream of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from linecalc.calc.backup import neutral_current
from linecalc.network.loads import LegLoad, SourceFigures
from linecalc.network.records import Circuit, Mode, ModeCurrent
from linecalc.term import Number, named, smallest, value_of


@dataclass(frozen=True, slots=True)
class FlowTree:
    """The part of a network that the walk needs.

    ``order`` lists nodes from the leaves to the root; ``parent`` maps each node
    but the root to its circuit; ``island`` is the node below which the house
    runs in an outage, or None; ``consumers`` are panels and loads, where power
    can go; ``branch`` is what a load's own circuit carries where that differs
    from its part in a feeder.
    """

    order: tuple[str, ...]
    parent: dict[str, Circuit]
    sources: dict[str, SourceFigures]
    loads: dict[str, list[LegLoad]]
    calculated: dict[str, LegLoad]
    island: str | None
    consumers: frozenset[str] = frozenset()
    branch: Mapping[str, LegLoad] = field(default_factory=dict)


@dataclass(slots=True)
class _Sums:
    """Sums over a node and everything downstream of it."""

    export: Number = 0.0
    charge: Number = 0.0
    island: Number = 0.0
    coupled: Number = 0.0
    leg1_continuous: Number = 0.0
    leg1_noncontinuous: Number = 0.0
    leg2_continuous: Number = 0.0
    leg2_noncontinuous: Number = 0.0
    unbalance: Number = 0.0
    consumers: int = 0

    def add_load(self, load: LegLoad | _Sums) -> None:
        self.leg1_continuous = _plus(self.leg1_continuous, load.leg1_continuous)
        self.leg1_noncontinuous = _plus(self.leg1_noncontinuous, load.leg1_noncontinuous)
        self.leg2_continuous = _plus(self.leg2_continuous, load.leg2_continuous)
        self.leg2_noncontinuous = _plus(self.leg2_noncontinuous, load.leg2_noncontinuous)
        self.unbalance = _plus(self.unbalance, load.unbalance)

    def set_load(self, load: LegLoad) -> None:
        self.leg1_continuous = load.leg1_continuous
        self.leg1_noncontinuous = load.leg1_noncontinuous
        self.leg2_continuous = load.leg2_continuous
        self.leg2_noncontinuous = load.leg2_noncontinuous
        self.unbalance = load.unbalance

    def add_sources(self, other: _Sums) -> None:
        self.export = _plus(self.export, other.export)
        self.charge = _plus(self.charge, other.charge)
        self.island = _plus(self.island, other.island)
        self.coupled = _plus(self.coupled, other.coupled)


def _plus(first: Number, second: Number) -> Number:
    """A sum that leaves out a plain zero, so that printed sums hold real terms only."""
    if isinstance(second, float) and second == 0.0:
        return first
    if isinstance(first, float) and first == 0.0:
        return second
    return first + second


def load_at(tree: FlowTree, tag: str) -> ModeCurrent:
    """The load at a node and everything downstream of it."""
    return ModeCurrent(*_worse_leg(_summed(tree)[tag]))


def _summed(tree: FlowTree) -> dict[str, _Sums]:
    """The sums of every node, in one pass from the leaves."""
    sums = {tag: _Sums() for tag in tree.order}
    for tag in tree.order:
        own = sums[tag]
        own.consumers += tag in tree.consumers
        source = tree.sources.get(tag)
        if source is not None:
            own.export = _plus(own.export, source.export_a)
            own.charge = _plus(own.charge, source.charge_a)
            own.island = _plus(own.island, source.island_a)
            own.coupled = _plus(own.coupled, source.coupled_a)
        if tag in tree.calculated:
            own.set_load(tree.calculated[tag])
        else:
            for load in tree.loads.get(tag, ()):
                own.add_load(load)
        circuit = tree.parent.get(tag)
        if circuit is not None:
            above = sums[circuit.up]
            above.add_sources(own)
            above.add_load(own)
            above.consumers += own.consumers
    return sums


def walk(tree: FlowTree) -> dict[str, tuple[tuple[Mode, ModeCurrent], ...]]:
    """The currents of every AC circuit, by circuit tag, in one pass from the leaves."""
    sums = _summed(tree)
    for tag, load in tree.branch.items():
        sums[tag].set_load(load)
    inside = _inside(tree)
    whole = sums[tree.island] if tree.island else _Sums()
    unbalance = _worse_leg(whole)[2]
    return {
        tree.parent[tag].tag: _modes(sums[tag], whole if tag in inside else None, unbalance)
        for tag in tree.order
        if tag in tree.parent
    }


def _inside(tree: FlowTree) -> set[str]:
    """The nodes strictly below the isolation device."""
    found: set[str] = set()
    for tag in reversed(tree.order):
        circuit = tree.parent.get(tag)
        if circuit is not None and (circuit.up == tree.island or circuit.up in found):
            found.add(tag)
    return found


def _modes(below: _Sums, island: _Sums | None, island_unbalance: Number) -> tuple[tuple[Mode, ModeCurrent], ...]:
    continuous, noncontinuous, neutral = _worse_leg(below)
    charging = _plus(continuous, below.charge)
    modes = [
        (Mode.EXPORT, ModeCurrent(below.export, 0.0, 0.0)),
        (Mode.SUPPLY, ModeCurrent(continuous, noncontinuous, neutral)),
        (Mode.CHARGE, ModeCurrent(charging, noncontinuous, neutral)),
    ]
    if island is not None:
        modes.append((Mode.ISLAND, _island_current(below, island, (continuous, noncontinuous, neutral), island_unbalance)))
    return tuple(modes)


def _worse_leg(sums: _Sums) -> tuple[Number, Number, Number]:
    """Continuous and noncontinuous current of the more loaded leg, and the neutral current."""
    leg1 = value_of(sums.leg1_continuous) + value_of(sums.leg1_noncontinuous)
    leg2 = value_of(sums.leg2_continuous) + value_of(sums.leg2_noncontinuous)
    if leg1 >= leg2:
        more = (sums.leg1_continuous, sums.leg1_noncontinuous)
        less = (sums.leg2_continuous, sums.leg2_noncontinuous)
    else:
        more = (sums.leg2_continuous, sums.leg2_noncontinuous)
        less = (sums.leg1_continuous, sums.leg1_noncontinuous)
    if leg1 == leg2:
        return *more, sums.unbalance
    return *more, neutral_current(_plus(*more), _plus(*less), sums.unbalance)


def _island_current(
    below: _Sums, island: _Sums, load: tuple[Number, Number, Number], island_unbalance: Number
) -> ModeCurrent:
    """Island current of one circuit: the sources below it, or the loads below it.

    A circuit carries power outwards only if there are sources beyond it, and
    inwards only if there are loads beyond it. Inwards its neutral carries the
    unbalance of the island, as far as the units below can feed it. PV
    inverters run beside the units.
    """
    continuous, noncontinuous, neutral = load
    sources_beyond = value_of(island.island) - value_of(below.island) > 1e-9
    loads_beyond = island.consumers > below.consumers
    outward = value_of(_plus(continuous, noncontinuous)) if sources_beyond else 0.0
    coupled = below.coupled if value_of(island.island) else 0.0
    supplied = _plus(below.island, coupled)
    inward = value_of(supplied) if loads_beyond else 0.0
    if not inward and not outward:
        return ModeCurrent(0.0, 0.0, 0.0)
    from_sources = _least(island_unbalance, below.island) if inward else 0.0
    to_loads = neutral if outward else 0.0
    neutral = from_sources if value_of(from_sources) >= value_of(to_loads) else to_loads
    if inward >= outward:
        return ModeCurrent(supplied, 0.0, neutral)
    return ModeCurrent(continuous, noncontinuous, neutral)


def _least(first: Number, second: Number) -> Number:
    return first if value_of(first) <= value_of(second) else named(smallest(first, second), "I_N", "A", "unbalance that the sources can feed", "load_neutral")
