"""What the own circuit of a load carries, where that differs from its part in a feeder.

References
----------
``cooking_circuit_load`` Table 220.55, Note 4; ``load_ev`` 220.57 (2023).
"""

from __future__ import annotations

from linecalc.calc.load import current_from_va
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.dwelling_cooking import cooking
from linecalc.network.dwelling_records import COOKING, LoadItem
from linecalc.network.dwelling_terms import together
from linecalc.network.loads import BOTH_LEGS, NEUTRAL_KINDS, LegLoad, feeder_current, legs_of, load_current, neutral_part, on_legs, term_of
from linecalc.network.records import Assumption, Circuit, Kind, Node
from linecalc.term import Number, Term, given, label

TOP, OVEN, RANGE = "cooktop", "oven", "range"
MOST_OVENS = 2
NOMINAL_V = 240.0


def branch_loads(network: Network, book: Book, assumptions: list[Assumption]) -> dict[str, LegLoad]:
    """By AC node, what its circuit carries instead of the loads that a feeder counts there.

    A range by Table 220.55, and so one cooktop with up to two ovens behind one
    box; one oven, one cooktop and every other load by nameplate.
    """
    found: dict[str, LegLoad] = {}
    for node in network.of_kind(Kind.LOAD):
        circuit = network.parent.get(node.tag)
        if circuit is not None and node.item.kind != "calculated":
            own = _own(node, circuit, book)
            if own is not None:
                found[node.tag] = own
    for node in network.of_kind(Kind.JUNCTION):
        combined = _one_range(network, node, book, assumptions)
        if combined is not None:
            found[node.tag] = combined
    return found


def cooking_behind(network: Network, circuit: Circuit) -> tuple[Node, ...]:
    """The cooking appliances that a circuit feeds and nothing else: one directly, or those behind one box."""
    node = network.nodes[circuit.down]
    steps = network.children.get(node.tag, ()) if node.kind is Kind.JUNCTION else ()
    fed = (node,) if node.kind is Kind.LOAD else tuple(network.nodes[step.down] for step in steps)
    return fed if all(one.kind is Kind.LOAD and one.item.kind in COOKING for one in fed) else ()


def rating_together(appliances: tuple[Node, ...], base: str) -> Number | None:
    """The nameplates of cooking appliances together, in volt-amperes; None where one is not stated as power.

    References
    ----------
    ``cooking_circuit_load``: Table 220.55, Note 4.
    """
    if not appliances or any(node.item.power is None or node.item.current is not None for node in appliances):
        return None
    ratings = [_rating(node) for node in appliances]
    return together(ratings, "S_range", "VA", "nameplates together, as one range", "cooking_circuit_load", base)


def _rating(node: Node) -> Term:
    return given(node.item.power.value, "VA", f"S_{node.tag}", f"load.{node.tag}.power", "nameplate rating")


def _own(node: Node, circuit: Circuit, book: Book) -> LegLoad | None:
    """What the circuit of one load carries; None where it is what the feeder counts."""
    load, amps = node.item, load_current(node.tag, node.item, [])
    if load.kind not in NEUTRAL_KINDS:
        return None if feeder_current(node.tag, load, amps, book.edition) is amps else on_legs(load, legs_of(load), amps)
    rating = rating_together((node,), node.tag) if load.kind == RANGE else None
    if rating is not None:
        amps = _as_range(node.tag, rating, node, book)
    return on_legs(load, legs_of(load), amps, _neutral(node, circuit, amps))


def _neutral(node: Node, circuit: Circuit, amps: Number) -> Number:
    """What a cooking appliance or dryer puts on the neutral of its circuit; nothing where the circuit has none."""
    return 0.0 if circuit.item.neutral == "none" else neutral_part(node.tag, node.item, amps)


def _as_range(tag: str, rating: Number, node: Node, book: Book) -> Number:
    """The branch-circuit load of a rating as one range, in amperes."""
    item = LoadItem(tag, RANGE, node.item.description or tag, rating, BOTH_LEGS, False, False, None, None, 0, None, False)
    demand = cooking(f"{tag}.branch", (item,), book)
    volts = given(NOMINAL_V, "V", f"V_{tag}", f"load.{node.tag}.voltage", "load voltage")
    if node.item.voltage is not None:
        volts = term_of(node.item.voltage, f"V_{tag}", f"load.{node.tag}.voltage", "load voltage")
    amps = current_from_va(demand.load_va, volts, "cooking_circuit_load", "branch-circuit load of one range")
    return label(amps, f"{tag}.branch.I_load", f"I_{tag}")


def _one_range(network: Network, node: Node, book: Book, assumptions: list[Assumption]) -> LegLoad | None:
    """One cooktop and one or two ovens behind a box, as one range; None for anything else."""
    circuit = network.parent.get(node.tag)
    fed = () if circuit is None else cooking_behind(network, circuit)
    kinds = [one.item.kind for one in fed]
    rating = rating_together(fed, node.tag) if kinds.count(TOP) == 1 and 1 <= kinds.count(OVEN) <= MOST_OVENS and RANGE not in kinds else None
    if rating is None:
        return None
    tags = ", ".join(one.tag for one in fed)
    assumptions.append(Assumption(f"junction.{node.tag}.location", "one room", f"{tags} on one circuit count as one range, which asks that they stand in the same room"))
    first = fed[0]
    amps = _as_range(node.tag, rating, first, book)
    return on_legs(first.item, BOTH_LEGS, amps, _neutral(first, circuit, amps))
