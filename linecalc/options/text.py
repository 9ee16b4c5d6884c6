"""The study of options as plain text, Markdown and CSV."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable

from tabulate import tabulate

from linecalc.options.content import (
    COLUMNS,
    FIGURES_HEAD,
    GROWTH_HEAD,
    HOURS_HEAD,
    LOST_HEAD,
    PARTS_HEAD,
    POWER_HEAD,
    RANGES_NOTE,
    STEP_HEAD,
    TURN_HEAD,
    Content,
    blocked_line,
    candidate_rows,
    candidates_head,
    figures_rows,
    first_failures,
    growth_rows,
    growth_title,
    hours_rows,
    lost_rows,
    parts_rows,
    power_rows,
    ranking_words,
    row_of,
    step_title,
    turn_rows,
    verdict_line,
)
from linecalc.options.records import Result

Heading = Callable[[str], str]
Rows = tuple[tuple[str, ...], ...]
_FAILURES_SHOWN = 40
_MARKUP = re.compile(r"([\\`*\[\]<>#|&]|(?<!\w)_|_(?!\w))")
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f]")


def options_csv(content: Content) -> str:
    """One line a candidate, every column."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for result in content.answered.results:
        row = row_of(content, result)
        writer.writerow(["" if row[name] is None else _exact(row[name]) for name in COLUMNS])
    return out.getvalue()


def _exact(value: str | float | int | None) -> str:
    if isinstance(value, float):
        return f"{value:.6g}"
    text = str(value)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text


def options_text(content: Content) -> str:
    """The answer for a terminal."""
    return _document(content, "simple", lambda title: f"{title}\n{'-' * len(title)}")


def options_markdown(content: Content) -> str:
    """The answer as Markdown."""
    return _document(content, "github", lambda title: f"## {_cell(title, 'github')}")


def _cell(text: str, style: str) -> str:
    """Text that neither breaks a table nor is read as markup."""
    line = " ".join(_CONTROL.sub(" ", text).split())
    return _MARKUP.sub(r"\\\1", line) if style == "github" else line


def _document(content: Content, style: str, heading: Heading) -> str:
    title = _cell(f"{content.title}: units, storage modules, array", style)
    parts = [f"# {title}" if style == "github" else title, f"checked against {content.edition}, for review by the AHJ", _cell(verdict_line(content), style), ranking_words(content)]
    parts += [heading("What each step buys"), "\n".join(f"- {_cell(line, style)}" for line in content.words)]
    parts += _candidates(content, style, heading)
    if content.shown_result is not None:
        parts += _detail(content, content.shown_result, style, heading)
    for step in content.unit_steps:
        parts += [heading(f"AC side: {step_title(step)}"), _table(STEP_HEAD, step.rows, style)]
    parts += [heading("Which assumption changes the first choice"), RANGES_NOTE, _table(TURN_HEAD, turn_rows(content), style)]
    for grown in content.growth:
        parts += [heading(growth_title(grown)), *([_cell(blocked_line(grown), style)] if grown.blocked else []), *([_table(GROWTH_HEAD, growth_rows(grown), style)] if grown.points else [])]
    assumed = tuple((found.path, found.value, found.reason) for found in content.assumptions)
    parts += [heading("Assumed"), _table(("input", "value", "reason"), assumed, style) if assumed else "nothing", content.caution]
    return "\n\n".join(parts) + "\n"


def _candidates(content: Content, style: str, heading: Heading) -> list[str]:
    """What passes, what fails with its first reason, what is not settled."""
    parts = []
    rows = tuple(row[:-1] for row in candidate_rows(content)[: len(content.answer.passing) + len(content.answer.unsettled)])
    if rows:
        parts += [heading("Candidates that pass, or are not settled"), _table(candidates_head(content)[:-1], rows, style)]
    failures = first_failures(content)
    if failures:
        left = f"\n\nand {len(failures) - _FAILURES_SHOWN} more; the CSV has all" if len(failures) > _FAILURES_SHOWN else ""
        parts += [heading("Candidates that fail, with the first reason"), _table(("candidate", "first reason"), failures[:_FAILURES_SHOWN], style) + left]
    if content.answer.unsettled:
        unsettled = tuple((found.candidate.name, found.unsettled[0].text) for found in content.answer.unsettled[:_FAILURES_SHOWN])
        parts += [heading("What is not settled"), _table(("candidate", "first reason"), unsettled, style)]
    return parts


def _detail(content: Content, result: Result, style: str, heading: Heading) -> list[str]:
    name = result.candidate.name
    return [
        heading(f"{name}: hours carried"), _table(HOURS_HEAD, hours_rows(content, result), style),
        heading(f"{name}: peak of the load"), _table(POWER_HEAD, power_rows(result), style),
        heading(f"{name}: energy of the array"), _table(LOST_HEAD, lost_rows(result), style) if result.lost else "no sun studied",
        heading(f"{name}: parts"), _table(PARTS_HEAD, parts_rows(content, result), style),
        heading(f"{name}: how its figures come about"), _table(FIGURES_HEAD, figures_rows(content, result), style),
    ]


def _table(head: tuple[str, ...], rows: Rows, style: str) -> str:
    cells = [[_cell(cell, style) for cell in row] for row in rows]
    return tabulate(cells, headers=list(head), tablefmt=style, disable_numparse=True)
