"""``linecalc explain``: what a rule asks, or every step behind one tag of a project."""

from __future__ import annotations

import click

from linecalc.cli.errors import as_json
from linecalc.cli.projects import study_of

_EXAMPLE = """\b
Example:
  linecalc explain pv_conductor.T2
  linecalc explain C4 --project house.toml
  linecalc explain busbar_120 --format json
"""


@click.command("explain", epilog=_EXAMPLE)
@click.argument("name", metavar="RULE|TAG")
@click.option("--project", "-p", type=click.Path(), help="The project that holds TAG; without it a rule is explained.")
@click.option("--edition", help="2017, 2020 or 2023 for a tag; the project's own if left out. A rule is shown in all of them.")
@click.option("--format", "form", type=click.Choice(["text", "markdown", "json"]), default="text", show_default=True)
def command(name: str, project: str | None, edition: str | None, form: str) -> None:
    """Explain a RULE, or with --project every step behind a TAG, each input followed to its origin."""
    if project is None:
        _rule(name, form)
    else:
        _tag(name, project, edition, form)


def _rule(name: str, form: str) -> None:
    from linecalc.explain.rule import explain_rule
    from linecalc.report.explain_rule import rule_json, rule_markdown, rule_text

    found = explain_rule(name)
    match form:
        case "json":
            click.echo(as_json(rule_json(found)))
        case "markdown":
            click.echo(rule_markdown(found), nl=False)
        case _:
            click.echo(rule_text(found), nl=False)


def _tag(name: str, project: str, edition: str | None, form: str) -> None:
    from linecalc.explain.subject import explain_subject
    from linecalc.report.explain_subject import behind_json, behind_markdown, behind_text

    found = explain_subject(study_of(project, edition), name)
    match form:
        case "json":
            click.echo(as_json(behind_json(found)))
        case "markdown":
            click.echo(behind_markdown(found), nl=False)
        case _:
            click.echo(behind_text(found), nl=False)
