"""What contradicts itself in the dwelling's load: keys that a load has no use for, shares above the whole."""

from __future__ import annotations

from linecalc import units
from linecalc.project.document import Document, amount, entries
from linecalc.project.wording import Fault, alternatives, quoted

_ONLY_FOR = {
    "separately_controlled": ("heat",),
    "supplemental_heat": ("heat pump",),
    "supplemental_interlocked": ("heat pump",),
    "motor_driven": ("appliance", "fixed appliance"),
    "continuous_part": ("calculated",),
    "unbalance": ("calculated",),
}
_ALWAYS_CONTINUOUS = ("ev", "heat")
_COUNTS = ("small_appliance_circuits", "laundry_circuits")


def faults(document: Document) -> list[Fault]:
    """Every such fault in ``document``."""
    found = [fault for tag, keys in entries(document, "load") for fault in _keys_of_kind(tag, keys)]
    found += _second_totals(document)
    dwelling = document.get("dwelling")
    if isinstance(dwelling, dict):
        for tag, share in entries(dwelling, "share"):
            found += _share(tag, share, dwelling)
    return found


def _keys_of_kind(tag: str, keys: Document) -> list[Fault]:
    """Keys that mean something for loads of another kind only."""
    kind = keys.get("kind")
    found = []
    for key, kinds in _ONLY_FOR.items():
        if key in keys and isinstance(kind, str) and kind not in kinds:
            message = f"means nothing for a load of kind {quoted(kind)}; it belongs to kind {alternatives(kinds)}"
            found.append(Fault(("load", tag, key), message, found=kind, expected=alternatives(kinds)))
    if isinstance(kind, str) and kind in _ALWAYS_CONTINUOUS and keys.get("continuous") is False:
        message = f"a load of kind {quoted(kind)} always counts as continuous; leave the key out"
        found.append(Fault(("load", tag, "continuous"), message, found="false", expected="true"))
    return found


def _second_totals(document: Document) -> list[Fault]:
    """A calculated load stands for everything on its panel, so a panel has one."""
    first: dict[str, str] = {}
    found = []
    for tag, keys in entries(document, "load"):
        panel = keys.get("panel")
        if keys.get("kind") != "calculated" or not isinstance(panel, str):
            continue
        if panel in first:
            message = f"is a second calculated load on {panel}, beside {first[panel]}: one stands for everything on the panel; add them up, or name single loads"
            found.append(Fault(("load", tag, "kind"), message, found="calculated"))
        first.setdefault(panel, tag)
    return found


def _share(tag: str, share: Document, dwelling: Document) -> list[Fault]:
    """A panel has no more of the general load than the dwelling."""
    found = []
    part, whole = (amount(keys, "floor_area", units.AREA) for keys in (share, dwelling))
    if part is not None and whole is not None and part.value > whole.value + 1e-9:
        message = f"{quoted(part.as_written)} is more than the floor area of the dwelling, {whole.as_written}"
        found.append(Fault(("dwelling", "share", tag, "floor_area"), message, found=part.as_written))
    for key in _COUNTS:
        some, all_of_them = share.get(key), dwelling.get(key)
        if type(some) is int and type(all_of_them) is int and some > all_of_them:
            message = f"{some} is more than the {all_of_them} of the dwelling"
            found.append(Fault(("dwelling", "share", tag, key), message, found=str(some)))
    return found
