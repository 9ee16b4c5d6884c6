"""Article 705: source disconnects, the directory of sources, listed equipment that stops without the utility.

References
----------
``source_disconnect`` 705.20, ``directory_sources`` 705.10, ``interactive_listing`` 705.6 and 705.40.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import Kind, Node
from linecalc.sizing.holders import holder_of
from linecalc.sizing.records import Sized

SYSTEM = "system"
INTERACTIVE = "1741"
_SOURCES = (Kind.UNIT, Kind.INVERTER)


def source_disconnects(sized: Sized) -> Iterator[Check]:
    """Each source has a disconnect from all other conductors, at a stated place.

    References
    ----------
    ``source_disconnect``: 705.20, 705.20 to 705.23 in 2017.
    """
    for node in sized.network.of_kind(*_SOURCES):
        holder = holder_of(sized, node.item.ac_disconnect, node.tag)
        needs = _needs(sized, node)
        if needs:
            yield not_checked(sized.book, "source_disconnect", node.tag, f"the disconnect of {node.tag}, or its place, is not given", needs)
            continue
        yield from _accessible(sized, node, holder.node)
        yield remark(sized.book, "source_disconnect", node.tag, Level.PASS, f"{node.tag} is disconnected by {holder.text}")


def _accessible(sized: Sized, node: Node, where: str | None) -> Iterator[Check]:
    item = sized.network.nodes[where].item if where else None
    if getattr(item, "readily_accessible", None) is False:
        message = f"the disconnect of {node.tag} in {where} is not readily accessible"
        yield remark(sized.book, "source_disconnect.access", node.tag, Level.FAIL, message)


def _needs(sized: Sized, node: Node) -> tuple[str, ...]:
    """What is missing to say where the disconnect of a source is."""
    base = f"{node.kind.name.lower()}.{node.tag}"
    holder = holder_of(sized, node.item.ac_disconnect, node.tag)
    if holder is None:
        return (f"{base}.ac_disconnect",)
    if holder.location is None and holder.node is not None:
        kind = sized.network.nodes[holder.node].kind.name.lower()
        return (f"{kind}.{holder.node}.location",)
    return () if holder.location is not None else (f"{base}.ac_disconnect",)


def directory(sized: Sized) -> Iterator[Check]:
    """The directory of sources can name every disconnect and its place.

    References
    ----------
    ``directory_sources``: 705.10.
    """
    sources = sized.network.of_kind(*_SOURCES)
    if not sources:
        return
    needs = [need for node in sources for need in _needs(sized, node)]
    service = sized.network.project.service
    if service is not None and service.location is None:
        needs.append("service.location")
    if needs:
        yield not_checked(sized.book, "directory_sources", SYSTEM, "the directory cannot name every disconnect and its place", tuple(dict.fromkeys(needs)))
        return
    names = ", ".join(node.tag for node in sources)
    message = f"the directory names {names} with their disconnects and places; it stands at the service equipment and at each source disconnect"
    yield remark(sized.book, "directory_sources", SYSTEM, Level.PASS, message)


def listed_equipment(sized: Sized) -> Iterator[Check]:
    """Interactive equipment is listed for it, and so ceases to export when the utility is lost.

    References
    ----------
    ``interactive_listing``: 705.6, 705.40.
    """
    for node in sized.network.of_kind(*_SOURCES):
        listing = node.data.listing
        if listing is None:
            needs = (f"equipment.{node.item.equipment}.listing",)
            yield not_checked(sized.book, "interactive_listing", node.tag, f"the listing of {node.tag} for interactive operation is not given", needs)
        elif INTERACTIVE in listing:
            message = f"listed ({listing}); it stops exporting when the utility is lost"
            yield remark(sized.book, "interactive_listing", node.tag, Level.PASS, message)
        else:
            message = f"the listing given ({listing}) does not name UL 1741 for interactive equipment"
            yield remark(sized.book, "interactive_listing", node.tag, Level.WARN, message)
