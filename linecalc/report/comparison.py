"""A comparison as plain text, Markdown and JSON."""

from __future__ import annotations

from typing import Any

from tabulate import tabulate

from linecalc.caution import CAUTION
from linecalc.comparison import Comparison, Difference, Group
from linecalc.report.findings import counts_text
from linecalc.report.wrapping import WIDTH, wrapped
from linecalc.report.text import column_widths
from linecalc.report.wording import markdown, one_line

SCHEMA = "linecalc/comparison/1"
NOTHING = "Nothing differs."


def _groups(found: Comparison) -> list[tuple[Group, list[Difference]]]:
    groups = ((group, [item for item in found.differences if item.group is group]) for group in Group)
    return [(group, items) for group, items in groups if items]


_SUBJECTS = {Group.SECTIONS: "Rule", Group.INPUTS: "Input"}


def _table(group: Group, items: list[Difference], found: Comparison) -> tuple[list[str], list[list[str]]]:
    """Heads and rows of one group; without the column on what it is about where nothing stands in it."""
    told = any(item.what for item in items)
    heads = [_SUBJECTS.get(group, "Subject"), *(["About"] if told else []), *found.names]
    rows = [[one_line(cell) for cell in (item.subject, *([item.what] if told else []), *item.values)] for item in items]
    return heads, rows


def comparison_text(found: Comparison) -> str:
    """Plain text, ending in a newline."""
    lines = [f"Compared: {', '.join(one_line(name) for name in found.names)}", ""]
    width = max(len(name) for name in found.names)
    lines += [f"{one_line(name):<{width}}  {counts_text(counted)}" for name, counted in zip(found.names, found.counts, strict=True)]
    for group, items in _groups(found):
        heads, rows = _table(group, items, found)
        widths = column_widths(heads, rows, WIDTH)
        lines += ["", group.value.upper(), *tabulate(rows, headers=heads, tablefmt="simple", disable_numparse=True, maxcolwidths=widths).splitlines()]
    lines += [] if found.differences else ["", NOTHING]
    return "\n".join(line.rstrip() for line in [*lines, "", *wrapped(CAUTION)]) + "\n"


def comparison_markdown(found: Comparison) -> str:
    """Markdown, ending in a newline."""
    lines = [f"# Compared: {', '.join(markdown(name) for name in found.names)}", ""]
    lines += [f"- **{markdown(name)}:** {counts_text(counted)}" for name, counted in zip(found.names, found.counts, strict=True)]
    for group, items in _groups(found):
        heads, rows = _table(group, items, found)
        cells = [[markdown(cell) for cell in row] for row in rows]
        table = tabulate(cells, headers=[markdown(head) for head in heads], tablefmt="pipe", disable_numparse=True)
        lines += ["", f"## {group.value}", "", *table.splitlines()]
    lines += [] if found.differences else ["", NOTHING]
    return "\n".join([*lines, "", f"> {markdown(CAUTION)}"]) + "\n"


def comparison_json(found: Comparison) -> dict[str, Any]:
    """The document ``linecalc/comparison/1``."""
    return {
        "schema": SCHEMA,
        "names": list(found.names),
        "summaries": [{level.key: count for level, count in counted} for counted in found.counts],
        "differences": [
            {"group": item.group.name.lower(), "subject": item.subject, "about": item.what or None, "values": list(item.values)}
            for item in found.differences
        ],
        "disclaimer": CAUTION,
    }
