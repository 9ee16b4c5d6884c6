"""A changed project is a validated project, and a wrong path names what was meant."""

import pytest

from linecalc.errors import InputError
from linecalc.project.read import read_text
from linecalc.variants import read_setting, with_value, with_values

HOUSE = """
[project]
title = "A house"
code = "NEC 2023"
[service]
voltage = "240 V"
rating = "200 A"
fault_current = { value = "10 kA", basis = "assumed" }
[panel.MP]
bus = "225 A"
main = "200 A"
[panel."B.1"]
bus = "125 A"
main = "lugs"
[circuit.C1]
from = "service"
to = "MP"
path = ["R1", "R2"]
[circuit.C2]
from = "MP"
to = "B.1"
length = "34 ft"
breaker = "60 A"
[section.R1]
method = "EMT"
place = "attic"
length = "20 ft"
[section.R2]
method = "EMT"
place = "garage"
length = "14 ft"
"""


@pytest.fixture()
def house():
    return read_text(HOUSE)


def refusal(project, path, value):
    with pytest.raises(InputError) as caught:
        with_value(project, path, value)
    return caught.value.problems


def test_a_changed_value_is_parsed_as_the_file_would_be(house):
    changed = with_value(house, "circuit.C2.breaker", "70 A")
    assert changed.circuit["C2"].breaker.value == 70.0
    assert house.circuit["C2"].breaker.value == 60.0


def test_a_project_changed_to_what_it_was_is_equal(house):
    assert with_value(house, "circuit.C2.breaker", "60 A") == house


def test_nothing_else_changes(house):
    back = with_value(with_value(house, "panel.MP.main", "175 A"), "panel.MP.main", "200 A")
    assert back == house


def test_basis_and_source_survive_a_change_elsewhere(house):
    assert with_value(house, "panel.MP.bus", "200 A").service.fault_current.basis == "assumed"


def test_a_value_may_be_a_table_with_basis_and_source(house):
    changed = with_value(house, "service.fault_current", {"value": "8 kA", "basis": "field verify", "source": "utility letter"})
    assert (changed.service.fault_current.value, changed.service.fault_current.source) == (8000.0, "utility letter")


def test_a_key_that_was_not_stated_can_be_set(house):
    assert with_value(house, "circuit.C2.conductor", "6 AWG Cu THWN-2").circuit["C2"].conductor.size == "6 AWG"


@pytest.mark.parametrize("nothing", ["", None])
def test_the_empty_value_removes_the_key(house, nothing):
    assert with_value(house, "circuit.C2.breaker", nothing).circuit["C2"].breaker is None


def test_removing_what_is_not_stated_changes_nothing(house):
    assert with_value(house, "circuit.C2.conductor", "") == house


def test_removing_a_needed_key_is_refused_by_name(house):
    [problem] = refusal(house, "panel.MP.bus", "")
    assert problem.key == "panel.MP.bus" and "missing" in problem.message


def test_a_whole_tagged_thing_can_be_added_and_removed(house):
    added = with_value(house, "panel.GP", {"bus": "100 A", "main": "lugs"})
    assert added.panel["GP"].bus.value == 100.0
    assert with_value(added, "panel.GP", "") == house


def test_several_changes_are_validated_together(house):
    changed = with_values(house, [("section.R3", {"method": "EMT", "place": "shaft", "length": "3 ft"}), ("circuit.C1.path[1]", "R3"), ("section.R2", "")])
    assert changed.circuit["C1"].path == ("R1", "R3")


def test_a_tag_with_a_point_is_found_with_and_without_quotes(house):
    assert with_value(house, "panel.B.1.bus", "100 A") == with_value(house, 'panel."B.1".bus', "100 A")


def test_a_position_in_a_list_can_be_changed(house):
    swapped = with_values(house, [("circuit.C1.path[0]", "R2"), ("circuit.C1.path[1]", "R1")])
    assert swapped.circuit["C1"].path == ("R2", "R1")


@pytest.mark.parametrize(
    ("path", "meant"),
    [
        ("circut.C2.breaker", "circuit"),
        ("circuit.C22.breaker", "C2"),
        ("circuit.C2.braker", "breaker"),
        ("panel.MP.mian", "main"),
    ],
)
def test_a_wrong_path_names_the_nearest(house, path, meant):
    [problem] = refusal(house, path, "50 A")
    assert meant in problem.nearest and meant in problem.message and problem.key == path


@pytest.mark.parametrize("path", ["", "circuit..breaker", "circuit.C1.path[7]", "circuit.C1.path.first", "panel[0]", "panel.MP.bus.more", "]"])
def test_a_path_that_cannot_be_is_refused_not_a_traceback(house, path):
    assert refusal(house, path, "50 A")


def test_an_impossible_value_is_refused_at_its_key(house):
    [problem] = refusal(house, "circuit.C2.breaker", "fifty amps")
    assert problem.key == "circuit.C2.breaker"


def test_a_dangling_reference_is_refused(house):
    assert any("B.2" in str(problem) for problem in refusal(house, "circuit.C2.to", "B.2"))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("string.S1.count=10", 10),
        ("circuit.C4.breaker=50 A", "50 A"),
        ("unit.U1.existing=true", True),
        ('circuit.C4.path=["R1", "R2"]', ["R1", "R2"]),
        ('project.title="2024"', "2024"),
        ("service.x_over_r=1.5", 1.5),
        ("circuit.C4.breaker=", ""),
        ("project.title=a = b", "a = b"),
        ("project.title=[", "["),
    ],
)
def test_a_setting_reads_its_value_as_the_file_would(text, value):
    assert read_setting(text)[1] == value


def test_a_setting_without_an_equals_sign_is_refused():
    with pytest.raises(InputError):
        read_setting("circuit.C4.breaker")


def test_a_key_that_an_equipment_entry_leaves_out_may_be_set():
    text = HOUSE + '[equipment.inv]\nkind = "inverter"\nac_power = "5 kW"\nac_current = "21 A"\n'
    changed = with_value(read_text(text), "equipment.inv.mass", "30 kg")
    assert changed.equipment["inv"].mass.value == 30.0
    with pytest.raises(InputError, match="nothing is named"):
        with_value(read_text(text), "equipment.inv.energy", "10 kWh")
