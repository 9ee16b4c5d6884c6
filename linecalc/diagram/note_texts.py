"""The numbered notes of the drawing, each a sentence from the study; what is not stated says so."""

from __future__ import annotations

from linecalc.check import Level
from linecalc.diagram.interconnection import interconnection_note
from linecalc.diagram.phrases import amount, figure, joined, listed
from linecalc.diagram.protection import pv_note, shutdown_note, storage_note, surge_note
from linecalc.network.records import Kind
from linecalc.project.model import SERVICE
from linecalc.report.notes import operating_type
from linecalc.study import Study
from linecalc.term import value_of


def notes(study: Study) -> tuple[str, ...]:
    """The general notes, in the order in which the drawing prints them."""
    project = study.project
    failing, missing = study.count(Level.FAIL), study.count(Level.NOT_CHECKED)
    found = (
        f"Scope: {project.project.scope}." if project.project.scope else "",
        f"Checked against NEC {study.book.edition}: {_verdicts(study)}. See the calculation sheet.",
        "THIS DESIGN FAILS CHECKS: see the calculation sheet before use." if failing else "",
        "CHECKS COULD NOT BE MADE because inputs are missing: see the calculation sheet." if missing else "",
        _temperatures(study),
        _bonds(study),
        "AC devices are two-pole unless marked 1P.",
        "Each run has the EGC of the schedule; EGCs are not drawn.",
        _condition(study),
        f"Assumed inputs, listed on the calculation sheet: {len(study.assumptions)}." if study.assumptions else "",
        "Schedule: largest current of the operating modes; drop of the worst mode, in this run alone.",
        *(f"Local: {amendment.text} ({amendment.source})." for amendment in project.amendments),
    )
    return tuple(note for note in found if note)


def source_notes(study: Study) -> tuple[str, ...]:
    """What is to be known of PV, storage, generators and their connection."""
    facts = study.project.facts
    found = (
        f"Operating type: {operating_type(study)}." if study.network.of_kind(Kind.UNIT, Kind.INVERTER) else "",
        interconnection_note(study),
        _power_control(study),
        _array(study),
        pv_note(study),
        shutdown_note(study),
        storage_note(study),
        _backup(study),
        _generators(study),
        surge_note(study),
        f"Metering: {facts.metering}." if facts.metering else "",
        f"Monitoring: {facts.monitoring}." if facts.monitoring else "",
        f"Interlocks: {facts.interlocks}." if facts.interlocks else "",
    )
    return tuple(note for note in found if note)


def _verdicts(study: Study) -> str:
    counts = [(level, study.count(level)) for level in Level]
    return ", ".join(f"{count} {level.value}" for level, count in counts if count) or "no checks"


def _temperatures(study: Study) -> str:
    site = study.project.site
    parts = (("lowest", site.low_temperature), ("highest", site.high_temperature))
    text = joined(*(f"{name} {amount(found) if found else 'NOT STATED'}" for name, found in parts))
    return f"Design temperatures: {text}."


def _power_control(study: Study) -> str:
    control = study.project.power_control
    if control is None:
        return ""
    return f"Power control setting {amount(control.setting)}, {control.listing}, covers {', '.join(control.covers)}."


def _array(study: Study) -> str:
    """How many modules of each model, what they give together, and how the array is bonded."""
    counts: dict[str, int] = {}
    for node in study.network.of_kind(Kind.STRING):
        counts[node.item.module] = counts.get(node.item.module, 0) + node.item.count
    if not counts:
        return ""
    watts = sum(value_of(string.power_w) for string in study.sized.strings)
    equipment = study.project.equipment
    models = [
        f"{count} x {name}{f' ({amount(equipment[name].power)})' if name in equipment else ''}"
        for name, count in counts.items()
    ]
    grounding = study.project.grounding
    bonded = "".join(f"; {text}" for text in (grounding.array_bonding, grounding.array_listing) if text)
    return f"PV array: {', '.join(models)}; {figure(watts / 1000, 'kW', 4)} DC{bonded}."


def _backup(study: Study) -> str:
    method = study.project.backup.method
    if method is None:
        return ""
    setting = study.project.backup.management_setting
    limit = f", set to {amount(setting)}" if setting is not None else ""
    return f"Backup capacity by {method}{limit}."


def _generators(study: Study) -> str:
    """Which transfer switch a generator is on, and that no source runs beside it."""
    found = []
    sources = {node.tag for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER)}
    for node in study.network.of_kind(Kind.TRANSFER):
        below = set(study.network.below(node.tag))
        generators = [tag for tag in below if study.network.nodes[tag].kind is Kind.GENERATOR]
        behind = sorted(sources & below)
        beside = f"{listed(behind)} behind it" if behind else "PV and storage stay on the utility side and cannot run beside it"
        found.extend(f"{tag} supplies through {node.tag} only; {beside}." for tag in sorted(generators))
    return f"Generator: {' '.join(found)}" if found else ""


def _bonds(study: Study) -> str:
    """Where the neutral is bonded, in one sentence."""
    bonded = [
        "the meter" if tag == SERVICE else tag
        for tag, node in study.network.nodes.items()
        if getattr(node.item, "neutral_bond", None) is True
    ]
    return f"Neutral bonded to ground at {listed(bonded)} only." if bonded else ""


def _condition(study: Study) -> str:
    """What is known of the panels that exist already."""
    panels = [node for node in study.network.of_kind(Kind.PANEL) if node.item.existing]
    found = [f"{node.tag} {node.item.condition or 'condition not stated'}" for node in panels]
    return f"Existing panels: {'; '.join(found)}." if found else ""
