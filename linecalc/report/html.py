"""The calculation sheet as one self-contained HTML file: no network, no script."""

from __future__ import annotations

from html import escape
from importlib.resources import files

from linecalc.check import Level
from linecalc.report.content import Block, Doubt, Fact, Grid, Sheet, TableUse
from linecalc.report.findings import HEADINGS
from linecalc.report.html_drawing import Drawing
from linecalc.report.html_parts import badge, block_id, checks, count_badge, drawing_id, facts, grid, linked_checks, schedule, steps
from linecalc.report.verify import heading
from linecalc.report.wording import one_line


_POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:"


def sheet_html(sheet: Sheet, drawing: Drawing | None = None) -> str:
    """The whole sheet.

    Parameters
    ----------
    drawing : the drawing with a link on each tag; left out where there is none.
    """
    title = escape(one_line(sheet.title))
    style = (files("linecalc.report") / "sheet.css").read_text("utf-8")
    body = [
        '<a class="skip" href="#findings">Skip to the findings</a>',
        *_header(sheet),
        '<main id="main">',
        *_summary(sheet),
        drawing.html if drawing else "",
        *_verify(sheet),
        *_findings(sheet),
        *_calculations(sheet, drawing.tags if drawing else frozenset()),
        *_schedules(sheet),
        *_doubts(sheet.doubts),
        *_tables(sheet),
        "</main>",
        f'<footer><p class="caution">{escape(sheet.caution)}</p><p>{escape(sheet.checked_against)}</p></footer>',
    ]
    head = (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">\n'
        f"<title>{title}: calculation sheet</title>\n<style>\n{style}</style>\n</head>\n<body>\n"
    )
    return head + "\n".join(part for part in body if part) + "\n</body>\n</html>\n"


def _header(sheet: Sheet) -> list[str]:
    return [
        "<header>",
        f"<h1>{escape(one_line(sheet.title))}</h1>",
        f'<p class="sub">Calculation sheet, {escape(sheet.checked_against)}</p>',
        f'<p class="caution">{escape(sheet.caution)}</p>',
        "</header>",
    ]


def _summary(sheet: Sheet) -> list[str]:
    counts = "".join(f"<li>{count_badge(level, count)}</li>" for level, count in sheet.counts)
    interconnection = tuple(Fact("Interconnection", text) for text in sheet.interconnection)
    local = tuple(Fact("Local change", f"{fact.text} (source: {fact.label})") for fact in sheet.local)
    return [
        '<section aria-labelledby="summary">',
        '<h2 id="summary">System</h2>',
        f'<ul class="counts" aria-label="Number of checks at each level">{counts}</ul>',
        facts((*sheet.system, *sheet.basis, *interconnection, *local)),
        facts(sheet.job) if sheet.job else "",
        "</section>",
    ]


def _verify(sheet: Sheet) -> list[str]:
    if not sheet.verify:
        return []
    items = []
    for item in sheet.verify:
        below = "".join(f'<span class="more">{escape(one_line(text))}</span>' for text in (*item.turns, item.tried))
        items.append(f"<li>{escape(item.path)} = {escape(one_line(item.taken))}{below}</li>")
    title = escape(heading(len(sheet.verify)))
    return ['<section aria-labelledby="verify">', f'<h2 id="verify">{title}</h2>', f'<ul class="checks">{"".join(items)}</ul>', "</section>"]


def _findings(sheet: Sheet) -> list[str]:
    parts = ['<section aria-labelledby="findings">', '<h2 id="findings" tabindex="-1">Findings</h2>']
    for level, group in sheet.findings:
        parts += [f"<h3>{escape(HEADINGS[level])}</h3>", linked_checks(group)]
    if not sheet.findings:
        parts.append("<p>None beyond passes.</p>")
    return [*parts, "</section>"]


