"""The command ``options``: formats, a written candidate, refusals, interruption."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from linecalc.cli import run
from linecalc.options.content import Content
from linecalc.options.run import run_options
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
HOUSE = str(EXAMPLES / "options_array.toml")


@pytest.fixture
def studied_array(monkeypatch, array: Content) -> Content:
    """Lets the command take the study of case 3 that was made already."""
    monkeypatch.setattr("linecalc.options.run.run_options", lambda *_: array.answered)
    monkeypatch.setattr("linecalc.options.content.content_of", lambda *_: array)
    return array


@pytest.mark.parametrize("suffix", ["txt", "csv", "json", "md", "html"])
def test_every_format_is_written_whole(tmp_path: Path, suffix: str, capsys, studied_array):
    target = tmp_path / f"study.{suffix}"
    assert run(["options", HOUSE, "-o", str(target), "--workers", "1"]) == 0
    assert target.read_text("utf-8")
    said = capsys.readouterr()
    assert "1u0m-A12" in said.out and "24 candidates studied in" in said.err and "ms each" in said.err


def test_an_unknown_suffix_is_refused_before_any_work(tmp_path: Path):
    assert run(["options", HOUSE, "-o", str(tmp_path / "study.pdf")]) == 2


def test_the_terminal_shows_json_where_asked(capsys, studied_array):
    assert run(["options", HOUSE, "--format", "json", "--workers", "1"]) == 0
    assert json.loads(capsys.readouterr().out)["winner"] == "1u0m-A12"


def test_a_candidate_is_written_as_a_file_that_check_takes_unchanged(tmp_path: Path, capsys):
    target = tmp_path / "chosen.toml"
    assert run(["options", HOUSE, "--write", str(target), "--candidate", "1u1m-A12", "--workers", "1"]) == 0
    assert run(["check", str(target)]) == 0
    assert "0 fail, 0 not checked" in capsys.readouterr().out


def test_an_existing_file_is_not_overwritten_by_a_candidate(tmp_path: Path, studied_array):
    target = tmp_path / "chosen.toml"
    target.write_text("mine")
    assert run(["options", HOUSE, "--write", str(target), "--workers", "1"]) == 2
    assert target.read_text() == "mine"


def test_an_unknown_candidate_is_told_its_nearest(tmp_path: Path, capsys, studied_array):
    assert run(["options", HOUSE, "--write", str(tmp_path / "x.toml"), "--candidate", "1u1m-A13", "--workers", "1"]) == 2
    assert "1u1m-A12" in capsys.readouterr().err


def test_a_project_without_candidates_that_pass_ends_with_1(tmp_path: Path, capsys):
    text = (EXAMPLES / "options_units.toml").read_text("utf-8").replace("units = [1, 2]", "units = [1, 1]")
    (tmp_path / "house.toml").write_text(text)
    assert run(["options", str(tmp_path / "house.toml"), "--workers", "1"]) == 1
    assert "No candidate passes everything" in capsys.readouterr().out


def test_a_wrong_key_names_file_and_line(tmp_path: Path, capsys):
    text = (EXAMPLES / "options_array.toml").read_text("utf-8").replace('reserve = "0 %"', 'reserved = "0 %"')
    (tmp_path / "house.toml").write_text(text)
    assert run(["options", str(tmp_path / "house.toml")]) == 2
    assert "options.reserved" in capsys.readouterr().err


def test_interrupted_no_file_is_left(tmp_path: Path):
    text = (EXAMPLES / "options_array.toml").read_text("utf-8")
    more = "".join(f'\n[options.array.B{count}]\nstrings = [{count}, {count}]\ntilt = [22]\nazimuth = [190]\n' for count in range(4, 30))
    (tmp_path / "house.toml").write_text(text + more)
    child = subprocess.Popen([sys.executable, "-m", "linecalc", "options", str(tmp_path / "house.toml"), "-o", str(tmp_path / "study.html")], cwd=EXAMPLES.parent, stderr=subprocess.PIPE, start_new_session=True)
    time.sleep(1.0)
    while child.poll() is None:
        os.killpg(child.pid, signal.SIGINT)
        time.sleep(0.5)
    child.communicate()
    assert child.returncode != 0
    assert [path.name for path in tmp_path.iterdir()] == ["house.toml"]


def test_an_interruption_ends_a_study_in_the_middle():
    base = read_project(HOUSE)
    arrays = {f"A{count}": {"strings": [count, count], "tilt": [22.0], "azimuth": [190.0]} for count in range(4, 12)}

    def stop(done: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        run_options(with_values(base, [("options.array", arrays)]), workers=2, progress=stop)


def test_a_study_interrupted_at_its_answer_writes_nothing(tmp_path: Path, monkeypatch, studied_array):
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("linecalc.options.content.content_of", interrupted)
    assert run(["options", HOUSE, "-o", str(tmp_path / "study.html"), "--write", str(tmp_path / "chosen.toml")]) == 130
    assert not list(tmp_path.iterdir())


def test_other_commands_import_neither_numpy_nor_pvlib():
    code = "import sys; from linecalc.cli import run; run(['check', sys.argv[1]]); sys.exit(any(name in sys.modules for name in ('numpy', 'pandas', 'pvlib')))"
    done = subprocess.run([sys.executable, "-c", code, str(EXAMPLES / "a.toml")], cwd=EXAMPLES.parent, capture_output=True, timeout=120, check=False)
    assert done.returncode == 0
