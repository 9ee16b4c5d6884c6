"""The legend of the symbols used, and how existing and new are told apart."""

from __future__ import annotations

from linecalc.diagram.fonts import LINE_PITCH, ascent_in, wrap
from linecalc.diagram.scene import Box, Group, Item, Outline, Symbol, Text, Wire
from linecalc.diagram.symbols import BUS_IN, BUS_KINDS, shape

NAMES = {
    "utility": "utility supply",
    "meter": "meter",
    "disconnect": "disconnect",
    "fused disconnect": "fused disconnect",
    "breaker enclosure": "enclosed breaker",
    "breaker": "circuit breaker",
    "fuse": "fuse",
    "isolation device": "isolation device",
    "transfer switch": "transfer switch",
    "inverter": "inverter",
    "converter": "PV input, DC-DC",
    "battery": "battery of unit",
    "storage module": "storage module",
    "pv string": "PV string",
    "pv string, converters": "PV string with converters",
    "pv string, shutdown": "PV string with shutdown devices",
    "combiner": "combiner",
    "junction": "junction box",
    "tap box": "tap in a box",
    "connection": "wires joined",
    "load": "load",
    "motor": "motor",
    "ev equipment": "EV equipment",
    "generator": "generator",
    "rapid shutdown": "rapid shutdown switch",
    "surge protection": "surge protection",
    "neutral bond": "neutral bond",
    "neutral bond below": "neutral bond",
    "equipment ground": "equipment ground",
    "electrode": "electrode system",
    "bus": "panel bus",
    "dc bus": "internal DC bus",
    "run tag": "conductor run",
    "existing": "(E) existing",
    "new": "(N) new",
    "boundary": "backed-up part",
    "reference": "matched reference",
}
_ORDER = tuple(NAMES)
#: Width of a column, in inches.
_PITCH = 1.25
#: Larger symbols are reduced to this size in the legend, in inches.
_HEIGHT_MAX, _WIDTH_MAX = 0.28, 0.45
_SAMPLE_TAGS = {"run tag": "C1", "reference": "A"}


def legend_group(kinds: tuple[str, ...], width: float, heading_in: float, cap_in: float) -> Group:
    """The symbols of these kinds in columns, each with its name; as many columns as find room.

    ``run tag``, ``existing``, ``new`` and ``boundary`` are drawn as samples.
    """
    ordered = sorted(dict.fromkeys(kinds), key=_ORDER.index)
    items: list[Item] = [Text(0, ascent_in(heading_in), ("LEGEND",), heading_in, role="heading")]
    count = max(1, int(width // _PITCH))
    cells = [max(_size(kind)[0] for kind in ordered[column::count]) for column in range(min(count, len(ordered)))]
    y = heading_in * LINE_PITCH + 0.05
    for start in range(0, len(ordered), count):
        row = ordered[start : start + count]
        texts = [wrap(NAMES[kind], width / count - cell - 0.18, cap_in) for kind, cell in zip(row, cells)]
        height = max(_row_height(kind, lines, cap_in) for kind, lines in zip(row, texts))
        for column, (kind, lines) in enumerate(zip(row, texts)):
            items.extend(_entry(kind, lines, column * width / count, y, cells[column], height, cap_in))
        y += height
    return Group(width, y, tuple(items))


def _row_height(kind: str, lines: tuple[str, ...], cap_in: float) -> float:
    return max(_size(kind)[1], len(lines) * cap_in * LINE_PITCH) + 0.04


def _size(kind: str) -> tuple[float, float]:
    if kind in BUS_KINDS:
        return BUS_IN, 0.22
    if kind == "run tag":
        return 0.32, 0.2
    if kind in ("existing", "new"):
        return 0.45, 0.1
    if kind == "boundary":
        return 0.45, 0.2
    if kind == "reference":
        return 0.375, 0.2
    found = shape(kind)
    factor = min(1.0, _HEIGHT_MAX / found.height, _WIDTH_MAX / found.width)
    return found.width * factor, found.height * factor


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
    if kind in ("run tag", "reference"):
        tag = Text(x + 0.16, middle + cap_in / 2, (_SAMPLE_TAGS[kind],), cap_in, "middle", "legend", "tag")
        return [Outline(kind, box, "legend"), tag]
    if kind in ("existing", "new"):
        return [Wire(((x, middle), (x + width, middle)), "legend", kind == "existing", "sample")]
    if kind == "boundary":
        return [Outline("boundary", box)]
    return [Symbol(kind, box)]
