"""Project to Network: the graph, checked, with every AC edge oriented from the service."""

from __future__ import annotations

import re
from dataclasses import dataclass

import networkx as nx

from linecalc.errors import InputError, Problem, RefusedError
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.network.topology import (
    SOURCES,
    apart_from_the_service,
    devices_ahead_of_the_disconnect,
    island_of,
    loads_on_generation_panels,
    refuse,
    refuse_sources_on_service_isolation,
    root_of,
    several_service_disconnects,
    wrong_ports,
)
from linecalc.project.model import SERVICE, Project

_KINDS = {
    "panel": Kind.PANEL,
    "string": Kind.STRING,
    "unit": Kind.UNIT,
    "inverter": Kind.INVERTER,
    "storage": Kind.STORAGE,
    "isolation": Kind.ISOLATION,
    "disconnect": Kind.DISCONNECT,
    "junction": Kind.JUNCTION,
    "combiner": Kind.COMBINER,
    "generator": Kind.GENERATOR,
    "transfer": Kind.TRANSFER,
    "load": Kind.LOAD,
}
_DC_KINDS = (Kind.STRING, Kind.STORAGE, Kind.COMBINER, Kind.JUNCTION, Kind.DISCONNECT)


@dataclass(frozen=True, slots=True)
class Network:
    """The house as a graph.

    ``root`` is the service, or stand-alone the panel where the units come
    together; ``island`` is the node below which the house runs in an outage:
    the isolation device, a unit with built-in transfer, stand-alone the root.

    ``parent`` maps each AC node to its circuit towards the service;
    ``order`` lists AC nodes from the leaves to the service, so that a sum over
    it sees children first. ``circuits`` follow the flow of power: DC circuits,
    then AC circuits from the sources to the service.
    """

    project: Project
    nodes: dict[str, Node]
    circuits: tuple[Circuit, ...]
    graph: nx.Graph
    parent: dict[str, Circuit]
    children: dict[str, tuple[Circuit, ...]]
    order: tuple[str, ...]
    root: str = SERVICE
    island: str | None = None

    def is_standalone(self) -> bool:
        """Whether there is no utility service."""
        return self.root != SERVICE

    def circuit(self, tag: str) -> Circuit:
        """The circuit of that tag."""
        return next(circuit for circuit in self.circuits if circuit.tag == tag)

    def of_kind(self, *kinds: Kind) -> tuple[Node, ...]:
        """The nodes of the given kinds, in natural order of their tags."""
        return tuple(node for node in self.nodes.values() if node.kind in kinds)

    def below(self, tag: str) -> tuple[str, ...]:
        """The AC node ``tag`` and all AC nodes farther from the service."""
        found = [tag]
        for node in found:
            found.extend(circuit.down for circuit in self.children.get(node, ()))
        return tuple(found)

    def strings_behind(self, circuit: Circuit) -> tuple[Node, ...]:
        """The strings whose current a PV circuit carries."""
        return self._behind(circuit, Kind.STRING)

    def storage_behind(self, circuit: Circuit) -> tuple[Node, ...]:
        """The storage modules whose current a storage circuit carries."""
        return self._behind(circuit, Kind.STORAGE)

    def _behind(self, circuit: Circuit, kind: Kind) -> tuple[Node, ...]:
        away = [circuit.down]
        seen = {circuit.up, circuit.down}
        for tag in away:
            for other in self.graph.neighbors(tag):
                if other not in seen:
                    seen.add(other)
                    away.append(other)
        return tuple(self.nodes[tag] for tag in sorted(away, key=natural) if self.nodes[tag].kind is kind)

    def path_up(self, tag: str) -> tuple[Circuit, ...]:
        """The circuits from an AC node to the service, in that order."""
        found = []
        while tag in self.parent:
            found.append(self.parent[tag])
            tag = self.parent[tag].up
        return tuple(found)

    def isolation_above(self, tag: str) -> str | None:
        """What separates an AC node from the utility in an outage, itself included; None where nothing does."""
        while True:
            if tag == self.island:
                return tag
            if tag not in self.parent:
                return None
            tag = self.parent[tag].up


def natural(tag: str) -> tuple[object, ...]:
    """Sort key that puts C2 before C10."""
    return tuple(int(part) if part.isdigit() else part for part in re.split(r"(\d+)", tag))


