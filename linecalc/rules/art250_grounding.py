"""Article 250: equipment grounding conductors and the bonding of the neutral.

References
----------
``egc`` 250.122, ``egc_upsize`` 250.122(B), ``pv_egc`` 690.45, ``ssbj`` 250.102(C),
``service_grounding`` 250.24, ``neutral_for_grounding`` 250.142, ``separately_derived`` 250.30.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.codebook.sizes import size_index
from linecalc.network.records import Kind, Node, System
from linecalc.project.equipment import UnitData
from linecalc.sizing.grounding_system import service_disconnects
from linecalc.sizing.records import Egc, Sized, SizedCircuit
from linecalc.term import value_of

METAL_RACEWAYS = ("EMT", "IMC", "RMC")


def grounding_conductors(sized: Sized) -> Iterator[Check]:
    """The grounding conductor of each circuit reaches its table size and its proportional increase.

    References
    ----------
    ``egc``: Table 250.122; ``egc_upsize``: 250.122(B); ``pv_egc``: 690.45; ``ssbj``: 250.102(C)(1).
    """
    for circuit in sized.circuits:
        egc = circuit.egc
        if egc is None:
            yield from _without(sized, circuit)
        elif circuit.circuit.item.existing and not egc.given:
            needs = (f"circuit.{circuit.tag}.egc",)
            yield not_checked(sized.book, "egc", circuit.tag, "the grounding conductor of this existing circuit is not given: read it on site", needs)
        elif egc.kind == "raceway":
            yield _raceway(sized, circuit)
        else:
            yield _wire(sized, circuit, egc)


def _without(sized: Sized, circuit: SizedCircuit) -> Iterator[Check]:
    if circuit.circuit.item.egc == "none":
        yield remark(sized.book, "egc", circuit.tag, Level.FAIL, "the circuit has no equipment grounding conductor")
    elif circuit.device is None and circuit.circuit.system is System.STORAGE:
        needs = circuit.currents.needs or (f"circuit.{circuit.tag}.breaker",)
        yield not_checked(sized.book, "egc", circuit.tag, "the grounding conductor has no device to go by", needs)


def _raceway(sized: Sized, circuit: SizedCircuit) -> Check:
    plastic = [section.section for section in circuit.sections if section.method not in METAL_RACEWAYS]
    if plastic:
        message = f"the raceway cannot serve as grounding conductor in {', '.join(plastic)}"
        return remark(sized.book, "egc", circuit.tag, Level.FAIL, message)
    return remark(sized.book, "egc", circuit.tag, Level.PASS, "the metal raceway serves as grounding conductor")


def _rule_of(circuit: SizedCircuit, egc: Egc) -> str:
    if egc.kind == "supply-side bonding jumper":
        return "ssbj"
    if circuit.circuit.system is System.PV:
        return "pv_egc"
    return "egc_upsize" if egc.area_cmil is not None else "egc"


def _wire(sized: Sized, circuit: SizedCircuit, egc: Egc) -> Check:
    book, rule = sized.book, _rule_of(circuit, egc)
    installed, needed = book.area_cmil(egc.size), book.area_cmil(egc.needed_size)
    by = f"table size {egc.base_size} {egc.material} by {value_of(egc.by_device_a):g} A"
    if egc.kind == "supply-side bonding jumper":
        by = f"{egc.base_size} {egc.material} by the ungrounded conductors"
    if size_index(egc.needed_size) < size_index(egc.base_size):
        by += ", not larger than the circuit's own conductors"
    if egc.area_cmil is not None:
        by += f", raised in proportion from the smallest sufficient {circuit.smallest} to {circuit.conductor.size}: {egc.needed_size}"
    named = "grounding conductor" if egc.kind == "wire" else egc.kind
    return limit_check(
        book,
        rule,
        circuit.tag,
        installed,
        needed,
        "cmil",
        f"{named} {egc.size} {egc.material}: {by}",
        f"{named} {egc.size} {egc.material} is too small: {by}",
        Sense.AT_LEAST,
        terms=() if egc.area_cmil is None else (egc.area_cmil,),
    )


def shared_conductors(sized: Sized) -> Iterator[Check]:
    """One grounding conductor for several circuits of a raceway is the largest that any of them requires.

    References
    ----------
    ``shared_egc``: 250.122(C).
    """
    for shared in sized.grounding.shared:
        if shared.given_size is None:
            continue
        book, names = sized.book, ", ".join(shared.circuits)
        text = f"one grounding conductor {shared.given_size} {shared.material} for {names}; {shared.by_circuit} asks for {shared.needed_size}"
        yield limit_check(
            book,
            "shared_egc",
            shared.section,
            book.area_cmil(shared.given_size),
            book.area_cmil(shared.needed_size),
            "cmil",
            text,
            f"{text}: too small",
            Sense.AT_LEAST,
        )


@dataclass(frozen=True, slots=True)
class Bonds:
    """Where the neutral is bonded, where it must be, and what is not known."""

    disconnects: tuple[str, ...]
    bonded: tuple[str, ...]
    unknown: tuple[str, ...]


def _bonds(sized: Sized) -> Bonds:
    disconnects = service_disconnects(sized.network)
    bonded, unknown = [], []
    for node in sized.network.of_kind(Kind.PANEL, Kind.ISOLATION, Kind.DISCONNECT, Kind.TRANSFER):
        if node.tag not in sized.network.parent:
            continue
        if node.item.neutral_bond is None and _has_neutral_bus(node):
            unknown.append(f"{node.kind.name.lower()}.{node.tag}.neutral_bond")
        elif node.item.neutral_bond:
            bonded.append(node.tag)
    return Bonds(disconnects, tuple(bonded), tuple(unknown))


def _has_neutral_bus(node: Node) -> bool:
    return node.kind is not Kind.DISCONNECT or bool(node.item.service_disconnect)


def neutral_bonds(sized: Sized) -> Iterator[Check]:
    """Each service disconnect has its neutral bond, and nothing downstream of one has another.

    References
    ----------
    ``service_grounding``: 250.24; ``neutral_for_grounding``: 250.142; ``supply_side_grounding``: 250.25.
    """
    if sized.network.is_standalone():
        return
    bonds = _bonds(sized)
    for tag in bonds.disconnects:
        yield from _service_bond(sized, tag, bonds)
    downstream = {tag for disconnect in bonds.disconnects for tag in sized.network.below(disconnect)} - set(bonds.disconnects)
    for tag in bonds.bonded:
        if tag in downstream:
            message = f"the neutral is bonded in {tag}, downstream of the service disconnect {', '.join(bonds.disconnects)}"
            yield remark(sized.book, "neutral_for_grounding", tag, Level.FAIL, message)
    for need in bonds.unknown:
        tag = need.split(".")[1]
        if tag not in bonds.disconnects:
            yield not_checked(sized.book, "neutral_for_grounding", tag, "whether the neutral is bonded here is not given", (need,))


def _service_bond(sized: Sized, tag: str, bonds: Bonds) -> Iterator[Check]:
    node = sized.network.nodes[tag]
    stated = getattr(node.item, "neutral_bond", None)
    if stated is None:
        needs = (f"{node.kind.name.lower()}.{tag}.neutral_bond",)
        yield not_checked(sized.book, "service_grounding", tag, "whether the service disconnect bonds the neutral is not given", needs)
        return
    if stated:
        also = ", and at the meter, on the line side" if sized.network.project.service.neutral_bond else ""
        yield remark(sized.book, "service_grounding", tag, Level.PASS, f"the neutral of the service is bonded here{also}")
        return
    source_only = node.kind is Kind.DISCONNECT
    rule = "supply_side_grounding" if source_only else "service_grounding"
    level = Level.WARN if source_only and not sized.book.wording.supply_side_bond_required else Level.FAIL
    yield remark(sized.book, rule, tag, level, "the service disconnect does not bond the neutral")


def source_bonds(sized: Sized) -> Iterator[Check]:
    """Bonds in island mode: none at the units where the neutral is not switched, exactly one where it is.

    References
    ----------
    ``separately_derived``: 250.30; ``neutral_for_grounding``: 250.142.
    """
    if sized.network.is_standalone():
        return
    if sized.network.island is None:
        yield from _never_islanded(sized)
        return
    isolation = sized.network.nodes[sized.network.island]
    switching = isolation.data if isolation.kind is Kind.UNIT else isolation.item
    if switching.switches_neutral is None:
        needs = (f"equipment.{isolation.item.equipment}.switches_neutral" if isolation.kind is Kind.UNIT else f"isolation.{isolation.tag}.switches_neutral",)
        yield not_checked(sized.book, "separately_derived", isolation.tag, "whether the neutral is switched is not given", needs)
        return
    inside = set(sized.network.below(isolation.tag))
    units = [node for node in sized.network.of_kind(Kind.UNIT) if isinstance(node.data, UnitData) and node.tag in inside]
    missing = tuple(f"equipment.{node.item.equipment}.neutral_bond" for node in units if node.data.neutral_bond is None)
    if missing:
        yield not_checked(sized.book, "separately_derived", isolation.tag, "whether a unit bonds the neutral is not given", tuple(dict.fromkeys(missing)))
        return
    bonding = [node for node in units if node.data.neutral_bond != "none"]
    judge = _switched if switching.switches_neutral else _not_switched
    yield judge(sized, isolation, bonding)


def _never_islanded(sized: Sized) -> Iterator[Check]:
    """Without an isolation device a unit that always bonds the neutral makes a second bond."""
    for node in sized.network.of_kind(Kind.UNIT):
        if isinstance(node.data, UnitData) and node.data.neutral_bond == "always":
            message = f"{node.tag} bonds the neutral in every mode: a second bond beside that of the service"
            yield remark(sized.book, "neutral_for_grounding", node.tag, Level.FAIL, message)


def _not_switched(sized: Sized, isolation: Node, bonding: list[Node]) -> Check:
    if bonding:
        names = ", ".join(node.tag for node in bonding)
        message = f"the neutral is not switched, so the system is not separately derived, yet {names} bonds it"
        return remark(sized.book, "neutral_for_grounding", bonding[0].tag, Level.FAIL, message)
    message = "the neutral is not switched: not separately derived, no bond at the units; in an outage it rests on the bond of the service"
    return remark(sized.book, "separately_derived", isolation.tag, Level.PASS, message)


def _switched(sized: Sized, isolation: Node, bonding: list[Node]) -> Check:
    always = [node.tag for node in bonding if node.data.neutral_bond == "always"]
    if always:
        message = f"{', '.join(always)} bonds the neutral in every mode: a second bond while the utility is present"
        return remark(sized.book, "neutral_for_grounding", always[0], Level.FAIL, message)
    inside = set(sized.network.below(isolation.tag)) - {isolation.tag}
    elsewhere = [tag for tag in _bonds(sized).bonded if tag in inside]
    level = Level.PASS if len(bonding) == 1 and not elsewhere else Level.FAIL
    message = (
        f"the neutral is switched: separately derived in island mode, with {len(bonding)} bond at the source"
        f"{' and one in ' + ', '.join(elsewhere) if elsewhere else ''} (exactly one is needed, at the source, and an electrode)"
    )
    return remark(sized.book, "separately_derived", isolation.tag, level, message)
