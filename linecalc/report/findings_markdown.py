"""The findings as Markdown, for a comment or a file under review."""

from __future__ import annotations

from linecalc.caution import CAUTION
from linecalc.report.findings import HEADINGS, Finding, Selection, counts, counts_text, grouped, interconnection
from linecalc.report.findings_text import basis_line
from linecalc.report.wording import markdown
from linecalc.study import Study


def findings_markdown(study: Study, selection: Selection) -> str:
    """Counts, interconnection and the findings asked for, ending in a newline."""
    lines = [f"# {markdown(study.project.project.title)}", "", markdown(study.checked_against), "", f"**{counts_text(counts(study))}**", ""]
    lines += [f"- Interconnection: {markdown(method)}" for method in interconnection(study)]
    groups = grouped(selection.of(study.checks))
    for level, group in groups:
        lines += ["", f"## {HEADINGS[level]}", "", *(line for item in group for line in finding_lines(item))]
    if not groups:
        lines += ["", "Nothing to show at the levels and subjects asked for."]
    lines += ["", f"> {markdown(CAUTION)}"]
    return "\n".join(lines) + "\n"


def finding_lines(item: Finding, lead: str = "") -> list[str]:
    """One finding as a list item; ``lead`` stands for its subject where that is known already."""
    lines = [f"- **{lead or markdown(item.subject)}** {markdown(item.message)}", f"  - {markdown(basis_line(item))}"]
    if item.needs:
        lines.append(f"  - needs: {', '.join(markdown(need) for need in item.needs)}")
    if item.flip:
        lines.append(f"  - {markdown(item.flip)}")
    if item.fix:
        lines.append(f"  - fix: {markdown(item.fix)}")
    return lines
