"""Symbols after IEEE 315 as pure geometry, each on the 1/8 in grid, with its terminals.

A symbol that schemdraw has is taken from there (`linecalc.diagram.stock`); the rest is drawn
here.  Inline symbols have a terminal at the middle of their left and of their right side.

By IEEE 315, from memory: source of alternating current, meter, generator and motor as circles with
a wave or letters, knife switch, fuse as a box on the wire, battery cells, ground and chassis ground,
joined wires as a dot, double-throw switch, the facing arrows of a protective gap.  The breaker as an
arch beside the wire is also described in print (Industrial Monitor Direct, Circuit Breaker vs
Disconnect Symbol on One-Line Diagrams, section ANSI/IEEE).  Boxes with a diagonal for converters and
the module with a corner mark follow the later common set (IEC 60617, from memory).  Own symbols:
isolation device, unit, storage module, combiner, junction and tap box, rapid shutdown switch, module
electronics, neutral bond, load, EV equipment.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from linecalc.diagram.geometry import (
    HEAVY_PT,
    LIGHT_PT,
    Arc,
    Circle,
    Letters,
    Polyline,
    Shape,
    Stroke,
    Terminal,
    line,
    moved,
    rectangle,
    scaled,
)
from linecalc.diagram.scene import Box, Symbol
from linecalc.diagram.stock import stock_strokes

#: Thickness of a bus bar, in inches.
BUS_IN = 0.0625


def _inline(kind: str, width: float, height: float, *strokes: Stroke) -> Shape:
    terminals = (
        Terminal("in", 0.0, height / 2, "left"),
        Terminal("out", width, height / 2, "right"),
    )
    return Shape(kind, width, height, strokes, terminals)


def _shifted(strokes: tuple[Stroke, ...], dx: float, dy: float) -> tuple[Stroke, ...]:
    return tuple(moved(stroke, dx, dy) for stroke in strokes)


def _circle_with(kind: str, letters: str) -> Shape:
    return _inline(kind, 0.5, 0.5, Circle(0.25, 0.25, 0.25), Letters(0.25, 0.25, letters))


def utility() -> Shape:
    """Utility supply: a source of alternating current."""
    wave = tuple(
        (0.25 + dx, 0.25 + dy)
        for dx, dy in (
            (-0.14, 0.0), (-0.12, -0.045), (-0.09, -0.075), (-0.05, -0.075), (-0.02, -0.045),
            (0.0, 0.0), (0.02, 0.045), (0.05, 0.075), (0.09, 0.075), (0.12, 0.045), (0.14, 0.0),
        )
    )
    return _inline("utility", 0.5, 0.5, Circle(0.25, 0.25, 0.25), Polyline(wave))


def meter() -> Shape:
    """Watt-hour meter."""
    return _circle_with("meter", "kWh")


def generator() -> Shape:
    """Rotating generator."""
    return _left_only("generator", 0.375, 0.375, Circle(0.1875, 0.1875, 0.1875), Letters(0.1875, 0.1875, "G"))


def motor() -> Shape:
    """Motor or motor-compressor."""
    return _left_only("motor", 0.25, 0.25, Circle(0.125, 0.125, 0.125), Letters(0.125, 0.125, "M"))


def breaker() -> Shape:
    """Circuit breaker, in a bus or an enclosure."""
    return _inline("breaker", 0.375, 0.25, *stock_strokes("Breaker", 0.375, 0.0, 0.125))


def fuse() -> Shape:
    """Fuse."""
    return _inline("fuse", 0.375, 0.25, *stock_strokes("FuseIEEE", 0.375, 0.0, 0.125))


def _blade(x0: float, x1: float, y: float) -> tuple[Stroke, ...]:
    """An open knife blade hinged at x0 with its jaw at x1, and both stubs' circles."""
    radius = 0.035
    return (
        Circle(x0, y, radius),
        Circle(x1, y, radius),
        line(x0 + radius * 0.75, y - radius * 0.75, x1 - 0.03, y - 0.16),
    )


