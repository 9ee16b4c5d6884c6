"""Real weather files: the order of the design conditions in EPW headers, and hours that are centred on their half hour.

Sources beside each case. The excerpts are copied as published; no field is altered.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from linecalc.errors import InputError
from linecalc.options.context import context_of
from linecalc.options.sun import season_days, year_of
from linecalc.options.weather import design_temperatures, read_weather
from linecalc.project.read import read_project
from linecalc.variants import with_values
from tests.options.real_year import greensboro

EXAMPLES = Path(__file__).parents[2] / "examples"
PLANE = (30.0, 180.0)

# NREL, TMY3 (2008), Chicago O'Hare 725300, as an EPW file of the EnergyPlus collection: header and the first day.
CHICAGO = Path(__file__).parent / "weather" / "chicago_first_day.epw"

# LOCATION and DESIGN CONDITIONS lines as published, with the values read off by the handbook's own headings:
# annual mean minimum of the extremes, 99.6 % heating dry bulb, 0.4 % annual cooling dry bulb.
#   Amsterdam: ASHRAE IWEC (2001) with the design data of the 2009 handbook, copy in the tests of pvlib python (NLD_Amsterdam062400_IWEC.epw).
#   Long Beach: Climate.OneBuilding.org TMYx with the design data of the 2021 handbook, copy in the tests of ladybug (long_beach_2021.epw).
HEADERS = {
    "amsterdam": (
        "LOCATION,AMSTERDAM,-,NLD,IWEC Data,062400,52.30,4.77,1.0,-2.0",
        "DESIGN CONDITIONS,1,Climate Design Data 2009 ASHRAE Handbook,,Heating,1,-7.3,-4.9,-11.1,1.4,-6.2,-8.4,1.8,-3.7,17.6,9.5,15.7,9.3,4.6,80,"
        "Cooling,7,8,27.8,19.7,25.6,19,23.7,18,20.7,25.8,19.7,24.1,18.8,22.6,4.2,50,19,13.7,22.6,18,13,21.4,17.2,12.3,20.5,59.4,26.1,56,24.2,53.2,22.7,1168,"
        "Extremes,13.6,11.9,10.4,24.5,-8.7,31.2,3.8,1.8,-11.4,32.5,-13.6,33.6,-15.7,34.6,-18.4,36",
        (-8.7, 27.8),
    ),
    "long beach": (
        "LOCATION,Long.Beach.AP,CA,USA,SRC-TMYx,722970,33.81200,-118.1460,-8.0,12.0",
        "DESIGN CONDITIONS,1,2021 ASHRAE Handbook -- Fundamentals - Chapter 14 Climatic Design Information,,"
        "Heating,12,5.4,6.6,-11.1,1.5,20.7,-7.7,2.0,18.9,9.0,13.8,7.9,15.3,0.8,300,0.356,"
        "Cooling,8,9.4,33.2,18.9,31.2,18.9,29.5,18.6,22.3,28.3,21.5,27.3,20.8,26.3,3.7,290,20.4,15.1,24.4,19.6,14.3,24.0,18.8,13.6,23.5,65.2,28.3,62.5,27.2,60.1,26.5,26.4,"
        "Extremes,7.4,6.1,5.4,2.9,38.1,1.1,2.2,2.1,39.7,1.4,40.9,0.8,42.1,-0.1,43.7",
        (2.9, 33.2),
    ),
}


def header_only(path: Path, location: str, conditions: str) -> Path:
    """An EPW file of those two lines."""
    path.write_text(f"{location}\n{conditions}\n")
    return path


# Order of values: ladybug (AGPL; read, not copied), designday.py, HEATING_KEYS, COOLING_KEYS and EXTREME_KEYS "from Climate Design Data of ASHRAE Handbook";
# openstudio-standards, discussion 1948: 15 heating and 16 extreme values up to 2013, 16 and 15 in 2021.
def test_the_real_2009_header_of_chicago_gives_the_mean_minimum_and_the_04_percent_dry_bulb():
    found = design_temperatures(CHICAGO)
    assert (found.low_c, found.high_c) == (-23.7, 33.3)
    assert "Chicago Ohare Intl Ap, IL, USA" in found.source


@pytest.mark.parametrize("name", HEADERS)
def test_both_orders_of_the_extremes_are_told_apart_by_their_count(tmp_path: Path, name: str):
    location, conditions, wanted = HEADERS[name]
    found = design_temperatures(header_only(tmp_path / "site.epw", location, conditions))
    assert (found.low_c, found.high_c) == wanted


def test_of_the_2021_order_the_mean_maximum_is_never_taken_for_the_minimum(tmp_path: Path):
    location, conditions, _ = HEADERS["long beach"]
    found = design_temperatures(header_only(tmp_path / "site.epw", location, conditions))
    assert found.low_c < 5.4, "38.1 degC is the mean of the yearly maxima, not a low temperature"


@pytest.mark.parametrize(
    "old, new",
    [
        ("Extremes,7.4,", "Extremes,"),
        ("Extremes,7.4,6.1,5.4,2.9,", "Extremes,7.4,6.1,5.4,12.9,"),
        ("Cooling,8,9.4,33.2,", "Cooling,8,9.4,43.2,"),
        ("Heating,12,5.4,", "Heating,12,cold,"),
        ("Heating,", "Winter,"),
    ],
    ids=["an unknown count", "a mean minimum above the heating dry bulb", "a dry bulb above the mean maximum", "no number", "an unknown heading"],
)
def test_design_conditions_that_contradict_themselves_are_not_used(tmp_path: Path, old: str, new: str):
    location, conditions, _ = HEADERS["long beach"]
    assert old in conditions
    assert design_temperatures(header_only(tmp_path / "site.epw", location, conditions.replace(old, new))) is None


def month_of(path: Path, first_day: Path) -> Path:
    """The published first day written as each of the days 1 to 28 of January."""
    lines = first_day.read_text().splitlines()
    days = [f"1986,1,{day},{line.split(',', 3)[3]}" for day in range(1, 29) for line in lines[8:]]
    path.write_text("\n".join([*lines[:8], *days]) + "\n")
    return path


def test_a_header_in_an_unknown_order_is_said_where_a_temperature_is_missing(tmp_path: Path):
    epw = month_of(tmp_path / "site.epw", CHICAGO)
    epw.write_text(epw.read_text().replace("Extremes,11.1,9.4,", "Extremes,"))
    base = with_values(read_project(EXAMPLES / "options_storage.toml"), [("site.low_temperature", None), ("options.weather", "site.epw"), ("options.seasons", ["winter"])])
    context = context_of(base, str(tmp_path))
    assert context.base.site.low_temperature is None
    assert [found.value for found in context.assumptions if found.path == "site.low_temperature"] == ["not given"]
    assert not any(found.path == "site.high_temperature" for found in context.assumptions)


# EnergyPlus Auxiliary Programs, EPW data dictionary: an hour's radiation is the sum over the hour that ends at its number.
# With the sun at the middle of the hour, global = diffuse + direct x cosine of the zenith angle (definition of the three).
@pytest.mark.parametrize("shift_min", [-30, 30])
def test_the_published_sun_closes_best_with_the_position_at_the_middle_of_the_hour(tmp_path: Path, shift_min: int):
    found = read_weather(month_of(tmp_path / "site.epw", CHICAGO), None, [])

    def error(times: pd.DatetimeIndex) -> float:
        zenith = pvlib.solarposition.get_solarposition(times, found.latitude_deg, found.longitude_deg)["zenith"].to_numpy()
        day = slice(8, 15)
        return float(np.abs(found.ghi - found.dhi - found.dni * np.cos(np.radians(zenith)))[day].sum())

    assert error(found.middle) < 15.0 < error(found.middle + pd.Timedelta(minutes=shift_min))


# pvlib python, pvlib.iotools.read_epw: the index is the beginning of each hour in local standard time.
def test_the_hours_are_those_of_pvlibs_own_reader_moved_to_their_middle(tmp_path: Path):
    epw = month_of(tmp_path / "site.epw", CHICAGO)
    found = read_weather(epw, None, [])
    data, about = pvlib.iotools.read_epw(str(epw))
    assert all(mine - pd.Timedelta(minutes=30) == theirs.replace(year=2023) for mine, theirs in zip(found.middle, data.index, strict=True))
    assert found.middle[0].utcoffset() == pd.Timedelta(hours=-6)
    assert (found.middle[0].hour, found.middle[11].hour) == (0, 11)
    assert (found.ghi[11], found.dni[11], found.dhi[11], found.air_c[11], found.wind_m_s[11]) == (364.0, 521.0, 144.0, -3.3, 5.7)
    assert (found.latitude_deg, found.longitude_deg) == (about["latitude"], about["longitude"])


@pytest.mark.parametrize(
    "old, new, words",
    [
        (",341,688,80,", ",9999,688,80,", "ghi outside"),
        (",341,688,80,", ",341,9999,80,", "dni outside"),
        (",341,688,80,", ",341,688,9999,", "dhi outside"),
        ("-5.0,-11.1,63", "99.9,-11.1,63", "temp_air outside"),
        (",1581,210,5.7,0,0,", ",1581,210,999,0,0,", "wind_speed outside"),
    ],
)
def test_the_marks_of_missing_values_are_refused_with_the_name_of_the_column(tmp_path: Path, old: str, new: str, words: str):
    epw = month_of(tmp_path / "site.epw", CHICAGO)
    assert old in epw.read_text()
    epw.write_text(epw.read_text().replace(old, new))
    with pytest.raises(InputError, match=words):
        read_weather(epw, None, [])


def test_hours_out_of_order_are_refused(tmp_path: Path):
    epw = month_of(tmp_path / "site.epw", CHICAGO)
    lines = epw.read_text().splitlines()
    epw.write_text("\n".join([*lines[:8], *lines[9:], lines[8]]) + "\n")
    with pytest.raises(InputError, match="from midnight to midnight"):
        read_weather(epw, None, [])


def test_a_measured_file_by_the_quarter_is_refused_and_not_read_as_hours(tmp_path: Path):
    times = pd.date_range("2024-06-01", periods=96 * 28, freq="15min")
    pd.DataFrame({"time": times, "ghi": 100.0, "temp_air": 20.0}).to_csv(tmp_path / "quarters.csv", index=False)
    with pytest.raises(InputError, match="one row an hour"):
        read_weather(tmp_path / "quarters.csv", 40.0, [])


def test_a_leap_day_stays_a_day_of_its_own_between_february_and_march(tmp_path: Path):
    times = pd.date_range("2024-01-01", periods=8784, freq="1h")
    pd.DataFrame({"time": times, "ghi": 100.0, "temp_air": 20.0}).to_csv(tmp_path / "leap.csv", index=False)
    found = read_weather(tmp_path / "leap.csv", 40.0, [])
    year = year_of(found, ((0.0, 0.0),))
    assert len(year.season) == 8784
    assert (found.middle[24 * 59].month, found.middle[24 * 59].day) == (2, 29)
    assert year.season[24 * 59] == "winter" and year.season[24 * 60] == "spring"


def test_a_leap_day_of_an_epw_file_is_read_like_any_other(tmp_path: Path):
    lines = CHICAGO.read_text().splitlines()
    dates = pd.date_range("1988-02-10", periods=28, freq="D")
    days = [f"1988,{date.month},{date.day},{line.split(',', 3)[3]}" for date in dates for line in lines[8:]]
    (tmp_path / "leap.epw").write_text("\n".join([*lines[:8], *days]) + "\n")
    found = read_weather(tmp_path / "leap.epw", None, [])
    assert [(stamp.month, stamp.day) for stamp in found.middle[24 * 18 :: 24][:3]] == [(2, 28), (2, 29), (3, 1)]


# NREL, "PVWatts" insolation of fixed planes and the Redbook (NREL/TP-463-5607, 1994): Greensboro, flat plate at latitude tilt 5.0 to 5.1
# kWh/m2 a day as a yearly mean. From memory; hence the wide tolerance.
def test_a_real_years_sun_on_a_tilted_plane_lies_where_the_published_mean_does():
    total = year_of(greensboro(), ((36.0, 180.0),)).plane_w_m2[36.0, 180.0].sum() / 1000.0 / 365.0
    assert total == pytest.approx(5.05, rel=0.06)


def test_of_a_real_year_each_season_has_a_dull_day_far_below_its_median():
    year = year_of(greensboro(), (PLANE,))
    for season in ("winter", "spring", "summer", "fall"):
        dull, median = (day.plane_w_m2[PLANE].sum() / 4000.0 for day in season_days(greensboro(), year, season))
        assert 0.2 < dull < 0.75 * median and 3.0 < median < 7.0


def test_the_split_of_horizontal_sun_alone_agrees_with_the_measured_split_within_five_percent_of_a_year():
    measured = year_of(greensboro(), (PLANE,)).plane_w_m2[PLANE].sum()
    split = year_of(replace(greensboro(), dni=None, dhi=None), (PLANE,)).plane_w_m2[PLANE].sum()
    assert split == pytest.approx(measured, rel=0.05)
