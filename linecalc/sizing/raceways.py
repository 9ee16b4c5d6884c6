"""Raceway fill: what each raceway holds, and the trade size that is given or chosen.

References
----------
``raceway_fill`` Chapter 9 Table 1 and notes, ``raceway_dimensions`` Table 4,
``conductor_dimensions`` Tables 5 and 8.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from linecalc.calc.compare import at_most
from linecalc.calc.raceway import area_from_diameter, conductor_area, fill_percent, group_area
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.records import Assumption
from linecalc.network.loads import term_of
from linecalc.project.model import RACEWAYS, Section
from linecalc.sizing.cables import AS_CABLE
from linecalc.sizing.records import HeldConductor, SizedCircuit, SizedRaceway
from linecalc.term import Number, given, label, value_of

BARE = "bare"


def size_raceways(network: Network, book: Book, circuits: Sequence[SizedCircuit]) -> tuple[SizedRaceway, ...]:
    """Every raceway of the project with its fill, in the order of power flow."""
    order = dict.fromkeys(tag for circuit in circuits for tag in circuit.circuit.sections)
    found = []
    for tag in order:
        section = network.project.section[tag]
        if section.method in RACEWAYS:
            inside = [circuit for circuit in circuits if tag in circuit.circuit.sections]
            found.append(_raceway(tag, section, book, inside))
    return tuple(found)


def _raceway(tag: str, section: Section, book: Book, inside: Sequence[SizedCircuit]) -> SizedRaceway:
    held = tuple(conductor for circuit in inside for conductor in _held(book, circuit))
    held = _with_shared_ground(book, section, inside, held)
    held += _spares(section, held)
    number = sum(conductor.count for conductor in held)
    limit = book.fill_limit(number, section.length.value)
    needs = tuple(dict.fromkeys(f"circuit.{conductor.circuit}.diameter" for conductor in held if conductor.area_in2 is None))
    needs += tuple(dict.fromkeys(need for circuit in inside if not circuit.determined for need in circuit.needs))
    count = next((found.current_carrying for circuit in inside for found in circuit.sections if found.section == tag), 0)
    if needs:
        return SizedRaceway(tag, section.method, section.size, False, section.length.value, held, count, None, None, None, limit, needs)
    groups = [label(group_area(_count(conductor), conductor.area_in2), f"{tag}.{conductor.circuit}.{conductor.role}", f"A_{conductor.circuit}_{conductor.role}") for conductor in held]
    area = label(conductor_area(groups), f"{tag}.area")
    size, selected = section.size, section.size is None
    if selected:
        size = next((trade for trade in book.raceway_sizes(section.method) if at_most(_fill(book, section, trade, value_of(area)), limit)), None)
    if size is None:
        return SizedRaceway(tag, section.method, None, True, section.length.value, held, count, area, None, None, limit, ())
    internal = book.raceway_area_in2(section.method, size)
    fill = label(fill_percent(area, internal), f"{tag}.fill")
    return SizedRaceway(tag, section.method, size, selected, section.length.value, held, count, area, internal, fill, limit, ())


def _with_shared_ground(
    book: Book, section: Section, inside: Sequence[SizedCircuit], held: tuple[HeldConductor, ...]
) -> tuple[HeldConductor, ...]:
    """One grounding conductor for all circuits, where the section states it, in place of one each.

    References
    ----------
    ``shared_egc``: 250.122(C).
    """
    if section.egc is None or not any(conductor.role == "grounding" for conductor in held):
        return held
    others = tuple(conductor for conductor in held if conductor.role != "grounding")
    owner = next(circuit for circuit in inside if circuit.egc is not None and circuit.egc.kind != "raceway")
    return (*others, _one(book, owner, "grounding", section.egc.size, section.egc.insulation or _egc_insulation(owner), 1))


def _spares(section: Section, held: tuple[HeldConductor, ...]) -> tuple[HeldConductor, ...]:
    """Spare conductors, taken as large as the largest conductor of the raceway."""
    known = [conductor for conductor in held if conductor.area_in2 is not None]
    if not section.spare_conductors or not known:
        return ()
    largest = max(known, key=lambda conductor: value_of(conductor.area_in2))
    return (replace(largest, role="spare", count=section.spare_conductors),)


def spare_sizes(raceways: Sequence[SizedRaceway]) -> list[Assumption]:
    """The size assumed for the spare conductors of each raceway, for its fill."""
    reason = "size of the spare conductors not stated; taken as large as the largest beside them"
    found = []
    for raceway in raceways:
        spares = [held for held in raceway.held if held.role == "spare"]
        found.extend(Assumption(f"section.{raceway.section}.spare_conductors", f"{held.count} x {held.size}", reason) for held in spares)
    return found


def _fill(book: Book, section: Section, trade_size: str, area_in2: float) -> float:
    """The fill of a trade size tried, in plain numbers."""
    return fill_percent(area_in2, value_of(book.raceway_area_in2(section.method, trade_size)))


def _count(conductor: HeldConductor) -> Number:
    return given(float(conductor.count), "", f"n_{conductor.role}", f"circuit.{conductor.circuit}", f"{conductor.role} conductors of {conductor.circuit}")


def _held(book: Book, circuit: SizedCircuit) -> list[HeldConductor]:
    conductor = circuit.conductor
    sets = conductor.parallel
    insulation = conductor.insulation
    if insulation in AS_CABLE:
        return [_one(book, circuit, "cable", conductor.size, insulation, sets)]
    found = [_one(book, circuit, "ungrounded", conductor.size, insulation, circuit.ungrounded * sets)]
    if circuit.neutral is not None:
        found.append(_one(book, circuit, "neutral", circuit.neutral.size, circuit.neutral.insulation, sets))
    if circuit.egc is not None and circuit.egc.kind != "raceway":
        found.append(_one(book, circuit, "grounding", circuit.egc.size, _egc_insulation(circuit), sets))
    return found


def _egc_insulation(circuit: SizedCircuit) -> str:
    written = circuit.circuit.item.egc
    if written is not None and not isinstance(written, str) and written.insulation:
        return written.insulation
    return "THWN-2" if circuit.conductor.insulation.startswith("PV") else circuit.conductor.insulation


def _one(book: Book, circuit: SizedCircuit, role: str, size: str, insulation: str, count: int) -> HeldConductor:
    diameter = circuit.circuit.item.diameter
    if insulation == BARE:
        area: Number | None = book.bare_area_in2(size)
    elif diameter is not None and role in ("ungrounded", "cable"):
        area = area_from_diameter(term_of(diameter, "d", f"circuit.{circuit.tag}.diameter", "outside diameter of the conductor"))
        area = label(area, f"{circuit.tag}.A_wire")
    else:
        area = book.conductor_area_in2(size, insulation)
    return HeldConductor(circuit.tag, role, size, insulation, count, area)