def disconnect() -> Shape:
    """Unfused disconnect switch in its enclosure."""
    return _inline(
        "disconnect", 0.625, 0.5,
        rectangle(0, 0, 0.625, 0.5),
        line(0, 0.25, 0.125, 0.25), *_blade(0.16, 0.465, 0.25), line(0.5, 0.25, 0.625, 0.25),
    )


def fused_disconnect() -> Shape:
    """Fused disconnect switch in its enclosure."""
    return _inline(
        "fused disconnect", 1.0, 0.5,
        rectangle(0, 0, 1.0, 0.5),
        line(0, 0.25, 0.09, 0.25), *_blade(0.125, 0.4, 0.25), line(0.435, 0.25, 0.5625, 0.25),
        *stock_strokes("FuseIEEE", 0.3125, 0.5625, 0.25), line(0.875, 0.25, 1.0, 0.25),
    )


def breaker_disconnect() -> Shape:
    """Circuit breaker in its own enclosure."""
    return _inline(
        "breaker enclosure", 0.625, 0.5,
        rectangle(0, 0, 0.625, 0.5),
        line(0, 0.25, 0.125, 0.25), *stock_strokes("Breaker", 0.375, 0.125, 0.25),
        line(0.5, 0.25, 0.625, 0.25),
    )


def isolation_device() -> Shape:
    """Microgrid interconnect device: a controlled switch that opens in an outage."""
    return _inline(
        "isolation device", 0.75, 0.625,
        rectangle(0, 0, 0.75, 0.625), rectangle(0.0625, 0.0625, 0.6875, 0.5625, LIGHT_PT),
        line(0, 0.3125, 0.185, 0.3125), *_blade(0.22, 0.53, 0.3125), line(0.565, 0.3125, 0.75, 0.3125),
    )


def transfer_switch() -> Shape:
    """Transfer switch: utility on the left, generator from below, loads on the right."""
    strokes = (
        rectangle(0, 0, 0.75, 0.5),
        line(0, 0.25, 0.1525, 0.25), Circle(0.1875, 0.25, 0.035),
        line(0.1875, 0.5, 0.1875, 0.435), Circle(0.1875, 0.4, 0.035),
        Circle(0.5625, 0.25, 0.035), line(0.5975, 0.25, 0.75, 0.25),
        line(0.53, 0.235, 0.222, 0.235),
    )
    terminals = (
        Terminal("utility", 0.0, 0.25, "left"), Terminal("generator", 0.1875, 0.5, "bottom"),
        Terminal("out", 0.75, 0.25, "right"),
    )
    return Shape("transfer switch", 0.75, 0.5, strokes, terminals)


def inverter() -> Shape:
    """Inverter: alternating current on the left, direct current on the right."""
    return _inline(
        "inverter", 0.5, 0.5,
        rectangle(0, 0, 0.5, 0.5), line(0, 0.5, 0.5, 0),
        Polyline(((0.09, 0.17), (0.115, 0.13), (0.145, 0.13), (0.185, 0.21), (0.215, 0.21), (0.24, 0.17))),
        line(0.29, 0.35, 0.43, 0.35), line(0.29, 0.41, 0.43, 0.41),
    )


def converter() -> Shape:
    """Converter from direct current to direct current, of one PV input."""
    return _inline(
        "converter", 0.25, 0.25,
        rectangle(0, 0, 0.25, 0.25), line(0, 0.25, 0.25, 0, LIGHT_PT),
        line(0.04, 0.06, 0.115, 0.06, LIGHT_PT), line(0.04, 0.1, 0.115, 0.1, LIGHT_PT),
        line(0.135, 0.155, 0.21, 0.155, LIGHT_PT), line(0.135, 0.195, 0.21, 0.195, LIGHT_PT),
    )


def _cells(x: float, y: float) -> tuple[Stroke, ...]:
    """Battery cells on a horizontal axis that starts at (x, y), 0.25 in long with its leads."""
    cells = stock_strokes("Battery", 0.25, x + 0.055, y)
    return (line(x, y, x + 0.055, y), *cells, line(x + 0.055 + 0.5625 * 0.25, y, x + 0.25, y))


