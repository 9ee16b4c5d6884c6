"""Every printed line of every example evaluates to what it says, and every number has a place it is from."""

import json

import pytest

from linecalc.codebook import EDITIONS
from linecalc.errors import InputError
from linecalc.report.amounts import held
from linecalc.report.cells import cell_text, is_cell
from linecalc.report.inputs import inputs_of_project
from linecalc.report.results_json import results
from linecalc.report.sheet import sheet
from linecalc.term import evaluate, shortest
from linecalc.variants import with_value
from tests.report.houses import example, example_files
from tests.report.printed import half_of_last_digit, without_units

CASES = [pytest.param(path, edition, id=f"{path.stem}-{edition}") for path in example_files() for edition in EDITIONS]


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_the_substitution_as_printed_gives_the_printed_value(path, edition):
    found = example(path, edition)
    assert found.steps
    for step in found.steps:
        line = step.rendered()
        units = {term.unit for term in step.inputs()}
        value = evaluate(without_units(line.substitution, units))
        assert abs(value - float(line.result)) <= half_of_last_digit(line.result) * (1 + 1e-9), f"{step.id}: {line.substitution} = {line.result}"


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_the_printed_value_is_the_computed_value(path, edition):
    for step in example(path, edition).steps:
        printed = float(step.rendered().result)
        assert printed == pytest.approx(step.term.value, rel=6e-4, abs=1e-12), step.id


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_the_expression_gives_the_value(path, edition):
    for step in results(example(path, edition))["steps"]:
        assert evaluate(step["expression"]) == pytest.approx(step["value"], rel=1e-8, abs=1e-9), step["id"]


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_every_number_of_a_step_can_be_followed_to_its_origin(path, edition):
    found = example(path, edition)
    document = results(found)
    inputs = {item["path"]: item for item in document["inputs"]}
    values = {step["id"]: step["value"] for step in document["steps"]}
    for step in document["steps"]:
        for used in step["inputs"]:
            origin = used["from"]
            assert origin, f"{step['id']}: {used['symbol']} is from nowhere"
            if is_cell(origin):
                assert cell_text(found.book, origin), f"{step['id']}: {origin}"
            elif origin in values:
                assert values[origin] == used["value"], f"{step['id']}: {origin}"
            else:
                assert inputs[origin]["value"] == used["value"], f"{step['id']}: {origin}"


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_a_cell_of_a_table_holds_the_number_that_was_used(path, edition):
    found = example(path, edition)
    for step in found.steps:
        for term in step.inputs():
            if not term.op and is_cell(term.origin) and term.origin.count("/"):
                text = cell_text(found.book, term.origin)
                assert float(text) == pytest.approx(term.value), f"{step.id}: {term.origin} holds {text}"


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_a_number_stands_on_a_key_that_the_project_has(path, edition):
    """A derived input names a real place: a key of the file, an assumption or a rule of the citation map."""
    found = example(path, edition)
    stated = {item.path for item in inputs_of_project(found.project)}
    assumed = {assumption.path for assumption in found.assumptions}
    for item in results(found)["inputs"]:
        base = item["path"].partition("#")[0]
        if base.startswith("rule:"):
            found.book.cite(base.removeprefix("rule:"))
        elif base not in stated | assumed:
            assert _key_exists(found.project, base), f"{item['path']} is no place in the project"


def _key_exists(project, path):
    """Whether removing the key is understood: a wrong path is refused with the nearest names."""
    try:
        with_value(project, path, "")
    except InputError as error:
        of_this_key = [problem for problem in error.problems if problem.key in (None, path)]
        return not any(problem.nearest or "nothing is named" in problem.message for problem in of_this_key)
    return True


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_the_printed_limit_agrees_with_the_verdict(path, edition):
    """No line such as 200 A <= 200 A stands beside a fail."""
    for check in example(path, edition).checks:
        shown = held(check)
        if shown is None:
            continue
        left, right = (float(text.split()[0]) for text in (shown.demand, shown.limit))
        truth = {"<=": left <= right, ">=": left >= right, "<": left < right, ">": left > right}
        assert truth[shown.sign], f"{check.rule} {check.subject}: {shown.relation}"


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_every_step_is_printed_once_in_the_sheet(path, edition):
    found = example(path, edition)
    printed = [line.id for block in sheet(found).blocks for line in block.lines]
    assert sorted(printed) == sorted(step.id for step in found.steps)


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_every_check_is_printed_once_in_the_blocks(path, edition):
    found = example(path, edition)
    printed = [item.rule for block in sheet(found).blocks for item in block.findings]
    assert sorted(printed) == sorted(check.rule for check in found.checks)


@pytest.mark.parametrize(("path", "edition"), CASES)
def test_the_results_are_json_that_reads_back_the_same(path, edition):
    document = results(example(path, edition))
    assert json.loads(json.dumps(document, allow_nan=False)) == document


def test_the_reading_of_printed_lines_finds_a_wrong_one():
    """The tests above can fail: a line with a digit changed does not evaluate to its value."""
    assert evaluate(without_units("1.25 x 13.9 A", {"A"})) == pytest.approx(17.375)
    assert abs(evaluate(without_units("1.25 x 13.8 A", {"A"})) - 17.38) > half_of_last_digit("17.38")
    assert shortest(17.375, 4) == "17.38"
