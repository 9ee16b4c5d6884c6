"""Errors of every kind end as a message and exit status 2, never as a traceback."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time

import click
import pytest

from linecalc import cli
from linecalc.cli.errors import errors_document, problems_of, wants_json
from linecalc.errors import InputError, Problem, QuantityError, RefusedError, TableError
from tests.cli.command_line import run, run_process

PROBLEM = Problem('"34" has no unit', "house.toml", 41, "circuit.C4.length", '"34"', "a length", ("length",))


def failing_with(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    """Let the command ``new`` fail with ``error``."""

    @click.command("new")
    @click.argument("rest", nargs=-1)
    @click.option("--format", "format_")
    def command(rest, format_):
        raise error

    monkeypatch.setattr(cli.LazyGroup, "get_command", lambda self, ctx, name: command)


def test_each_problem_is_a_line_with_file_line_and_key(monkeypatch, capsys):
    failing_with(monkeypatch, InputError([PROBLEM, Problem("second", "house.toml")]))
    outcome = run(capsys, "new")
    assert (outcome.status, outcome.out) == (2, "")
    assert outcome.err == 'house.toml:41: circuit.C4.length: "34" has no unit\nhouse.toml: second\n'


@pytest.mark.parametrize("arguments", [["--format", "json"], ["--format=json"]])
def test_with_format_json_the_document_goes_to_standard_output(monkeypatch, capsys, arguments):
    failing_with(monkeypatch, InputError([PROBLEM, Problem("second")]))
    outcome = run(capsys, "new", *arguments)
    assert (outcome.status, outcome.err) == (2, "")
    assert json.loads(outcome.out) == {
        "schema": "linecalc/errors/1",
        "errors": [
            {
                "file": "house.toml",
                "line": 41,
                "key": "circuit.C4.length",
                "found": '"34"',
                "expected": "a length",
                "nearest": ["length"],
                "message": '"34" has no unit',
            },
            {"file": None, "line": None, "key": None, "found": None, "expected": None, "nearest": [], "message": "second"},
        ],
    }


@pytest.mark.parametrize(
    ("error", "message"),
    [
        (RefusedError("two services"), "linecalc: refused: two services"),
        (TableError("no row"), "linecalc: no row"),
        (QuantityError("no unit", "a length"), "linecalc: no unit"),
        (FileNotFoundError(2, "No such file or directory", "x.toml"), "linecalc: x.toml: No such file or directory"),
        (PermissionError(13, "Permission denied", "x.toml"), "linecalc: x.toml: Permission denied"),
    ],
)
def test_errors_without_a_list_of_problems_are_one_line(monkeypatch, capsys, error, message):
    failing_with(monkeypatch, error)
    outcome = run(capsys, "new")
    assert outcome.status == 2
    assert outcome.err == message + "\n"


def test_a_refusal_is_a_problem_in_the_document():
    assert problems_of(RefusedError("two services")) == (Problem("refused: two services"),)
    assert errors_document(TableError("no row"))["errors"][0]["message"] == "no row"


def test_an_interruption_is_clean(monkeypatch, capsys):
    failing_with(monkeypatch, KeyboardInterrupt())
    outcome = run(capsys, "new")
    assert (outcome.status, outcome.err) == (130, "interrupted\n")


def test_a_defect_of_the_program_is_not_hidden(monkeypatch, capsys):
    failing_with(monkeypatch, ZeroDivisionError())
    with pytest.raises(ZeroDivisionError):
        run(capsys, "new")


def test_the_status_that_a_command_returns_is_the_exit_status(monkeypatch, capsys):
    monkeypatch.setattr(cli.LazyGroup, "get_command", lambda self, ctx, name: click.command("new")(lambda: 1))
    assert run(capsys, "new").status == 1


def test_the_status_that_a_command_exits_with_is_the_exit_status(monkeypatch, capsys):
    monkeypatch.setattr(
        cli.LazyGroup, "get_command", lambda self, ctx, name: click.command("new")(lambda: click.get_current_context().exit(1))
    )
    assert run(capsys, "new").status == 1


@pytest.mark.parametrize("arguments", [["table", "--nonsense"], ["table", "a", "b"], ["table", "--format", "xml"], ["--nonsense"], ["new"]])
def test_a_wrong_command_line_is_bad_input(capsys, arguments):
    outcome = run(capsys, *arguments)
    assert (outcome.status, outcome.out) == (2, "")
    assert "Error: " in outcome.err


def test_a_wrong_command_line_with_format_json_is_a_document(capsys):
    outcome = run(capsys, "table", "--nonsense", "--format", "json")
    assert (outcome.status, outcome.err) == (2, "")
    assert "--nonsense" in json.loads(outcome.out)["errors"][0]["message"]


def test_an_unknown_command_gets_the_nearest(capsys):
    outcome = run(capsys, "tabel", "310.16")
    assert outcome.status == 2
    assert 'no command "tabel"; did you mean "table"?' in outcome.err


def test_without_a_command_the_help_is_shown_as_bad_input(capsys):
    outcome = run(capsys)
    assert outcome.status == 2
    assert "Commands:" in outcome.err


@pytest.mark.parametrize(
    ("arguments", "json_wanted"),
    [
        (["check", "a", "--format", "json"], True),
        (["check", "--format=json", "a"], True),
        (["check", "--format", "json", "--format", "text"], False),
        (["check", "--format"], False),
        (["check", "json"], False),
        (["check", "--", "--format", "json"], False),
        ([], False),
    ],
)
def test_json_is_wanted_where_the_last_format_says_so(arguments, json_wanted):
    assert wants_json(arguments) is json_wanted


def test_a_reader_that_stops_early_ends_the_command_quietly():
    program = f'"{sys.executable}" -m linecalc schema | head -c 1; echo "${{PIPESTATUS[0]}}"'
    done = subprocess.run(["bash", "-c", program], capture_output=True, text=True, timeout=60)
    assert done.stderr == ""
    assert done.stdout.split("\n")[0] in ("{141", "{0")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no such device")
def test_a_full_device_is_a_message():
    with open("/dev/full", "w") as full:
        done = subprocess.run([sys.executable, "-m", "linecalc", "table", "310.16"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=60)
    assert done.returncode == 2
    assert done.stderr == "linecalc: standard output: No space left on device\n"


def test_a_terminal_that_lacks_a_character_gets_its_escape(tmp_path):
    outcome = run_process("new", str(tmp_path / "家" / "x.toml"), env={**os.environ, "PYTHONIOENCODING": "latin-1"})
    assert outcome.status == 2
    assert "\\u5bb6" in outcome.err


@pytest.mark.skipif(os.name == "nt", reason="signals differ")
def test_control_c_ends_a_running_command_cleanly():
    waiting = (
        "import click, time, sys\n"
        "from linecalc import cli\n"
        "def wait():\n"
        "    print('ready', flush=True)\n"
        "    time.sleep(60)\n"
        "cli.LazyGroup.get_command = lambda self, ctx, name: click.command('new')(wait)\n"
        "sys.exit(cli.run(['new']))\n"
    )
    process = subprocess.Popen([sys.executable, "-c", waiting], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert process.stdout.readline() == "ready\n"
    time.sleep(0.2)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=30)
    assert process.returncode == 130
    assert err == "interrupted\n"
