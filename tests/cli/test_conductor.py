"""``linecalc conductor``: options in, the size that passes out, every step with it."""

import json

import pytest

from linecalc.codebook import EDITIONS
from linecalc.term import evaluate
from tests.cli.command_line import run


def answer(capsys, *options):
    outcome = run(capsys, "conductor", *options, "--format", "json")
    return outcome.status, json.loads(outcome.out)


def test_a_continuous_current_takes_125_percent_at_the_terminals(capsys):
    status, found = answer(capsys, "--current", "40", "--terminal", "75")
    assert status == 0
    assert (found["design_a"], found["ocpd_a"], found["tests"]["T1"]["needed_a"]) == (50, 50, 50)
    assert found["conductor"]["size"] == "8 AWG" and found["egc"]["size"] == "10 AWG"


def test_both_tests_of_parallel_sets_are_reported_for_the_sets_together(capsys):
    """600 kcmil Cu: 420 A at 75 degC, 475 A at 90 degC x 0.8 for four carrying, twice each."""
    _, found = answer(capsys, "--current", "640", "--parallel", "2", "--terminal", "75")
    assert found["conductor"]["size"] == "600 kcmil"
    assert (found["tests"]["T1"]["ampacity_a"], found["tests"]["T2"]["ampacity_a"]) == (840, 760)
    out = run(capsys, "conductor", "--current", "640", "--parallel", "2", "--terminal", "75").out
    assert "760 A ampacity" in out and "min(I_sets_T1, I_sets_T2) = min(840 A, 760 A)" in out


def test_one_circuit_without_strings_says_that_a_project_file_holds_their_voltage(capsys):
    _, found = answer(capsys, "--system", "pv", "--current", "13.9", "--breaker", "none")
    missing = next(check for check in found["checks"] if check["level"] == "not_checked")
    assert missing["needs"] == ["the strings on this circuit, in a project file"]


def test_60_degree_terminals_ask_for_a_larger_conductor(capsys):
    _, found = answer(capsys, "--current", "40", "--terminal", "60")
    assert found["conductor"]["size"] == "6 AWG" and found["governed_by"] == "T1"


def test_heat_and_company_ask_for_a_larger_conductor(capsys):
    """40 A, 52 degC, eight carrying: 90 degC column x 0.76 x 0.7 >= 40 A needs 75.2 A: 4 AWG (95 A) since 6 AWG has 75 A."""
    _, found = answer(capsys, "--current", "40", "--terminal", "75", "--ambient", "52", "--conductors", "8")
    assert found["conductor"]["size"] == "4 AWG" and found["governed_by"] == "T2"


def test_a_bare_number_is_in_the_unit_of_the_help_and_a_unit_may_be_written(capsys):
    plain = answer(capsys, "--current", "40", "--length", "100", "--ambient", "50")
    assert plain == answer(capsys, "--current", "40 A", "--length", "100 ft", "--ambient", "50 degC")
    _, metric = answer(capsys, "--current", "0.04 kA", "--length", "30.48 m", "--ambient", "122 degF")
    assert metric["length_ft"] == pytest.approx(100.0)
    assert metric["sections"][0]["ambient_c"] == pytest.approx(50.0)


def test_pv_prints_both_125_percents(capsys):
    _, found = answer(capsys, "--system", "pv", "--current", "13.9", "--breaker", "none")
    assert (found["continuous_a"], found["design_a"], found["ocpd_a"]) == (17.375, 21.71875, None)
    outcome = run(capsys, "conductor", "--system", "pv", "--current", "13.9", "--breaker", "none")
    assert "1.25 x 13.9 A = 17.38 A" in outcome.out and "1.25 x 17.38 A" in outcome.out


def test_a_given_size_is_checked_and_a_small_one_fails(capsys):
    status, found = answer(capsys, "--current", "40", "--size", "10 AWG", "--breaker", "50")
    assert status == 1 and found["governed_by"] == "given"
    assert {check["level"] for check in found["checks"]} >= {"fail"}


