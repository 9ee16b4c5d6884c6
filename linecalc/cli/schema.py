"""``linecalc schema``: the shape of a project file, for editors and programs."""

from __future__ import annotations

import click

from linecalc.cli.errors import as_json
from linecalc.files import write_whole

_EXAMPLE = """\b
Example:
  linecalc schema -o linecalc.schema.json
A project file whose first line is "#:schema linecalc.schema.json" then has
completion in editors that know TOML schemas.
"""


@click.command("schema", epilog=_EXAMPLE)
@click.option("-o", "--output", type=click.Path(), help="File to write; standard output if left out.")
def command(output: str | None) -> None:
    """Print the JSON Schema (2020-12) of project files."""
    from linecalc.project.schema import project_schema

    text = as_json(project_schema())
    if output is None:
        click.echo(text)
    else:
        write_whole(output, text + "\n")
        click.echo(f"wrote {output}")
