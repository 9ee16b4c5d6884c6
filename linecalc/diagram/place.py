"""Place measured blocks on the sheet: symbols, wires, run tags and texts with their coordinates."""

from __future__ import annotations

from linecalc.diagram.balloons import balloon
from linecalc.diagram.blocks import (
    APART_GAP,
    BOND_HEIGHT,
    ELECTRODE_DROP,
    ELECTRODE_HEIGHT,
    TAG_HEIGHT,
    Block,
    boundary_label_width,
    branch_reach,
)
from linecalc.diagram.columns import (
    COLUMN_GAP,
    LEAF_TEXT_GAP,
    PANEL_WIDTH,
    REFERENCE_WIDTH,
    STACK_TEXT_X,
    UNIT_TEXT_X,
    Columns,
    Density,
    UnitText,
    symbol_width,
    unit_width,
)
from linecalc.diagram.fonts import LINE_PITCH, ascent_in, wrap_to
from linecalc.diagram.label_text import Label, stack_item_height, tag_width
from linecalc.diagram.plan import Branch, Feed, Style, text_above
from linecalc.diagram.scene import Box, Item, Outline, Symbol, Text, Wire
from linecalc.diagram.symbols import BUS_IN, place, shape

#: Inside a panel: main breaker, bus, branch breaker, from the enclosure's left edge.
_MAIN_X, _BUS_X, _BRANCH_X = 0.0625, 0.5, 0.5625
#: Where the neutral enters its bond, from the bond's left edge.
_NEUTRAL_X = 0.1875
#: Where a second branch leaves an inline symbol from below.
_SECOND_X = 0.1875
#: Inside a unit: inverter from its left edge; internal DC bus, battery and converter from its right.
_INVERTER_X, _DC_BUS_X, _BATTERY_X, _CONVERTER_X = 0.125, -0.5, -0.75, -0.375


