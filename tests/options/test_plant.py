"""What a candidate can do, from the data of its equipment: hand-worked figures of the invented unit and storage module of case 1."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from linecalc.network.records import Assumption
from linecalc.options.candidates import candidates_of
from linecalc.options.house import project_of
from linecalc.options.plant import gamma_of, modules_of, plant_of
from linecalc.options.records import Candidate, Plant
from linecalc.project.model import Project
from linecalc.project.read import read_project
from linecalc.variants import with_values

BASE = read_project(Path(__file__).parents[2] / "examples" / "options_storage.toml")
UNIT, MODULE = "equipment.unit-76", "equipment.store-104"


def found(units: int = 1, modules: int = 0, array: str = "A18", *settings: tuple[str, Any], assumed: list[Assumption] | None = None) -> Plant:
    """The figures of one candidate of case 1 with some data changed."""
    base = with_values(BASE, settings) if settings else BASE
    candidate = next(one for one in candidates_of(base, []) if (one.units, one.storage_modules, one.array.name) == (units, modules, array))
    return plant_of(base, project_of(base, candidate), candidate, [] if assumed is None else assumed)


def told(assumed: list[Assumption], words: str) -> Assumption:
    """The one assumption whose path holds these words."""
    (one,) = [item for item in assumed if words in item.path]
    return one


def test_energy_adds_up_over_units_and_modules_nominal_and_usable_apart():
    plant = found(2, 3)
    assert plant.nominal_kwh == pytest.approx(2 * 10.4 + 3 * 10.4)
    assert plant.usable_kwh == pytest.approx(5 * 9.8)
    assert [unit.usable_kwh for unit in plant.units] == pytest.approx([3 * 9.8, 2 * 9.8]), "the first unit has two modules, the second one"


def test_a_storage_module_raises_the_charge_power_by_its_data():
    assert found(1, 0).charge_w == 5000.0
    assert found(1, 2).charge_w == 15000.0
    assert found(1, 2, "A18", (f"{MODULE}.charge_power", "3 kW")).charge_w == 11000.0


def test_where_the_unit_alone_limits_the_charge_modules_do_not_raise_it():
    assert found(1, 2, "A18", ("options.charge_limit", "unit only")).charge_w == 5000.0


def test_that_modules_add_is_listed_where_it_is_not_stated():
    assumed: list[Assumption] = []
    assert found(1, 1, "A18", ("options.charge_limit", None), assumed=assumed).charge_w == 10000.0
    assert told(assumed, "charge_limit").value == "modules add"
    none: list[Assumption] = []
    found(1, 0, "A18", ("options.charge_limit", None), assumed=none)
    assert not [one for one in none if "charge_limit" in one.path], "without a module nothing is assumed"


@pytest.mark.parametrize("unit_kw, module_kw, modules, discharge_w", [("5 kW", "2 kW", 0, 5000.0), ("5 kW", "2 kW", 1, 7000.0), ("5 kW", "2 kW", 2, 7600.0), ("7.6 kW", "5 kW", 2, 7600.0)])
def test_a_storage_module_raises_the_discharge_power_up_to_the_units_own_rating(unit_kw: str, module_kw: str, modules: int, discharge_w: float):
    plant = found(1, modules, "A18", (f"{UNIT}.discharge_power", unit_kw), (f"{MODULE}.discharge_power", module_kw), (f"{MODULE}.power_at", "ac side"))
    assert plant.discharge_w == discharge_w
    assert plant.firm_w == discharge_w


def test_the_discharge_power_of_a_module_at_its_terminals_counts_less_what_conversion_loses():
    changed = ((f"{UNIT}.discharge_power", "5 kW"), (f"{MODULE}.discharge_power", "2 kW"))
    assert found(1, 1, "A18", *changed).discharge_w == pytest.approx(5000.0 + 0.95 * 2000.0)
    assert found(1, 1, "A18", *changed, ("options.efficiency.storage_to_ac", "90 %")).discharge_w == pytest.approx(5000.0 + 0.90 * 2000.0)


def test_where_the_power_of_a_module_is_measured_is_assumed_and_listed_if_not_given():
    assumed: list[Assumption] = []
    changed = ((f"{UNIT}.discharge_power", "5 kW"), (f"{MODULE}.discharge_power", "2 kW"), (f"{MODULE}.power_at", None))
    assert found(1, 1, "A18", *changed, assumed=assumed).discharge_w == pytest.approx(6900.0)
    assert told(assumed, "power_at").value == "terminals"


def test_without_a_discharge_power_the_island_rating_is_taken_and_listed():
    assumed: list[Assumption] = []
    assert found(1, 0, "A18", (f"{UNIT}.discharge_power", None), assumed=assumed).discharge_w == 7600.0
    assert told(assumed, "discharge power").value == "7600 W"


def test_without_a_usable_energy_the_nominal_one_is_taken_and_listed():
    assumed: list[Assumption] = []
    plant = found(1, 1, "A18", (f"{UNIT}.usable_energy", None), (f"{MODULE}.usable_energy", None), assumed=assumed)
    assert plant.usable_kwh == pytest.approx(20.8)
    assert "hours are overstated" in told(assumed, "unit-76").reason
    assert told(assumed, "storage module").value == "the nominal energy"


def test_the_island_rating_follows_from_the_island_current_where_no_power_is_given():
    assert found(1, 0, "A18", (f"{UNIT}.ac_power_island", None), (f"{UNIT}.ac_current_island", "30 A")).ac_island_w == 7200.0


def test_without_island_data_the_export_rating_is_taken_and_listed():
    assumed: list[Assumption] = []
    changed = ((f"{UNIT}.ac_power_island", None), (f"{UNIT}.ac_current_island", None))
    assert found(2, 0, "A18", *changed, assumed=assumed).ac_island_w == 15200.0
    assert [one.value for one in assumed if "island" in one.path] == ["7600 W", "7600 W"]


def test_every_unit_draws_its_own_standby_power():
    assert (found(1).standby_w, found(2).standby_w) == (45.0, 90.0)


def test_the_standby_power_of_the_options_serves_where_the_datasheet_has_none_and_else_an_assumption():
    bare = (f"{UNIT}.standby_power", None)
    assert found(2, 0, "A18", bare, ("options.standby_power", "60 W")).standby_w == 120.0
    assumed: list[Assumption] = []
    assert found(2, 0, "A18", bare, assumed=assumed).standby_w == 80.0
    assert "common practice, no source" in told(assumed, "standby_power").reason


def test_leg_currents_add_up_and_are_unknown_where_a_unit_states_none():
    assert found(2).leg_a == 64.0
    assert found(2, 0, "A18", (f"{UNIT}.leg_current", None)).leg_a is None


def test_start_currents_add_only_where_the_datasheet_says_so():
    assert found(2).start_a == 110.0
    assert found(2, 0, "A18", (f"{UNIT}.start_currents_add", "yes")).start_a == 220.0
    assert found(2, 0, "A18", (f"{UNIT}.start_current", None)).start_a is None


def test_usable_array_power_is_rating_and_charge_power_with_room_and_the_rating_without():
    plant = found(1, 1)
    assert (plant.usable_array_room_w, plant.ac_export_w, plant.export_limit_w) == (17600.0, 7600.0, None)


def test_a_limit_on_export_lowers_what_can_be_used_with_the_storage_full():
    plant = found(2, 0, "A18", ("service.export_limit", "9 kW"))
    assert (plant.ac_export_w, plant.export_limit_w) == (9000.0, 9000.0)
    wide = found(1, 0, "A18", ("service.export_limit", "9 kW"))
    assert (wide.ac_export_w, wide.export_limit_w) == (7600.0, 9000.0)


def test_strings_stand_on_the_inputs_of_the_units_in_turn():
    one, two = found(1), found(2)
    assert [unit.inputs for unit in one.units] == [(((0, 3780.0),), ((1, 3780.0),))]
    assert [unit.inputs for unit in two.units] == [(((0, 3780.0),),), (((1, 3780.0),),)]
    assert one.pv_dc_w == two.pv_dc_w == 7560.0


def test_the_inputs_take_their_current_and_power_from_the_datasheet():
    (unit,) = found(1, 0, "A18", (f"{UNIT}.input_power_max", "4 kW")).units
    assert (unit.input_current_a, unit.string_current_a, unit.input_power_w) == (14.0, 13.2, 4000.0)


def test_inputs_without_any_limit_are_told():
    assumed: list[Assumption] = []
    found(1, 0, "A18", (f"{UNIT}.mppt_current", None), assumed=assumed)
    assert told(assumed, "mppt_current").value == "no limit"


def test_the_temperature_coefficient_is_the_modules_own_or_an_assumption():
    assumed: list[Assumption] = []
    assert gamma_of(modules_of(BASE), assumed) == -0.34 and not assumed
    bare = with_values(BASE, [("equipment.mod-420.pmax_coefficient", None)])
    assert gamma_of(modules_of(bare), assumed) == -0.4
    assert told(assumed, "pmax_coefficient").value == "-0.4 %/K"


def test_no_array_needs_no_temperature_coefficient():
    assumed: list[Assumption] = []
    gamma_of((), assumed)
    assert assumed == []


def test_nothing_is_assumed_about_a_complete_datasheet():
    assumed: list[Assumption] = []
    found(2, 4, assumed=assumed)
    assert assumed == []


def test_modules_are_found_string_by_string():
    candidate: Candidate = candidates_of(BASE, [])[0]
    house: Project = project_of(BASE, candidate)
    assert [module.power.value for module in modules_of(house)] == [420.0, 420.0]
