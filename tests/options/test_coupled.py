"""PV inverters beside the units: what they give in an outage, what is held down, and what they leave of load and export."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.errors import InputError
from linecalc.options.candidates import fed_by, unit_strings
from linecalc.options.context import context_of
from linecalc.options.coupled import coupled_of
from linecalc.options.outage import DAY_STEPS, STARTS, STEP_H, Cases, Outcome, simulate
from linecalc.options.run import Answered, run_options
from linecalc.project.model import Project
from linecalc.project.read import read_project
from linecalc.variants import with_values

PROJECTS = Path(__file__).parents[1] / "projects"
BASE = read_project(PROJECTS / "ac_coupled.toml")
STRINGS = {"S1": {"module": "mod", "count": 10, "to": "I1", "input": 1}, "S2": {"module": "mod", "count": 6, "to": "I1", "input": 2}}
USE = {"house": {"power": "1 kW", "legs": "L1-L2", "power_factor": 1.0, "duty": "100 %"}}
OPTIONS = {
    "use": USE, "latitude": 39.5, "outages": ["24 h"], "units": [1, 1], "modules_per_unit": [0, 0], "seasons": ["summer"],
    "inverter": {"I1": {"tilt": 25, "azimuth": 180}}, "standby_power": "40 W",
}


def house(**options: object) -> Project:
    """A unit of 9 kWh with a PV inverter of 5 kW on its generation panel; 6.4 kW of modules on the inverter."""
    return with_values(BASE, [("string", STRINGS), ("options", OPTIONS | options)])


def case(coupled_w: float, load_w: float = 1000.0, sun_w: float = 0.0, **other: float) -> Cases:
    """One case with everything constant over the day; exact efficiencies unless told otherwise."""
    figures = {"charge_w": 5000.0, "discharge_w": 9600.0, "ac_w": 9600.0, "standby_w": 0.0, "usable_kwh": 10.0, "starting_kwh": 5.0, "floor_kwh": 0.0, "restart_kwh": 1.0}
    figures |= {"pv_to_ac": 1.0, "pv_to_storage": 1.0, "storage_to_ac": 1.0, "ac_to_storage": 1.0} | other
    day, one = np.ones((1, DAY_STEPS)), np.ones(1)
    return Cases(
        load_w * day, sun_w * day, figures["charge_w"] * day, figures["discharge_w"] * day, figures["ac_w"] * one, figures["standby_w"] * one, figures["usable_kwh"] * one,
        figures["starting_kwh"] * one, figures["floor_kwh"] * one, figures["restart_kwh"] * one, figures["pv_to_ac"], figures["pv_to_storage"], figures["storage_to_ac"],
        coupled_w=coupled_w * day, ac_to_storage=figures["ac_to_storage"],
    )


def first(found: Outcome) -> tuple[float, float, float]:
    """Served, stored and lost energy of the start at midnight."""
    return found.served_kwh[0, 0], found.stored_kwh[0, 0], found.lost_kwh[0, 0]


def test_the_inverter_serves_the_load_and_the_units_charge_from_the_rest_at_their_efficiency():
    # 3 kW for an hour: 1 kWh to the load, 2 kWh through the units at 90 %: 1.8 kWh stored, 0.2 kWh lost.
    assert first(simulate(case(3000.0, ac_to_storage=0.9), 4)) == pytest.approx((1.0, 1.8, 0.2))


def test_with_the_storage_full_the_inverter_is_held_down_to_the_load():
    assert first(simulate(case(3000.0, starting_kwh=10.0), 4)) == pytest.approx((1.0, 0.0, 2.0))


def test_the_last_step_before_the_storage_is_full_takes_only_what_it_still_holds():
    # 0.3 kWh of room at 90 %: a third of a kilowatt-hour goes in, the rest of 2 kWh is held down.
    assert first(simulate(case(3000.0, starting_kwh=9.7, ac_to_storage=0.9), 4)) == pytest.approx((1.0, 0.3, 1.7))


def test_array_and_inverter_share_the_charge_limit_and_the_array_comes_first():
    # The inverter's 2 kW serve the load (1 kW); the array's 1 kW charges, and 0.5 kW of the inverter's rest up to the limit of 1.5 kW.
    found = simulate(case(2000.0, sun_w=1000.0, charge_w=1500.0), 4)
    assert first(found) == pytest.approx((1.0, 1.5, 0.5))


def test_what_charges_through_the_units_stays_within_their_ac_rating():
    assert first(simulate(case(4000.0, ac_w=1200.0), 4)) == pytest.approx((1.0, 1.2, 1.8))


def test_a_load_above_the_units_rating_is_unserved_even_where_the_inverter_could_carry_it():
    found = simulate(case(20000.0, load_w=6000.0, ac_w=5000.0), 4)
    assert found.hours[0, 0] < STEP_H


def test_the_inverter_gives_nothing_while_the_units_are_shut_down_and_alone_never_starts_them_again():
    found = simulate(case(3000.0, starting_kwh=0.0), 96)
    assert first(found) == pytest.approx((0.0, 0.0, 72.0))


def test_once_the_array_has_started_the_units_the_inverter_serves_and_charges():
    # The array's 2 kW fill 1 kWh, the restart threshold, in two quarters; from then on 3 kW of the inverter serve 1 kW and 4 kW charge.
    found = simulate(case(3000.0, sun_w=2000.0, starting_kwh=0.0), 6)
    assert first(found) == pytest.approx((1.0, 1.0 + 4.0, 1.5))


def test_no_inverter_and_an_inverter_without_sun_give_the_same():
    none = simulate(replace(case(0.0, sun_w=700.0), coupled_w=None), 96)
    dark = simulate(case(0.0, sun_w=700.0), 96)
    assert (none.hours == dark.hours).all() and (none.stored_kwh == dark.stored_kwh).all()


def bell(peak_w: float) -> np.ndarray:
    """A day of sun: half a sine from 6 to 18 h."""
    return peak_w * np.clip(np.sin(((np.arange(DAY_STEPS) + 0.5) * STEP_H - 6.0) / 12.0 * np.pi), 0.0, None)[None, :]


@settings(max_examples=25, deadline=None)
@given(
    load=st.floats(0.0, 9000.0), sun=st.floats(0.0, 12000.0), beside=st.floats(0.0, 12000.0), usable=st.floats(0.5, 40.0), standby=st.floats(0.0, 150.0),
    floor=st.floats(0.0, 0.9), charge=st.floats(0.0, 8000.0), efficiency=st.floats(0.7, 1.0),
)
def test_the_energy_balance_closes_with_inverters_beside_the_units(
    load: float, sun: float, beside: float, usable: float, standby: float, floor: float, charge: float, efficiency: float
):
    one = case(0.0, load, usable_kwh=usable, starting_kwh=usable, floor_kwh=floor * usable, restart_kwh=usable, standby_w=standby, charge_w=charge)
    one = replace(one, array_w=bell(sun), coupled_w=bell(beside), pv_to_ac=efficiency, pv_to_storage=efficiency, storage_to_ac=efficiency, ac_to_storage=efficiency)
    found = simulate(one, 112, traced=1)
    assert found.residual_kwh <= 1e-9
    assert np.abs(found.array_kwh - found.served_kwh - found.stored_kwh - found.lost_kwh).max() <= 1e-9
    assert (found.lost_kwh >= -1e-9).all()
    assert found.trace_kwh.max() <= usable + 1e-9 and found.trace_kwh.min() >= floor * usable - 1e-9
    assert (found.highest_kwh == found.trace_kwh.max(axis=0)).all()


@settings(max_examples=25, deadline=None)
@given(load=st.floats(100.0, 6000.0), sun=st.floats(0.0, 8000.0), beside=st.floats(0.0, 8000.0), more=st.floats(0.0, 4000.0), usable=st.floats(1.0, 30.0))
def test_a_larger_inverter_beside_the_units_never_carries_fewer_hours_without_standby_and_trips(load: float, sun: float, beside: float, more: float, usable: float):
    less = replace(case(0.0, load, usable_kwh=usable, starting_kwh=usable), array_w=bell(sun), coupled_w=bell(beside), trips=False)
    assert (simulate(replace(less, coupled_w=bell(beside + more)), 112).hours >= simulate(less, 112).hours - 1e-9).all()


def hours(found: Answered, sun: str) -> float:
    """Median hours of new storage in summer."""
    return next(one.median_h for one in found.results[0].hours if one.sun == sun and not one.aged)


@pytest.fixture(scope="module")
def inside() -> Answered:
    """The study of the house as drawn, the inverter inside the backed-up part."""
    return run_options(house(), workers=1)


def test_the_inverter_inside_the_backed_up_part_lengthens_outages_with_sun_only(inside: Answered):
    assert hours(inside, "none") == pytest.approx(9.0 * 0.95 / (1.0 + 0.040 * 0.95), rel=1e-3)
    assert hours(inside, "clear") > hours(inside, "none") + 5.0


def test_units_of_a_small_rating_charge_less_of_it_and_carry_shorter():
    small = run_options(with_values(house(starting_charge="30 %"), [("equipment.unit-a.ac_power_island", "1.1 kW")]), workers=1)
    large = run_options(house(starting_charge="30 %"), workers=1)
    assert small.results[0].power[0].carried and large.results[0].power[0].carried
    served = [next(one.share_served for one in found.results[0].hours if one.sun == "clear" and not one.aged) for found in (small, large)]
    assert served[0] < served[1]


def test_what_is_taken_about_the_inverter_is_listed(inside: Answered):
    told = {found.path: found for found in inside.context.assumptions}
    assert told["inverter.I1"].value == "follows the units in an outage"
    assert "off while the units are shut down" in told["inverter.I1"].reason
    assert told["options.efficiency.ac_to_storage"].value == "95 %"
    assert told["inverter.I1 efficiency"].value == "97 %"
    assert "options.inverter.I1" not in told


def test_an_empty_storage_is_not_recharged_by_the_inverter_alone(inside: Answered):
    assert [share for _, share in inside.results[0].recharge_share] == [0.0]


def test_an_inverter_outside_the_backed_up_part_gives_nothing_in_an_outage_and_that_is_said():
    moved = with_values(house(), [("circuit.C6.from", "MP"), ("circuit.C6.bus_position", "opposite end")])
    found = run_options(moved, workers=1)
    assert hours(found, "clear") == hours(found, "none")
    told = [one for one in found.context.assumptions if one.path == "inverter.I1"]
    assert [one.value for one in told] == ["gives nothing in an outage"]


def test_the_inverters_power_ends_at_its_rating_and_the_inputs_take_their_current():
    context = context_of(house(), ".")
    (one,) = context.coupled
    day = next(day for day in context.days if day.sun == "clear")
    power = one.power_w(day, 0.0, DAY_STEPS)
    assert one.planes() == ((25.0, 180.0), (25.0, 180.0))
    assert sum(watts for held in one.inputs.inputs for _, watts in held) == 6400.0
    assert day.plane_w_m2[25.0, 180.0].max() > 850.0
    assert power.max() == 5000.0, "6.4 kW at that sun and 97 % are above 5 kW"


def test_below_its_rating_the_inverter_gives_the_arrays_power_less_what_it_loses():
    context = context_of(house(), ".")
    (one,) = context.coupled
    day = next(day for day in context.days if day.sun == "clear")
    factor = one.power_w(day, 50.0, DAY_STEPS) / np.maximum(replace(one, efficiency=1.0).power_w(day, 50.0, DAY_STEPS), 1e-9)
    assert factor[48] == pytest.approx(0.97)


def test_without_its_angles_the_inverter_faces_the_equator_at_20_deg_and_that_is_listed():
    assumed: list = []
    (one,) = coupled_of(house(inverter={}), 96.0, assumed)
    assert set(one.planes()) == {(20.0, 180.0)}
    assert any(found.path == "options.inverter.I1" for found in assumed)
    assert one.efficiency == 0.96 and one.inside


def test_angles_for_an_inverter_that_is_not_there_are_refused_with_those_that_are():
    with pytest.raises(InputError, match="there is I1"):
        context_of(house(inverter={"I2": {"tilt": 20, "azimuth": 180}}), ".")


def test_on_days_with_the_utility_the_inverter_takes_load_and_export_before_the_units():
    strings = STRINGS | {"S3": {"module": "mod", "count": 10, "to": "U1", "input": 1}}
    wide = {"array": {"A10": {"strings": [10], "tilt": [25], "azimuth": [180]}}}
    limited = with_values(house(**wide), [("string", strings), ("service.export_limit", "5 kW")])
    free = with_values(limited, [("service.export_limit", None)])
    alone = with_values(limited, [("string", {"S3": strings["S3"]}), ("inverter", {}), ("circuit.C6", None), ("section.R6", None), ("options.inverter", {})])
    lost = {name: run_options(found, workers=1).results[0].lost[0] for name, found in (("limited", limited), ("free", free), ("alone", alone))}
    assert lost["free"].clipped_kwh == pytest.approx(0.0, abs=1e-9)
    assert lost["alone"].clipped_kwh == pytest.approx(0.0, abs=1e-9)
    assert lost["limited"].rating_kwh + lost["limited"].full_kwh > 1.0
    assert lost["limited"].array_kwh == pytest.approx(lost["alone"].array_kwh)


def combined(**options: object) -> Project:
    """Two strings on a combiner in front of the unit's first input, and no PV inverter."""
    strings = {name: {"module": "mod", "count": 8, "to": "CB1"} for name in ("S1", "S2")}
    settings = [
        ("inverter", {}), ("circuit.C6", None), ("section.R6", None), ("string", strings), ("combiner", {"CB1": {"to": "U1", "dc_voltage": "600 V"}}),
        ("options", OPTIONS | {"inverter": {}} | options),
    ]
    return with_values(BASE, settings)


