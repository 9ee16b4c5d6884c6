"""Load profiles against published end-use figures and a published standard load profile. Sources beside each case."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from linecalc.errors import InputError
from linecalc.options.outage import DAY_STEPS, STARTS, Cases, simulate
from linecalc.options.power import peak_of
from linecalc.options.profile import HOURS, SEASONS, Profile, profile_of
from linecalc.project.read import read_project
from linecalc.variants import with_values

BASE = read_project(Path(__file__).parents[2] / "examples" / "options_storage.toml")


def profile(**use: str | list[str]) -> Profile:
    """The profile of one named load."""
    return profile_of(with_values(BASE, [("options.use", {"load": {"legs": "L1-L2", "power_factor": 1.0} | use})]), ".", [])


@dataclass(frozen=True)
class EndUse:
    """A published line: power, hours or share of the time, and energy over the days counted."""

    power: str
    hours: tuple[str, ...]
    duty: str
    days: int
    published_kwh: float
    tolerance: float


# U.S. Department of Energy, "Estimating Appliance and Home Electronic Energy Use" (copies compared: City of Livonia,
# https://www.livonia.gov/1460/Estimating-Appliance-Home-Electronic-Ene; Midwest Electric Cooperative): 200 W fan 4 h a day for 120 days is
# 96 kWh; computer and monitor 120 W + 150 W 4 h a day is 394 kWh a year.
# Apogee Interactive, "Determining kWh Use: Estimating": a refrigerator of 1200 W that runs 20 % of the time uses about 2100 kWh a year.
# French Broad Electric Membership Corporation, "Appliance Electric Usage" (https://www.frenchbroademc.com/index.php/2021/03/11/appliance-electric-usage/):
# power, use and cost of 30 days at 13.5 cents a kWh: central air conditioner of two tons 2,500 W 8 h 81.00 USD; space heater 1,500 W 8 h 48.60;
# dehumidifier 480 W 12 h 23.33; new freezer 80 W 24 h 7.78; hot tub 3,000 W "cycling 15 % on" 43.74; clothes dryer 4,000 W 16 loads (an hour each) 8.64.
PUBLISHED = {
    "window fan": EndUse("200 W", ("12-16",), "100 %", 120, 96.0, 1e-9),
    "computer and monitor": EndUse("270 W", ("18-22",), "100 %", 365, 394.0, 2e-3),
    "refrigerator": EndUse("1200 W", ("0-24",), "20 %", 365, 2100.0, 2e-3),
    "central air conditioner": EndUse("2500 W", ("11-19",), "100 %", 30, 81.00 / 0.135, 1e-4),
    "space heater": EndUse("1500 W", ("16-24",), "100 %", 30, 48.60 / 0.135, 1e-4),
    "dehumidifier": EndUse("480 W", ("20-8",), "100 %", 30, 23.33 / 0.135, 1e-3),
    "freezer": EndUse("80 W", ("0-24",), "100 %", 30, 7.78 / 0.135, 1e-3),
    "hot tub": EndUse("3000 W", ("0-24",), "15 %", 30, 43.74 / 0.135, 1e-4),
    "clothes dryer": EndUse("4000 W", ("19-20",), "53.3333 %", 30, 8.64 / 0.135, 1e-4),
}


@pytest.mark.parametrize("name", PUBLISHED)
def test_a_named_load_with_published_hours_and_duty_uses_the_published_energy(name: str):
    use = PUBLISHED[name]
    found = profile(power=use.power, hours=list(use.hours), duty=use.duty)
    for season in SEASONS:
        assert found.day_kwh(season) * use.days == pytest.approx(use.published_kwh, rel=use.tolerance)


# The same publication of the U.S. Department of Energy: a refrigerator runs at full power a third of the time that it is plugged in.
# NREL, Building America House Simulation Protocols (2010): a new standard refrigerator uses 434 kWh a year, as in the default of NREL's
# open residential measures for EnergyPlus ("EnergyGuide rated annual energy consumption", 434 kWh/yr).
def test_a_refrigerator_by_the_rule_of_a_third_uses_what_the_protocols_publish_for_a_new_one():
    assert profile(power="150 W", duty="33.3333 %").day_kwh("summer") * 365 == pytest.approx(434.0, rel=0.02)


# U.S. Energy Information Administration, "Electricity use in homes" (https://www.eia.gov/energyexplained/use-of-energy/electricity-use-in-homes.php):
# about 10,500 kWh a household and year (2020), of it 19 % air conditioning. With air conditioning in summer alone (92 days):
# 1,995 kWh, as a three-ton unit of 3 kW would use in 24 h a day at a duty of 30 %.
def test_air_conditioning_in_one_season_adds_up_to_its_published_share_of_a_year():
    found = profile(power="3 kW", duty="30.1 %", seasons=["summer"])
    days = {"winter": 90, "spring": 92, "summer": 92, "fall": 91}
    assert sum(found.day_kwh(season) * days[season] for season in SEASONS) == pytest.approx(0.19 * 10500.0, rel=0.01)


# Common practice, no source: a four-ton air conditioner takes about 4 kWh an hour at full duty (100 %), so that 13 kWh are gone in
# three to four hours. 4 tons x 12,000 Btu/h / EER 12 = 4,000 W (definitions of the ton and of the energy efficiency ratio).
@pytest.mark.parametrize("eer, least_h, most_h", [(11.0, 2.9, 3.1), (12.0, 3.2, 3.3), (14.0, 3.7, 3.9)])
def test_thirteen_kilowatthours_carry_a_four_ton_air_conditioner_three_to_four_hours(eer: float, least_h: float, most_h: float):
    found = profile(power=f"{4 * 12000 / eer:.1f} W")
    load = np.repeat([found.mean_w("summer", hour) for hour in range(HOURS)], 4)[None, :]
    one, day = np.ones(1), np.ones((1, DAY_STEPS))
    hours = simulate(Cases(load, 0.0 * day, 5000.0 * day, 9600.0 * day, 9600.0 * one, 0.0 * one, 13.0 * one, 13.0 * one, 0.0 * one, 0.0 * one, 1.0, 1.0, 1.0), 96).hours
    assert hours.shape == (1, STARTS)
    assert least_h < hours.min() and hours.max() < most_h


# BDEW/VDEW, "Repraesentative VDEW-Lastprofile" (VDEW M-28/99), profile H0 (households): mean power of each hour in kW of a household that
# uses 1000 kWh a year, from the quarter-hour values as published in demandlib 0.2.2 (MIT licence), bdew/bdew_data/selp_series.csv, working days.
H0_WORKDAY_KW = {
    "winter": (
        0.05831, 0.04315, 0.03955, 0.03851, 0.03913, 0.04684, 0.09009, 0.12943, 0.13350, 0.12322, 0.11621, 0.11832,
        0.13071, 0.12950, 0.11535, 0.10482, 0.10521, 0.12867, 0.16619, 0.18708, 0.16824, 0.14097, 0.11667, 0.08639,
    ),
    "summer": (
        0.07365, 0.05484, 0.04978, 0.04686, 0.04878, 0.05926, 0.09790, 0.12971, 0.14164, 0.14407, 0.13924, 0.14196,
        0.15783, 0.15269, 0.13177, 0.11879, 0.11479, 0.12249, 0.14217, 0.16517, 0.16658, 0.15755, 0.14451, 0.11208,
    ),
    "spring": (
        0.06658, 0.04917, 0.04429, 0.04311, 0.04407, 0.05264, 0.09291, 0.12972, 0.13747, 0.13597, 0.13204, 0.13328,
        0.14961, 0.14566, 0.12678, 0.11344, 0.10614, 0.11633, 0.14485, 0.17189, 0.16805, 0.15595, 0.13568, 0.10027,
    ),
}
H0_WORKDAY_KW["fall"] = H0_WORKDAY_KW["spring"]
# Sum of the 96 quarter-hour values over four, by the same file.
H0_WORKDAY_KWH = {"winter": 2.55606, "summer": 2.81411, "spring": 2.6959, "fall": 2.6959}
YEAR_KWH = 6000.0


def standard_profile(folder: Path, first_leg: float = 0.5) -> Profile:
    """The published working days scaled to 6000 kWh a year, written as a load file and read back."""
    rows = ["season,hour,l1_w,l2_w"]
    for season, powers in H0_WORKDAY_KW.items():
        rows += [f"{season},{hour},{first_leg * power * YEAR_KWH:.4f},{(1 - first_leg) * power * YEAR_KWH:.4f}" for hour, power in enumerate(powers)]
    (folder / "h0.csv").write_text("\n".join(rows) + "\n")
    return profile_of(with_values(BASE, [("options.use", {}), ("options.load_file", "h0.csv")]), str(folder), [])


@pytest.mark.parametrize("season", SEASONS)
def test_a_published_standard_profile_keeps_its_energy_and_its_peak_hour_in_the_reader(tmp_path: Path, season: str):
    found = standard_profile(tmp_path)
    assert found.day_kwh(season) == pytest.approx(H0_WORKDAY_KWH[season] * YEAR_KWH / 1000.0, rel=1e-4)
    means = [found.mean_w(season, hour) for hour in range(HOURS)]
    assert max(means) == pytest.approx(max(H0_WORKDAY_KW[season]) * YEAR_KWH)
    assert means.index(max(means)) == (20 if season == "summer" else 19)


def test_a_published_standard_profile_adds_up_to_about_its_yearly_energy(tmp_path: Path):
    found = standard_profile(tmp_path)
    days = {"winter": 140, "spring": 55, "summer": 123, "fall": 47}
    workdays_only = sum(found.day_kwh(season) * count for season, count in days.items())
    assert workdays_only == pytest.approx(YEAR_KWH, rel=0.05), "the weekends, left out here, use 6 to 13 % more a day"


def test_a_standard_profile_on_one_leg_loads_that_leg_alone(tmp_path: Path):
    running = tuple(found for found in standard_profile(tmp_path, 1.0).appliances if found.runs("winter", 19))
    assert peak_of(running).leg_a == pytest.approx(0.18708 * YEAR_KWH / 120.0)


def test_hours_carried_by_a_standard_profile_follow_from_its_cumulated_energy(tmp_path: Path):
    found = standard_profile(tmp_path)
    load = np.repeat([found.mean_w("winter", hour) for hour in range(HOURS)], 4)[None, :]
    one, day = np.ones(1), np.ones((1, DAY_STEPS))
    hours = simulate(Cases(load, 0.0 * day, 5000.0 * day, 9600.0 * day, 9600.0 * one, 0.0 * one, 10.0 * one, 10.0 * one, 0.0 * one, 0.0 * one, 1.0, 1.0, 1.0), 192).hours[0]
    for start in (0, 7, 18):
        energy = np.cumsum([found.mean_w("winter", (start + hour) % HOURS) / 1000.0 for hour in range(48)])
        whole = int(np.searchsorted(energy, 10.0))
        by_hand = whole + (10.0 - (energy[whole - 1] if whole else 0.0)) / (found.mean_w("winter", (start + whole) % HOURS) / 1000.0)
        assert hours[start] == pytest.approx(by_hand)
    assert hours.min() < 24.0 * 10.0 / 15.33636 < hours.max(), "the mean load would carry the same from every hour"


# NREL, Building America House Simulation Protocols: hourly shares of a refrigerator's day, as in NREL's open residential measures for EnergyPlus (weekday schedule).
REFRIGERATOR = (
    0.040, 0.039, 0.038, 0.037, 0.036, 0.036, 0.038, 0.040, 0.041, 0.041, 0.040, 0.040,
    0.042, 0.042, 0.042, 0.041, 0.044, 0.048, 0.050, 0.048, 0.047, 0.046, 0.044, 0.041,
)


def test_the_published_hours_of_a_refrigerator_give_back_its_year(tmp_path: Path):
    day_w = 434.0 / 365.0 * 1000.0
    (tmp_path / "cold.csv").write_text("hour,l1_w,l2_w\n" + "".join(f"{hour},{share * day_w:.5f},0\n" for hour, share in enumerate(REFRIGERATOR)))
    found = profile_of(with_values(BASE, [("options.use", {}), ("options.load_file", "cold.csv")]), str(tmp_path), [])
    assert found.day_kwh("winter") * 365.0 == pytest.approx(434.0 * sum(REFRIGERATOR), rel=1e-6)
    assert max(range(HOURS), key=lambda hour: found.mean_w("winter", hour)) == 18


def test_named_loads_and_a_file_add_up(tmp_path: Path):
    (tmp_path / "base.csv").write_text("hour,l1_w,l2_w\n" + "".join(f"{hour},100,50\n" for hour in range(24)))
    both = with_values(BASE, [("options.use", {"pump": {"power": "800 W", "legs": "L1-L2", "power_factor": 1.0, "duty": "50 %", "hours": ["6-8"]}}), ("options.load_file", "base.csv")])
    found = profile_of(both, str(tmp_path), [])
    assert found.day_kwh("winter") == pytest.approx(24 * 0.150 + 2 * 0.400)
    assert not found.peaks_known


@pytest.mark.parametrize(
    "rows, words",
    [
        ("".join(f",{hour},100,50\n" for hour in range(23)), "hour 23 of winter 0 times"),
        ("".join(f",{hour},100,50\n" for hour in range(24)) + ",5,100,50\n", "hour 5 of winter 2 times"),
        ("".join(f",{hour},100,50\n" for hour in range(24)) + "summer,17,900,50\n", "hour 17 of summer 2 times"),
        ("".join(f"winter,{hour},100,50\n" for hour in range(24)), "hour 0 of spring 0 times"),
    ],
    ids=["an hour left out", "an hour given twice", "a season on top of all seasons", "seasons left out"],
)
def test_a_load_file_with_gaps_or_doubles_is_refused_instead_of_read_as_less_or_more_load(tmp_path: Path, rows: str, words: str):
    (tmp_path / "load.csv").write_text("season,hour,l1_w,l2_w\n" + rows)
    with pytest.raises(InputError, match=words):
        profile_of(with_values(BASE, [("options.use", {}), ("options.load_file", "load.csv")]), str(tmp_path), [])


def test_a_load_file_needs_only_the_seasons_that_are_studied(tmp_path: Path):
    (tmp_path / "load.csv").write_text("season,hour,l1_w,l2_w\n" + "".join(f"winter,{hour},100,50\n" for hour in range(24)))
    found = profile_of(with_values(BASE, [("options.use", {}), ("options.load_file", "load.csv"), ("options.seasons", ["winter"])]), str(tmp_path), [])
    assert found.day_kwh("winter") == pytest.approx(3.6)
