"""The study of options as plain text, Markdown and CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

from tabulate import tabulate

from linecalc.options.content import (
    COLUMNS,
    HOURS_HEAD,
    LOST_HEAD,
    PARTS_HEAD,
    POWER_HEAD,
    Content,
    first_failures,
    hours_rows,
    lost_rows,
    parts_rows,
    power_rows,
    ranking_words,
    row_of,
    shown,
    verdict_line,
)
from linecalc.options.records import Result

SHORT = ("candidate", "verdict", "hours_least", "hours_new_least", "backup_kw", "usable_kwh", "dc_kw", "clipped_percent", "cost_low", "cost_high")
Heading = Callable[[str], str]
Rows = tuple[tuple[str, ...], ...]
_FAILURES_SHOWN = 40


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
    return _document(content, "github", lambda title: f"## {title}").replace(content.title, _escaped(content.title), 1)


def _escaped(text: str) -> str:
    return "".join(f"\\{char}" if char in "\\`*_{}[]<>#|" else char for char in text)


def _document(content: Content, style: str, heading: Heading) -> str:
    title = f"{content.title}: units, storage modules, array"
    parts = [f"# {title}" if style == "github" else title, f"checked against {content.edition}, for review by the AHJ", verdict_line(content), ranking_words(content)]
    parts += [heading("What each step buys"), "\n".join(f"- {line}" for line in content.answer.words)]
    shown_first = (*content.answer.passing, *content.answer.unsettled)
    front = {found.candidate.name for found in content.answer.front}
    rows = tuple((*(shown(row_of(content, found)[name]) for name in SHORT), "yes" if found.candidate.name in front else "") for found in shown_first)
    if rows:
        parts += [heading("Candidates that pass, or are not settled"), _table((*SHORT, "pareto"), rows, style)]
    failures = first_failures(content)
    if failures:
        left = f"\nand {len(failures) - _FAILURES_SHOWN} more; the CSV has all" if len(failures) > _FAILURES_SHOWN else ""
        parts += [heading("Candidates that fail, with the first reason"), _table(("candidate", "first reason"), failures[:_FAILURES_SHOWN], style) + left]
    if content.answer.unsettled:
        unsettled = tuple((found.candidate.name, found.unsettled[0].text) for found in content.answer.unsettled[:_FAILURES_SHOWN])
        parts += [heading("What is not settled"), _table(("candidate", "first reason"), unsettled, style)]
    detailed = content.answer.winner or next(iter(content.answer.unsettled), None)
    if detailed is not None:
        parts += _detail(content, detailed, style, heading)
    moved = tuple((turn.what, turn.moved, turn.winner, _changes(turn.changed, turn.decides)) for turn in content.turns)
    parts += [heading("Which assumption changes the first choice"), _table(("assumption", "moved to", "first choice then", ""), moved, style)]
    for grown in content.growth:
        parts += [heading(f"Later: {grown.later.name} from {grown.now.name}"), *_growth(grown.do_now, grown.do_again, grown.blocked)]
    assumed = tuple((found.path, found.value, found.reason) for found in content.assumptions)
    parts += [heading("Assumed"), _table(("input", "value", "reason"), assumed, style), content.caution]
    return "\n\n".join(parts) + "\n"


def _changes(changed: bool, decides: bool) -> str:
    return ("undecided: within its stated range" if decides else "changes it") if changed else ""


def _growth(do_now: tuple[str, ...], again: tuple[str, ...], blocked: tuple[str, ...]) -> list[str]:
    found = ["To do now:\n" + "\n".join(f"- {line}" for line in do_now)]
    if again:
        found.append("Otherwise, later:\n" + "\n".join(f"- {line}" for line in again))
    if blocked:
        found.append("Cannot be added as planned:\n" + "\n".join(f"- {line}" for line in blocked))
    return found


def _detail(content: Content, result: Result, style: str, heading: Heading) -> list[str]:
    name = result.candidate.name
    return [
        heading(f"{name}: hours carried"), _table(HOURS_HEAD, hours_rows(content, result), style),
        heading(f"{name}: peak of the load"), _table(POWER_HEAD, power_rows(result), style),
        heading(f"{name}: energy of the array"), _table(LOST_HEAD, lost_rows(result), style) if result.lost else "no sun studied",
        heading(f"{name}: parts"), _table(PARTS_HEAD, parts_rows(content, result), style),
    ]


def _table(head: tuple[str, ...], rows: Rows, style: str) -> str:
    cells = [[cell.replace("|", "\\|") if style == "github" else cell for cell in row] for row in rows]
    return tabulate(cells, headers=list(head), tablefmt=style, disable_numparse=True)
