"""Circuits of household cooking appliances: the least rating of a range's circuit, and the neutral it may have.

References
----------
``cooking_circuit`` 210.19(A)(3), 210.19(C) in 2023.
"""

from __future__ import annotations

from linecalc.calc.compare import at_least
from linecalc.network.branches import OVEN, RANGE, TOP, cooking_behind, rating_together
from linecalc.network.build import Network
from linecalc.network.records import Circuit

RANGE_LEAST_A = 40.0
RANGE_FROM_VA = 8750.0
NEUTRAL_LEAST = "10 AWG"


def is_cooking(network: Network, circuit: Circuit) -> bool:
    """Whether a circuit feeds household cooking appliances and nothing else."""
    return bool(cooking_behind(network, circuit))


def least_rating_a(network: Network, circuit: Circuit) -> float:
    """The least rating of a range's circuit, 40 A from 8.75 kW; 0 for any other.

    A cooktop with its ovens on one circuit counts as one range.
    """
    fed = cooking_behind(network, circuit)
    rating = rating_together(fed, circuit.down)
    kinds = {node.item.kind for node in fed}
    alike_range = RANGE in kinds or {TOP, OVEN} <= kinds
    return RANGE_LEAST_A if rating is not None and alike_range and at_least(rating, RANGE_FROM_VA) else 0.0
