"""The coverage report: what offices ask for, answered from the study, with counts."""

from __future__ import annotations

import json

import pytest

from linecalc.check import Level
from linecalc.errors import TableError
from linecalc.project.read import read_project
from linecalc.report.checklist import COVERED, OTHER_PARTS, Coverage, checklist, items
from linecalc.report.checklist_answers import Answerer, Found
from linecalc.report.checklist_conditions import CONDITIONS
from linecalc.report.checklist_facts import FACTS
from linecalc.report.checklist_text import checklist_document, checklist_markdown, checklist_text
from linecalc.study import study
from linecalc.variants import with_value
from tests.cli.command_line import run
from tests.report.houses import EXAMPLES

NAMES = ("a", "b", "c", "d")
ON_SHEETS = 158


@pytest.fixture(scope="module")
def found():
    return {name: checklist(study(read_project(EXAMPLES / f"{name}.toml"))) for name in NAMES}


def example(name, changes=()):
    project = read_project(EXAMPLES / f"{name}.toml")
    for path, value in changes:
        project = with_value(project, path, value)
    return checklist(study(project))


def coverage(report, number):
    return next(row for row in report.rows if row.item.id == number)


def test_the_list_has_every_item_once_with_an_office_and_a_place():
    assert [item.id for item in items()] == list(range(1, 193))
    assert all(item.item and item.office and item.sheet and item.answer for item in items())
    assert sum(item.part not in OTHER_PARTS for item in items()) == ON_SHEETS


def test_no_item_names_an_office_a_person_or_an_address():
    words = " ".join(f"{item.item} {item.office}" for item in items())
    assert not [word for word in ("City of", "County of", "Town of", "http", "Electric,", "@") if word in words]


def test_every_condition_and_every_fact_of_the_code_is_asked_for():
    assert {item.applies for item in items() if item.applies} == set(CONDITIONS)
    asked = {part.split(":")[1] for item in items() for part in item.answer.replace(" and ", " or ").split(" or ") if part.split(":")[0] in ("fact", "calc")}
    assert asked == set(FACTS)


def test_every_rule_label_and_key_that_is_looked_for_exists(found):
    answerer = Answerer(study(read_project(EXAMPLES / "b.toml")))
    for item in items():
        for predicate in item.answer.replace(" and ", " or ").split(" or "):
            answerer.answer(predicate)
    with pytest.raises(TableError, match="no known kind"):
        answerer.answer("colour:red")
    with pytest.raises(TableError, match="does not exist"):
        answerer.answer("fact:nothing")


def test_the_larger_house_alone_covers_at_least_120_items(found):
    assert found["b"].covered_on_sheets >= 120


def test_the_examples_together_cover_at_least_145_of_the_158_items(found):
    covered = {row.item.id for report in found.values() for row in report.on_sheets if row.coverage in COVERED}
    assert len(covered) >= 145
    rest = {row.item.id for row in found["b"].on_sheets} - covered
    assert len(rest) == ON_SHEETS - len(covered)


def test_every_item_that_is_not_covered_says_why(found):
    for report in found.values():
        assert all(row.reason for row in report.rows)


def test_the_counts_add_up(found):
    for report in found.values():
        assert sum(report.count(kind) for kind in Coverage) == len(report.rows) == 192
        assert report.covered == sum(report.count(kind) for kind in COVERED)
        assert len(report.on_sheets) == ON_SHEETS


@pytest.mark.parametrize(
    ("number", "path"),
    [
        (3, "project.owner"),
        (10, "facts.codes"),
        (14, "project.revisions"),
        (79, "facts.monitoring"),
        (82, "service.meter_number"),
        (139, "service.export_limit"),
        (180, "facts.contractor_license"),
    ],
)
def test_a_key_that_is_taken_away_uncovers_its_item(number, path):
    assert coverage(example("b"), number).coverage in COVERED
    without = coverage(example("b", [(path, "")]), number)
    assert without.coverage is Coverage.NOT_COVERED


@pytest.mark.parametrize(
    ("number", "path"),
    [
        (54, "equipment.mod-420.series_fuse"),
        (61, "equipment.unit-96.ground_fault"),
        (62, "equipment.unit-96.arc_fault"),
        (63, "rapid_shutdown.initiator"),
        (66, "equipment.unit-96.listing"),
        (71, "unit.U1.storage_disconnect"),
        (87, "panel.MP.condition"),
        (100, "grounding.electrodes"),
        (102, "grounding.array_listing"),
        (103, "required.surge_protection"),
        (111, "site.low_temperature"),
        (171, "equipment.unit-96.storage_voltage_max"),
    ],
)
def test_a_missing_input_is_never_counted_as_covered(number, path):
    assert coverage(example("b"), number).coverage in COVERED
    # Both units lose what unit U1 loses, so that no other unit answers for it.
    paths = [(path, "")] + ([(path.replace("U1", "U2"), "")] if "U1" in path else [])
    assert coverage(example("b", paths), number).coverage not in COVERED


