"""The grounding system: electrode conductors, bonding jumpers, grounded conductors, shared grounding conductors.

References
----------
``gec`` Table 250.66, ``electrode_limits`` 250.66(A) to (C), ``ssbj`` Table 250.102(C)(1),
``main_bonding_jumper`` 250.28(D), ``grounded_service_conductor`` 250.24, ``separately_derived`` 250.30,
``separate_building`` 250.32, ``shared_egc`` 250.122(C).
"""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.calc.grounding import area_of_sets, supply_side_jumper_area
from linecalc.codebook import Book
from linecalc.codebook.sizes import larger_size, size_index, smaller_size
from linecalc.network.build import Network
from linecalc.network.records import Kind, Node
from linecalc.project.equipment import UnitData
from linecalc.project.fields import ConductorText
from linecalc.project.model import SERVICE
from linecalc.sizing.ahead import is_ahead_of_disconnects
from linecalc.sizing.grounding import size_of_area
from linecalc.sizing.grounding_records import (
    LISTED,
    BondingJumper,
    BondPoint,
    BondRole,
    ElectrodeConductor,
    ElectrodeNeed,
    FormerService,
    GroundedConductor,
    GroundingSystem,
    SharedGround,
)
from linecalc.sizing.records import SizedCircuit
from linecalc.term import Number, given, label, value_of

DEFAULT_MATERIAL = "Cu"
GROUND_RING = "ground ring"


def grounding_system(network: Network, book: Book, circuits: Sequence[SizedCircuit]) -> GroundingSystem:
    """Every place where the electrodes are connected, and what the grounding of the house needs beside its circuits."""
    by_tag = {circuit.tag: circuit for circuit in circuits}
    points = [_service_point(network, book, by_tag, tag) for tag in service_disconnects(network)]
    points += [_source_point(network, book, by_tag, node) for node in derived_sources(network)]
    points += [_building_point(network, book, by_tag, node) for node in building_supplies(network)]
    return GroundingSystem(tuple(points), former_services(network, by_tag), shared_grounds(network, circuits))


def service_disconnects(network: Network) -> tuple[str, ...]:
    """The first panels and disconnects behind the service, through junctions and isolation devices without a main."""
    found, waiting = [], [SERVICE]
    while waiting:
        for circuit in network.children.get(waiting.pop(), ()):
            (waiting if is_ahead_of_disconnects(network.nodes[circuit.down]) else found).append(circuit.down)
    return tuple(sorted(found))


def derived_sources(network: Network) -> tuple[Node, ...]:
    """The units and generators that bond their neutral behind an isolation device or transfer switch that switches it."""
    return (*_derived_units(network), *_derived_generators(network))


def _derived_units(network: Network) -> tuple[Node, ...]:
    if network.island is None or network.is_standalone():
        return ()
    separating = network.nodes[network.island]
    switching = separating.data if separating.kind is Kind.UNIT else separating.item
    if not switching.switches_neutral:
        return ()
    units = (node for node in network.of_kind(Kind.UNIT) if isinstance(node.data, UnitData) and node.tag in network.parent)
    return tuple(node for node in units if node.data.neutral_bond in ("always", "island only"))


def _derived_generators(network: Network) -> tuple[Node, ...]:
    generators = (node for node in network.of_kind(Kind.GENERATOR) if node.item.neutral_bond and node.tag in network.parent)
    return tuple(node for node in generators if getattr(network.nodes[network.parent[node.tag].up].item, "switches_neutral", None))


def building_supplies(network: Network) -> tuple[Node, ...]:
    """The panels and disconnects at which a separate building is supplied."""
    found = []
    for node in network.of_kind(Kind.PANEL, Kind.DISCONNECT):
        circuit = network.parent.get(node.tag)
        if node.item.building and circuit is not None and getattr(network.nodes[circuit.up].item, "building", None) != node.item.building:
            found.append(node)
    return tuple(found)


