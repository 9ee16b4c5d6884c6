"""Storage modules added later: what must be done now, and what would have to be done again if it is not."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.options.build import Built, build
from linecalc.options.candidates import spread
from linecalc.options.context import Context
from linecalc.options.differences import circuit_changes, device_text, raceway_changes
from linecalc.options.records import Box, Candidate, Layout
from linecalc.options.rows import UNIT

MOUNTING, SPACE, CONDUCTOR, BREAKER, RACEWAY, HARNESS, LOCATION = "mounting", "wall or floor", "conductor", "breaker", "raceway", "harness", "location"
NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Point:
    """One subject: what is to be done now, and what has to be done again later if it is not."""

    subject: str
    now: str
    otherwise: str


@dataclass(frozen=True, slots=True)
class Growth:
    """A candidate now and with more storage modules.

    ``blocked`` says why it cannot grow, ``possible`` how many modules can be added at all, at most those asked for.
    """

    now: Candidate
    later: Candidate
    points: tuple[Point, ...]
    blocked: tuple[str, ...]
    possible: int

    @property
    def added(self) -> int:
        """Storage modules that are asked to be added."""
        return self.later.storage_modules - self.now.storage_modules


def growth(context: Context, candidate: Candidate, more: int) -> Growth:
    """Compare a candidate with itself and ``more`` storage modules, through the same study."""
    before = build(context, candidate)
    after = build(context, _grown(candidate, more))
    blocked = _new_reasons(before, after)
    possible = more if not blocked else next((fewer for fewer in range(more - 1, 0, -1) if not _new_reasons(before, build(context, _grown(candidate, fewer)))), 0)
    planned = after
    if blocked and possible:
        after = build(context, _grown(candidate, possible))
    points = () if after.electrical is None else (*_places(context, before, after), *_circuits(before, after), _raceway(before, after), *_harness(before, after), *_location(before, after))
    return Growth(candidate, planned.candidate, points, blocked, possible)


def _grown(candidate: Candidate, more: int) -> Candidate:
    return replace(candidate, modules=spread(candidate.storage_modules + more, candidate.units))


def _new_reasons(before: Built, after: Built) -> tuple[str, ...]:
    return tuple(reason.text for reason in after.reasons if reason not in before.reasons)


def _places(context: Context, before: Built, after: Built) -> list[Point]:
    """Mounting and room."""
    if not context.options.place:
        text = "keep room free beside each unit and mount for the modules too: no wall or floor is given, so neither was checked"
        return [Point(f"{MOUNTING}, {SPACE}", text, "perhaps the units are moved")]
    if before.layout is None or after.layout is None or not after.layout.boxes:
        return [Point(f"{MOUNTING}, {SPACE}", "not known: the modules found no place, or sizes are missing", "perhaps the units are moved")]
    return [_mounting(before.layout, after.layout), _space(before.layout, after.layout)]


def _mounting(before: Layout, after: Layout) -> Point:
    now, then = ({box.tag: box.mounting for box in layout.boxes} for layout in (before, after))
    moved = [tag for tag in now if now[tag] != then.get(tag)]
    if moved:
        verb = "stand on the floor" if then[moved[0]] == "floor" else "hang on the wall"
        return Point(MOUNTING, f"let {', '.join(moved)} {verb} now: with the modules nothing else fits", f"{', '.join(moved)} taken down and mounted anew, with their circuits")
    new = [tag for tag in then if tag not in now]
    if "floor" in {then[tag] for tag in new}:
        return Point(MOUNTING, f"keep the floor mounting: {', '.join(new)} stand on the floor too", NOTHING)
    return Point(MOUNTING, f"prepare the wall for {', '.join(new)} too: each hangs by itself", "backing for the modules is added to a finished wall")


def _space(before: Layout, after: Layout) -> Point:
    """Room for the modules, and where the units must stand now."""
    now = {box.tag: box for box in before.boxes}
    places = [_stands(box) for box in after.boxes if box.kind == UNIT]
    moved = [box.tag for box in after.boxes if box.tag in now and (now[box.tag].place, round(now[box.tag].left_in, 3)) != (box.place, round(box.left_in, 3))]
    kept = [f"{_stands(box)} for {box.tag}" for box in after.boxes if box.tag not in now]
    text = f"place {', '.join(f'{tag} at {place}' for tag, place in zip(_units(after), places, strict=True))}; keep free: {', '.join(kept)}"
    extra = after.taken_in - before.taken_in
    again = f"{', '.join(moved)} moved, with circuits" if moved else "nothing, if the room is still free"
    return Point(SPACE, f"{text} ({extra:.0f} in more than now)", again)


def _units(layout: Layout) -> list[str]:
    return [box.tag for box in layout.boxes if box.kind == UNIT]


def _stands(box: Box) -> str:
    up = f", {box.bottom_in:.0f} in up" if box.bottom_in > 0.0 else ""
    return f"{box.left_in:.0f} to {box.left_in + box.width_in:.0f} in on {box.place}{up}"


def _circuits(before: Built, after: Built) -> list[Point]:
    """Conductors and breakers."""
    added, changed = circuit_changes(before.electrical, after.electrical)
    conductors = [f"{now.tag}: {then.conductor} instead of {now.conductor}" for now, then in changed if now.conductor != then.conductor]
    breakers = [f"{now.tag}: {device_text(then.device_a)} instead of {device_text(now.device_a)}" for now, then in changed if now.device_a != then.device_a]
    later = [f"{found.tag}, {found.ends}: {found.conductor}" for found in added]
    spaces = [f"{found.tag}: a space for {device_text(found.device_a)}" for found in added if found.device_a is not None]
    return [
        Point(CONDUCTOR, "; ".join([*(f"pull {text}" for text in conductors), *(f"leave the way for {text}" for text in later)]) or NOTHING, _again(conductors, "pulled out and replaced", later, "pulled later")),
        Point(BREAKER, "; ".join([*breakers, *spaces]) or NOTHING, _again(breakers, "replaced", spaces, "found later, or a panel is replaced")),
    ]


def _again(replaced: list[str], how: str, later: list[str], then: str) -> str:
    parts = [f"{', '.join(text.split(':')[0] for text in replaced)} {how}"] if replaced else []
    parts += [f"{', '.join(text.split(',')[0].split(':')[0] for text in later)} {then}"] if later else []
    return "; ".join(parts) or NOTHING


def _raceway(before: Built, after: Built) -> Point:
    changes = raceway_changes(before.electrical, after.electrical)
    text = "; ".join(f"{section}: {then} {method}" + (f" instead of {now}" if now else ", for later") for section, method, now, then in changes)
    again = f"{', '.join(section for section, _, now, _ in changes if now)} taken out and replaced" if any(now for _, _, now, _ in changes) else "the raceway is built later" if changes else NOTHING
    return Point(RACEWAY, text or NOTHING, again)


def _harness(before: Built, after: Built) -> list[Point]:
    if after.layout is None or not after.layout.ways_ft:
        return []
    known = dict(before.layout.ways_ft) if before.layout is not None else {}
    fresh = [(tag, way) for tag, way in after.layout.ways_ft if tag not in known]
    parts = [part.item for part in after.bill.parts if part.order_with is not None and part.count > sum(other.count for other in before.bill.parts if other.item == part.item)]
    ways = ", ".join(f"{way:.1f} ft to {tag}" for tag, way in fresh)
    text = f"note the ways: {ways}" + (f"; with the modules order {', '.join(parts)}" if parts else "")
    return [Point(HARNESS, text, "nothing, while it is still sold")]


def _location(before: Built, after: Built) -> list[Point]:
    """Nominal energy in the place against the adopted codes."""
    if before.plant is None or after.plant is None or after.electrical is None:
        return []
    grows = f"nominal energy grows from {before.plant.nominal_kwh:.1f} to {after.plant.nominal_kwh:.1f} kWh"
    limits = after.electrical.places
    if not limits:
        return [Point(LOCATION, f"{grows}; state the adopted fire or residential code and the space: its limit is not known", "perhaps another place for the modules")]
    worst = max(limits, key=lambda found: found.energy_kwh / found.limit_kwh)
    if worst.within:
        return [Point(LOCATION, f"{grows}; {worst.energy_kwh:.1f} of {worst.limit_kwh:g} kWh in this place", NOTHING)]
    return [Point(LOCATION, f"{grows}, above {worst.limit_kwh:g} kWh: choose another place for some of it now ({worst.message})", "modules stand elsewhere, beyond the harness, or not at all")]
