"""Article 230: emergency disconnect and surge protection of a dwelling's service, in the editions that ask for them.

References
----------
``emergency_disconnect`` 230.85, ``surge_protection`` 230.67.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.sizing.ahead import serves_loads
from linecalc.sizing.grounding_system import service_disconnects
from linecalc.sizing.holders import holder_of, is_outdoors
from linecalc.sizing.records import Sized

SERVICE = "service"


def emergency_disconnect(sized: Sized) -> Iterator[Check]:
    """New service equipment of a dwelling has an emergency disconnect outdoors.

    References
    ----------
    ``emergency_disconnect``: 230.85.
    """
    rule, stated = "emergency_disconnect", sized.network.project.required.emergency_disconnect
    if not sized.book.cite(rule).asked or not service_disconnects(sized.network):
        return
    if stated is None and not _new_service_equipment(sized):
        message = "the service equipment is existing and stays: an emergency disconnect is asked for only where it is replaced"
        yield remark(sized.book, rule, SERVICE, Level.NOTE, message)
        return
    holder = holder_of(sized, stated, SERVICE)
    if holder is None or holder.location is None:
        needs = ("required.emergency_disconnect",) if holder is None else (f"location of {holder.node or holder.name}",)
        yield not_checked(sized.book, rule, SERVICE, "the emergency disconnect of the dwelling, or its place, is not given", needs)
        return
    outdoors = is_outdoors(holder.location)
    level = {True: Level.PASS, False: Level.FAIL, None: Level.WARN}[outdoors]
    where = {True: "outdoors", False: "not outdoors, where a dwelling needs it", None: "the place does not say whether it is outdoors"}[outdoors]
    yield remark(sized.book, rule, holder.node or SERVICE, level, f"emergency disconnect: {holder.text}: {where}")


def surge_protection(sized: Sized) -> Iterator[Check]:
    """New service equipment of a dwelling has a surge protective device.

    References
    ----------
    ``surge_protection``: 230.67.
    """
    rule, stated = "surge_protection", sized.network.project.required
    if not sized.book.cite(rule).asked or not service_disconnects(sized.network):
        return
    if stated.surge_protection is None and not _new_service_equipment(sized):
        message = "the service equipment is existing and stays: surge protection is asked for only where it is replaced"
        yield remark(sized.book, rule, SERVICE, Level.NOTE, message)
        return
    if stated.surge_protection is None:
        yield not_checked(sized.book, rule, SERVICE, "the surge protective device is not given", ("required.surge_protection",))
        return
    where = f" at {stated.surge_protection_at}" if stated.surge_protection_at else ""
    yield remark(sized.book, rule, SERVICE, Level.PASS, f"surge protective device: {stated.surge_protection}{where}")


def _new_service_equipment(sized: Sized) -> bool:
    """Whether a service disconnect that serves the house, not only sources, is new."""
    network = sized.network
    return any(not network.nodes[tag].item.existing and serves_loads(network, tag) for tag in service_disconnects(network))
