"""Busbars that source currents reach: every method of the edition, on every bus.

References
----------
``busbar_sum``, ``busbar_120``, ``busbar_all_breakers``, ``busbar_center_fed``,
``busbar_feed_through``, ``busbar_engineering``: 705.12(B); ``supply_side``: 705.11.
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.compare import at_most
from linecalc.calc.interconnection import (
    bus_120_limit,
    bus_all_devices,
    bus_sum,
    feeder_segment_need,
    remaining_by_120,
    remaining_by_all_devices,
    remaining_by_sum,
    remaining_source_current,
    source_demand,
    supply_side_currents,
    supply_side_devices,
)
from linecalc.calc.overcurrent import largest_standard_at_or_below
from linecalc.codebook.edition import SupplySideLimit
from linecalc.network.currents import Currents
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node
from linecalc.sizing.ahead import is_supply_side_source
from linecalc.sizing.devices import LEAST_DEVICE_A, node_device
from linecalc.sizing.joining import joints_upstream
from linecalc.sizing.power_control import source_currents
from linecalc.sizing.records import BusFigures, BusMethod, BusVerdict, Device, SizedCircuit, SupplySideFigures
from linecalc.term import Number, Term, label, value_of

ENDS = ("top", "bottom")


@dataclass(frozen=True, slots=True)
class _Bus:
    """What the methods need to know of one bus."""

    node: Node
    rating: Term
    main: Device | None
    sources: tuple[tuple[str, Number], ...]
    demand: Number
    devices: tuple[Number, ...]
    positions: tuple[str | None, ...]
    open: tuple[str, ...]
    feed_through: SizedCircuit | None
    feed: str | None
    loads: bool


def bus_figures(currents: Currents, circuits: tuple[SizedCircuit, ...]) -> tuple[BusFigures, ...]:
    """Every panel bus, and every isolation device that has or may have an internal bus, that a source current reaches.

    Stand-alone there is no primary source beside the units, so there are none.
    """
    network = currents.network
    if network.is_standalone():
        return ()
    by_tag = {circuit.tag: circuit for circuit in circuits}
    found = []
    for tag in network.order:
        node = network.nodes[tag]
        if _is_bus(node):
            sources = (*network.below(tag), *_joined_upstream(currents, node, by_tag))
            reaching = tuple((source, currents.sources[source].export_a) for source in sources if source in currents.sources)
            if reaching:
                found.append(_figures(currents, node, reaching, by_tag))
    return tuple(found)


def _joined_upstream(currents: Currents, node: Node, by_tag: dict[str, SizedCircuit]) -> tuple[str, ...]:
    """What joins the feeder of a bus without a main, between the device that protects it and the bus.

    Current from there adds to what that device lets through.
    """
    network = currents.network
    if node_device(node, currents.book, 0.0) is not None:
        return ()
    feeder = network.parent.get(node.tag)
    if feeder is None:
        return ()
    devices = {tag: circuit.device for tag, circuit in by_tag.items()}
    return tuple(tag for joint in joints_upstream(network, feeder, devices) for tag in joint.nodes)


def _is_bus(node: Node) -> bool:
    return node.kind is Kind.PANEL or (node.kind is Kind.ISOLATION and node.item.internal_bus != "no")


def _rating(node: Node) -> Term:
    key, table = ("bus", "panel") if node.kind is Kind.PANEL else ("rating", "isolation")
    return term_of(getattr(node.item, key), "I_bus", f"{table}.{node.tag}.{key}", f"bus rating of {node.tag}")


def _main(currents: Currents, node: Node, by_tag: dict[str, SizedCircuit]) -> Device | None:
    """The device protecting a bus: its own main, else the device upstream."""
    own = node_device(node, currents.book, 0.0)
    if own is not None:
        return own
    parent = currents.network.parent.get(node.tag)
    return None if parent is None else by_tag[parent.tag].device


def _figures(
    currents: Currents, node: Node, reaching: tuple[tuple[str, Number], ...], by_tag: dict[str, SizedCircuit]
) -> BusFigures:
    network, tag = currents.network, node.tag
    bus = _bus(currents, node, reaching, by_tag)
    needs = _needs(node, bus.main)
    carrying = [step for step in network.children.get(tag, ()) if set(network.below(step.down)) & set(currents.sources)]
    isolated = network.isolation_above(tag) is None and any(network.isolation_above(source) for source, _ in reaching)
    methods = () if needs else _methods(currents, bus)
    usable = [method for method in methods if method.verdict is not BusVerdict.NOT_USABLE]
    passing = [method for method in usable if method.verdict is BusVerdict.PASS]
    used = passing[0] if passing else min(usable, key=_excess, default=None)
    left = max((method.left_a for method in passing if method.left_a is not None), key=value_of, default=None)
    return BusFigures(
        tag,
        bus.rating,
        None if bus.main is None else bus.main.rating,
        "" if bus.main is None else bus.main.where,
        reaching,
        bus.demand,
        not carrying and not isolated,
        methods,
        used,
        left,
        _largest_breaker(currents, left),
        needs,
    )


def _needs(node: Node, main: Device | None) -> tuple[str, ...]:
    """What must be known before any method can be tried."""
    if node.kind is Kind.ISOLATION and node.item.internal_bus != "yes":
        return (f"isolation.{node.tag}.internal_bus",)
    return () if main is not None else (f"panel.{node.tag}.main or the device that feeds {node.tag}",)


def _excess(method: BusMethod) -> float:
    return value_of(method.demand) - value_of(method.limit)


def _bus(currents: Currents, node: Node, reaching: tuple[tuple[str, Number], ...], by_tag: dict[str, SizedCircuit]) -> _Bus:
    network, tag = currents.network, node.tag
    counted = source_currents(network.project, currents.book, tag, [current for _, current in reaching])
    demand = label(source_demand(counted), f"{tag}.sources_125")
    children = network.children.get(tag, ())
    devices = [by_tag[step.tag].device.rating for step in children if by_tag[step.tag].device is not None]
    if node.kind is Kind.PANEL:
        others = node.item.other_breakers or ()
        devices.extend(term_of(other, f"I_{index}", f"panel.{tag}.other_breakers", "further breaker") for index, other in enumerate(others, 1))
    carrying = [step for step in children if set(network.below(step.down)) & set(currents.sources)]
    loads = any(load.item.panel == tag for load in network.of_kind(Kind.LOAD)) or len(carrying) < len(children)
    return _Bus(
        node,
        _rating(node),
        _main(currents, node, by_tag),
        reaching,
        demand,
        tuple(devices),
        (*(step.item.bus_position for step in carrying), *(None for source, _ in reaching if source not in network.below(tag))),
        tuple(step.tag for step in children if by_tag[step.tag].device is None),
        next((by_tag[step.tag] for step in children if step.item.feed_through), None),
        getattr(node.item, "feed", None),
        loads,
    )


def _methods(currents: Currents, bus: _Bus) -> tuple[BusMethod, ...]:
    found = [_sum(bus), _opposite_ends(bus), _all_devices(bus), _center_fed(bus)]
    words = currents.book.wording
    if words.feed_through_method:
        found.append(_feed_through(bus))
    found.append(_unusable("busbar_engineering", "needs a study under engineering supervision"))
    return tuple(found)


def _unusable(key: str, why: str) -> BusMethod:
    return BusMethod(key, BusVerdict.NOT_USABLE, None, None, why, None)


def _held(key: str, demand: Number, limit: Number, why: str, left: Number | None) -> BusMethod:
    verdict = BusVerdict.PASS if at_most(demand, limit) else BusVerdict.FAIL
    return BusMethod(key, verdict, demand, limit, why, left if verdict is BusVerdict.PASS else None)


def _sum(bus: _Bus) -> BusMethod:
    tag = bus.node.tag
    demand = label(bus_sum(bus.demand, bus.main.rating), f"{tag}.sum")
    left = label(remaining_source_current(remaining_by_sum(bus.rating, bus.main.rating, bus.demand)), f"{tag}.left_sum")
    return _held("busbar_sum", demand, bus.rating, "125 % of the sources plus the device protecting the bus", left)


def _opposite_ends(bus: _Bus) -> BusMethod:
    if bus.node.kind is not Kind.PANEL:
        return _unusable("busbar_120", "the positions inside the isolation device are not known")
    if bus.feed not in ENDS:
        return _unusable("busbar_120", f"panel.{bus.node.tag}.feed does not say that the bus is fed at one end")
    if any(position != "opposite end" for position in bus.positions) or not bus.positions:
        return _unusable("busbar_120", "not every source breaker is known to stand at the end opposite the supply")
    tag = bus.node.tag
    demand = label(bus_sum(bus.demand, bus.main.rating), f"{tag}.sum")
    limit = label(bus_120_limit(bus.rating), f"{tag}.limit_120")
    left = label(remaining_source_current(remaining_by_120(bus.rating, bus.main.rating, bus.demand), "busbar_120"), f"{tag}.left_120")
    return _held("busbar_120", demand, limit, "source and supply at opposite ends of the bus", left)


def _all_devices(bus: _Bus) -> BusMethod:
    if bus.node.kind is not Kind.PANEL:
        return _unusable("busbar_all_breakers", "the devices inside the isolation device are not known")
    if bus.node.item.other_breakers is None and (bus.loads or not bus.node.item.generation):
        return _unusable("busbar_all_breakers", f"panel.{bus.node.tag}.other_breakers is not given, so the sum is not known")
    if bus.open:
        return _unusable("busbar_all_breakers", f"the device of {', '.join(bus.open)} is not known, so the sum is not known")
    tag = bus.node.tag
    total = label(bus_all_devices(bus.devices), f"{tag}.all_devices")
    left = label(remaining_source_current(remaining_by_all_devices(bus.rating, total), "busbar_all_breakers"), f"{tag}.left_all")
    return _held("busbar_all_breakers", total, bus.rating, "every load and source device, the main left out", left)


def _center_fed(bus: _Bus) -> BusMethod:
    if bus.feed != "center":
        return _unusable("busbar_center_fed", "the panel is not center-fed")
    if len(set(bus.positions)) != 1 or bus.positions[0] not in ("opposite end", "main end"):
        return _unusable("busbar_center_fed", "the source must stand at one end only of the center-fed bus")
    tag = bus.node.tag
    demand = label(bus_sum(bus.demand, bus.main.rating), f"{tag}.sum")
    limit = label(bus_120_limit(bus.rating), f"{tag}.limit_120")
    left = label(remaining_source_current(remaining_by_120(bus.rating, bus.main.rating, bus.demand), "busbar_120"), f"{tag}.left_120")
    return _held("busbar_center_fed", demand, limit, "center-fed panel of a dwelling, sources at one end", left)


def _feed_through(bus: _Bus) -> BusMethod:
    """Feed-through conductors sized as a feeder segment: the device of the bus and the sources together."""
    run = bus.feed_through
    if run is None:
        return _unusable("busbar_feed_through", "no feed-through lugs are described")
    if run.needs or run.protect_a is None:
        return _unusable("busbar_feed_through", f"the ampacity of the feed-through conductors {run.tag} is not known")
    demand = label(feeder_segment_need(bus.main.rating, bus.demand), f"{bus.node.tag}.feed_through")
    return _held("busbar_feed_through", demand, run.protect_a, f"feed-through conductors {run.tag} sized as a feeder", None)


def _largest_breaker(currents: Currents, left: Number | None) -> float | None:
    """The largest standard breaker whose continuous current (80 percent of it) the bus still takes."""
    if left is None:
        return None
    found = largest_standard_at_or_below(currents.book.standard_ratings(), value_of(left) * 1.25)
    return found if found is not None and found >= LEAST_DEVICE_A else None


def supply_side_figures(currents: Currents, circuits: tuple[SizedCircuit, ...]) -> SupplySideFigures | None:
    """The connections ahead of the service disconnect, or None where there are none.

    Where they lie one behind another, the one nearest to the service carries all of them.
    """
    connections = [circuit for circuit in circuits if is_supply_side_source(circuit.circuit, currents)]
    if not connections:
        return None
    network = currents.network
    junction = min((circuit.circuit.up for circuit in connections), key=lambda tag: len(network.path_up(tag)))
    ahead = tuple(tag for circuit in connections for tag in network.below(circuit.circuit.down))
    tags = tuple(circuit.tag for circuit in connections)
    match currents.book.wording.supply_side:
        case SupplySideLimit.DEVICES_TO_SERVICE_RATING:
            return _by_devices(currents, junction, _sources(currents, ahead), connections, circuits)
        case SupplySideLimit.CURRENTS_TO_SERVICE_CONDUCTORS:
            return _by_conductors(currents, junction, _sources(currents, network.below(junction)), circuits, tags)


def _sources(currents: Currents, tags: tuple[str, ...]) -> tuple[tuple[str, Number], ...]:
    return tuple((tag, currents.sources[tag].export_a) for tag in tags if tag in currents.sources)


def _by_devices(
    currents: Currents,
    junction: str,
    sources: tuple[tuple[str, Number], ...],
    connections: list[SizedCircuit],
    circuits: tuple[SizedCircuit, ...],
) -> SupplySideFigures:
    """2017: the source devices nearest the connection, where one has none the unit breakers behind it."""
    by_down = {circuit.circuit.down: circuit.device for circuit in circuits}
    found: list[Device | None] = []
    for circuit in connections:
        behind = [by_down[tag] for tag in currents.network.below(circuit.circuit.down) if tag in currents.sources]
        found.extend([circuit.device] if circuit.device is not None else behind)
    known = [device.rating for device in found if device is not None]
    demand = label(supply_side_devices(known), f"{junction}.supply_side") if known else 0.0
    limit = term_of(currents.network.project.service.rating, "I_service", "service.rating", "service rating")
    needs = () if len(known) == len(found) else ("the device of every supply-side source circuit",)
    tags = tuple(circuit.tag for circuit in connections)
    return SupplySideFigures(junction, sources, demand, limit, "service rating", tags, needs)


def _by_conductors(
    currents: Currents,
    junction: str,
    sources: tuple[tuple[str, Number], ...],
    circuits: tuple[SizedCircuit, ...],
    tags: tuple[str, ...],
) -> SupplySideFigures:
    """2020 and 2023: the currents of all sources on the service against the ampacity of its conductors after factors."""
    demand = label(supply_side_currents([current for _, current in sources]), f"{junction}.supply_side")
    parent = currents.network.parent.get(junction)
    service = next((circuit for circuit in circuits if parent is not None and circuit.tag == parent.tag), None)
    limit = None if service is None else service.t2_ampacity
    needs = () if limit is not None else ("the service conductors and their path",)
    return SupplySideFigures(junction, sources, demand, limit, "ampacity of the service conductors after factors", tags, needs)
