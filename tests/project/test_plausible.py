"""Values that contradict each other or mean nothing."""

from __future__ import annotations

import pytest

import linecalc
from tests.project.house import HOUSE, changed, only_problem, problems, said


@pytest.mark.parametrize("coefficient", ["0.26 %/K", "+0.26 %/K", "99 mV/K", "0.099 V/K", "0 %/K"])
def test_a_voltage_coefficient_is_negative(coefficient):
    problem = only_problem('voc_coefficient = "-0.26 %/K"', f'voc_coefficient = "{coefficient}"')
    assert "must be negative: voltage falls as a module warms" in problem.message


def test_the_message_writes_the_sign():
    assert said('"-0.26 %/K"', '"+0.26 %/K"').endswith('write "-0.26 %/K"')


@pytest.mark.parametrize("key", ["pmax_coefficient", "vmp_coefficient"])
def test_the_other_coefficients_are_negative_too(key):
    assert only_problem('imp = "13.2 A"', f'imp = "13.2 A"\n{key} = "0.3 %/K"').key == f"equipment.mod.{key}"


@pytest.mark.parametrize("vmp", ["38.1 V", "40 V"])
def test_vmp_is_below_voc(vmp):
    problem = only_problem('vmp = "31.9 V"', f'vmp = "{vmp}"')
    assert problem.message == f'"{vmp}" must be below voc, "38.1 V"; are they exchanged?'


def test_imp_is_below_isc():
    assert only_problem('imp = "13.2 A"', 'imp = "14 A"').key == "equipment.mod.imp"


def test_the_mppt_window_rises():
    assert "is not below the upper end" in said('["90 V", "520 V"]', '["520 V", "90 V"]')


def test_usable_energy_is_at_most_the_nominal_energy():
    assert only_problem('mppt = 4', 'mppt = 4\nusable_energy = "11 kWh"').key == "equipment.unit-a.usable_energy"
    assert not problems(changed("mppt = 4", 'mppt = 4\nusable_energy = "10.4 kWh"'))


def test_a_stated_length_is_the_sum_of_the_path():
    assert said('length = "34 ft"', 'length = "35 ft"').endswith(
        '"35 ft" is not the length of its path, 20 ft + 14 ft = 34 ft; leave the length out or correct it'
    )


@pytest.mark.parametrize("length", ["34 ft", "34.04 ft", "10.3632 m", "408 in"])
def test_a_length_that_agrees_in_any_unit_is_accepted(length):
    assert not problems(changed('length = "34 ft"', f'length = "{length}"'))


def test_a_length_without_a_path_stands_alone():
    text = HOUSE.replace('from = "U1"\nto = "MP"', 'from = "U1"\nto = "MP"\nlength = "50 ft"')
    assert linecalc.read_text(text).circuit["C2"].length.value == 50.0


def test_a_load_states_its_size():
    assert said('power = "4.5 kW"\n', "").endswith('load.L1: states no size; give "current", "power", "rla", "mca" or "hp"')


def test_a_calculated_load_states_current_or_power():
    found = problems(HOUSE.replace('kind = "appliance"\npower = "4.5 kW"', 'kind = "calculated"\nmca = "20 A"'))
    assert [problem.message for problem in found] == ['states no size; give "current" or "power"']


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('bus = "225 A"', 'bus = "0 A"', "panel.MP.bus"),
        ('power = "420 W"', 'power = "0 W"', "equipment.mod.power"),
        ('ac_current = "40 A"', 'ac_current = "0 A"', "equipment.unit-a.ac_current"),
        ('power = "4.5 kW"', 'power = "4.5 kW"\nvoltage = "0 V"', "load.L1.voltage"),
        ('energy = "10.4 kWh"', 'energy = "0 kWh"', "equipment.unit-a.energy"),
        ('rating = "200 A"', 'rating = "0.0 kA"', "service.rating"),
        ('rating = "200 A"', 'rating = "200 A"\ntransformer = "0 kVA"', "service.transformer"),
        ('rating = "200 A"', 'rating = "200 A"\ntransformer_impedance = "0 %"', "service.transformer_impedance"),
        ('kind = "unit"', 'kind = "unit"\nstorage_voltage_min = "0 V"', "equipment.unit-a.storage_voltage_min"),
        ('[panel.MP]', '[equipment.conv]\nkind = "dc-dc converter"\nstring_voltage = "0 V"\n\n[panel.MP]', "equipment.conv.string_voltage"),
        ('length = "20 ft"', 'length = "0 ft"', "section.R1.length"),
    ],
)
def test_ratings_and_lengths_are_more_than_zero(old, new, key):
    found = problems(HOUSE.replace('length = "34 ft"\n', "").replace(old, new, 1))
    assert [problem.key for problem in found] == [key]
    assert found[0].message.endswith("must be more than 0")


def test_zero_is_a_value_where_it_means_something():
    assert not problems(changed("mppt = 4", 'mppt = 4\nbackfeed_current = "0 A"'))


def test_a_load_whose_legs_contradict_its_voltage_is_refused():
    message = said('power = "4.5 kW"\n', 'power = "4.5 kW"\nlegs = "L1"\nvoltage = "240 V"\n')
    assert "120 V loads stand on L1 or L2" in message
