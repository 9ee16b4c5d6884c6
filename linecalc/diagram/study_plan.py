"""From a Study to the plan of its single-line diagram: the tree, and every text around it."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from enum import Enum

from linecalc.check import Level
from linecalc.diagram.fonts import drawable
from linecalc.diagram.house_loads import house_loads
from linecalc.diagram.grounding_text import bond_of, electrode_existing, electrode_of
from linecalc.diagram.interconnection import supply_side_line
from linecalc.diagram.labels import device_text, existing_of, lines_of, meter_lines, transfer_lines, utility_lines
from linecalc.diagram.phrases import status
from linecalc.diagram.plan import Branch, Feed, Plan, PlanNode, Stacked, Style
from linecalc.diagram.protection import shutdown_switch, string_symbol, surge_branch
from linecalc.diagram.schedule import schedule_rows, schedule_table
from linecalc.diagram.texts import abbreviations, note_blocks, title_block
from linecalc.network.build import natural
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.project.model import SERVICE
from linecalc.sizing.records import SizedCircuit
from linecalc.study import Study

_LOAD_SYMBOLS = {"motor": "motor", "motor-compressor": "motor", "ev": "ev equipment"}
_DISCONNECT_SYMBOLS = {"fuse": "fused disconnect", "breaker": "breaker enclosure", "none": "disconnect"}
_FEEDS = {"top": Feed.FIRST, "bottom": Feed.LAST, "center": Feed.MIDDLE, None: Feed.FIRST}
_SYMBOLS = {
    Kind.ISOLATION: "isolation device",
    Kind.JUNCTION: "junction",
    Kind.COMBINER: "combiner",
    Kind.TRANSFER: "transfer switch",
}
_LEAF_SYMBOLS = {Kind.STORAGE: "storage module", Kind.GENERATOR: "generator"}
_LEAVES = (Kind.STRING, Kind.STORAGE, Kind.LOAD, Kind.GENERATOR)
_POSITIONS = {"main end": 0, "middle": 1, None: 1, "opposite end": 2}
_LAST = 9


def plan_of(study: Study) -> Plan:
    """The plan of the single-line diagram."""
    root = _service_node(study) if study.network.root == SERVICE else _node(study, study.network.root)
    plan = Plan(
        root, schedule_table(schedule_rows(study)), note_blocks(study), title_block(study), (), _description(study), ()
    )
    missing: list[str] = []
    plan = _drawable(plan, missing)
    plan = replace(plan, abbreviations=abbreviations(plan))
    notes = tuple(
        f"character U+{ord(character):04X} is not in the drawing font; it is drawn as a box or left out"
        for character in dict.fromkeys(missing)
    )
    return replace(plan, notes=notes)


def _description(study: Study) -> str:
    """What a reader who cannot see the drawing needs first."""
    tags = ", ".join(node.tag for node in study.network.nodes.values() if node.tag != SERVICE)
    return f"Single-line diagram, {study.checked_against}. Shows {tags}. {study.count(Level.FAIL)} checks fail."


def _service_node(study: Study) -> PlanNode:
    service = study.project.service
    circuits = study.network.children.get(SERVICE, ())
    existing = bool(circuits) and all(circuit.item.existing for circuit in circuits)
    switch = shutdown_switch(study)
    return PlanNode(
        SERVICE, Style.STACK, "", (), existing,
        stack=(
            Stacked("utility", utility_lines(service), existing),
            Stacked("meter", (*meter_lines(service, existing), *_supply_side(study)), existing),
        ),
        apart=(switch,) if switch is not None else (),
        branches=_ac_branches(study, SERVICE),
    )


def _supply_side(study: Study) -> tuple[str, ...]:
    line = supply_side_line(study, SERVICE)
    return (line,) if line else ()


def _node(study: Study, tag: str) -> PlanNode:
    node = study.network.nodes[tag]
    if node.kind in (Kind.UNIT, Kind.INVERTER):
        return _source_node(study, node)
    if node.kind in _LEAVES:
        return _leaf_node(study, node)
    wired = node.tag in study.network.parent or node.tag == study.network.root
    branches = _ac_branches(study, tag) if wired else _dc_branches(study, tag)
    boundary = _boundary_text(node) if node.kind is Kind.ISOLATION else ""
    if node.kind is Kind.PANEL or (node.kind is Kind.ISOLATION and len(branches) > 1):
        return _bus_node(study, node, branches, boundary)
    symbol = _SYMBOLS.get(node.kind) or _DISCONNECT_SYMBOLS[node.item.device_kind]
    if node.kind is Kind.JUNCTION and len(branches) == 2:
        symbol = "tap box"
    elif node.kind is not Kind.TRANSFER:
        branches = _tapped(study, node, branches)
    return PlanNode(
        tag, Style.INLINE, symbol, lines_of(study, node), node.item.existing, bond=bond_of(study, node),
        electrode=electrode_of(study, node), electrode_existing=electrode_existing(study, node),
        boundary=boundary, branches=branches,
    )


def _tapped(study: Study, node: Node, branches: tuple[Branch, ...]) -> tuple[Branch, ...]:
    """An inline thing with several branches gets a tap beyond it; a surge protective device hangs there, uppermost."""
    surge = surge_branch(study, node.tag)
    if surge is None and len(branches) < 2:
        return branches
    if surge is None:
        tap = PlanNode(node.tag, Style.TAP, "", (), node.item.existing, branches=branches)
    else:
        feed = Feed.LAST if len(branches) == 1 else Feed.FIRST
        tap = PlanNode(node.tag, Style.TAP, "", (), node.item.existing, feed=feed, branches=(surge, *branches))
    return (Branch(tap, existing=node.item.existing),)


def _bus_node(study: Study, node: Node, branches: tuple[Branch, ...], boundary: str) -> PlanNode:
    item = node.item
    main = None if item.main is None or isinstance(item.main, str) else item.main.as_written
    feed = _FEEDS[item.feed] if node.kind is Kind.PANEL else Feed.FIRST
    if node.tag == study.network.root:
        feed = Feed.NONE
    surge = surge_branch(study, node.tag)
    if surge is not None:
        branches = (*branches[:1], surge, *branches[1:])
    return PlanNode(
        node.tag, Style.BUS, "", lines_of(study, node), item.existing, main=main, feed=feed, bond=bond_of(study, node),
        electrode=electrode_of(study, node), electrode_existing=electrode_existing(study, node),
        boundary=boundary, branches=branches,
    )


def _boundary_text(node: Node) -> str:
    return f"BACKED-UP PART (behind {node.tag})"


def _ac_branches(study: Study, tag: str) -> tuple[Branch, ...]:
    """Branches of an AC thing: loads without a circuit, then circuits by their place on the bus."""
    circuits = study.network.children.get(tag, ())
    wired = {circuit.down for circuit in study.network.circuits}
    loads = [
        node for node in study.network.of_kind(Kind.LOAD)
        if node.item.panel == tag and node.tag not in wired
    ]
    together = house_loads(study, tag, loads)
    leaves = [_leaf_node(study, load) for load in loads] if together is None else [together]
    found = [(_load_order(study, tag), Branch(leaf, existing=leaf.existing)) for leaf in leaves]
    for circuit in circuits:
        found.append((_order(study, tag, circuit), _branch(study, circuit)))
    feed = getattr(study.network.nodes[tag].item, "feed", None)
    found.sort(key=lambda pair: pair[0])
    branches = tuple(branch for _, branch in found)
    return branches[::-1] if feed == "bottom" else branches


def _load_order(study: Study, tag: str) -> tuple[int, int]:
    return 1, 0


def _order(study: Study, tag: str, circuit: Circuit) -> tuple[int, int]:
    """Place on the bus first; then shallow things before what has a long way to go, generators last."""
    if study.network.nodes[circuit.down].kind is Kind.GENERATOR:
        return _LAST, 0
    return _POSITIONS.get(circuit.item.bus_position, 1), len(study.network.below(circuit.down))


def _branch(study: Study, circuit: Circuit) -> Branch:
    sized = study.sized.circuit(circuit.tag)
    rating = device_text(sized)
    in_panel = sized.device is not None and sized.device.where == circuit.up
    parent = study.network.nodes[circuit.up].kind
    device = ""
    if rating and in_panel and parent in (Kind.PANEL, Kind.ISOLATION):
        device = "fuse" if sized.device.kind == "fuse" else "breaker"
    shown = rating if device else _rating_in_words(sized) if in_panel and parent is not Kind.DISCONNECT else ""
    return Branch(_behind_meter(circuit, _node(study, circuit.down)), circuit.tag, device, shown, existing=circuit.item.existing)


def _behind_meter(circuit: Circuit, node: PlanNode) -> PlanNode:
    """A thing with the meter ahead of it that its run states, if any."""
    text, existing = circuit.item.meter, circuit.item.existing
    if text is None:
        return node
    label = (f"{circuit.tag} {status(existing)} meter", text)
    return PlanNode(circuit.tag, Style.INLINE, "meter", label, existing, branches=(Branch(node, existing=existing),))


def _source_node(study: Study, node: Node) -> PlanNode:
    """A unit or inverter with its strings first, then its storage modules.

    The transfer built into a unit is drawn ahead of it, with what its backup port supplies.
    """
    unit = PlanNode(
        node.tag, Style.UNIT, "", lines_of(study, node), node.item.existing,
        battery=node.kind is Kind.UNIT, branches=_dc_branches(study, node.tag),
    )
    backup = _ac_branches(study, node.tag)
    if not backup:
        return unit
    existing = node.item.existing
    tap = PlanNode(node.tag, Style.TAP, "", (), existing, branches=(*backup, Branch(unit, existing=existing)))
    return PlanNode(
        node.tag, Style.INLINE, "isolation device", transfer_lines(node), existing,
        boundary=_boundary_text(node), branches=(Branch(tap, existing=existing),),
    )


def _dc_branches(study: Study, tag: str) -> tuple[Branch, ...]:
    """Branches towards strings and storage modules, wired ones by their circuits."""
    network = study.network
    found: list[tuple[tuple[int, tuple[object, ...]], Branch]] = []
    reached: set[str] = set()
    for circuit in network.circuits:
        if circuit.system is System.AC or circuit.up != tag:
            continue
        reached.add(circuit.down)
        pv = circuit.system is System.PV
        converter = pv and network.nodes[tag].kind in (Kind.UNIT, Kind.INVERTER)
        sized = study.sized.circuit(circuit.tag)
        device = _device_of_unit(sized, tag) if network.nodes[tag].kind is Kind.UNIT and not converter else ""
        rating = device_text(sized) if device else _rating_in_words(sized)
        branch = Branch(_node(study, circuit.down), circuit.tag, device, rating, converter, circuit.item.existing)
        found.append(((0 if pv else 1, _first_input(study, circuit)), branch))
    wired = {end for circuit in network.circuits for end in (circuit.up, circuit.down)}
    for node in network.of_kind(Kind.STRING, Kind.STORAGE):
        end = node.item.to if node.kind is Kind.STRING else node.item.unit
        if end == tag and node.tag not in wired:
            pv = node.kind is Kind.STRING
            converter = pv and network.nodes[tag].kind in (Kind.UNIT, Kind.INVERTER)
            branch = Branch(_leaf_node(study, node), converter=converter, existing=node.item.existing)
            found.append(((0 if pv else 1, natural(node.tag)), branch))
    found.sort(key=lambda pair: pair[0])
    return tuple(branch for _, branch in found)


def _device_of_unit(sized: SizedCircuit, tag: str) -> str:
    """The symbol of the overcurrent device that a unit holds for a storage circuit, empty for none."""
    if sized.device is None or sized.device.inherited or sized.device.where != tag:
        return ""
    return "fuse" if sized.device.kind == "fuse" else "breaker"


def _rating_in_words(sized: SizedCircuit) -> str:
    """The rating of a circuit's overcurrent device with its kind, where no symbol shows what it is."""
    rating = device_text(sized)
    return f"{rating} {sized.device.kind}" if rating and sized.device is not None else ""


