"""The coverage report as text, Markdown and JSON."""

from __future__ import annotations

from typing import Any

from tabulate import tabulate

from linecalc.caution import CAUTION
from linecalc.report.checklist import Checklist, Coverage, Covered
from linecalc.report.wrapping import wrapped
from linecalc.report.wording import markdown, one_line

SCHEMA = "linecalc/checklist/1"
_ORDER = (Coverage.COMPUTED, Coverage.SHOWN, Coverage.ATTACHED, Coverage.NOT_COVERED, Coverage.NOT_APPLICABLE)
_HEADINGS = {
    Coverage.NOT_COVERED: "Not covered",
    Coverage.COMPUTED: "Computed",
    Coverage.SHOWN: "Shown",
    Coverage.ATTACHED: "Given as an attachment note",
    Coverage.NOT_APPLICABLE: "Does not apply to this design",
}


def counts_line(found: Checklist) -> str:
    """``150 of 192 covered: 50 computed, ...; 130 of the 158 that are neither site plan nor attachment``."""
    each = ", ".join(f"{found.count(coverage)} {coverage.value}" for coverage in _ORDER)
    on_sheets = f"{found.covered_on_sheets} of the {len(found.on_sheets)} that are neither of the site plan nor attachments"
    return f"{found.covered} of {len(found.rows)} items covered: {each}; {on_sheets}"


def checklist_text(found: Checklist) -> str:
    """The report as plain text, what is not covered first."""
    lines = [one_line(found.title), f"checklist of what offices ask, against NEC {found.edition}", "", *wrapped(counts_line(found))]
    for coverage in _HEADINGS:
        rows = [row for row in found.rows if row.coverage is coverage]
        if rows:
            lines += ["", _HEADINGS[coverage].upper()]
            lines += [line for row in rows for line in _row(row)]
    return "\n".join([*lines, "", *wrapped(CAUTION)]) + "\n"


def _row(row: Covered) -> list[str]:
    head = f"{row.item.id:>4}  {row.item.item} [{row.item.office}]"
    where = row.text if row.coverage in (Coverage.COMPUTED, Coverage.SHOWN) else ""
    told = f"{where}: {one_line(row.reason)}" if where else one_line(row.reason)
    return [*wrapped(head, "", " " * 6), *wrapped(told, " " * 6, " " * 6)]


def checklist_markdown(found: Checklist) -> str:
    """The report as Markdown, in the order of the checklist."""
    rows = [
        (str(row.item.id), markdown(row.item.item), row.item.part, row.item.office, markdown(row.text), markdown(row.reason)) for row in found.rows
    ]
    table = tabulate(rows, headers=("No.", "Item", "Part", "Asked by", "Answer", "Evidence or reason"), tablefmt="pipe", disable_numparse=True)
    head = [f"# {markdown(found.title)}", "", f"Checklist of what offices ask, against NEC {found.edition}", "", counts_line(found)]
    return "\n".join([*head, "", table, "", f"> {markdown(CAUTION)}"]) + "\n"


def checklist_document(found: Checklist) -> dict[str, Any]:
    """The report as a JSON document."""
    return {
        "schema": SCHEMA,
        "edition": found.edition,
        "project": {"title": found.title},
        "counts": {coverage.key: found.count(coverage) for coverage in _ORDER},
        "covered": found.covered,
        "on_sheets": {"items": len(found.on_sheets), "covered": found.covered_on_sheets},
        "items": [_item(row) for row in found.rows],
        "disclaimer": CAUTION,
    }


def _item(row: Covered) -> dict[str, Any]:
    item = row.item
    return {
        "id": item.id,
        "item": item.item,
        "part": item.part,
        "office": item.office,
        "sheet": item.sheet,
        "coverage": row.coverage.key,
        "reason": row.reason,
    }
