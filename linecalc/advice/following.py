"""Given sizes that must follow a change: conductor, raceway, grounding conductor, neutral.

A size that a change makes too small is freed, chosen by the study, and written
in again, so that a fix says every size that it needs.
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.advice.records import Setting
from linecalc.advice.rerun import Run, family
from linecalc.advice.ways_conductors import sized_circuit
from linecalc.check import Check
from linecalc.project.wording import dotted
from linecalc.study import Study

CONDUCTOR_RULES = ("next_size_up", "small_conductors", "dwelling_83pct", "feeder_connection")
CONDUCTOR_TESTS = (".T1", ".T2")
GROUNDING_RULES = ("egc", "pv_egc")
NEUTRAL_RULES = ("neutral_of_source", "load_neutral", "load_neutral.least")


@dataclass(frozen=True, slots=True)
class GivenSize:
    """The key of a size that is given, and the settings that leave it to the study."""

    path: str
    freed: tuple[Setting, ...]


def given_size(study: Study, check: Check) -> GivenSize | None:
    """The given size that a finding is about; None where it is about something else, or nothing is given."""
    rule, subject = family(check.rule), check.subject
    if rule == "raceway_fill":
        section = study.project.section.get(subject)
        return None if section is None or section.size is None else _freed(dotted(("section", subject, "size")))
    item = study.project.circuit.get(subject)
    if item is None:
        return None
    if (rule in CONDUCTOR_RULES or rule.endswith(CONDUCTOR_TESTS)) and item.conductor is not None:
        return _conductor(study, subject)
    if rule in GROUNDING_RULES and item.egc not in (None, "none", "raceway"):
        return _freed(dotted(("circuit", subject, "egc")))
    if rule in NEUTRAL_RULES and item.neutral not in (None, "none"):
        return _freed(dotted(("circuit", subject, "neutral")))
    return None


def _freed(path: str) -> GivenSize:
    return GivenSize(path, (Setting(path, None),))


def _conductor(study: Study, tag: str) -> GivenSize | None:
    """The conductor of a circuit, freed in its own material and insulation."""
    circuit = sized_circuit(study, tag)
    if circuit is None:
        return None
    path = dotted(("circuit", tag, "conductor"))
    kept = {"material": circuit.conductor.material, "insulation": circuit.conductor.insulation}
    return GivenSize(path, (Setting(path, None), *(Setting(dotted(("circuit", tag, key)), value) for key, value in kept.items())))


def chosen_size(run: Run, path: str) -> tuple[Setting, str] | None:
    """The size that the study chose for a key that was freed, and how it is told."""
    for raceway in run.sized.raceways:
        if path == dotted(("section", raceway.section, "size")) and raceway.size is not None:
            return Setting(path, f"{raceway.size} in"), f"{raceway.method} {raceway.size} in for {raceway.section}"
    for circuit in run.sized.circuits:
        if path == dotted(("circuit", circuit.tag, "conductor")):
            return Setting(path, circuit.conductor.text), f"{circuit.conductor.text} for {circuit.tag}"
        if path == dotted(("circuit", circuit.tag, "egc")) and circuit.egc is not None:
            size = f"{circuit.egc.size} {circuit.egc.material}"
            return Setting(path, size), f"{size} as grounding conductor of {circuit.tag}"
        if path == dotted(("circuit", circuit.tag, "neutral")) and circuit.neutral is not None:
            return Setting(path, circuit.neutral.text), f"neutral {circuit.neutral.size} in {circuit.tag}"
    return None
