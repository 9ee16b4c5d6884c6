"""``linecalc explain``: a rule, or what stands behind a tag."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.command_line import run

A = str(Path(__file__).parents[2] / "examples" / "a.toml")


def document(capsys, *arguments):
    return json.loads(run(capsys, "explain", *arguments, "--format", "json").out)


def test_a_rule_says_what_it_asks_where_it_stands_and_how_it_is_worked(capsys):
    outcome = run(capsys, "explain", "pv_conductor.T1")
    assert outcome.status == 0
    for part in ("NEC 2017", "NEC 2020", "NEC 2023", "690.8(B)(1)", "Formula", "I_T1 = 1.25 x I_max + I_n", "21.72 A", "Calculation aid only"):
        assert part in outcome.out


def test_a_rule_in_markdown_has_its_sections_in_a_table(capsys):
    out = run(capsys, "explain", "busbar_120", "--format", "markdown").out
    assert out.startswith("# busbar\\_120\n") and "| NEC 2020 | 705.12(B)(3)(2) |" in out


def test_a_rule_as_json_has_every_key(capsys):
    found = document(capsys, "raceway_fill")
    assert list(found) == ["schema", "rule", "title", "asks", "sections", "note", "worked", "beside", "disclaimer"]
    assert found["schema"] == "linecalc/rule/1" and found["worked"]["passes"] is True
    assert [entry["edition"] for entry in found["sections"]] == ["2017", "2020", "2023"]


def test_a_rule_without_arithmetic_says_so(capsys):
    assert "No arithmetic" in run(capsys, "explain", "pv_arc_fault").out
    assert document(capsys, "pv_arc_fault")["worked"] is None


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_wrong_rule_is_told_its_nearest(form, capsys):
    outcome = run(capsys, "explain", "busbar_12", "--format", form)
    assert outcome.status == 2 and "busbar_120" in outcome.err + outcome.out


def test_a_tag_shows_every_step_with_the_place_of_each_number(capsys):
    out = run(capsys, "explain", "C1", "--project", A).out
    assert "--- C1: " in out and "Arithmetic" in out and "Inputs behind it" in out
    for part in ("I_T1 = 1.25 x I_export = 1.25 x 32 A = 40 A", "equipment.unit-76.ac_current", "section.R3.ambient", "Table 310.16"):
        assert part in out, part


def test_a_tag_as_json_can_be_followed_to_its_inputs(capsys):
    found = document(capsys, "C1", "--project", A)
    ids = {step["id"] for step in found["steps"]}
    paths = {item["path"] for item in found["inputs"]}
    assert found["schema"] == "linecalc/behind/1" and found["checks"]
    for step in found["steps"]:
        for used in step["inputs"]:
            origin = used["from"] or ""
            assert origin in ids or origin in paths or origin.startswith("table:") or not origin, origin


def test_steps_of_a_tag_stand_in_order_arguments_first(capsys):
    seen = set()
    for step in document(capsys, "C3", "--project", A)["steps"]:
        later = {used["from"] for used in step["inputs"] if used["from"] and "." in used["from"]} - seen
        assert not {name for name in later if name == step["id"]}
        seen.add(step["id"])


def test_a_string_and_a_bus_can_be_explained(capsys):
    assert "cold" in run(capsys, "explain", "S1", "--project", A).out
    assert "Busbar methods" in run(capsys, "explain", "MP", "--project", A).out


def test_a_tag_in_markdown(capsys):
    out = run(capsys, "explain", "S1", "--project", A, "--format", "markdown").out
    assert "### S1" in out and "**Inputs behind it**" in out


def test_a_wrong_tag_is_told_its_nearest(capsys):
    outcome = run(capsys, "explain", "C11", "--project", A)
    assert outcome.status == 2 and '"C1"' in outcome.err


def test_another_edition_is_cited(capsys):
    assert "checked against NEC 2017" in run(capsys, "explain", "C1", "-p", A, "--edition", "2017").out


def test_the_project_may_be_named_without_its_suffix(capsys):
    assert run(capsys, "explain", "C1", "--project", A.removesuffix(".toml")).status == 0


def test_a_rule_imports_no_heavy_library():
    program = "import sys\nfrom linecalc.__main__ import main\nmain(['explain', 'busbar_120'])\nprint('\\n' + ' '.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert not {"networkx", "pint", "pydantic", "schemdraw"} & set(done.stdout.splitlines()[-1].split())


def test_equipment_is_explained_by_the_things_that_use_it(capsys):
    outcome = run(capsys, "explain", "mod-420", "--project", A)
    assert outcome.status == 2 and "is equipment data; explain what uses it: S1, S2" in outcome.err
