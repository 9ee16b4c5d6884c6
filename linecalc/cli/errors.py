"""One place that turns errors into messages: lines on standard error, or the JSON document."""

from __future__ import annotations

from typing import Any

import click

from linecalc.errors import InputError, LinecalcError, Problem, RefusedError
from linecalc.report.as_json import as_json

BAD_INPUT = 2
SCHEMA = "linecalc/errors/1"


def report(error: LinecalcError, arguments: list[str]) -> int:
    """Print ``error`` in the form that ``arguments`` ask for; the exit status is always 2."""
    if wants_json(arguments):
        click.echo(as_json(errors_document(error)))
    else:
        for problem in problems_of(error):
            click.echo(str(problem) if problem.file or problem.key else f"linecalc: {problem}", err=True)
    return BAD_INPUT


def report_usage(error: click.ClickException, arguments: list[str]) -> int:
    """Print an error of the command line itself, such as an unknown option."""
    if not wants_json(arguments):
        error.show()
    else:
        option = getattr(error, "option_name", None) or getattr(getattr(error, "param", None), "name", None)
        problem = Problem(error.format_message(), key=option)
        click.echo(as_json(errors_document(InputError([problem]))))
    return BAD_INPUT


def problems_of(error: LinecalcError) -> tuple[Problem, ...]:
    """The problems that ``error`` holds; errors without a list of them are one."""
    if isinstance(error, InputError):
        return error.problems
    message = f"refused: {error}" if isinstance(error, RefusedError) else str(error)
    return (Problem(message),)


def errors_document(error: LinecalcError) -> dict[str, Any]:
    """The document ``linecalc/errors/1`` of ``error``."""
    return {"schema": SCHEMA, "errors": [_entry(problem) for problem in problems_of(error)]}


def _entry(problem: Problem) -> dict[str, Any]:
    return {
        "file": problem.file,
        "line": problem.line,
        "key": problem.key,
        "found": problem.found,
        "expected": problem.expected,
        "nearest": list(problem.nearest),
        "message": problem.message,
    }


def wants_json(arguments: list[str]) -> bool:
    """Whether ``--format json`` is among the arguments; the last ``--format`` counts."""
    format_ = ""
    for position, argument in enumerate(arguments):
        if argument == "--":
            break
        if argument.startswith("--format="):
            format_ = argument.partition("=")[2]
        elif argument == "--format":
            format_ = next(iter(arguments[position + 1 : position + 2]), "")
    return format_ == "json"
