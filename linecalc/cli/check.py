"""``linecalc check``: run every rule over projects and print the findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from linecalc.cli.errors import BAD_INPUT, as_json, errors_document, problems_of
from linecalc.cli.projects import study_of
from linecalc.errors import LinecalcError

if TYPE_CHECKING:
    from linecalc.check import Level
    from linecalc.report.findings import Selection
    from linecalc.study import Study

FAILS = 1
BESIDE, FIRST = "beside", "first"
MANY = 16
_EXAMPLE = """\b
Example:
  linecalc check house.toml
  linecalc check house.toml --only fail,not_checked --set "circuit.C4.breaker=45 A"
  linecalc check a.toml b.toml --format json
  linecalc check house.toml --review
  linecalc check house.toml --checklist
"""


@dataclass(frozen=True, slots=True)
class Asked:
    """What the options ask of every project."""

    form: str
    edition: str | None
    only: str | None
    subject: str | None
    settings: tuple[str, ...]
    strict: bool
    advice: str | None
    checklist: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to one project: text or a JSON document, and its exit status. ``error`` goes to standard error."""

    status: int
    text: str = ""
    document: dict[str, Any] | None = None
    error: str = ""


@click.command("check", epilog=_EXAMPLE)
@click.argument("projects", nargs=-1, required=True, metavar="PROJECT...", type=click.Path())
@click.option("--format", "form", type=click.Choice(["text", "markdown", "json"]), default="text", show_default=True)
@click.option("--edition", help="2017, 2020 or 2023; the project's own if left out.")
@click.option("--only", metavar="LEVEL,...", help="fail, not_checked, warn, note, pass; all but pass if left out.")
@click.option("--subject", metavar="TAG,...", help="List the checks of these tags only; counts and exit status stay those of all.")
@click.option("--set", "settings", multiple=True, metavar="PATH=VALUE", help="Change a value first; an empty value removes the key.")
@click.option("--strict", is_flag=True, help="Exit with 1 also where something is not checked.")
@click.option("--advice", "advice", flag_value=BESIDE, help="Add verified fixes, flip points and what to verify on site; runs the study again.")
@click.option("--checklist", is_flag=True, help="Print instead where each item that permit offices ask for is answered, and what is not.")
@click.option("--review", "advice", flag_value=FIRST, help="As --advice, with what to verify on site and the findings first.")
def command(
    projects: tuple[str, ...],
    form: str,
    edition: str | None,
    only: str | None,
    subject: str | None,
    settings: tuple[str, ...],
    strict: bool,
    advice: str | None,
    checklist: bool,
) -> int:
    """Check each PROJECT against its adopted code and print what was found."""
    asked = Asked(form, edition, only, subject, settings, strict, advice, checklist)
    answers = _answers(projects, asked)
    if form == "json":
        documents = [answer.document for answer in answers]
        click.echo(as_json(documents[0] if len(documents) == 1 else {"results": documents}))
    else:
        _print(answers)
    return max(answer.status for answer in answers)


def _answers(projects: tuple[str, ...], asked: Asked) -> list[Answer]:
    """The answers in the order of the arguments; many projects are shared among the processors."""
    import os

    processors = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if len(projects) < MANY or processors < 2:
        return [_answer(path, asked) for path in projects]
    from functools import partial

    from linecalc.workers import shared_out

    share = max(1, len(projects) // (4 * processors))
    shares = [projects[first : first + share] for first in range(0, len(projects), share)]
    done = shared_out(partial(_answers_of, asked=asked), shares, min(processors, len(shares)))
    return [answer for answers in done for answer in answers]


def _answers_of(projects: tuple[str, ...], asked: Asked) -> list[Answer]:
    return [_answer(path, asked) for path in projects]


def _answer(path: str, asked: Asked) -> Answer:
    """The answer to one project; bad input is an answer too, so that the others are still checked."""
    try:
        return _checked(path, asked)
    except LinecalcError as error:
        lines = (str(problem) if problem.file else f"{path}: {problem}" for problem in problems_of(error))
        return Answer(BAD_INPUT, document=errors_document(error), error="\n".join(lines))


def _checked(path: str, asked: Asked) -> Answer:
    found = study_of(path, asked.edition, asked.settings)
    return _rendered(found, asked, exit_status(found, asked.strict))


def exit_status(study: Study, strict: bool) -> int:
    """0 where nothing fails, 1 where something does or, if ``strict``, is not checked."""
    from linecalc.check import Level

    return FAILS if study.count(Level.FAIL) or (strict and study.count(Level.NOT_CHECKED)) else 0


def _rendered(study: Study, asked: Asked, status: int) -> Answer:
    from linecalc.report.findings import READING_ORDER, WORTH_READING, levels_of, subjects_of

    subjects = subjects_of(asked.subject, study) if asked.subject else ()
    levels = levels_of(asked.only) if asked.only else None
    selection = _selection(levels, subjects, READING_ORDER if asked.form == "json" else WORTH_READING)
    if asked.checklist:
        return _coverage(study, asked, status)
    if asked.advice:
        return _advised(study, selection, asked, status)
    if asked.form == "json":
        from linecalc.report.results_json import results

        return Answer(status, document=results(study, selection.of(study.checks)))
    if asked.form == "markdown":
        from linecalc.report.findings_markdown import findings_markdown

        return Answer(status, findings_markdown(study, selection))
    from linecalc.report.findings_text import findings_text

    return Answer(status, findings_text(study, selection))


def _coverage(study: Study, asked: Asked, status: int) -> Answer:
    """Where each item of the checklist is answered."""
    from linecalc.report import checklist_text
    from linecalc.report.checklist import checklist

    found = checklist(study)
    if asked.form == "json":
        return Answer(status, document=checklist_text.checklist_document(found))
    render = checklist_text.checklist_markdown if asked.form == "markdown" else checklist_text.checklist_text
    return Answer(status, render(found))


def _advised(study: Study, selection: Selection, asked: Asked, status: int) -> Answer:
    """The findings with fixes, flip points and what to verify on site."""
    from linecalc.advice import advise
    from linecalc.report import findings_markdown, findings_text
    from linecalc.report.verify import verify_first

    advice = advise(study, selection.of(study.checks))
    if asked.form == "json":
        from linecalc.report.results_json import results

        return Answer(status, document=results(advice.study, selection.of(advice.study.checks), advice.fragile))
    verify = verify_first(advice.fragile)
    if asked.form == "markdown":
        render = findings_markdown.review_markdown if asked.advice == FIRST else findings_markdown.findings_markdown
    else:
        render = findings_text.review_text if asked.advice == FIRST else findings_text.findings_text
    return Answer(status, render(advice.study, selection, verify))


def _selection(levels: tuple[Level, ...] | None, subjects: tuple[str, ...], default: tuple[Level, ...]) -> Selection:
    from linecalc.report.findings import Selection

    return Selection(default if levels is None else levels, subjects)


def _print(answers: list[Answer]) -> None:
    """The texts with a rule between them; errors where errors go."""
    for position, answer in enumerate(answers):
        if answer.text:
            click.echo(("\n" + "-" * 72 + "\n\n" if position else "") + answer.text, nl=False)
        if answer.error:
            click.echo(answer.error, err=True)
