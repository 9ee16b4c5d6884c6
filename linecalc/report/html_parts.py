"""The pieces of the HTML sheet: badges, facts, tables, lines of arithmetic, checks. Everything is escaped here."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from linecalc.check import Level
from linecalc.report.content import Fact, Grid, Line, Use
from linecalc.report.findings import Finding
from linecalc.report.wording import one_line


NARROW_COLUMNS = 2


def block_id(tag: str) -> str:
    """The anchor of a subject's calculations."""
    return escape(f"at-{tag}")


def drawing_id(tag: str) -> str:
    """The anchor of a tag in the drawing."""
    return escape(f"drawn-{tag}")


def step_id(step: str) -> str:
    """The anchor of a step."""
    return escape(f"step-{step}")


def badge(level: Level) -> str:
    """A level as a word in a box."""
    return f'<span class="level {_kind(level)}">{escape(level.value)}</span>'


def count_badge(level: Level, count: int) -> str:
    """How many checks have a level; quiet where there are none."""
    return f'<span class="level {_kind(level) if count else "none"}">{count} {escape(level.value)}</span>'


def _kind(level: Level) -> str:
    return level.key.replace("_", "-")


def mark(text: str) -> str:
    """The mark of an assumed or field-verify input; empty for none."""
    return f' <span class="mark">{escape(text)}</span>' if text else ""


def facts(found: tuple[Fact, ...]) -> str:
    """Labelled statements as a description list; empty for none."""
    items = "".join(f"<dt>{escape(fact.label)}</dt><dd>{escape(one_line(fact.text))}{mark(fact.mark)}</dd>\n" for fact in found)
    return f"<dl>\n{items}</dl>" if items else ""


def grid(found: Grid) -> str:
    """A table with its caption, in a frame that scrolls sideways and can be reached by keyboard."""
    return _framed(found, [[escape(one_line(cell)) for cell in row] for row in found.rows])


def schedule(found: Grid) -> str:
    """A table of subjects: each leads to its calculations, and the level at the end of a row is a badge."""
    rows = [[_subject_link(tag), *(escape(one_line(cell)) for cell in cells), _level(level)] for tag, *cells, level in found.rows]
    return _framed(found, rows)


def _framed(found: Grid, rows: list[list[str]]) -> str:
    """The table around cells that are escaped already."""
    head = "".join(f'<th scope="col">{escape(column)}</th>' for column in found.columns)
    body = "".join(f'<tr><th scope="row">{first}</th>{"".join(f"<td>{cell}</td>" for cell in rest)}</tr>\n' for first, *rest in rows)
    caption = escape(found.caption)
    width = "narrow" if len(found.columns) <= NARROW_COLUMNS else "wide"
    return (
        f'<div class="scroll" role="region" aria-label="{caption}" tabindex="0"><table class="{width}"><caption>{caption}</caption>\n'
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{body}</tbody></table></div>"
    )


def _subject_link(tag: str) -> str:
    return f'<a href="#{block_id(tag)}">{escape(tag)}</a>'


def _level(text: str) -> str:
    return next((badge(level) for level in Level if level.value == text), escape(text))


def steps(lines: tuple[Line, ...]) -> str:
    """Lines of arithmetic, each with its sources."""
    return '<ol class="steps">\n' + "\n".join(_step(line) for line in lines) + "\n</ol>"


def _step(line: Line) -> str:
    *left, result = (escape(part).replace(" x ", " &times; ") for part in line.parts)
    shown = " = ".join([escape(line.symbol), *left, f"<b>{result}</b>"])
    cited = f' <span class="cite">[{escape(line.citation)}]</span>' if line.citation else ""
    sources = "; ".join(_use(use) for use in line.uses)
    where = ": ".join(part for part in (escape(one_line(line.meaning)), sources) if part)
    below = f'<p class="where">{where}</p>' if where else ""
    return f'<li id="{step_id(line.id)}"><p class="math">{shown}{cited}</p>{below}</li>'


def _use(use: Use) -> str:
    name = escape(use.symbol or use.value)
    if use.step:
        return f'<a href="#{step_id(use.step)}">{name}</a>'
    return f"{name} from {escape(one_line(use.source))}{mark(use.mark)}"


def checks(found: tuple[Finding, ...]) -> str:
    """The checks of one subject as a list."""
    return _check_list(_check(item, "") for item in found)


def linked_checks(found: tuple[Finding, ...]) -> str:
    """Checks of several subjects as a list, each subject leading to its calculations."""
    return _check_list(_check(item, f"{_subject_link(item.subject)} ") for item in found)


def _check_list(items: Iterable[str]) -> str:
    return '<ul class="checks">\n' + "\n".join(items) + "\n</ul>"


def _check(item: Finding, subject: str) -> str:
    relation = f'<span class="held">{escape(item.held.text)}</span>' if item.held else ""
    cited = f'<span class="cite">[{escape(item.citation)}]</span>' if item.citation else ""
    basis = " ".join(part for part in (relation, cited, f'<span class="rule">{escape(item.rule)}</span>') if part)
    below = "".join(f'<span class="more">{word}{escape(one_line(text))}</span>' for word, text in item.advice)
    message = f'{badge(item.level)} {subject}{escape(one_line(item.message))}<span class="more basis">{basis}</span>'
    return f'<li class="is-{_kind(item.level)}">{message}{below}</li>'
