"""The calculation sheet as Markdown."""

from __future__ import annotations

from tabulate import tabulate

from linecalc.report.content import Block, Doubt, Fact, Grid, Line, Sheet, TableUse, Use
from linecalc.report.findings import HEADINGS, counts_text
from linecalc.report.findings_markdown import finding_lines, verify_section
from linecalc.report.wording import markdown


def sheet_markdown(sheet: Sheet) -> str:
    """The whole sheet, ending in a newline."""
    lines = [
        *_head(sheet),
        *(["", *verify_section(sheet.verify)] if sheet.verify else []),
        *_findings(sheet),
        "",
        "## Calculations, in the order of power flow",
        *_grid(sheet.schedule),
        *(line for block in sheet.blocks for line in block_lines(block)),
        *_schedules(sheet),
        *_doubts(sheet.doubts),
        *_tables(sheet.tables),
        *_memory(sheet.memory),
        "",
        f"> {markdown(sheet.caution)}",
    ]
    return "\n".join(lines) + "\n"


def _head(sheet: Sheet) -> list[str]:
    lines = [f"# {markdown(sheet.title)}", "", f"Calculation sheet, {markdown(sheet.checked_against)}", "", f"> {markdown(sheet.caution)}"]
    lines += ["", *_facts(sheet.job)] if sheet.job else []
    lines += ["", "## System", "", *_facts(sheet.system), *_facts(sheet.basis)]
    lines += _facts(tuple(Fact("Interconnection", text) for text in sheet.interconnection))
    lines += [f"- **Verdicts:** {counts_text(sheet.counts)}"]
    return lines + _facts(tuple(Fact("Local change", f"{fact.text} (source: {fact.label})") for fact in sheet.local))


def _facts(facts: tuple[Fact, ...]) -> list[str]:
    return [f"- **{markdown(fact.label)}:** {markdown(fact.text)}{_mark(fact.mark)}" for fact in facts]


def _mark(mark: str) -> str:
    return f" **[{mark}]**" if mark else ""


def _findings(sheet: Sheet) -> list[str]:
    lines = ["", "## Findings"]
    for level, group in sheet.findings:
        lines += ["", f"### {HEADINGS[level]}", "", *(line for item in group for line in finding_lines(item))]
    return lines if sheet.findings else [*lines, "", "None beyond passes."]


def block_lines(block: Block) -> list[str]:
    """One subject: facts, tables, arithmetic, checks."""
    lines = ["", f"### {markdown(block.title)}", "", *_facts(block.facts)]
    lines += [line for grid in block.grids for line in _grid(grid)]
    if block.lines:
        lines += ["", "**Arithmetic**", "", *(text for line in block.lines for text in _line(line))]
    if block.findings:
        lines += ["", "**Checks**", "", *(line for item in block.findings for line in finding_lines(item, item.level.value))]
    return lines


def _grid(grid: Grid) -> list[str]:
    return ["", f"**{markdown(grid.caption)}**", "", *_table(grid.columns, grid.rows)]


def _table(columns: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> list[str]:
    cells = [[markdown(cell) for cell in row] for row in rows]
    headers = [markdown(column) for column in columns]
    return tabulate(cells, headers=headers, tablefmt="pipe", disable_numparse=True).splitlines()


def _line(line: Line) -> list[str]:
    citation = f" [{line.citation}]" if line.citation else ""
    lines = [f"- {markdown(line.arithmetic + citation)}"]
    sources = "; ".join(_use(use) for use in line.uses)
    text = ": ".join(part for part in (markdown(line.meaning), sources) if part)
    return [*lines, f"  - {text}"] if text else lines


def _use(use: Use) -> str:
    source = f"step {use.step}" if use.step else use.source
    return markdown(f"{use.symbol or use.value} from {source}") + _mark(use.mark)


def _schedules(sheet: Sheet) -> list[str]:
    """The other schedules, the labels and the notes."""
    lines = ["", "## Schedules"] if sheet.schedules else []
    lines += [line for grid in sheet.schedules for line in _grid(grid)]
    if sheet.labels is not None and sheet.labels.rows:
        lines += ["", "## Labels", *_grid(sheet.labels)]
    if sheet.notes:
        lines += ["", "## Notes for the permit", ""]
        lines += [f"1. {markdown(note.text + (f' [{note.label}]' if note.label else ''))}" for note in sheet.notes]
    return lines


def _doubts(doubts: tuple[Doubt, ...]) -> list[str]:
    lines = ["", "## Assumed or to be verified on site", ""]
    if not doubts:
        return [*lines, "Nothing: every input used is given."]
    rows = tuple((doubt.path, doubt.value, doubt.basis, doubt.reason, ", ".join(doubt.used_by)) for doubt in doubts)
    return [*lines, *_table(("Input", "Value", "Basis", "Reason or source", "Used in"), rows)]


def _tables(tables: tuple[TableUse, ...]) -> list[str]:
    lines = ["", "## Code tables used", ""]
    for table in tables:
        lines.append(f"- **{markdown(table.number)}** {markdown(table.title)}")
        lines += [f"  - compared with {markdown(text)}" for text in table.checked]
        lines += [f"  - from memory, compared with nothing: {markdown(text)}" for text in table.from_memory]
    return lines if tables else [*lines, "None."]


def _memory(memory: tuple[str, ...]) -> list[str]:
    return ["", "## Sections cited from memory, to be verified", "", *(f"- {markdown(text)}" for text in memory)] if memory else []
