"""Article 702: PV inverters inside the backup boundary, how they are curtailed and how the island restarts.

References
----------
``listed_instructions`` 110.3(B): the units' instructions say what they can hold down.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node
from linecalc.rules.art702_backup import backup_of
from linecalc.sizing.records import Sized
from linecalc.term import label, named, total

RULE = "listed_instructions"
_STATED = {
    "ac_coupled_curtailment": ("curtailment", "how the PV inverters are held down while the storage is full", "with the storage full"),
    "ac_coupled_restart": ("restart", "how the island starts again after its storage ran empty", "after the storage ran empty"),
}


def inside(sized: Sized) -> tuple[tuple[Node, ...], tuple[Node, ...]]:
    """The units and the PV inverters that run in an outage; none where nothing is backed up."""
    backup = backup_of(sized)
    if backup is None:
        return (), ()
    below = set(sized.network.below(backup.isolation.tag))
    return backup.units, tuple(node for node in sized.network.of_kind(Kind.INVERTER) if node.tag in below)


def statements(sized: Sized) -> Iterator[Check]:
    """The sheet says how the PV inverters are curtailed and how the island restarts.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    units, inverters = inside(sized)
    if not inverters:
        return
    names = ", ".join(node.tag for node in inverters)
    for key, (suffix, what, when) in _STATED.items():
        rule = f"{RULE}.ac_coupled_{suffix}"
        missing = tuple(dict.fromkeys(f"equipment.{node.item.equipment}.{key}" for node in units if getattr(node.data, key) is None))
        if missing:
            yield not_checked(sized.book, rule, "system", f"{what} is not given ({names})", missing)
            continue
        told = "; ".join(dict.fromkeys(f"{node.tag} {getattr(node.data, key)}" for node in units))
        yield remark(sized.book, rule, "system", Level.NOTE, f"{names}, {when}: {told}")


def charging(sized: Sized) -> Iterator[Check]:
    """PV beyond what the storage takes is held down in an outage even while the storage has room.

    References
    ----------
    ``usable_array_power``: common practice, no source.
    """
    units, inverters = inside(sized)
    if not inverters:
        return
    power = total([term_of(node.data.ac_power, f"P_{node.tag}", f"equipment.{node.item.equipment}.ac_power") for node in inverters])
    charge = total([term_of(node.data.charge_power, f"P_chg_{node.tag}", f"equipment.{node.item.equipment}.charge_power") for node in units])
    yield limit_check(
        sized.book,
        "usable_array_power.ac_coupled",
        "system",
        label(named(power, "P_pv_island", "W", "PV inverters inside the backup boundary", "usable_array_power"), "system.P_pv_island"),
        label(named(charge, "P_chg", "W", "what the storage takes", "usable_array_power"), "system.P_chg"),
        "W",
        "in an outage without load the storage takes all that the PV inverters give, until it is full",
        "in an outage without load the PV inverters give more than the storage takes: they are held down even before it is full",
        broken=Level.NOTE,
    )
