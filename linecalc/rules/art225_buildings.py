"""Article 225: buildings supplied by a feeder from another one.

References
----------
``building_supplies`` 225.30; ``building_disconnect`` 225.31; ``building_disconnect_rating`` 225.39;
``separate_building`` 250.32.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.sizing.ahead import serves_loads
from linecalc.sizing.records import Sized
from linecalc.term import Term
from linecalc.units import Quantity

LEAST_A = 60.0
DWELLING_LEAST_A = 100.0
MOST_FEEDERS = 6
_RATINGS = {Kind.PANEL: "main", Kind.DISCONNECT: "rating"}


def crossings(sized: Sized) -> Iterator[tuple[Circuit, Node]]:
    """The AC circuits that lead to another building, with the thing at their far end."""
    nodes = sized.network.nodes
    for circuit in sized.network.circuits:
        ends = [getattr(nodes[end].item, "building", None) for end in (circuit.up, circuit.down)]
        if circuit.system is System.AC and ends[0] != ends[1] and nodes[circuit.up].kind is not Kind.SERVICE:
            yield circuit, nodes[circuit.down]


def disconnects(sized: Sized) -> Iterator[Check]:
    """A building supplied by a feeder has a disconnect of its own, of at least 60 A, in a one-family dwelling 100 A.

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
        yield remark(sized.book, "building_disconnect", node.tag, Level.PASS, f"{node.tag} disconnects {where} from {circuit.tag}; it stands where the conductors come in, at the nearest place")
        yield _rating(sized, node, term_of(rating, "I_disconnect", f"{node.kind.value}.{node.tag}.{key}", "rating of the building's disconnect"))


def _rating(sized: Sized, node: Node, rating: Term) -> Check:
    """The rating of a building's disconnect: the dwelling's own is held to 100 A, any other to 60 A."""
    where = node.item.building or "the dwelling"
    least = LEAST_A if node.item.building else DWELLING_LEAST_A
    fewer = "; one or two branch circuits may need less" if node.item.building else ""
    return limit_check(
        sized.book,
        "building_disconnect_rating",
        node.tag,
        rating,
        Term(least, "A", symbol="I_least", meaning="least rating", origin="rule:building_disconnect_rating"),
        "A",
        f"the disconnect of {where} is rated at least {least:g} A",
        f"the disconnect of {where} is rated below {least:g} A{fewer}",
        Sense.AT_LEAST,
        Level.WARN if node.item.building else Level.FAIL,
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


def supplies(sized: Sized) -> Iterator[Check]:
    """A building is supplied by one feeder or branch circuit; circuits of sources alone, or of a standby system, may come beside it.

    References
    ----------
    ``building_supplies``: 225.30, 225.30(A)(4), (5); 225.30(B) where the edition has it; ``building_directory``: 225.37.
    """
    by_building: dict[str, list[tuple[Circuit, Node]]] = {}
    for circuit, node in crossings(sized):
        by_building.setdefault(node.item.building or "the dwelling", []).append((circuit, node))
    for where, found in by_building.items():
        mixed = {_is_standby(sized, circuit) for circuit, _ in found} == {True, False}
        beside = {circuit.tag: words for circuit, node in found if (words := _beside(sized, circuit, node, mixed))}
        plain = [(circuit, node) for circuit, node in found if circuit.tag not in beside] or found[:1]
        if len(found) > 1:
            tags = ", ".join(circuit.tag for circuit, _ in found)
            message = f"{tags} all lead to {where}: a plaque at the disconnect of each names the others and what they serve"
            yield remark(sized.book, "building_directory", found[0][0].tag, Level.NOTE, message)
        yield _counted(sized, where, plain, {tag: words for tag, words in beside.items() if tag != plain[0][0].tag})


def _beside(sized: Sized, circuit: Circuit, node: Node, mixed: bool) -> str:
    """Why a circuit may supply a building beside another; empty where nothing here says so.

    ``mixed``: of the circuits to this building some run in an outage and others do not.
    """
    below = set(sized.network.below(node.tag))
    if below & set(sized.currents.sources) and not serves_loads(sized.network, node.tag):
        return "carries sources that work in parallel, nothing else"
    return "belongs to a standby system" if mixed and _is_standby(sized, circuit) else ""


def _is_standby(sized: Sized, circuit: Circuit) -> bool:
    """Whether a circuit runs in an outage: behind the isolation device, or behind a transfer switch."""
    network = sized.network
    switched = any(network.nodes[step.up].kind is Kind.TRANSFER for step in network.path_up(circuit.down))
    return switched or network.isolation_above(circuit.up) is not None


def _counted(sized: Sized, where: str, plain: list[tuple[Circuit, Node]], beside: dict[str, str]) -> Check:
    rule, tags = "building_supplies", ", ".join(circuit.tag for circuit, _ in plain)
    also = "".join(f"; {tag} may come beside: it {words}" for tag, words in beside.items())
    subject = plain[0][0].tag
    if len(plain) == 1:
        return remark(sized.book, rule, subject, Level.PASS, f"{tags} supplies {where}{also}")
    common = {circuit.up for circuit, _ in plain}
    ended = all(isinstance(getattr(node.item, _RATINGS.get(node.kind, "tag"), None), Quantity) for _, node in plain)
    if sized.book.wording.common_supply_equipment and len(common) == 1 and ended and len(plain) <= MOST_FEEDERS:
        grouped = f"{tags} supply {where} from {common.pop()}: up to six feeders may, where their disconnects stand grouped in one place{also}"
        return remark(sized.book, rule, subject, Level.WARN, grouped)
    return remark(sized.book, rule, subject, Level.FAIL, f"{tags} supply {where}: only one feeder or branch circuit may{also}")
