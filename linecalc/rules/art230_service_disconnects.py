"""Article 230: the least rating of the service disconnect of a dwelling.

References
----------
``service_disconnect_dwelling`` 230.79(C); 230.80 where several serve the house.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node
from linecalc.project.model import SERVICE
from linecalc.sizing.ahead import serves_loads
from linecalc.sizing.devices import node_device
from linecalc.sizing.grounding_system import service_disconnects
from linecalc.sizing.records import Sized
from linecalc.term import Term, given, label, named, total, value_of
from linecalc.units import Quantity

DWELLING_LEAST_A = 100.0
_KEYS = {Kind.PANEL: "main", Kind.ISOLATION: "main", Kind.TRANSFER: "rating", Kind.DISCONNECT: "rating"}


def least_rating(sized: Sized) -> Iterator[Check]:
    """The disconnects that serve the house are rated 100 A at least together, whatever the load.

    Existing equipment below that was lawful when it was built in some places: a warning.

    References
    ----------
    ``service_disconnect_dwelling``: 230.79(C), 230.80.
    """
    rule, network = "service_disconnect_dwelling", sized.network
    nodes = [network.nodes[tag] for tag in service_disconnects(network) if serves_loads(network, tag)]
    if not nodes:
        return
    yield from _above_service(sized, nodes)
    subject = nodes[0].tag if len(nodes) == 1 else SERVICE
    ratings = [disconnect_rating(node) for node in nodes]
    needs = tuple(f"rating of {node.tag}" for node, rating in zip(nodes, ratings, strict=True) if rating is None)
    if needs:
        yield not_checked(sized.book, rule, subject, "the rating of the service disconnect is not known", needs)
        return
    rating = ratings[0]
    if len(ratings) > 1:
        rating = label(named(total(ratings), "I_disconnects", "A", "service disconnects together", rule), "service.disconnects")
    yield limit_check(
        sized.book,
        rule,
        subject,
        rating,
        given(DWELLING_LEAST_A, "A", "I_least", f"rule:{rule}", "least rating for a one-family dwelling"),
        "A",
        "the service disconnect of the dwelling is rated at least 100 A",
        "the service disconnect of the dwelling is rated below 100 A",
        Sense.AT_LEAST,
        Level.WARN if all(node.item.existing for node in nodes) else Level.FAIL,
    )


def _above_service(sized: Sized, nodes: list[Node]) -> Iterator[Check]:
    """A service disconnect whose device is larger than the service is said to be: one of the two is not right."""
    service = sized.network.project.service
    for node in nodes:
        device = node_device(node, sized.book, 0.0)
        if device is None or at_most(device.rating, service.rating.value):
            continue
        message = f"the {value_of(device.rating):g} A device of {node.tag} is above the service rating of {service.rating.value:g} A: verify which of them holds"
        yield remark(sized.book, "service_load_rating.device", node.tag, Level.WARN, message, (device.rating,))


def disconnect_rating(node: Node) -> Term | None:
    """The rating of a thing as a disconnect, in amperes; a breaker in an enclosure goes by the breaker. None where it has none."""
    key = _KEYS.get(node.kind)
    if node.kind is Kind.DISCONNECT and node.item.device_kind == "breaker" and isinstance(node.item.device, Quantity):
        key = "device"
    rating = getattr(node.item, key) if key else None
    if not isinstance(rating, Quantity):
        return None
    return term_of(rating, f"I_{node.tag}", f"{node.kind.value.split()[0]}.{node.tag}.{key}", f"rating of {node.tag}")
