"""Larger conductors, or insulation that the place permits."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.advice.records import Candidate, Setting
from linecalc.check import Check
from linecalc.codebook.sizes import SIZES, size_index
from linecalc.project.model import SERVICE
from linecalc.project.wording import dotted
from linecalc.sizing.records import SizedCircuit
from linecalc.study import Study

STEPS = 8
WET_RATED = {"Cu": ("THWN-2", "XHHW-2"), "Al": ("XHHW-2", "THWN-2")}


def sized_circuit(study: Study, tag: str) -> SizedCircuit | None:
    """The circuit of that tag; None where the tag is of something else."""
    return next((circuit for circuit in study.sized.circuits if circuit.tag == tag), None)


def conductor_path(circuit: SizedCircuit) -> str:
    """Where the conductor of a circuit is written."""
    item = circuit.circuit.item
    if item.conductor is None and circuit.circuit.up == SERVICE and not circuit.conductor.selected:
        return "service.conductor"
    return dotted(("circuit", circuit.tag, "conductor"))


def larger_conductor(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger sizes of the circuit's conductor, in its own material and insulation."""
    circuit = sized_circuit(study, check.subject)
    if circuit is None or circuit.conductor.selected:
        return
    yield from _larger(circuit)


def larger_conductor_to(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger sizes of the service conductors that lead to a connection."""
    parent = study.network.parent.get(check.subject)
    circuit = None if parent is None else sized_circuit(study, parent.tag)
    if circuit is not None and not circuit.conductor.selected:
        yield from _larger(circuit)


def _larger(circuit: SizedCircuit) -> Iterator[Candidate]:
    now = circuit.conductor
    above = size_index(now.size) + 1
    verb = "replace the conductors of" if circuit.circuit.item.existing else "raise"
    for size in SIZES[above : above + STEPS]:
        written = f"{size} {now.material} {now.insulation}"
        yield Candidate((Setting(conductor_path(circuit), written),), f"{verb} {circuit.tag} by {written} (now {now.size})".replace("raise " + circuit.tag + " by", "raise " + circuit.tag + " to"))


def insulation_for_wet(study: Study, check: Check) -> Iterator[Candidate]:
    """The same size with an insulation that a wet place permits."""
    circuit = sized_circuit(study, check.subject)
    if circuit is None:
        return
    now = circuit.conductor
    for insulation in WET_RATED[now.material]:
        written = f"{now.size} {now.material} {insulation}"
        yield Candidate((Setting(conductor_path(circuit), written),), f"{insulation} instead of {now.insulation} for {circuit.tag}")
