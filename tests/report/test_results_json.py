"""The results JSON has the documented shape, every key always, and depends on the project alone."""

import json
import subprocess
import sys

import pytest

from linecalc.check import Level
from linecalc.report.results_json import results
from linecalc.study import study
from tests.report.houses import EXAMPLES, example, example_files, failing_house, small_house

KEYS = {
    "": "schema edition project summary inputs equipment strings buses circuits checks steps disclaimer",
    "project": "title address owner designer license parcel scope date",
    "summary": "pass note warn not_checked fail",
    "inputs": "path value unit as_written basis source",
    "strings": "tag module count cold_voc_v cold_voc_table_v hot_vmp_v isc_a max_current_a design_a",
    "buses": "tag rating_a protected_by_a sources methods largest_source_breaker_a",
    "methods": "section applies demand_a limit_a level why",
    "circuits": "tag from to system modes rise_percent_to_meter continuous_a noncontinuous_a design_a selected governed_by ocpd_a "
    "terminals_c conductor neutral egc length_ft tests sections fault",
    "modes": "export supply charge island dc",
    "mode": "current_a neutral_a drop_v drop_percent base_v",
    "conductor": "size material insulation parallel count",
    "egc": "size base_size material",
    "sections": "tag method size fill_percent place wet ambient_c adder_c ambient_factor current_carrying count_factor ampacity_a set_aside",
    "checks": "rule subject level citation demand limit unit message needs fix steps",
    "steps": "id subject symbol meaning formula substitution expression inputs value unit citation",
    "used": "symbol value unit from",
}
CASES = [pytest.param(path, id=path.stem) for path in example_files()]


def has(record, name):
    assert set(KEYS[name].split()) <= set(record), name


@pytest.mark.parametrize("path", CASES)
def test_every_documented_key_is_present(path):
    document = results(example(path))
    has(document, "")
    for name in ("project", "summary"):
        has(document[name], name)
    for name in ("inputs", "strings", "buses", "circuits", "checks", "steps"):
        for record in document[name]:
            has(record, name)
    for circuit in document["circuits"]:
        has(circuit["modes"], "modes")
        has(circuit["conductor"], "conductor")
        assert set(circuit["tests"]) == {"T1", "T2", "T3"}
        for mode in filter(None, circuit["modes"].values()):
            has(mode, "mode")
        for section in circuit["sections"]:
            has(section, "sections")
        if circuit["egc"]:
            has(circuit["egc"], "egc")
    for bus in document["buses"]:
        for method in bus["methods"]:
            has(method, "methods")
    for step in document["steps"]:
        for used in step["inputs"]:
            has(used, "used")


@pytest.mark.parametrize("path", CASES)
def test_records_of_a_kind_have_the_same_keys_in_the_same_order(path):
    document = results(example(path))
    for name in ("inputs", "equipment", "strings", "buses", "circuits", "checks", "steps"):
        assert len({tuple(record) for record in document[name]}) <= 1, name


@pytest.mark.parametrize("path", CASES)
def test_the_summary_counts_the_checks(path):
    document = results(example(path))
    for level, count in document["summary"].items():
        assert count == sum(check["level"] == level for check in document["checks"])
    assert sum(document["summary"].values()) == len(document["checks"])


def test_levels_are_the_documented_words():
    assert {check["level"] for check in results(failing_house())["checks"]} <= {"pass", "note", "warn", "not_checked", "fail"}


@pytest.mark.parametrize("path", CASES)
def test_ids_and_paths_are_unique_and_steps_refer_to_steps(path):
    document = results(example(path))
    ids = [step["id"] for step in document["steps"]]
    assert len(ids) == len(set(ids))
    paths = [item["path"] for item in document["inputs"]]
    assert len(paths) == len(set(paths))
    for check in document["checks"]:
        assert set(check["steps"]) <= set(ids)


@pytest.mark.parametrize("path", CASES)
def test_a_check_that_compares_has_the_arithmetic_of_its_demand_or_limit(path):
    found = example(path)
    for check, record in zip(found.checks, results(found)["checks"], strict=True):
        computed = [term for term in check.roots() if term.op]
        assert len(record["steps"]) >= bool(computed), f"{check.rule} {check.subject}"


def test_the_demand_stands_in_the_last_step_of_the_check():
    document = results(small_house())
    steps = {step["id"]: step for step in document["steps"]}
    check = next(check for check in document["checks"] if check["rule"] == "voltage_drop" and check["subject"] == "P1")
    assert steps[check["steps"][-1]]["value"] == check["demand"]


def test_circuits_come_from_the_strings_to_the_service():
    tags = [circuit["tag"] for circuit in results(small_house())["circuits"]]
    for before, after in (("P1", "P3"), ("P3", "C1"), ("C1", "C3"), ("C3", "C2"), ("C2", "C4")):
        assert tags.index(before) < tags.index(after)


def test_the_order_of_the_file_does_not_matter():
    project = small_house().project
    turned = project.model_copy(
        update={name: dict(reversed(getattr(project, name).items())) for name in ("circuit", "section", "string", "panel", "equipment", "junction")}
    )
    assert json.dumps(results(study(turned))) == json.dumps(results(study(project)))


def test_equal_input_gives_equal_bytes_in_every_process():
    arguments = [sys.executable, "-m", "linecalc", "check", str(EXAMPLES / "b.toml"), "--format", "json"]
    first, second = (subprocess.run(arguments, capture_output=True, timeout=120, env={"PYTHONHASHSEED": seed}).stdout for seed in "12")
    assert first and first == second


def test_another_edition_is_named_and_cited():
    document = results(example(EXAMPLES / "a.toml", "2017"))
    assert document["edition"] == "2017"
    assert any(check["citation"] and "705.12(B)(2)(3)" in check["citation"] for check in document["checks"])


def test_only_the_checks_asked_for_are_listed_and_all_are_counted():
    found = failing_house()
    failing = tuple(check for check in found.checks if check.level is Level.FAIL)
    document = results(found, failing)
    assert len(document["checks"]) == len(failing) and document["summary"]["pass"] > 0


def test_no_document_claims_a_verdict():
    text = json.dumps(results(small_house())).lower()
    assert "compliant" not in text and "approved" not in text
    assert "licensed electrician decide" in text


def test_what_is_absent_is_null():
    circuit = next(found for found in results(small_house())["circuits"] if found["system"] == "pv")
    assert circuit["neutral"] is None and circuit["modes"]["export"] is None and circuit["ocpd_a"] is None
