"""Outages and harvest of many candidates at once."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from linecalc.options.array import ArrayPower, unit_array
from linecalc.options.build import Built
from linecalc.options.context import Context, Settings
from linecalc.options.coupled import Coupled
from linecalc.options.harvest import Harvest, Lines, harvest
from linecalc.options.outage import DAY_STEPS, STARTS, STEP_H, Cases, Floats, Outcome, simulate
from linecalc.options.power import Kept, hours_kept, power_check
from linecalc.options.profile import HOURS, SEASONS, Profile
from linecalc.options.records import Candidate, Hours, Lost, Plant, PowerCheck, UnitPlant
from linecalc.options.sun import NONE, Day

HOUR_H = 1.0


@dataclass(frozen=True, slots=True)
class Energy:
    """What outages and days say of one candidate."""

    power: tuple[PowerCheck, ...]
    hours: tuple[Hours, ...]
    lost: tuple[Lost, ...]
    recharge_share: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class _Row:
    """One outage case of one candidate: the day, whether the storage is aged, what is served."""

    index: int
    season: str
    day: Day
    aged: bool
    carried: bool
    load_w: Floats
    all_w: Floats


class Arrays:
    """Array powers by unit and day, each computed once."""

    def __init__(self, losses_percent: float) -> None:
        self._losses = losses_percent
        self._found: dict[tuple[object, ...], ArrayPower] = {}
        self._beside: dict[tuple[str, str, str], Floats] = {}

    def of(self, unit: UnitPlant, candidate: Candidate, gamma: float, day: Day) -> ArrayPower:
        """The power of one unit's strings on a day, by quarters."""
        planes = candidate.array
        key = (unit.inputs, unit.input_current_a, unit.string_current_a, unit.input_power_w, planes.tilt_deg, planes.azimuth_deg, gamma, day.season, day.sun)
        if key not in self._found:
            self._found[key] = unit_array(unit, planes, day.plane_w_m2, day.cell_c, gamma, self._losses, DAY_STEPS)
        return self._found[key]

    def beside(self, coupled: tuple[Coupled, ...], built: Built, day: Day) -> Floats:
        """AC power of those PV inverters that stand beside the units of a candidate."""
        found = np.zeros(DAY_STEPS)
        for one in coupled:
            if one.tag in _plant(built).coupled:
                key = (one.tag, day.season, day.sun)
                if key not in self._beside:
                    self._beside[key] = one.power_w(day, self._losses, DAY_STEPS)
                found = found + self._beside[key]
        return found

    def of_plant(self, built: Built, day: Day) -> Floats:
        """The power of a whole candidate behind its inputs."""
        assert built.plant is not None
        return sum((self.of(unit, built.candidate, built.gamma_percent, day).after_w for unit in built.plant.units), np.zeros(DAY_STEPS))


def energies(context: Context, builts: list[Built], settings: Settings, profile: Profile) -> list[Energy]:
    """Outages and harvest of candidates that can be built, in their order."""
    arrays = Arrays(settings.losses_percent)
    kept = _kept(context, builts, profile)
    hours = outage_hours(context, builts, settings, profile, kept, arrays)
    lost = day_harvest(context, builts, settings, profile, arrays)
    recharge = recharges(context, builts, settings, profile, kept, arrays)
    if context.year is not None:
        for index, found in enumerate(year_harvest(context, builts, settings, profile)):
            lost[index].append(found)
    return [
        Energy(tuple(power_check(season, found) for season, found in kept[index].items()), tuple(hours[index]), tuple(lost[index]), tuple(recharge[index]))
        for index in range(len(builts))
    ]


def _kept(context: Context, builts: list[Built], profile: Profile) -> list[dict[str, tuple[Kept, ...]]]:
    """What is served hour by hour, found once for all candidates of the same ratings."""
    found: dict[tuple[float, float | None, float | None], dict[str, tuple[Kept, ...]]] = {}
    for built in builts:
        plant = _plant(built)
        key = (plant.firm_w, plant.leg_a, plant.start_a)
        if key not in found:
            found[key] = {season: hours_kept(profile, plant, season) for season in context.seasons}
    return [found[plant.firm_w, plant.leg_a, plant.start_a] for plant in map(_plant, builts)]


def outage_hours(
    context: Context, builts: list[Built], settings: Settings, profile: Profile, kept: list[dict[str, tuple[Kept, ...]]], arrays: Arrays
) -> list[list[Hours]]:
    """Hours carried by candidate, season, sun and age."""
    rows = _rows(context, profile, kept, len(builts))
    found: list[list[Hours]] = [[] for _ in builts]
    if not rows:
        return found
    steps = steps_of(settings)
    outcome = simulate(_cases(context, builts, settings, rows, arrays), steps)
    for place, row in enumerate(rows):
        found[row.index].append(_hours(row, outcome, place, steps))
    return found


