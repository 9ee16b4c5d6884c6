"""The findings as plain text for a terminal."""

from __future__ import annotations

import textwrap

from linecalc.caution import CAUTION
from linecalc.report.findings import HEADINGS, Finding, Selection, counts, counts_text, grouped, interconnection
from linecalc.report.wording import one_line
from linecalc.study import Study

WIDTH = 92
_INDENT = "      "


def findings_text(study: Study, selection: Selection) -> str:
    """Counts, interconnection and the findings asked for, ending in a newline."""
    lines = [one_line(study.project.project.title), study.checked_against, "", counts_text(counts(study))]
    for method in interconnection(study):
        lines += wrapped(f"Interconnection: {method}", "", "  ")
    groups = grouped(selection.of(study.checks))
    for level, group in groups:
        lines += ["", HEADINGS[level].upper()]
        for item in group:
            lines += finding_lines(item)
    if not groups:
        lines += ["", "Nothing to show at the levels and subjects asked for."]
    lines += ["", *wrapped(CAUTION)]
    return "\n".join(lines) + "\n"


def finding_lines(item: Finding) -> list[str]:
    """One finding: subject and message, then the comparison, what is needed, what would flip or fix it."""
    head = f"  {item.subject:<3} "
    lines = wrapped(one_line(item.message), head, _INDENT)
    lines += wrapped(basis_line(item), _INDENT, _INDENT)
    if item.needs:
        lines += wrapped(f"needs: {', '.join(one_line(need) for need in item.needs)}", _INDENT, _INDENT + "  ")
    if item.flip:
        lines += wrapped(one_line(item.flip), _INDENT, _INDENT + "  ")
    if item.fix:
        lines += wrapped(f"fix: {one_line(item.fix)}", _INDENT, _INDENT + "  ")
    return lines


def basis_line(item: Finding) -> str:
    """Comparison, citation and rule key in one line."""
    parts = [item.held.text] if item.held else []
    parts += [f"[{item.citation}]"] if item.citation else []
    return "  ".join([*parts, f"({item.rule})"])


def wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    """``text`` in lines of at most 92 characters; long words are left whole."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    ) or [first.rstrip()]
