"""Weather files: EPW (open format) through pvlib, or a measured CSV; and site temperatures from EPW."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pvlib

from linecalc.errors import InputError, Problem
from linecalc.network.records import Assumption
from linecalc.options.outage import Floats

_HOURS = (24 * 28, 24 * 366)
_MINIMUM_BY_COUNT = {16: 4, 15: 3}
_MOST = {"ghi": 1500.0, "dni": 1500.0, "dhi": 1500.0, "wind_speed": 60.0}


@dataclass(frozen=True, slots=True)
class Weather:
    """Hourly weather: middle of each hour, irradiance in watts a square metre, air in degC, wind in metres a second.

    ``dni`` and ``dhi`` are None where only the horizontal sun was measured.
    """

    file: str
    latitude_deg: float
    longitude_deg: float
    middle: pd.DatetimeIndex
    ghi: Floats
    dni: Floats | None
    dhi: Floats | None
    air_c: Floats
    wind_m_s: Floats


@dataclass(frozen=True, slots=True)
class DesignTemperatures:
    """Design temperatures of an EPW file in degC, with the words that name them."""

    low_c: float
    low_name: str
    high_c: float
    high_name: str
    source: str


def read_weather(path: Path, latitude_deg: float | None, assumptions: list[Assumption]) -> Weather:
    """The weather of an EPW file, or of a CSV with the columns time, ghi and temp_air (perhaps dni, dhi, wind_speed).

    Raises
    ------
    InputError
        The file cannot be read, or lacks what is needed.
    """
    suffix = path.suffix.lower()
    if suffix == ".epw":
        assumptions.append(Assumption("options.weather", "standard time", "the hours of the file are standard time; those of the loads are taken to be the same all year"))
        return _epw(path)
    if suffix == ".csv":
        return _csv(path, latitude_deg, assumptions)
    raise InputError([Problem("a weather file ends in .epw or .csv", file=str(path), key="options.weather")])


def design_temperatures(path: Path) -> DesignTemperatures | None:
    """The design conditions that stand in the header of an EPW file; None where it has none in a known order.

    The low one is the extreme annual mean minimum. The high one is the annual
    0.4 % dry bulb (35 h a year): of the values in the header it is the one
    nearest to the 2 % of June to August (44 h), which the header lacks; the
    annual 2 % (175 h) would be some kelvins lower.

    The order of the values changed: up to the 2013 handbook the highest wet
    bulb stands before the lowest dry bulb, from 2017 on it stands at the end of
    the cooling values. Which one it is follows from the count of values, and the
    result is held against the 99.6 % heating dry bulb and the mean maximum.

    References
    ----------
    EnergyPlus Auxiliary Programs, "EnergyPlus Weather File (EPW) Data Dictionary",
    DESIGN CONDITIONS; order of values by the ASHRAE Handbook of Fundamentals as in
    the headers of published files of 2009 and 2021.
    """
    header = _header(path)
    try:
        heating, cooling, extremes = _sections(header.get("DESIGN CONDITIONS", []))
        place = _MINIMUM_BY_COUNT[len(extremes)]
        coldest, low, mean_maximum, high = float(heating[1]), float(extremes[place]), float(extremes[place + 1]), float(cooling[2])
    except (ValueError, IndexError, KeyError):
        return None
    if not low <= coldest < high <= mean_maximum:
        return None
    where = ", ".join(part for part in header.get("LOCATION", [])[:3] if part)
    source = f"design conditions in the header of {path.name} ({where})"
    return DesignTemperatures(low, "extreme annual mean minimum dry bulb", high, "0.4 % annual design dry bulb", source)


def _sections(fields: list[str]) -> tuple[list[str], list[str], list[str]]:
    """The values after Heating, Cooling and Extremes."""
    heating, cooling, extremes = (fields.index(name) for name in ("Heating", "Cooling", "Extremes"))
    last = next((place for place in range(extremes + 1, len(fields)) if not fields[place]), len(fields))
    return fields[heating + 1 : cooling], fields[cooling + 1 : extremes], fields[extremes + 1 : last]


def _header(path: Path) -> dict[str, list[str]]:
    text = _text(path)
    return {row[0].upper(): [cell.strip() for cell in row[1:]] for row in csv.reader(text.splitlines()[:8]) if row}


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8", errors="replace")
    except OSError as error:
        raise InputError([Problem(f"cannot be read: {error.strerror or error}", file=str(path), key="options.weather")]) from None


def _epw(path: Path) -> Weather:
    _text(path)
    try:
        data, about = pvlib.iotools.read_epw(str(path))
    except (ValueError, KeyError, IndexError, TypeError) as error:
        raise InputError([Problem(f"is not a readable EPW file ({type(error).__name__})", file=str(path), key="options.weather")]) from None
    middle = _one_year(data.index) + pd.Timedelta(minutes=30)
    columns = [np.asarray(data[name], dtype=float) for name in ("ghi", "dni", "dhi", "temp_air", "wind_speed")]
    return _checked(Weather(str(path), float(about["latitude"]), float(about["longitude"]), middle, *columns))


def _one_year(index: Any) -> pd.DatetimeIndex:
    """The hours of the file in its own time zone; months of a typical year come from several years."""
    return pd.DatetimeIndex([stamp.replace(year=2023) if (stamp.month, stamp.day) != (2, 29) else stamp for stamp in index])


def _csv(path: Path, latitude_deg: float | None, assumptions: list[Assumption]) -> Weather:
    if latitude_deg is None:
        raise InputError([Problem("a measured CSV needs options.latitude", file=str(path), key="options.latitude")])
    _text(path)
    try:
        data = pd.read_csv(path)
        start = pd.DatetimeIndex(pd.to_datetime(data["time"]))
        columns = {name: np.asarray(data[name], dtype=float) for name in ("ghi", "temp_air", "dni", "dhi", "wind_speed") if name in data}
        ghi, air = columns["ghi"], columns["temp_air"]
    except (ValueError, KeyError, TypeError, pd.errors.ParserError) as error:
        raise InputError([Problem(f"needs the columns time, ghi and temp_air by the hour ({error})", file=str(path), key="options.weather")]) from None
    assumptions.append(Assumption("options.weather", "solar time", "times of the measured file are taken as solar time"))
    middle = (start.tz_localize(None) if start.tz is not None else start).tz_localize("UTC") + pd.Timedelta(minutes=30)
    wind = columns.get("wind_speed", np.ones(ghi.size))
    both = "dni" in columns and "dhi" in columns
    return _checked(Weather(str(path), latitude_deg, 0.0, middle, ghi, columns["dni"] if both else None, columns["dhi"] if both else None, air, wind))


def _checked(found: Weather) -> Weather:
    """Refuse gaps, the marks of missing values, and anything but whole days by the hour from midnight."""
    hours = len(found.middle)
    columns = {"ghi": found.ghi, "dni": found.dni, "dhi": found.dhi, "temp_air": found.air_c, "wind_speed": found.wind_m_s}
    given = {name: column for name, column in columns.items() if column is not None}
    wrong = ""
    if hours % 24 or not _HOURS[0] <= hours <= _HOURS[1]:
        wrong = f"holds {hours} hours; whole days of 24 hours are needed, 28 days to a year"
    elif not all(np.isfinite(column).all() for column in given.values()):
        wrong = f"has hours without {' or '.join(name for name, column in given.items() if not np.isfinite(column).all())}; fill the gaps first"
    elif over := [name for name, most in _MOST.items() if name in given and (given[name].min() < 0.0 or given[name].max() > most)]:
        wrong = f"has {over[0]} outside 0 to {_MOST[over[0]]:g}, or the mark of a missing value; fill the gaps first"
    elif abs(found.air_c).max() > 70.0:
        wrong = "has temp_air outside -70 to 70 degC, or the mark of a missing value; fill the gaps first"
    elif (found.middle.hour != np.arange(hours) % 24).any() or (found.middle.minute != 30).any():
        wrong = "does not run hour by hour from midnight to midnight; one row an hour, days whole"
    if wrong:
        raise InputError([Problem(wrong, file=found.file, key="options.weather")])
    return found