def battery() -> Shape:
    """Battery inside a unit."""
    return _inline("battery", 0.25, 0.25, *_cells(0.0, 0.125))


def storage_module() -> Shape:
    """Storage module without inverter."""
    return _left_only(
        "storage module", 0.5, 0.25, rectangle(0, 0, 0.5, 0.25),
        line(0, 0.125, 0.125, 0.125), *_cells(0.125, 0.125), line(0.375, 0.125, 0.4375, 0.125),
    )


def _left_only(kind: str, width: float, height: float, *strokes: Stroke) -> Shape:
    return Shape(kind, width, height, strokes, (Terminal("in", 0.0, height / 2, "left"),))


def _module(x: float) -> tuple[Stroke, ...]:
    """One PV module: a rectangle with the mark of its cells."""
    return (
        rectangle(x, 0, x + 0.15, 0.25),
        Polyline(((x, 0), (x + 0.075, 0.08), (x + 0.15, 0)), LIGHT_PT),
    )


def pv_string() -> Shape:
    """PV modules in series."""
    return _left_only(
        "pv string", 0.75, 0.25,
        line(0, 0.125, 0.0625, 0.125), *_module(0.0625), line(0.2125, 0.125, 0.275, 0.125),
        *_module(0.275),
        *(line(x, 0.125, x + 0.03, 0.125) for x in (0.445, 0.4975, 0.55)),
        *_module(0.6),
    )


def _with_electronics(kind: str, *mark: Stroke) -> Shape:
    """PV modules in series through a box of each, which bears *mark*, 0.15 in wide from its left top corner."""
    strokes = [line(0, 0.25, 0.0625, 0.25), line(0.2125, 0.25, 0.275, 0.25)]
    for x in (0.0625, 0.275, 0.6):
        strokes += [rectangle(x, 0, x + 0.15, 0.175), Polyline(((x, 0), (x + 0.075, 0.07), (x + 0.15, 0)), LIGHT_PT)]
        strokes += [rectangle(x, 0.175, x + 0.15, 0.325), *(moved(stroke, x, 0.175) for stroke in mark)]
    strokes += [line(x, 0.25, x + 0.03, 0.25) for x in (0.445, 0.4975, 0.55)]
    return _left_only(kind, 0.75, 0.5, *strokes)


def pv_string_with_converters() -> Shape:
    """PV modules with a converter from direct current to direct current each, in series."""
    return _with_electronics("pv string, converters", line(0, 0.15, 0.15, 0, LIGHT_PT))


def pv_string_with_shutdown() -> Shape:
    """PV modules with a device each that takes them off the string for rapid shutdown."""
    return _with_electronics("pv string, shutdown", line(0, 0.15, 0.15, 0, LIGHT_PT), line(0, 0, 0.15, 0.15, LIGHT_PT))


def combiner() -> Shape:
    """Combiner of PV strings."""
    return _inline(
        "combiner", 0.5, 0.5,
        rectangle(0, 0, 0.5, 0.5), line(0, 0.25, 0.25, 0.25), line(0.25, 0.09, 0.25, 0.41, HEAVY_PT),
        *(line(0.25, y, 0.5, y) for y in (0.125, 0.25, 0.375)),
    )


def junction_box() -> Shape:
    """Junction box: a change of wiring method."""
    return _inline(
        "junction", 0.25, 0.25,
        rectangle(0, 0, 0.25, 0.25), line(0, 0.125, 0.25, 0.125),
        Circle(0.125, 0.125, 0.035, filled=True),
    )


def tap_box() -> Shape:
    """Junction box where a conductor is tapped: the tap leaves it from below."""
    strokes = (*junction_box().strokes, line(0.125, 0.125, 0.125, 0.25))
    terminals = (
        Terminal("in", 0.0, 0.125, "left"), Terminal("out", 0.25, 0.125, "right"), Terminal("tap", 0.125, 0.25, "bottom"),
    )
    return Shape("tap box", 0.25, 0.25, strokes, terminals)


