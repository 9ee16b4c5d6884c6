"""A command imports only what it needs."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module

import click
import pytest

import linecalc
from linecalc.cli import COMMANDS
from tests.cli.command_line import run

HEAVY = {"networkx", "pint", "pydantic", "pydantic_core", "schemdraw", "tabulate", "numpy", "tree_sitter", "typst", "importlib.metadata"}


def imported_by(*arguments: str) -> set[str]:
    """The modules that a command line has loaded at its end."""
    program = (
        "import sys\n"
        "from linecalc.__main__ import main\n"
        f"main({list(arguments)!r})\n"
        "print('\\n' + ' '.join(sys.modules))\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    return set(done.stdout.splitlines()[-1].split())


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["new", "--help"], ["schema", "--help"], ["table", "--help"]])
def test_help_and_version_import_no_heavy_library(arguments):
    assert not imported_by(*arguments) & HEAVY


def test_help_imports_no_command():
    loaded = imported_by("--help")
    assert not {f"linecalc.cli.{name}" for name in COMMANDS} & loaded


def test_a_table_as_csv_imports_no_heavy_library():
    assert not imported_by("table", "310.16", "--format", "csv") & HEAVY


def test_importing_the_package_imports_nothing_else():
    program = "import linecalc, sys; print(*[name for name in sys.modules if name.startswith('linecalc')])"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) == {"linecalc", "linecalc._version"}


def test_help_lists_every_command_with_what_it_does(capsys):
    outcome = run(capsys, "--help")
    assert outcome.status == 0
    for name, purpose in COMMANDS.items():
        assert f"{name} " in outcome.out
        assert purpose.split(".")[0][:40] in outcome.out


def test_version_is_printed(capsys):
    assert run(capsys, "--version").out == f"linecalc {linecalc.__version__}\n"


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_module(name):
    command = import_module(f"linecalc.cli.{name}").command
    assert isinstance(command, click.Command)
    assert command.name == name


@pytest.mark.parametrize("name", linecalc.__all__)
def test_every_public_name_loads(name):
    assert getattr(linecalc, name) is not None


def test_public_names_are_listed_and_others_are_refused():
    assert set(linecalc.__all__) <= set(dir(linecalc))
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        linecalc.nothing  # noqa: B018
