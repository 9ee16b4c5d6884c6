"""Terminal temperature of a circuit: the lower of both ends.

References
----------
``terminal_temperature``: 110.14(C)(1).
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.codebook.sizes import size_index
from linecalc.network.build import Network
from linecalc.network.records import Assumption, Circuit, Kind, Node, System
from linecalc.units import Quantity

COLUMNS = (60, 75, 90)
LIMIT_A = 100.0
LARGEST_AT_60 = "1 AWG"
_NEVER_90 = (Kind.PANEL, Kind.UNIT, Kind.INVERTER, Kind.DISCONNECT, Kind.ISOLATION, Kind.SERVICE, Kind.LOAD, Kind.TRANSFER, Kind.GENERATOR)


@dataclass(frozen=True, slots=True)
class WireRange:
    """The smallest and largest conductor that a terminal is marked for, and where that is written."""

    smallest: str
    largest: str
    path: str


@dataclass(frozen=True, slots=True)
class Terminals:
    """Temperatures at the ``from`` and ``to`` ends as written in the project, and the column for T1."""

    from_c: int
    to_c: int
    column_c: int
    assumed: bool


def terminals_of(network: Network, circuit: Circuit, rating_a: float, assumptions: list[Assumption]) -> Terminals:
    """The terminal temperatures of a circuit; unknown ends are assumed and listed.

    ``rating_a`` is the circuit's rating: its device, or what it must carry.
    """
    before = len(assumptions)
    ends = (
        _end(network, circuit, circuit.item.from_, circuit.item.terminals_from, "terminals_from", rating_a, assumptions),
        _end(network, circuit, circuit.item.to, circuit.item.terminals_to, "terminals_to", rating_a, assumptions),
    )
    return Terminals(*ends, min(ends), len(assumptions) > before)


def _end(
    network: Network,
    circuit: Circuit,
    tag: str,
    written: Quantity | None,
    key: str,
    rating_a: float,
    assumptions: list[Assumption],
) -> int:
    node = network.nodes[tag]
    stated = written or getattr(node.item, "terminals", None) or getattr(node.data, "terminals", None)
    if stated is not None:
        column = max((c for c in COLUMNS if c <= stated.value + 1e-9), default=COLUMNS[0])
        may_be_90 = circuit.item.separate_connector and node.kind not in _NEVER_90
        return column if column < 90 or may_be_90 else 75
    marked = wire_range_of(circuit, node, key.removeprefix("terminals_"))
    small = marked is not None and size_index(marked.largest) <= size_index(LARGEST_AT_60)
    assumed = 60 if rating_a <= LIMIT_A or small else 75
    by = f"by their marking for {marked.smallest} to {marked.largest}" if small else "by the size of the circuit"
    reason = f"terminals of {tag} not given; {assumed} degC {by}"
    assumptions.append(Assumption(f"circuit.{circuit.tag}.{key}", f"{assumed} degC", reason))
    return assumed


def wire_range_of(circuit: Circuit, node: Node, end: str) -> WireRange | None:
    """The sizes marked at one ``end`` of a circuit, ``from`` or ``to``; None where not stated; that of equipment is for its AC terminals.

    References
    ----------
    ``terminal_temperature``: 110.14(C)(1)(a), (b); ``terminal_wire_range``.
    """
    written = getattr(circuit.item, f"wire_range_{end}")
    path = f"circuit.{circuit.tag}.wire_range_{end}"
    if written is None and circuit.system is System.AC:
        written = getattr(node.data, "wire_range", None)
        path = f"equipment.{getattr(node.item, 'equipment', '')}.wire_range"
    if written is None:
        return None
    smallest, largest = sorted((one.size for one in written), key=size_index)
    return WireRange(smallest, largest, path)
