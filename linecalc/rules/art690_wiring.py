"""Article 690, wiring: PV conductors kept apart from other systems, strings with conductors.

References
----------
``pv_wiring_methods``: 690.31.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import Kind, System
from linecalc.sizing.records import Sized


def systems_apart(sized: Sized) -> Iterator[Check]:
    """PV conductors share no raceway with other systems unless a partition divides them.

    References
    ----------
    ``pv_wiring_methods``: 690.31(B).
    """
    for raceway in sized.raceways:
        inside = [circuit.circuit for circuit in sized.circuits if raceway.section in circuit.circuit.sections]
        systems = {circuit.system for circuit in inside}
        if System.PV in systems and len(systems) > 1 and not sized.network.project.section[raceway.section].partition:
            others = ", ".join(circuit.tag for circuit in inside if circuit.system is not System.PV)
            message = f"PV conductors share the raceway with {others} without a partition"
            yield remark(sized.book, "pv_wiring_methods", raceway.section, Level.FAIL, message)


def strings_wired(sized: Sized) -> Iterator[Check]:
    """Every string has conductors that lead to its unit.

    References
    ----------
    ``pv_conductor``: 690.8(B).
    """
    carried = {
        node.tag
        for circuit in sized.network.circuits
        if circuit.system is System.PV
        for node in sized.network.strings_behind(circuit)
    }
    for node in sized.network.of_kind(Kind.STRING):
        if node.tag not in carried:
            needs = (f"a circuit from {node.tag} to {node.item.to}",)
            yield not_checked(sized.book, "pv_conductor", node.tag, "the string's conductors are not described", needs)