@pytest.mark.parametrize("written", ["6 AWG", "6", "6 awg", " 6  AWG "])
def test_a_size_is_read_as_people_write_it(written, capsys):
    assert answer(capsys, "--current", "40", "--size", written)[1]["conductor"]["size"] == "6 AWG"


def test_a_drop_target_can_govern(capsys):
    _, found = answer(capsys, "--current", "30", "--terminal", "75", "--length", "300 ft", "--max-drop", "2")
    assert found["governed_by"] == "voltage drop target" and found["modes"]["supply"]["drop_percent"] <= 2


def test_without_a_length_no_length_and_no_drop_are_printed(capsys):
    _, found = answer(capsys, "--current", "40")
    assert found["length_ft"] is None and found["modes"]["supply"]["drop_v"] is None
    assert "100 ft" not in run(capsys, "conductor", "--current", "40").out


def test_what_was_assumed_is_listed(capsys):
    out = run(capsys, "conductor", "--current", "40").out
    assert "--ambient = 30 degC" in out and "Assumed" in out
    _, found = answer(capsys, "--current", "40")
    assert any(item["path"] == "--ambient" and item["basis"] == "assumed" for item in found["inputs"])


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_number_can_be_followed_and_every_expression_is_true(edition, capsys):
    _, found = answer(capsys, "--current", "40", "--length", "85", "--raceway", "EMT", "--edition", edition)
    paths = {item["path"] for item in found["inputs"]} | {step["id"] for step in found["steps"]}
    for step in found["steps"]:
        assert evaluate(step["expression"]) == pytest.approx(step["value"], rel=1e-8)
        for used in step["inputs"]:
            assert used["from"] in paths or used["from"].startswith("table:"), (step["id"], used)


def test_the_keys_are_those_of_a_circuit_and_checks_and_steps(capsys):
    _, found = answer(capsys, "--current", "40")
    keys = "tag from to system modes continuous_a design_a governed_by ocpd_a conductor neutral egc length_ft tests sections checks steps"
    assert set(keys.split()) <= set(found)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ([], "--current"),
        (["--current", "40", "--continuous", "30"], "--current"),
        (["--current", "forty"], "--current"),
        (["--current", "0"], "more than 0"),
        (["--current", "-5"], "--current"),
        (["--current", "nan"], "--current"),
        (["--current", "40", "--length", "85 kg"], "--length"),
        (["--current", "40", "--size", "5 AWG"], "4 AWG"),
        (["--current", "40", "--size", "77"], "--size"),
        (["--current", "40", "--insulation", "THWN-3"], "THWN-2"),
        (["--current", "40", "--edition", "2014"], "2017, 2020, 2023"),
        (["--current", "40", "--material", "Au"], "Cu"),
        (["--system", "pv", "--continuous", "10"], "--continuous"),
        (["--current", "900000"], "200000"),
        (["--current", "150000"], ""),
    ],
)
def test_nonsense_is_refused_with_the_option_named(options, said, capsys):
    outcome = run(capsys, "conductor", *options)
    assert outcome.status == 2 and said in outcome.err and "Traceback" not in outcome.err and outcome.out == ""


def test_all_problems_are_reported_at_once(capsys):
    outcome = run(capsys, "conductor", "--current", "x", "--length", "y", "--size", "z")
    assert all(option in outcome.err for option in ("--current", "--length", "--size"))


def test_bad_input_as_json_is_the_errors_document(capsys):
    outcome = run(capsys, "conductor", "--current", "x", "--format", "json")
    document = json.loads(outcome.out)
    assert outcome.status == 2 and document["schema"] == "linecalc/errors/1" and document["errors"][0]["key"] == "--current"


def test_the_caution_stands_below(capsys):
    out = " ".join(run(capsys, "conductor", "--current", "40").out.split())
    assert "licensed electrician decide" in out and "for review by the AHJ" in out
