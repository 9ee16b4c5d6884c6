"""Outage simulation in steps of 15 minutes, for every starting hour of many cases at once.

All units are taken to share the load so that their storages stand at the same
state of charge. Within a step: the array serves the standby draw and the load,
what is left charges the storage within its limits, the rest is curtailed; what
the array lacks comes from the storage, down to the reserve. Where the storage
cannot give what is asked, the units shut down and start again once the energy
passes the restart threshold.

In every step: array = load served + change of the stored energy + lost.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
STEP_H = 0.25
DAY_STEPS = 96
STARTS = 24
_KWH = STEP_H / 1000.0
_TINY_W = 1e-6
_TINY_KWH = 1e-12


@dataclass(frozen=True, slots=True)
class Cases:
    """Outages to simulate, one row each; every row is started at each hour of the day.

    ``load_w`` and ``array_w`` are one day by 96 quarters (rows x 96), the array
    behind its input limits; ``charge_w`` and ``discharge_w`` are limits of the
    same shape, derating included. All other fields are one value a row, powers
    in watts and energies in kilowatt-hours. Where ``trips`` is false the units
    give what they can at any time instead of shutting down.
    """

    load_w: Floats
    array_w: Floats
    charge_w: Floats
    discharge_w: Floats
    ac_w: Floats
    standby_w: Floats
    usable_kwh: Floats
    starting_kwh: Floats
    floor_kwh: Floats
    restart_kwh: Floats
    pv_to_ac: float
    pv_to_storage: float
    storage_to_ac: float
    trips: bool = True


@dataclass(frozen=True, slots=True)
class Outcome:
    """What happened, by row and starting hour: hours to the first unserved load, energies in kilowatt-hours.

    ``lost_kwh`` is curtailed, converted and standby energy together;
    ``residual_kwh`` the largest error of the energy balance in any step;
    ``trace_kwh`` the stored energy by step (steps + 1, rows, starts), empty unless asked for.
    """

    hours: Floats
    asked_kwh: Floats
    served_kwh: Floats
    lost_kwh: Floats
    array_kwh: Floats
    stored_kwh: Floats
    residual_kwh: float
    trace_kwh: Floats


@dataclass(frozen=True, slots=True)
class _Flow:
    """Watts in one step: load served, put into the storage (negative: taken out), and lost."""

    served: Floats
    stored: Floats
    lost: Floats


def simulate(cases: Cases, steps: int, traced: int = 0) -> Outcome:
    """Run every case from every starting hour for ``steps`` steps of 15 minutes.

    Parameters
    ----------
    traced : of how many rows, from the first, the stored energy of every step is kept.
    """
    load, array = _doubled(cases.load_w), _doubled(cases.array_w)
    charge, discharge = _doubled(cases.charge_w), _doubled(cases.discharge_w / cases.storage_to_ac)
    rows = cases.load_w.shape[0]
    usable, floor, restart = (_column(found) for found in (cases.usable_kwh, cases.floor_kwh, cases.restart_kwh))
    energy = np.repeat(np.minimum(_column(cases.starting_kwh), usable), STARTS, axis=1)
    begun, running = energy.copy(), energy > floor
    shape = (rows, STARTS)
    hours, unbroken = np.full(shape, steps * STEP_H), np.ones(shape, dtype=bool)
    asked, served, lost, given = (np.zeros(shape) for _ in range(4))
    trace = np.empty((steps + 1 if traced else 0, traced, STARTS))
    residual = 0.0
    if traced:
        trace[0] = energy[:traced]
    for step in range(steps):
        now = slice(step % DAY_STEPS, step % DAY_STEPS + DAY_STEPS, 4)
        wanted, sun = load[:, now], array[:, now]
        room, fill = np.maximum(energy - floor, 0.0) / _KWH, np.maximum(usable - energy, 0.0) / (_KWH * cases.pv_to_storage)
        flow = _flow(cases, np.where(running, wanted, 0.0), sun, running, room, np.minimum(fill, charge[:, now]), discharge[:, now])
        before = energy
        energy = before + flow.stored * _KWH
        residual = max(residual, float(np.abs((sun - flow.served - flow.lost) * _KWH - (energy - before)).max(initial=0.0)))
        asked += wanted
        served += flow.served
        lost += flow.lost
        given += sun
        short = wanted - flow.served > _TINY_W
        first = short & unbroken
        if first.any():
            hours[first] = (step + flow.served[first] / wanted[first]) * STEP_H
            unbroken &= ~short
        if cases.trips:
            running = np.where(running, ~short, energy >= restart - _TINY_KWH)
        if traced:
            trace[step + 1] = energy[:traced]
    return Outcome(hours, asked * _KWH, served * _KWH, lost * _KWH, given * _KWH, energy - begun, residual, trace)


def _flow(cases: Cases, load: Floats, sun: Floats, running: NDArray[np.bool_], room: Floats, most_in: Floats, most_out: Floats) -> _Flow:
    """One step. ``room`` is what the storage holds above the reserve as watts over the step."""
    standby = np.where(running, _column(cases.standby_w), 0.0)
    by_sun = np.minimum(sun, standby)
    by_storage = np.minimum(standby - by_sun, room)
    left = sun - by_sun
    carried = np.minimum(load, _column(cases.ac_w))
    used = np.minimum(left, carried / cases.pv_to_ac)
    direct = used * cases.pv_to_ac
    drawn = np.minimum(np.minimum((carried - direct) / cases.storage_to_ac, most_out), room - by_storage)
    from_storage = drawn * cases.storage_to_ac
    surplus = left - used
    charged = np.minimum(surplus, most_in)
    stored = charged * cases.pv_to_storage
    lost = by_sun + by_storage + (used - direct) + (drawn - from_storage) + (surplus - stored)
    return _Flow(direct + from_storage, stored - drawn - by_storage, lost)


def _doubled(day: Floats) -> Floats:
    return np.concatenate((day, day), axis=1)


def _column(values: Floats) -> Floats:
    return values[:, None]