def build_network(project: Project) -> Network:
    """Build and check the graph of a project.

    Raises
    ------
    InputError
        Cycles, dangling or disconnected parts: every one of them.
    RefusedError
        A topology that linecalc does not understand, with the reason.
    """
    nodes = _nodes(project)
    circuits = _circuits(project, nodes)
    graph = nx.Graph()
    graph.add_nodes_from(nodes)
    graph.add_edges_from((circuit.up, circuit.down) for circuit in circuits)
    if project.service is None:
        refuse(project, nodes, circuits)
    root = root_of(project, nodes, circuits)
    if root is None:
        raise RefusedError("a system without a utility service needs a panel that every unit leads to: it is the bus that everything hangs on")
    problems = _topology_problems(project, nodes, circuits, graph, root)
    if problems:
        raise InputError(problems)
    refuse(project, nodes, circuits)
    network = _oriented(project, nodes, circuits, graph, root)
    wrong = [
        *apart_from_the_service(nodes, network.order, _end(root)),
        *wrong_ports(nodes, network.parent, network.children),
        *_misplaced_loads(network),
        *loads_on_generation_panels(nodes, network.children),
        *devices_ahead_of_the_disconnect(nodes, network.parent),
    ]
    if wrong:
        raise InputError(wrong)
    refuse_sources_on_service_isolation(nodes, network.parent, network.children)
    several = several_service_disconnects(nodes, network.children)
    if several is not None:
        raise RefusedError(
            f"panel {several} hangs on the service with main lugs, so each of its breakers would be a service disconnect: "
            "several service disconnects on one bus are not computed, since no one device protects that bus"
        )
    return network


def _misplaced_loads(network: Network) -> list[Problem]:
    """Loads whose circuit comes from another panel than the one they name."""
    found = []
    for node in network.of_kind(Kind.LOAD):
        way = [step.up for step in network.path_up(node.tag)]
        panel = next((tag for tag in way if network.nodes[tag].kind is Kind.PANEL), None)
        if panel is not None and panel != node.item.panel:
            found.append(Problem(f"names panel {node.item.panel}, but its circuit comes from {panel}", key=f"load.{node.tag}.panel", found=node.item.panel))
    return found


def _nodes(project: Project) -> dict[str, Node]:
    found = {SERVICE: Node(SERVICE, Kind.SERVICE, project.service)} if project.service is not None else {}
    for table, kind in _KINDS.items():
        items = getattr(project, table)
        for tag in sorted(items, key=natural):
            item = items[tag]
            data = project.equipment.get(getattr(item, "equipment", None) or getattr(item, "module", None) or "")
            found[tag] = Node(tag, kind, item, data)
    return found


def _circuits(project: Project, nodes: dict[str, Node]) -> list[Circuit]:
    """The circuits, each with its system; on the DC side ``up`` is towards the unit."""
    ends = nx.Graph()
    ends.add_nodes_from(nodes)
    ends.add_edges_from((item.from_, item.to) for item in project.circuit.values())
    system = _dc_systems(nodes, ends)
    distance = _distance_to_sources(nodes, ends, system)
    found = []
    for tag in sorted(project.circuit, key=natural):
        item = project.circuit[tag]
        kind = system.get(item.from_) or system.get(item.to) or System.AC
        nearer_from = distance.get(item.from_, 0) < distance.get(item.to, 0)
        up, down = (item.from_, item.to) if kind is System.AC or nearer_from else (item.to, item.from_)
        found.append(Circuit(tag, kind, up, down, item, item.path, _length_ft(project, item)))
    return found


def _length_ft(project: Project, item: object) -> float | None:
    if item.path:
        return sum(project.section[name].length.value for name in item.path)
    return item.length.value if item.length is not None else None


def _dc_systems(nodes: dict[str, Node], ends: nx.Graph) -> dict[str, System]:
    """The nodes on the DC side, found from strings and storage modules up to the units."""
    found: dict[str, System] = {}
    for kind, system in ((Kind.STRING, System.PV), (Kind.COMBINER, System.PV), (Kind.STORAGE, System.STORAGE)):
        waiting = [tag for tag, node in nodes.items() if node.kind is kind]
        while waiting:
            tag = waiting.pop()
            if tag in found or nodes[tag].kind in SOURCES or nodes[tag].kind not in _DC_KINDS:
                continue
            found[tag] = system
            waiting.extend(ends.neighbors(tag))
    return found