def _calculations(sheet: Sheet, drawn: frozenset[str]) -> list[str]:
    links = "".join(f'<li><a href="#{block_id(block.tag)}">{escape(block.tag)}</a></li>' for block in sheet.blocks)
    return [
        '<section aria-labelledby="calculations">',
        '<h2 id="calculations">Calculations, in the order of power flow</h2>',
        schedule(sheet.schedule),
        f'<nav aria-label="Subjects of the calculations"><ul>{links}</ul></nav>',
        *(_block(block, block.tag in drawn) for block in sheet.blocks),
        "</section>",
    ]


def _block(block: Block, drawn: bool) -> str:
    anchor = block_id(block.tag)
    back = [f'<a href="#{drawing_id(block.tag)}">{escape(block.tag)} in the drawing</a>'] if drawn else []
    back.append('<a href="#findings">findings</a>')
    parts = [
        f'<article class="block" id="{anchor}" aria-labelledby="{anchor}-title">',
        f'<div class="top"><h3 id="{anchor}-title">{escape(one_line(block.title))} {_worst(block)}</h3>',
        f"<p>{' &middot; '.join(back)}</p></div>",
        facts(block.facts),
        *(grid(found) for found in block.grids),
    ]
    if block.lines:
        parts += ["<h4>Arithmetic</h4>", steps(block.lines)]
    if block.findings:
        parts += ["<h4>Checks</h4>", checks(block.findings)]
    return "\n".join(part for part in [*parts, "</article>"] if part)


def _worst(block: Block) -> str:
    return badge(block.worst) if block.worst not in (None, Level.PASS, Level.NOTE) else ""


def _schedules(sheet: Sheet) -> list[str]:
    """The other schedules, the labels and the notes."""
    parts = []
    if sheet.schedules:
        parts += ['<section aria-labelledby="schedules">', '<h2 id="schedules">Schedules</h2>', *(grid(found) for found in sheet.schedules), "</section>"]
    if sheet.labels is not None and sheet.labels.rows:
        parts += ['<section aria-labelledby="labels">', '<h2 id="labels">Labels</h2>', grid(sheet.labels), "</section>"]
    if sheet.notes:
        items = "".join(f'<li>{escape(one_line(note.text))} {_cited(note)}</li>' for note in sheet.notes)
        parts += ['<section aria-labelledby="notes">', '<h2 id="notes">Notes for the permit</h2>', f"<ol>{items}</ol>", "</section>"]
    return parts


def _cited(note: Fact) -> str:
    return f'<span class="cite">[{escape(note.label)}]</span>' if note.label else ""


def _doubts(doubts: tuple[Doubt, ...]) -> list[str]:
    parts = ['<section aria-labelledby="assumed">', '<h2 id="assumed">Assumed or to be verified on site</h2>']
    if not doubts:
        return [*parts, "<p>Nothing: every input used is given.</p>", "</section>"]
    rows = tuple((doubt.path, doubt.value, doubt.basis, doubt.reason, ", ".join(doubt.used_by)) for doubt in doubts)
    found = Grid("Inputs without a confirmed value", ("Input", "Value", "Basis", "Reason or source", "Used in"), rows)
    return [*parts, grid(found), "</section>"]


def _tables(sheet: Sheet) -> list[str]:
    parts = ['<section aria-labelledby="tables">', '<h2 id="tables">Code tables used</h2>']
    parts += [_table(found) for found in sheet.tables] or ["<p>None.</p>"]
    parts.append("</section>")
    if sheet.memory:
        items = "".join(f"<li>{escape(text)}</li>" for text in sheet.memory)
        heading = '<h2 id="memory">Sections cited from memory, to be verified</h2>'
        parts += ['<section aria-labelledby="memory">', heading, f"<ul>{items}</ul>", "</section>"]
    return parts


def _table(found: TableUse) -> str:
    items = [f"<li>compared with {escape(text)}</li>" for text in found.checked]
    items += [f"<li>from memory, compared with nothing: {escape(text)}</li>" for text in found.from_memory]
    return f"<h3>{escape(found.number)}: {escape(found.title)}</h3>\n<ul>{''.join(items)}</ul>"
