"""Every input of a project is listed with its path, its basis and its source."""

import pytest

from linecalc.report.inputs import Input, Inputs, inputs_of_project, inputs_of_study
from linecalc.term import Term, given
from linecalc.variants import with_value
from tests.report.houses import changed, small_house


@pytest.fixture(scope="module")
def stated():
    return {item.path: item for item in inputs_of_project(small_house().project)}


def test_a_quantity_is_listed_in_its_own_unit_beside_what_was_written(stated):
    found = stated["equipment.unit-76.ac_power"]
    assert (found.value, found.unit, found.as_written, found.basis) == (7600.0, "W", "7.6 kW", "given")


def test_basis_and_source_are_kept(stated):
    assert stated["service.fault_current"] == Input("service.fault_current", 10000.0, "A", "10 kA", "assumed", "utility letter requested")


def test_counts_lists_and_conductors_are_inputs_too(stated):
    assert stated["string.S1.count"].value == 9.0
    assert stated["equipment.unit-76.mppt_window[0]"].unit == "V"
    assert stated["service.conductor"].as_written == "2/0 AWG Cu THWN-2" and stated["service.conductor"].value is None


def test_every_path_is_a_path_that_a_variant_can_set(stated):
    project = small_house().project
    for path in ("circuit.P1.conductor", "equipment.mod-420.voc", "section.R3.length", "site.low_temperature"):
        assert with_value(project, path, stated[path].as_written).model_dump() is not None


def test_the_order_does_not_depend_on_the_order_of_the_file():
    project = small_house().project
    turned = project.model_copy(update={"circuit": dict(reversed(project.circuit.items()))})
    assert [item.path for item in inputs_of_project(turned)] == [item.path for item in inputs_of_project(project)]


def test_what_had_to_be_assumed_is_an_input_with_its_reason():
    found = inputs_of_study(changed(("unit.U1.grid_charging", ""), ("equipment.unit-76.charge_current_ac", "")))
    assumed = found.get("equipment.unit-76.charge_current_ac")
    assert (assumed.value, assumed.unit, assumed.basis) == (32.0, "A", "assumed") and assumed.source


class Step:
    """A step whose line uses the given inputs."""

    def __init__(self, *terms):
        self._terms = list(terms)

    def inputs(self):
        return self._terms


def test_a_number_that_is_stated_keeps_its_path():
    term = given(40.0, "A", "I", "load.EV.current")
    found = Inputs([Input("load.EV.current", 40.0, "A", "40 A", "given", None)], [Step(term)])
    assert found.path_of(term) == "load.EV.current"


def test_a_number_derived_from_what_is_stated_has_an_entry_of_its_own():
    term = given(7200.0, "VA", "S_EV", "load.EV.power", "at least 7200 VA")
    found = Inputs([Input("load.EV.power", 5000.0, "VA", "5 kVA", "given", None)], [Step(term)])
    assert found.path_of(term) == "load.EV.power#S_EV"
    assert found.get("load.EV.power#S_EV").value == 7200.0 and found.get("load.EV.power#S_EV").basis == "computed"


def test_two_numbers_counted_from_one_place_do_not_share_an_entry():
    two, one = given(2.0, "", "n", "circuit.C4"), given(1.0, "", "n", "circuit.C4")
    found = Inputs([], [Step(two, one)])
    assert found.get(found.path_of(two)).value == 2.0 and found.get(found.path_of(one)).value == 1.0


def test_a_length_added_up_from_doubtful_lengths_is_marked():
    term = given(54.0, "ft", "L", "circuit.C4.path")
    sections = [Input("section.R1.length", 20.0, "ft", "20 ft", "given", None), Input("section.R2.length", 34.0, "ft", "34 ft", "field verify", None)]
    found = Inputs(sections, [Step(term)], {"circuit.C4.path": ("R1", "R2")})
    assert found.mark(found.path_of(term)) == "field verify"


def test_a_cell_of_a_table_is_not_an_input():
    term = Term(65.0, "A", symbol="I_75", origin="table:310.16/6 AWG/cu_75c_a")
    found = Inputs([], [Step(term)])
    assert found.path_of(term) == term.origin and list(found) == []


def test_an_option_of_the_command_line_stands_under_its_name():
    term = given(40.0, "A", "I", "--current")
    found = Inputs([], [Step(term)])
    assert found.path_of(term) == "--current" and found.get("--current").basis == "given"
