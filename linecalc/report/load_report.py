"""The load calculation as text, Markdown and JSON."""

from __future__ import annotations

from typing import Any

from linecalc.network.dwelling_records import METHOD_CITE, LoadLine, MethodLoad
from linecalc.report import markdown, text
from linecalc.report.amounts import json_number as number
from linecalc.report.wrapping import wrapped
from linecalc.report.inputs import inputs_of_study
from linecalc.report.load_sheet import LoadSheet, Part, load_sheet
from linecalc.report.origins import Origins
from linecalc.report.wording import markdown as escaped
from linecalc.report.wording import one_line
from linecalc.study import Study

SCHEMA = "linecalc/load/1"


def load_text(sheet: LoadSheet) -> str:
    """The load calculation as plain text, ending in a newline."""
    lines = [one_line(sheet.title), f"Dwelling load, {sheet.checked_against}", "", *wrapped(sheet.caution), ""]
    lines += [line for fact in sheet.facts for line in wrapped(one_line(fact.text), f"{fact.label + ':':<22}", " " * 22)]
    lines += [line for part in sheet.parts for line in text.block_lines(part.block)]
    if sheet.doubts:
        lines += ["", "ASSUMED"]
        lines += [line for fact in sheet.doubts for line in wrapped(f"{fact.label} = {one_line(fact.text)}", "  ", "      ")]
    return "\n".join(line.rstrip() for line in [*lines, "", *wrapped(sheet.caution)]) + "\n"


def load_markdown(sheet: LoadSheet) -> str:
    """The load calculation as Markdown, ending in a newline."""
    lines = [f"# {escaped(sheet.title)}", "", f"Dwelling load, {escaped(sheet.checked_against)}", "", f"> {escaped(sheet.caution)}", ""]
    lines += [f"- **{escaped(fact.label)}:** {escaped(fact.text)}" for fact in sheet.facts]
    lines += [line for part in sheet.parts for line in markdown.block_lines(part.block)]
    if sheet.doubts:
        lines += ["", "## Assumed", ""]
        lines += [f"- {escaped(f'{fact.label} = {fact.text}')}" for fact in sheet.doubts]
    return "\n".join(lines) + "\n"


def load_json(study: Study) -> dict[str, Any]:
    """The load calculation as a JSON document; keys as documented, absent is null."""
    from linecalc.report.results_json import check_result, input_result, step_result

    sheet = load_sheet(study)
    inputs = inputs_of_study(study)
    origins = Origins(study.steps, inputs)
    used = {origins.of(term, step.subject) for step in sheet.steps for term in step.inputs() if not term.op}
    return {
        "schema": SCHEMA,
        "edition": study.book.edition,
        "project": {"title": study.project.project.title},
        "loads": [_part(study, part) for part in sheet.parts],
        "inputs": [input_result(item) for item in inputs if item.path in used],
        "checks": [check_result(check, origins) for check in sheet.checks],
        "steps": [step_result(step, origins) for step in sheet.steps],
        "disclaimer": sheet.caution,
    }


def _part(study: Study, part: Part) -> dict[str, Any]:
    bus, load = part.load, None if part.stated is None else part.stated.item
    stated = load is not None and load.current is not None
    used = None if bus is None else bus.used
    return {
        "tag": part.tag,
        "nodes": [part.tag] if bus is None else list(bus.nodes),
        "serves": part.serves,
        "backed_up": part.backed_up,
        "stated_a": number(load.current.value) if stated else None,
        "calculation": None if load is None else load.calculation,
        "method": None if used is None else used.method.value,
        "current_a": number(load.current.value) if stated else None if used is None else number(used.current_a),
        "continuous_a": None if bus is None or used is None else number(bus.continuous_a),
        "neutral_a": None if bus is None or bus.neutral is None else number(bus.neutral.current_a),
        "neutral": [] if bus is None or bus.neutral is None else [_line(study, line) for line in bus.neutral.lines],
        "methods": [] if bus is None else [_method(study, method) for method in bus.methods],
        "needs": [] if bus is None else list(bus.needs),
    }


def _method(study: Study, method: MethodLoad) -> dict[str, Any]:
    return {
        "method": method.method.value,
        "section": study.book.cite(METHOD_CITE[method.method]).text,
        "usable": method.current_a is not None,
        "why": method.why or None,
        "lines": [_line(study, line) for line in method.lines],
        "total_va": number(method.total_va),
        "legs_a": [number(leg) for leg in method.legs_a],
        "current_a": number(method.current_a),
        "left_out": list(method.left_out),
        "readings": [{"text": reading.text, "current_a": number(reading.current_a)} for reading in method.readings],
        "needs": list(method.needs),
    }


def _line(study: Study, line: LoadLine) -> dict[str, Any]:
    return {
        "load": line.text,
        "connected_va": number(line.connected_va),
        "counted_va": number(line.counted_va),
        "how": line.how or None,
        "section": study.book.cite(line.cite).text,
    }
