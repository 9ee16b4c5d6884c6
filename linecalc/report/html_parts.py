"""The pieces of the HTML sheet: badges, facts, tables, lines of arithmetic, checks. Everything is escaped here."""

from __future__ import annotations

from html import escape

from linecalc.check import Level
from linecalc.report.content import Fact, Grid, Line, Use
from linecalc.report.findings import Finding
from linecalc.report.wording import one_line


def block_id(tag: str) -> str:
    """The anchor of a subject's calculations."""
    return escape(f"at-{tag}")


def drawing_id(tag: str) -> str:
    """The anchor of a tag in the drawing."""
    return escape(f"drawn-{tag}")


def step_id(step: str) -> str:
    """The anchor of a step."""
    return escape(f"step-{step}")


def badge(level: Level, text: str, quiet: bool = False) -> str:
    """A level as a word in a box; ``quiet`` where there is nothing to look at."""
    kind = "none" if quiet else level.key.replace("_", "-")
    return f'<span class="level {kind}">{escape(text)}</span>'


def mark(text: str) -> str:
    """The mark of an assumed or field-verify input; empty for none."""
    return f' <span class="mark">{escape(text)}</span>' if text else ""


def facts(found: tuple[Fact, ...]) -> str:
    """Labelled statements as a description list; empty for none."""
    items = "".join(f"<dt>{escape(fact.label)}</dt><dd>{escape(one_line(fact.text))}{mark(fact.mark)}</dd>\n" for fact in found)
    return f"<dl>\n{items}</dl>" if items else ""


def grid(found: Grid) -> str:
    """A table with its caption, in a frame that scrolls sideways and can be reached by keyboard."""
    head = "".join(f'<th scope="col">{escape(column)}</th>' for column in found.columns)
    rows = "".join(f"<tr>{_cells(row)}</tr>\n" for row in found.rows)
    caption = escape(found.caption)
    return (
        f'<div class="scroll" role="region" aria-label="{caption}" tabindex="0"><table><caption>{caption}</caption>\n'
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}</tbody></table></div>"
    )


def _cells(row: tuple[str, ...]) -> str:
    first, *rest = (escape(one_line(cell)) for cell in row)
    return f'<th scope="row">{first}</th>' + "".join(f"<td>{cell}</td>" for cell in rest)


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


def checks(found: tuple[Finding, ...], linked: bool = False) -> str:
    """Checks as a list; ``linked`` puts the subject before each, as a link to its calculations."""
    return '<ul class="checks">\n' + "\n".join(_check(item, linked) for item in found) + "\n</ul>"


def _check(item: Finding, linked: bool) -> str:
    subject = f'<a href="#{block_id(item.subject)}">{escape(item.subject)}</a> ' if linked else ""
    relation = f'<span class="held">{escape(item.held.text)}</span>' if item.held else ""
    cited = f'<span class="cite">[{escape(item.citation)}]</span>' if item.citation else ""
    basis = " ".join(part for part in (relation, cited, f'<span class="rule">{escape(item.rule)}</span>') if part)
    more = [("needs: ", ", ".join(item.needs)), ("", item.flip), ("fix: ", item.fix)]
    below = "".join(f'<span class="more">{word}{escape(one_line(text))}</span>' for word, text in more if text)
    kind = f"is-{item.level.key.replace('_', '-')}"
    return f'<li class="{kind}">{badge(item.level, item.level.value)} {subject}{escape(one_line(item.message))}<span class="more basis">{basis}</span>{below}</li>'
