"""How a study shows itself in a notebook: what it is, verdicts, findings, the drawing."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from linecalc.caution import CAUTION
from linecalc.diagram.notebook import Diagram
from linecalc.errors import RefusedError
from linecalc.report.findings import WORTH_READING, Finding, Selection, counts, counts_text, finding
from linecalc.report.sheet import system_lines
from linecalc.study import Study

_HEADS = ("Level", "Subject", "Finding", "Section")


def study_html(study: Study) -> str:
    """Title, system, verdict counts, findings beyond passes, the drawing or why there is none, the caution."""
    facts = "".join(f"<tr>{_cell('th', fact.label)}{_cell('td', fact.text)}</tr>" for fact in system_lines(study))
    found = [finding(check) for check in Selection(WORTH_READING).of(study.checks)]
    return "".join(
        (
            f"<div><h3>{escape(study.project.project.title)}</h3>",
            f"<p>{escape(study.checked_against)}: {escape(counts_text(counts(study)))}</p>",
            f"<table>{facts}</table>",
            *(_findings(found) if found else ()),
            _drawing(study),
            f"<p>{escape(CAUTION)}</p></div>",
        )
    )


def _findings(found: list[Finding]) -> Iterator[str]:
    heads = "".join(_cell("th", head) for head in _HEADS)
    yield f"<table><thead><tr>{heads}</tr></thead><tbody>"
    for item in found:
        message = f"{item.message} ({item.held.text})" if item.held else item.message
        cells = (item.level.value, item.subject, message, item.citation)
        yield f"<tr>{''.join(_cell('td', text) for text in cells)}</tr>"
    yield "</tbody></table>"


def _cell(name: str, text: str) -> str:
    return f'<{name} style="text-align:left">{escape(text)}</{name}>'


def _drawing(study: Study) -> str:
    try:
        return Diagram.of(study)._repr_html_()
    except RefusedError as error:
        return f"<p>{escape(str(error))}</p>"


def study_svg(study: Study) -> str | None:
    """The first sheet of the drawing; None where the system cannot be drawn."""
    try:
        return Diagram.of(study)._repr_svg_()
    except RefusedError:
        return None
