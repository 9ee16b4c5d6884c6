"""Currents and voltages of radial networks against pandapower's constant-current power flow.

Source: pandapower (University of Kassel and Fraunhofer IEE), power flow with
constant-current loads, https://pandapower.readthedocs.io, run here.

The reactance is tiny and the power factor 1, so that all currents are in phase
and the sum of amperes, which the walk takes, is exact. A second test takes the
reactances of the code table and a power factor of 0.85, where the walk and
R cos phi + X sin phi are approximations, on the safe side.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from linecalc.calc.drop import two_wire_drop
from linecalc.network.flow import walk
from linecalc.network.records import Mode
from linecalc.term import value_of
from tests.network.trees import Branch, Tree, random_tree, tree_of

pytest.importorskip("pandapower", reason="pandapower is not installed")

from tests.published.pandapower_flow import VOLTS, network_of, solve  # noqa: E402

CHAIN = tree_of({f"N{n}": (f"N{n - 1}" if n > 1 else "service", Branch(40.0, 0.49, 0.0, 5.0)) for n in range(1, 9)})
STAR = tree_of({f"N{n}": ("service", Branch(10.0 * n, 0.78, 0.0, 3.0 * n)) for n in range(1, 7)})
FORKED = tree_of(
    {
        "A": ("service", Branch(25.0, 0.10, 0.0, 0.0)),
        "B": ("A", Branch(60.0, 0.31, 0.0, 12.5)),
        "C": ("A", Branch(35.0, 0.49, 0.0, 7.25)),
        "D": ("C", Branch(80.0, 0.78, 0.0, 9.0)),
    }
)
NETWORKS = {"chain": CHAIN, "star": STAR, "forked": FORKED, "random of 60": random_tree(60, seed=7), "deep random of 60": random_tree(60, seed=8, deepest=3)}


def in_phase(tree: Tree) -> Tree:
    return Tree(tree.flow, {tag: replace(branch, x=0.0) for tag, branch in tree.branches.items()})


def currents(tree: Tree) -> dict[str, float]:
    """Supply current of the circuit to each node, by the walk."""
    modes = walk(tree.flow)
    found = {}
    for tag in tree.branches:
        current = dict(modes[tree.flow.parent[tag].tag])[Mode.SUPPLY]
        found[tag] = value_of(current.continuous) + value_of(current.noncontinuous)
    return found


def drop_to(tree: Tree, tag: str, amps: dict[str, float], power_factor: float) -> float:
    """The drops of the circuits on the way to a node, added up, in volts."""
    steps = [(tree.branches[node], amps[node]) for node in tree.path(tag)]
    return sum(two_wire_drop(branch.length_ft, current, branch.r, branch.x, power_factor, 1.0) for branch, current in steps)


@pytest.mark.parametrize("name", NETWORKS)
def test_currents_agree_to_one_in_a_million(name):
    tree = in_phase(NETWORKS[name])
    net, _, lines = network_of(tree, 1.0)
    solve(net)
    for tag, ours in currents(tree).items():
        theirs = net.res_line.i_ka[lines[tag]] * 1000.0 * math.sqrt(3.0)
        assert ours == pytest.approx(theirs, rel=1e-6), tag


@pytest.mark.parametrize("name", NETWORKS)
def test_voltage_drops_agree_with_the_sum_of_the_drops_on_the_way(name):
    tree = in_phase(NETWORKS[name])
    net, buses, _ = network_of(tree, 1.0)
    solve(net)
    amps = currents(tree)
    for tag in tree.branches:
        theirs = VOLTS * (1.0 - net.res_bus.vm_pu[buses[tag]])
        assert drop_to(tree, tag, amps, 1.0) == pytest.approx(theirs, rel=1e-6, abs=1e-6), tag


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_with_reactance_and_a_power_factor_the_printed_drop_is_close_and_not_below(seed):
    # The angle of the voltage turns along the way: sums of amperes and R cos phi + X sin phi are a little high.
    tree = random_tree(60, seed=seed)
    net, buses, lines = network_of(tree, 0.85)
    solve(net)
    amps = currents(tree)
    for tag in tree.branches:
        theirs = VOLTS * (1.0 - net.res_bus.vm_pu[buses[tag]])
        ours = drop_to(tree, tag, amps, 0.85)
        assert ours == pytest.approx(theirs, rel=0.02)
        assert amps[tag] >= net.res_line.i_ka[lines[tag]] * 1000.0 * math.sqrt(3.0) * (1.0 - 1e-6)


def test_leg_imbalance_which_pandapower_cannot_show_by_hand():
    # A 240 V load of 20 A, 120 V loads of 12 A on L1 and 5 A on L2: legs 32 and 25 A, neutral 7 A.
    from linecalc.network.loads import LegLoad

    loads = {"N1": [LegLoad(0.0, 20.0, 0.0, 20.0), LegLoad(0.0, 12.0, 0.0, 0.0), LegLoad(0.0, 0.0, 0.0, 5.0)]}
    flow = replace(tree_of({"N1": ("service", Branch(10.0, 0.1, 0.0, 0.0))}).flow, loads=loads)
    supply = dict(walk(flow)["CN1"])[Mode.SUPPLY]
    assert (value_of(supply.noncontinuous), value_of(supply.neutral)) == (32.0, 7.0)


def test_leg_imbalance_of_two_subpanels_that_lean_to_opposite_legs_by_hand():
    # N2 leans 10 A to L1, N3 leans 8 A to L2; upstream 10 and 8 stand on their legs: worse 10, neutral 2.
    from linecalc.network.loads import LegLoad

    tree = tree_of({"N1": ("service", Branch(10.0, 0.1, 0.0, 0.0)), "N2": ("N1", Branch(10.0, 0.1, 0.0, 0.0)), "N3": ("N1", Branch(10.0, 0.1, 0.0, 0.0))})
    loads = {"N2": [LegLoad(0.0, 10.0, 0.0, 0.0)], "N3": [LegLoad(0.0, 0.0, 0.0, 8.0)]}
    found = walk(replace(tree.flow, loads=loads))
    neutral = {tag: value_of(dict(found[tag])[Mode.SUPPLY].neutral) for tag in ("CN1", "CN2", "CN3")}
    worse = {tag: value_of(dict(found[tag])[Mode.SUPPLY].noncontinuous) for tag in ("CN1", "CN2", "CN3")}
    assert neutral == {"CN1": 2.0, "CN2": 10.0, "CN3": 8.0}
    assert worse == {"CN1": 10.0, "CN2": 10.0, "CN3": 8.0}
