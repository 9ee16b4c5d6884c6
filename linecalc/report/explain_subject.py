"""What stands behind a tag, as plain text, Markdown and JSON."""

from __future__ import annotations

from typing import Any

from tabulate import tabulate

from linecalc.caution import CAUTION
from linecalc.explain.subject import Behind
from linecalc.report import markdown as md
from linecalc.report.wrapping import WIDTH, wrapped
from linecalc.report.inputs import Input, inputs_of_study
from linecalc.report.origins import Origins
from linecalc.report.text import block_lines, column_widths
from linecalc.report.wording import markdown, one_line

SCHEMA = "linecalc/behind/1"
_COLUMNS = ("Input", "Value", "Basis", "Source or reason")


def _rows(inputs: tuple[Input, ...]) -> list[list[str]]:
    return [[item.path, one_line(_value(item)), item.basis, one_line(item.source or "-")] for item in inputs]


def _value(item: Input) -> str:
    return item.as_written or (f"{item.value:.6g} {item.unit}".strip() if item.value is not None else "-")


def behind_text(found: Behind) -> str:
    """Plain text, ending in a newline."""
    lines = [one_line(found.study.project.project.title), found.study.checked_against, *block_lines(found.block)]
    if found.inputs:
        rows = _rows(found.inputs)
        widths = column_widths(_COLUMNS, rows, WIDTH)
        lines += ["", "Inputs behind it", tabulate(rows, headers=_COLUMNS, tablefmt="simple", disable_numparse=True, maxcolwidths=widths)]
    lines += ["", *wrapped(f"Code tables behind it: {'; '.join(found.tables)}")] if found.tables else []
    return "\n".join(line.rstrip() for line in [*lines, "", *wrapped(CAUTION)]) + "\n"


def behind_markdown(found: Behind) -> str:
    """Markdown, ending in a newline."""
    lines = [f"# {markdown(found.study.project.project.title)}", "", markdown(found.study.checked_against), *md.block_lines(found.block)]
    if found.inputs:
        cells = [[markdown(cell) for cell in row] for row in _rows(found.inputs)]
        lines += ["", "**Inputs behind it**", "", *tabulate(cells, headers=_COLUMNS, tablefmt="pipe", disable_numparse=True).splitlines()]
    lines += ["", f"Code tables behind it: {markdown('; '.join(found.tables))}"] if found.tables else []
    return "\n".join([*lines, "", f"> {markdown(CAUTION)}"]) + "\n"


def behind_json(found: Behind) -> dict[str, Any]:
    """The document ``linecalc/behind/1``: checks, steps and inputs as the results hold them."""
    from linecalc.report.results_json import check_result, input_result, step_result

    origins = Origins(found.study.steps, inputs_of_study(found.study))
    return {
        "schema": SCHEMA,
        "edition": found.study.book.edition,
        "project": found.study.project.project.title,
        "tag": found.block.tag,
        "title": found.block.title,
        "checks": [check_result(check, origins) for check in found.checks],
        "steps": [step_result(step, origins) for step in found.steps],
        "inputs": [input_result(item) for item in found.inputs],
        "tables": list(found.tables),
        "disclaimer": CAUTION,
    }