def _service_point(network: Network, book: Book, by_tag: dict[str, SizedCircuit], tag: str) -> BondPoint:
    node, circuit = network.nodes[tag], by_tag[network.parent[tag].tag]
    item = node.item
    area = _ungrounded_area(book, circuit)
    bonded = getattr(item, "neutral_bond", None) is not False
    electrodes = getattr(item, "electrodes", None) or network.project.grounding.electrodes
    return BondPoint(
        tag,
        BondRole.SERVICE,
        circuit.tag,
        _ungrounded_text(circuit),
        area,
        _jumper(book, circuit, area, getattr(item, "bonding_jumper", None), tag) if bonded else None,
        _grounded(book, circuit, tag),
        _electrode(network, book, circuit, area, getattr(item, "electrode_conductor", None), electrodes),
        () if electrodes is not None else ("grounding.electrodes",),
    )


def _source_point(network: Network, book: Book, by_tag: dict[str, SizedCircuit], node: Node) -> BondPoint:
    circuit = by_tag[network.parent[node.tag].tag]
    area = _ungrounded_area(book, circuit)
    electrodes = network.project.grounding.electrodes
    jumper = _jumper(book, circuit, area, getattr(node.item, "bonding_jumper", None) or LISTED, node.tag)
    conductor = _electrode(network, book, circuit, area, getattr(node.item, "electrode_conductor", None), electrodes)
    needs = () if electrodes is not None else ("grounding.electrodes",)
    return BondPoint(node.tag, BondRole.SOURCE, circuit.tag, _ungrounded_text(circuit), area, jumper, None, conductor, needs)


def _building_point(network: Network, book: Book, by_tag: dict[str, SizedCircuit], node: Node) -> BondPoint:
    circuit = by_tag[network.parent[node.tag].tag]
    area = _ungrounded_area(book, circuit)
    conductor = _electrode(network, book, circuit, area, node.item.electrode_conductor, node.item.electrodes)
    needs = () if node.item.electrodes is not None else (f"{node.kind.name.lower()}.{node.tag}.electrodes",)
    return BondPoint(node.tag, BondRole.BUILDING, circuit.tag, _ungrounded_text(circuit), area, None, None, conductor, needs)


def _ungrounded_text(circuit: SizedCircuit) -> str:
    conductor = circuit.conductor
    sets = f"{conductor.parallel} x " if conductor.parallel > 1 else ""
    return f"{sets}{conductor.size} {conductor.material}"


def _ungrounded_area(book: Book, circuit: SizedCircuit) -> Number:
    sets = given(float(circuit.conductor.parallel), "", "n_sets", f"circuit.{circuit.tag}.parallel", "conductors in parallel")
    return label(area_of_sets(book.area_cmil(circuit.conductor.size), sets), f"{circuit.tag}.ungrounded_area")


def _by_table(book: Book, circuit: SizedCircuit, area: Number, material: str, tag: str) -> tuple[str, Number | None]:
    """The size of Table 250.102(C)(1), and the area where the table ends; never above the ungrounded conductor."""
    size = book.supply_side_jumper(value_of(area), circuit.conductor.material, material)
    if size:
        same = material == circuit.conductor.material and circuit.conductor.parallel == 1
        return (smaller_size(size, circuit.conductor.size) if same else size), None
    beyond = label(supply_side_jumper_area(area), f"{tag}.jumper_area")
    return size_of_area(book, value_of(beyond)), beyond


def _jumper(book: Book, circuit: SizedCircuit, area: Number, written: ConductorText | str | None, tag: str) -> BondingJumper:
    is_wire = written is not None and not isinstance(written, str)
    material = (written.material if is_wire else None) or DEFAULT_MATERIAL
    needed, beyond = _by_table(book, circuit, area, material, tag)
    if written == LISTED:
        return BondingJumper(LISTED, "", material, needed, beyond, True)
    return BondingJumper("wire", written.size if is_wire else needed, material, needed, beyond, is_wire)


