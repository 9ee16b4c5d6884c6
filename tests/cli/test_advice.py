"""``check --advice`` and ``--review``, and the sheet: fixes, flip points, what to verify on site."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from linecalc.cli.projects import project_file
from tests.cli.command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"
A, D = (str(EXAMPLES / f"{name}.toml") for name in ("a", "d"))


def test_without_being_asked_for_no_advice_is_given(capsys):
    out = run(capsys, "check", D).out
    assert "fix: " not in out and "on site" not in out.lower().split("findings")[0]


def test_without_being_asked_for_advice_is_not_even_imported():
    program = f"import sys\nfrom linecalc.__main__ import main\nmain(['check', {A!r}])\nprint(any(name.startswith('linecalc.advice') for name in sys.modules))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "False"


def test_advice_adds_fixes_and_flip_points(capsys):
    outcome = run(capsys, "check", D, "--advice", "--only", "fail")
    assert outcome.status == 1
    assert "fix: lower the breaker of C1 in GP to 50 A (now 60 A)" in outcome.out
    assert "passes to a 50 A breaker" in outcome.out


def test_advice_changes_no_count_and_no_exit_status(capsys):
    plain, advised = run(capsys, "check", D), run(capsys, "check", D, "--advice")
    assert plain.status == advised.status == 1
    assert plain.out.splitlines()[:4] == advised.out.splitlines()[:4]


def test_a_review_begins_with_what_to_verify_on_site_and_the_findings(capsys):
    out = run(capsys, "check", D, "--review").out
    order = [out.index(part) for part in ("VERIFY TH", "FAILS", "NOTES", "Interconnection: ")]
    assert order == sorted(order)
    assert "common practice, no" in out


def test_beside_the_findings_what_to_verify_stands_below(capsys):
    out = run(capsys, "check", D, "--advice").out
    assert out.index("FAILS") < out.index("VERIFY TH")


def test_a_review_in_markdown(capsys):
    out = run(capsys, "check", D, "--review", "--format", "markdown").out
    assert "## Verify th" in out and out.index("## Verify th") < out.index("## Fails") and "  - fix: lower the breaker" in out


def test_json_holds_fixes_flips_and_fragile_inputs(capsys):
    found = json.loads(run(capsys, "check", D, "--advice", "--format", "json").out)
    fails = [check for check in found["checks"] if check["level"] == "fail"]
    assert len(fails) == 10 and all(check["fix"] for check in fails)
    assert sum(check["flip"] is not None for check in found["checks"]) > 50
    fragile = {entry["path"]: entry["fragile"] for entry in found["inputs"] if entry["fragile"]}
    assert all(set(entry) == {"tried", "range", "turns"} and entry["turns"] for entry in fragile.values())
    assert "service.fault_current" in fragile


def test_json_without_advice_has_the_same_keys(capsys):
    plain = json.loads(run(capsys, "check", D, "--format", "json").out)
    advised = json.loads(run(capsys, "check", D, "--advice", "--format", "json").out)
    assert list(plain) == list(advised) and list(plain["inputs"][0]) == list(advised["inputs"][0])
    assert all(check["fix"] is None for check in plain["checks"])
    assert plain["summary"] == advised["summary"] and plain["steps"] == advised["steps"]


def test_equal_input_gives_equal_advice(capsys):
    assert run(capsys, "check", D, "--review").out == run(capsys, "check", D, "--review").out


@pytest.mark.parametrize("suffix", ["txt", "md", "html"])
def test_the_sheet_prints_fixes_flip_points_and_what_to_verify(suffix, capsys, tmp_path):
    path = tmp_path / f"sheet.{suffix}"
    assert run(capsys, "sheet", D, "-o", str(path)).status == 1
    text = " ".join(path.read_text().split())
    assert "fix: " in text and "passes to a 50 A breaker" in text
    assert "verify th" in text.lower() and text.lower().index("verify th") < text.index("lower the breaker")


def test_a_clean_sheet_has_no_fix(capsys, tmp_path):
    path = tmp_path / "sheet.txt"
    assert run(capsys, "sheet", A, "-o", str(path)).status == 0
    assert "fix: " not in path.read_text() and "passes to" in path.read_text()


# --- a project without its suffix ----------------------------------------------


@pytest.mark.parametrize("command", [("check",), ("explain", "C1", "--project")])
def test_a_project_may_be_named_without_its_suffix(command, capsys):
    assert run(capsys, *command, A.removesuffix(".toml")).status == 0


def test_an_existing_file_without_a_suffix_is_taken_as_it_is(tmp_path):
    (tmp_path / "house").write_text("")
    (tmp_path / "house.toml").write_text("")
    assert project_file(str(tmp_path / "house")) == str(tmp_path / "house")


def test_a_name_with_another_suffix_is_taken_as_it_is(tmp_path):
    (tmp_path / "house.toml.toml").write_text("")
    assert project_file(str(tmp_path / "house.toml")) == str(tmp_path / "house.toml")


def test_a_name_that_is_nothing_is_reported_as_written(capsys, tmp_path):
    outcome = run(capsys, "check", str(tmp_path / "none"))
    assert outcome.status == 2 and str(tmp_path / "none") in outcome.err and "none.toml" not in outcome.err
