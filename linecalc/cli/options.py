"""``linecalc options``: how many units, how many storage modules, how large an array."""

from __future__ import annotations

import os
import sys
import time
from typing import TYPE_CHECKING

import click

from linecalc.cli.output import suffix_of
from linecalc.cli.projects import project_file

if TYPE_CHECKING:
    from linecalc.options.content import Content
    from linecalc.options.run import Answered
    from linecalc.project.model import Project

SUFFIXES = (".txt", ".csv", ".json", ".md", ".html")
NOTHING_PASSES = 1
_EXAMPLE = """\b
Example:
  linecalc options house.toml
  linecalc options house.toml -o options.html --later-modules 1
  linecalc options house.toml --candidate 1u1m-A22 --write chosen.toml
"""


@click.command("options", epilog=_EXAMPLE)
@click.argument("project", type=click.Path())
@click.option("-o", "--output", metavar="FILE", type=click.Path(), help="File to write: .txt, .csv, .json, .md or .html; the terminal if left out.")
@click.option("--format", "form", type=click.Choice(["text", "markdown", "csv", "json"]), default="text", show_default=True, help="What the terminal shows.")
@click.option("--later-modules", type=click.IntRange(0, 12), default=0, metavar="N", help="What to do now so that N storage modules can be added later.")
@click.option("--candidate", metavar="NAME", help="The candidate to write, such as 1u1m-A22; the first choice if left out.")
@click.option("--write", "written", metavar="FILE", type=click.Path(), help="Write that candidate as a project file.")
@click.option("--workers", type=click.IntRange(1, 256), metavar="N", help="Processes; all cores if left out. The result is the same.")
def command(project: str, output: str | None, form: str, later_modules: int, candidate: str | None, written: str | None, workers: int | None) -> int:
    """Study units, storage modules and arrays for PROJECT by its table [options]. Exit status 1 where no candidate passes."""
    suffix = suffix_of(output, SUFFIXES, {}) if output is not None else {"text": ".txt", "markdown": ".md"}.get(form, f".{form}")

    from linecalc.options.context import require_libraries

    require_libraries()
    from linecalc.options.content import content_of, verdict_line

    begun = time.perf_counter()
    answered = _answered(project, workers)
    studied, seconds = len(answered.results), time.perf_counter() - begun
    click.echo(f"{studied} candidates studied in {seconds:.1f} s, {1000.0 * seconds / studied:.0f} ms each", err=True)
    content = content_of(answered, later_modules)
    document = rendered(content, suffix)
    if written is not None or candidate is not None:
        _write(content, candidate, written)
    if output is None:
        click.echo(document, nl=False)
    else:
        from linecalc.files import write_whole

        write_whole(output, document)
        click.echo(f"wrote {output}: {verdict_line(content)}")
    return 0 if content.answer.passing else NOTHING_PASSES


def rendered(content: Content, suffix: str) -> str:
    """The study in the format of a file suffix."""
    match suffix:
        case ".csv":
            from linecalc.options.text import options_csv

            return options_csv(content)
        case ".json":
            from linecalc.options.as_json import options_json

            return options_json(content)
        case ".md":
            from linecalc.options.text import options_markdown

            return options_markdown(content)
        case ".html":
            from linecalc.options.html import options_html

            return options_html(content)
    from linecalc.options.text import options_text

    return options_text(content)


def _answered(path: str, workers: int | None) -> Answered:
    """The results, with a progress bar on a terminal."""
    from linecalc.errors import InputError
    from linecalc.options.run import run_options
    from linecalc.project.read import placed, read_project

    file = project_file(path)
    project = read_project(file)
    folder = os.path.dirname(file) or "."
    try:
        if not sys.stderr.isatty():
            return run_options(project, folder, workers)
        return _with_bar(project, folder, workers)
    except InputError as error:
        raise placed(error, file) from None


def _with_bar(project: Project, folder: str, workers: int | None) -> Answered:
    from linecalc.options.candidates import candidates_of
    from linecalc.options.run import run_options

    with click.progressbar(length=len(candidates_of(project, [])), label="candidates", file=sys.stderr) as bar:
        return run_options(project, folder, workers, bar.update)


def _write(content: Content, name: str | None, path: str | None) -> None:
    """Write one candidate as a project file.

    Raises
    ------
    InputError
        No candidate of that name, none that passes, or it cannot be built.
    """
    from linecalc.errors import InputError, Problem
    from linecalc.files import write_new
    from linecalc.options.build import candidate_project
    from linecalc.options.toml_write import project_toml
    from linecalc.project.wording import nearest, quoted, suggestion

    known = {found.candidate.name: found for found in content.answered.results}
    winner = content.answer.winner
    if name is None and winner is None:
        raise InputError([Problem("no candidate passes; name one with --candidate", key="--candidate")])
    chosen = name if name is not None or winner is None else winner.candidate.name
    if chosen not in known:
        close = nearest(chosen or "", tuple(known))
        raise InputError([Problem(f"no candidate {quoted(chosen or '')}; {suggestion(close, tuple(known))}", key="--candidate", found=chosen, nearest=close)])
    if path is None:
        raise InputError([Problem("needs --write FILE beside it", key="--candidate")])
    project = candidate_project(content.answered.context, known[chosen].candidate)
    write_new(path, project_toml(project, f"Candidate {chosen} of the study of options; {known[chosen].verdict.value}. Scope, facts and attachments are those of the studied project: read them again."))
    click.echo(f"wrote {path}: {chosen}, {known[chosen].verdict.value}", err=True)