def connection() -> Shape:
    """A permanent connection of wires, which end at the edge of the dot."""
    return _inline("connection", 0.125, 0.125, Circle(0.0625, 0.0625, 0.0625, filled=True))


def load() -> Shape:
    """Load: an arrow."""
    return _left_only(
        "load", 0.25, 0.25,
        line(0, 0.125, 0.1, 0.125),
        Polyline(((0.1, 0.045), (0.25, 0.125), (0.1, 0.205)), closed=True, filled=True),
    )


def ev_equipment() -> Shape:
    """Electric vehicle supply equipment."""
    return _left_only("ev equipment", 0.375, 0.25, rectangle(0, 0, 0.375, 0.25), Letters(0.1875, 0.125, "EV"))


def rapid_shutdown() -> Shape:
    """Switch that starts the rapid shutdown and carries no power."""
    return _inline("rapid shutdown", 0.5, 0.25, rectangle(0, 0, 0.5, 0.25), Letters(0.25, 0.125, "RSD"))


def neutral_bond() -> Shape:
    """Main or system bonding jumper inside an enclosure: neutral to ground."""
    return Shape("neutral bond", 0.625, 0.25, _bond_strokes(), (Terminal("ground", 0.4375, 0.25, "bottom"),))


def neutral_bond_below() -> Shape:
    """The same below the symbol of the thing whose neutral it bonds, with the neutral led to it."""
    strokes = (*_bond_strokes(), line(0.1875, 0.0, 0.1875, 0.1525, LIGHT_PT))
    terminals = (Terminal("neutral", 0.1875, 0.0, "top"), Terminal("ground", 0.4375, 0.25, "bottom"))
    return Shape("neutral bond below", 0.625, 0.25, strokes, terminals)


def _bond_strokes() -> tuple[Stroke, ...]:
    return (
        Letters(0.0625, 0.1875, "N"), Letters(0.5625, 0.1875, "G"),
        Circle(0.1875, 0.1875, 0.035), Circle(0.4375, 0.1875, 0.035),
        Arc(0.3125, 0.1875, 0.1, 20, 160, HEAVY_PT), line(0.4375, 0.2225, 0.4375, 0.25),
    )


def equipment_ground() -> Shape:
    """Connection to the equipment grounding conductor."""
    strokes = stock_strokes("GroundChassis", 0.3846, 0.1442, 0.0)
    return Shape("equipment ground", 0.25, 0.25, strokes, (Terminal("ground", 0.1442, 0.0, "top"),))


def electrode() -> Shape:
    """Grounding electrode system."""
    strokes = stock_strokes("Ground", 0.3906, 0.125, 0.0)
    return Shape("electrode", 0.25, 0.25, strokes, (Terminal("ground", 0.125, 0.0, "top"),))


def surge_protection() -> Shape:
    """Surge protective device: facing arrows of a protective gap in a box, its far end on ground."""
    return _left_only(
        "surge protection", 0.75, 0.5,
        line(0, 0.25, 0.2, 0.25), rectangle(0.125, 0.14, 0.5, 0.36),
        Polyline(((0.2, 0.18), (0.2, 0.32), (0.3, 0.25)), closed=True, filled=True),
        Polyline(((0.425, 0.18), (0.425, 0.32), (0.325, 0.25)), closed=True, filled=True),
        Polyline(((0.425, 0.25), (0.625, 0.25), (0.625, 0.375))),
        line(0.515, 0.375, 0.735, 0.375), line(0.555, 0.425, 0.695, 0.425), line(0.595, 0.475, 0.655, 0.475),
    )


def bus_shape(kind: str, width: float, height: float) -> Shape:
    """A bus bar of any length: a filled bar; wires may land anywhere along it."""
    bar = Polyline(((0, 0), (width, 0), (width, height), (0, height)), LIGHT_PT, closed=True, filled=True)
    return Shape(kind, width, height, (bar,), ())


