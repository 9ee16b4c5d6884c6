"""The results of a study as JSON: every key always present, absent values null."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from linecalc.caution import CAUTION
from linecalc.check import Check, Level, Step
from linecalc.network.records import Kind, Node
from linecalc.report.amounts import json_number as number
from linecalc.report.as_json import as_json
from linecalc.report.circuit_json import circuit_result
from linecalc.report.inputs import Input, inputs_of_study
from linecalc.report.origins import Origins
from linecalc.sizing.records import BusFigures, BusMethod, BusVerdict, StringFigures
from linecalc.study import Study, subjects_in_order
from linecalc.units import Quantity

if TYPE_CHECKING:
    from linecalc.advice.records import Fragile

SCHEMA = "linecalc/results/1"
_LEVELS = (Level.PASS, Level.NOTE, Level.WARN, Level.NOT_CHECKED, Level.FAIL)
_PROJECT_KEYS = ("title", "address", "owner", "designer", "license", "parcel", "scope", "date")

Json = dict[str, Any]


def results(study: Study, checks: tuple[Check, ...] | None = None, fragile: tuple[Fragile, ...] = ()) -> Json:
    """The results of a study, ready for :func:`json.dumps`.

    Parameters
    ----------
    checks : the checks to list; all of them unless given. The summary always counts all.
    fragile : the assumed inputs that turn a verdict, where advice was asked for.
    """
    turning = {found.path: found for found in fragile}
    inputs = inputs_of_study(study)
    origins = Origins(study.steps, inputs)
    order = {tag: index for index, tag in enumerate(subjects_in_order(study.network))}
    place = order.__getitem__
    sized = study.sized
    return {
        "schema": SCHEMA,
        "edition": study.book.edition,
        "project": {key: getattr(study.project.project, key) for key in _PROJECT_KEYS},
        "summary": {level.key: study.count(level) for level in _LEVELS},
        "inputs": [input_result(item, turning.get(item.path)) for item in inputs],
        "equipment": [_equipment(study.network.nodes[tag]) for tag in order if tag in study.network.nodes],
        "strings": [_string(found) for found in sorted(sized.strings, key=lambda found: place(found.tag))],
        "buses": [_bus(study, found) for found in sorted(sized.buses, key=lambda found: place(found.tag))],
        "circuits": [circuit_result(found, sized.raceways, sized.faults) for found in sorted(sized.circuits, key=lambda found: place(found.tag))],
        "checks": [check_result(check, origins) for check in (study.checks if checks is None else checks)],
        "steps": [step_result(step, origins) for step in study.steps],
        "disclaimer": CAUTION,
    }


def results_json(study: Study) -> str:
    """The results of a study as JSON text, as ``check --format json`` prints them."""
    return as_json(results(study)) + "\n"


def check_result(check: Check, origins: Origins) -> Json:
    """One check as JSON."""
    return {
        "rule": check.rule,
        "subject": check.subject,
        "level": check.level.key,
        "citation": check.citation or None,
        "demand": number(check.demand),
        "limit": number(check.limit),
        "unit": check.unit or None,
        "sense": check.sense.value if check.demand is not None and check.limit is not None else None,
        "margin": number(check.margin),
        "message": check.message,
        "needs": list(check.needs),
        "flip": check.flip,
        "fix": check.fix,
        "steps": origins.steps_behind(check),
    }


def step_result(step: Step, origins: Origins) -> Json:
    """One step as JSON; ``from`` leads to an input path, a step id or a table cell."""
    line, term = step.rendered(), step.term
    return {
        "id": step.id,
        "subject": step.subject,
        "symbol": term.symbol,
        "meaning": term.meaning,
        "formula": line.formula,
        "substitution": line.substitution,
        "expression": line.expression,
        "inputs": [
            {"symbol": used.symbol or None, "value": number(used), "unit": used.unit, "from": origins.of(used, step.subject) or None}
            for used in step.inputs()
        ],
        "value": number(term),
        "unit": term.unit,
        "citation": step.citation or None,
    }


def input_result(item: Input, fragile: Fragile | None = None) -> Json:
    """One input as JSON; ``fragile`` holds what turns within its plausible range."""
    return {
        "path": item.path,
        "value": number(item.value),
        "unit": item.unit or None,
        "as_written": item.as_written,
        "basis": item.basis,
        "source": item.source,
        "fragile": None if fragile is None else _fragile(fragile),
    }


def _fragile(found: Fragile) -> Json:
    turns = ({"at": turn.at, "rule": turn.rule, "subject": turn.subject, "from": turn.before.key, "to": turn.after.key} for turn in found.turns)
    return {"tried": list(found.tried), "range": found.range_basis, "turns": list(turns)}


def _equipment(node: Node) -> Json:
    item, data = node.item, node.data
    main = getattr(item, "main", None)
    return {
        "tag": node.tag,
        "kind": node.kind.value,
        "existing": getattr(item, "existing", None),
        "description": getattr(item, "description", None) or getattr(data, "description", None),
        "location": getattr(item, "location", None),
        "model": getattr(item, "equipment", None) or getattr(item, "module", None),
        "rating_a": _quantity(getattr(item, "bus", None) or getattr(item, "rating", None) or getattr(data, "ac_current", None)),
        "main_a": _quantity(main),
        "main_lugs": main == "lugs" if main is not None else None,
        "backup": item.backup if node.kind is Kind.PANEL else None,
        "ac_power_w": _quantity(getattr(data, "ac_power", None)),
        "energy_kwh": _quantity(getattr(data, "energy", None)),
    }


def _quantity(found: Quantity | str | None) -> float | int | None:
    return number(found.value) if isinstance(found, Quantity) else None


def _string(found: StringFigures) -> Json:
    return {
        "tag": found.tag,
        "module": found.module,
        "count": found.count,
        "unit": found.unit,
        "input": found.input,
        "cold_voc_v": number(found.cold_voc),
        "cold_voc_table_v": number(found.cold_voc_table),
        "hot_vmp_v": number(found.hot_vmp),
        "isc_a": number(found.isc),
        "max_current_a": number(found.max_current),
        "design_a": number(found.design),
    }


def _bus(study: Study, found: BusFigures) -> Json:
    return {
        "tag": found.tag,
        "rating_a": number(found.rating),
        "protected_by_a": number(found.protected_by),
        "sources": [{"tag": tag, "current_a": number(amps)} for tag, amps in found.sources],
        "methods": [_method(study, method) for method in found.methods],
        "largest_source_breaker_a": number(found.largest_breaker_a),
    }


def _method(study: Study, method: BusMethod) -> Json:
    return {
        "section": study.book.cite(method.key).text,
        "applies": method.verdict is not BusVerdict.NOT_USABLE,
        "demand_a": number(method.demand),
        "limit_a": number(method.limit),
        "level": method.verdict.value if method.verdict is not BusVerdict.NOT_USABLE else None,
        "why": method.why or None,
    }
