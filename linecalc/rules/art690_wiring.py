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
    """Every string has conductors that lead to its unit; strings on different inputs share none.

    References
    ----------
    ``pv_conductor``: 690.8(B); ``mppt_limit``.
    """
    network = sized.network
    carried = {circuit: network.strings_behind(circuit) for circuit in network.circuits if circuit.system is System.PV}
    for circuit, strings in carried.items():
        inputs = {node.item.input for node in strings}
        if len(inputs) > 1:
            names = ", ".join(node.tag for node in strings)
            message = f"{names} are joined on one circuit but named on different inputs; give each input a circuit of its own"
            yield remark(sized.book, "mppt_limit.joined", circuit.tag, Level.FAIL, message)
    units = {string.tag: string.unit for string in sized.strings}
    arriving = {(node.tag, circuit.up) for circuit, strings in carried.items() for node in strings}
    for node in network.of_kind(Kind.STRING):
        if (node.tag, units[node.tag]) not in arriving:
            needs = (f"a circuit from {node.tag} to {node.item.to}",)
            yield not_checked(sized.book, "pv_conductor", node.tag, "the string's conductors are not described", needs)
