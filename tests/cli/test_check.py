"""``linecalc check``: findings, exit status, several projects, changed values."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.command_line import run, run_process

EXAMPLES = Path(__file__).parents[2] / "examples"
A, B, D, MISSING = (str(EXAMPLES / f"{name}.toml") for name in ("a", "b", "d", "missing"))
TOO_LARGE = ("--set", "circuit.C1.breaker=60 A")


def test_a_clean_project_exits_with_0(capsys):
    outcome = run(capsys, "check", A)
    assert (outcome.status, outcome.err) == (0, "") and outcome.out.startswith("Juniper Bend residence\n")


def test_a_fail_exits_with_1_and_is_printed(capsys):
    outcome = run(capsys, "check", A, *TOO_LARGE)
    assert outcome.status == 1 and "FAILS" in outcome.out and "60 A > 40 A" in outcome.out


def test_not_checked_exits_with_1_only_when_strict(capsys):
    assert run(capsys, "check", MISSING).status == 0
    assert run(capsys, "check", MISSING, "--strict").status == 1
    assert run(capsys, "check", A, "--strict").status == 0


@pytest.mark.parametrize("form", ["text", "markdown", "json"])
def test_bad_input_exits_with_2(form, capsys, tmp_path):
    assert run(capsys, "check", str(tmp_path / "none.toml"), "--format", form).status == 2


def test_a_set_value_is_used_and_the_file_is_not(capsys):
    before = Path(A).read_bytes()
    outcome = run(capsys, "check", A, "--set", "circuit.C1.breaker=35 A", "--only", "fail")
    assert "35 A" in outcome.out and Path(A).read_bytes() == before


def test_an_empty_value_removes_the_key(capsys):
    outcome = run(capsys, "check", A, "--set", "equipment.mod-420.isc=")
    assert outcome.status == 2 and "equipment.mod-420.isc" in outcome.err


@pytest.mark.parametrize(
    ("setting", "said"),
    [
        ("circuit.C1.braker=60 A", '"breaker"'),
        ("circuit.C11.breaker=60 A", '"C1"'),
        ("circuit.C1.breaker", "PATH=VALUE"),
        ("circuit.C1.breaker=60", "60 A"),
    ],
)
def test_a_wrong_setting_names_what_was_meant(setting, said, capsys):
    outcome = run(capsys, "check", A, "--set", setting)
    assert outcome.status == 2 and said in outcome.err and "Traceback" not in outcome.err


def test_another_edition_is_checked(capsys):
    assert "checked against NEC 2017" in run(capsys, "check", A, "--edition", "2017").out


def test_an_edition_that_is_not_held_is_refused(capsys):
    outcome = run(capsys, "check", A, "--edition", "2014")
    assert outcome.status == 2 and "2017, 2020, 2023" in outcome.err


def test_only_the_levels_asked_for_are_listed(capsys):
    outcome = run(capsys, "check", A, "--only", "pass")
    assert "PASSES" in outcome.out and "\nNOTES\n" not in outcome.out
    assert run(capsys, "check", A, "--only", "nothing").status == 2


def test_only_the_subjects_asked_for_are_listed_but_the_status_is_of_the_whole(capsys):
    outcome = run(capsys, "check", A, *TOO_LARGE, "--subject", "S1")
    assert outcome.status == 1 and "FAILS" not in outcome.out
    refused = run(capsys, "check", A, "--subject", "S11")
    assert refused.status == 2 and "S1" in refused.err


def test_json_is_the_results_document(capsys):
    document = json.loads(run(capsys, "check", A, "--format", "json").out)
    assert document["schema"] == "linecalc/results/1" and len(document["checks"]) == sum(document["summary"].values())


def test_json_lists_only_what_is_asked_for(capsys):
    document = json.loads(run(capsys, "check", A, "--format", "json", "--only", "note", "--subject", "S1").out)
    assert {(check["level"], check["subject"]) for check in document["checks"]} == {("note", "S1")}


def test_several_projects_are_answered_in_the_order_of_the_arguments_errors_included(capsys, tmp_path):
    broken = tmp_path / "broken.toml"
    broken.write_text("[project\n")
    outcome = run(capsys, "check", B, str(broken), A, "--format", "json")
    first, second, third = json.loads(outcome.out)["results"]
    assert outcome.status == 2
    assert first["project"]["title"] != third["project"]["title"] == "Juniper Bend residence"
    assert second["schema"] == "linecalc/errors/1" and second["errors"][0]["file"] == str(broken)


def test_several_projects_as_text_keep_answers_and_errors_apart(capsys, tmp_path):
    outcome = run(capsys, "check", A, str(tmp_path / "none.toml"), A)
    assert outcome.status == 2 and outcome.out.count("Juniper Bend residence") == 2 and "none.toml" in outcome.err


def test_the_worst_status_of_several_projects_counts(capsys):
    assert run(capsys, "check", A, D).status == 1


def test_many_projects_on_many_processors_give_the_same_answer_as_one_by_one(capsys, tmp_path):
    paths = []
    for number in range(20):
        path = tmp_path / f"{number}.toml"
        path.write_text(Path(A).read_text().replace("Juniper Bend residence", f"House {number}"))
        paths.append(str(path))
    together = run(capsys, "check", *paths)
    apart = [run(capsys, "check", path).out for path in paths]
    assert together.status == 0 and together.out == ("\n" + "-" * 72 + "\n\n").join(apart)


def test_the_output_is_the_same_in_every_process():
    first, second = (run_process("check", B, env={"PYTHONHASHSEED": seed}).out for seed in "12")
    assert first and first == second


def test_text_needs_no_library_of_tables_or_drawings():
    code = "import sys; from linecalc.__main__ import main; main(['check', sys.argv[1]]); print(sorted(set(sys.argv[2:]) & set(sys.modules)))"
    heavy = ("tabulate", "schemdraw", "typst", "tree_sitter", "numpy", "linecalc.report.sheet", "linecalc.report.results_json")
    done = subprocess.run([sys.executable, "-c", code, A, *heavy], capture_output=True, text=True, timeout=120)
    assert done.stdout.splitlines()[-1] == "[]"
