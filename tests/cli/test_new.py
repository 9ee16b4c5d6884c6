"""``linecalc new`` and ``linecalc schema``."""

from __future__ import annotations

import json
import os

import linecalc
from linecalc.cli.new import starter_text
from tests.cli.command_line import run, run_process


def test_new_writes_the_starter_and_says_what_to_do_next(tmp_path, capsys):
    path = tmp_path / "house.toml"
    outcome = run(capsys, "new", str(path))
    assert outcome.status == 0
    assert outcome.out == f"wrote {path}; edit it, then: linecalc check {path}\n"
    assert path.read_text() == starter_text()
    assert linecalc.read_project(path).project.title == "Starter house"


def test_new_refuses_to_overwrite(tmp_path, capsys):
    path = tmp_path / "house.toml"
    path.write_text("mine")
    outcome = run(capsys, "new", str(path))
    assert (outcome.status, outcome.out) == (2, "")
    assert outcome.err == f"{path}: exists already; nothing is overwritten, choose another name\n"
    assert path.read_text() == "mine"


def test_new_into_a_missing_directory_is_bad_input(tmp_path, capsys):
    outcome = run(capsys, "new", str(tmp_path / "none" / "house.toml"))
    assert outcome.status == 2
    assert "there is no such directory" in outcome.err


def test_new_needs_a_path(capsys):
    outcome = run(capsys, "new")
    assert outcome.status == 2
    assert "Missing argument" in outcome.err


def test_new_leaves_only_the_file(tmp_path):
    assert run_process("new", "house.toml", cwd=tmp_path).status == 0
    assert os.listdir(tmp_path) == ["house.toml"]


def test_schema_prints_the_schema(capsys):
    outcome = run(capsys, "schema")
    assert outcome.status == 0
    assert json.loads(outcome.out) == linecalc.project_schema()


def test_schema_writes_a_file_and_replaces_an_old_one(tmp_path, capsys):
    path = tmp_path / "linecalc.schema.json"
    path.write_text("old")
    assert run(capsys, "schema", "-o", str(path)).status == 0
    assert json.loads(path.read_text()) == linecalc.project_schema()


def test_help_of_each_command_shows_an_example(capsys):
    for name in ("new", "table", "schema"):
        outcome = run(capsys, name, "--help")
        assert outcome.status == 0
        assert f"linecalc {name}" in outcome.out.split("Example:")[1]
