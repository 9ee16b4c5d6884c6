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
