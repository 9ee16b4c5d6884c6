"""The findings as plain text for a terminal."""

from __future__ import annotations

from linecalc.caution import CAUTION
from linecalc.report.findings import HEADINGS, Finding, Selection, counts, counts_text, grouped, interconnection
from linecalc.report.verify import NONE, Verify, heading
from linecalc.report.wording import one_line
from linecalc.report.wrapping import wrapped
from linecalc.study import Study

_INDENT = "      "


def findings_text(study: Study, selection: Selection, verify: tuple[Verify, ...] | None = None) -> str:
    """Counts, interconnection and the findings asked for, ending in a newline; ``verify`` where advice was asked for."""
    below = [] if verify is None else ["", *_verify_first(verify)]
    lines = [*_head(study), *_interconnection(study), *_groups(study, selection), *below, "", *wrapped(CAUTION)]
    return "\n".join(lines) + "\n"


def review_text(study: Study, selection: Selection, verify: tuple[Verify, ...]) -> str:
    """What a reviewer reads first: what to verify on site, then the findings, then the interconnection."""
    lines = [*_head(study), "", *_verify_first(verify), *_groups(study, selection), "", *_interconnection(study), "", *wrapped(CAUTION)]
    return "\n".join(lines) + "\n"


def _head(study: Study) -> list[str]:
    return [one_line(study.project.project.title), study.checked_against, "", counts_text(counts(study))]


def _interconnection(study: Study) -> list[str]:
    return [line for method in interconnection(study) for line in wrapped(f"Interconnection: {method}", "", "  ")]


def _groups(study: Study, selection: Selection) -> list[str]:
    lines = []
    for level, group in grouped(selection.of(study.checks)):
        lines += ["", HEADINGS[level].upper(), *(line for item in group for line in finding_lines(item))]
    return lines or ["", "Nothing to show at the levels and subjects asked for."]


def _verify_first(verify: tuple[Verify, ...]) -> list[str]:
    if not verify:
        return [NONE]
    return [heading(len(verify)).upper(), *(line for item in verify for line in verify_lines(item))]


def verify_lines(item: Verify) -> list[str]:
    """One input to verify: what was taken, what turns at which value, what was tried."""
    lines = wrapped(f"{item.path} = {one_line(item.taken)}", "  ", _INDENT)
    return [*lines, *(line for text in (*item.turns, item.tried) for line in wrapped(text, _INDENT, _INDENT + "  "))]


def finding_lines(item: Finding) -> list[str]:
    """One finding: subject and message, then the comparison, what is needed, what would flip or fix it."""
    head = f"  {item.subject:<3} "
    lines = wrapped(one_line(item.message), head, _INDENT)
    lines += wrapped(basis_line(item), _INDENT, _INDENT)
    for word, text in item.advice:
        lines += wrapped(f"{word}{one_line(text)}", _INDENT, _INDENT + "  ")
    return lines


def basis_line(item: Finding) -> str:
    """Comparison, citation and rule key in one line."""
    parts = [item.held.text] if item.held else []
    parts += [f"[{item.citation}]"] if item.citation else []
    return "  ".join([*parts, f"({item.rule})"])
