"""Where a stated switch or breaker is: the thing or the circuit that a key of the project names."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.network.build import Network
from linecalc.network.records import Kind, Node
from linecalc.project.devices import INTEGRAL
from linecalc.sizing.records import Sized

OUTDOOR_WORDS = ("outdoor", "outside", "exterior", "roof")
INDOOR_WORDS = ("indoor", "interior", "inside")


@dataclass(frozen=True, slots=True)
class Holder:
    """What a key such as ``ac_disconnect`` names.

    ``node`` is the thing that holds it: the disconnect or panel itself, the
    panel of a circuit's breaker, or the equipment where it is ``integral``.
    """

    name: str
    node: str | None
    location: str | None
    integral: bool

    @property
    def text(self) -> str:
        """``breaker C1 in BP, garage`` or ``integral in U1, garage wall``."""
        where = f", {self.location}" if self.location else ""
        if self.integral:
            return f"switch inside {self.node}{where}"
        return f"{self.name}{where}" if self.node in (self.name, None) else f"breaker of {self.name} in {self.node}{where}"


def holder_of(sized: Sized, name: str | None, owner: str) -> Holder | None:
    """What ``name`` is, as stated for ``owner``; None where nothing is stated."""
    if name is None:
        return None
    network = sized.network
    if name == INTEGRAL:
        return Holder(name, owner, location_of(network, owner), True)
    if name in network.nodes:
        return Holder(name, name, location_of(network, name), False)
    if name not in network.project.circuit:
        return Holder(name, None, None, False)
    circuit = sized.circuit(name)
    where = circuit.device.where if circuit.device is not None else None
    return Holder(name, where, location_of(network, where) if where else None, False)


def location_of(network: Network, tag: str) -> str | None:
    """Where a tagged thing stands, as its record says."""
    return getattr(network.nodes[tag].item, "location", None)


def is_outdoors(location: str | None) -> bool | None:
    """Whether a location says that it is outdoors; None where it says neither."""
    words = (location or "").lower()
    if any(word in words for word in OUTDOOR_WORDS):
        return True
    return False if any(word in words for word in INDOOR_WORDS) else None


def sources_with_strings(sized: Sized) -> tuple[Node, ...]:
    """The units and inverters that PV strings lead to."""
    hosts = {string.unit for string in sized.strings}
    return tuple(node for node in sized.network.of_kind(Kind.UNIT, Kind.INVERTER) if node.tag in hosts)


def units_with_storage(sized: Sized) -> tuple[Node, ...]:
    """The units that hold energy, of their own or in storage modules."""
    attached = {node.item.unit for node in sized.network.of_kind(Kind.STORAGE)}
    return tuple(node for node in sized.network.of_kind(Kind.UNIT) if node.tag in attached or node.data.energy.value > 0.0)
