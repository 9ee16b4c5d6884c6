"""The calculation sheet as plain text."""

from __future__ import annotations

from collections.abc import Sequence

from tabulate import tabulate

from linecalc.report.content import Block, Doubt, Fact, Grid, Line, Sheet, TableUse, Use
from linecalc.report.findings import HEADINGS, Finding, counts_text
from linecalc.report.findings_text import finding_lines, verify_lines
from linecalc.report.wrapping import WIDTH, wrapped
from linecalc.report.verify import heading
from linecalc.report.wording import one_line

_RULE = "=" * 92
_IN = "  "
HEAD_PADDING = 2
MANY_COLUMNS = 8
MANY_ROWS = 4


def sheet_text(sheet: Sheet) -> str:
    """The whole sheet, ending in a newline."""
    lines = [
        *_head(sheet),
        *_verify(sheet),
        *_findings(sheet),
        *_heading("CALCULATIONS, in the order of power flow"),
        *_grid(sheet.schedule),
        *(line for block in sheet.blocks for line in block_lines(block)),
        *_schedules(sheet),
        *_doubts(sheet.doubts),
        *_tables(sheet.tables),
        *_memory(sheet.memory),
        *_heading("CAUTION"),
        *wrapped(sheet.caution),
    ]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _head(sheet: Sheet) -> list[str]:
    lines = [one_line(sheet.title), f"Calculation sheet, {sheet.checked_against}", "", *wrapped(sheet.caution)]
    lines += ["", *(line for fact in sheet.job for line in _fact(fact))] if sheet.job else []
    lines += [*_heading("SYSTEM"), *(line for fact in sheet.system for line in _fact(fact)), ""]
    lines += [line for fact in sheet.basis for line in _fact(fact)]
    lines += [line for text in sheet.interconnection for line in _fact(Fact("Interconnection", text))]
    lines += _fact(Fact("Verdicts", counts_text(sheet.counts)))
    return lines + [line for fact in sheet.local for line in _fact(Fact("Local change", f"{fact.text} (source: {fact.label})"))]


def _heading(text: str) -> list[str]:
    return ["", _RULE, text, _RULE]


def _fact(fact: Fact) -> list[str]:
    mark = f" [{fact.mark}]" if fact.mark else ""
    return wrapped(f"{one_line(fact.text)}{mark}", f"{fact.label + ':':<21} ", " " * 22)


def _verify(sheet: Sheet) -> list[str]:
    if not sheet.verify:
        return []
    return [*_heading(heading(len(sheet.verify)).upper()), *(line for item in sheet.verify for line in verify_lines(item))]


def _findings(sheet: Sheet) -> list[str]:
    lines = _heading("FINDINGS")
    for level, group in sheet.findings:
        lines += ["", HEADINGS[level].upper(), *(line for item in group for line in finding_lines(item))]
    return lines if sheet.findings else [*lines, "None beyond passes."]


def block_lines(block: Block) -> list[str]:
    """One subject: facts, tables, arithmetic, checks."""
    lines = ["", f"--- {one_line(block.title)} ".ljust(92, "-")]
    lines += [_IN + line for fact in block.facts for line in _fact(fact)]
    lines += [line for grid in block.grids for line in _grid(grid)]
    if block.lines:
        lines += ["", f"{_IN}Arithmetic"]
    for line in block.lines:
        lines += _line(line)
    if block.findings:
        lines += ["", f"{_IN}Checks"]
    for item in block.findings:
        lines += _check(item)
    return lines


def _grid(grid: Grid) -> list[str]:
    rows = [[one_line(cell) for cell in row] for row in grid.rows]
    room = WIDTH - len(_IN)
    lines = []
    for number, shown in enumerate(column_groups(grid.columns, rows, room)):
        columns = [grid.columns[index] for index in shown]
        cells = [[row[index] for index in shown] for row in rows]
        widths = column_widths(columns, cells, room)
        heads = [width - HEAD_PADDING for width in widths]
        table = tabulate(cells, headers=columns, tablefmt="simple", disable_numparse=True, maxcolwidths=widths, maxheadercolwidths=heads)
        lines += ["", _IN + grid.caption + (", continued" if number else ""), *(_IN + line for line in table.splitlines())]
    return lines


