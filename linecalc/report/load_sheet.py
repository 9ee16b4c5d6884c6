"""The dwelling load as a document: one block a bus, every method line by line, the neutral, the arithmetic."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.caution import CAUTION
from linecalc.check import Check, Step
from linecalc.codebook import Book
from linecalc.network.dwelling_records import METHOD_CITE, BusLoad, LoadLine, LoadMethod, MethodLoad
from linecalc.network.records import Kind, Node
from linecalc.report.amounts import amount
from linecalc.report.content import Block, Fact, Grid
from linecalc.report.findings import short_citation, short_finding
from linecalc.report.inputs import Inputs, inputs_of_study
from linecalc.report.lines import LineWriter
from linecalc.report.origins import Origins
from linecalc.study import Study
from linecalc.term import named_terms, value_of

METHOD_NAMES = {
    LoadMethod.STANDARD: "Standard method",
    LoadMethod.OPTIONAL: "Optional method",
    LoadMethod.EXISTING: "Existing dwelling",
    LoadMethod.MEASURED: "Measured demand",
}
RULES = ("load_", "service_load_rating", "feeder_load_rating")
WHOLE, BACKED_UP, PART = "whole dwelling", "backed-up loads", "part of the dwelling"
_COLUMNS = ("Load", "Connected", "Counted", "How", "Section")


@dataclass(frozen=True, slots=True)
class Part:
    """What is computed for one bus: which part of the dwelling, and the block that shows it."""

    tag: str
    serves: str
    backed_up: bool
    load: BusLoad | None
    stated: Node | None
    block: Block


@dataclass(frozen=True, slots=True)
class LoadSheet:
    """The load calculation of a project, from the whole dwelling to its parts."""

    title: str
    checked_against: str
    facts: tuple[Fact, ...]
    parts: tuple[Part, ...]
    doubts: tuple[Fact, ...]
    checks: tuple[Check, ...]
    steps: tuple[Step, ...]
    caution: str


def load_sheet(study: Study) -> LoadSheet:
    """The content of ``linecalc load``."""
    inputs = inputs_of_study(study)
    checks = tuple(check for check in study.checks if check.rule.startswith(RULES))
    writer = _Writer(study, inputs, checks)
    buses = sorted(study.currents.dwelling.buses, key=lambda bus: (not bus.whole, -study.network.order.index(bus.nodes[-1])))
    parts = [writer.computed(bus) for bus in buses]
    parts += [writer.stated(node) for node in study.network.of_kind(Kind.LOAD) if node.item.kind == "calculated"]
    used = {step.id: step for part in parts for step in writer.steps_of(part)}
    steps = tuple(step for step in study.steps if step.id in used)
    return LoadSheet(
        study.project.project.title,
        study.checked_against,
        _facts(study),
        tuple(parts),
        tuple(Fact(item.path, f"{item.value}: {item.reason}") for item in study.assumptions if item.path.startswith(("dwelling.", "load."))),
        checks,
        steps,
        CAUTION,
    )


def _facts(study: Study) -> tuple[Fact, ...]:
    dwelling = study.project.dwelling
    facts = []
    area = None if dwelling is None else dwelling.floor_area or study.project.site.floor_area
    if area is not None:
        facts.append(Fact("Floor area", amount(area.value, area.unit)))
    if study.project.service is not None:
        facts.append(Fact("Service", amount(study.project.service.rating.value, "A")))
    if dwelling is not None and not dwelling.methods:
        facts.append(Fact("Methods", "none chosen: every lawful one whose inputs are given"))
    return tuple(facts)


class _Writer:
    """Writes one part of the sheet after the other."""

    def __init__(self, study: Study, inputs: Inputs, checks: tuple[Check, ...]):
        self._study = study
        self._checks = checks
        self._origins = Origins(study.steps, inputs)
        self._lines = LineWriter(study.book, study.steps, inputs)
        self._island = study.network.island
        self._inside = set() if self._island is None else set(study.network.below(self._island))

    def computed(self, bus: BusLoad) -> Part:
        """The part of a bus whose load is computed."""
        serves = WHOLE if bus.whole else BACKED_UP if self._island in bus.nodes else PART
        backed_up = bool(self._inside) and set(bus.nodes) & self._inside != set()
        also = f" (also {', '.join(bus.nodes[1:])})" if len(bus.nodes) > 1 else ""
        everything = ", all of it backed up" if bus.whole and backed_up else ""
        block = Block(
            bus.tag,
            f"{serves.capitalize()}{everything}: {bus.tag}{also}",
            self._bus_facts(bus),
            load_grids(self._study.book, bus),
            tuple(self._lines.line(step) for step in self._steps(bus)),
            tuple(short_finding(check) for check in self._checks if check.subject in bus.nodes),
        )
        return Part(bus.tag, serves, backed_up, bus, None, block)

    def stated(self, node: Node) -> Part:
        """The part of a panel whose load is stated as a total."""
        panel, load = node.item.panel, node.item
        backed_up = panel in self._inside
        serves = BACKED_UP if backed_up and self._study.project.panel[panel].backup else PART
        size = load.current or load.power
        facts = [Fact("Stated", amount(size.value, size.unit)), Fact("Calculation", load.calculation or "not named")]
        if load.continuous_part is not None:
            facts.append(Fact("Continuous part", amount(load.continuous_part.value, "A")))
        if load.unbalance is not None:
            facts.append(Fact("Unbalance", amount(load.unbalance.value, "A")))
        findings = tuple(short_finding(check) for check in self._checks if check.subject == panel)
        block = Block(node.tag, f"Stated load of {panel} and everything downstream: {node.tag}", tuple(facts), (), (), findings)
        return Part(panel, serves, backed_up, None, node, block)

    def steps_of(self, part: Part) -> tuple[Step, ...]:
        """The steps behind a part."""
        return () if part.load is None else self._steps(part.load)

    def _steps(self, bus: BusLoad) -> tuple[Step, ...]:
        roots = [term for method in bus.methods for term in (method.total_va, method.current_a) if term is not None]
        roots += [bus.continuous_a] if bus.neutral is None else [bus.continuous_a, bus.neutral.current_a]
        wanted = {self._origins.step_id(term, bus.tag) for root in roots for term in named_terms(root)}
        return tuple(step for step in self._study.steps if step.id in wanted)

    def _bus_facts(self, bus: BusLoad) -> tuple[Fact, ...]:
        facts = []
        if bus.used is None:
            facts.append(Fact("Load", f"not computed; needs {', '.join(bus.needs) or 'a method that is lawful here'}"))
        else:
            section = _cite(self._study.book, METHOD_CITE[bus.used.method])
            facts.append(Fact("Load", f"{amount(bus.used.current_a, 'A')} by the {METHOD_NAMES[bus.used.method].lower()} [{section}]"))
        if value_of(bus.continuous_a):
            facts.append(Fact("Continuous part", f"{amount(bus.continuous_a, 'A')}, at 125 % for conductors and devices"))
        if bus.neutral is not None:
            facts.append(Fact("Neutral", amount(bus.neutral.current_a, "A")))
        for method in bus.methods:
            if method is not bus.used:
                not_used = "not usable here: " if method.current_a is None else ""
                facts.append(Fact(METHOD_NAMES[method.method], f"{not_used}{method.why}"))
        facts += [Fact("Readings differ", f"{reading.text}: {reading.current_a:g} A") for method in bus.methods for reading in method.readings]
        return tuple(facts)


def load_grids(book: Book, bus: BusLoad) -> tuple[Grid, ...]:
    """Every method of a bus that could be computed, line by line, and its neutral load."""
    grids = [_method(book, bus, method) for method in bus.methods if method.lines]
    if bus.neutral is not None and bus.neutral.lines:
        grids.append(_neutral(book, bus))
    return tuple(grids)


def _method(book: Book, bus: BusLoad, method: MethodLoad) -> Grid:
    rows = [_row(book, line) for line in method.lines]
    rows.append(("calculated load", "", amount(method.total_va, "VA"), _in_amperes(method), _cite(book, "calc_fractions")))
    if method.left_out:
        rows.append((f"left out: {', '.join(method.left_out)}", "", "0 VA", "never run with the loads counted", _cite(book, "load_noncoincident")))
    verdict = ", decides" if method is bus.used else ""
    caption = f"{METHOD_NAMES[method.method]} [{_cite(book, METHOD_CITE[method.method])}]: {amount(method.current_a, 'A')}{verdict}"
    return Grid(caption, _COLUMNS, tuple(rows))


def _in_amperes(method: MethodLoad) -> str:
    legs = " and ".join(amount(leg, "A") for leg in method.legs_a)
    which = "" if len(method.legs_a) == 1 else " on the legs"
    return f"at 240 V: {legs}{which}; in whole amperes {amount(method.current_a, 'A')}"


def _neutral(book: Book, bus: BusLoad) -> Grid:
    rows = [_row(book, line) for line in bus.neutral.lines]
    rows.append(("largest load between neutral and one leg", "", amount(bus.neutral.current_a, "A"), "", _cite(book, "load_neutral")))
    return Grid("Neutral load", _COLUMNS, tuple(rows))


def _row(book: Book, line: LoadLine) -> tuple[str, ...]:
    demand = "" if line.counted_va is None else amount(line.counted_va, "VA")
    return line.text, amount(line.connected_va, "VA"), demand, line.how, _cite(book, line.cite)


def _cite(book: Book, key: str) -> str:
    return short_citation(book.cite(key).text)
