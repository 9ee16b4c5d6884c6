"""What is known and not computed is refused by name, with the reason."""

from __future__ import annotations

import pytest

from linecalc.project.model import CABLES_REFUSED
from tests.project.house import HOUSE, only_problem, problems, said


@pytest.mark.parametrize("cable", [*CABLES_REFUSED, "NM", "TC-ER"])
def test_cables_are_refused_with_the_reason(cable):
    problem = only_problem('method = "EMT"', f'method = "{cable}"')
    assert problem.key == "section.R1.method"
    assert "refused: cables are not computed yet" in problem.message


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


@pytest.mark.parametrize("electronics", ["shutdown device", "dc-dc converter", "ac module"])
def test_module_electronics_are_refused_and_never_taken_for_a_plain_string(electronics):
    problem = only_problem('imp = "13.2 A"', f'imp = "13.2 A"\nelectronics = "{electronics}"')
    assert problem.key == "equipment.mod.electronics"
    assert problem.message.startswith("refused: ")


def test_a_module_without_electronics_may_say_so():
    assert not problems(HOUSE.replace('imp = "13.2 A"', 'imp = "13.2 A"\nelectronics = "none"'))


@pytest.mark.parametrize("table", ["generator", "transfer_switch", "transfer-switch", "ats"])
def test_generators_and_transfer_switches_are_refused_with_the_reason(table):
    found = problems(HOUSE + f'[{table}.G1]\nrating = "100 A"\n')
    assert len(found) == 1
    assert "refused: generators and their transfer switches are not computed yet" in found[0].message


@pytest.mark.parametrize("kind", ["generator", "transfer switch", "autotransformer", "vehicle"])
def test_equipment_of_a_refused_kind_says_why(kind):
    found = problems(HOUSE + f'[equipment.g]\nkind = "{kind}"\n')
    assert len(found) == 1
    assert found[0].message.startswith("refused: ")


def test_a_refused_value_is_reported_once():
    found = problems(HOUSE.replace('voltage = "240 V"', 'voltage = "120/208 V"'))
    assert len(found) == 1
