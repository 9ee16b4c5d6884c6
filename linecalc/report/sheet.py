"""From a Study to a calculation sheet: the order in which a reviewer reads it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from linecalc.caution import CAUTION
from linecalc.codebook.tables import names
from linecalc.network.records import Kind, Node
from linecalc.project.model import Project
from linecalc.report.amounts import amount, both
from linecalc.report.blocks import BlockWriter
from linecalc.report.circuit_block import schedule_grid
from linecalc.report.content import Block, Doubt, Fact, Sheet, TableUse
from linecalc.report.findings import WORTH_READING, Selection, counts, grouped, interconnection
from linecalc.report.inputs import MARKED, Inputs, inputs_of_study
from linecalc.report.cells import is_cell, table_name
from linecalc.report.labels import label_schedule
from linecalc.report.notes import permit_notes, stated_facts
from linecalc.report.schedules import label_grid, schedules
from linecalc.report.verify import verify_first
from linecalc.study import Study
from linecalc.units import Quantity

if TYPE_CHECKING:
    from linecalc.advice.records import Fragile

_JOB = ("address", "owner", "designer", "license", "parcel", "scope", "date")


def sheet(study: Study, fragile: tuple[Fragile, ...] = ()) -> Sheet:
    """The content of the calculation sheet of a study, with what is to be verified on site first."""
    project = study.project
    inputs = inputs_of_study(study)
    blocks = BlockWriter(study, inputs).blocks()
    return Sheet(
        title=project.project.title,
        job=(*_job(project), *stated_facts(study)),
        checked_against=study.checked_against,
        system=system_lines(study),
        basis=_basis(study),
        counts=counts(study),
        interconnection=interconnection(study),
        findings=grouped(Selection(WORTH_READING).of(study.checks)),
        schedule=schedule_grid(study.sized.circuits, {block.tag: block.worst for block in blocks}),
        blocks=blocks,
        doubts=_doubts(study, inputs, blocks),
        tables=_tables(study),
        memory=_memory(study),
        local=tuple(Fact(amendment.source, amendment.text) for amendment in project.amendments),
        caution=CAUTION,
        verify=verify_first(fragile),
        schedules=schedules(study),
        labels=label_grid(label_schedule(study)),
        notes=tuple(Fact(note.citation, note.text) for note in permit_notes(study)),
    )


def _job(project: Project) -> tuple[Fact, ...]:
    stated = ((key, getattr(project.project, key)) for key in _JOB)
    return tuple(Fact(key.capitalize(), text) for key, text in stated if text)


def system_lines(study: Study) -> tuple[Fact, ...]:
    """The system in five lines: array, conversion, storage, service and interconnection, backup."""
    return (
        Fact("Array", _array(study)),
        Fact("Conversion", _conversion(study)),
        Fact("Storage", _storage(study)),
        Fact("Service", _service(study)),
        Fact("Backup", _backup(study)),
    )


def _array(study: Study) -> str:
    strings = study.network.of_kind(Kind.STRING)
    if not strings:
        return "no PV strings"
    modules = sum(node.item.count for node in strings)
    watts = sum(node.item.count * node.data.power.value for node in strings if node.data is not None)
    tags = ", ".join(node.tag for node in strings)
    return f"{_number(modules, 'module')} in {_number(len(strings), 'string')} ({tags}), {amount(watts / 1000, 'kW')} dc"


def _conversion(study: Study) -> str:
    parts = []
    export = "" if study.network.is_standalone() else " export"
    for kind, word in ((Kind.UNIT, "inverter-battery unit"), (Kind.INVERTER, "PV inverter")):
        nodes = study.network.of_kind(kind)
        if nodes:
            watts = sum(node.data.ac_power.value for node in nodes)
            amps = sum(node.data.ac_current.value for node in nodes)
            parts.append(f"{_number(len(nodes), word)}, {amount(watts / 1000, 'kW')} ac, {amount(amps, 'A')} continuous{export}")
    return "; ".join(parts) or "no inverter"


def _storage(study: Study) -> str:
    units = [node for node in study.network.of_kind(Kind.UNIT) if node.data.energy.value]
    modules = study.network.of_kind(Kind.STORAGE)
    if not units and not modules:
        return "no storage"
    energy = sum(node.data.energy.value for node in (*units, *modules))
    parts = [_number(len(units), "unit with storage of its own", "units with storage of their own")] if units else []
    parts += [_number(len(modules), "storage module")] if modules else []
    return f"{' and '.join(parts)}, {amount(energy, 'kWh')} nominal"


def _service(study: Study) -> str:
    service = study.project.service
    if service is None:
        return "none, stand-alone"
    rating = f"{amount(service.rating.value, 'A')}, {amount(service.voltage.value, 'V')} single phase"
    method = "supply-side connection" if study.sized.supply_side else "load-side connection"
    return f"{rating}; {method}" if study.network.of_kind(Kind.UNIT, Kind.INVERTER) else rating


def _backup(study: Study) -> str:
    if study.network.is_standalone():
        return f"stand-alone: the units alone feed everything on panel {study.network.root}"
    if study.network.island is None:
        return _generators(study) or "none: no isolation device"
    separating = study.network.nodes[study.network.island]
    panels = [node.tag for node in study.network.of_kind(Kind.PANEL) if node.item.backup]
    fed = f"backup panel{'' if len(panels) == 1 else 's'} {', '.join(panels)}" if panels else "everything downstream of it"
    method = study.project.backup.method
    name = f"the built-in transfer of {separating.tag}" if separating.kind is Kind.UNIT else f"isolation device {separating.tag}"
    also = f"; {found}" if (found := _generators(study)) else ""
    return f"{name} separates {fed}" + (f"; backup justified by {method}" if method else "") + also


def _generators(study: Study) -> str:
    """``generator G1 by transfer switch T1 feeds EP``; empty where there is none."""
    network = study.network
    told = []
    for transfer in network.of_kind(Kind.TRANSFER):
        steps = network.children.get(transfer.tag, ())
        names = [step.down for step in steps if network.nodes[step.down].kind is Kind.GENERATOR]
        fed = [step.down for step in steps if step.down not in names]
        if names and fed:
            told.append(f"generator {names[0]} by transfer switch {transfer.tag} feeds {', '.join(fed)}")
    return "; ".join(told)


def _number(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"


def _basis(study: Study) -> tuple[Fact, ...]:
    """Edition and design temperatures with their sources."""
    site = study.project.site
    return (
        Fact("Code", f"NEC {study.book.edition}"),
        _temperature("Lowest temperature", site.low_temperature),
        _temperature("High temperature", site.high_temperature),
    )


def _temperature(label: str, found: Quantity | None) -> Fact:
    if found is None:
        return Fact(label, "not given")
    source = f"; {found.source}" if found.source else "; no source stated"
    return Fact(label, both(found.value, "degC") + source, found.basis if found.basis in MARKED else "")


def _doubts(study: Study, inputs: Inputs, blocks: tuple[Block, ...]) -> tuple[Doubt, ...]:
    """The assumed and field-verify inputs, with the subjects that use each."""
    used: dict[str, list[str]] = {}
    for block in blocks:
        for line in block.lines:
            for use in line.marked:
                used.setdefault(use.path, []).append(block.tag)
    return tuple(
        Doubt(item.path, item.as_written or _NOT_STATED, item.basis, item.source or "no reason stated", _users(study, item.path, used))
        for item in inputs
        if item.basis in MARKED and "#" not in item.path
    )


def _users(study: Study, path: str, used: dict[str, list[str]]) -> tuple[str, ...]:
    """The subjects whose arithmetic uses an input, and those it belongs to."""
    table, _, rest = path.partition(".")
    tag = rest.rpartition(".")[0] or table
    circuits = [circuit.tag for circuit in study.network.circuits if table == "section" and tag in circuit.sections]
    items = [tag] if tag in study.network.nodes or table == "circuit" else []
    models = [node.tag for node in study.network.nodes.values() if table == "equipment" and tag in _models(node)]
    return tuple(dict.fromkeys([*used.get(path, ()), *circuits, *items, *models]))


def _models(node: Node) -> tuple[str | None, ...]:
    return getattr(node.item, "equipment", None), getattr(node.item, "module", None)


_NOT_STATED = "not stated"


def _cited(study: Study) -> list[str]:
    """The citation keys of all checks and steps, in order of first use."""
    keys = [check.rule for check in study.checks] + [step.term.cite for step in study.steps if step.term.cite]
    return list(dict.fromkeys(keys))


def _tables(study: Study) -> tuple[TableUse, ...]:
    """The code tables that steps read, and those that a cited rule stands on."""
    read = {table_name(term.origin) for step in study.steps for term in step.inputs() if is_cell(term.origin)}
    cited = {key.split(".")[0] for key in _cited(study)}
    found = []
    for name in names():
        table = study.book.table(name)
        if name in read or table.header.rule_key in cited:
            checked = tuple(text.replace("; agrees: all)", "; all agree)") for text in table.header.checked)
            found.append(TableUse(table.number, table.header.title, checked, table.header.from_memory))
    return tuple(found)


def _memory(study: Study) -> tuple[str, ...]:
    """The sections cited from memory, with the rule each stands for."""
    citations = [study.book.cite(key) for key in _cited(study)]
    from_memory = [found for found in citations if found.section and found.evidence.startswith("M")]
    return tuple(dict.fromkeys(f"{found.section}: {found.description}" for found in from_memory))
