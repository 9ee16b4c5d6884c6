"""Where source breakers stand on a bus, and buses of a larger rating."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.advice.records import Candidate, Setting
from linecalc.check import Check
from linecalc.project.wording import dotted
from linecalc.study import Study

BUS_RATINGS_A = (100, 125, 150, 200, 225, 300, 400)


def opposite_end(study: Study, check: Check) -> Iterator[Candidate]:
    """Every source breaker of a bus at the end opposite the supply, where the bus is fed at one end."""
    panel = study.project.panel.get(check.subject)
    if panel is None or panel.feed not in ("top", "bottom"):
        return
    sources = set(study.currents.sources)
    carrying = [step for step in study.network.children.get(check.subject, ()) if set(study.network.below(step.down)) & sources]
    moved = [step for step in carrying if step.item.bus_position != "opposite end"]
    if moved:
        settings = tuple(Setting(dotted(("circuit", step.tag, "bus_position")), "opposite end") for step in moved)
        names = ", ".join(step.tag for step in moved)
        yield Candidate(settings, f"land {names} at the end of the bus of {check.subject} opposite its supply")


def larger_bus(study: Study, check: Check) -> Iterator[Candidate]:
    """A panel with the next larger bus rating in use."""
    panel = study.project.panel.get(check.subject)
    if panel is None:
        return
    for rating in BUS_RATINGS_A:
        if rating > panel.bus.value:
            text = f"a panel with a {rating} A bus for {check.subject} (now {panel.bus.value:g} A)"
            yield Candidate((Setting(dotted(("panel", check.subject, "bus")), f"{rating} A"),), text)