def test_an_attachment_is_a_note_and_nothing_more(found):
    row = coverage(found["b"], 150)
    assert row.coverage is Coverage.ATTACHED
    assert row.text == "attachment note"
    assert "racking" in row.reason


@pytest.mark.parametrize(("name", "number"), [("a", 125), ("b", 78), ("c", 75), ("c", 128), ("a", 56), ("b", 187)])
def test_what_a_design_does_not_have_does_not_apply_and_is_not_counted(found, name, number):
    row = coverage(found[name], number)
    assert row.coverage is Coverage.NOT_APPLICABLE
    assert row.coverage not in COVERED


def test_existing_service_equipment_answers_nothing_about_surge_protection(found):
    assert coverage(found["a"], 103).coverage is Coverage.NOT_APPLICABLE
    assert coverage(found["b"], 103).coverage is Coverage.SHOWN


def test_a_computed_item_names_rule_subject_and_section(found):
    row = coverage(found["b"], 113)
    assert (row.coverage, row.text) == (Coverage.COMPUTED, "computed, E-603")
    assert "pv_max_voltage on S1" in row.reason and "690.7" in row.reason


def test_a_rule_that_could_not_be_checked_is_no_answer():
    report = checklist(study(read_project(EXAMPLES / "missing.toml")))
    row = coverage(report, 113)
    assert row.coverage is Coverage.NOT_COVERED
    assert row.reason.startswith("not checked, needs ")


def test_the_edition_decides_what_is_asked():
    before = checklist(study(read_project(EXAMPLES / "b.toml"), "2017"))
    assert [coverage(before, number).coverage for number in (72, 103, 104, 170)] == [Coverage.NOT_APPLICABLE] * 4


def test_all_and_any_in_an_answer():
    answerer = Answerer(study(read_project(EXAMPLES / "b.toml")))
    assert answerer.answer("check:gec").found is Found.COMPUTED
    assert answerer.answer("check:nothing_of_that_name").found is Found.NOTHING
    assert coverage(example("b", [("equipment.unit-96.dc_switch_current", "")]), 60).coverage is Coverage.NOT_COVERED


def test_the_text_lists_what_is_not_covered_first_with_the_counts(found):
    text = checklist_text(found["b"])
    assert text.index("NOT COVERED") < text.index("COMPUTED\n") < text.index("SHOWN")
    assert f"{found['b'].covered} of 192 items covered" in text
    assert "of the 158 that are neither of the site plan nor" in text
    assert max(len(line) for line in text.splitlines()) <= 100


def test_the_markdown_has_a_row_an_item(found):
    assert sum(line.startswith("| ") for line in checklist_markdown(found["b"]).splitlines()) == 192 + 1


def test_the_document_has_every_item_and_the_counts(found):
    document = json.loads(json.dumps(checklist_document(found["b"])))
    assert document["schema"] == "linecalc/checklist/1"
    assert len(document["items"]) == 192
    assert sum(document["counts"].values()) == 192
    assert document["on_sheets"] == {"items": ON_SHEETS, "covered": found["b"].covered_on_sheets}


@pytest.mark.parametrize("form", ["text", "markdown", "json"])
def test_the_command_prints_the_report_and_keeps_the_exit_status(capsys, form):
    clean = run(capsys, "check", str(EXAMPLES / "b.toml"), "--checklist", "--format", form)
    assert clean.status == 0 and "Sheet index" in clean.out
    failing = run(capsys, "check", str(EXAMPLES / "d.toml"), "--checklist", "--format", form)
    assert failing.status == 1


def test_several_projects_give_several_documents(capsys):
    paths = [str(EXAMPLES / f"{name}.toml") for name in ("a", "b")]
    results = json.loads(run(capsys, "check", *paths, "--checklist", "--format", "json").out)["results"]
    assert [result["project"]["title"] for result in results] == ["Juniper Bend residence", "Cedar Ridge residence"]


@pytest.mark.parametrize("word", ["compliant", "approved"])
def test_the_report_claims_no_verdict(found, word):
    assert word not in checklist_text(found["b"]).lower()


def test_a_failing_check_is_still_an_answer_and_the_finding_says_that_it_fails(found):
    assert coverage(found["d"], 113).coverage is Coverage.COMPUTED
    assert study(read_project(EXAMPLES / "d.toml")).count(Level.FAIL) == 10


MEASURED = [
    ("dwelling.measured_demand", "60 A"),
    ("dwelling.measured_period", "1 year"),
    ("dwelling.measured_source", "utility"),
    ("dwelling.existing", True),
    ("dwelling.methods", ()),
]


@pytest.mark.parametrize(("edition", "expected"), [("2020", Coverage.NOT_COVERED), ("2023", Coverage.COMPUTED)])
def test_demand_records_answer_only_where_the_edition_lets_them(edition, expected):
    project = read_project(EXAMPLES / "b.toml")
    for path, value in MEASURED:
        project = with_value(project, path, value)
    row = coverage(checklist(study(project, edition)), 127)
    assert row.coverage is expected
    assert row.reason
