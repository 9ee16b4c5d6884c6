"""``linecalc new``: a project to begin with."""

from __future__ import annotations

from importlib.resources import files

import click

from linecalc.files import write_new

_EXAMPLE = """\b
Example:
  linecalc new house.toml
  linecalc check house.toml
"""


def starter_text() -> str:
    """The commented starter project."""
    return (files("linecalc.project") / "starter.toml").read_text("utf-8")


@click.command("new", epilog=_EXAMPLE)
@click.argument("path", type=click.Path())
def command(path: str) -> None:
    """Write a commented starter project to PATH. An existing file is never overwritten."""
    write_new(path, starter_text())
    click.echo(f"wrote {path}; edit it, then: linecalc check {path}")
