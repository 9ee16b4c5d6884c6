"""Grounding conductors, neutral bonds and neutrals as the rules need them."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.advice.records import Candidate, Setting
from linecalc.advice.ways_conductors import sized_circuit
from linecalc.check import Check
from linecalc.codebook.sizes import SIZES, size_index
from linecalc.project.fields import ConductorText
from linecalc.project.wording import dotted
from linecalc.study import Study

STEPS = 8
BONDABLE = ("panel", "isolation", "disconnect")


def needed_grounding_conductor(study: Study, check: Check) -> Iterator[Candidate]:
    """The grounding conductor of the size that the circuit needs."""
    circuit = sized_circuit(study, check.subject)
    if circuit is None:
        return
    path = dotted(("circuit", circuit.tag, "egc"))
    if circuit.egc is None:
        material = circuit.conductor.material
        for size in SIZES[:STEPS]:
            yield Candidate((Setting(path, f"{size} {material}"),), f"a grounding conductor of {size} {material} in {circuit.tag} (now none)")
        return
    now = "the raceway" if circuit.egc.kind == "raceway" else f"{circuit.egc.size} {circuit.egc.material}"
    written = f"{circuit.egc.needed_size} {circuit.egc.material}"
    yield Candidate((Setting(path, written),), f"{written} as {_kind(circuit.egc.kind)} of {circuit.tag} (now {now})")


def _kind(kind: str) -> str:
    return kind if kind == "supply-side bonding jumper" else "grounding conductor"


def bond_removed(study: Study, check: Check) -> Iterator[Candidate]:
    """No neutral bond in a thing that states one."""
    yield from _bond(study, check.subject, False, "remove the neutral bond in")


def bond_made(study: Study, check: Check) -> Iterator[Candidate]:
    """A neutral bond in the service disconnect."""
    yield from _bond(study, check.subject, True, "bond the neutral in")


def _bond(study: Study, tag: str, value: bool, verb: str) -> Iterator[Candidate]:
    for table in BONDABLE:
        item = getattr(study.project, table).get(tag)
        if item is not None and item.neutral_bond is not value:
            yield Candidate((Setting(dotted((table, tag, "neutral_bond")), value),), f"{verb} {tag}")


def larger_neutral(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger neutrals of a circuit, or one where there is none."""
    circuit = sized_circuit(study, check.subject)
    if circuit is None:
        return
    path = dotted(("circuit", circuit.tag, "neutral"))
    now = circuit.neutral
    above = 0 if now is None else size_index(now.size) + 1
    for size in SIZES[above : size_index(circuit.conductor.size) + 1]:
        written = f"{size} {circuit.conductor.material} {circuit.conductor.insulation}"
        yield Candidate((Setting(path, written),), f"neutral {written} in {circuit.tag} (now {'none' if now is None else now.size})")


def electrode_conductor_moved(study: Study, check: Check) -> Iterator[Candidate]:
    """The electrode conductor of an old main panel moved to the new service disconnect."""
    if check.subject in study.project.panel:
        text = f"move the electrode conductor and the bonds to piping from {check.subject} to the service disconnect"
        yield Candidate((Setting(dotted(("panel", check.subject, "electrode_conductor_moved")), True),), text)


def separate_grounding_bus(study: Study, check: Check) -> Iterator[Candidate]:
    """A bar of its own for the grounding conductors of an old main panel."""
    if check.subject in study.project.panel:
        yield Candidate((Setting(dotted(("panel", check.subject, "grounding_bus")), "separate"),), f"a grounding bar apart from the neutrals in {check.subject}")


def larger_electrode_conductor(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger sizes of a given electrode conductor."""
    yield from _larger(study, check.subject, "electrode_conductor", "electrode conductor")


def larger_bonding_jumper(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger sizes of a given main or system bonding jumper."""
    yield from _larger(study, check.subject, "bonding_jumper", "bonding jumper")


def _larger(study: Study, tag: str, key: str, words: str) -> Iterator[Candidate]:
    for table in (*BONDABLE, "unit"):
        now = getattr(getattr(study.project, table).get(tag), key, None)
        if isinstance(now, ConductorText):
            for size in SIZES[size_index(now.size) + 1 :][:STEPS]:
                written = f"{size} {now.material or 'Cu'}"
                yield Candidate((Setting(dotted((table, tag, key)), written),), f"{words} {written} at {tag} (now {now.size})")
