"""Stored energy as the residential and fire codes count it: storage units, their places, the limits of an adopted code.

References
----------
``ess_energy``, ``ess_place``: table ``storage-limits`` holds each code's figures with their section and evidence.
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node
from linecalc.term import Number, Term

TABLE = "storage-limits"
INTERIOR = ("utility closet", "basement", "storage or utility space")
HABITABLE = ("sleeping room", "other habitable space")
GARAGES = ("attached garage", "detached garage")
OUTSIDE = ("exterior wall", "outdoors")
MEMORY = "section from memory, verify"


@dataclass(frozen=True, slots=True)
class Stored:
    """One thing that stores energy: a unit with storage of its own, or a storage module.

    ``space`` is its own or that of its unit; ``energy`` its nominal energy.
    """

    node: Node
    unit: Node
    space: str | None
    energy: Term

    @property
    def table(self) -> str:
        """The project table that describes it."""
        return "unit" if self.node.kind is Kind.UNIT else "storage"

    @property
    def equipment(self) -> str:
        """The path of its equipment data."""
        return f"equipment.{self.node.item.equipment}"


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure of an adopted code, with the text that cites it."""

    term: Term
    citation: str


def stored_of(network: Network) -> tuple[Stored, ...]:
    """Everything in the house that stores energy, in natural order."""
    found = []
    for node in network.of_kind(Kind.UNIT, Kind.STORAGE):
        unit = node if node.kind is Kind.UNIT else network.nodes[node.item.unit]
        if node.data.energy.value > 0.0:
            energy = term_of(node.data.energy, f"E_{node.tag}", f"equipment.{node.item.equipment}.energy", f"nominal energy of {node.tag}")
            found.append(Stored(node, unit, node.item.space or unit.item.space, energy))
    return tuple(found)


def adopted(network: Network) -> tuple[str, ...]:
    """The residential and fire codes that the project states, by the names of the table."""
    site = network.project.site
    residential = (f"IRC {site.irc_edition}",) if site.irc_edition else ()
    return residential + ((site.fire_code_edition,) if site.fire_code_edition else ())


def location_rules_apply(network: Network) -> bool:
    """Whether the project says which code the places of its equipment are held to."""
    return bool(adopted(network))


def limit_of(book: Book, code: str, item: str) -> Limit | None:
    """A figure of a code; None where the code has none."""
    table = book.table(TABLE)
    keys = list(zip(table.texts("code"), table.texts("item"), strict=True))
    if (code, item) not in keys:
        return None
    unit = table.texts("unit")[keys.index((code, item))]
    term = book.cell(TABLE, (code, item), "limit", "E_max" if unit == "kWh" else "d_min", unit, f"{code}, {item}")
    return Limit(term, section_of(book, code, item))


def section_of(book: Book, code: str, item: str) -> str:
    """The section of a code as printed; the code alone where the table has no row."""
    table = book.table(TABLE)
    for row in zip(table.texts("code"), table.texts("item"), table.texts("section"), table.texts("evidence"), strict=True):
        if row[:2] == (code, item):
            return f"{code}, {row[2]}" + (f" ({MEMORY})" if row[3] == "M" else "")
    return code


def item_of(space: str) -> str:
    """The row of the table that a space belongs to."""
    return "interior" if space in INTERIOR else space


def standing_in(found: tuple[Stored, ...]) -> dict[tuple[str | None, str], tuple[Stored, ...]]:
    """What stores energy, by building and space; things without a space are left out."""
    places: dict[tuple[str | None, str], list[Stored]] = {}
    for stored in found:
        if stored.space is not None:
            places.setdefault((stored.node.item.building or stored.unit.item.building, stored.space), []).append(stored)
    return {place: tuple(those) for place, those in places.items()}


def energies(found: tuple[Stored, ...]) -> list[Number]:
    """The nominal energies of several."""
    return [stored.energy for stored in found]
