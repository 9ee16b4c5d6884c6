"""Article 706: storage modules, their number, harness and circuit.

References
----------
``ess_circuit_current`` 706.30(A); ``listed_instructions`` 110.3(B) for number and harness.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.currents import storage_current
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node, System
from linecalc.sizing.records import Sized
from linecalc.term import label, value_of


def module_count(sized: Sized) -> Iterator[Check]:
    """No unit has more storage modules than its data allows.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for unit in sized.network.of_kind(Kind.UNIT):
        attached = [node.tag for node in sized.network.of_kind(Kind.STORAGE) if node.item.unit == unit.tag]
        if not attached:
            continue
        most = unit.data.storage_modules_max
        level = Level.PASS if len(attached) <= most else Level.FAIL
        message = f"{len(attached)} storage modules ({', '.join(attached)}), at most {most} by the unit's data"
        yield remark(sized.book, "listed_instructions.storage_modules", unit.tag, level, message)


def harnesses(sized: Sized) -> Iterator[Check]:
    """A factory harness is printed and its reach checked; other wiring needs a circuit of its own.

    References
    ----------
    ``listed_instructions``: 110.3(B); ``ess_circuit_current``.
    """
    wired = {end for circuit in sized.network.circuits if circuit.system is System.STORAGE for end in (circuit.up, circuit.down)}
    for node in sized.network.of_kind(Kind.STORAGE):
        if node.tag in wired:
            continue
        if node.item.harness == "factory":
            yield from _factory(sized, node)
            continue
        needs = (f"storage.{node.tag}.harness, or a circuit between {node.tag} and {node.item.unit}",)
        yield not_checked(sized.book, "ess_circuit_current", node.tag, "how the module is wired is not given", needs)


def _factory(sized: Sized, node: Node) -> Iterator[Check]:
    data, path = node.data, f"equipment.{node.item.equipment}"
    needs = [f"{path}.{key}" for key in ("harness_part", "harness_length") if getattr(data, key) is None]
    needs += [] if node.item.distance is not None else [f"storage.{node.tag}.distance"]
    if needs:
        yield not_checked(sized.book, "listed_instructions.harness", node.tag, "the reach of the factory harness is not known", tuple(needs))
        return
    yield limit_check(
        sized.book,
        "listed_instructions.harness",
        node.tag,
        term_of(node.item.distance, "L_way", f"storage.{node.tag}.distance", "way of the harness"),
        term_of(data.harness_length, "L_harness", f"{path}.harness_length", "longest factory harness"),
        "ft",
        f"factory harness {data.harness_part} reaches; part of the listed assembly, not sized here",
        f"factory harness {data.harness_part} does not reach",
    )
    current, missing = storage_current(node)
    if current is None or data.harness_current is None:
        needs = (*missing, *(() if data.harness_current is not None else (f"{path}.harness_current",)))
        yield remark(sized.book, "ess_circuit_current", node.tag, Level.NOTE, f"harness current not compared; not given: {', '.join(needs)}")
        return
    current = label(current, f"{node.tag}.I_ess")
    message = f"largest storage current {value_of(current):.4g} A, harness rated {data.harness_current.value:g} A"
    level = Level.PASS if value_of(current) <= data.harness_current.value + 1e-9 else Level.FAIL
    yield remark(sized.book, "ess_circuit_current", node.tag, level, message, (current,))