def _first_input(study: Study, circuit: Circuit) -> tuple[object, ...]:
    """Sort key: the first string behind a PV circuit, else the circuit's far end."""
    strings = study.network.strings_behind(circuit) if circuit.system is System.PV else ()
    return natural(strings[0].tag if strings else circuit.down)


def _leaf_node(study: Study, node: Node) -> PlanNode:
    symbol = string_symbol(study, node) if node.kind is Kind.STRING else _LEAF_SYMBOLS.get(node.kind)
    if symbol is None:
        symbol = _LOAD_SYMBOLS.get(node.item.kind, "load")
    branches = _dc_branches(study, node.tag) if node.kind is Kind.STORAGE else ()
    end = node.kind in (Kind.STRING, Kind.STORAGE)
    existing = existing_of(study, node)
    if branches:
        return PlanNode(node.tag, Style.INLINE, symbol, lines_of(study, node), existing, branches=branches)
    return PlanNode(node.tag, Style.LEAF, symbol, lines_of(study, node), existing, end=end)


def _drawable(record: object, missing: list[str]) -> object:
    """The same record with every text reduced to what the font can draw."""
    if isinstance(record, str):
        found = drawable(record)
        missing.extend(found.missing)
        return found.text
    if isinstance(record, tuple):
        return tuple(_drawable(part, missing) for part in record)
    if is_dataclass(record) and not isinstance(record, Enum):
        changes = {field.name: _drawable(getattr(record, field.name), missing) for field in fields(record)}
        return replace(record, **changes)
    return record
