"""What the model refuses, in the user's words."""

from __future__ import annotations

import re

import pytest

from linecalc.project.model import Circuit, Panel, Project, Revision
from linecalc.project.problems import keys_of, model_at
from tests.project.house import HOUSE, only_problem, problems, said

JARGON = re.compile(r"Input should|pydantic|valid dictionary|NoneType|extra_forbidden|tuple|instance of|discriminator|\bstr\b", re.I)


def test_a_misspelt_key_gets_the_nearest_valid_key():
    problem = only_problem('length = "34 ft"', 'lenght = "34 ft"')
    assert problem.key == "circuit.C1.lenght"
    assert problem.message == 'unknown key; did you mean "length"?'
    assert problem.nearest == ("length",)


def test_a_key_unlike_any_other_gets_the_list_of_keys():
    problem = only_problem('rating = "200 A"', 'rating = "200 A"\nxyzzy = 1')
    assert problem.message.startswith("unknown key; one of: voltage, rating, ")
    assert problem.nearest == ()


def test_a_misspelt_table_gets_the_nearest_table():
    assert 'panels: unknown table; did you mean "panel"?' in said("[load.L1]", "[panels.X]\nbus = \"1 A\"\n[load.L1]")


def test_a_misspelt_key_of_equipment_gets_the_keys_of_its_kind():
    assert 'equipment.mod.imp_: unknown key; did you mean "imp"' in said('imp = "13.2 A"', 'imp = "13.2 A"\nimp_ = "1 A"')


def test_the_script_spelling_of_from_is_told_the_file_spelling():
    found = problems(HOUSE.replace('from = "U1"', 'from_ = "U1"'))
    assert any(problem.message == 'unknown key; did you mean "from"?' for problem in found)


def test_a_missing_key_is_named_with_what_it_takes():
    problem = only_problem('bus = "225 A"\n', "")
    assert (problem.key, problem.message) == ("panel.MP.bus", 'is missing; give a current, like "40 A"')
    assert problem.line == HOUSE.splitlines().index("[panel.MP]") + 1


def test_a_missing_word_is_named_with_the_words_there_are():
    assert said('code = "NEC 2023"\n', "").endswith('project.code: is missing; give "NEC 2017", "NEC 2020" or "NEC 2023"')


