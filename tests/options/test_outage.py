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


def test_the_discharge_limit_counts_at_the_ac_side_whatever_the_conversion_loses():
    found = simulate(cases(load_w=5000.0, discharge_w=5000.0, storage_to_ac=0.8, usable_kwh=50.0), 4)
    assert found.served_kwh[0, 0] == pytest.approx(5.0)
    assert found.stored_kwh[0, 0] == pytest.approx(-5.0 / 0.8)


def test_the_storage_fills_to_the_brim_in_the_step_that_fills_it_whatever_charging_loses():
    found = simulate(cases(load_w=0.0, array_w=np.full(DAY_STEPS, 4000.0), starting_kwh=9.6, usable_kwh=10.0, pv_to_storage=0.8), 1)
    assert found.stored_kwh[0, 0] == pytest.approx(0.4)
    assert found.lost_kwh[0, 0] == pytest.approx(1.0 - 0.4)


def test_the_array_serves_the_standby_draw_before_the_load():
    # 100 W of sun cover the standby draw; the load of 1 kW comes from the storage alone.
    found = simulate(cases(load_w=1000.0, array_w=np.full(DAY_STEPS, 100.0), standby_w=100.0, usable_kwh=10.0), 4)
    assert found.stored_kwh[0, 0] == pytest.approx(-1.0)


def test_the_storage_gives_what_the_array_lacks_for_the_standby_draw():
    found = simulate(cases(load_w=0.0, array_w=np.full(DAY_STEPS, 60.0), standby_w=100.0, usable_kwh=10.0), 4)
    assert found.stored_kwh[0, 0] == pytest.approx(-0.04)


def test_each_path_loses_by_its_own_efficiency():
    # Array to AC 90 %: 1000 W of load take 1111 W; the rest of 2000 W charges at 80 %.
    found = simulate(cases(load_w=1000.0, array_w=np.full(DAY_STEPS, 2000.0), starting_kwh=1.0, usable_kwh=10.0, pv_to_ac=0.9, pv_to_storage=0.8, storage_to_ac=0.7), 4)
    assert found.served_kwh[0, 0] == pytest.approx(1.0)
    assert found.stored_kwh[0, 0] == pytest.approx(0.8 * (2.0 - 1.0 / 0.9))


def test_units_that_are_shut_down_draw_no_standby_and_serve_nothing():
    found = simulate(cases(load_w=1000.0, standby_w=100.0, usable_kwh=10.0, starting_kwh=2.0, floor_kwh=2.0, restart_kwh=3.0), 96)
    assert (found.hours == 0.0).all()
    assert found.stored_kwh[0, 0] == 0.0 and found.served_kwh[0, 0] == 0.0


