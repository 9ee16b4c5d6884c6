"""Energy of the array with the utility present, and where it is lost."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.array import unit_array
from linecalc.options.harvest import Lines, harvest
from linecalc.options.records import ArrayPlan, Candidate, UnitPlant
from linecalc.options.sun import clear_day

PLANE = (22.0, 190.0)


def lines(sun_w, load_w: float = 0.0, export_w: float = 7600.0, charge_w: float = 5000.0, usable_kwh: float = 10.0, begin_kwh: float = 0.0, efficiency: float = 1.0) -> Lines:
    """One unit under a day of sun."""
    sun = np.asarray(sun_w, dtype=float)[None, :]
    one = np.ones(1)
    return Lines(sun, sun, np.full_like(sun, load_w), np.full_like(sun, np.inf), export_w * one, charge_w * one, usable_kwh * one, begin_kwh * one, efficiency, efficiency, efficiency)


# Common practice, no source: an array can be used up to the AC rating and the DC charge rate together.
def test_with_room_the_usable_array_power_is_ac_rating_and_charge_power_together():
    exact = harvest(lines([12600.0], begin_kwh=0.0), 0.25)
    over = harvest(lines([13600.0], begin_kwh=0.0), 0.25)
    assert exact.rating_kwh[0] + exact.full_kwh[0] == pytest.approx(0.0, abs=1e-12)
    assert over.rating_kwh[0] == pytest.approx(0.25)


def test_with_the_storage_full_only_the_ac_rating_is_left_and_the_rest_counts_as_full_storage():
    found = harvest(lines([12600.0], begin_kwh=10.0), 0.25)
    assert found.full_kwh[0] == pytest.approx(5.0 * 0.25)
    assert found.rating_kwh[0] == pytest.approx(0.0, abs=1e-12)


def test_what_the_storage_could_not_take_even_with_room_counts_as_rating():
    found = harvest(lines([15600.0], begin_kwh=10.0), 0.25)
    assert (found.full_kwh[0], found.rating_kwh[0]) == (pytest.approx(1.25), pytest.approx(0.75))


def test_a_load_above_the_rating_is_served_up_to_the_rating_only():
    found = harvest(lines([20000.0], load_w=9000.0, charge_w=0.0), 0.25)
    assert found.used_kwh[0] == pytest.approx(7.6 * 0.25)
    assert found.rating_kwh[0] == pytest.approx(12.4 * 0.25)


def test_at_night_the_storage_serves_a_load_above_the_rating_up_to_the_rating():
    assert harvest(lines([0.0], load_w=9000.0, begin_kwh=10.0), 0.25).end_kwh[0] == pytest.approx(10.0 - 7.6 * 0.25)


def test_load_and_export_share_the_rating():
    found = harvest(lines([12600.0], load_w=3000.0, charge_w=0.0), 0.25)
    assert found.rating_kwh[0] == pytest.approx(5.0 * 0.25)


def test_a_limit_on_export_leaves_the_load_alone():
    limited = replace(lines([8000.0], load_w=3000.0, charge_w=0.0), export_w=np.array([[2000.0]]))
    found = harvest(limited, 0.25)
    assert found.used_kwh[0] == pytest.approx(5.0 * 0.25)
    assert found.rating_kwh[0] == pytest.approx(3.0 * 0.25)


def test_a_limit_above_the_rating_changes_nothing():
    free, limited = lines([12600.0], load_w=3000.0), replace(lines([12600.0], load_w=3000.0), export_w=np.array([[7600.0]]))
    assert harvest(free, 0.25).rating_kwh[0] == harvest(limited, 0.25).rating_kwh[0]


def test_charging_and_discharging_lose_by_their_efficiencies():
    # 4 kW of sun for a quarter: 1 kWh at 90 % stores 0.9; then an hour of 450 W takes 0.5 kWh.
    found = harvest(lines([4000.0, 0.0, 0.0, 0.0, 0.0], efficiency=0.9), 0.25)
    assert found.end_kwh[0] == pytest.approx(0.9)
    night = harvest(lines([0.0] * 4, load_w=450.0, begin_kwh=5.0, efficiency=0.9), 0.25)
    assert night.end_kwh[0] == pytest.approx(4.5)


def test_the_storage_fills_to_the_brim_and_no_further():
    found = harvest(lines([4000.0] * 20, usable_kwh=6.0, efficiency=0.9), 0.25)
    assert found.end_kwh[0] == pytest.approx(6.0)


def test_an_input_passes_no_more_than_its_power():
    sun, cell = {PLANE: np.array([500.0, 1000.0])}, {PLANE: np.array([25.0, 25.0])}
    plant, candidate = unit((((0, 3780.0),),))
    found = unit_array(replace(plant, input_power_w=3000.0), candidate.array, sun, cell, -0.34, 0.0, 2)
    assert found.after_w == pytest.approx([1890.0, 3000.0])
    assert found.before_w == pytest.approx([1890.0, 3780.0])


def test_each_input_has_its_own_limit():
    sun, cell = {PLANE: np.array([1000.0])}, {PLANE: np.array([25.0])}
    plant, candidate = unit((((0, 3780.0), (1, 3780.0)), ((2, 3780.0),)), current_a=20.0, string_a=13.0)
    assert unit_array(plant, candidate.array, sun, cell, -0.34, 0.0, 1).after_w == pytest.approx([7560.0 * 20.0 / 26.0 + 3780.0])


def test_heat_takes_its_share_of_the_power_and_cold_gives_it_back():
    sun = {PLANE: np.array([1000.0, 1000.0])}
    plant, candidate = unit((((0, 4000.0),),))
    found = unit_array(plant, candidate.array, sun, {PLANE: np.array([55.0, 5.0])}, -0.35, 0.0, 2)
    assert found.before_w == pytest.approx([4000.0 * (1 - 0.0035 * 30), 4000.0 * (1 + 0.0035 * 20)])


def test_losses_come_off_every_hour():
    sun, cell = {PLANE: np.array([400.0])}, {PLANE: np.array([25.0])}
    plant, candidate = unit((((0, 4000.0),),))
    assert unit_array(plant, candidate.array, sun, cell, -0.35, 14.0, 1).before_w == pytest.approx([4000.0 * 0.4 * 0.86])


def test_at_night_the_storage_serves_the_load():
    assert harvest(lines([0.0] * 8, load_w=1000.0, begin_kwh=5.0), 0.25).end_kwh[0] == pytest.approx(3.0)


@settings(max_examples=40, deadline=None)
@given(peak=st.floats(0.0, 30000.0), more=st.floats(1.0, 2.0), load=st.floats(0.0, 5000.0), begin=st.floats(0.0, 10.0))
def test_a_larger_array_never_loses_less_energy(peak: float, more: float, load: float, begin: float):
    day = peak * np.clip(np.sin((np.arange(96) / 4 - 6) / 12 * np.pi), 0, None)
    small, large = harvest(lines(day, load, begin_kwh=begin), 0.25), harvest(lines(day * more, load, begin_kwh=begin), 0.25)
    assert large.rating_kwh[0] + large.full_kwh[0] >= small.rating_kwh[0] + small.full_kwh[0] - 1e-9


@settings(max_examples=40, deadline=None)
@given(peak=st.floats(0.0, 30000.0), load=st.floats(0.0, 5000.0))
def test_array_energy_is_used_or_lost(peak: float, load: float):
    day = peak * np.clip(np.sin((np.arange(96) / 4 - 6) / 12 * np.pi), 0, None)
    found = harvest(lines(day, load), 0.25)
    assert found.array_kwh[0] == pytest.approx(found.used_kwh[0] + found.input_kwh[0] + found.rating_kwh[0] + found.full_kwh[0])


def unit(inputs, current_a: float | None = None, string_a: float = 13.0) -> tuple[UnitPlant, Candidate]:
    """A unit with strings, and the candidate that gives their planes."""
    strings = sum(len(held) for held in inputs)
    plan = ArrayPlan("A", (9,) * strings, None, (PLANE[0],) * strings, (PLANE[1],) * strings)
    return UnitPlant("U1", 7600.0, 5000.0, 9.8, inputs, current_a, string_a, None), Candidate(1, (0,), plan)


# Source: pvlib python, "PVSystem and ModelChain: PVWatts" (https://pvlib-python.readthedocs.io): pvlib.pvsystem.pvwatts_dc,
# pvlib.irradiance.get_total_irradiance and pvlib.temperature.faiman, called here at the equinox independently of the module under test.
def test_a_clear_day_agrees_with_pvlibs_own_models_to_a_tenth_of_a_percent():
    day = clear_day("spring", 39.5, (PLANE,), 15.0)
    plant, candidate = unit((((0, 3780.0),),))
    ours = unit_array(plant, candidate.array, day.plane_w_m2, day.cell_c, -0.34, 14.0, 96).before_w.sum() / 4000.0
    location = pvlib.location.Location(39.5, 0.0, "UTC")
    times = pd.date_range("2023-03-21", periods=24 * 60, freq="1min", tz="UTC")
    sky = location.get_clearsky(times, model="simplified_solis")
    position = location.get_solarposition(times)
    plane = pvlib.irradiance.get_total_irradiance(*PLANE, position["apparent_zenith"], position["azimuth"], sky["dni"], sky["ghi"], sky["dhi"], dni_extra=pvlib.irradiance.get_extra_radiation(times), model="haydavies")
    cell = pvlib.temperature.faiman(plane["poa_global"], 15.0, 1.0)
    theirs = pvlib.pvsystem.pvwatts_dc(plane["poa_global"], cell, 3780.0, -0.0034).clip(lower=0).sum() * 0.86 / 60000.0
    assert ours == pytest.approx(theirs, rel=3e-3)


# Source: pvlib python, pvlib.inverter.pvwatts: AC power is held at the inverter's rating. Its part-load curve is not ours, so only
# the hours at the rating are compared: array power times efficiency above the rating.
def test_clipping_at_the_rating_agrees_with_pvlibs_inverter_model():
    day = clear_day("summer", 39.5, (PLANE,), 20.0)
    plant, candidate = unit((((0, 12000.0),),))
    dc = unit_array(plant, candidate.array, day.plane_w_m2, day.cell_c, -0.34, 0.0, 96).after_w
    ac = pvlib.inverter.pvwatts(dc, 7600.0 / 0.96, eta_inv_nom=0.96)
    ours = harvest(Lines(dc[None], dc[None], np.zeros((1, 96)), np.full((1, 96), np.inf), np.array([7600.0]), np.zeros(1), np.zeros(1), np.zeros(1), 0.96, 1.0, 1.0), 0.25)
    at_rating = ac >= 7600.0 - 1e-6
    lost = np.where(at_rating, dc - 7600.0 / 0.96, 0.0).sum() / 4000.0
    assert at_rating.sum() > 10
    assert ours.rating_kwh[0] == pytest.approx(lost, rel=1e-6)


def test_an_input_passes_its_working_current_and_loses_the_rest():
    sun, cell = {PLANE: np.array([500.0, 1000.0])}, {PLANE: np.array([25.0, 25.0])}
    plant, candidate = unit((((0, 3780.0), (1, 3780.0)),), current_a=20.0, string_a=13.0)
    found = unit_array(plant, candidate.array, sun, cell, -0.34, 0.0, 2)
    assert found.before_w == pytest.approx([3780.0, 7560.0])
    assert found.after_w == pytest.approx([3780.0, 7560.0 * 20.0 / 26.0])