def test_a_missing_table_has_the_file_and_its_key():
    found = problems("[site]\n")
    assert [str(problem) for problem in found] == ["house.toml: project: is missing; give a table of keys"]


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ('"225"', '"225" has no unit; write "225 A"'),
        ("225", '"225" has no unit; write "225 A"'),
        ('"225 V"', 'unknown unit "V" in "225 V"; one of: A, kA, mA'),
        ('"225 amps"', 'unknown unit "amps" in "225 amps"; one of: A, kA, mA'),
        ('"-225 A"', '"-225 A" is outside the accepted range, 0 to 200000 A'),
        ('"nan A"', '"nan A" is not a number, a space and a unit'),
        ('"1e999 A"', '"1e999 A" is not a finite number'),
        ('"9**9**9 A"', '"9**9**9 A" is not a number, a space and a unit'),
        ("true", "true is not text"),
        ("[225]", "a list is not text"),
        ("{ amps = 225 }", "a table of keys needs the keys value, and if wanted basis and source"),
        ('{ value = "225 A", basis = "sure" }', "a table of keys has an unknown basis 'sure'; one of given, assumed, computed, field verify"),
        ('{ value = "225" }', '"225" has no unit; write "225 A"'),
        ('""', '"" is not a number, a space and a unit'),
    ],
)
def test_a_wrong_quantity_says_what_is_wrong(written, message):
    problem = only_problem('bus = "225 A"', f"bus = {written}")
    assert problem.key == "panel.MP.bus"
    assert problem.message == message
    assert problem.expected == 'current, like "40 A"'


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('title = "Test house"', "title = 3", '3 is not text; write "3"'),
        ('title = "Test house"', "title = 2026-05-01", '2026-05-01 is not text; write "2026-05-01"'),
        ('title = "Test house"', f'title = "{"x" * 401}"', "text of 401 characters; the limit is 400"),
        ('code = "NEC 2023"', 'code = "NEC 2014"', '"NEC 2014" is not one of "NEC 2017", "NEC 2020" or "NEC 2023"'),
        ("count = 11", "count = 1000000000", "1000000000 is above the limit, 60"),
        ("count = 11", "count = 0", "0 is below the least allowed, 1"),
        ("count = 11", "count = -1", "-1 is below the least allowed, 1"),
        ("count = 11", 'count = "11"', '"11" is not a whole number; write 11'),
        ("count = 11", "count = 11.5", "11.5 is not a whole number"),
        ("count = 11", "count = true", "true is not a whole number"),
        ("count = 11", "count = nan", "nan is not a whole number"),
        ('bus = "225 A"', 'bus = "225 A"\nexisting = "yes"', '"yes" is not true or false; write true'),
        ('bus = "225 A"', 'bus = "225 A"\nexisting = 1', "1 is not true or false"),
        ('power = "4.5 kW"', 'power = "4.5 kW"\npower_factor = 1.5', "1.5 is above the limit, 1"),
        ('power = "4.5 kW"', 'power = "4.5 kW"\npower_factor = 0', "0 is not more than 0"),
        ('power = "4.5 kW"', 'power = "4.5 kW"\npower_factor = nan', "nan is not a number"),
        ('power = "4.5 kW"', 'power = "4.5 kW"\npower_factor = "0.9"', '"0.9" is not a number; write 0.9'),
        ('path = ["R1", "R2"]', 'path = ["R1", "R2"]\nconductor = "7 AWG"', None),
        ('method = "EMT"', 'method = "EMTT"', None),
        ('method = "EMT"', 'method = "EMT"\nsize = "7 in"', None),
        ('mppt_window = ["90 V", "520 V"]', 'mppt_window = ["90 V"]', "the list is too short: a value is missing at its end"),
        ('mppt_window = ["90 V", "520 V"]', 'mppt_window = ["90 V", "1 V", "2 V"]', "a list of 3 values; the limit is 2"),
        ('mppt_window = ["90 V", "520 V"]', 'mppt_window = "90 V"', '"90 V" is not a list'),
        ('kind = "pv module"', 'kind = "pv modul"', None),
        ('kind = "pv module"\n', "", 'is missing; give "pv module", "shutdown device", "dc-dc converter", "unit", "inverter" or "storage module"'),
        ('kind = "pv module"', "kind = 3", '3 is not one of "pv module", "shutdown device", "dc-dc converter", "unit", "inverter" or "storage module"'),
        ("[site]", "[junction]\nJ1 = 3\n[site]", "3 stands where a table of keys is needed; write [junction.J1] and its keys below"),
        ("[project]", "disconnect = 3\n[project]", "3 stands where a table of keys is needed; write [disconnect] and its keys below"),
        ("[site]", '[junction."a b"]\n[site]', None),
        ("[site]", f"[junction.{'a' * 25}]\n[site]", None),
        ('low_temperature = "-14 degC"', 'low_temperature = "-300 degC"', '"-300 degC" is outside the accepted range, -90 to 150 degC'),
    ],
)
def test_wrong_values_are_told_without_the_words_of_the_library(old, new, message):
    found = problems(HOUSE.replace(old, new, 1))
    own = [problem for problem in found if "is not the tag" not in problem.message and "[equipment.mod]" not in problem.message]
    assert len(own) == 1, "\n".join(map(str, found))
    assert message is None or own[0].message == message
    assert own[0].line is not None
    assert not JARGON.search(str(own[0])), own[0]


def test_a_wrong_kind_of_equipment_gets_the_nearest():
    found = problems(HOUSE.replace('kind = "pv module"', 'kind = "PV-module"'))
    assert found[0].key == "equipment.mod.kind"
    assert found[0].nearest == ("pv module",)


def test_a_wrong_method_gets_the_nearest_methods():
    problem = only_problem('method = "EMT"', 'method = "PVC 40"')
    assert problem.nearest[0] == "PVC40"
    assert problem.message.endswith('did you mean "PVC40" or "PVC80"?')


def test_a_wrong_conductor_says_what_a_conductor_looks_like():
    assert said('path = ["R1", "R2"]', 'path = ["R1", "R2"]\nconductor = "6 gauge"').endswith(
        'circuit.C1.conductor: "6 gauge" is not a conductor; expected a conductor, like "6 AWG Cu THWN-2"'
    )


def test_a_bad_tag_says_what_a_tag_is():
    assert '"a b" cannot be a tag; a tag is 1 to 24 letters' in said("[site]", '[junction."a b"]\n[site]')


def test_the_record_of_every_path_is_found():
    assert model_at(()) is Project
    assert model_at(("panel", "MP")) is Panel
    assert model_at(("circuit", "C1")) is Circuit
    assert model_at(("project", "revisions", 0)) is Revision
    assert model_at(("panel",)) is None
    assert model_at(("equipment", "mod")) is None
    assert model_at(("nothing", "x")) is None
    assert model_at(("panel", "MP", "bus")) is None


def test_keys_are_named_as_the_file_writes_them():
    assert "from" in keys_of(Circuit)
    assert "from_" not in keys_of(Circuit)
