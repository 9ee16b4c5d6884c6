"""What is known and not computed is refused by name, with the reason."""

from __future__ import annotations

import pytest

from linecalc.project.model import CABLES, CABLES_REFUSED
from tests.project.house import HOUSE, only_problem, problems, said


@pytest.mark.parametrize("cable", CABLES_REFUSED)
def test_cables_that_are_not_computed_are_refused_and_those_that_are_named(cable):
    problem = only_problem('method = "EMT"', f'method = "{cable}"')
    assert problem.key == "section.R1.method"
    assert problem.message.startswith("refused: ")
    assert "of cables, NM-B, SE, SER, SEU, UF, MC are" in problem.message


@pytest.mark.parametrize("cable", CABLES)
def test_cables_that_are_computed_are_accepted(cable):
    assert not problems(HOUSE.replace('method = "EMT"', f'method = "{cable}"'))


@pytest.mark.parametrize(("written", "right"), [("SE-R", "SER"), ("UF-B", "UF"), ("NMB", "NM-B")])
def test_other_spellings_of_a_cable_are_told_the_right_one(written, right):
    problem = only_problem('method = "EMT"', f'method = "{written}"')
    assert problem.message == f'write "{right}"'


@pytest.mark.parametrize("voltage", ["208 V", "120/208 V", "208Y/120 V", "480 V", "277/480 V"])
def test_three_phase_services_are_refused_with_the_reason(voltage):
    problem = only_problem('voltage = "240 V"', f'voltage = "{voltage}"')
    assert problem.key == "service.voltage"
    assert problem.message.startswith("refused: 120/208 V and three-phase services are not computed")


def test_a_three_phase_service_is_refused_by_its_phases_too():
    assert any("three-phase" in problem.message for problem in problems(HOUSE.replace('rating = "200 A"', 'rating = "200 A"\nphases = 3')))


@pytest.mark.parametrize("voltage", ["230 V", "120 V", "239 V"])
def test_other_voltages_are_refused(voltage):
    assert said('voltage = "240 V"', f'voltage = "{voltage}"').endswith(
        f'refused: only services of 120/240 V, single-phase, are computed, not "{voltage}"; write "240 V"'
    )


def test_the_trade_name_of_the_voltage_is_told_what_to_write():
    assert said('voltage = "240 V"', 'voltage = "120/240 V"').endswith('"120/240 V": write "240 V"; both legs are understood')


@pytest.mark.parametrize("voltage", ['"240 V"', '"0.24 kV"', '{ value = "240 V", basis = "assumed" }'])
def test_split_phase_is_accepted_however_it_is_written(voltage):
    assert not problems(HOUSE.replace('voltage = "240 V"', f"voltage = {voltage}"))


def test_an_ac_module_is_refused_and_never_taken_for_a_plain_string():
    problem = only_problem('imp = "13.2 A"', 'imp = "13.2 A"\nelectronics = "ac module"')
    assert problem.key == "equipment.mod.electronics"
    assert "AC modules are not computed: they have no DC string" in problem.message


@pytest.mark.parametrize("electronics", ["shutdown device", "dc-dc converter"])
def test_the_electronics_of_a_module_are_an_entry_of_their_own_kind(electronics):
    lines = f'imp = "13.2 A"\nelectronics = "{electronics}"\nelectronics_equipment = "unit"'
    problem = only_problem('imp = "13.2 A"', lines)
    assert problem.key == "equipment.mod.electronics_equipment"
    assert f'is not the tag of equipment of kind "{electronics}"' in problem.message


def test_electronics_without_their_kind_are_an_error():
    problem = only_problem('imp = "13.2 A"', 'imp = "13.2 A"\nelectronics_equipment = "unit"')
    assert 'needs electronics = "shutdown device" or "dc-dc converter"' in problem.message


def test_a_module_without_electronics_may_say_so():
    assert not problems(HOUSE.replace('imp = "13.2 A"', 'imp = "13.2 A"\nelectronics = "none"'))


@pytest.mark.parametrize("table", ["genset", "transfer_switch", "transfer-switch", "ats"])
def test_other_names_of_generators_and_transfer_switches_are_told_what_to_write(table):
    found = problems(HOUSE + f'[{table}.G1]\nrating = "100 A"\n')
    assert len(found) == 1
    assert "write [generator.TAG] and [transfer.TAG]" in found[0].message


@pytest.mark.parametrize("text", ['[services.A]\nrating = "200 A"\n', '[service_2]\nrating = "200 A"\n'])
def test_two_services_are_refused_with_the_reason(text):
    found = problems(HOUSE + text)
    assert len(found) == 1
    assert "refused: two services are not computed" in found[0].message


def test_a_second_service_within_the_table_of_the_first_is_refused():
    found = problems(HOUSE + '[service.second]\nrating = "200 A"\n')
    assert any("refused: two services are not computed" in problem.message for problem in found)


@pytest.mark.parametrize("key", ["split_bus = true", 'bus_sections = ["100 A", "100 A"]'])
def test_split_bus_panels_are_refused_with_the_reason(key):
    found = problems(HOUSE.replace("[panel.MP]", f"[panel.MP]\n{key}"))
    assert len(found) == 1
    assert "refused: split-bus panels are not computed: each part of the bus" in found[0].message


@pytest.mark.parametrize("key", ["bidirectional = true", 'discharge_power = "9.6 kW"'])
def test_a_load_that_feeds_the_house_is_refused_with_the_reason(key):
    found = problems(HOUSE.replace("[load.L1]", f"[load.L1]\n{key}"))
    assert len(found) == 1
    assert "refused: a vehicle that feeds the house is not computed" in found[0].message


def test_a_vehicle_as_a_table_of_its_own_is_refused():
    found = problems(HOUSE + '[vehicle.EV]\npower = "9.6 kW"\n')
    assert "refused: a vehicle that feeds the house is not computed" in found[0].message


def test_a_neutral_forming_autotransformer_is_refused_with_the_reason():
    found = problems(HOUSE + '[autotransformer.AT]\nrating = "25 A"\n')
    assert len(found) == 1
    assert "refused: neutral-forming autotransformers are not computed" in found[0].message


@pytest.mark.parametrize("kind", ["generator", "transfer switch", "autotransformer", "vehicle"])
def test_equipment_of_a_refused_kind_says_why(kind):
    found = problems(HOUSE + f'[equipment.g]\nkind = "{kind}"\n')
    assert len(found) == 1
    assert found[0].message.startswith("refused: ")


def test_a_refused_value_is_reported_once():
    found = problems(HOUSE.replace('voltage = "240 V"', 'voltage = "120/208 V"'))
    assert len(found) == 1
