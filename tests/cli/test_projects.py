"""What the commands say of a project whose parts do not fit together."""

from __future__ import annotations

import json

import pytest

from linecalc.cli.new import starter_text
from tests.cli.command_line import run

LOOP = '[circuit.X1]\nfrom = "MP"\nto = "BP"\nlength = "5 ft"\n'
LOOSE = '[panel.LP]\nbus = "125 A"\nmain = "lugs"\n'


def project(tmp_path, text: str) -> str:
    path = tmp_path / "house.toml"
    path.write_text(text)
    return str(path)


def line_of(text: str, line: str) -> int:
    return text.splitlines().index(line) + 1


def test_a_loop_is_bad_input_with_file_and_key(tmp_path, capsys):
    path = project(tmp_path, starter_text() + LOOP)
    outcome = run(capsys, "check", path)
    assert (outcome.status, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{path}:")
    assert "close a loop" in outcome.err


@pytest.mark.parametrize(("name", "output"), [("sheet", "o.txt"), ("diagram", "o.svg")])
def test_the_other_commands_name_file_and_line_too(name, output, tmp_path, capsys):
    path = project(tmp_path, starter_text() + LOOSE)
    outcome = run(capsys, name, path, "-o", str(tmp_path / output))
    assert outcome.status == 2
    assert outcome.err.startswith(f"{path}:{line_of(starter_text() + LOOSE, '[panel.LP]')}: panel.LP: ")
    assert not (tmp_path / output).exists()


def test_a_part_without_circuits_is_bad_input_with_its_line(tmp_path, capsys):
    text = starter_text() + LOOSE
    path = project(tmp_path, text)
    outcome = run(capsys, "check", path)
    assert outcome.status == 2
    assert outcome.err == f"{path}:{line_of(text, '[panel.LP]')}: panel.LP: no circuits lead from LP to the service\n"


def test_the_same_in_json_has_file_line_and_key(tmp_path, capsys):
    text = starter_text() + LOOSE
    path = project(tmp_path, text)
    outcome = run(capsys, "check", path, "--format", "json")
    assert (outcome.status, outcome.err) == (2, "")
    document = json.loads(outcome.out)
    assert document["schema"] == "linecalc/errors/1"
    (error,) = document["errors"]
    assert (error["file"], error["line"], error["key"]) == (path, line_of(text, "[panel.LP]"), "panel.LP")


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('bus = "225 A"', 'bus = "225"', "panel.MP.bus"),
        ('to = "ID"', 'to = "IX"', "circuit.C2.to"),
        ("count = 11", "count = 1000000000", "string.S1.count"),
        ('feed = "top"', 'fed = "top"', "panel.MP.fed"),
    ],
)
def test_bad_input_of_every_kind_is_reported_by_every_command(old, new, key, tmp_path, capsys):
    path = project(tmp_path, starter_text().replace(old, new, 1))
    commands = (["check", path], ["sheet", path, "-o", str(tmp_path / "o.txt")], ["diagram", path, "-o", str(tmp_path / "o.svg")])
    for arguments in commands:
        outcome = run(capsys, *arguments)
        assert (outcome.status, outcome.out) == (2, "")
        assert f": {key}: " in outcome.err
        assert outcome.err.startswith(f"{path}:")
        assert sorted(entry.name for entry in tmp_path.iterdir()) == ["house.toml"]


def test_a_missing_project_is_bad_input(tmp_path, capsys):
    outcome = run(capsys, "check", str(tmp_path / "none.toml"))
    assert (outcome.status, outcome.err) == (2, f"{tmp_path / 'none.toml'}: there is no such file\n")
