"""Article 110: working space in front of equipment that is worked on while energized.

References
----------
``working_space`` 110.26(A): 30 in wide or the equipment's width, 36 in deep, 6.5 ft high or the equipment's height.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.calc.compare import largest_of
from linecalc.check import Check, Sense, limit_check, not_checked
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node
from linecalc.sizing.records import Sized
from linecalc.sizing.storage_places import location_rules_apply
from linecalc.term import Number, Term, named
from linecalc.units import Quantity

RULE = "working_space"
_TABLES = {
    Kind.PANEL: "panel",
    Kind.DISCONNECT: "disconnect",
    Kind.ISOLATION: "isolation",
    Kind.TRANSFER: "transfer",
    Kind.UNIT: "unit",
    Kind.INVERTER: "inverter",
}


@dataclass(frozen=True, slots=True)
class _Side:
    """One dimension: the key that states it, the least of the code in inches, and the equipment's own that it follows."""

    key: str
    symbol: str
    least_in: float
    follows: str | None
    word: str


_SIDES = (
    _Side("working_width", "b", 30.0, "width", "wide"),
    _Side("working_depth", "t", 36.0, None, "deep"),
    _Side("working_height", "h", 78.0, "height", "high"),
)


def working_space(sized: Sized) -> Iterator[Check]:
    """The space that is stated is large enough; where the project states location rules, each must be stated.

    Where nothing is stated at all, one line says so for the whole house.

    References
    ----------
    ``working_space``: 110.26(A)(1), (2), (3).
    """
    asked = location_rules_apply(sized.network)
    worked = [node for node in sized.network.of_kind(*_TABLES) if not _passed_by(node)]
    if worked and not asked and not any(getattr(node.item, side.key) is not None for node in worked for side in _SIDES):
        keys = ", ".join(side.key for side in _SIDES)
        needs = (f"{keys} of {', '.join(node.tag for node in worked)}",)
        yield not_checked(sized.book, RULE, "system", "the working space in front of equipment is given nowhere", needs)
    for node in sized.network.of_kind(*_TABLES):
        stated = [side for side in _SIDES if getattr(node.item, side.key) is not None]
        missing = tuple(f"{_TABLES[node.kind]}.{node.tag}.{side.key}" for side in _SIDES if side not in stated)
        if missing and (asked or stated) and not _passed_by(node):
            yield not_checked(sized.book, RULE, node.tag, "the working space is not fully described", missing)
        for side in stated:
            yield _held(sized, node, side)


def _passed_by(node: Node) -> bool:
    """Equipment that is not worked on in front of a space of its own: what sits in the meter socket."""
    return node.kind is Kind.ISOLATION and node.item.meter_socket


def _held(sized: Sized, node: Node, side: _Side) -> Check:
    path = f"{_TABLES[node.kind]}.{node.tag}.{side.key}"
    stated = term_of(getattr(node.item, side.key), side.symbol, path, f"working space, {side.word}")
    return limit_check(
        sized.book,
        f"{RULE}.{side.key.removeprefix('working_')}",
        node.tag,
        stated,
        _least(node, side),
        "in",
        f"the working space is {side.word} enough",
        f"the working space is not {side.word} enough",
        Sense.AT_LEAST,
    )


def _least(node: Node, side: _Side) -> Number:
    """The code's least, or the equipment's own dimension where that is larger."""
    least = Term(side.least_in, "in", symbol=f"{side.symbol}_min", meaning=f"least working space, {side.word}", origin=f"rule:{RULE}")
    own = getattr(node.data, side.follows, None) if side.follows and node.data is not None else None
    if not isinstance(own, Quantity):
        return least
    dimension = term_of(own, f"{side.symbol}_eq", f"equipment.{node.item.equipment}.{side.follows}", f"{side.follows} of the equipment")
    return named(largest_of([least, dimension]), f"{side.symbol}_need", "in", f"least working space, {side.word}", RULE)
