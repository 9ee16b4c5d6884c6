"""One circuit without a project, as text and as JSON."""

from __future__ import annotations

from typing import Any

from linecalc.caution import CAUTION
from linecalc.report.circuit_block import circuit_facts, circuit_grids, circuit_title
from linecalc.report.circuit_json import circuit_result
from linecalc.report.content import Block
from linecalc.report.findings import short_finding
from linecalc.report.inputs import inputs_of_single
from linecalc.report.lines import LineWriter
from linecalc.report.origins import Origins
from linecalc.sizing.single import SingleResult

SCHEMA = "linecalc/conductor/1"


def single_json(found: SingleResult) -> dict[str, Any]:
    """The circuit with its checks and steps; the keys of a circuit of a project, and more."""
    from linecalc.report.results_json import check_result, input_result, step_result

    inputs = inputs_of_single(found.steps, found.assumptions)
    origins = Origins(found.steps, inputs)
    raceways = () if found.raceway is None else (found.raceway,)
    return {
        "schema": SCHEMA,
        "edition": found.book.edition,
        **circuit_result(found.circuit, raceways),
        "inputs": [input_result(item) for item in inputs],
        "checks": [check_result(check, origins) for check in found.checks],
        "steps": [step_result(step, origins) for step in found.steps],
        "disclaimer": CAUTION,
    }


def single_text(found: SingleResult) -> str:
    """The circuit as plain text, ending in a newline."""
    from linecalc.report.wrapping import wrapped
    from linecalc.report.text import block_lines

    inputs = inputs_of_single(found.steps, found.assumptions)
    writer = LineWriter(found.book, found.steps, inputs)
    raceways = () if found.raceway is None else (found.raceway,)
    block = Block(
        tag=found.circuit.tag,
        title=circuit_title(found.circuit),
        facts=circuit_facts(found.circuit, inputs),
        grids=circuit_grids(found.circuit, raceways, inputs),
        lines=tuple(writer.line(step) for step in found.steps),
        findings=tuple(short_finding(check) for check in found.checks),
    )
    head = [f"One circuit, checked against NEC {found.book.edition}, for review by the AHJ"]
    assumed = [line for item in found.assumptions for line in wrapped(f"{item.path} = {item.value}: {item.reason}", "    ", "      ")]
    lines = [*head, *block_lines(block), *(["", "  Assumed", *assumed] if assumed else []), "", *wrapped(CAUTION)]
    return "\n".join(line.rstrip() for line in lines) + "\n"
