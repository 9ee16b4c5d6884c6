"""Look a scene over as a drafter would: what overlaps, what runs through what, what is too small.

Each function returns the faults it finds as sentences, an empty tuple for none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from linecalc.diagram.fonts import CAP_MIN_IN
from linecalc.diagram.scene import Box, Item, Outline, Rule, Scene, Symbol, Text, Wire, item_box

_TAGS = ("run tag", "reference")
_CELL_IN = 1.0
_USED_CELL_IN = 0.5
_TOUCH_IN = 0.002


@dataclass(frozen=True, slots=True)
class _Entry:
    item: Item
    box: Box
    index: int


def overlaps(scene: Scene) -> tuple[str, ...]:
    """Texts, symbols and run tags that share area, things that lie on an outline's edge, outlines that cross.

    A text inside its own run tag, table cell, enclosure or boundary is where it belongs.
    """
    solid = [item for item in scene.items if isinstance(item, (Text, Symbol))]
    solid += [item for item in scene.items if isinstance(item, Outline) and item.kind in _TAGS]
    faults = [
        f"{_name(a.item)} overlaps {_name(b.item)}"
        for a, b in _near_pairs(_entries(solid))
        if a.box.overlaps(b.box) and not _belongs(a.item, b.item)
    ]
    edges = [item for item in scene.items if isinstance(item, (Outline, Rule)) and not _is_tag(item)]
    raster = _raster(_entries(solid))
    for outline in edges:
        for piece in _edges(outline):
            for entry in _near(raster, piece):
                if _enters(piece, entry.box):
                    faults.append(f"{_name(entry.item)} lies on the edge of {_name(outline)}")
    faults += _outlines_across(scene)
    return tuple(dict.fromkeys(faults))


def _outlines_across(scene: Scene) -> list[str]:
    """Enclosures that share area, and outlines of any kind that cross each other."""
    outlines = [item for item in scene.of(Outline) if not _is_tag(item)]
    faults = []
    for a, b in _near_pairs(_entries(outlines)):
        enclosures = a.item.kind == b.item.kind == "enclosure"
        nested = a.box.contains(b.box) or b.box.contains(a.box)
        if a.box.overlaps(b.box) and (enclosures or not nested):
            faults.append(f"{_name(a.item)} overlaps {_name(b.item)}")
    return faults


def wires_through(scene: Scene) -> tuple[str, ...]:
    """Wires that run through a symbol, a text or a run tag; touching an edge is a connection."""
    solid = [item for item in scene.items if isinstance(item, (Text, Symbol)) or _is_tag(item)]
    faults = []
    raster = _raster(_entries(solid))
    for wire in scene.of(Wire):
        for segment in wire.segments():
            for entry in _near(raster, segment):
                if _enters(segment, entry.box):
                    faults.append(f"wire {wire.subject} runs through {_name(entry.item)}")
    return tuple(dict.fromkeys(faults))


def crossings(scene: Scene) -> tuple[str, ...]:
    """Pairs of wires that cross, or lie on each other, anywhere but at an end of one of them."""
    pieces = _pieces(scene)
    faults = []
    for a, b in _near_pairs(pieces):
        if a.item is not b.item and _cross(a.item, a.box, b.item, b.box):
            faults.append(f"wire {a.item.subject} crosses wire {b.item.subject}")
    return tuple(dict.fromkeys(faults))


def loose_ends(scene: Scene) -> tuple[str, ...]:
    """Wire ends that touch neither a symbol, nor a run tag, nor another wire; samples are let be.

    A grounding wire may also end on an enclosure.
    """
    solid = [item for item in scene.items if isinstance(item, Symbol) or _is_tag(item)]
    targets = _raster([*_entries(solid), *_pieces(scene)])
    enclosures = [edge for item in scene.of(Outline) if item.kind == "enclosure" for edge in _edges(item)]
    faults = []
    for wire in scene.of(Wire):
        if wire.role == "sample":
            continue
        for x, y in (wire.points[0], wire.points[-1]):
            point = Box(x, y, x, y)
            others = [entry.box for entry in _near(targets, point.grown(_TOUCH_IN)) if entry.item is not wire]
            grounded = enclosures if wire.role == "ground" else []
            if not any(box.grown(_TOUCH_IN).contains(point) for box in [*others, *grounded]):
                faults.append(f"wire {wire.subject} ends loose at {x}, {y}")
    return tuple(faults)


def outside_frame(scene: Scene) -> tuple[str, ...]:
    """Items that are not wholly inside the frame (or the sheet, where no frame is drawn)."""
    frame = frame_box(scene)
    return tuple(
        f"{_name(item)} is outside the frame"
        for item in scene.items
        if not frame.contains(item_box(item))
    )


def small_text(scene: Scene) -> tuple[str, ...]:
    """Texts under the smallest cap height."""
    return tuple(
        f"{_name(text)} has a cap height of {text.cap_in} in"
        for text in scene.of(Text)
        if text.cap_in < CAP_MIN_IN
    )


def duplicate_buses(scene: Scene) -> tuple[str, ...]:
    """Tags whose bus is drawn more than once."""
    subjects = [item.subject for item in scene.of(Symbol) if item.kind == "bus"]
    return tuple(
        f"the bus of {subject} is drawn {subjects.count(subject)} times"
        for subject in dict.fromkeys(subjects)
        if subjects.count(subject) > 1
    )


def unmatched_references(scenes: tuple[Scene, ...]) -> tuple[str, ...]:
    """References without exactly one partner, or that do not name the sheet on which it stands.

    A partner on the same sheet needs no name of a sheet.
    """
    ends: dict[str, list[tuple[Scene, str]]] = {}
    for scene in scenes:
        for letter, label in _references(scene):
            ends.setdefault(letter, []).append((scene, label))
    faults = []
    for letter, found in ends.items():
        if len(found) != 2:
            faults.append(f"reference {letter} stands at {len(found)} ends")
            continue
        for (here, label), (there, _) in (found, found[::-1]):
            named = label.split("sheet ")[1:]
            if named != ([] if here is there else [there.sheet]):
                faults.append(f"reference {letter} on sheet {here.sheet} says {label!r}, its partner is on {there.sheet}")
    return tuple(faults)


def _references(scene: Scene) -> Iterator[tuple[str, str]]:
    """Letter and text of each reference on a sheet but the sample of the legend."""
    labels = {text.subject: " ".join(text.lines) for text in scene.of(Text) if text.role != "tag"}
    for item in scene.of(Outline):
        if item.kind == "reference" and item.subject.startswith("reference "):
            yield item.subject.removeprefix("reference "), labels.get(item.subject, "")


def diagram_lines(scene: Scene) -> tuple[str, ...]:
    """Every line of text beside the things of the diagram."""
    roles = ("label", "tag line")
    return tuple(line for text in scene.of(Text) if text.role in roles and text.subject for line in text.lines)


def used_ratio(scene: Scene) -> float:
    """Share of the half-inch cells of the frame that hold something besides frame and boundary."""
    frame = frame_box(scene)
    columns = int(frame.width() / _USED_CELL_IN)
    rows = int(frame.height() / _USED_CELL_IN)
    used: set[tuple[int, int]] = set()
    for item in scene.items:
        if isinstance(item, Outline) and item.kind in ("frame", "boundary", "enclosure", "table"):
            continue
        boxes = item.segments() if isinstance(item, Wire) else (item_box(item),)
        for box in boxes:
            used.update(_cells(box.moved(-frame.x0, -frame.y0), _USED_CELL_IN))
    inside = [(i, j) for i, j in used if 0 <= i < columns and 0 <= j < rows]
    return len(inside) / (columns * rows)


def frame_box(scene: Scene) -> Box:
    """The frame of the sheet, else the sheet itself."""
    for item in scene.of(Outline):
        if item.kind == "frame":
            return item.box
    return Box(0, 0, scene.width_in, scene.height_in)


def all_faults(scene: Scene) -> tuple[str, ...]:
    """Every fault of the scene, crossings included."""
    checks = (
        overlaps, wires_through, crossings, loose_ends, outside_frame, small_text, duplicate_buses,
    )
    return tuple(fault for check in checks for fault in check(scene))


def _enters(piece: Box, solid: Box) -> bool:
    """Whether a straight piece of line enters a box, not only touches it."""
    return piece.overlaps(solid, slack=_TOUCH_IN)


def _edges(item: Outline | Rule) -> tuple[Box, ...]:
    box = item_box(item)
    if isinstance(item, Rule):
        return (box,)
    return (
        Box(box.x0, box.y0, box.x1, box.y0),
        Box(box.x0, box.y1, box.x1, box.y1),
        Box(box.x0, box.y0, box.x0, box.y1),
        Box(box.x1, box.y0, box.x1, box.y1),
    )


def _cross(wire: Wire, a: Box, other: Wire, b: Box) -> bool:
    """Whether a piece of one wire meets a piece of another anywhere but at an end of a wire."""
    x0, x1 = max(a.x0, b.x0), min(a.x1, b.x1)
    y0, y1 = max(a.y0, b.y0), min(a.y1, b.y1)
    if x1 < x0 or y1 < y0:
        return False
    if x1 - x0 > _TOUCH_IN or y1 - y0 > _TOUCH_IN:
        return True
    ends = (wire.points[0], wire.points[-1], other.points[0], other.points[-1])
    return all(abs(x0 - x) > _TOUCH_IN or abs(y0 - y) > _TOUCH_IN for x, y in ends)


def _is_tag(item: Item) -> bool:
    return isinstance(item, Outline) and item.kind in _TAGS


def _belongs(a: Item, b: Item) -> bool:
    """Whether one is the run tag of the other."""
    for tag, text in ((a, b), (b, a)):
        if _is_tag(tag) and isinstance(text, Text) and text.role == "tag":
            found = text.box()
            return tag.subject == text.subject and tag.box.contains(found.grown(-min(0.03, found.width() / 2)))
    return False


def _name(item: Item) -> str:
    if isinstance(item, Text):
        return f"text {item.lines[0]!r}"
    if isinstance(item, (Symbol, Outline)):
        return f"{item.kind} {item.subject}".strip()
    if isinstance(item, Wire):
        return f"wire {item.subject}".strip()
    return f"rule at {item.x0}, {item.y0}"


def _entries(items: Iterable[Item]) -> list[_Entry]:
    return [_Entry(item, item_box(item), index) for index, item in enumerate(items)]


def _cells(box: Box, size: float) -> Iterator[tuple[int, int]]:
    for i in range(int(box.x0 // size), int(box.x1 // size) + 1):
        for j in range(int(box.y0 // size), int(box.y1 // size) + 1):
            yield i, j


def _pieces(scene: Scene) -> list[_Entry]:
    """Every straight piece of every wire."""
    found = [(wire, segment) for wire in scene.of(Wire) for segment in wire.segments()]
    return [_Entry(wire, segment, index) for index, (wire, segment) in enumerate(found)]


def _raster(entries: Iterable[_Entry]) -> dict[tuple[int, int], list[_Entry]]:
    """The entries by the cells of a coarse raster in which they lie."""
    raster: dict[tuple[int, int], list[_Entry]] = {}
    for entry in entries:
        for cell in _cells(entry.box, _CELL_IN):
            raster.setdefault(cell, []).append(entry)
    return raster


def _near(raster: dict[tuple[int, int], list[_Entry]], box: Box) -> tuple[_Entry, ...]:
    """Entries that share a cell with a box, each once."""
    found = [entry for cell in _cells(box, _CELL_IN) for entry in raster.get(cell, ())]
    return tuple({id(entry): entry for entry in found}.values())


def _near_pairs(entries: list[_Entry]) -> Iterator[tuple[_Entry, _Entry]]:
    """Pairs of entries that share a cell of a coarse raster, each pair once."""
    seen: set[tuple[int, int]] = set()
    for found in _raster(entries).values():
        for i, a in enumerate(found):
            for b in found[i + 1 :]:
                pair = (a.index, b.index)
                if pair not in seen:
                    seen.add(pair)
                    yield a, b
