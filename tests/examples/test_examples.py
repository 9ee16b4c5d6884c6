"""The shipped examples: what each is there to show."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.project.read import read_project, read_text
from linecalc.study import study

EXAMPLES = Path(__file__).parents[2] / "examples"
PLANTED = re.compile(r"^(?P<key>\w+) = (?P<wrong>.+?) # planted (?P<rule>\S+) on (?P<subject>\S+), right: (?P<right>.+)$")

MISTAKES = {
    "a string too long for the cold": ("pv_max_voltage", "S1"),
    "a breaker above the unit's maximum": ("listed_instructions.breaker", "C1"),
    "the 120 % rule broken": ("busbar_120", "MP"),
    "a conductor right before correction and wrong after it": ("feeder_continuous_conductor.T2", "C7"),
    "the wrong grounding conductor after upsizing": ("egc_upsize", "C3"),
    "an overfilled conduit": ("raceway_fill", "R4"),
    "two neutral bonds": ("neutral_for_grounding", "BP"),
    "the rooftop adder missing": ("pv_conductor.T2", "P2"),
    "a backed-up load above the units": ("standby_capacity", "system"),
    "a string current above the limit of its input": ("mppt_limit.short_circuit", "S4"),
}


def findings(result) -> set[tuple[str, str, str]]:
    """The findings that a reader must act on: level, rule and subject."""
    acted_on = (Level.FAIL, Level.WARN, Level.NOT_CHECKED)
    return {(check.level.value, check.rule, check.subject) for check in result.checks if check.level in acted_on}


def planted_lines() -> list[tuple[int, re.Match[str]]]:
    lines = (EXAMPLES / "d.toml").read_text().splitlines()
    return [(index, match) for index, line in enumerate(lines) if (match := PLANTED.match(line))]


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
@pytest.mark.parametrize("name", ["a", "b", "c"])
def test_the_clean_examples_have_nothing_that_fails_or_is_not_checked(name: str, edition: str) -> None:
    result = study(read_project(EXAMPLES / f"{name}.toml"), edition)
    assert result.count(Level.PASS) > 40
    assert not [check for check in result.checks if check.level in (Level.FAIL, Level.NOT_CHECKED)]


def test_the_submission_as_received_has_the_ten_planted_findings_and_no_other() -> None:
    result = study(read_project(EXAMPLES / "d.toml"))
    assert {(match["rule"], match["subject"]) for _, match in planted_lines()} == set(MISTAKES.values())
    assert findings(result) == {("fail", rule, subject) for rule, subject in MISTAKES.values()}


@pytest.mark.parametrize(("index", "match"), planted_lines(), ids=lambda value: value["rule"] if isinstance(value, re.Match) else None)
def test_putting_one_mistake_right_removes_that_finding_and_no_other(index: int, match: re.Match[str]) -> None:
    lines = (EXAMPLES / "d.toml").read_text().splitlines()
    before = findings(study(read_project(EXAMPLES / "d.toml")))
    lines[index] = f"{match['key']} = {match['right']}"
    after = findings(study(read_text("\n".join(lines), str(EXAMPLES / "d.toml"))))
    assert before - after == {("fail", match["rule"], match["subject"])}
    assert after <= before


def test_missing_safety_inputs_are_not_checked_and_what_rests_on_them_never_passes() -> None:
    result = study(read_project(EXAMPLES / "missing.toml"))
    not_checked = {(check.rule, check.subject) for check in result.checks if check.level is Level.NOT_CHECKED}
    assert {
        ("pv_max_voltage", "S1"),
        ("pv_max_voltage", "S2"),
        ("pv_ocpd_not_required", "S1"),
        ("pv_conductor", "S2"),
        ("pv_conductor.T1", "P3"),
        ("pv_conductor.T2", "P3"),
        ("listed_instructions.breaker", "C1"),
        ("service_grounding", "MP"),
        ("separately_derived", "ID"),
        ("raceway_fill", "R2"),
        ("standby_capacity", "system"),
    } <= not_checked
    passing = {(check.rule, check.subject) for check in result.checks if check.level is Level.PASS}
    assert not passing & not_checked
    assert all(check.needs for check in result.checks if check.level is Level.NOT_CHECKED)
    assert not [check for check in result.checks if check.level is Level.FAIL]


def test_the_script_builds_the_same_project_as_the_file() -> None:
    sys.path.insert(0, str(EXAMPLES))
    try:
        import e
    finally:
        sys.path.remove(str(EXAMPLES))
    assert e.house() == read_project(EXAMPLES / "a.toml")


def test_the_script_prints_the_same_bytes_as_the_command_on_the_file() -> None:
    script = subprocess.run([sys.executable, EXAMPLES / "e.py"], capture_output=True, check=True)
    command = [sys.executable, "-m", "linecalc", "check", str(EXAMPLES / "a.toml"), "--format", "json"]
    from_file = subprocess.run(command, capture_output=True, check=True)
    assert script.stdout == from_file.stdout
    assert len(script.stdout) > 10_000