def steps_of(settings: Settings) -> int:
    """Steps that reach the end of the longest outage, so that a length between two steps can be carried whole."""
    return math.ceil(settings.horizon_h / STEP_H - 1e-9)


def trace_of(context: Context, built: Built, settings: Settings, profile: Profile) -> tuple[tuple[_Row, Floats], ...]:
    """Stored energy by step and start of one candidate, by outage case, for charts."""
    rows = _rows(context, profile, _kept(context, [built], profile), 1)
    outcome = simulate(_cases(context, [built], settings, rows, Arrays(settings.losses_percent)), steps_of(settings), len(rows))
    return tuple((row, outcome.trace_kwh[:, place, :]) for place, row in enumerate(rows))


def _plant(built: Built) -> Plant:
    assert built.plant is not None
    return built.plant


def _rows(context: Context, profile: Profile, kept: list[dict[str, tuple[Kept, ...]]], count: int) -> list[_Row]:
    everything = {season: np.repeat([profile.mean_w(season, hour) for hour in range(HOURS)], 4) for season in context.seasons}
    rows = []
    for index in range(count):
        for season, hours in kept[index].items():
            served = np.repeat([sum(found.power_w * found.duty for found in hour.kept) for hour in hours], 4)
            carried = not any(hour.why for hour in hours)
            rows += [_Row(index, season, day, aged, carried, served, everything[season]) for day in context.days if day.season == season for aged in (False, True)]
    return rows


def _cases(context: Context, builts: list[Built], settings: Settings, rows: list[_Row], arrays: Arrays) -> Cases:
    plants = [_plant(builts[row.index]) for row in rows]
    usable = np.array([plant.usable_kwh * (settings.aged if row.aged else 1.0) for plant, row in zip(plants, rows, strict=True)])
    charge, discharge = zip(*(_derated(context, plant, row.day) for plant, row in zip(plants, rows, strict=True)), strict=True)
    inside = tuple(found for found in context.coupled if found.inside)
    floor = usable * settings.reserve
    return Cases(
        np.stack([row.load_w for row in rows]),
        np.stack([arrays.of_plant(builts[row.index], row.day) for row in rows]),
        np.stack(charge),
        np.stack(discharge),
        np.array([plant.ac_island_w for plant in plants]),
        np.array([plant.standby_w for plant in plants]),
        usable,
        usable * settings.starting,
        floor,
        np.minimum(floor + usable * settings.restart, usable),
        settings.pv_to_ac,
        settings.pv_to_storage,
        settings.storage_to_ac,
        coupled_w=np.stack([arrays.beside(inside, builts[row.index], row.day) for row in rows]) if inside else None,
        ac_to_storage=settings.ac_to_storage,
    )


def _derated(context: Context, plant: Plant, day: Day) -> tuple[Floats, Floats]:
    """Charge and discharge limits over a day, less what cold or heat takes."""
    charge, discharge = np.full(DAY_STEPS, plant.charge_w), np.full(DAY_STEPS, plant.discharge_w)
    for found in context.options.derate:
        hit = np.zeros(DAY_STEPS, dtype=bool)
        if found.below is not None:
            hit |= day.air_c < found.below.value
        if found.above is not None:
            hit |= day.air_c > found.above.value
        if found.charge is not None:
            charge = np.where(hit, np.minimum(charge, plant.charge_w * found.charge.value / 100.0), charge)
        if found.discharge is not None:
            discharge = np.where(hit, np.minimum(discharge, plant.discharge_w * found.discharge.value / 100.0), discharge)
    return charge, discharge


def _hours(row: _Row, outcome: Outcome, place: int, steps: int) -> Hours:
    """Hours of one case over all starts; 0 where the units do not carry the peak."""
    hours = outcome.hours[place] if row.carried else np.zeros(STARTS)
    asked = _asked_kwh(row.all_w, steps)
    served = outcome.served_kwh[place] if row.carried else np.zeros(STARTS)
    share = float((served.sum() / asked.sum()) if asked.sum() > 0.0 else 1.0)
    by_start = tuple(float(found) for found in hours)
    return Hours(row.season, row.day.sun, row.aged, min(by_start), float(np.median(hours)), by_start, share, outcome.residual_kwh)


def _asked_kwh(load_w: Floats, steps: int) -> Floats:
    """Energy asked by start over the whole outage, shed loads included."""
    whole, rest = divmod(steps, DAY_STEPS)
    twice = np.concatenate(([0.0], np.cumsum(np.concatenate((load_w, load_w)))))
    starts = np.arange(STARTS) * 4
    return (whole * load_w.sum() + twice[starts + rest] - twice[starts]) * STEP_H / 1000.0


