"""What lies ahead of the service disconnect: service conductors and supply-side source circuits."""

from __future__ import annotations

from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.units import Quantity


def is_ahead_of_disconnects(node: Node) -> bool:
    """Whether a node passes service conductors on: the service, a junction, an isolation device without a main."""
    if node.kind is Kind.ISOLATION:
        return not isinstance(node.item.main, Quantity)
    return node.kind in (Kind.SERVICE, Kind.JUNCTION)


def is_service(circuit: Circuit, currents: Currents) -> bool:
    """Whether a circuit lies ahead of the first overcurrent device or disconnect of the service."""
    if circuit.system is not System.AC:
        return False
    nodes = currents.network.nodes
    return all(is_ahead_of_disconnects(nodes[step.up]) for step in currents.network.path_up(circuit.down))


def is_supply_side_source(circuit: Circuit, currents: Currents) -> bool:
    """Whether a circuit connects sources, beside the one that serves the house, ahead of the service disconnect.

    The one that serves the house holds more panels with loads; where both hold
    as many, sources that no panel with loads lies ahead of are a connection of
    their own, since the other circuit has none of that kind.
    """
    network = currents.network
    if circuit.system is not System.AC or network.nodes[circuit.up].kind is not Kind.JUNCTION or not is_service(circuit, currents):
        return False
    if not any(network.nodes[tag].kind in (Kind.UNIT, Kind.INVERTER) for tag in network.below(circuit.down)):
        return False
    own = _panels(network, circuit)
    beside = [step for step in network.children[circuit.up] if step.tag != circuit.tag]
    if own == 0 or any(_panels(network, step) > own for step in beside):
        return True
    alike = [step for step in beside if _panels(network, step) == own]
    return bool(alike) and _has_direct_source(network, circuit.down) and not any(_has_direct_source(network, step.down) for step in alike)


def _has_direct_source(network: Network, tag: str) -> bool:
    """Whether a source hangs on an AC node, or below it, with no panel of loads between."""
    node = network.nodes[tag]
    if node.kind in (Kind.UNIT, Kind.INVERTER):
        return True
    if node.kind is Kind.PANEL and not node.item.generation:
        return False
    return any(_has_direct_source(network, step.down) for step in network.children.get(tag, ()))


def serves_loads(network: Network, tag: str) -> bool:
    """Whether loads hang on an AC node or below it: a load, or a panel that is not for generation alone."""
    below = (network.nodes[found] for found in network.below(tag))
    return any(node.kind is Kind.LOAD or (node.kind is Kind.PANEL and not node.item.generation) for node in below)


def is_branch(network: Network, circuit: Circuit) -> bool:
    """Whether a circuit is a branch circuit: beyond it stand loads alone, with at most boxes between."""
    node = network.nodes[circuit.down]
    steps = network.children.get(node.tag, ()) if node.kind is Kind.JUNCTION else ()
    return node.kind is Kind.LOAD or (bool(steps) and all(is_branch(network, step) for step in steps))


def _panels(network: Network, circuit: Circuit) -> int:
    """The panels with loads that hang on a circuit."""
    below = (network.nodes[tag] for tag in network.below(circuit.down))
    return sum(node.kind is Kind.PANEL and not node.item.generation for node in below)
