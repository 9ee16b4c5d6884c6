"""What a sheet says about each subject: strings, units, storage, buses, raceways, loads, the service."""

from __future__ import annotations

from linecalc.network.records import Kind, Node
from linecalc.report.amounts import against, amount, both
from linecalc.report.circuit_block import circuit_facts, circuit_grids, circuit_title
from linecalc.report.content import Block, Fact, Grid
from linecalc.report.fault_block import fault_grid
from linecalc.report.findings import short_citation, short_finding
from linecalc.report.inputs import MARKED, Inputs
from linecalc.report.lines import LineWriter
from linecalc.report.load_sheet import load_grids
from linecalc.sizing.records import BusFigures, BusMethod, BusVerdict, SizedRaceway, StringFigures
from linecalc.study import Study, subjects_in_order
from linecalc.term import Number
from linecalc.units import Quantity

SYSTEM = "system"
_NOTHING = "-"
_VERDICTS = {BusVerdict.PASS: "passes", BusVerdict.FAIL: "does not pass", BusVerdict.NOT_USABLE: "not usable"}
_SHOWN = {
    Kind.UNIT: ("ac_power", "ac_current", "ac_current_island", "overcurrent_max", "charge_power", "discharge_power", "energy", "mppt"),
    Kind.INVERTER: ("ac_power", "ac_current", "overcurrent_max", "mppt"),
    Kind.STORAGE: ("energy", "usable_energy", "charge_power", "discharge_power", "voltage_min", "voltage_max", "current"),
}
_ITEM_KEYS = ("bus", "rating", "main", "device", "feed", "voltage", "current", "power", "rla", "mca", "mocp", "interrupting", "fault_current", "conductor")
_WORDS = {
    "rla": "RLA",
    "mca": "MCA",
    "mocp": "MOCP",
    "ac_power": "AC power",
    "ac_current": "AC current, export",
    "ac_current_island": "AC current, island",
    "overcurrent_max": "Largest breaker",
    "mppt": "MPPT inputs",
    "voltage_min": "Lowest voltage",
    "voltage_max": "Highest voltage",
    "bus": "Bus rating",
    "interrupting": "Interrupting rating",
    "feed": "Fed from",
}


class BlockWriter:
    """Writes one block a subject, each with its facts, its arithmetic and its checks."""

    def __init__(self, study: Study, inputs: Inputs):
        self._study = study
        self._inputs = inputs
        self._writer = LineWriter(study.book, study.steps, inputs)
        sized = study.sized
        self._circuits = {found.tag: found for found in sized.circuits}
        self._raceways = {found.section: found for found in sized.raceways}
        self._strings = {found.tag: found for found in sized.strings}
        self._buses = {found.tag: found for found in sized.buses}
        self._steps: dict[str, list] = {}
        for step in study.steps:
            self._steps.setdefault(step.subject, []).append(self._writer.line(step))

    def blocks(self) -> tuple[Block, ...]:
        """One block for every subject, in the order of power flow, the system as a whole at the end."""
        return tuple(self._block(tag) for tag in self._order())

    def _order(self) -> list[str]:
        order = [tag for tag in subjects_in_order(self._study.network) if tag != SYSTEM]
        others = [*self._steps, *(check.subject for check in self._study.checks)]
        order += [tag for tag in dict.fromkeys(others) if tag not in order and tag != SYSTEM]
        return [*order, SYSTEM] if SYSTEM in others else order

    def _block(self, tag: str) -> Block:
        title, facts, grids = self._described(tag)
        findings = tuple(short_finding(check) for check in self._study.of_subject(tag))
        return Block(tag, title, facts, grids, tuple(self._steps.get(tag, ())), findings)

    def _described(self, tag: str) -> tuple[str, tuple[Fact, ...], tuple[Grid, ...]]:
        if tag in self._circuits:
            circuit = self._circuits[tag]
            grids = circuit_grids(circuit, self._study.sized.raceways, self._inputs)
            return circuit_title(circuit), circuit_facts(circuit, self._inputs), grids
        if tag in self._study.project.section:
            return self._section(tag)
        if tag in self._strings:
            figures = self._strings[tag]
            return f"{tag}: string of {figures.count} modules {figures.module}", self._node_facts(tag), (string_grid(figures),)
        if tag in self._study.network.nodes:
            node = self._study.network.nodes[tag]
            grids = (bus_grid(self._study, self._buses[tag]),) if tag in self._buses else ()
            faults = None if node.kind is Kind.LOAD else fault_grid(self._study.sized.faults, tag)
            grids += (faults,) if faults is not None else ()
            load = self._study.currents.dwelling.at(tag)
            grids += load_grids(self._study.book, load) if load is not None and load.tag == tag else ()
            return f"{tag}: {_kind(node)}", self._node_facts(tag) + self._bus_facts(tag), grids
        return ("The system as a whole" if tag == SYSTEM else tag), (), ()

    def _section(self, tag: str) -> tuple[str, tuple[Fact, ...], tuple[Grid, ...]]:
        section = self._study.project.section[tag]
        facts = [Fact("Length", both(section.length.value, "ft"), _mark(section.length)), Fact("Place", section.place)]
        raceway = self._raceways.get(tag)
        if raceway is None:
            return f"{tag}: {section.method}", tuple(facts), ()
        return f"{tag}: raceway, {section.method}", (*facts, *raceway_facts(raceway)), (held_grid(raceway),)

    def _node_facts(self, tag: str) -> tuple[Fact, ...]:
        node = self._study.network.nodes[tag]
        described = (getattr(node.item, "description", None), getattr(node.data, "description", None))
        facts = [Fact("Description", text) for text in described if text]
        facts += [Fact("Location", node.item.location)] if getattr(node.item, "location", None) else []
        facts += [Fact("Status", "existing")] if getattr(node.item, "existing", False) else []
        facts += [Fact("Equipment", name)] if (name := getattr(node.item, "equipment", None)) else []
        facts += [fact for key in _ITEM_KEYS if (fact := _fact(key, getattr(node.item, key, None)))]
        facts += [fact for key in _SHOWN.get(node.kind, ()) if (fact := _fact(key, getattr(node.data, key, None)))]
        return tuple(facts)

    def _bus_facts(self, tag: str) -> tuple[Fact, ...]:
        bus = self._buses.get(tag)
        if bus is None:
            return ()
        sources = ", ".join(f"{source} {amount(amps, 'A')}" for source, amps in bus.sources)
        protected = _NOTHING if bus.protected_by is None else amount(bus.protected_by, "A")
        facts = [Fact("Protected by", f"{protected} in {bus.protected_where}" if bus.protected_where else protected), Fact("Sources that reach the bus", sources or "none")]
        if bus.left_a is not None:
            breaker = "no standard breaker" if bus.largest_breaker_a is None else f"a {amount(bus.largest_breaker_a, 'A')} breaker at most"
            facts.append(Fact("Left for further sources", f"{amount(bus.left_a, 'A')} of source current: {breaker}"))
        return tuple(facts)


