"""Which arrangements are understood: the root of the tree, what separates in an outage, and what is refused."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import networkx as nx

from linecalc.errors import Problem, RefusedError
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.project.model import SERVICE, Project
from linecalc.units import Quantity

SOURCES = (Kind.UNIT, Kind.INVERTER)
_AC_KINDS = (*SOURCES, Kind.PANEL, Kind.ISOLATION, Kind.TRANSFER, Kind.GENERATOR)
GRID, BACKUP = "grid", "backup"


def refuse(project: Project, nodes: Mapping[str, Node], circuits: list[Circuit]) -> None:
    """Refuse what is not understood.

    Raises
    ------
    RefusedError
        With the reason; nothing is computed then.
    """
    ac = [circuit for circuit in circuits if circuit.system is System.AC]
    _refuse_several_islands(nodes, ac)
    _refuse_ports(nodes, ac)
    _refuse_transfer(project, nodes, ac)
    if project.service is None:
        _refuse_standalone(project, nodes)


def _ends(tag: str, circuits: list[Circuit]) -> list[Circuit]:
    return [circuit for circuit in circuits if tag in (circuit.up, circuit.down)]


def _refuse_several_islands(nodes: Mapping[str, Node], ac: list[Circuit]) -> None:
    isolation = [tag for tag, node in nodes.items() if node.kind is Kind.ISOLATION]
    ports = _units_with_backup_port(ac, nodes)
    if len(isolation) > 1:
        raise RefusedError(f"more than one isolation device ({', '.join(isolation)}): which parts stay connected is not understood")
    if len(ports) > 1:
        raise RefusedError(
            f"more than one unit with a backup port in use ({', '.join(ports)}): whether and how they run together in an outage is not understood"
        )
    if isolation and ports:
        raise RefusedError(
            f"both the isolation device {isolation[0]} and the built-in transfer of {ports[0]} separate the home: which of them opens is not understood"
        )


def _units_with_backup_port(ac: list[Circuit], nodes: Mapping[str, Node]) -> list[str]:
    found = [end for circuit in ac if circuit.item.port == BACKUP for end in (circuit.up, circuit.down) if nodes[end].kind is Kind.UNIT]
    return sorted(dict.fromkeys(found))


def _refuse_ports(nodes: Mapping[str, Node], ac: list[Circuit]) -> None:
    """A source has one AC circuit; a unit with built-in transfer has one to its grid port and one to its backup port."""
    for tag, node in nodes.items():
        ends = _ends(tag, ac) if node.kind in SOURCES else []
        if len(ends) < 2:
            continue
        ports = sorted(circuit.item.port or "" for circuit in ends)
        if node.kind is Kind.UNIT and ports == [BACKUP, GRID]:
            continue
        tags = ", ".join(circuit.tag for circuit in ends)
        raise RefusedError(
            f'{tag} has {len(ends)} AC circuits ({tags}); a unit with built-in transfer has two, one with port = "{GRID}" and one with '
            f'port = "{BACKUP}", and anything else is not understood'
        )


def _refuse_transfer(project: Project, nodes: Mapping[str, Node], ac: list[Circuit]) -> None:
    if project.generator and project.service is None:
        raise RefusedError("a generator in a stand-alone system is not computed: it meets the units there, and linecalc keeps them apart")
    for tag in project.generator:
        ends = _ends(tag, ac)
        others = [nodes[circuit.up if circuit.down == tag else circuit.down] for circuit in ends]
        if len(others) != 1 or others[0].kind is not Kind.TRANSFER:
            raise RefusedError(
                f"generator {tag} must lead to one transfer switch and to nothing else: anything else could join it to the utility or to the sources"
            )
    for tag in project.transfer:
        generators = [circuit for circuit in _ends(tag, ac) if {nodes[circuit.up].kind, nodes[circuit.down].kind} & {Kind.GENERATOR}]
        if len(generators) != 1:
            raise RefusedError(f"transfer switch {tag} has {len(generators)} generators; only a switch between the utility and one generator is understood")


def _refuse_standalone(project: Project, nodes: Mapping[str, Node]) -> None:
    if project.isolation:
        raise RefusedError(f"isolation device {next(iter(project.isolation))} without a utility service: there is nothing to separate from")
    if not any(node.kind is Kind.UNIT for node in nodes.values()):
        raise RefusedError("a system without a utility service needs an inverter-battery unit: nothing else sets its voltage")


def root_of(project: Project, nodes: Mapping[str, Node], circuits: list[Circuit]) -> str | None:
    """The node that everything is oriented from: the service, or stand-alone the panel where the units come together.

    Stand-alone it is the panel with the shortest way to all units, one that
    bonds the neutral before others; None where no panel is reached by all.
    """
    if project.service is not None:
        return SERVICE
    graph = nx.Graph([(circuit.up, circuit.down) for circuit in circuits if circuit.system is System.AC])
    units = [tag for tag, node in nodes.items() if node.kind is Kind.UNIT and tag in graph]
    ways = [nx.single_source_shortest_path_length(graph, unit) for unit in units]
    panels = [tag for tag, node in nodes.items() if node.kind is Kind.PANEL and ways and all(tag in way for way in ways)]
    return min(panels, key=lambda tag: (sum(way[tag] for way in ways), not nodes[tag].item.neutral_bond), default=None)


def island_of(project: Project, nodes: Mapping[str, Node], circuits: list[Circuit], root: str) -> str | None:
    """The node below which the house runs in an outage; stand-alone the root; None where nothing runs."""
    if project.service is None:
        return root
    isolation = next((tag for tag, node in nodes.items() if node.kind is Kind.ISOLATION), None)
    ports = _units_with_backup_port([circuit for circuit in circuits if circuit.system is System.AC], nodes)
    return isolation or next(iter(ports), None)


def wrong_ports(nodes: Mapping[str, Node], parent: Mapping[str, Circuit], children: Mapping[str, tuple[Circuit, ...]]) -> list[Problem]:
    """Circuits whose port is not the one of their side of the unit, or that end at no unit."""
    found = []
    for tag, circuit in parent.items():
        if circuit.item.port == GRID and nodes[tag].kind is not Kind.UNIT:
            found.append(Problem(f"port = {GRID!r}, but {tag}, its end away from the utility, is no unit", key=f"circuit.{circuit.tag}.port"))
    for tag, circuits in children.items():
        for circuit in circuits:
            if circuit.item.port == BACKUP and nodes[tag].kind is not Kind.UNIT:
                found.append(Problem(f"port = {BACKUP!r}, but {tag}, its end towards the utility, is no unit", key=f"circuit.{circuit.tag}.port"))
    return found


def loads_on_generation_panels(nodes: Mapping[str, Node], children: Mapping[str, tuple[Circuit, ...]]) -> list[Problem]:
    """Loads on or below a panel that is said to be for generation alone."""
    found = []
    for tag, node in nodes.items():
        if node.kind is not Kind.PANEL or not node.item.generation:
            continue
        below = _below(tag, children)
        loads = [other.tag for other in nodes.values() if other.kind is Kind.LOAD and (other.tag in below or other.item.panel in below)]
        loads += [other for other in below if nodes[other].kind is Kind.PANEL and not nodes[other].item.generation]
        if loads:
            message = f"{tag} is said to be for generation alone, but {', '.join(loads)} hangs on it; leave generation out, or move the load"
            found.append(Problem(message, key=f"panel.{tag}.generation"))
    return found


def devices_ahead_of_the_disconnect(nodes: Mapping[str, Node], parent: Mapping[str, Circuit]) -> list[Problem]:
    """Breakers stated on circuits that begin at the service, or at a box or device that only passes it on."""
    found = []
    for circuit in parent.values():
        node = nodes[circuit.up]
        passing = node.kind in (Kind.SERVICE, Kind.JUNCTION) or (node.kind is Kind.ISOLATION and not isinstance(node.item.main, Quantity))
        if isinstance(circuit.item.breaker, Quantity) and passing and _is_on_service(circuit.up, nodes, parent):
            where = "the service" if node.kind is Kind.SERVICE else circuit.up
            message = f"a breaker at {where} would be a service disconnect of its own; write it as a disconnect, or as the main of what follows"
            found.append(Problem(message, key=f"circuit.{circuit.tag}.breaker"))
    return found


def apart_from_the_service(nodes: Mapping[str, Node], order: Sequence[str], end: str) -> list[Problem]:
    """Units, panels and devices of the AC side that no AC circuits lead from; conductors of strings and storage do not count."""
    reached = set(order)
    apart = (tag for tag, node in nodes.items() if node.kind in _AC_KINDS and tag not in reached)
    return [Problem(f"no AC circuits lead from {tag} to {end}", key=f"{nodes[tag].kind.value}.{tag}", found=tag) for tag in apart]


def refuse_sources_on_service_isolation(
    nodes: Mapping[str, Node], parent: Mapping[str, Circuit], children: Mapping[str, tuple[Circuit, ...]]
) -> None:
    """Refuse sources on their own circuit from an isolation device ahead of the service disconnect.

    Raises
    ------
    RefusedError
        It is a supply-side connection inside the device, with its disconnect.
    """
    for tag, node in nodes.items():
        if node.kind is not Kind.ISOLATION or isinstance(node.item.main, Quantity) or not _is_on_service(tag, nodes, parent):
            continue
        for circuit in children.get(tag, ()):
            kinds = {nodes[below].kind for below in _below(circuit.down, children)}
            if kinds & set(SOURCES) and not kinds & {Kind.PANEL, Kind.LOAD}:
                raise RefusedError(
                    f"{circuit.tag} joins a source to the isolation device {tag} ahead of the service disconnect: a supply-side connection inside "
                    "that device is not computed; give it a main, or write the joint as a junction with a disconnect behind it"
                )


def _is_on_service(tag: str, nodes: Mapping[str, Node], parent: Mapping[str, Circuit]) -> bool:
    """Whether only junctions lie between the service and a node."""
    while tag in parent:
        if isinstance(parent[tag].item.breaker, Quantity):
            return False
        tag = parent[tag].up
        if nodes[tag].kind not in (Kind.SERVICE, Kind.JUNCTION):
            return False
    return tag == SERVICE


def _below(tag: str, children: Mapping[str, tuple[Circuit, ...]]) -> list[str]:
    """A node and everything beyond it."""
    found = [tag]
    for each in found:
        found.extend(circuit.down for circuit in children.get(each, ()))
    return found


def several_service_disconnects(nodes: Mapping[str, Node], children: Mapping[str, tuple[Circuit, ...]]) -> str | None:
    """The panel with main lugs directly behind the service whose breakers would all be service disconnects."""
    waiting = [SERVICE]
    fed = {circuit.down for circuits in children.values() for circuit in circuits}
    for tag in waiting:
        for circuit in children.get(tag, ()):
            node = nodes[circuit.down]
            ahead = node.kind is Kind.JUNCTION or (node.kind is Kind.ISOLATION and node.item.meter_socket)
            if ahead and circuit.item.breaker is None:
                waiting.append(node.tag)
            loads = sum(load.kind is Kind.LOAD and load.item.panel == node.tag and load.tag not in fed for load in nodes.values())
            own = len(children.get(node.tag, ())) + len(getattr(node.item, "other_breakers", None) or ()) + loads
            if node.kind is Kind.PANEL and node.item.main == "lugs" and circuit.item.breaker is None and own > 1:
                return node.tag
    return None
