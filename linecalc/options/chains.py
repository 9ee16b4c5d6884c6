"""Chains of circuits from a source to where it lands, and copies of them under new tags."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from linecalc.errors import RefusedError

Table = dict[str, Any]
House = dict[str, Any]
PASSED = ("disconnect", "junction")
_LONGEST_TAG = 24


@dataclass(frozen=True, slots=True)
class Chain:
    """What stands between a source and where it lands: boxes and switches, circuits, and the landing itself."""

    start: str
    nodes: tuple[tuple[str, str], ...]
    circuits: tuple[str, ...]
    lands_on: str


def kind_of(house: House, tag: str) -> str:
    """The kind of table that holds ``tag``; ``service`` for the utility."""
    for kind in ("panel", "string", "unit", "inverter", "storage", "isolation", "disconnect", "junction", "combiner", "generator", "transfer", "load"):
        if tag in house.get(kind, {}):
            return kind
    return "service"


def circuits_at(house: House, tag: str) -> list[str]:
    """The circuits that end at ``tag``."""
    return [name for name, keys in house.get("circuit", {}).items() if tag in (keys["from"], keys["to"])]


def other_end(house: House, circuit: str, tag: str) -> str:
    """The far end of a circuit seen from ``tag``."""
    keys = house["circuit"][circuit]
    return keys["to"] if keys["from"] == tag else keys["from"]


def chain_from(house: House, start: str, circuit: str) -> Chain:
    """The chain that leaves ``start`` by ``circuit``, through boxes and switches that carry nothing else.

    Raises
    ------
    RefusedError
        The chain meets a box that joins several circuits, so that it cannot be copied alone.
    """
    nodes: list[tuple[str, str]] = []
    circuits = [circuit]
    here = other_end(house, circuit, start)
    while kind_of(house, here) in PASSED:
        onward = [name for name in circuits_at(house, here) if name not in circuits]
        if len(onward) != 1 or len(circuits) > 50:
            raise RefusedError(f"the way from {start} passes {here}, which joins several circuits; options copies a way only where each box carries one circuit")
        nodes.append((kind_of(house, here), here))
        circuits.append(onward[0])
        here = other_end(house, onward[0], here)
    return Chain(start, tuple(nodes), tuple(circuits), here)


def remove_chain(house: House, chain: Chain) -> None:
    """Take a chain out of ``house``; the source itself is left to the caller."""
    for kind, tag in chain.nodes:
        del house[kind][tag]
    for circuit in chain.circuits:
        del house["circuit"][circuit]


def copy_chain(house: House, chain: Chain, new_start: str, number: int, own_sections: Iterable[str]) -> Mapping[str, str]:
    """Copy a chain for a new source; returns the new tag of everything copied.

    ``own_sections`` are copied too; other sections are shared with the pattern.
    """
    names = {chain.start: new_start}
    own = set(own_sections)
    for kind, tag in (*chain.nodes, *(("circuit", tag) for tag in chain.circuits)):
        names[tag] = free_tag(house, tag, number)
        house[kind][names[tag]] = dict(house[kind][tag])
    for tag in chain.circuits:
        keys = house["circuit"][names[tag]]
        keys["from"], keys["to"] = names.get(keys["from"], keys["from"]), names.get(keys["to"], keys["to"])
        keys["path"] = tuple(_section(house, section, number, own, names) for section in keys.get("path", ()))
        keys.pop("existing", None)
    return names


def _section(house: House, tag: str, number: int, own: set[str], names: dict[str, str]) -> str:
    if tag not in own:
        return tag
    if tag not in names:
        names[tag] = free_tag(house, tag, number)
        house["section"][names[tag]] = dict(house["section"][tag])
    return names[tag]


def sections_only_in(house: House, circuits: Iterable[str]) -> set[str]:
    """The sections that no circuit but these passes."""
    inside = set(circuits)
    mine = {tag for name in inside for tag in house["circuit"][name].get("path", ())}
    others = {tag for name, keys in house["circuit"].items() if name not in inside for tag in keys.get("path", ())}
    return mine - others


def free_tag(house: House, tag: str, number: int) -> str:
    """A new tag after the pattern of ``tag``: ``C1`` becomes ``C1-2``."""
    stem = tag[: _LONGEST_TAG - 4]
    while is_taken(house, found := f"{stem}-{number}"):
        number += 1
    return found


def is_taken(house: House, tag: str) -> bool:
    """Whether anything in the house has that tag."""
    return any(isinstance(table, dict) and tag in table for kind, table in house.items() if kind not in ("equipment", "label", "site", "project"))


def prune_sections(house: House) -> None:
    """Leave out the sections that no circuit passes any more."""
    used = {tag for keys in house.get("circuit", {}).values() for tag in keys.get("path", ())}
    house["section"] = {tag: keys for tag, keys in house.get("section", {}).items() if tag in used}
