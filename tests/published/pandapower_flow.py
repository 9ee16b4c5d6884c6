"""The same radial network in pandapower, a three-phase program, with constant-current loads.

Single-phase quantities are entered as if they were three-phase: the loop
impedance of both conductors as the line's, single-phase power as the load's.
Its currents are then too small by sqrt(3) and are multiplied by it; its
voltages in volts are those of the circuit.
"""

from __future__ import annotations

import math
import warnings

import pandapower

from tests.network.trees import Tree

VOLTS = 240.0
KM_PER_FT = 0.0003048


def network_of(tree: Tree, power_factor: float):
    """The pandapower network of a tree; returns it with the bus and line numbers by node."""
    net = pandapower.create_empty_network()
    buses = {tag: pandapower.create_bus(net, vn_kv=VOLTS / 1000.0) for tag in reversed(tree.flow.order)}
    pandapower.create_ext_grid(net, buses["service"])
    lines = {}
    for tag, branch in tree.branches.items():
        km = branch.length_ft * KM_PER_FT
        lines[tag] = pandapower.create_line_from_parameters(
            net,
            buses[tree.flow.parent[tag].up],
            buses[tag],
            length_km=km,
            r_ohm_per_km=2.0 * branch.r / 1000.0 / KM_PER_FT,
            x_ohm_per_km=max(2.0 * branch.x / 1000.0 / KM_PER_FT, 1e-9),
            c_nf_per_km=0.0,
            max_i_ka=1.0,
        )
        apparent_mva = branch.load_a * VOLTS / 1e6
        pandapower.create_load(
            net,
            buses[tag],
            p_mw=apparent_mva * power_factor,
            q_mvar=apparent_mva * math.sqrt(1.0 - power_factor**2),
            const_i_p_percent=100.0,
            const_i_q_percent=100.0,
            const_z_p_percent=0.0,
            const_z_q_percent=0.0,
        )
    return net, buses, lines


def solve(net) -> None:
    """One constant-current flow, to a tolerance far below the comparison."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pandapower.runpp(net, tolerance_mva=1e-13, numba=False, max_iteration=50)