def _grounded(book: Book, circuit: SizedCircuit, tag: str) -> GroundedConductor:
    neutral = circuit.neutral
    material = neutral.material if neutral is not None else circuit.conductor.material
    area = _ungrounded_area(book, circuit)
    needed, beyond = _by_table(book, circuit, area, material, f"{tag}.grounded")
    needed_cmil = beyond if beyond is not None else book.area_cmil(needed)
    if neutral is None:
        return GroundedConductor(None, material, 0, None, needed, needed_cmil)
    sets = given(float(neutral.parallel), "", "n_sets", f"circuit.{circuit.tag}.parallel", "conductors in parallel")
    installed = book.area_cmil(neutral.size) * sets if neutral.parallel > 1 else book.area_cmil(neutral.size)
    return GroundedConductor(neutral.size, material, neutral.parallel, installed, needed, needed_cmil)


def _electrode(
    network: Network,
    book: Book,
    circuit: SizedCircuit,
    area: Number,
    written: ConductorText | None,
    electrodes: tuple[str, ...] | None,
) -> ElectrodeConductor:
    material = (written.material if written else None) or DEFAULT_MATERIAL
    table = book.electrode_conductor(value_of(area), circuit.conductor.material, material)
    ring = network.project.grounding.ground_ring
    needs = tuple(_need(book, kind, (electrodes or ()).count(kind), table, material, ring) for kind in dict.fromkeys(electrodes or ()))
    needed = max((need.needed_size for need in needs), key=size_index, default=table)
    return ElectrodeConductor(written.size if written else needed, material, needed, table, written is not None, needs)


def _need(book: Book, kind: str, count: int, table: str, material: str, ring: ConductorText | None) -> ElectrodeNeed:
    limit = book.electrode_limit(kind, material)
    if kind == GROUND_RING and ring is not None and limit is not None:
        limit = larger_size(limit, ring.size)
    return ElectrodeNeed(kind, count, table, limit, table if limit is None else smaller_size(table, limit))


def former_services(network: Network, by_tag: dict[str, SizedCircuit]) -> tuple[FormerService, ...]:
    """The old main panels behind a service disconnect that moved ahead of them, stated or to be asked about."""
    disconnects = service_disconnects(network)
    found = []
    for node in network.of_kind(Kind.PANEL):
        item = node.item
        if node.tag in disconnects or node.tag not in network.parent or item.former_service is False:
            continue
        if not item.former_service and not _may_be_former(network, node):
            continue
        feeder = by_tag[network.parent[node.tag].tag]
        four_wire = feeder.neutral is not None and feeder.egc is not None
        removed = None if item.neutral_bond is None else not item.neutral_bond
        separate = None if item.grounding_bus is None else item.grounding_bus == "separate"
        found.append(
            FormerService(
                node.tag, feeder.tag, item.former_service, removed, four_wire, item.electrode_conductor_moved, separate, item.three_wire
            )
        )
    return tuple(found)


def _may_be_former(network: Network, node: Node) -> bool:
    """Whether an existing panel has nothing but new things between it and the service."""
    ahead = [network.nodes[circuit.up] for circuit in network.path_up(node.tag)]
    devices = [found for found in ahead if found.kind not in (Kind.SERVICE, Kind.JUNCTION)]
    return node.item.existing and bool(devices) and not any(found.item.existing for found in devices)


def shared_grounds(network: Network, circuits: Sequence[SizedCircuit]) -> tuple[SharedGround, ...]:
    """For each section that several circuits with a wire for grounding pass: the one conductor that could serve them all."""
    order = dict.fromkeys(tag for circuit in circuits for tag in circuit.circuit.sections)
    found = []
    for tag in order:
        inside = [circuit for circuit in circuits if tag in circuit.circuit.sections and circuit.egc is not None and circuit.egc.kind == "wire"]
        if len(inside) < 2:
            continue
        deciding = max(inside, key=lambda circuit: size_index(circuit.egc.needed_size))
        written = network.project.section[tag].egc
        material = (written.material if written else None) or deciding.egc.material
        found.append(
            SharedGround(
                tag,
                tuple(circuit.tag for circuit in inside),
                deciding.tag,
                deciding.egc.needed_size,
                material,
                written.size if written else None,
            )
        )
    return tuple(found)