def place_block(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    """All items of a thing whose anchor is at height *y*, and of everything beyond it."""
    items = list(_DRAWERS[block.node.style](block, y, columns, density))
    if block.node.boundary:
        items.extend(_boundary(block, y, columns, density))
    for child, row in zip(block.children, block.rows):
        items.extend(place_block(child, y + row, columns, density))
    return items


def _bus(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    node, x = block.node, columns.x[block.column]
    rows = [y + row for row in block.rows] or [y]
    top, bottom = min(y, rows[0]) - 0.125, max(y, rows[-1]) + 0.125
    items: list[Item] = [
        Outline("enclosure", Box(x, y + block.top, x + PANEL_WIDTH, y + block.bottom), node.tag, node.existing),
        Symbol("bus", Box(x + _BUS_X, top, x + _BUS_X + BUS_IN, bottom), node.tag, node.existing),
    ]
    items += label_items(block.label, x, y + block.top - 0.05 - block.label.height(density), density, node.tag)
    items += _main(block, x, y, density)
    items += _bond_inside(block, x, y, columns, density)
    for branch, child, row in zip(node.branches, block.children, rows):
        start = x + _BRANCH_X
        if branch.device:
            device = shape(branch.device)
            items.append(place(branch.device, start, row - device.height / 2, branch.run_tag, branch.existing))
            start += device.width
        items += _run(branch, child, start, x + PANEL_WIDTH, row, columns, density)
    return items


def _main(block: Block, x: float, y: float, density: Density) -> list[Item]:
    """The main breaker with its rating, or the lugs; nothing where the panel is fed by its branches only."""
    node = block.node
    if node.feed is Feed.NONE:
        return []
    if not node.main:
        return [Wire(((x, y), (x + _BUS_X, y)), node.tag, node.existing)]
    text_y = y - 0.17
    return [
        Wire(((x, y), (x + _MAIN_X, y)), node.tag, node.existing),
        place("breaker", x + _MAIN_X, y - 0.125, node.tag, node.existing),
        Wire(((x + _MAIN_X + 0.375, y), (x + _BUS_X, y)), node.tag, node.existing),
        Text(x + 0.05, text_y, (node.main,), density.text_in, "start", node.tag, "rating"),
    ]


def _bond_inside(block: Block, x: float, y: float, columns: Columns, density: Density) -> list[Item]:
    """Neutral bond at the bottom of an enclosure, and the electrode below it."""
    node = block.node
    items: list[Item] = []
    foot = y + block.bottom
    ground_x = x + 0.625
    if node.bond is not None:
        items.append(place("neutral bond", x + 0.1875, foot - BOND_HEIGHT, node.tag, node.existing))
        start = foot - BOND_HEIGHT + 0.25
    else:
        start = foot
    if node.electrode is None:
        return items
    return [*items, *_electrode(block, ground_x, start, foot, columns, density)]


def _electrode(
    block: Block, ground_x: float, start: float, foot: float, columns: Columns, density: Density
) -> list[Item]:
    """The electrode below a thing whose foot is at *foot*, wired from *start*, with its text."""
    node = block.node
    top = foot + ELECTRODE_DROP
    text_y = foot + ELECTRODE_HEIGHT
    return [
        Wire(((ground_x, start), (ground_x, top)), node.tag, node.existing, "ground"),
        place("electrode", ground_x - 0.125, top, node.tag, node.electrode_existing),
        *label_items(block.ground, columns.x[block.column], text_y, density, node.tag),
    ]


def _unit(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    node, x = block.node, columns.x[block.column]
    right = x + unit_width(density)
    bus_x = right + _DC_BUS_X
    rows = [y + row for row in block.rows]
    bus_bottom = max([y + 0.1875, *(row + 0.125 for row in rows)])
    bus_top = min([y - 0.28125, *(row - 0.125 for row in rows)])
    box = Box(x, y + block.top, right, y + block.bottom)
    items: list[Item] = [
        Outline("enclosure", box, node.tag, node.existing),
        Wire(((x, y), (x + _INVERTER_X, y)), node.tag, node.existing),
        place("inverter", x + _INVERTER_X, y - 0.25, node.tag, node.existing),
        Wire(((x + _INVERTER_X + 0.5, y), (bus_x, y)), node.tag, node.existing),
        Symbol("dc bus", Box(bus_x, bus_top, bus_x + BUS_IN, bus_bottom), node.tag, node.existing),
    ]
    if node.battery:
        items.append(place("battery", right + _BATTERY_X, y - 0.28125, node.tag, node.existing))
    if density.unit_text is UnitText.INSIDE:
        items += label_items(block.label, x + UNIT_TEXT_X, y + 0.05, density, node.tag)
    else:
        items += label_items(block.label, x, box.y0 - 0.03 - block.label.height(density), density, node.tag)
    for branch, child, row in zip(node.branches, block.children, rows):
        start = bus_x + BUS_IN
        if branch.converter:
            items.append(Wire(((start, row), (right + _CONVERTER_X, row)), node.tag, node.existing))
            items.append(place("converter", right + _CONVERTER_X, row - 0.125, node.tag, node.existing))
            start = right + _CONVERTER_X + 0.25
        elif branch.device:
            device = shape(branch.device)
            items.append(place(branch.device, start, row - device.height / 2, branch.run_tag, branch.existing))
            start += device.width
        items += _run(branch, child, start, right, row, columns, density)
    return items


def _turn(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    """Nothing of its own: only the run that starts here, if any."""
    items: list[Item] = []
    for branch, child in zip(block.node.branches, block.children):
        x = columns.x[block.column]
        items += _run(branch, child, x, x, y, columns, density)
    return items


def _reference(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    """A flag with its letter: text beside it where a wire ends, below it where one starts."""
    node, x = block.node, columns.x[block.column]
    box = Box(x, y - TAG_HEIGHT / 2, x + REFERENCE_WIDTH, y + TAG_HEIGHT / 2)
    items: list[Item] = [
        Outline("reference", box, node.tag),
        Text(x + 0.16, y + density.text_in / 2, (node.symbol,), density.text_in, "middle", node.tag, "tag"),
    ]
    height = block.label.height(density)
    if not node.branches:
        return [*items, *label_items(block.label, box.x1 + LEAF_TEXT_GAP, y - height / 2, density, node.tag)]
    items += label_items(block.label, x, box.y1 + 0.03, density, node.tag)
    for branch, child in zip(node.branches, block.children):
        items += _run(branch, child, box.x1, box.x1, y, columns, density)
    return items


def _tap(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    """A trunk down from the incoming wire; a dot where three wires meet."""
    x = columns.x[block.column] + 0.0625
    return _trunk(block, x, y, y, columns, density)


def _stack(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    """Symbols below each other, then a trunk from the foot of the last one."""
    node, left = block.node, columns.x[block.column]
    items: list[Item] = []
    top = y + block.top
    x = left + 0.25
    foot = top
    for index, (stacked, label) in enumerate(zip(node.stack, block.stack)):
        if index:
            items.append(Wire(((x, foot), (x, top)), node.tag, stacked.existing))
        items.append(place(stacked.symbol, left, top, node.tag, stacked.existing))
        items += label_items(label, left + STACK_TEXT_X, top, density, node.tag)
        foot = top + 0.5
        top += stack_item_height(label, density)
    items += _trunk(block, x, foot, y, columns, density)
    top = y + (block.rows[-1] if block.rows else 0.0) + APART_GAP
    for stacked, label in zip(node.apart, block.apart):
        items.append(place(stacked.symbol, left, top, node.tag, stacked.existing))
        items += label_items(label, left + STACK_TEXT_X, top, density, node.tag)
        top += stack_item_height(label, density)
    return items


def _trunk(
    block: Block, x: float, start: float, y: float, columns: Columns, density: Density
) -> list[Item]:
    """The vertical wire at *x* from *start* past the anchor *y* to every branch."""
    existing = block.node.existing
    rows = [y + row for row in block.rows]
    stops = sorted({start, *rows})
    dots = [stop for stop in stops if stop not in (stops[0], stops[-1]) or (stop == start == y and len(stops) > 1)]
    items: list[Item] = [place("connection", x - 0.0625, dot - 0.0625, block.node.tag) for dot in dots]
    for above, below in zip(stops, stops[1:]):
        upper = above + (0.0625 if above in dots else 0.0)
        lower = below - (0.0625 if below in dots else 0.0)
        items.append(Wire(((x, upper), (x, lower)), block.node.tag, existing))
    edge = columns.x[block.column] + symbol_width(block.node, density)
    for branch, child, row in zip(block.node.branches, block.children, rows):
        items += _run(branch, child, x + 0.0625 if row in dots else x, edge, row, columns, density)
    return items


def _inline(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    """A symbol in the wire, its text below, or above where an electrode stands below."""
    node, x = block.node, columns.x[block.column]
    form = shape(node.symbol)
    items: list[Item] = [place(node.symbol, x, y - form.height / 2, node.tag, node.existing)]
    foot = y + form.height / 2
    ground_x = x + 0.125
    if node.bond is not None:
        neutral_x = x + _NEUTRAL_X
        items.append(Wire(((neutral_x, foot), (neutral_x, foot + 0.0625)), node.tag, node.existing, "ground"))
        items.append(place("neutral bond below", x, foot + 0.0625, node.tag, node.existing))
        foot += BOND_HEIGHT
        ground_x = x + 0.4375
    text_y = foot + 0.0625
    if node.electrode is not None:
        items += _electrode(block, ground_x, foot, foot, columns, density)
    if text_above(node):
        text_y = y - form.height / 2 - 0.0625 - block.label.height(density)
    items += label_items(block.label, x, text_y, density, node.tag)
    right = x + form.width
    for branch, child, row in zip(node.branches, block.children, block.rows):
        if row == 0.0:
            items += _run(branch, child, right, right, y, columns, density)
            continue
        below = x + min(_SECOND_X, form.width / 2)
        items.append(Wire(((below, y + form.height / 2), (below, y + row)), branch.run_tag, branch.existing))
        items += _run(branch, child, below, right, y + row, columns, density)
    return items


def _leaf(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    node, x = block.node, columns.x[block.column]
    form = shape(node.symbol)
    height = block.label.height(density)
    text_x = x + form.width + LEAF_TEXT_GAP
    return [
        place(node.symbol, x, y - form.height / 2, node.tag, node.existing),
        *label_items(block.label, text_x, y - height / 2, density, node.tag),
    ]


def label_items(label: Label, x: float, y: float, density: Density, subject: str) -> list[Item]:
    """The text of a label whose room begins at (x, y)."""
    items: list[Item] = []
    if label.head:
        first = y + _first_baseline(density.head_in)
        items.append(Text(x, first, label.head, density.head_in, "start", subject, "tag line"))
        y += len(label.head) * density.head_in * LINE_PITCH
    if label.rest:
        first = y + _first_baseline(density.text_in)
        items.append(Text(x, first, label.rest, density.text_in, "start", subject))
    first = y + _first_baseline(density.text_in)
    items += [Text(x + offset, first, lines, density.text_in, "start", subject) for offset, lines in label.columns]
    return items


def _first_baseline(cap_in: float) -> float:
    """From the top of a line's room to its baseline."""
    return ascent_in(cap_in)


def _run(
    branch: Branch, child: Block, start: float, edge: float, y: float, columns: Columns, density: Density
) -> list[Item]:
    """The wire from (start, y) to the child's column, with rating and run tag on it.

    *edge* is where the enclosure of the near end ends: the rating stands after it.
    """
    stop = columns.x[child.column]
    items: list[Item] = []
    if branch.rating:
        items.append(Text(edge + 0.05, y - 0.05, (branch.rating,), density.text_in, "start", branch.run_tag, "rating"))
    if not branch.run_tag:
        if stop > start:
            items.append(Wire(((start, y), (stop, y)), branch.run_tag or child.node.tag, branch.existing))
        return items
    width = tag_width(branch.run_tag, density)
    right = stop - COLUMN_GAP
    box = Box(right - width, y - TAG_HEIGHT / 2, right, y + TAG_HEIGHT / 2)
    items.append(Outline("run tag", box, branch.run_tag, False))
    items.append(
        Text((box.x0 + box.x1) / 2, y + density.text_in / 2, (balloon(branch.run_tag),), density.text_in,
             "middle", branch.run_tag, "tag")
    )
    items.append(Wire(((start, y), (box.x0, y)), branch.run_tag, branch.existing))
    items.append(Wire(((box.x1, y), (stop, y)), branch.run_tag, branch.existing))
    return items


def _boundary(block: Block, y: float, columns: Columns, density: Density) -> list[Item]:
    """The border around everything that a thing's branches lead to, with its label inside."""
    left = columns.x[block.column + 1] - 0.1
    up, down = branch_reach(block, density)
    box = Box(left, y - up + 0.025, columns.right, y + down - 0.025)
    width = min(boundary_label_width(block.node, density), box.width() - 0.2) + 0.001
    text = wrap_to(block.node.boundary, width, density.head_in, 1)
    baseline = box.y0 + 0.05 + ascent_in(density.head_in)
    return [
        Outline("boundary", box, block.node.tag),
        Text(box.x1 - 0.1, baseline, text, density.head_in, "end", block.node.tag, "boundary label"),
    ]


_DRAWERS = {
    Style.BUS: _bus,
    Style.UNIT: _unit,
    Style.TAP: _tap,
    Style.STACK: _stack,
    Style.TURN: _turn,
    Style.REFERENCE: _reference,
    Style.INLINE: _inline,
    Style.LEAF: _leaf,
}
