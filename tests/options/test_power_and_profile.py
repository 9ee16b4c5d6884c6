"""The backed-up load by the hour, and the coincident peak against what the units carry."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from linecalc.errors import InputError
from linecalc.options.context import context_of
from linecalc.options.power import hours_kept, kept_in, peak_of, power_check, why_not
from linecalc.options.profile import SEASONS, Appliance, Profile, hours_of, profile_of
from linecalc.options.records import Plant
from linecalc.options.run import run_options
from linecalc.project.read import read_project
from linecalc.variants import with_value, with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
BASE = read_project(EXAMPLES / "options_storage.toml")


def load(name: str = "load", power_w: float = 2400.0, legs: str = "L1-L2", hours=range(24), start_a: float | None = None, managed: bool = False, duty: float = 1.0) -> Appliance:
    """A load of power factor 1."""
    amps = power_w / (240.0 if legs == "L1-L2" else 120.0)
    return Appliance(name, power_w, amps * (legs != "L2"), amps * (legs != "L1"), duty, frozenset(hours), frozenset(SEASONS), start_a, managed)


def plant(firm_w: float = 7600.0, leg_a: float | None = 32.0, start_a: float | None = 110.0) -> Plant:
    """A candidate with given ratings."""
    return Plant((), 10.4, 9.8, firm_w, firm_w, 5000.0, 45.0, leg_a, start_a, 7560.0, 7600.0)


def test_hours_of_use_wrap_around_midnight():
    assert hours_of(("22-2", "12-13")) == {22, 23, 0, 1, 12}


def test_the_mean_counts_the_duty_and_the_peak_does_not():
    profile = Profile((load(duty=0.25),), True)
    assert profile.mean_w("winter", 0) == 600.0
    assert profile.day_kwh("winter") == pytest.approx(14.4)
    assert peak_of(profile.appliances).power_w == 2400.0


def test_loads_of_120_v_add_on_their_leg_only():
    peak = peak_of((load("a", 1200.0, "L1"), load("b", 600.0, "L2"), load("c", 2400.0)))
    assert peak.leg_a == pytest.approx(10.0 + 10.0)


def test_a_motor_starts_on_top_of_the_other_loads_with_its_own_running_current_left_out():
    peak = peak_of((load("motor", 4800.0, start_a=90.0), load("rest", 2400.0)))
    assert peak.start_a == pytest.approx(90.0 + 10.0)


def test_one_motor_starts_at_a_time():
    peak = peak_of((load("large", 4800.0, start_a=90.0), load("small", 1200.0, start_a=40.0)))
    assert peak.start_a == pytest.approx(95.0)


@pytest.mark.parametrize(
    "running, words",
    [
        ((load(power_w=7601.0),), "7.6 kW at once"),
        ((load(power_w=3960.0, legs="L1"),), "33.0 A on one leg"),
        ((load(start_a=111.0),), "start of load"),
    ],
)
def test_each_limit_alone_ends_the_outage(running, words: str):
    assert words in why_not(peak_of(running), plant())


def test_a_peak_equal_to_every_limit_is_carried():
    assert why_not(peak_of((load(power_w=7600.0, start_a=110.0),)), plant(leg_a=7600.0 / 240.0)) == ""


def test_managed_loads_are_shed_the_last_first_and_only_as_far_as_needed():
    profile = Profile((load("base", 3000.0), load("first", 3000.0, managed=True), load("second", 3000.0, managed=True)), True)
    kept = kept_in(profile, plant(), "winter", 0)
    assert kept.shed == ("second",)
    assert [found.name for found in kept.kept] == ["base", "first"]
    assert kept.why == ""


def test_the_peak_is_held_against_what_the_storage_gives_where_that_is_less_than_the_rating():
    weak = replace(plant(), discharge_w=5000.0)
    assert "the units carry 5.0 kW" in why_not(peak_of((load(power_w=6000.0),)), weak)
    assert why_not(peak_of((load(power_w=5000.0),)), weak) == ""


def test_a_rating_that_is_not_known_is_not_held_against_the_peak():
    unknown = replace(plant(), leg_a=None, start_a=None)
    assert why_not(peak_of((load(power_w=7600.0, legs="L1", start_a=500.0),)), unknown) == ""


def test_loads_that_do_not_run_in_the_hour_or_the_season_do_not_count():
    winter = replace(load("heat", 5000.0), seasons=frozenset({"winter"}))
    profile = Profile((winter, load("evening", 3000.0, hours=range(18, 22))), True)
    peaks = {(season, hour): kept_in(profile, plant(), season, hour).peak.power_w for season in ("winter", "summer") for hour in (3, 19)}
    assert peaks == {("winter", 3): 5000.0, ("winter", 19): 8000.0, ("summer", 3): 0.0, ("summer", 19): 3000.0}


def test_the_hour_that_decides_is_the_largest_peak_or_the_largest_that_is_not_carried():
    profile = Profile((load("base", 2000.0), load("evening", 3000.0, hours=range(18, 22))), True)
    carried = power_check("winter", hours_kept(profile, plant(), "winter"))
    assert (carried.hour, carried.peak_w, carried.carried) == (18, 5000.0, True)
    broken = power_check("winter", hours_kept(profile, plant(firm_w=4000.0), "winter"))
    assert (broken.hour, broken.carried) == (18, False) and "5.0 kW at once" in broken.why


def test_an_unmanaged_peak_that_shedding_does_not_cure_stays():
    profile = Profile((load("base", 9000.0), load("pool", 1000.0, managed=True)), True)
    found = power_check("winter", hours_kept(profile, plant(), "winter"))
    assert not found.carried and found.shed == ("pool",)


def test_an_uncarried_hour_ends_every_outage_of_its_season_at_0_h():
    heavy = with_value(BASE, "options.use.kitchen.power", "9 kW")
    found = run_options(with_value(heavy, "options.units", [1, 1]), workers=1)
    assert {hours.least_h for hours in found.results[0].hours} == {0.0}


def test_a_use_may_take_its_figures_from_a_load_of_the_project():
    house = with_values(BASE, [("load.AC", {"panel": "BP", "kind": "motor-compressor", "rla": "17 A", "lra": "92 A", "voltage": "240 V", "power_factor": 0.9}), ("options.use", {"cooling": {"load": "AC", "duty": "50 %"}})])
    (found,) = profile_of(house, ".", []).appliances
    assert found.start_a == 92.0
    assert found.power_w == pytest.approx(17.0 * 240.0 * 0.9)


def test_an_inverter_driven_compressor_has_no_start():
    house = with_values(BASE, [("load.AC", {"panel": "BP", "kind": "motor-compressor", "rla": "17 A", "mca": "22 A", "inverter_driven": True, "voltage": "240 V"}), ("options.use", {"cooling": {"load": "AC"}})])
    assert profile_of(house, ".", []).appliances[0].start_a is None


# Hand-worked: letter G goes up to 6.29 kVA/hp (Table 430.7(B)): 6.29 x 1.5 hp x 1000 / 240 V = 39.3 A.
def test_a_motor_without_locked_rotor_current_starts_by_its_code_letter():
    motor = {"panel": "BP", "kind": "motor", "hp": "1-1/2 hp", "code_letter": "G", "voltage": "240 V", "power_factor": 0.8}
    house = with_values(BASE, [("load.PUMP", motor), ("options.use", {"well": {"load": "PUMP"}})])
    (found,) = profile_of(house, ".", []).appliances
    assert found.start_a == pytest.approx(6.29 * 1.5 * 1000.0 / 240.0)


def test_a_motor_of_unknown_start_is_named_and_so_are_loads_taken_without_one():
    motor = {"panel": "BP", "kind": "motor", "hp": "1-1/2 hp", "voltage": "240 V", "power_factor": 0.8}
    uses = {"well": {"load": "PUMP"}, "lamps": {"power": "100 W", "legs": "L1"}, "saw": {"power": "1 kW", "legs": "L1", "start_current": "60 A"}}
    assumed: list = []
    profile_of(with_values(BASE, [("load.PUMP", motor), ("options.use", uses)]), ".", assumed)
    told = {found.value: found.reason for found in assumed if found.path == "options.use start_current"}
    assert told["not known"].startswith("well:")
    assert "lamps" in told["none"] and "saw" not in told["none"]


def test_every_motors_start_is_kept_and_the_worst_of_them_decides():
    motors = (load("pump", 1200.0, "L1", start_a=60.0), load("fridge", 600.0, "L2", start_a=30.0), load("rest", 2400.0))
    peak = peak_of(motors)
    assert dict(peak.starts) == pytest.approx({"pump": 60.0 + 10.0, "fridge": 30.0 + 10.0})
    assert (peak.motor, peak.start_a) == ("pump", pytest.approx(70.0))
    found = power_check("winter", hours_kept(Profile(motors, True), plant(start_a=65.0), "winter"))
    assert "start of pump" in found.why and dict(found.starts) == dict(peak.starts)


def test_a_motor_on_both_legs_starts_on_the_leg_that_carries_more_of_the_rest():
    peak = peak_of((load("motor", 2400.0, start_a=50.0), load("heater", 1200.0, "L2"), load("lamps", 240.0, "L1")))
    assert dict(peak.starts) == {"motor": pytest.approx(50.0 + 10.0)}


def test_the_worst_start_of_each_motor_is_that_of_its_worst_hour():
    hours = Profile((load("pump", 1200.0, "L1", start_a=60.0), load("oven", 2400.0, "L1", range(17, 19))), True)
    found = power_check("winter", hours_kept(hours, plant(), "winter"))
    assert dict(found.starts) == {"pump": pytest.approx(60.0 + 20.0)}


def test_a_soft_start_counts_before_the_locked_rotor_current():
    motor = {"panel": "BP", "kind": "motor-compressor", "rla": "17 A", "lra": "92 A", "soft_start_current": {"value": "40 A", "source": "soft starter (invented)"}, "voltage": "240 V"}
    (found,) = profile_of(with_values(BASE, [("load.AC", motor), ("options.use", {"cooling": {"load": "AC"}})]), ".", []).appliances
    assert found.start_a == 40.0


@pytest.mark.parametrize("power, real_w, amps", [("1200 W", 1200.0, 1200.0 / 0.8 / 120.0), ("1200 VA", 960.0, 10.0)])
def test_watts_are_real_and_volt_amperes_apparent_power(power: str, real_w: float, amps: float):
    (found,) = profile_of(with_value(BASE, "options.use", {"saw": {"power": power, "legs": "L2", "power_factor": 0.8}}), ".", []).appliances
    assert (found.power_w, found.leg_1_a, found.leg_2_a) == pytest.approx((real_w, 0.0, amps))


def test_a_load_without_legs_and_power_factor_is_taken_as_240_v_and_its_assumptions_are_listed():
    assumed: list = []
    (found,) = profile_of(with_value(BASE, "options.use", {"oven": {"power": "2.4 kW"}}), ".", assumed).appliances
    assert (found.leg_1_a, found.leg_2_a, found.duty) == (10.0, 10.0, 1.0)
    assert {one.path for one in assumed} == {"options.use.oven.legs", "options.use.oven.power_factor", "options.use.oven.duty", "options.use start_current"}


def test_a_use_without_power_and_without_load_is_refused():
    with pytest.raises(InputError, match="states no power"):
        profile_of(with_value(BASE, "options.use", {"x": {"legs": "L1"}}), ".", [])


def test_a_scaled_profile_has_its_power_and_currents_changed_and_its_duty_kept():
    found = Profile((load("a", 1000.0, duty=0.5),), True).scaled(1.2)
    assert (found.day_kwh("winter"), found.appliances[0].leg_1_a, found.appliances[0].duty) == pytest.approx((14.4, 5.0, 0.5))


def test_without_uses_and_runtime_load_the_calculated_load_of_the_backed_up_panels_runs_all_day():
    assumed: list = []
    found = profile_of(with_values(BASE, [("options.use", {}), ("backup.runtime_load", None)]), ".", assumed)
    assert found.mean_w("summer", 3) == pytest.approx(27.0 * 240.0 * 0.95)
    assert any("worst case" in one.reason for one in assumed)


def test_without_any_backed_up_load_the_study_is_refused():
    with pytest.raises(InputError, match="no backed-up load is known"):
        profile_of(with_values(BASE, [("options.use", {}), ("backup.runtime_load", None), ("load.BACKUP", None)]), ".", [])


def test_an_unknown_load_names_those_that_are_there():
    with pytest.raises(InputError, match="BACKUP"):
        profile_of(with_value(BASE, "options.use", {"x": {"load": "nothing"}}), ".", [])


def test_without_hours_of_use_the_stated_runtime_load_runs_all_day_and_is_listed_as_assumed():
    assumed: list = []
    profile = profile_of(with_value(BASE, "options.use", {}), ".", assumed)
    assert profile.mean_w("fall", 3) == 1500.0
    assert any(found.path == "options.use" for found in assumed)


def test_a_file_of_hourly_means_is_read_and_its_peaks_are_said_to_be_unknown(tmp_path: Path):
    (tmp_path / "load.csv").write_text("hour,l1_w,l2_w\n" + "".join(f"{hour},{100 + hour},50\n" for hour in range(24)))
    assumed: list = []
    profile = profile_of(with_values(BASE, [("options.use", {}), ("options.load_file", "load.csv")]), str(tmp_path), assumed)
    assert profile.mean_w("summer", 5) == pytest.approx(155.0)
    assert not profile.peaks_known
    assert any("peak" in found.value for found in assumed)


@pytest.mark.parametrize("text, words", [("hour,l1_w\n0,1\n", "columns"), ("hour,l1_w,l2_w\n0,x,1\n", "numbers"), ("hour,l1_w,l2_w\n24,1,1\n", "0 to 23"), ("hour,l1_w,l2_w\n", "no hours"), ("hour,l1_w,l2_w\n0,nan,1\n", "positive")])
def test_a_bad_load_file_is_refused_with_the_reason(tmp_path: Path, text: str, words: str):
    (tmp_path / "load.csv").write_text(text)
    with pytest.raises(InputError, match=words):
        profile_of(with_value(BASE, "options.load_file", "load.csv"), str(tmp_path), [])


def test_a_sun_that_needs_weather_is_refused_without_it():
    with pytest.raises(InputError, match="needs a weather file"):
        context_of(with_value(BASE, "options.sun", "p10"), ".")


def test_cold_takes_from_the_discharge_and_so_from_the_power_served():
    cold = with_value(BASE, "options.derate", [{"below": "5 degC", "discharge": "2 %"}])
    usual, less = (run_options(with_values(house, [("options.units", [1, 1]), ("options.modules_per_unit", [0, 0]), ("options.array", {"A18": {"strings": [9, 9]}})]), workers=1).results[0] for house in (BASE, cold))
    winter = [next(hours for hours in found.hours if (hours.season, hours.sun, hours.aged) == ("winter", "clear", False)) for found in (usual, less)]
    assert winter[1].share_served < winter[0].share_served
