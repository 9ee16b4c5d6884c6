"""Raceways and enclosures: trade sizes, partitions, interrupting ratings."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.advice.records import Candidate, Setting
from linecalc.check import Check
from linecalc.project.model import TAGGED
from linecalc.project.wording import dotted
from linecalc.study import Study
from linecalc.units import Quantity

INTERRUPTING_KA = (10, 14, 18, 22, 25, 42, 65)
SWITCH_RATINGS_A = (30, 60, 100, 125, 200, 225, 400)
OUTDOOR = "3R"
METAL = "EMT"
WITH_NEUTRAL = "SER"
WIRE_RATINGS_V = (600, 1000, 2000)


def larger_raceway(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger trade sizes of a raceway."""
    section = study.project.section.get(check.subject)
    if section is None or section.size is None:
        return
    sizes = study.book.raceway_sizes(section.method)
    for size in sizes[sizes.index(section.size) + 1 :]:
        text = f"{section.method} {size} in for {check.subject} (now {section.size} in)"
        yield Candidate((Setting(dotted(("section", check.subject, "size")), f"{size} in"),), text)


def partition(study: Study, check: Check) -> Iterator[Candidate]:
    """A partition between the systems in a raceway."""
    section = study.project.section.get(check.subject)
    if section is not None and not section.partition:
        yield Candidate((Setting(dotted(("section", check.subject, "partition")), True),), f"a partition between the systems in {check.subject}")


def larger_interrupting(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger interrupting ratings of a thing that states one."""
    for table in (*TAGGED, "circuit"):
        item = getattr(study.project, table).get(check.subject)
        now = getattr(item, "interrupting", None)
        if isinstance(now, Quantity):
            for rating in INTERRUPTING_KA:
                if rating * 1000 > now.value:
                    text = f"devices of {rating} kA interrupting rating in {check.subject} (now {now.value / 1000:g} kA)"
                    yield Candidate((Setting(dotted((table, check.subject, "interrupting")), f"{rating} kA"),), text)


def larger_switch(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger ratings of a disconnect, an isolation device or a transfer switch."""
    for table in ("disconnect", "isolation", "transfer"):
        item = getattr(study.project, table).get(check.subject)
        for rating in SWITCH_RATINGS_A if item is not None else ():
            if rating > item.rating.value:
                text = f"a {rating} A rating for {check.subject} (now {item.rating.value:g} A)"
                yield Candidate((Setting(dotted((table, check.subject, "rating")), f"{rating} A"),), text)


def outdoor_enclosure(study: Study, check: Check) -> Iterator[Candidate]:
    """An enclosure for outdoors."""
    for table in TAGGED:
        item = getattr(study.project, table).get(check.subject)
        if item is not None and getattr(item, "enclosure", None) is not None:
            text = f"an enclosure of type {OUTDOOR} for {check.subject} (now type {item.enclosure})"
            yield Candidate((Setting(dotted((table, check.subject, "enclosure")), OUTDOOR),), text)


def metal_raceway(study: Study, check: Check) -> Iterator[Candidate]:
    """Metal raceway in the sections of a PV circuit that are not in metal, their size chosen anew."""
    circuit = study.project.circuit.get(check.subject)
    sections = [tag for tag in circuit.path if study.project.section[tag].method not in ("EMT", "IMC", "RMC", "FMC", "MC")] if circuit else []
    if sections:
        settings = [Setting(dotted(("section", tag, "method")), METAL) for tag in sections]
        settings += [Setting(dotted(("section", tag, "size")), None) for tag in sections if study.project.section[tag].size is not None]
        yield Candidate(tuple(settings), f"{METAL} for {', '.join(sections)}")


def cable_with_neutral(study: Study, check: Check) -> Iterator[Candidate]:
    """SE cable with an insulated neutral and a bare grounding conductor."""
    circuit = study.project.circuit.get(check.subject)
    sections = [tag for tag in circuit.path if study.project.section[tag].method == "SEU"] if circuit else []
    if sections:
        yield Candidate(tuple(Setting(dotted(("section", tag, "method")), WITH_NEUTRAL) for tag in sections), f"SER cable in {', '.join(sections)}")


def higher_insulation_voltage(study: Study, check: Check) -> Iterator[Candidate]:
    """Conductors with insulation for a higher voltage."""
    circuit = study.project.circuit.get(check.subject)
    for volts in WIRE_RATINGS_V if circuit is not None else ():
        stated = circuit.voltage_rating
        if stated is None or volts > stated.value:
            text = f"conductors with insulation rated {volts} V in {check.subject}"
            yield Candidate((Setting(dotted(("circuit", check.subject, "voltage_rating")), f"{volts} V"),), text)