def _distance_to_sources(nodes: dict[str, Node], ends: nx.Graph, system: dict[str, System]) -> dict[str, int]:
    sources = {tag for tag, node in nodes.items() if node.kind in SOURCES}
    direct = nx.subgraph(ends, set(system) | sources)
    return nx.multi_source_dijkstra_path_length(direct, sources, weight=None) if sources else {}


def _topology_problems(
    project: Project, nodes: dict[str, Node], circuits: list[Circuit], graph: nx.Graph, root: str
) -> list[Problem]:
    problems = []
    seen: dict[frozenset[str], str] = {}
    for circuit in circuits:
        ends = frozenset((circuit.up, circuit.down))
        if len(ends) == 1:
            problems.append(Problem(f"connects {circuit.up} to itself", key=f"circuit.{circuit.tag}"))
        elif ends in seen:
            problems.append(
                Problem(
                    f"connects the same two things as circuit {seen[ends]}; use parallel = 2 for parallel conductors",
                    key=f"circuit.{circuit.tag}",
                )
            )
        seen.setdefault(ends, circuit.tag)
    for cycle in nx.cycle_basis(graph):
        names = ", ".join(sorted(cycle, key=natural))
        problems.append(Problem(f"the circuits between {names} close a loop; linecalc computes radial systems only", key="circuit"))
    problems += _beside_the_service(nodes, circuits, graph)
    reached = nx.node_connected_component(graph, root)
    end = _end(root)
    for tag, node in nodes.items():
        if tag not in reached and node.kind not in (Kind.LOAD, Kind.STORAGE, Kind.STRING):
            problems.append(
                Problem(f"no circuits lead from {tag} to {end}", key=f"{_table_of(project, tag)}.{tag}", found=tag)
            )
    return problems


def _end(root: str) -> str:
    return "the service" if root == SERVICE else f"panel {root}, where the units come together"


def _beside_the_service(nodes: dict[str, Node], circuits: list[Circuit], graph: nx.Graph) -> list[Problem]:
    """Circuits that bring sources to the service itself, beside the one that serves the house: their joint has no tag."""
    leaving = [circuit for circuit in circuits if SERVICE in (circuit.up, circuit.down)]
    if len(leaving) < 2:
        return []
    without = graph.copy()
    without.remove_node(SERVICE)
    found = []
    for circuit in leaving:
        end = circuit.down if circuit.up == SERVICE else circuit.up
        if any(nodes[tag].kind in SOURCES for tag in nx.node_connected_component(without, end)):
            message = "brings sources to the service beside another circuit; write the joint as a junction, and lead both circuits and the service conductors to it"
            found.append(Problem(message, key=f"circuit.{circuit.tag}"))
    return found


def _table_of(project: Project, tag: str) -> str:
    return next(table for table in _KINDS if tag in getattr(project, table))


def _oriented(project: Project, nodes: dict[str, Node], circuits: list[Circuit], graph: nx.Graph, root: str) -> Network:
    by_ends = {frozenset((circuit.up, circuit.down)): circuit for circuit in circuits if circuit.system is System.AC}
    parent: dict[str, Circuit] = {}
    children: dict[str, list[Circuit]] = {}
    preorder = [root]
    ac_graph = nx.Graph([tuple(ends) for ends in by_ends])
    if root in ac_graph:
        for up, down in nx.dfs_edges(ac_graph, root, sort_neighbors=lambda tags: sorted(tags, key=natural)):
            found = by_ends[frozenset((up, down))]
            oriented = Circuit(found.tag, found.system, up, down, found.item, found.sections, found.length_ft)
            parent[down] = oriented
            children.setdefault(up, []).append(oriented)
            preorder.append(down)
    order = tuple(reversed(preorder))
    dc = [circuit for circuit in circuits if circuit.system is not System.AC]
    dc.sort(key=lambda circuit: (natural(circuit.up), circuit.system is System.STORAGE, natural(circuit.tag)))
    ordered = tuple(dc) + tuple(parent[tag] for tag in order if tag in parent)
    return Network(project, nodes, ordered, graph, parent, {tag: tuple(found) for tag, found in children.items()}, order, root, island_of(project, nodes, circuits, root))
