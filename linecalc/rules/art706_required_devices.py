"""Article 706: disconnect, emergency shutdown and listing of storage.

References
----------
``ess_disconnect`` 706.15(A), ``ess_emergency_shutdown`` 706.15, ``ess_listing`` 706.5.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import Kind
from linecalc.sizing.holders import holder_of, units_with_storage
from linecalc.sizing.records import Sized

SYSTEM = "system"
LISTED_STORAGE = "9540"


def storage_disconnects(sized: Sized) -> Iterator[Check]:
    """Each unit with storage has a storage disconnect inside it or within sight.

    References
    ----------
    ``ess_disconnect``: 706.15(A), 706.7(A) in 2017.
    """
    for node in units_with_storage(sized):
        holder = holder_of(sized, node.item.storage_disconnect, node.tag)
        if holder is None:
            needs = (f"unit.{node.tag}.storage_disconnect",)
            yield not_checked(sized.book, "ess_disconnect", node.tag, f"what disconnects the storage of {node.tag} is not given", needs)
            continue
        seen = True if holder.integral else node.item.storage_disconnect_in_sight
        if seen is None:
            needs = (f"unit.{node.tag}.storage_disconnect_in_sight",)
            yield not_checked(sized.book, "ess_disconnect", node.tag, f"whether {holder.text} is within sight of {node.tag} is not given", needs)
            continue
        level = Level.PASS if seen else Level.WARN
        how = "within sight or inside" if seen else "not within sight: it must be lockable open, with its place marked; ask the AHJ"
        yield remark(sized.book, "ess_disconnect", node.tag, level, f"storage is disconnected by {holder.text}, {how}")


def emergency_shutdown(sized: Sized) -> Iterator[Check]:
    """A dwelling with storage has a way to shut it down from outdoors, in the editions that ask for it.

    References
    ----------
    ``ess_emergency_shutdown``: 706.15(B) in 2023, 706.15(A) in 2020.
    """
    if not units_with_storage(sized) or not sized.book.cite("ess_emergency_shutdown").asked:
        return
    stated = sized.network.project.required
    needs = tuple(
        f"required.{key}" for key in ("emergency_shutdown", "emergency_shutdown_outdoors") if getattr(stated, key) is None
    )
    if needs:
        yield not_checked(sized.book, "ess_emergency_shutdown", SYSTEM, "how the storage is shut down in an emergency is not given", needs)
        return
    level = Level.PASS if stated.emergency_shutdown_outdoors else Level.FAIL
    where = "readily accessible outdoors" if stated.emergency_shutdown_outdoors else "not outdoors, where a dwelling needs it"
    yield remark(sized.book, "ess_emergency_shutdown", SYSTEM, level, f"emergency shutdown of the storage: {stated.emergency_shutdown}, {where}")


def storage_listing(sized: Sized) -> Iterator[Check]:
    """Units with storage, and storage modules, are listed as energy storage.

    References
    ----------
    ``ess_listing``: 706.5.
    """
    for node in (*units_with_storage(sized), *sized.network.of_kind(Kind.STORAGE)):
        listing = node.data.listing
        if listing is None:
            needs = (f"equipment.{node.item.equipment}.listing",)
            yield not_checked(sized.book, "ess_listing", node.tag, f"the listing of {node.tag} as energy storage is not given", needs)
            continue
        level = Level.PASS if LISTED_STORAGE in listing else Level.WARN
        also = "" if level is Level.PASS else "; UL 9540 for the unit together with its storage is what reviewers ask for"
        yield remark(sized.book, "ess_listing", node.tag, level, f"listing: {listing}{also}")