def recharges(
    context: Context, builts: list[Built], settings: Settings, profile: Profile, kept: list[dict[str, tuple[Kept, ...]]], arrays: Arrays
) -> list[list[tuple[str, float]]]:
    """How far a day of an outage fills a storage that is at its reserve at midnight: the most it holds, as a share of what it holds above the reserve."""
    rows = [row for row in _rows(context, profile, kept, len(builts)) if not row.aged and row.day.sun != NONE]
    found: list[list[tuple[str, float]]] = [[] for _ in builts]
    if not rows:
        return found
    cases = _cases(context, builts, settings, rows, arrays)
    outcome = simulate(replace(cases, starting_kwh=cases.floor_kwh), DAY_STEPS, starts=1)
    for place, row in enumerate(rows):
        room = float(cases.usable_kwh[place] - cases.floor_kwh[place])
        share = float(outcome.highest_kwh[place, 0] - cases.floor_kwh[place]) / room if room > 0.0 else 1.0
        found[row.index].append((f"{row.season}, {row.day.label}", share))
    return found


def day_harvest(context: Context, builts: list[Built], settings: Settings, profile: Profile, arrays: Arrays) -> list[list[Lost]]:
    """Lost energy by day: a day after a day like it."""
    lost: list[list[Lost]] = [[] for _ in builts]
    for day in context.days:
        if day.sun == NONE:
            continue
        load = np.repeat([profile.mean_w(day.season, hour) for hour in range(HOURS)], 4)
        powers = [[arrays.of(unit, built.candidate, built.gamma_percent, day) for unit in _plant(built).units] for built in builts]
        beside = [arrays.beside(context.coupled, built, day) for built in builts]
        owners, lines = _lines(builts, powers, load, beside, settings)
        first = harvest(lines, STEP_H)
        second = harvest(replace(lines, begin_kwh=first.end_kwh), STEP_H)
        for index in range(len(builts)):
            mine = owners == index
            lost[index].append(_lost(f"{day.season}, {day.label}", second, mine))
    return lost


def year_harvest(context: Context, builts: list[Built], settings: Settings, profile: Profile) -> list[Lost]:
    """Lost energy over the hours of the weather file."""
    assert context.year is not None
    hours = context.year.air_c.size
    means = {(season, hour): profile.mean_w(season, hour) for season in SEASONS for hour in range(HOURS)}
    load = np.array([means[key] for key in zip(context.year.season, context.year.hour, strict=True)])
    powers = [
        [unit_array(unit, built.candidate.array, context.year.plane_w_m2, context.year.cell_c, built.gamma_percent, settings.losses_percent, hours) for unit in _plant(built).units]
        for built in builts
    ]
    every = {found.tag: found.power_w(context.year, settings.losses_percent, hours) for found in context.coupled}
    beside = [sum((every[tag] for tag in _plant(built).coupled if tag in every), np.zeros(hours)) for built in builts]
    owners, lines = _lines(builts, powers, load, beside, settings)
    found = harvest(lines, HOUR_H)
    return [_lost("year", found, owners == index) for index in range(len(builts))]


def _lost(label: str, found: Harvest, mine: NDArray[np.bool_]) -> Lost:
    return Lost(label, *(float(part[mine].sum()) for part in (found.array_kwh, found.used_kwh, found.input_kwh, found.rating_kwh, found.full_kwh)))


def _lines(builts: list[Built], powers: list[list[ArrayPower]], load_w: Floats, beside: list[Floats], settings: Settings) -> tuple[Floats, Lines]:
    """A line a unit; the load that PV inverters leave is shared by rating, what they leave of an export limit likewise."""
    owners, before, after, loads, export, rating, charge, usable = [], [], [], [], [], [], [], []
    for index, built in enumerate(builts):
        plant = _plant(built)
        together = sum(unit.ac_export_w for unit in plant.units)
        limit = np.inf if plant.export_limit_w is None else plant.export_limit_w
        for unit, power in zip(plant.units, powers[index], strict=True):
            share = unit.ac_export_w / together
            owners.append(index)
            before.append(power.before_w)
            after.append(power.after_w)
            loads.append(np.maximum(load_w - beside[index], 0.0) * share)
            export.append(np.maximum(limit - np.maximum(beside[index] - load_w, 0.0), 0.0) * share)
            rating.append(unit.ac_export_w)
            charge.append(unit.charge_w)
            usable.append(unit.usable_kwh * (1.0 - settings.reserve))
    return np.array(owners), Lines(
        np.stack(before), np.stack(after), np.stack(loads), np.stack(export), np.array(rating), np.array(charge), np.array(usable), np.zeros(len(owners)),
        settings.pv_to_ac, settings.pv_to_storage, settings.storage_to_ac,
    )
