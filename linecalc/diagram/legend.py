"""The legend of the symbols used, and how existing and new are told apart."""

from __future__ import annotations

from linecalc.diagram.fonts import LINE_PITCH, ascent_in, text_width_in, wrap
from linecalc.diagram.scene import Box, Group, Item, Outline, Symbol, Text, Wire
from linecalc.diagram.symbols import BUS_IN, BUS_KINDS, place, shape

NAMES = {
    "utility": "utility supply",
    "meter": "meter",
    "disconnect": "disconnect switch",
    "fused disconnect": "fused disconnect switch",
    "breaker enclosure": "circuit breaker in enclosure",
    "breaker": "circuit breaker",
    "fuse": "fuse",
    "isolation device": "isolation device (MID)",
    "transfer switch": "transfer switch",
    "inverter": "inverter",
    "converter": "DC converter of a PV input",
    "battery": "battery in unit",
    "storage module": "storage module",
    "pv string": "PV modules in series",
    "combiner": "combiner",
    "junction": "junction box",
    "connection": "wires joined",
    "load": "load",
    "motor": "motor",
    "ev equipment": "EV supply equipment",
    "generator": "generator",
    "rapid shutdown": "rapid shutdown",
    "surge protection": "surge protective device",
    "neutral bond": "neutral-ground bond",
    "equipment ground": "equipment ground",
    "electrode": "grounding electrode",
    "bus": "panel bus",
    "dc bus": "internal DC bus",
    "run tag": "conductor run, see schedule",
    "existing": "(E) existing: thin, dashed",
    "new": "(N) new: heavy, solid",
    "boundary": "border of backed-up part",
}
_ORDER = tuple(NAMES)


def legend_group(kinds: tuple[str, ...], width: float, heading_in: float, cap_in: float) -> Group:
    """The symbols of these kinds in columns, each with its name; as many columns as find room.

    ``run tag``, ``existing``, ``new`` and ``boundary`` are drawn as samples.
    """
    ordered = sorted(dict.fromkeys(kinds), key=lambda kind: (-_size(kind)[1], _ORDER.index(kind)))
    items: list[Item] = [Text(0, ascent_in(heading_in), ("LEGEND",), heading_in, role="heading")]
    count = max(1, int(width // 1.5))
    cells = [max(_size(kind)[0] for kind in ordered[column::count]) for column in range(min(count, len(ordered)))]
    y = heading_in * LINE_PITCH + 0.05
    for start in range(0, len(ordered), count):
        row = ordered[start : start + count]
        texts = [wrap(NAMES[kind], width / count - cell - 0.2, cap_in) for kind, cell in zip(row, cells)]
        height = max(_row_height(kind, lines, cap_in) for kind, lines in zip(row, texts))
        for column, (kind, lines) in enumerate(zip(row, texts)):
            items.extend(_entry(kind, lines, column * width / count, y, cells[column], height, cap_in))
        y += height
    return Group(width, y, tuple(items))


def _row_height(kind: str, lines: tuple[str, ...], cap_in: float) -> float:
    return max(_size(kind)[1], len(lines) * cap_in * LINE_PITCH) + 0.05


def _size(kind: str) -> tuple[float, float]:
    if kind in BUS_KINDS:
        return BUS_IN, 0.25
    if kind == "run tag":
        return 0.3, 0.25
    if kind in ("existing", "new"):
        return 0.5, 0.1
    if kind == "boundary":
        return 0.5, 0.2
    return shape(kind).width, shape(kind).height


def _entry(
    kind: str, lines: tuple[str, ...], x: float, y: float, cell: float, height: float, cap_in: float
) -> list[Item]:
    """One symbol with its name, both on the middle of a row of this height."""
    symbol_width, symbol_height = _size(kind)
    left = x + (cell - symbol_width) / 2
    top = y + (height - symbol_height) / 2
    baseline = y + (height - len(lines) * cap_in * LINE_PITCH) / 2 + ascent_in(cap_in)
    text = Text(x + cell + 0.1, baseline, lines, cap_in, role="note")
    return [*_sample(kind, left, top, symbol_width, symbol_height, cap_in), text]


def _sample(kind: str, x: float, y: float, width: float, height: float, cap_in: float) -> list[Item]:
    box = Box(x, y, x + width, y + height)
    middle = y + height / 2
    if kind in BUS_KINDS:
        return [Symbol("dc bus", box)]
    if kind == "run tag":
        name = "C1" if text_width_in("C1", cap_in) < width else ""
        tag = Text(x + width / 2, middle + cap_in / 2, (name,), cap_in, "middle", "legend", "tag")
        return [Outline("run tag", box, "legend"), tag]
    if kind in ("existing", "new"):
        return [Wire(((x, middle), (x + width, middle)), "legend", kind == "existing", "sample")]
    if kind == "boundary":
        return [Outline("boundary", box)]
    return [place(kind, x, y)]
