"""Outage simulation in steps of 15 minutes, for every starting hour of many cases at once.

All units are taken to share the load so that their storages stand at the same
state of charge. Within a step: the array serves the standby draw and the load,
what is left charges the storage within its limits, the rest is curtailed; what
the array lacks comes from the storage, down to the reserve. Where the storage
cannot give what is asked, the units shut down and start again once the energy
passes the restart threshold.

PV inverters beside the units serve the load before the array does. What is left
of them charges the storage through the units, after the array and within the
same limit and the units' AC rating; the rest is held down by the units'
frequency, all of it while the units are shut down, since then there is no island
to follow.

In every step: array + PV inverters = load served + change of the stored energy + lost.
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
    give what they can at any time instead of shutting down. ``coupled_w`` is
    what the PV inverters beside the units could give, of the shape of
    ``array_w``; None where there are none.
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
    coupled_w: Floats | None = None
    ac_to_storage: float = 1.0


@dataclass(frozen=True, slots=True)
class Outcome:
    """What happened, by row and starting hour: hours to the first unserved load, energies in kilowatt-hours.

    ``lost_kwh`` is curtailed, converted and standby energy together; ``array_kwh``
    what array and PV inverters could give; ``highest_kwh`` the most that is stored
    at the end of any step; ``residual_kwh`` the largest error of the energy balance
    in any step; ``trace_kwh`` the stored energy by step (steps + 1, rows, starts),
    empty unless asked for.
    """

    hours: Floats
    asked_kwh: Floats
    served_kwh: Floats
    lost_kwh: Floats
    array_kwh: Floats
    stored_kwh: Floats
    highest_kwh: Floats
    residual_kwh: float
    trace_kwh: Floats


@dataclass(frozen=True, slots=True)
class _Flow:
    """Watts in one step: load served, put into the storage (negative: taken out), and lost."""

    served: Floats
    stored: Floats
    lost: Floats


def simulate(cases: Cases, steps: int, traced: int = 0, starts: int = STARTS) -> Outcome:
    """Run every case from every starting hour for ``steps`` steps of 15 minutes.

    Parameters
    ----------
    traced : of how many rows, from the first, the stored energy of every step is kept.
    starts : how many starts over a day, the first at midnight.
    """
    load, array = _doubled(cases.load_w), _doubled(cases.array_w)
    beside = _doubled(cases.coupled_w) if cases.coupled_w is not None else None
    charge, discharge = _doubled(cases.charge_w), _doubled(cases.discharge_w / cases.storage_to_ac)
    usable, floor, restart = (_column(found) for found in (cases.usable_kwh, cases.floor_kwh, cases.restart_kwh))
    energy = np.repeat(np.minimum(_column(cases.starting_kwh), usable), starts, axis=1)
    begun, running, highest = energy.copy(), energy > floor, energy
    hours, unbroken = np.full(energy.shape, steps * STEP_H), np.ones(energy.shape, dtype=bool)
    asked, served, lost, given = (np.zeros(energy.shape) for _ in range(4))
    trace = np.empty((steps + 1 if traced else 0, traced, starts))
    residual = 0.0
    if traced:
        trace[0] = energy[:traced]
    for step in range(steps):
        now = slice(step % DAY_STEPS, step % DAY_STEPS + DAY_STEPS, DAY_STEPS // starts)
        wanted, sun = load[:, now], array[:, now]
        coupled = beside[:, now] if beside is not None else None
        room, fill = np.maximum(energy - floor, 0.0) / _KWH, np.maximum(usable - energy, 0.0) / (_KWH * cases.pv_to_storage)
        flow = _flow(cases, np.where(running, wanted, 0.0), sun, coupled, running, room, fill, charge[:, now], discharge[:, now])
        before = energy
        energy = before + flow.stored * _KWH
        source = sun if coupled is None else sun + coupled
        residual = max(residual, float(np.abs((source - flow.served - flow.lost) * _KWH - (energy - before)).max(initial=0.0)))
        asked += wanted
        served += flow.served
        lost += flow.lost
        given += source
        highest = np.maximum(highest, energy)
        short = wanted - flow.served > _TINY_W
        first = short & unbroken
        if first.any():
            hours[first] = (step + flow.served[first] / wanted[first]) * STEP_H
            unbroken &= ~short
        if cases.trips:
            running = np.where(running, ~short, energy >= restart - _TINY_KWH)
        if traced:
            trace[step + 1] = energy[:traced]
    return Outcome(hours, asked * _KWH, served * _KWH, lost * _KWH, given * _KWH, energy - begun, highest, residual, trace)


def _flow(
    cases: Cases, load: Floats, sun: Floats, coupled: Floats | None, running: NDArray[np.bool_], room: Floats, fill: Floats, charge: Floats, most_out: Floats
) -> _Flow:
    """One step. ``room`` is what the storage holds above the reserve as watts over the step, ``fill`` what it still takes from the array."""
    standby = np.where(running, _column(cases.standby_w), 0.0)
    by_sun = np.minimum(sun, standby)
    by_storage = np.minimum(standby - by_sun, room)
    left = sun - by_sun
    carried = np.minimum(load, _column(cases.ac_w))
    beside = np.minimum(carried, coupled) if coupled is not None else np.zeros_like(carried)
    used = np.minimum(left, (carried - beside) / cases.pv_to_ac)
    direct = used * cases.pv_to_ac
    drawn = np.minimum(np.minimum((carried - beside - direct) / cases.storage_to_ac, most_out), room - by_storage)
    from_storage = drawn * cases.storage_to_ac
    surplus = left - used
    charged = np.minimum(surplus, np.minimum(fill, charge))
    stored = charged * cases.pv_to_storage
    lost = by_sun + by_storage + (used - direct) + (drawn - from_storage) + (surplus - stored)
    if coupled is not None:
        rest = coupled - beside
        through = _through_units(cases, np.where(running, rest, 0.0), charge - charged, (fill - charged) * cases.pv_to_storage)
        stored = stored + through * cases.ac_to_storage
        lost = lost + rest - through * cases.ac_to_storage
    return _Flow(beside + direct + from_storage, stored - drawn - by_storage, lost)


def _through_units(cases: Cases, rest: Floats, charge: Floats, room: Floats) -> Floats:
    """Watts of the PV inverters that charge the storage: what the charge limit, the room (stored watts) and the units' AC rating leave."""
    return np.minimum(np.minimum(rest, _column(cases.ac_w)), np.maximum(np.minimum(charge, room / cases.ac_to_storage), 0.0))


def _doubled(day: Floats) -> Floats:
    return np.concatenate((day, day), axis=1)


def _column(values: Floats) -> Floats:
    return values[:, None]
