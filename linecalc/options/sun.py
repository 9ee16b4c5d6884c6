"""Sun and temperature through pvlib: a clear day by latitude, or the days of a weather file by season.

References
----------
pvlib: solar position, clear sky by Solis (simplified), transposition by Hay and
Davies, decomposition by Erbs, cell temperature by Faiman.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
import pvlib

from linecalc.errors import InputError, Problem
from linecalc.options.outage import DAY_STEPS, Floats
from linecalc.options.weather import Weather

CLEAR, MEDIAN, P10, NONE = "clear", "median", "p10", "none"
_MONTHS = {"winter": (12, 1, 2), "spring": (3, 4, 5), "summer": (6, 7, 8), "fall": (9, 10, 11)}
_OPPOSITE = {"winter": "summer", "summer": "winter", "spring": "fall", "fall": "spring"}
_DATES = {"winter": "2023-12-21", "spring": "2023-03-21", "summer": "2023-06-21", "fall": "2023-09-21"}
_TURBID_AOD = 0.1

Plane = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Day:
    """A day by quarters: sun on each plane in watts a square metre, cell and air temperature in degC."""

    season: str
    sun: str
    label: str
    plane_w_m2: dict[Plane, Floats]
    cell_c: dict[Plane, Floats]
    air_c: Floats


@dataclass(frozen=True, slots=True)
class Year:
    """A whole year by the hour, as :class:`Day`, with the season and the hour of the day of each."""

    season: tuple[str, ...]
    hour: tuple[int, ...]
    plane_w_m2: dict[Plane, Floats]
    cell_c: dict[Plane, Floats]
    air_c: Floats


def no_sun(season: str, air_c: float | Floats) -> Day:
    """A day on which the array gives nothing.

    Parameters
    ----------
    air_c : air temperature in degC, constant or by quarters.
    """
    return Day(season, NONE, "no sun", {}, {}, np.full(DAY_STEPS, air_c))


def clear_day(season: str, latitude_deg: float, planes: tuple[Plane, ...], air_c: float) -> Day:
    """A cloudless day at a solstice or equinox, in solar time: the best case.

    Parameters
    ----------
    air_c : air temperature, taken constant, in degC.
    """
    date = _DATES[season if latitude_deg >= 0.0 else _OPPOSITE[season]]
    times = pd.date_range(f"{date} 00:07:30", periods=DAY_STEPS, freq="15min", tz="UTC")
    position = pvlib.solarposition.get_solarposition(times, latitude_deg, 0.0)
    extra = pvlib.irradiance.get_extra_radiation(times)
    sky = pvlib.clearsky.simplified_solis(position["apparent_elevation"], aod700=_TURBID_AOD, dni_extra=extra)
    air = np.full(DAY_STEPS, air_c)
    sun, cell = _on_planes(planes, position, sky, extra, air, np.ones(DAY_STEPS))
    return Day(season, CLEAR, f"clear sky, {date[5:]}, best case", sun, cell, air)


def year_of(weather: Weather, planes: tuple[Plane, ...]) -> Year:
    """Sun and temperature of a weather file on each plane, by the hour."""
    times = weather.middle
    position = pvlib.solarposition.get_solarposition(times, weather.latitude_deg, weather.longitude_deg)
    extra = pvlib.irradiance.get_extra_radiation(times)
    sky = pd.DataFrame({"ghi": weather.ghi, "dni": weather.dni, "dhi": weather.dhi}, index=times)
    if weather.dni is None:
        split = pvlib.irradiance.erbs(sky["ghi"], position["zenith"], times)
        sky["dni"], sky["dhi"] = split["dni"], split["dhi"]
    sun, cell = _on_planes(planes, position, sky, extra, weather.air_c, weather.wind_m_s)
    return Year(tuple(_season(month, weather.latitude_deg) for month in times.month), tuple(times.hour), sun, cell, weather.air_c)


def season_days(weather: Weather, year: Year, season: str) -> tuple[Day, ...]:
    """The 10th-percentile day and the median day of a season, by the sun on all planes together.

    The percentile is by nearest rank, so that each is a day of the file.

    Raises
    ------
    InputError
        The file has fewer than ten whole days of the season.
    """
    months = _MONTHS[season if weather.latitude_deg >= 0.0 else _OPPOSITE[season]]
    days = [day for day in range(len(weather.middle) // 24) if weather.middle[24 * day].month in months]
    if len(days) < 10:
        raise InputError([Problem(f"holds {len(days)} whole days of {season}; ten are needed for a 10th percentile", file=weather.file)])
    total = sum(year.plane_w_m2.values(), np.zeros(len(weather.middle)))
    ranked = sorted(days, key=lambda day: (float(total[24 * day : 24 * day + 24].sum()), day))
    return tuple(_picked(weather, year, season, sun, ranked[max(-(-len(ranked) * percent // 100) - 1, 0)]) for sun, percent in ((P10, 10), (MEDIAN, 50)))


def _season(month: int, latitude_deg: float) -> str:
    season = next(name for name, months in _MONTHS.items() if month in months)
    return season if latitude_deg >= 0.0 else _OPPOSITE[season]


def _picked(weather: Weather, year: Year, season: str, sun: str, day: int) -> Day:
    hours = slice(24 * day, 24 * day + 24)
    label = f"{'10th-percentile' if sun == P10 else 'median'} day, {weather.middle[24 * day]:%m-%d}"
    plane = {key: np.repeat(found[hours], 4) for key, found in year.plane_w_m2.items()}
    cell = {key: np.repeat(found[hours], 4) for key, found in year.cell_c.items()}
    return Day(season, sun, label, plane, cell, np.repeat(year.air_c[hours], 4))


def _on_planes(planes: tuple[Plane, ...], position: Any, sky: Any, extra: Any, air_c: Floats, wind_m_s: Floats) -> tuple[dict[Plane, Floats], dict[Plane, Floats]]:
    sun: dict[Plane, Floats] = {}
    cell: dict[Plane, Floats] = {}
    for tilt, azimuth in planes:
        found = pvlib.irradiance.get_total_irradiance(
            tilt, azimuth, position["apparent_zenith"], position["azimuth"], sky["dni"], sky["ghi"], sky["dhi"], dni_extra=extra, model="haydavies"
        )
        total = np.nan_to_num(np.asarray(found["poa_global"], dtype=float)).clip(min=0.0)
        sun[tilt, azimuth] = total
        cell[tilt, azimuth] = np.asarray(pvlib.temperature.faiman(total, air_c, wind_m_s), dtype=float)
    return sun, cell