def test_every_start_is_the_same_outage_moved_by_its_hours():
    # 1 kW from 8 to 9 h, 0.1 kW else; 0.5 kWh is gone within the hour of 1 kW wherever the outage meets it first.
    load = np.full(DAY_STEPS, 100.0)
    load[32:36] = 1000.0
    case = replace(cases(usable_kwh=0.9), load_w=load[None, :])
    hours = simulate(case, 96).hours[0]
    assert hours[8] == pytest.approx(0.9)
    assert hours[7] == pytest.approx(1.0 + 0.8)
    assert hours[9] == pytest.approx(9.0)
    assert hours[0] == pytest.approx(8.0 + 0.1)


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
    found = simulate(case, 112)
    hours, served, lost = by_hand(case, start, 112)
    assert found.hours[0, start] == pytest.approx(hours, rel=1e-9, abs=1e-9)
    assert found.served_kwh[0, start] == pytest.approx(served, rel=1e-9, abs=1e-9)
    assert found.lost_kwh[0, start] == pytest.approx(lost, rel=1e-9, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(load=st.floats(0.0, 12000.0), peak=st.floats(0.0, 20000.0), usable=st.floats(0.5, 60.0), standby=st.floats(0.0, 200.0), floor=st.floats(0.0, 0.9), efficiency=st.floats(0.8, 1.0))
def test_the_energy_balance_closes_in_every_step(load: float, peak: float, usable: float, standby: float, floor: float, efficiency: float):
    case = cases(load, bell(peak), usable, standby, floor_kwh=floor * usable, restart_kwh=usable, pv_to_ac=efficiency, pv_to_storage=efficiency, storage_to_ac=efficiency)
    found = simulate(case, 112)
    assert found.residual_kwh <= 1e-9
    assert np.abs(found.array_kwh - found.served_kwh - found.stored_kwh - found.lost_kwh).max() <= 1e-9
    assert (found.lost_kwh >= -1e-9).all()


@settings(max_examples=40, deadline=None)
@given(
    load=st.floats(0.0, 12000.0), peak=st.floats(0.0, 20000.0), usable=st.floats(0.5, 60.0), standby=st.floats(0.0, 200.0), starting=st.floats(0.0, 1.0), floor=st.floats(0.0, 0.5),
    restart=st.floats(0.0, 0.5), charge=st.floats(0.0, 8000.0), cold=st.floats(0.0, 1.0), paths=st.tuples(*(st.floats(0.6, 1.0),) * 3),
)
def test_the_balance_closes_with_any_threshold_derating_and_efficiency_by_path(
    load: float, peak: float, usable: float, standby: float, starting: float, floor: float, restart: float, charge: float, cold: float, paths: tuple[float, float, float]
):
    to_ac, to_storage, from_storage = paths
    case = cases(
        load, bell(peak), usable, standby, starting_kwh=starting * usable, floor_kwh=floor * usable, restart_kwh=min(floor + restart, 1.0) * usable, charge_w=charge,
        pv_to_ac=to_ac, pv_to_storage=to_storage, storage_to_ac=from_storage,
    )
    night = np.where((np.arange(DAY_STEPS) < 32)[None, :], cold, 1.0)
    found = simulate(replace(case, charge_w=case.charge_w * night, discharge_w=case.discharge_w * night), 112, traced=1)
    assert found.residual_kwh <= 1e-9
    assert np.abs(found.array_kwh - found.served_kwh - found.stored_kwh - found.lost_kwh).max() <= 1e-9
    assert (found.served_kwh <= found.asked_kwh + 1e-9).all() and (found.lost_kwh >= -1e-9).all()
    assert found.trace_kwh.max() <= usable + 1e-9
    assert found.trace_kwh.min() >= min(floor, starting) * usable - 1e-9


@settings(max_examples=40, deadline=None)
@given(load=st.floats(100.0, 9000.0), peak=st.floats(0.0, 12000.0), usable=st.floats(1.0, 40.0), more=st.floats(0.0, 20.0))
def test_more_storage_never_carries_fewer_hours_without_standby_and_trips(load: float, peak: float, usable: float, more: float):
    less = simulate(cases(load, bell(peak), usable, trips=False), 112)
    greater = simulate(cases(load, bell(peak), usable + more, trips=False), 112)
    assert (greater.hours >= less.hours - 1e-9).all()


@settings(max_examples=40, deadline=None)
@given(load=st.floats(100.0, 9000.0), peak=st.floats(0.0, 12000.0), usable=st.floats(1.0, 40.0), more=st.floats(0.0, 3000.0))
def test_more_load_never_carries_more_hours_without_standby_and_trips(load: float, peak: float, usable: float, more: float):
    less = simulate(cases(load, bell(peak), usable, trips=False), 112)
    greater = simulate(cases(load + more, bell(peak), usable, trips=False), 112)
    assert (greater.hours <= less.hours + 1e-9).all()


def test_a_row_gives_the_same_beside_other_rows():
    alone = cases(1500.0, bell(5000.0), 12.0, 40.0, restart_kwh=1.2)
    other = cases(800.0, bell(2000.0), 30.0, 10.0, restart_kwh=3.0)
    joined = replace(alone, **{name: np.concatenate((getattr(alone, name), getattr(other, name))) for name in ("load_w", "array_w", "charge_w", "discharge_w", "ac_w", "standby_w", "usable_kwh", "starting_kwh", "floor_kwh", "restart_kwh")})
    assert (simulate(joined, 192).hours[0] == simulate(alone, 192).hours[0]).all()


def test_with_standby_draw_more_load_may_be_carried_no_longer_than_less():
    """The law of load holds with a standby draw too where nothing trips; the one of storage needs the same draw on both sides."""
    less, greater = (simulate(cases(load, bell(4000.0), 10.0, 60.0, trips=False), 192).hours for load in (800.0, 900.0))
    assert (greater <= less + 1e-9).all()


def test_a_second_unit_may_carry_fewer_hours_than_none_because_it_draws_standby_power():
    """Why the law of storage is stated without standby draw: more storage that comes with more draw can carry less."""
    one = simulate(cases(50.0, usable_kwh=10.0, standby_w=45.0), 960)
    more = simulate(cases(50.0, usable_kwh=12.0, standby_w=90.0), 960)
    assert more.hours[0, 0] < one.hours[0, 0]


def test_trips_can_turn_the_law_of_load_round_in_the_energy_served_and_not_in_the_hours():
    """Why hours to the first unserved load are ranked: after it, a shut-down keeps energy for later."""
    sun = bell(2500.0)
    trips, stays = (simulate(cases(1500.0, sun, 3.0, 0.0, trips, restart_kwh=1.5), 192) for trips in (True, False))
    assert (trips.hours == stays.hours).all()
    assert (trips.served_kwh != stays.served_kwh).any()
