"""``linecalc compare``: what changes, and nothing else."""

import json
from pathlib import Path

import pytest

from linecalc.comparison import Group, compare
from linecalc.study import study
from linecalc.variants import with_value
from tests.cli.command_line import run
from tests.report.houses import EXAMPLES, example

A, B, D = (str(EXAMPLES / f"{name}.toml") for name in ("a", "b", "d"))


def against(path, value):
    """Example (a) against itself with one value changed."""
    first = example(Path(A))
    return compare([("before", first), ("after", study(with_value(first.project, path, value)))])


def rows(found, group):
    return {(item.subject, item.what): item.values for item in found.differences if item.group is group}


def test_a_design_does_not_differ_from_itself(capsys):
    outcome = run(capsys, "compare", A, A)
    assert outcome.status == 0 and "Nothing differs." in outcome.out


def test_one_edition_twice_differs_in_nothing():
    assert compare([("one", example(Path(B), "2020")), ("two", example(Path(B), "2020"))]).differences == ()


def test_a_changed_breaker_shows_input_device_verdict_and_figure():
    found = against("circuit.C1.breaker", "60 A")
    assert rows(found, Group.INPUTS) == {("circuit.C1.breaker", ""): ("-", "60 A")}
    assert rows(found, Group.DEVICES)[("C1", "device")] == ("40 A breaker in BP", "60 A breaker in BP")
    assert rows(found, Group.VERDICTS)[("C1", "listed_instructions.breaker")] == ("pass", "fail")
    assert rows(found, Group.FIGURES)[("C1", "listed_instructions.breaker")] == ("40 A", "60 A")
    assert rows(found, Group.SECTIONS) == {}


def test_a_changed_title_changes_nothing():
    assert against("project.title", "Another title").differences == ()


def test_a_longer_string_shows_its_voltages():
    figures = rows(against("string.S1.count", 10), Group.FIGURES)
    assert {what for subject, what in figures if subject == "S1"} >= {"cold voltage", "hot working voltage", "pv_max_voltage"}


def test_values_that_differ_are_printed_with_digits_that_tell_them_apart():
    found = against("equipment.unit-76.overcurrent_max", "40.00001 A")
    for item in found.differences:
        assert len(set(item.values)) > 1, item


def test_editions_of_one_project_are_compared(capsys):
    outcome = run(capsys, "compare", B.removesuffix(".toml"), "--editions", "2017,2020,2023")
    assert outcome.status == 0
    assert outcome.out.startswith("Compared: NEC 2017, NEC 2020, NEC 2023\n")
    assert "705.12(B)(2)(3)(b)" in outcome.out and "INPUTS" not in outcome.out


def test_markdown_has_a_table_a_group(capsys):
    out = run(capsys, "compare", B, "--editions", "2020,2023", "--format", "markdown").out
    assert "# Compared: NEC 2020, NEC 2023" in out and "## Sections" in out and "| Rule" in out


def test_json_holds_every_difference(capsys):
    found = json.loads(run(capsys, "compare", A, D, "--format", "json").out)
    assert list(found) == ["schema", "names", "summaries", "differences", "disclaimer"]
    assert found["names"] == [A, D] and found["summaries"][1]["fail"] == 10
    assert {item["group"] for item in found["differences"]} >= {"inputs", "verdicts", "devices", "sizes", "limits", "figures"}
    assert all(len(item["values"]) == 2 and item["values"][0] != item["values"][1] for item in found["differences"])


def test_a_fail_in_either_design_exits_with_1(capsys):
    assert run(capsys, "compare", A, D).status == 1


@pytest.mark.parametrize(
    "arguments",
    [
        (A,),
        (A, B, D),
        (A, B, "--editions", "2017,2020"),
        (A, "--editions", "2017"),
        (A, "--editions", "2017,2020", "--edition", "2023"),
        (A, "--editions", "2017,2011"),
        (A, "no such file"),
    ],
)
def test_wrong_arguments_exit_with_2(arguments, capsys):
    outcome = run(capsys, "compare", *arguments)
    assert outcome.status == 2 and outcome.err and "Traceback" not in outcome.err
