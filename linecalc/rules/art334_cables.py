"""Cables: Articles 330 (MC), 334 (NM), 338 (SE) and 340 (UF): where they may run, bundling, what they hold.

References
----------
``nm_cable_places`` 334.12, ``se_cable_uses`` 338.10 and 338.12, ``uf_cable_uses`` 340.10,
``mc_cable_uses`` 330.10, ``cable_bundling`` 310.15(C)(1) and 334.80.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import System
from linecalc.project.model import SERVICE
from linecalc.sizing.cables import MC, NM, SE_TYPES, UF, is_cable
from linecalc.sizing.records import Sized, SizedCircuit, Surroundings

UNDERGROUND_WORDS = "underground, buried, trench".split(", ")
_KEYS = {NM: "nm_cable_places", UF: "uf_cable_uses", MC: "mc_cable_uses", **dict.fromkeys(SE_TYPES, "se_cable_uses")}


def places(sized: Sized) -> Iterator[Check]:
    """Each cable runs in a place that its article permits.

    References
    ----------
    ``nm_cable_places``, ``se_cable_uses``, ``uf_cable_uses``, ``mc_cable_uses``.
    """
    for circuit in sized.circuits:
        for section in circuit.sections:
            if is_cable(sized.network.project.section[section.section]):
                yield _place(sized, circuit, section)


def _place(sized: Sized, circuit: SizedCircuit, section: Surroundings) -> Check:
    rule, book, where = _KEYS[section.method], sized.book, f"{section.method} cable in {section.section} ({section.place}, {section.moisture})"
    underground = any(word in section.place.lower() for word in UNDERGROUND_WORDS)
    if section.method == NM and section.moisture != "dry":
        return remark(book, rule, section.section, Level.FAIL, f"{where}: NM-B may not be used in damp or wet places")
    if section.method in SE_TYPES and underground:
        return remark(book, rule, section.section, Level.FAIL, f"{where}: SE cable may not be used underground, in a raceway or not")
    if section.method == MC and section.moisture == "wet":
        stated = sized.network.project.section[section.section].wet_listed
        if stated is None:
            needs = (f"section.{section.section}.wet_listed",)
            return not_checked(book, rule, section.section, f"{where}: whether this MC cable is listed for wet places is not given", needs)
        if not stated:
            return remark(book, rule, section.section, Level.FAIL, f"{where}: this MC cable is not listed for wet places")
    return remark(book, rule, section.section, Level.PASS, f"{where}: a place where it may be used")


def one_circuit(sized: Sized) -> Iterator[Check]:
    """A cable section is one cable and holds one circuit.

    References
    ----------
    ``cable_bundling``: further cables beside it are counted with ``bundled_conductors``.
    """
    for tag, section in sized.network.project.section.items():
        users = [circuit.tag for circuit in sized.circuits if tag in circuit.circuit.sections]
        if is_cable(section) and len(users) > 1:
            message = f"{tag} is one {section.method} cable, but {', '.join(users)} run in it"
            yield not_checked(sized.book, "cable_bundling", tag, message, tuple(f"a section of its own for {user}" for user in users[1:]))


def bundling(sized: Sized) -> Iterator[Check]:
    """Cables that lie together without spacing count all their conductors; the reader is told what was counted.

    References
    ----------
    ``cable_bundling``: 310.15(C)(1), 334.80.
    """
    for circuit in sized.circuits:
        for section in circuit.sections:
            item = sized.network.project.section[section.section]
            if not is_cable(item):
                continue
            if item.bundled_conductors:
                message = f"{section.current_carrying} current-carrying conductors counted, those of the cables beside it included"
                yield remark(sized.book, "cable_bundling", section.section, Level.PASS, message)
                continue
            message = (
                f"{section.section} is counted as a single cable with spacing; with other cables in one bundle, in contact with thermal "
                f"insulation or through one sealed opening, state section.{section.section}.bundled_conductors"
            )
            yield remark(sized.book, "cable_bundling", section.section, Level.NOTE, message)


def bare_neutral(sized: Sized) -> Iterator[Check]:
    """The bare conductor of SEU cable is for grounding; it is no neutral behind the service disconnect.

    References
    ----------
    ``se_cable_uses``: 338.10(B)(2).
    """
    for circuit in sized.circuits:
        seu = [section.section for section in circuit.sections if section.method == "SEU"]
        if not seu or circuit.circuit.system is not System.AC or circuit.neutral is None:
            continue
        if circuit.circuit.up == SERVICE or (circuit.device is not None and circuit.device.load_end):
            message = f"the bare conductor of the SEU cable in {', '.join(seu)} is the grounded service conductor"
            yield remark(sized.book, "se_cable_uses.neutral", circuit.tag, Level.PASS, message)
            continue
        message = f"{circuit.tag} needs a neutral and a grounding conductor, but SEU cable ({', '.join(seu)}) has one bare conductor: take SER"
        yield remark(sized.book, "se_cable_uses.neutral", circuit.tag, Level.FAIL, message)
