"""Names that refer to nothing, to the wrong thing, or to two things."""

from __future__ import annotations

import pytest

from linecalc.project.model import TAGGED
from tests.project.house import HOUSE, only_problem, problems, said


@pytest.mark.parametrize(
    ("old", "new", "key", "nearest"),
    [
        ('module = "mod"', 'module = "mood"', "string.S1.module", ("mod",)),
        ('to = "U1"', 'to = "U2"', "string.S1.to", ("U1",)),
        ('equipment = "unit-a"', 'equipment = "unit-b"', "unit.U1.equipment", ("unit-a",)),
        ('equipment = "store"', 'equipment = "stor"', "storage.B1.equipment", ("store",)),
        ('equipment = "inv"', 'equipment = "inw"', "inverter.I1.equipment", ("inv",)),
        ('unit = "U1"', 'unit = "U9"', "storage.B1.unit", ("U1",)),
        ('panel = "MP"', 'panel = "MPP"', "load.L1.panel", ("MP",)),
        ('from = "service"', 'from = "servise"', "circuit.C1.from", ("service",)),
        ('to = "MP"\n', 'to = "MPX"\n', "circuit.C1.to", ("MP",)),
    ],
)
def test_a_name_of_nothing_gets_the_nearest_of_the_right_kind(old, new, key, nearest):
    problem = only_problem(old, new)
    assert problem.key == key
    assert problem.nearest[: len(nearest)] == nearest
    assert "is not the tag of" in problem.message
    assert problem.line is not None


def test_nearest_names_are_only_of_the_right_kind():
    problem = only_problem('panel = "MP"', 'panel = "U1"')
    assert problem.nearest == ()
    assert problem.message == '"U1" is not the tag of a panel; there is "MP"'


def test_equipment_of_another_kind_is_named_with_its_kind():
    problem = only_problem('equipment = "unit-a"', 'equipment = "mod"')
    assert problem.message == '[equipment.mod] is of kind "pv module", not "unit"'
    assert problem.nearest == ("unit-a",)


def test_a_storage_module_needs_a_unit_not_an_inverter():
    assert only_problem('unit = "U1"', 'unit = "I1"').key == "storage.B1.unit"


def test_a_string_may_end_at_an_inverter_or_a_combiner():
    assert not problems(HOUSE.replace('to = "U1"\ninput = 1', 'to = "I1"'))
    assert not problems(HOUSE.replace('to = "U1"\ninput = 1', 'to = "CB"') + '[combiner.CB]\nto = "U1"\n')


def test_a_combiner_does_not_lead_to_itself():
    assert problems(HOUSE + '[combiner.CB]\nto = "CB"\n')[0].key == "combiner.CB.to"


def test_a_circuit_may_end_at_any_tagged_thing():
    ends = {"panel": "MP", "string": "S1", "unit": "U1", "inverter": "I1", "storage": "B1", "load": "L1"}
    extra = '[isolation.ID]\nrating = "200 A"\n[disconnect.DS]\nrating = "60 A"\n[junction.J1]\n[combiner.CB]\n'
    extra += '[generator.G1]\npower = "10 kW"\ncurrent = "41.7 A"\n[transfer.T1]\nrating = "100 A"\n'
    ends |= {"isolation": "ID", "disconnect": "DS", "junction": "J1", "combiner": "CB", "generator": "G1", "transfer": "T1"}
    assert set(ends) == set(TAGGED)
    for tag in ends.values():
        other = "MP" if tag != "MP" else "U1"
        assert not problems(HOUSE + extra + f'[circuit.C9]\nfrom = "{tag}"\nto = "{other}"\n'), tag


def test_a_circuit_has_two_different_ends():
    assert said('from = "U1"', 'from = "MP"').endswith('circuit.C2.to: "MP" is where the circuit comes from')


def test_the_service_needs_its_table():
    start, end = HOUSE.index("[service]"), HOUSE.index("[equipment.mod]")
    found = problems(HOUSE[:start] + HOUSE[end:])
    assert [problem.key for problem in found] == ["circuit.C1.from"]
    assert "[service]" in found[0].message


def test_a_section_that_does_not_exist_is_named_at_its_place_in_the_path():
    found = problems(HOUSE.replace('path = ["R1", "R2"]', 'path = ["R1", "R2", "R3"]'))
    assert [problem.key for problem in found] == ["circuit.C1.path[2]"]


def test_a_section_stands_once_in_a_path():
    found = problems(HOUSE.replace('length = "34 ft"\npath = ["R1", "R2"]', 'path = ["R1", "R2", "R1"]'))
    assert [problem.message for problem in found] == ['section "R1" stands twice in this path']


def test_a_section_that_no_circuit_uses_is_an_error():
    found = problems(HOUSE + '[section.R9]\nmethod = "EMT"\nplace = "attic"\nlength = "3 ft"\n')
    assert [problem.key for problem in found] == ["section.R9"]
    assert 'no circuit has section "R9" in its path' in found[0].message


@pytest.mark.parametrize("kind", [*TAGGED, "circuit", "section"])
def test_a_tag_means_one_thing_across_all_kinds_of_tables(kind):
    tag = "U1" if kind != "unit" else "MP"
    assert any(f'the tag "{tag}" is used twice' in problem.message for problem in problems(HOUSE + f"[{kind}.{tag}]\n"))


def test_service_is_no_tag():
    assert 'the tag "service" is taken: it means the utility supply' in str(problems(HOUSE + "[junction.service]\n")[0])


def test_an_input_that_the_unit_lacks_is_an_error():
    assert only_problem("input = 1", "input = 5").message == '"U1" has 4 inputs, so there is no input 5'


def test_a_power_control_setting_covers_things_that_exist():
    text = '[power_control]\nsetting = "80 A"\nlisting = "listed"\ncovers = ["MP", "C1", "MB"]\n'
    found = problems(HOUSE + text)
    assert [problem.key for problem in found] == ["power_control.covers[2]"]
    assert found[0].nearest[0] == "MP"


def test_names_are_checked_together_with_the_values():
    found = problems(HOUSE.replace('module = "mod"', 'module = "mood"').replace('bus = "225 A"', 'bus = "225"'))
    assert [problem.key for problem in found] == ["panel.MP.bus", "string.S1.module"]


def test_without_any_of_the_kind_the_message_says_so():
    found = problems('[project]\ntitle = "x"\ncode = "NEC 2023"\n[load.L1]\npanel = "MP"\nkind = "ev"\ncurrent = "40 A"\n')
    assert found[0].message == '"MP" is not the tag of a panel; the project has none'


def test_a_thing_that_names_itself_is_told_so():
    found = problems(HOUSE.replace('[panel.MP]', '[panel.MP]\nseries_with = "MP"'))
    assert [problem.message for problem in found] == ['"MP" is this panel itself; name another thing']
