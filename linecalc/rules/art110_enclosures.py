"""Article 110: the enclosures of equipment outdoors.

References
----------
``enclosure_types`` 110.28 and its table.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import Kind
from linecalc.sizing.holders import is_outdoors
from linecalc.sizing.records import Sized

OUTDOOR_TYPES = ("3", "3R", "3RX", "3S", "3X", "4", "4X", "6", "6P")
_ENCLOSED = (Kind.PANEL, Kind.ISOLATION, Kind.DISCONNECT, Kind.JUNCTION, Kind.COMBINER, Kind.UNIT, Kind.INVERTER, Kind.STORAGE)


def outdoor_enclosures(sized: Sized) -> Iterator[Check]:
    """Equipment whose place says outdoors has an enclosure for it.

    References
    ----------
    ``enclosure_types``: 110.28.
    """
    for node in sized.network.of_kind(*_ENCLOSED):
        if not is_outdoors(node.item.location):
            continue
        stated = node.item.enclosure
        if stated is None:
            needs = (f"{node.kind.name.lower()}.{node.tag}.enclosure",)
            yield not_checked(sized.book, "enclosure_types", node.tag, f"the enclosure type of {node.tag}, outdoors, is not given", needs)
            continue
        level = Level.PASS if stated in OUTDOOR_TYPES else Level.FAIL
        fit = "for outdoors" if level is Level.PASS else "not for outdoors"
        yield remark(sized.book, "enclosure_types", node.tag, level, f"enclosure type {stated}, {fit} ({node.item.location})")