def _kind(node: Node) -> str:
    if node.kind is Kind.PANEL:
        return "backup panel" if node.item.backup else "generation panel" if node.item.generation else "panel"
    return f"{node.item.kind} load" if node.kind is Kind.LOAD else node.kind.value


def _fact(key: str, value: object) -> Fact | None:
    label = _WORDS.get(key, key.replace("_", " ").capitalize())
    if isinstance(value, Quantity):
        return Fact(label, amount(value.value, value.unit), _mark(value))
    if value is None or isinstance(value, tuple):
        return None
    return Fact(label, getattr(value, "as_written", None) or str(value))


def _mark(quantity: Quantity) -> str:
    return quantity.basis if quantity.basis in MARKED else ""


def string_grid(figures: StringFigures) -> Grid:
    """The voltages and currents of a string."""
    rows = (
        ("Cold open-circuit voltage, datasheet coefficient", _value(figures.cold_voc, "V")),
        ("Cold open-circuit voltage, code table", _value(figures.cold_voc_table, "V")),
        ("Cold working voltage", _value(figures.cold_vmp, "V")),
        ("Hot working voltage", _value(figures.hot_vmp, "V")),
        ("Short-circuit current", _value(figures.isc, "A")),
        ("Maximum circuit current, 1.25 x Isc", _value(figures.max_current, "A")),
        ("Design current, 1.25 x 1.25 x Isc", _value(figures.design, "A")),
        ("Power at standard test conditions", _value(figures.power_w, "W")),
    )
    return Grid("Voltages and currents", ("Figure", "Value"), rows)


def _value(number: Number | None, unit: str) -> str:
    return "not known" if number is None else amount(number, unit)


def bus_grid(study: Study, bus: BusFigures) -> Grid:
    """Every busbar method of the edition, with its arithmetic or why it is not usable."""
    rows = tuple(_method(study, bus, method) for method in bus.methods)
    return Grid("Busbar methods", ("Section", "Method", "Demand and limit", "Result", "Why"), rows)


def _method(study: Study, bus: BusFigures, method: BusMethod) -> tuple[str, ...]:
    citation = study.book.cite(method.key)
    numbers = _NOTHING
    if method.demand is not None and method.limit is not None:
        numbers = against(method.demand, method.limit, "A").relation
    result = ("used: " if method is bus.used else "") + _VERDICTS[method.verdict]
    return short_citation(citation.text), citation.description, numbers, result, method.why or _NOTHING


def raceway_facts(raceway: SizedRaceway) -> tuple[Fact, ...]:
    """Trade size, fill and what is missing."""
    how = "chosen" if raceway.selected else "given"
    size = f"{raceway.size} in, {how}" if raceway.size else "no size of the table holds the conductors"
    facts = [Fact("Trade size", f"{raceway.method} {size}"), Fact("Carrying current", f"{raceway.current_carrying} conductors")]
    if raceway.fill_percent is not None:
        facts.append(Fact("Fill", against(raceway.fill_percent, raceway.limit_percent, "percent").relation))
    if raceway.needs:
        facts.append(Fact("Inputs missing", ", ".join(raceway.needs)))
    return tuple(facts)


def held_grid(raceway: SizedRaceway) -> Grid:
    """The conductors that a raceway holds."""
    rows = tuple(
        (held.circuit, held.role, f"{held.count} x {held.size} {held.insulation}", _value(held.area_in2, "in2")) for held in raceway.held
    )
    return Grid("Conductors held", ("Circuit", "Role", "Conductors", "Area of one"), rows)