def test_a_string_through_a_combiner_feeds_what_the_combiner_leads_to():
    found = combined()
    assert fed_by(found, "CB1") == "U1" and fed_by(found, "U1") == "U1"
    assert unit_strings(found) == ["S1", "S2"]
    through = with_values(found, [("inverter", {"I1": {"equipment": "inv-a"}}), ("combiner.CB1.to", "I1")])
    assert unit_strings(through) == []


def test_as_drawn_the_strings_of_a_combiner_share_one_input_and_its_current():
    found = run_options(combined(), workers=1).results[0]
    assert found.plant is not None, found.reasons
    (unit,) = found.plant.units
    assert unit.inputs == (((0, 3200.0), (1, 3200.0)),)
    assert found.lost[0].input_kwh > 10.0, "24 A of two strings on an input of 14 A"


def test_another_array_than_the_drawn_one_is_refused_behind_a_combiner_with_the_reason():
    found = run_options(combined(array={"A16": {"strings": [8, 8], "tilt": [25], "azimuth": [180]}}), workers=1).results[0]
    assert found.plant is None
    assert "combiner CB1" in found.reasons[0].message and "as drawn" not in found.candidate.name


def test_starts_may_be_fewer_than_one_an_hour():
    every, midnight = simulate(case(500.0), 96), simulate(case(500.0), 96, starts=1)
    assert midnight.hours.shape == (1, 1) and every.hours.shape == (1, STARTS)
    assert midnight.hours[0, 0] == every.hours[0, 0] and midnight.highest_kwh[0, 0] == every.highest_kwh[0, 0]
