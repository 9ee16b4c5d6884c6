"""Article 225: buildings supplied by a feeder from another one.

References
----------
``building_disconnect`` 225.31, ``building_disconnect_rating`` 225.39, ``separate_building`` 250.32.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.sizing.records import Sized
from linecalc.term import Term
from linecalc.units import Quantity

LEAST_A = 60.0
_RATINGS = {Kind.PANEL: "main", Kind.DISCONNECT: "rating"}


def crossings(sized: Sized) -> Iterator[tuple[Circuit, Node]]:
    """The AC circuits that lead to another building, with the thing at their far end."""
    nodes = sized.network.nodes
    for circuit in sized.network.circuits:
        ends = [getattr(nodes[end].item, "building", None) for end in (circuit.up, circuit.down)]
        if circuit.system is System.AC and ends[0] != ends[1] and nodes[circuit.up].kind is not Kind.SERVICE:
            yield circuit, nodes[circuit.down]


def disconnects(sized: Sized) -> Iterator[Check]:
    """A building supplied by a feeder has a disconnect of its own, of at least 60 A.

    References
    ----------
    ``building_disconnect``: 225.31; ``building_disconnect_rating``: 225.39.
    """
    for circuit, node in crossings(sized):
        if node.kind in (Kind.LOAD, Kind.JUNCTION, Kind.UNIT, Kind.INVERTER):
            yield from _single(sized, circuit, node)
            continue
        key = _RATINGS.get(node.kind)
        rating = getattr(node.item, key) if key else None
        where = node.item.building or "the dwelling"
        if not isinstance(rating, Quantity):
            message = f"{node.tag} is the first thing that {circuit.tag} reaches in {where}, and it disconnects nothing: a main or a disconnect is needed there"
            yield remark(sized.book, "building_disconnect", node.tag, Level.FAIL, message)
            continue
        yield remark(sized.book, "building_disconnect", node.tag, Level.PASS, f"{node.tag} disconnects {where} from {circuit.tag}")
        yield limit_check(
            sized.book,
            "building_disconnect_rating",
            node.tag,
            term_of(rating, "I_disconnect", f"{node.kind.value}.{node.tag}.{key}", "rating of the building's disconnect"),
            Term(LEAST_A, "A", symbol="I_least", meaning="least rating", origin="rule:building_disconnect_rating"),
            "A",
            f"the disconnect of {where} is rated at least 60 A",
            f"the disconnect of {where} is rated below 60 A; one or two branch circuits may need less",
            Sense.AT_LEAST,
            Level.WARN,
        )


def _single(sized: Sized, circuit: Circuit, node: Node) -> Iterator[Check]:
    """A circuit that serves one thing in another building: its disconnect there must be named."""
    where = node.item.building or "the dwelling"
    message = f"{circuit.tag} leads straight to {node.tag} in {where}; whether it can be disconnected there is not described"
    yield not_checked(sized.book, "building_disconnect", circuit.tag, message, (f"a disconnect in {where} between {circuit.up} and {node.tag}",))


def four_wires(sized: Sized) -> Iterator[Check]:
    """The feeder to another building brings a grounding conductor, and the neutral is not bonded there.

    References
    ----------
    ``separate_building``: 250.32(B)(1).
    """
    for circuit, node in crossings(sized):
        egc = sized.circuit(circuit.tag).egc
        bonded = getattr(node.item, "neutral_bond", None)
        where = node.item.building or "the dwelling"
        if egc is None or circuit.item.egc == "none":
            message = f"{circuit.tag} brings no equipment grounding conductor to {where}"
            yield remark(sized.book, "separate_building.conductor", circuit.tag, Level.FAIL, message)
        elif bonded:
            message = f"the neutral is bonded in {node.tag} although {circuit.tag} brings a grounding conductor to {where}"
            yield remark(sized.book, "separate_building.conductor", node.tag, Level.FAIL, message)
        else:
            message = f"{circuit.tag} brings a grounding conductor to {where}, and the neutral is not bonded there"
            yield remark(sized.book, "separate_building.conductor", circuit.tag, Level.PASS, message)
