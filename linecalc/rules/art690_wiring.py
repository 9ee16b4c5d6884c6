"""Article 690, wiring: PV conductors kept apart from other systems, strings with conductors.

References
----------
``pv_wiring_methods``: 690.31.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, System
from linecalc.sizing.cables import is_inside
from linecalc.sizing.records import Sized, SizedCircuit, StringFigures
from linecalc.term import Number, given, value_of


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


METAL_INSIDE = ("EMT", "FMC", "IMC", "LFMC", "RMC", "MC")


def inside_buildings(sized: Sized) -> Iterator[Check]:
    """PV circuits inside a building run in metal raceways or MC cable.

    References
    ----------
    ``pv_inside_building``: 690.31(D), 690.31(G) in 2017.
    """
    for circuit in sized.circuits:
        if circuit.circuit.system is not System.PV or not circuit.sections:
            continue
        yield _inside(sized, circuit)


def _inside(sized: Sized, circuit: SizedCircuit) -> Check:
    book, sections = sized.book, sized.network.project.section
    inside = {tag: is_inside(sections[tag]) for tag in circuit.circuit.sections}
    plain = [tag for tag in inside if sections[tag].method not in METAL_INSIDE]
    wrong = [tag for tag in plain if inside[tag]]
    unknown = [tag for tag in plain if inside[tag] is None]
    if wrong:
        listed = "; only a listed hazard control system may bring other methods" if book.wording.hazard_control_exception else ""
        methods = ", ".join(f"{sections[tag].method} in {tag}" for tag in wrong)
        return remark(book, "pv_inside_building", circuit.tag, Level.FAIL, f"PV conductors inside the building not in metal: {methods}{listed}")
    if unknown:
        needs = tuple(f"section.{tag}.inside" for tag in unknown)
        return not_checked(book, "pv_inside_building", circuit.tag, f"whether {', '.join(unknown)} runs inside the building is not known", needs)
    where = ", ".join(tag for tag in inside if inside[tag])
    message = f"inside the building ({where}) in metal raceway or MC cable" if where else "does not run inside the building, or only in metal"
    return remark(book, "pv_inside_building", circuit.tag, Level.PASS, message)


BUILDING_WIRE_V = 600.0


def insulation_voltage(sized: Sized) -> Iterator[Check]:
    """The insulation of every PV conductor on the way reaches the string's highest voltage.

    Building wire is rated 600 V; PV wire is taken at its lowest marking, 600 V,
    where no other is given. Stated ratings are among the limits of the string's
    own verdict, which fails where one is broken; here the conductor is named.

    References
    ----------
    ``insulation_rating``; ``pv_max_voltage``: 690.7.
    """
    for circuit in sized.circuits:
        if circuit.circuit.system is not System.PV:
            continue
        behind = {node.tag for node in sized.network.strings_behind(circuit.circuit)}
        voltages = [_highest(string) for string in sized.strings if string.tag in behind]
        if not voltages or any(voltage is None for voltage in voltages):
            needs = tuple(dict.fromkeys(need for string in sized.strings if string.tag in behind for need in string.needs))
            yield not_checked(sized.book, "insulation_rating.voltage", circuit.tag, "the highest voltage on these conductors is not known", needs or ("a string behind it",))
            continue
        stated = circuit.circuit.item.voltage_rating
        path = f"circuit.{circuit.tag}.voltage_rating"
        if stated is not None:
            rating = term_of(stated, "V_wire", path, "insulation voltage")
        else:
            rating = given(BUILDING_WIRE_V, "V", "V_wire", "rule:insulation_rating", "insulation voltage, the lowest marking of such conductors")
        yield limit_check(
            sized.book,
            "insulation_rating.voltage",
            circuit.tag,
            max(voltages, key=value_of),
            rating,
            "V",
            f"{circuit.conductor.insulation} is rated for the highest voltage of the strings",
            f"{circuit.conductor.insulation} is not rated for the highest voltage of the strings: see the verdict on their voltage",
            broken=Level.NOTE,
        )


def _highest(string: StringFigures) -> Number | None:
    return string.cold_voc if string.cold_voc is not None else string.cold_voc_table
