"""The findings as Markdown, for a comment or a file under review."""

from __future__ import annotations

from linecalc.caution import CAUTION
from linecalc.report.findings import HEADINGS, Finding, Selection, counts, counts_text, grouped, interconnection
from linecalc.report.findings_text import basis_line
from linecalc.report.verify import NONE, Verify, heading
from linecalc.report.wording import markdown
from linecalc.study import Study


def findings_markdown(study: Study, selection: Selection, verify: tuple[Verify, ...] | None = None) -> str:
    """Counts, interconnection and the findings asked for, ending in a newline; ``verify`` where advice was asked for."""
    below = [] if verify is None else ["", *verify_section(verify)]
    lines = [*_head(study), "", *_interconnection(study), *_groups(study, selection), *below, "", f"> {markdown(CAUTION)}"]
    return "\n".join(lines) + "\n"


def review_markdown(study: Study, selection: Selection, verify: tuple[Verify, ...]) -> str:
    """What a reviewer reads first: what to verify on site, then the findings, then the interconnection."""
    lines = [*_head(study), "", *verify_section(verify), *_groups(study, selection), "", *_interconnection(study), "", f"> {markdown(CAUTION)}"]
    return "\n".join(lines) + "\n"


def _head(study: Study) -> list[str]:
    return [f"# {markdown(study.project.project.title)}", "", markdown(study.checked_against), "", f"**{counts_text(counts(study))}**"]


def _interconnection(study: Study) -> list[str]:
    return [f"- Interconnection: {markdown(method)}" for method in interconnection(study)]


def _groups(study: Study, selection: Selection) -> list[str]:
    lines = []
    for level, group in grouped(selection.of(study.checks)):
        lines += ["", f"## {HEADINGS[level]}", "", *(line for item in group for line in finding_lines(item))]
    return lines or ["", "Nothing to show at the levels and subjects asked for."]


def verify_section(verify: tuple[Verify, ...]) -> list[str]:
    """The inputs to verify under their heading; one sentence where there are none."""
    if not verify:
        return [NONE]
    lines = [f"## {heading(len(verify))}", ""]
    for item in verify:
        lines += [f"- **{markdown(item.path)}** = {markdown(item.taken)}", *(f"  - {markdown(text)}" for text in (*item.turns, item.tried))]
    return lines


def finding_lines(item: Finding, lead: str = "") -> list[str]:
    """One finding as a list item; ``lead`` stands for its subject where that is known already."""
    lines = [f"- **{lead or markdown(item.subject)}** {markdown(item.message)}", f"  - {markdown(basis_line(item))}"]
    return [*lines, *(f"  - {word}{markdown(text)}" for word, text in item.advice)]
