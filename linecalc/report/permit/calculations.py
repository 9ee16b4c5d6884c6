"""The calculation sheet as items of a set, in the order of the other formats."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.report.content import Block, Fact, Line, Sheet, Use
from linecalc.report.findings import HEADINGS, Finding, counts_text
from linecalc.report.permit.items import Heading, Item, Paragraph, fact_items, listing
from linecalc.report.verify import heading


def calculation_items(sheet: Sheet, room: float) -> tuple[Item, ...]:
    """The whole calculation sheet; ``room`` is the width of a column in inches."""
    return (
        *_head(sheet),
        *_verify(sheet),
        *_findings(sheet),
        Heading("Calculations, in the order of power flow"),
        listing(sheet.schedule, room),
        *(item for block in sheet.blocks for item in _block(block, room)),
        *_end(sheet),
    )


def summary_items(sheet: Sheet) -> tuple[Item, ...]:
    """The system, what it was checked by, and the verdicts."""
    facts = (*sheet.system, *sheet.basis, *(Fact("Interconnection", text) for text in sheet.interconnection))
    local = tuple(Fact("Local change", f"{fact.text} (source: {fact.label})") for fact in sheet.local)
    return fact_items((*facts, Fact("Verdicts", counts_text(sheet.counts)), *local))


def _head(sheet: Sheet) -> Iterator[Item]:
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
    yield Paragraph(" ".join(part for part in parts if part), lead)
    for word, text in found.advice:
        yield Paragraph(f"{word}{text}", indent=True)


def _block(block: Block, room: float) -> Iterator[Item]:
    yield Heading(block.title)
    yield from fact_items(block.facts)
    yield from (listing(grid, room) for grid in block.grids if grid.rows)
    if block.lines:
        yield Heading("Arithmetic", 4)
    yield from (_line(line) for line in block.lines)
    if block.findings:
        yield Heading("Checks", 4)
    for found in block.findings:
        yield from _finding(found, found.level.value)


def _line(line: Line) -> Paragraph:
    """Arithmetic, section, meaning and where each input is from, in one paragraph."""
    sources = "; ".join(_use(use) for use in line.uses)
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
        yield Paragraph(table.title, table.number)
        yield from (Paragraph(f"compared with {text}", indent=True) for text in table.checked)
        yield from (Paragraph(f"from memory, compared with nothing: {text}", indent=True) for text in table.from_memory)
    if sheet.memory:
        yield Heading("Sections cited from memory, to be verified")
        yield from (Paragraph(text) for text in sheet.memory)
