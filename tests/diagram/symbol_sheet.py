"""A scene with every symbol, new and existing, with its name: for looking at, and for tests."""

from __future__ import annotations

from linecalc.diagram.scene import Box, Outline, Scene, Symbol, Text, Wire
from linecalc.diagram.symbols import BUS_IN, SYMBOL_KINDS, place, shape, terminal_point


def symbol_sheet() -> Scene:
    """Every symbol of fixed size in rows, each drawn new and existing, its terminals wired."""
    items: list = [Outline("frame", Box(0.5, 0.5, 16.5, 10.5))]
    for index, kind in enumerate(SYMBOL_KINDS):
        column, row = index % 5, index // 5
        x, y = 0.875 + column * 3.0, 0.875 + row * 1.3125
        for offset, existing in ((0.0, False), (1.875 if shape(kind).width > 1.2 else 1.4, True)):
            symbol = place(kind, x + offset, y, f"{kind} {existing}", existing)
            items.append(symbol)
            items.extend(_leads(symbol))
        items.append(Text(x, y + 0.75 + 0.25, (kind,), 0.125))
    items.append(Symbol("bus", Box(15.25, 8.75, 15.25 + BUS_IN, 10), "bus new"))
    items.append(Symbol("bus", Box(15.875, 8.75, 15.875 + BUS_IN, 10), "bus existing", True))
    return Scene(tuple(items), title="Symbols", description="Every symbol")


def _leads(symbol: Symbol) -> list[Wire]:
    step = {"left": (-0.125, 0), "right": (0.125, 0), "top": (0, -0.125), "bottom": (0, 0.125)}
    wires = []
    for terminal in shape(symbol.kind).terminals:
        x, y = terminal_point(symbol, terminal.name)
        dx, dy = step[terminal.side]
        wires.append(Wire(((x, y), (x + dx, y + dy)), symbol.subject, symbol.existing))
    return wires
