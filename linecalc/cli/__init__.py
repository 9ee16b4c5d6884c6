"""The commands, each in a module of its own that is imported only when it is invoked.

A command module has a click command named ``command``. It may return an exit
status, and leaves errors to :func:`run`, which reports them in one place.
"""

from __future__ import annotations

import os
import sys
from typing import Any

import click

from linecalc._version import __version__

COMMANDS = {
    "new": "Write a commented starter project that checks clean.",
    "check": "Run every rule over projects and print the findings.",
    "sheet": "Write the calculation sheet of a project.",
    "diagram": "Write the single-line diagram of a project.",
    "permit": "Write the set of sheets for a permit as one PDF.",
    "schedule": "Write the schedules and the bill of material of a project.",
    "load": "Compute the dwelling load alone, line by line.",
    "options": "Study how many units and storage modules, and how large an array.",
    "conductor": "Select or check the conductor of one circuit.",
    "explain": "Say what a rule asks, or show every step behind one tag.",
    "compare": "Show what changes between two designs or adopted codes.",
    "table": "Print a code table with its citation.",
    "schema": "Write the JSON Schema of project files.",
}
_EPILOG = "Exit status: 0 nothing fails, 1 something fails, 2 bad input. Each command's --help shows an example."
INTERRUPTED = 130
BROKEN_PIPE = 141


class LazyGroup(click.Group):
    """A group that knows the names of its commands without importing them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order in which a project needs them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        """The command, imported now."""
        if name not in COMMANDS:
            return None
        from importlib import import_module

        return import_module(f"linecalc.cli.{name}").command

    def resolve_command(self, ctx: click.Context, args: list[str]) -> Any:
        """The command that ``args`` begins with; an unknown name is told its nearest."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from linecalc.project.wording import nearest, quoted, suggestion

            close = nearest(args[0], COMMANDS)
            ctx.fail(f"no command {quoted(args[0])}; {suggestion(close, COMMANDS)}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands in the help text."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=LazyGroup, epilog=_EPILOG, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="linecalc", message="%(prog)s %(version)s")
def group() -> None:
    """Check a home's solar-and-storage project against the NEC and draw it for a permit."""


def run(arguments: list[str]) -> int:
    """Run the command line ``arguments`` and return the exit status.

    Every error of the library and of the command line ends here as a message
    and status 2, as JSON where ``--format json`` is among the arguments.
    """
    from linecalc.cli import errors
    from linecalc.errors import LinecalcError

    _print_any_character()
    try:
        status = _invoke(arguments)
        if sys.stdout is not None:
            sys.stdout.flush()
        return status
    except LinecalcError as error:
        return errors.report(error, arguments)
    except click.ClickException as error:
        return errors.report_usage(error, arguments)
    except (KeyboardInterrupt, click.Abort):
        click.echo("interrupted", err=True)
        return INTERRUPTED
    except BrokenPipeError:
        _drop_output()
        return BROKEN_PIPE
    except OSError as error:
        _drop_output()
        click.echo(f"linecalc: {error.filename or 'standard output'}: {error.strerror or error}", err=True)
        return errors.BAD_INPUT


def _invoke(arguments: list[str]) -> int:
    try:
        with group.make_context("linecalc", list(arguments)) as context:
            result = group.invoke(context)
    except click.exceptions.Exit as stop:
        return stop.exit_code
    return result if isinstance(result, int) else 0


def _print_any_character() -> None:
    """A character that the terminal's encoding lacks is printed as its escape."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def _drop_output() -> None:
    """Nothing more can be written: keep the interpreter from trying again at its end."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError, AttributeError):
        sys.stdout = None  # type: ignore[assignment]
