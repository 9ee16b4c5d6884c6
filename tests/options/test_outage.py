"""Laws of the outage simulation. Where a law holds only without standby draw, trips and management, the case says so."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.outage import DAY_STEPS, STARTS, STEP_H, Cases, simulate


def cases(load_w: float = 1000.0, array_w=None, usable_kwh: float = 10.0, standby_w: float = 0.0, trips: bool = True, **other: float) -> Cases:
    """One case with a constant load, and an array by quarters."""
    day = np.ones((1, DAY_STEPS))
    one = np.ones(1)
    figures = {"pv_to_ac": 1.0, "pv_to_storage": 1.0, "storage_to_ac": 1.0, "charge_w": 5000.0, "discharge_w": 9600.0, "ac_w": 9600.0, "starting_kwh": usable_kwh, "floor_kwh": 0.0, "restart_kwh": 0.0} | other
    return Cases(
        load_w * day,
        np.zeros((1, DAY_STEPS)) if array_w is None else np.asarray(array_w, dtype=float)[None, :],
        figures["charge_w"] * day,
        figures["discharge_w"] * day,
        figures["ac_w"] * one,
        standby_w * one,
        usable_kwh * one,
        figures["starting_kwh"] * one,
        figures["floor_kwh"] * one,
        figures["restart_kwh"] * one,
        figures["pv_to_ac"],
        figures["pv_to_storage"],
        figures["storage_to_ac"],
        trips,
    )


def bell(peak_w: float) -> np.ndarray:
    """A day of sun: half a sine from 6 to 18 h."""
    hours = (np.arange(DAY_STEPS) + 0.5) * STEP_H
    return peak_w * np.clip(np.sin((hours - 6.0) / 12.0 * np.pi), 0.0, None)


# Common practice, no source: a four-ton air conditioner at full duty (100 %) takes about 4 kWh an hour,
# so that 13 kWh are gone in three to four hours.
def test_a_four_ton_air_conditioner_at_full_duty_empties_13_kwh_in_three_to_four_hours():
    hours = simulate(cases(load_w=4000.0, usable_kwh=13.0), 96).hours
    assert hours == pytest.approx(np.full((1, STARTS), 3.25))
    with_losses = simulate(cases(load_w=4000.0, usable_kwh=13.0, storage_to_ac=0.95), 96).hours
    assert with_losses == pytest.approx(np.full((1, STARTS), 13.0 * 0.95 / 4.0))


def test_hours_within_a_step_follow_from_the_energy_left():
    assert simulate(cases(load_w=3000.0, usable_kwh=10.0), 96).hours[0, 0] == pytest.approx(10.0 / 3.0)


def test_standby_draw_shortens_the_outage_by_its_own_energy():
    assert simulate(cases(load_w=900.0, standby_w=100.0, usable_kwh=10.0), 96).hours[0, 0] == pytest.approx(10.0)


def test_the_reserve_is_not_touched():
    found = simulate(cases(load_w=1000.0, usable_kwh=10.0, floor_kwh=4.0, restart_kwh=5.0), 96)
    assert found.hours[0, 0] == pytest.approx(6.0)
    assert found.stored_kwh[0, 0] == pytest.approx(-6.0)


def test_a_load_above_the_discharge_limit_is_unserved_at_once():
    found = simulate(cases(load_w=6000.0, discharge_w=5000.0), 96)
    assert found.hours[0, 0] < STEP_H


def test_a_load_above_the_ac_rating_is_unserved_at_once_even_in_full_sun():
    found = simulate(cases(load_w=6000.0, ac_w=5000.0, array_w=np.full(DAY_STEPS, 20000.0)), 96)
    assert found.hours[0, 12] < STEP_H


def test_charging_stays_within_the_charge_limit_and_the_rest_is_lost():
    found = simulate(cases(load_w=0.0, array_w=np.full(DAY_STEPS, 8000.0), starting_kwh=0.0, usable_kwh=10.0, charge_w=2000.0), 4)
    assert found.stored_kwh[0, 0] == pytest.approx(2.0)
    assert found.lost_kwh[0, 0] == pytest.approx(6.0)


def test_after_a_shut_down_the_units_wait_for_the_restart_threshold():
    sun = bell(3000.0)
    early = simulate(cases(load_w=500.0, array_w=sun, usable_kwh=2.0, restart_kwh=0.2), 96)
    late = simulate(cases(load_w=500.0, array_w=sun, usable_kwh=2.0, restart_kwh=1.8), 96)
    assert late.hours[0, 20] == early.hours[0, 20]
    assert late.served_kwh[0, 20] < early.served_kwh[0, 20]


def test_a_traced_row_begins_at_the_starting_charge_and_never_leaves_its_limits():
    found = simulate(cases(load_w=700.0, array_w=bell(4000.0), usable_kwh=8.0, starting_kwh=5.0, floor_kwh=1.0, restart_kwh=2.0), 288, traced=1)
    assert found.trace_kwh.shape == (289, 1, STARTS)
    assert (found.trace_kwh[0] == 5.0).all()
    assert found.trace_kwh.min() >= 1.0 - 1e-12 and found.trace_kwh.max() <= 8.0 + 1e-12


def by_hand(case: Cases, start: int, steps: int) -> tuple[float, float, float]:
    """The same outage in plain Python, one start: hours, served and lost energy. Written from the description, not from the code."""
    energy, running, hours = min(case.starting_kwh[0], case.usable_kwh[0]), case.starting_kwh[0] > case.floor_kwh[0], None
    served_kwh = lost_kwh = 0.0
    for step in range(steps):
        quarter = (4 * start + step) % DAY_STEPS
        load, sun = case.load_w[0, quarter], case.array_w[0, quarter]
        standby = case.standby_w[0] if running else 0.0
        wanted = min(load, case.ac_w[0]) if running else 0.0
        available = max(energy - case.floor_kwh[0], 0.0) / STEP_H * 1000.0
        sun_standby = min(sun, standby)
        storage_standby = min(standby - sun_standby, available)
        sun_load = min((sun - sun_standby) * case.pv_to_ac, wanted)
        need = (wanted - sun_load) / case.storage_to_ac
        drawn = min(need, case.discharge_w[0, quarter] / case.storage_to_ac, available - storage_standby)
        left = sun - sun_standby - sun_load / case.pv_to_ac
        charged = min(left, case.charge_w[0, quarter], max(case.usable_kwh[0] - energy, 0.0) / STEP_H * 1000.0 / case.pv_to_storage)
        served = sun_load + drawn * case.storage_to_ac
        change = (charged * case.pv_to_storage - drawn - storage_standby) * STEP_H / 1000.0
        energy += change
        served_kwh += served * STEP_H / 1000.0
        lost_kwh += (sun - served) * STEP_H / 1000.0 - change
        short = load - served > 1e-6
        if short and hours is None:
            hours = (step + served / load) * STEP_H
        if running:
            running = not (short and case.trips)
        else:
            running = energy >= case.restart_kwh[0] - 1e-12
    return steps * STEP_H if hours is None else hours, served_kwh, lost_kwh


@settings(max_examples=60, deadline=None)
@given(
    load=st.floats(100.0, 6000.0),
    peak=st.floats(0.0, 12000.0),
    usable=st.floats(2.0, 40.0),
    start=st.integers(0, 23),
    standby=st.floats(5.0, 120.0),
)
def test_the_vectors_agree_with_a_plain_loop(load: float, peak: float, usable: float, start: int, standby: float):
    case = cases(load, bell(peak), usable, standby, starting_kwh=0.5 * usable, pv_to_ac=0.97, pv_to_storage=0.96, storage_to_ac=0.95, restart_kwh=0.1 * usable)
    found = simulate(case, 192)
    hours, served, lost = by_hand(case, start, 192)
    assert found.hours[0, start] == pytest.approx(hours, rel=1e-9, abs=1e-9)
    assert found.served_kwh[0, start] == pytest.approx(served, rel=1e-9, abs=1e-9)
    assert found.lost_kwh[0, start] == pytest.approx(lost, rel=1e-9, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(load=st.floats(0.0, 12000.0), peak=st.floats(0.0, 20000.0), usable=st.floats(0.5, 60.0), standby=st.floats(0.0, 200.0), floor=st.floats(0.0, 0.9), efficiency=st.floats(0.8, 1.0))
def test_the_energy_balance_closes_in_every_step(load: float, peak: float, usable: float, standby: float, floor: float, efficiency: float):
    case = cases(load, bell(peak), usable, standby, floor_kwh=floor * usable, restart_kwh=usable, pv_to_ac=efficiency, pv_to_storage=efficiency, storage_to_ac=efficiency)
    found = simulate(case, 288)
    assert found.residual_kwh <= 1e-9
    assert np.abs(found.array_kwh - found.served_kwh - found.stored_kwh - found.lost_kwh).max() <= 1e-9
    assert (found.lost_kwh >= -1e-9).all()


@settings(max_examples=40, deadline=None)
@given(load=st.floats(100.0, 9000.0), peak=st.floats(0.0, 12000.0), usable=st.floats(1.0, 40.0), more=st.floats(0.0, 20.0))
def test_more_storage_never_carries_fewer_hours_without_standby_and_trips(load: float, peak: float, usable: float, more: float):
    less = simulate(cases(load, bell(peak), usable, trips=False), 192)
    greater = simulate(cases(load, bell(peak), usable + more, trips=False), 192)
    assert (greater.hours >= less.hours - 1e-9).all()


@settings(max_examples=40, deadline=None)
@given(load=st.floats(100.0, 9000.0), peak=st.floats(0.0, 12000.0), usable=st.floats(1.0, 40.0), more=st.floats(0.0, 3000.0))
def test_more_load_never_carries_more_hours_without_standby_and_trips(load: float, peak: float, usable: float, more: float):
    less = simulate(cases(load, bell(peak), usable, trips=False), 192)
    greater = simulate(cases(load + more, bell(peak), usable, trips=False), 192)
    assert (greater.hours <= less.hours + 1e-9).all()


def test_a_row_gives_the_same_beside_other_rows():
    alone = cases(1500.0, bell(5000.0), 12.0, 40.0, restart_kwh=1.2)
    other = cases(800.0, bell(2000.0), 30.0, 10.0, restart_kwh=3.0)
    joined = replace(alone, **{name: np.concatenate((getattr(alone, name), getattr(other, name))) for name in ("load_w", "array_w", "charge_w", "discharge_w", "ac_w", "standby_w", "usable_kwh", "starting_kwh", "floor_kwh", "restart_kwh")})
    assert (simulate(joined, 192).hours[0] == simulate(alone, 192).hours[0]).all()
