"""What joins the conductors of a circuit between the device that protects them and their own beginning."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from linecalc.network.build import Network
from linecalc.network.records import Circuit, Kind
from linecalc.sizing.records import Device


@dataclass(frozen=True, slots=True)
class Joint:
    """A place where other conductors meet the way from a device to a circuit, and the AC nodes that hang on them."""

    place: str
    nodes: tuple[str, ...]


def joints_upstream(network: Network, circuit: Circuit, devices: Mapping[str, Device | None]) -> tuple[Joint, ...]:
    """The places from which current can add to what the device of ``circuit`` lets through.

    They are a junction, a disconnect or an isolation device on the way, or the
    bus that feed-through lugs prolong; a unit with built-in transfer adds to
    what it passes on itself. There are none where the circuit has a device of
    its own at its beginning, where its device stands at its far end, or where
    it has no device.

    References
    ----------
    ``feeder_connection``: 705.12(A)(2), 705.12(B)(1) in 2020, 705.12(B)(2)(1) in 2017.
    """
    found: list[Joint] = []
    at: Circuit | None = circuit
    while at is not None:
        device = devices[at.tag]
        if device is None or device.load_end or device.owner == at.tag:
            break
        beside = [tag for step in network.children.get(at.up, ()) if step.tag != at.tag for tag in network.below(step.down)]
        own = [at.up] if network.nodes[at.up].kind is Kind.UNIT else []
        found.append(Joint(at.up, (*own, *beside)))
        at = None if device.where == at.up else network.parent.get(at.up)
    return tuple(found)
