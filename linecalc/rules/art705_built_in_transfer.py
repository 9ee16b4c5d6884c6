"""Units with built-in transfer, and isolation devices in the meter socket: what passes through them.

References
----------
``listed_instructions`` 110.3(B) for the pass-through rating; ``meter_socket_equipment`` 230.82.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Mode, ModeCurrent
from linecalc.network.topology import BACKUP
from linecalc.sizing.records import Sized
from linecalc.term import Number, label, named, value_of


def pass_through(sized: Sized) -> Iterator[Check]:
    """What a unit passes from its grid port to its backup port is within its rating, and so is the device ahead.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    network = sized.network
    for node in network.of_kind(Kind.UNIT):
        ports = [step for step in network.children.get(node.tag, ()) if step.item.port == BACKUP]
        if not ports or node.tag not in network.parent:
            continue
        path = f"equipment.{node.item.equipment}.pass_through"
        if node.data.pass_through is None:
            yield not_checked(sized.book, "listed_instructions.pass_through", node.tag, "the pass-through rating of the unit is not given", (path,))
            continue
        rating = term_of(node.data.pass_through, "I_pass", path, "pass-through rating of the unit")
        backup = sized.circuit(ports[0].tag)
        load = backup.currents.of(Mode.SUPPLY)
        if backup.currents.loads_not_given:
            needs = tuple(f"a load, or a calculated load, on panel {panel}" for panel in backup.currents.loads_not_given)
            yield not_checked(sized.book, "listed_instructions.pass_through", node.tag, "the load behind the backup port is not given", needs)
        elif load is not None:
            through = label(named(_whole(load), "I_through", "A", "load that passes from the grid port to the backup port", "listed_instructions"), f"{node.tag}.I_through")
            words = f"load behind the backup port of {node.tag}"
            yield limit_check(
                sized.book, "listed_instructions.pass_through", node.tag, through, rating, "A", f"{words}: within the pass-through rating", f"{words}: above the pass-through rating"
            )
        device = sized.circuit(network.parent[node.tag].tag).device
        if device is None:
            continue
        words = f"{value_of(device.rating):g} A device ahead of the grid port of {node.tag}"
        yield limit_check(
            sized.book,
            "listed_instructions.pass_through_device",
            node.tag,
            device.rating,
            rating,
            "A",
            f"{words} protects the pass-through",
            f"{words} is above the pass-through rating",
        )


def _whole(current: ModeCurrent) -> Number:
    if value_of(current.noncontinuous) == 0.0:
        return current.continuous
    return current.noncontinuous if value_of(current.continuous) == 0.0 else current.continuous + current.noncontinuous


def meter_socket(sized: Sized) -> Iterator[Check]:
    """An isolation device in the meter socket lies ahead of the service disconnect; the utility must permit it.

    References
    ----------
    ``meter_socket_equipment``: 230.82.
    """
    for node in sized.network.of_kind(Kind.ISOLATION):
        if not node.item.meter_socket:
            continue
        parent = sized.network.parent.get(node.tag)
        if parent is None or parent.up != sized.network.root:
            message = f"{node.tag} is said to be in the meter socket, but {parent.up if parent else 'nothing'} lies between it and the service"
            yield remark(sized.book, "meter_socket_equipment", node.tag, Level.FAIL, message)
            continue
        message = f"{node.tag} is in the meter socket, ahead of the service disconnect: it must be listed for that place, and the utility must permit it there"
        yield remark(sized.book, "meter_socket_equipment", node.tag, Level.WARN, message)
