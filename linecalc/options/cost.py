"""Bill of materials and cost of a candidate, with the parts that are ordered together."""

from __future__ import annotations

from collections import Counter

from linecalc.options.records import Bill, Candidate, Layout, Part
from linecalc.options.rows import MODULE, UNIT
from linecalc.project.model import Project
from linecalc.project.options_model import Accessory, Options, Price


def bill_of(options: Options, base: Project, project: Project, candidate: Candidate, layout: Layout | None) -> Bill:
    """Parts and cost; equipment without a price is listed as unpriced, and the cost is then unknown.

    Parameters
    ----------
    base : the project that the study starts from, whose options hold the prices; every unit after the first counts as added.
    """
    counted: Counter[str] = Counter(item.equipment for item in project.unit.values() if not item.existing)
    counted.update(item.equipment for item in project.storage.values() if not item.existing)
    for string in project.string.values():
        if string.to in project.unit and not string.existing:
            counted[string.module] += string.count
    parts = [Part(tag, count, _pair(options.price.get(tag)), None, project.equipment[tag].description or "") for tag, count in sorted(counted.items())]
    parts += [part for name, accessory in options.accessory.items() if (part := _accessory(name, accessory, base, project, candidate, layout)) is not None]
    unpriced = tuple(part.item for part in parts if part.price is None)
    if unpriced:
        return Bill(tuple(parts), None, None, unpriced)
    priced = [(part.count, part.price) for part in parts if part.price is not None]
    return Bill(tuple(parts), sum(count * price[0] for count, price in priced), sum(count * price[1] for count, price in priced), ())


def _pair(price: Price | None) -> tuple[float, float] | None:
    if price is None:
        return None
    return price if isinstance(price, tuple) else (price, price)


def _accessory(name: str, found: Accessory, base: Project, project: Project, candidate: Candidate, layout: Layout | None) -> Part | None:
    if found.mounting is not None and found.mounting not in _mountings(project, layout):
        return None
    count = _count(found, base, project, candidate, layout)
    if count == 0:
        return None
    note = found.note or ""
    if found.order_with is not None:
        note = f"order together with {found.order_with}" + (f"; {note}" if note else "")
    return Part(name, count, _pair(found.price), found.order_with, note)


def _mountings(project: Project, layout: Layout | None) -> set[str]:
    if layout is not None and layout.boxes:
        return {box.mounting for box in layout.boxes}
    given = next((item.mounting for item in project.unit.values() if item.mounting), None)
    return {layout.mounting} if layout is not None and layout.mounting else {given} if given else set()


def _count(found: Accessory, base: Project, project: Project, candidate: Candidate, layout: Layout | None) -> int:
    if found.up_to is not None:
        return _harnesses(found, base, project)
    match found.per:
        case "project":
            return 1
        case "unit":
            return _standing(found, layout, UNIT, candidate.units)
        case "added unit":
            return candidate.units - 1
        case "storage module":
            return _standing(found, layout, MODULE, candidate.storage_modules)
        case "stacked module":
            return layout.stacked if layout is not None else 0
        case "pv module":
            return candidate.array.count
    return len(candidate.array.strings)


def _standing(found: Accessory, layout: Layout | None, kind: str, everything: int) -> int:
    """How many boxes of a kind there are, those with the accessory's mounting where it names one."""
    if found.mounting is None or layout is None or not layout.boxes:
        return everything
    return sum(box.kind == kind and box.mounting == found.mounting for box in layout.boxes)


def _harnesses(found: Accessory, base: Project, project: Project) -> int:
    """Storage modules whose way is within this harness and beyond the next shorter one."""
    assert found.up_to is not None
    options = base.options or Options()
    lengths = sorted(other.up_to.value for other in options.accessory.values() if other.up_to is not None)
    shorter = max((length for length in lengths if length < found.up_to.value), default=-1.0)
    ways = [item.distance.value for item in project.storage.values() if item.distance is not None]
    return sum(shorter < way <= found.up_to.value for way in ways)
