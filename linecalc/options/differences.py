"""What differs between the electrical studies of two candidates: circuits, raceways, buses; and what each added unit costs there."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.options.context import Context
from linecalc.options.records import BusLoad, CircuitChoice, Electrical, Result
from linecalc.project.options_model import Change


@dataclass(frozen=True, slots=True)
class UnitStep:
    """One unit more on the AC side: ``rows`` as where, before, after."""

    fewer: str
    more: str
    units: int
    rows: tuple[tuple[str, str, str], ...]


def circuit_changes(now: Electrical | None, then: Electrical | None) -> tuple[list[CircuitChoice], list[tuple[CircuitChoice, CircuitChoice]]]:
    """Circuits that are new, and those whose device or conductor changes (before, after)."""
    if now is None or then is None:
        return [], []
    before = {found.tag: found for found in now.circuits}
    added = [found for found in then.circuits if found.tag not in before]
    pairs = [(before[found.tag], found) for found in then.circuits if found.tag in before]
    return added, [(old, new) for old, new in pairs if (old.device_a, old.conductor) != (new.device_a, new.conductor)]


def raceway_changes(now: Electrical | None, then: Electrical | None) -> list[tuple[str, str, str, str]]:
    """Raceways whose size changes or that are new: section, method, size before (empty where new) and after."""
    if now is None or then is None:
        return []
    before = {found.section: _size_text(found.size) for found in now.raceways}
    after = [(found.section, found.method, _size_text(found.size)) for found in then.raceways]
    return [(section, method, before.get(section, ""), size) for section, method, size in after if before.get(section) != size]


def _size_text(size: str | None) -> str:
    return f"{size} in" if size is not None else "no size holds it"


def bus_pairs(now: Electrical | None, then: Electrical | None) -> list[tuple[BusLoad, BusLoad]]:
    """Buses of both studies whose demand, limit or rest differs."""
    if now is None or then is None:
        return []
    before = {found.tag: found for found in now.buses}
    return [(before[found.tag], found) for found in then.buses if found.tag in before and before[found.tag] != found]


def device_text(amps: float | None) -> str:
    """A breaker or fuse in amperes."""
    return f"{amps:g} A" if amps is not None else "no device"


def bus_text(found: BusLoad) -> str:
    """Demand against limit, the method, and what is left for further sources."""
    if found.demand_a is None or found.limit_a is None:
        return "not determined"
    left = f", {found.left_a:.4g} A left for sources" if found.left_a is not None else ""
    return f"{found.demand_a:.6g} of {found.limit_a:.6g} A by {found.method}{left}"


def unit_steps(context: Context, results: tuple[Result, ...], chosen: Result | None) -> tuple[UnitStep, ...]:
    """Each further unit at circuits, feeders, buses and main, compared with equal storage modules and array."""
    array = chosen.candidate.array.name if chosen is not None else None
    studied = [found for found in results if found.electrical is not None and (array is None or found.candidate.array.name == array)]
    steps = []
    for count in sorted({found.candidate.units for found in studied}):
        pairs = [
            (few, many)
            for few in studied
            for many in studied
            if few.candidate.units == count
            and many.candidate.units == count + 1
            and few.candidate.array == many.candidate.array
            and few.candidate.storage_modules == many.candidate.storage_modules
        ]
        if pairs:
            steps.append(_unit_step(context, *min(pairs, key=lambda pair: (pair[0].candidate.storage_modules, pair[0].candidate.name))))
    return tuple(steps)


def _unit_step(context: Context, few: Result, many: Result) -> UnitStep:
    added, changed = circuit_changes(few.electrical, many.electrical)
    rows = [(f"circuit {found.tag}, {found.ends}", "-", f"{device_text(found.device_a)}, {found.conductor}") for found in added]
    rows += [(f"circuit {old.tag}, {old.ends}", f"{device_text(old.device_a)}, {old.conductor}", f"{device_text(new.device_a)}, {new.conductor}") for old, new in changed]
    rows += [(f"raceway {section}, {method}", now or "-", then) for section, method, now, then in raceway_changes(few.electrical, many.electrical)]
    rows += [(f"bus {old.tag}", bus_text(old), bus_text(new)) for old, new in bus_pairs(few.electrical, many.electrical)]
    rows += _changes(context, few, many)
    before = {part.item: part for part in few.bill.parts}
    accessories = context.options.accessory
    for part in many.bill.parts:
        if part.item in accessories and accessories[part.item].per == "added unit":
            price = "no price" if part.price is None else f"{part.price[0]:,.0f} to {part.price[1]:,.0f} {context.options.currency} each"
            rows.append((f"part {part.item}", str(before[part.item].count if part.item in before else 0), f"{part.count} at {price}"))
    fails = many.electrical.fails if many.electrical is not None else ()
    rows += [("fails", "-", reason.text) for reason in fails if few.electrical is None or reason not in few.electrical.fails]
    return UnitStep(few.candidate.name, many.candidate.name, many.candidate.units, tuple(rows))


def _changes(context: Context, few: Result, many: Result) -> list[tuple[str, str, str]]:
    """What the project says changes with the number of units."""
    found = []
    for change in context.options.change:
        if _applies(change, many) and not _applies(change, few):
            found += [(f"{path} (options.change)", "as drawn", str(value)) for path, value in change.set.items()]
            found += [(f"{tag} (options.change)", "as drawn", "taken out") for tag in change.without]
    return found


def _applies(change: Change, result: Result) -> bool:
    units, modules = result.candidate.units, result.candidate.storage_modules
    return (change.units in (None, units)) and units >= (change.units_min or 1) and modules >= (change.modules_min or 0)
