"""A script and a file that say the same thing give equal projects, and equal errors."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

import linecalc
from linecalc.project.model import Project
from tests.project.house import HOUSE, problems

TABLES = ("site", "service", "backup", "grounding", "rapid_shutdown", "required", "facts", "attachments", "power_control")


def builder_of(text: str) -> linecalc.ProjectBuilder:
    """A builder told the contents of a file by method calls."""
    raw = tomllib.loads(text)
    builder = linecalc.ProjectBuilder(**raw.pop("project"))
    for entry in raw.pop("amendments", []):
        builder.amendment(**entry)
    for kind, contents in raw.items():
        method = getattr(builder, kind)
        if kind in TABLES:
            method(**contents)
            continue
        for tag, keys in contents.items():
            method(tag, **{"from_" if key == "from" else key: value for key, value in keys.items()})
    return builder


def test_a_script_and_a_file_give_equal_projects():
    assert builder_of(HOUSE).build() == linecalc.read_text(HOUSE)


def test_the_starter_built_by_a_script_equals_its_file():
    from linecalc.cli.new import starter_text

    assert builder_of(starter_text()).build() == linecalc.read_text(starter_text())


def test_every_table_of_the_file_has_a_method():
    tables = {info.alias or name for name, info in Project.model_fields.items()} - {"project", "amendments"}
    for table in tables | {"amendment", "revision", "include"}:
        assert callable(getattr(linecalc.ProjectBuilder, table)), table


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('bus = "225 A"', 'bus = "225"'),
        ('bus = "225 A"\n', ""),
        ('module = "mod"', 'module = "mood"'),
        ('length = "34 ft"', 'lenght = "34 ft"'),
        ('code = "NEC 2023"', 'code = "NEC 2014"'),
        ('method = "EMT"', 'method = "TC-ER"'),
        ('voltage = "240 V"', 'voltage = "208 V"'),
        ("count = 11", "count = 0"),
        ('voc_coefficient = "-0.26 %/K"', 'voc_coefficient = "0.26 %/K"'),
    ],
)
def test_a_script_gets_the_errors_of_the_file_without_file_and_line(old, new):
    text = HOUSE.replace(old, new, 1)
    with pytest.raises(linecalc.InputError) as caught:
        builder_of(text).build()
    expected = {replace(problem, file=None, line=None) for problem in problems(text)}
    assert expected
    assert set(caught.value.problems) == expected


def test_a_message_of_a_script_begins_with_the_key():
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023")
    builder.panel("MP", bus="225", main="lugs")
    with pytest.raises(linecalc.InputError) as caught:
        builder.build()
    assert str(caught.value) == 'panel.MP.bus: "225" has no unit; write "225 A"'


def test_none_counts_as_left_out():
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023", designer=None)
    builder.panel("MP", bus="225 A", main="200 A", feed=None)
    assert builder.build().panel["MP"].feed is None


def test_a_tag_described_twice_is_an_error():
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023")
    builder.site(low_temperature="-14 degC")
    builder.site(low_temperature="-15 degC")
    builder.junction("J1")
    builder.junction("J1")
    with pytest.raises(linecalc.InputError) as caught:
        builder.build()
    assert [str(problem) for problem in caught.value.problems] == ["site: site is described twice", "junction.J1: is described twice"]


def test_revisions_and_amendments_are_kept_in_order():
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023")
    builder.amendment("first", "a")
    builder.amendment("second", "b")
    builder.revision("1", "1 May", "issued")
    project = builder.build()
    assert [entry.text for entry in project.amendments] == ["first", "second"]
    assert project.project.revisions[0].number == "1"


def test_a_script_can_include_an_equipment_file(tmp_path):
    start, end = HOUSE.index("[equipment.mod]"), HOUSE.index("[panel.MP]")
    path = tmp_path / "equipment.toml"
    path.write_text(HOUSE[start:end])
    builder = builder_of(HOUSE[:start] + HOUSE[end:])
    builder.include(str(path))
    assert builder.build() == linecalc.read_text(HOUSE)


def test_a_problem_in_an_included_file_names_it_for_a_script_too(tmp_path):
    path = tmp_path / "equipment.toml"
    path.write_text('[equipment.m]\nkind = "pv modul"\n')
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023")
    builder.include(str(path))
    with pytest.raises(linecalc.InputError) as caught:
        builder.build()
    assert (caught.value.problems[0].file, caught.value.problems[0].line) == (str(path), 2)


def test_a_missing_included_file_is_a_problem_of_the_script():
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023")
    builder.include("nothing.toml")
    with pytest.raises(linecalc.InputError, match="nothing.toml.*no such file"):
        builder.build()


def test_equipment_in_the_script_and_in_an_included_file_is_an_error(tmp_path):
    path = tmp_path / "equipment.toml"
    path.write_text('[equipment.s]\nkind = "storage module"\nenergy = "1 kWh"\n')
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023")
    builder.equipment("s", kind="storage module", energy="2 kWh")
    builder.include(str(path))
    with pytest.raises(linecalc.InputError, match="equipment.s: is described twice"):
        builder.build()


def test_a_build_does_not_change_the_builder():
    builder = builder_of(HOUSE)
    first = builder.build()
    builder.junction("J9")
    assert "J9" not in first.junction
    assert "J9" in builder.build().junction


def test_values_of_python_types_that_no_file_has_are_refused():
    builder = linecalc.ProjectBuilder(title="x", code="NEC 2023", date=object())
    builder.panel("MP", bus=b"225 A", main={"value": 3})
    with pytest.raises(linecalc.InputError) as caught:
        builder.build()
    assert {problem.key for problem in caught.value.problems} == {"project.date", "panel.MP.bus", "panel.MP.main"}


def test_a_project_cannot_be_changed():
    project = linecalc.read_text(HOUSE)
    with pytest.raises(Exception, match="frozen"):
        project.panel["MP"].bus = None
