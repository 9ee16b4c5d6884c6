"""From a candidate to its outages and days: settings, derating, age and recharge with hand-worked numbers; the balance over many plants."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.build import Built, build
from linecalc.options.context import Context, context_of
from linecalc.options.energy import Energy, energies
from linecalc.options.outage import STARTS
from linecalc.options.profile import HOURS, SEASONS, Appliance, Profile
from linecalc.options.records import Hours
from linecalc.options.sun import CLEAR, NONE
from linecalc.project.read import read_project
from linecalc.variants import with_values

BASE = read_project(Path(__file__).parents[2] / "examples" / "options_storage.toml")
TEMPERATURES = {"winter": -14.0, "spring": 11.0, "summer": 36.0, "fall": 11.0}


def constant(power_w: float, duty: float = 1.0, hours: range = range(HOURS), managed: bool = False) -> Appliance:
    """A 240 V load of power factor 1 in all seasons."""
    return Appliance("load", power_w, power_w / 240.0, power_w / 240.0, duty, frozenset(hours), frozenset(SEASONS), None, managed)


def one_load(power_w: float, duty: float = 1.0) -> Profile:
    """That load alone."""
    return Profile((constant(power_w, duty),), True)


@cache
def context() -> Context:
    """Case 1 with days of 24 h; unit 7.6 kW, 9.8 kWh, 45 W standby, each module 9.8 kWh more."""
    return context_of(with_values(BASE, [("options.outages", ["24 h"])]), ".")


@cache
def built(name: str) -> Built:
    """A candidate by its name, built once."""
    return build(context(), next(one for one in context().candidates if one.name == name))


def studied(name: str, profile: Profile, where: Context | None = None, **changed: float) -> Energy:
    """Outages and days of one candidate under changed settings."""
    here = where or context()
    return energies(here, [built(name)], replace(here.settings, **changed), profile)[0]


def hours(found: Energy, season: str = "winter", sun: str = NONE, aged: bool = False) -> Hours:
    """One case of it."""
    (one,) = [hours for hours in found.hours if (hours.season, hours.sun, hours.aged) == (season, sun, aged)]
    return one


# 950 W at 95 % take 1000 W from the storage, the standby draw 45 W: 9.8 kWh / 1.045 kW = 9.38 h. Within the last quarter the load
# alone counts, hence half a percent.
def test_hours_without_sun_follow_from_usable_energy_efficiency_and_standby_draw():
    assert hours(studied("1u0m-A18", one_load(950.0))).least_h == pytest.approx(9.8 / 1.045, rel=5e-3)


@pytest.mark.parametrize(
    "changed, share",
    [({"starting": 0.5}, 0.5), ({"reserve": 0.2}, 0.8), ({"starting": 0.6, "reserve": 0.2}, 0.4), ({"starting": 0.2, "reserve": 0.2}, 0.0), ({"starting": 0.1, "reserve": 0.3}, 0.0)],
)
def test_starting_charge_and_reserve_leave_their_share_of_the_energy(changed: dict[str, float], share: float):
    assert hours(studied("1u0m-A18", one_load(950.0), **changed)).least_h == pytest.approx(share * 9.8 / 1.045, rel=5e-3)


def test_aged_storage_carries_its_share_and_both_ages_are_reported():
    found = studied("1u0m-A18", one_load(950.0), aged=0.6)
    assert hours(found, aged=True).least_h == pytest.approx(0.6 * hours(found).least_h, rel=5e-3)


def test_energy_counts_the_duty_of_a_load():
    half, whole = (hours(studied("1u0m-A18", one_load(power, duty))).least_h for power, duty in ((1900.0, 0.5), (950.0, 1.0)))
    assert half == whole


def test_a_storage_module_more_carries_its_energy_more():
    one, two = (hours(studied(name, one_load(950.0))).least_h for name in ("1u0m-A18", "1u1m-A18"))
    assert two == pytest.approx(2.0 * one, rel=5e-3)


def test_a_second_unit_draws_standby_power_of_its_own():
    unit, module = (hours(studied(name, one_load(950.0))).least_h for name in ("2u0m-A18", "1u1m-A18"))
    assert unit == pytest.approx(19.6 / 1.090, rel=5e-3) and module == pytest.approx(19.6 / 1.045, rel=5e-3)


def test_a_peak_above_the_units_ends_every_outage_at_0_h_and_serves_nothing():
    found = studied("1u0m-A18", Profile((constant(950.0), constant(7000.0, 0.01, range(18, 19))), True))
    assert {one.least_h for one in found.hours} == {0.0}
    assert {one.share_served for one in found.hours} == {0.0}
    assert {one.median_h for one in found.hours} == {0.0}


def test_a_managed_load_is_shed_and_counts_as_unserved_energy_but_ends_no_outage():
    found = studied("1u0m-A18", Profile((constant(950.0), constant(7000.0, 1.0, range(18, 19), True)), True))
    assert hours(found).least_h == pytest.approx(9.8 / 1.045, rel=5e-3)
    alone = hours(studied("1u0m-A18", one_load(950.0))).share_served
    assert hours(found).share_served == pytest.approx(alone * 22.8 / 29.8)
    assert found.power[0].shed == ("load",)


def test_the_share_served_is_energy_served_over_energy_asked():
    assert hours(studied("1u0m-A18", one_load(950.0))).share_served == pytest.approx(9.8 / 1.045 / 24.0, rel=5e-3)


def test_every_season_and_sun_is_simulated_new_and_aged_from_every_hour():
    found = studied("1u0m-A18", one_load(950.0))
    assert {(one.season, one.sun, one.aged) for one in found.hours} == {(season, sun, aged) for season in SEASONS for sun in (NONE, CLEAR) for aged in (True, False)}
    assert {len(one.by_start_h) for one in found.hours} == {STARTS}


def test_least_and_median_are_those_of_the_starting_hours():
    one = hours(studied("1u0m-A18", Profile((constant(950.0, 1.0, range(12)),), True)))
    assert one.least_h == min(one.by_start_h) and one.median_h == float(np.median(one.by_start_h))
    assert one.least_h < one.median_h


def derated(*rules: dict[str, str]) -> Context:
    """Case 1 with what cold or heat takes."""
    return context_of(with_values(BASE, [("options.outages", ["24 h"]), ("options.derate", list(rules))]), ".")


def test_cold_below_its_limit_takes_from_the_discharge_and_only_in_that_season():
    cold = derated({"below": "0 degC", "discharge": "10 %"})
    found = studied("1u0m-A18", one_load(950.0), cold)
    # 10 % of 7.6 kW is 760 W: the load of 950 W is unserved at once.
    assert hours(found, "winter").least_h == pytest.approx(0.25 * 760.0 / 950.0)
    assert hours(found, "summer").least_h == pytest.approx(9.8 / 1.045, rel=5e-3)


def test_heat_above_its_limit_takes_from_the_charge_and_so_from_the_recharge():
    hot = derated({"above": "30 degC", "charge": "2 %"})
    usual, less = (dict(studied("1u0m-A18", one_load(10.0), where).recharge_share) for where in (context(), hot))
    label = next(name for name in usual if name.startswith("summer"))
    # 2 % of 5 kW is 100 W at 97 %; some 14 h of sun of the longest day give 1.3 kWh of 9.8 kWh.
    assert usual[label] == pytest.approx(1.0)
    assert less[label] == pytest.approx(0.1 * 0.97 * 13.5 / 9.8, rel=0.08)
    assert less[next(name for name in usual if name.startswith("spring"))] == pytest.approx(1.0)


def test_a_temperature_at_the_limit_is_not_beyond_it():
    found = studied("1u0m-A18", one_load(950.0), derated({"below": "-14 degC", "discharge": "1 %"}, {"above": "36 degC", "discharge": "1 %"}))
    assert hours(found, "winter").least_h == hours(found, "summer").least_h == pytest.approx(9.8 / 1.045, rel=5e-3)


def test_of_several_deratings_the_lowest_counts():
    found = studied("1u0m-A18", one_load(950.0), derated({"below": "0 degC", "discharge": "5 %"}, {"below": "5 degC", "discharge": "50 %"}))
    assert hours(found, "winter").least_h == pytest.approx(0.25 * 380.0 / 950.0)


@pytest.mark.parametrize("sun", [CLEAR, NONE])
def test_days_with_and_without_sun_have_the_temperatures_of_the_site_by_season(sun: str):
    assert {day.season: float(day.air_c[0]) for day in context().days if day.sun == sun} == TEMPERATURES
    assert [found.value for found in context().assumptions if found.path == "air temperature"] == ["winter -14, spring and fall 11, summer 36 degC"]


def test_that_a_long_outage_repeats_its_day_is_listed_and_a_day_itself_is_not():
    long = context_of(with_values(BASE, [("options.outages", ["72 h"])]), ".")
    assert [found.value for found in long.assumptions if found.path == "options.outages"] == ["the same day"]
    assert not [found for found in context().assumptions if found.path == "options.outages"]


def test_without_site_temperatures_those_taken_are_listed_as_not_given():
    bare = context_of(with_values(BASE, [("site.low_temperature", None)]), ".")
    (told,) = [found for found in bare.assumptions if found.path == "air temperature"]
    assert told.value.startswith("winter 0,") and "low temperature not given" in told.reason


def test_the_restart_threshold_delays_the_service_after_an_empty_night_and_not_the_first_failure():
    early, late = (hours(studied("1u0m-A18", one_load(1500.0), restart=share), "winter", CLEAR) for share in (0.05, 0.9))
    assert early.by_start_h == late.by_start_h
    assert late.share_served < early.share_served


def test_the_recharge_of_a_day_is_what_the_sun_leaves_above_the_reserve():
    # A load that takes nearly all sun of a winter day leaves little; the storage begins at its reserve at midnight.
    small, large = (dict(studied("1u2m-A14", one_load(power), reserve=0.2).recharge_share) for power in (10.0, 1500.0))
    for label in small:
        assert 0.0 <= large[label] <= small[label] <= 1.0
    winter = next(name for name in small if name.startswith("winter"))
    day = next(one for one in studied("1u2m-A14", one_load(10.0)).lost if one.label == winter)
    # All the array's energy at 97 %, less standby (45 W) and load over the sunny 9 h, over 29.4 kWh less the reserve of a fifth.
    assert small[winter] == pytest.approx((day.array_kwh - 9.0 * 0.055) * 0.97 / (29.4 * 0.8), rel=0.03)


def test_with_a_full_storage_in_the_morning_a_second_day_loses_what_the_first_one_stored():
    limited = replace(built("1u0m-A18"), plant=replace(built("1u0m-A18").plant, export_limit_w=1000.0))
    here = context()
    found = energies(here, [limited], here.settings, one_load(1.0))[0]
    summer = next(one for one in found.lost if one.label.startswith("summer"))
    # Nothing is drained at night (1 W): full from the start, the day exports 1 kW at most.
    assert summer.used_kwh < 1.0 / 0.97 * 15.0 + 0.1
    assert summer.full_kwh > 9.0


def test_a_reserve_leaves_less_room_for_the_days_sun():
    limited = replace(built("1u0m-A18"), plant=replace(built("1u0m-A18").plant, export_limit_w=1000.0))
    here = context()
    none, half = (
        next(one for one in energies(here, [limited], replace(here.settings, reserve=share), one_load(900.0))[0].lost if one.label.startswith("summer")) for share in (0.0, 0.5)
    )
    assert half.full_kwh > none.full_kwh + 1.0


@settings(max_examples=15, deadline=None)
@given(
    name=st.sampled_from(["1u0m-A18", "1u2m-A14", "2u1m-A18", "2u4m-A14"]),
    power=st.floats(10.0, 7000.0),
    duty=st.floats(0.05, 1.0),
    starting=st.floats(0.0, 1.0),
    reserve=st.floats(0.0, 0.6),
    restart=st.floats(0.0, 0.4),
    paths=st.tuples(*(st.floats(0.7, 1.0),) * 3),
)
def test_the_balance_of_every_outage_closes_over_many_plants(
    name: str, power: float, duty: float, starting: float, reserve: float, restart: float, paths: tuple[float, float, float]
):
    to_ac, to_storage, from_storage = paths
    found = studied(name, one_load(power, duty), starting=starting, reserve=reserve, restart=restart, pv_to_ac=to_ac, pv_to_storage=to_storage, storage_to_ac=from_storage)
    assert max(one.residual_kwh for one in found.hours) <= 1e-9
    assert all(-1e-9 <= one.share_served <= 1.0 + 1e-9 for one in found.hours)
    assert all(hours(found, season, NONE, aged).least_h <= hours(found, season, CLEAR, aged).least_h + 1e-9 for season in SEASONS for aged in (True, False))
    for day in found.lost:
        assert day.array_kwh == pytest.approx(day.used_kwh + day.input_kwh + day.rating_kwh + day.full_kwh)
        assert min(day.used_kwh, day.input_kwh, day.rating_kwh, day.full_kwh) >= -1e-9
    assert all(-1e-9 <= share <= 1.0 + 1e-9 for _, share in found.recharge_share)


def test_more_modules_never_carry_fewer_hours_and_more_array_never_loses_less():
    """The two laws on whole candidates: the unit's standby draw is the same on both sides, and no outage here ends by a trip first."""
    found = {name: studied(name, one_load(950.0)) for name in ("1u0m-A18", "1u1m-A18", "1u2m-A18", "1u0m-A14")}
    for season in SEASONS:
        for sun in (NONE, CLEAR):
            none, one, two = (hours(found[name], season, sun).by_start_h for name in ("1u0m-A18", "1u1m-A18", "1u2m-A18"))
            assert all(few <= more + 1e-9 <= most + 2e-9 for few, more, most in zip(none, one, two, strict=True))
        small, large = (next(day for day in found[name].lost if day.label.startswith(season)).clipped_kwh for name in ("1u0m-A14", "1u0m-A18"))
        assert small <= large + 1e-9
