"""Weather files, days by season, and site temperatures from an EPW header. The weather is invented."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from linecalc.errors import InputError
from linecalc.options.context import context_of
from linecalc.options.run import run_options
from linecalc.options.sun import MEDIAN, P10, clear_day, season_days, year_of
from linecalc.options.weather import design_temperatures, read_weather
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
PLANE = (22.0, 190.0)
LOCATION = "LOCATION,Invented Field,XX,XXX,Invented,000000,39.50,-105.00,-7.0,1600.0"
CONDITIONS = (
    "DESIGN CONDITIONS,1,Invented conditions,,Heating,1,-18.8,-15.6,-22.5,0.5,-13.6,-19.9,0.7,-10.5,12.1,3.2,10.5,3.6,2.6,180,"
    "Cooling,7,15.3,34.6,15.7,33.1,15.6,31.6,15.4,18.6,27.6,18.0,27.0,17.4,26.5,4.2,130,15.6,13.4,20.6,14.9,12.8,20.4,14.1,12.2,20.2,60.0,27.6,58.1,27.0,56.3,26.5,700,"
    "Extremes,10.9,9.5,8.4,21.7,-25.1,37.4,3.9,1.3,-27.9,38.3,-30.2,39.1,-32.4,39.8,-35.3,40.7"
)
REST = ("TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0", "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,invented", "COMMENTS 2,invented", "DATA PERIODS,1,1,Data,Sunday,1/1,12/31")


def sky() -> pd.DataFrame:
    """A year of hours: clear sky times a cloudiness that runs through each ten days."""
    times = pd.date_range("2023-01-01", periods=8760, freq="1h", tz="Etc/GMT+7")
    found = pvlib.location.Location(39.5, -105.0, "Etc/GMT+7").get_clearsky(times + pd.Timedelta(minutes=30), model="simplified_solis")
    found.index = times
    cloud = 0.2 + 0.08 * (np.arange(8760) // 24 % 10)
    return found.mul(cloud, axis=0)


def write_epw(path: Path, conditions: str = CONDITIONS) -> Path:
    """An EPW file with that weather."""
    rows = []
    for stamp, hour in sky().iterrows():
        fields = ["9999"] * 35
        fields[:6] = [str(stamp.year), str(stamp.month), str(stamp.day), str(stamp.hour + 1), "0", "invented"]
        fields[6], fields[13], fields[14], fields[15], fields[21] = "10.0", f"{hour.ghi:.1f}", f"{hour.dni:.1f}", f"{hour.dhi:.1f}", "2.0"
        rows.append(",".join(fields))
    path.write_text("\n".join([LOCATION, conditions, *REST, *rows]) + "\n")
    return path


@pytest.fixture(scope="module")
def epw(tmp_path_factory) -> Path:
    """The file, written once."""
    return write_epw(tmp_path_factory.mktemp("weather") / "invented.epw")


def test_the_tenth_percentile_day_has_less_sun_than_the_median_and_each_is_a_day_of_the_file(epw: Path):
    weather = read_weather(epw, None, [])
    year = year_of(weather, (PLANE,))
    for season in ("winter", "summer"):
        low, middle = season_days(weather, year, season)
        assert (low.sun, middle.sun) == (P10, MEDIAN)
        assert low.plane_w_m2[PLANE].sum() < middle.plane_w_m2[PLANE].sum()
        daily = year.plane_w_m2[PLANE].reshape(-1, 24).sum(axis=1)
        assert np.isclose(daily, low.plane_w_m2[PLANE].sum() / 4).any()


def test_a_tenth_of_the_days_lies_at_or_below_the_tenth_percentile_day(epw: Path):
    weather = read_weather(epw, None, [])
    year = year_of(weather, (PLANE,))
    low, _ = season_days(weather, year, "summer")
    months = weather.middle[::24].month
    daily = year.plane_w_m2[PLANE].reshape(-1, 24).sum(axis=1)[np.isin(months, (6, 7, 8))]
    assert (daily <= low.plane_w_m2[PLANE].sum() / 4 + 1e-6).sum() == -(-len(daily) * 10 // 100)


# Source: pvlib python, pvlib.iotools.read_epw, pvlib.irradiance.get_total_irradiance (Hay and Davies), called independently.
def test_the_years_sun_on_the_plane_agrees_with_pvlib_on_its_own(epw: Path):
    ours = year_of(read_weather(epw, None, []), (PLANE,)).plane_w_m2[PLANE].sum()
    data, about = pvlib.iotools.read_epw(str(epw))
    middle = data.index + pd.Timedelta(minutes=30)
    position = pvlib.solarposition.get_solarposition(middle, about["latitude"], about["longitude"])
    columns = [data[name].to_numpy(dtype=float) for name in ("dni", "ghi", "dhi")]
    plane = pvlib.irradiance.get_total_irradiance(*PLANE, position["apparent_zenith"].to_numpy(), position["azimuth"].to_numpy(), *columns, dni_extra=pvlib.irradiance.get_extra_radiation(middle).to_numpy(), model="haydavies")
    assert ours == pytest.approx(np.nansum(np.clip(plane["poa_global"], 0, None)), rel=1e-3)


def test_the_clear_day_lies_above_every_day_of_cloud(epw: Path):
    weather = read_weather(epw, None, [])
    _, median = season_days(weather, year_of(weather, (PLANE,)), "summer")
    assert clear_day("summer", 39.5, (PLANE,), 30.0).plane_w_m2[PLANE].sum() > median.plane_w_m2[PLANE].sum()


def test_seasons_turn_round_south_of_the_equator():
    north, south = (clear_day("winter", latitude, ((0.0, 0.0),), 15.0).plane_w_m2[0.0, 0.0].sum() for latitude in (35.0, -35.0))
    assert south == pytest.approx(north, rel=0.08)


# Invented values in the order of the 2009 handbook; real headers stand in test_published_weather.py.
def test_the_seasons_of_a_year_turn_round_south_of_the_equator(epw: Path):
    south = replace(read_weather(epw, None, []), latitude_deg=-39.5)
    year = year_of(south, (PLANE,))
    assert (year.season[0], year.season[24 * 180]) == ("summer", "winter")
    low, _ = season_days(south, year, "summer")
    assert low.label[-5:-3] in ("12", "01", "02")


def test_a_day_without_sun_has_the_air_of_the_dullest_days(epw: Path):
    context = context_of(with_values(read_project(EXAMPLES / "options_array.toml"), [("options.weather", epw.name)]), str(epw.parent))
    for season in context.seasons:
        dark, dull = (next(day for day in context.days if (day.season, day.sun) == (season, sun)) for sun in ("none", P10))
        assert (dark.air_c == dull.air_c).all()
        assert not dark.plane_w_m2


def test_a_weather_file_with_few_days_of_a_season_is_refused_for_that_season(epw: Path):
    weather = read_weather(epw, None, [])
    month = replace(weather, middle=weather.middle[: 24 * 31], ghi=weather.ghi[: 24 * 31], dni=weather.dni[: 24 * 31], dhi=weather.dhi[: 24 * 31], air_c=weather.air_c[: 24 * 31], wind_m_s=weather.wind_m_s[: 24 * 31])
    year = year_of(month, (PLANE,))
    assert season_days(month, year, "winter")
    with pytest.raises(InputError, match="0 whole days of summer"):
        season_days(month, year, "summer")


def test_design_temperatures_come_from_the_header_with_their_source(epw: Path):
    found = design_temperatures(epw)
    assert (found.low_c, found.high_c) == (-25.1, 34.6)
    assert "invented.epw" in found.source


def test_a_header_without_design_conditions_gives_none(tmp_path: Path):
    assert design_temperatures(write_epw(tmp_path / "bare.epw", "DESIGN CONDITIONS,0")) is None


def test_site_temperatures_that_are_not_given_are_filled_and_listed(epw: Path):
    base = with_values(read_project(EXAMPLES / "options_storage.toml"), [("site.low_temperature", None), ("options.weather", epw.name)])
    context = context_of(base, str(epw.parent))
    assert context.base.site.low_temperature.value == -25.1
    assert context.base.site.high_temperature == base.site.high_temperature
    assert any(found.path == "site.low_temperature" for found in context.assumptions)


def test_with_weather_the_study_reports_no_sun_the_tenth_percentile_and_the_median_and_a_year(epw: Path):
    base = with_values(read_project(EXAMPLES / "options_array.toml"), [("options.weather", epw.name), ("options.units", [1, 1]), ("options.modules_per_unit", [0, 0])])
    found = run_options(base, str(epw.parent), workers=1).results[0]
    assert {hours.sun for hours in found.hours} == {"none", P10, MEDIAN}
    assert [lost.label for lost in found.lost][-1] == "year"
    for aged in (True, False):
        least = {sun: found.least_hours(sun, aged) for sun in ("none", P10, MEDIAN)}
        assert least["none"] <= least[P10] + 1e-9


def test_a_measured_csv_needs_a_latitude_and_its_columns(tmp_path: Path):
    frame = sky()
    frame.index = frame.index.tz_localize(None)
    frame.assign(temp_air=12.0)[["ghi", "temp_air"]].rename_axis("time").to_csv(tmp_path / "measured.csv")
    with pytest.raises(InputError, match="latitude"):
        read_weather(tmp_path / "measured.csv", None, [])
    weather = read_weather(tmp_path / "measured.csv", 39.5, [])
    assert year_of(weather, (PLANE,)).plane_w_m2[PLANE].sum() > 0
    (tmp_path / "bad.csv").write_text("time,ghi\n2023-01-01,1\n")
    with pytest.raises(InputError, match="temp_air"):
        read_weather(tmp_path / "bad.csv", 39.5, [])


@pytest.mark.parametrize("name, text, words", [("w.txt", "x", "ends in .epw or .csv"), ("w.epw", "no weather\n", "not a readable EPW")])
def test_a_file_that_is_no_weather_is_refused(tmp_path: Path, name: str, text: str, words: str):
    (tmp_path / name).write_text(text)
    with pytest.raises(InputError, match=words):
        read_weather(tmp_path / name, None, [])


def test_a_missing_weather_file_is_refused(tmp_path: Path):
    with pytest.raises(InputError, match="cannot be read"):
        read_weather(tmp_path / "none.epw", None, [])