def column_groups(heads: Sequence[str], rows: Sequence[Sequence[str]], room: int) -> list[list[int]]:
    """The columns that stand together: all of them, or a table of many columns and rows in parts that each fit.

    Each part begins with the first column.
    """
    widths = _natural_widths(heads, rows)
    if len(heads) < MANY_COLUMNS or len(rows) < MANY_ROWS or _together(widths) <= room:
        return [list(range(len(heads)))]
    groups = [[0]]
    for index in range(1, len(heads)):
        wider = [widths[at] for at in (*groups[-1], index)]
        if len(groups[-1]) > 1 and _together(wider) > room:
            groups.append([0])
        groups[-1].append(index)
    return groups


def _natural_widths(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> list[int]:
    return [max(len(head) + HEAD_PADDING, *(len(cell) for cell in cells)) for head, *cells in zip(heads, *rows, strict=True)]


def _together(widths: Sequence[int]) -> int:
    return sum(widths) + 2 * (len(widths) - 1)


def column_widths(heads: Sequence[str], rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """Widths that let a table fit in ``room`` characters, taken from the widest columns first.

    No column becomes narrower than its longest word, even if the table then
    stays too wide. Heads are printed with two characters to spare.
    """
    columns = list(zip(heads, *rows, strict=True))
    widths = _natural_widths(heads, rows)
    least = [max(_longest_word(head) + HEAD_PADDING, *(_longest_word(cell) for cell in cells)) for head, *cells in columns]
    while _together(widths) > room:
        shrinkable = [index for index, width in enumerate(widths) if width > least[index]]
        if not shrinkable:
            break
        widths[max(shrinkable, key=lambda index: widths[index])] -= 1
    return widths


def _longest_word(text: str) -> int:
    return max((len(word) for word in text.split()), default=0)


def _line(line: Line) -> list[str]:
    citation = f"  [{line.citation}]" if line.citation else ""
    found = wrapped(f"{line.arithmetic}{citation}", _IN * 2, _IN * 4)
    meaning = f"{one_line(line.meaning)}: " if line.meaning else ""
    sources = "; ".join(_use(use) for use in line.uses)
    return found + (wrapped(f"{meaning}{sources}".rstrip(": "), _IN * 4, _IN * 4) if meaning or sources else [])


def _use(use: Use) -> str:
    mark = f" [{use.mark}]" if use.mark else ""
    return f"{use.symbol or use.value} from {f'step {use.step}' if use.step else one_line(use.source)}{mark}"


def _check(item: Finding) -> list[str]:
    parts = [f"{item.level.value}: {one_line(item.message)}"]
    parts += [item.held.text] if item.held else []
    parts += [f"[{item.citation}]"] if item.citation else []
    lines = wrapped("  ".join(parts), _IN * 2, _IN * 4)
    for word, text in item.advice:
        lines += wrapped(f"{word}{one_line(text)}", _IN * 4, _IN * 5)
    return lines


def _schedules(sheet: Sheet) -> list[str]:
    """The other schedules, the labels and the notes."""
    lines = _heading("SCHEDULES") if sheet.schedules else []
    lines += [line for grid in sheet.schedules for line in _grid(grid)]
    if sheet.labels is not None and sheet.labels.rows:
        lines += [*_heading("LABELS"), *_grid(sheet.labels)]
    if sheet.notes:
        lines += _heading("NOTES FOR THE PERMIT")
    for number, note in enumerate(sheet.notes, 1):
        cited = f" [{note.label}]" if note.label else ""
        lines += wrapped(f"{one_line(note.text)}{cited}", f"{number:>2}. ", "    ")
    return lines


def _doubts(doubts: tuple[Doubt, ...]) -> list[str]:
    lines = _heading("ASSUMED OR TO BE VERIFIED ON SITE")
    for doubt in doubts:
        lines += wrapped(f"{doubt.path} = {one_line(doubt.value)} [{doubt.basis}]: {one_line(doubt.reason)}", "", _IN)
        lines += wrapped(f"used in {', '.join(doubt.used_by)}", _IN, _IN) if doubt.used_by else []
    return lines if doubts else [*lines, "Nothing: every input used is given."]


def _tables(tables: tuple[TableUse, ...]) -> list[str]:
    lines = _heading("CODE TABLES USED")
    for table in tables:
        lines += wrapped(f"{table.number}: {table.title}", "", _IN)
        lines += [line for text in table.checked for line in wrapped(f"compared with {text}", _IN, _IN * 2)]
        lines += [line for text in table.from_memory for line in wrapped(f"from memory, compared with nothing: {text}", _IN, _IN * 2)]
    return lines if tables else [*lines, "None."]


def _memory(memory: tuple[str, ...]) -> list[str]:
    if not memory:
        return []
    return [*_heading("SECTIONS CITED FROM MEMORY, TO BE VERIFIED"), *(line for text in memory for line in wrapped(text, "", _IN))]
