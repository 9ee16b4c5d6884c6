"""Storage modules added later: what must be done now, and what would have to be done again."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.options.answer import count
from linecalc.options.build import Built, build
from linecalc.options.candidates import spread
from linecalc.options.context import Context
from linecalc.options.records import Candidate


@dataclass(frozen=True, slots=True)
class Growth:
    """A candidate now and with more storage modules. ``blocked`` says why it cannot grow."""

    now: Candidate
    later: Candidate
    do_now: tuple[str, ...]
    do_again: tuple[str, ...]
    blocked: tuple[str, ...]


def growth(context: Context, candidate: Candidate, more: int) -> Growth:
    """Compare a candidate with itself and ``more`` storage modules, through the same study."""
    later = replace(candidate, modules=spread(candidate.storage_modules + more, candidate.units))
    before, after = build(context, candidate), build(context, later)
    fresh = [reason.text for reason in after.reasons if reason not in before.reasons]
    do_now, again = _circuits(before, after)
    space_now, space_again = _space(context, before, after, more)
    energy_now = _energy(before, after)
    return Growth(candidate, later, (*do_now, *space_now, *energy_now), (*again, *space_again), tuple(fresh))


def _circuits(before: Built, after: Built) -> tuple[list[str], list[str]]:
    if before.electrical is None or after.electrical is None:
        return [], []
    now = {found.tag: found for found in before.electrical.circuits}
    do_now, again = [], []
    for found in after.electrical.circuits:
        old = now.get(found.tag)
        if old is None:
            do_now.append(f"leave the way and the raceway for circuit {found.tag}, {found.ends}: {found.conductor}")
            again.append(f"circuit {found.tag}, {found.ends}, is pulled later")
        elif (old.device_a, old.conductor) != (found.device_a, found.conductor):
            do_now.append(f"circuit {found.tag}: {_device(found.device_a)}{found.conductor} now, instead of {_device(old.device_a)}{old.conductor}")
            again.append(f"circuit {found.tag}: device and conductors are replaced, its raceway perhaps too")
    if not do_now:
        do_now.append("no circuit, breaker or raceway changes with the storage modules added")
    return do_now, again


def _device(amps: float | None) -> str:
    return f"{amps:g} A, " if amps is not None else ""


def _space(context: Context, before: Built, after: Built, more: int) -> tuple[list[str], list[str]]:
    if after.layout is None or before.layout is None:
        return ["keep floor or wall free beside each unit: no wall or floor is given, so the space was not checked"], []
    extra = after.layout.taken_in - before.layout.taken_in
    do_now = [f"keep {extra:.0f} in of wall or floor free beside the units for {count(more, 'storage module')}; place units now as the layout with all of them shows"]
    again = ["units that stand where the later storage modules belong are moved, with their circuits"]
    if after.layout.mounting != before.layout.mounting:
        do_now.append(f"mount the units on the {after.layout.mounting} now")
        again.append("units are taken down and mounted anew")
    elif after.layout.mounting == "wall":
        do_now.append("the wall carries each box by itself; a floor mount now leaves the wall out of it")
    longest = max((way for _, way in after.layout.ways_ft), default=0.0)
    if longest > max((way for _, way in before.layout.ways_ft), default=0.0):
        do_now.append(f"order the harness for {longest:.1f} ft with the storage modules")
    return do_now, again


def _energy(before: Built, after: Built) -> list[str]:
    if before.plant is None or after.plant is None:
        return []
    return [f"nominal energy in this place grows from {before.plant.nominal_kwh:.1f} to {after.plant.nominal_kwh:.1f} kWh; hold it against the limit of the location now"]