def unit() -> Shape:
    """Inverter-battery unit as the legend shows it: inverter, internal DC bus, PV input, battery."""
    strokes = (
        rectangle(0, 0, 1.5, 0.75),
        *_shifted(inverter().strokes, 0.1875, 0.125), line(0, 0.375, 0.1875, 0.375),
        line(0.6875, 0.375, 0.8125, 0.375),
        *_shifted(bus_shape("bus", BUS_IN, 0.5).strokes, 0.8125, 0.125),
        line(0.875, 0.25, 1.0, 0.25), *_shifted(converter().strokes, 1.0, 0.125), line(1.25, 0.25, 1.5, 0.25),
        line(0.875, 0.5625, 1.0, 0.5625), *_shifted(battery().strokes, 1.0, 0.4375),
    )
    terminals = (Terminal("ac", 0.0, 0.375, "left"), Terminal("dc", 1.5, 0.25, "right"))
    return Shape("unit", 1.5, 0.75, strokes, terminals)


_MAKERS: dict[str, Callable[[], Shape]] = {
    "utility": utility,
    "meter": meter,
    "disconnect": disconnect,
    "fused disconnect": fused_disconnect,
    "breaker enclosure": breaker_disconnect,
    "breaker": breaker,
    "fuse": fuse,
    "isolation device": isolation_device,
    "transfer switch": transfer_switch,
    "unit": unit,
    "inverter": inverter,
    "converter": converter,
    "battery": battery,
    "storage module": storage_module,
    "pv string": pv_string,
    "pv string, converters": pv_string_with_converters,
    "pv string, shutdown": pv_string_with_shutdown,
    "combiner": combiner,
    "junction": junction_box,
    "tap box": tap_box,
    "connection": connection,
    "load": load,
    "motor": motor,
    "ev equipment": ev_equipment,
    "generator": generator,
    "rapid shutdown": rapid_shutdown,
    "surge protection": surge_protection,
    "neutral bond": neutral_bond,
    "neutral bond below": neutral_bond_below,
    "equipment ground": equipment_ground,
    "electrode": electrode,
}
#: Every symbol kind of fixed size, in the order of power flow.
SYMBOL_KINDS: tuple[str, ...] = tuple(_MAKERS)
#: Kinds of any length.
BUS_KINDS: tuple[str, ...] = ("bus", "dc bus")


@lru_cache(maxsize=None)
def shape(kind: str) -> Shape:
    """The geometry of a symbol of fixed size.  Raises KeyError for an unknown kind."""
    return _MAKERS[kind]()


def shape_of(symbol: Symbol) -> Shape:
    """The geometry of a placed symbol; a bus takes its size from its box, others may be reduced.

    Letters keep their size in a reduced symbol.
    """
    if symbol.kind in BUS_KINDS:
        return bus_shape(symbol.kind, symbol.box.width(), symbol.box.height())
    found = shape(symbol.kind)
    factor = symbol.box.width() / found.width
    return found if abs(factor - 1.0) < 0.01 else _reduced(found, factor)


def _reduced(found: Shape, factor: float) -> Shape:
    strokes = tuple(scaled(stroke, factor) for stroke in found.strokes)
    return Shape(found.kind, found.width * factor, found.height * factor, strokes, ())


def place(kind: str, x: float, y: float, subject: str = "", existing: bool = False) -> Symbol:
    """A symbol with its top left corner at (x, y), in inches."""
    found = shape(kind)
    return Symbol(kind, Box(x, y, x + found.width, y + found.height), subject, existing)


def terminal_point(symbol: Symbol, name: str) -> tuple[float, float]:
    """Where a terminal of a placed symbol lies on the sheet, in inches."""
    for terminal in shape_of(symbol).terminals:
        if terminal.name == name:
            return symbol.box.x0 + terminal.x, symbol.box.y0 + terminal.y
    raise KeyError(f"{symbol.kind} has no terminal {name!r}")
