"""The calculation sheet as items of a set, in the order of the other formats."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from linecalc.report.content import Block, Fact, Line, Sheet, TableUse, Use
from linecalc.report.findings import HEADINGS, Finding, counts_text
from linecalc.report.permit.items import Heading, Item, Paragraph, fact_items, run_of_facts
from linecalc.report.permit.listings import tables
from linecalc.report.verify import heading

#: Names of columns in the package's own tables, which say nothing on paper.
_OWN_COLUMNS = re.compile(r"columns? [^;()]*_[^;()]*")
_HOW_TO_READ = (
    "Each line of arithmetic: formula, numbers, result, then the section and where its inputs are from. "
    "An input whose place is not named is the result of a line above under the same heading."
)


def calculation_items(sheet: Sheet, room: float) -> tuple[Item, ...]:
    """What follows the system on a calculation sheet; ``room`` is the width of a column in inches."""
    return (
        *_verify(sheet),
        *_findings(sheet),
        Heading("Calculations, in the order of power flow"),
        Paragraph(_HOW_TO_READ),
        *(item for block in sheet.blocks for item in _block(block, room)),
        *_end(sheet),
    )


def summary_items(sheet: Sheet) -> tuple[Item, ...]:
    """The system, what it was checked by, and the verdicts."""
    facts = (*sheet.system, *sheet.basis, *(Fact("Interconnection", text) for text in sheet.interconnection))
    local = tuple(Fact("Local change", f"{fact.text} (source: {fact.label})") for fact in sheet.local)
    return fact_items((*facts, Fact("Verdicts", counts_text(sheet.counts)), *local))


def head_items(sheet: Sheet) -> Iterator[Item]:
    """Title, caution, job and system, for a calculation sheet that stands alone."""
    yield Paragraph(f"{sheet.title}. Calculation sheet, {sheet.checked_against}.")
    yield Paragraph(sheet.caution)
    yield from fact_items(sheet.job)
    yield Heading("System")
    yield from summary_items(sheet)


def _verify(sheet: Sheet) -> Iterator[Item]:
    if sheet.verify:
        yield Heading(heading(len(sheet.verify)))
    for item in sheet.verify:
        yield Paragraph(f"{'; '.join(item.turns)} ({item.tried})", f"{item.path} = {item.taken}")


def _findings(sheet: Sheet) -> Iterator[Item]:
    yield Heading("Findings")
    for level, group in sheet.findings:
        yield Heading(HEADINGS[level], 3)
        yield from (item for found in group for item in _finding(found, found.subject))
    if not sheet.findings:
        yield Paragraph("None beyond passes.")


def _finding(found: Finding, lead: str) -> Iterator[Paragraph]:
    parts = (found.message, f"({found.held.text})" if found.held else "", f"[{found.citation}]" if found.citation else "")
    advice = "".join(f"; {word}{text}" for word, text in found.advice)
    yield Paragraph(" ".join(part for part in parts if part) + advice, lead)


def _block(block: Block, room: float) -> Iterator[Item]:
    yield Heading(block.title)
    grids = [grid for grid in block.grids if grid.rows]
    more = bool(grids or block.lines or block.findings)
    yield from (replace(facts, sticky=more) for facts in run_of_facts(block.facts))
    yield from tables(grids, room)
    if block.lines:
        yield Heading("Arithmetic", 4)
    yield from _lines(block.lines)
    if block.findings:
        yield Heading("Checks", 4)
    for found in block.findings:
        yield from _finding(found, found.level.value)


def _lines(lines: tuple[Line, ...]) -> Iterator[Paragraph]:
    """The arithmetic of one subject; a result that one line alone bears the name of is not referred to again."""
    names = Counter(line.symbol for line in lines)
    above: dict[str, str] = {}
    for line in lines:
        far = tuple(use for use in line.uses if above.get(use.step) != use.symbol or names[use.symbol] > 1 or use.mark)
        yield _line(line, tuple(dict.fromkeys(far)))
        above[line.id] = line.symbol


def _line(line: Line, uses: tuple[Use, ...]) -> Paragraph:
    """Arithmetic, section, meaning and where inputs are from, in one paragraph."""
    sources = "; ".join(dict.fromkeys(_use(use) for use in uses))
    meaning = ": ".join(part for part in (line.meaning, sources) if part)
    cited = f"[{line.citation}]" if line.citation else ""
    return Paragraph("  ".join(part for part in (cited, meaning) if part), line.arithmetic)


def _use(use: Use) -> str:
    mark = f" [{use.mark}]" if use.mark else ""
    return f"{use.symbol or use.value} from {f'step {use.step}' if use.step else use.source}{mark}"


def _end(sheet: Sheet) -> Iterator[Item]:
    yield Heading("Assumed or to be verified on site")
    for doubt in sheet.doubts:
        used = f"; used in {', '.join(doubt.used_by)}" if doubt.used_by else ""
        yield Paragraph(f"{doubt.reason}{used}", f"{doubt.path} = {doubt.value} [{doubt.basis}]")
    if not sheet.doubts:
        yield Paragraph("Nothing: every input used is given.")
    yield Heading("Code tables used")
    for table in sheet.tables:
        yield Paragraph(_evidence(table), table.number)
    if sheet.memory:
        yield Heading("Sections cited from memory, to be verified")
        yield from (Paragraph(text) for text in sheet.memory)


def _evidence(table: TableUse) -> str:
    """Title of a table, what its numbers were compared with, and which of them with nothing."""
    compared = f"; compared with {'; '.join(table.checked)}" if table.checked else ""
    memory = f"; from memory, compared with nothing: {'; '.join(table.from_memory)}" if table.from_memory else ""
    return _OWN_COLUMNS.sub("some columns", f"{table.title}{compared}{memory}")
