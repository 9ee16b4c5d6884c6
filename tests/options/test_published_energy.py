"""Energy and clipping of a real year against pvlib's own chain of models, called independently of the modules under test.

Sources: pvlib python (https://pvlib-python.readthedocs.io): ``modelchain.ModelChain`` with ``pvwatts`` for DC, losses and AC,
``inverter.pvwatts``, ``temperature.faiman`` and ``temperature.sapm_cell``; A. Dobos, PVWatts Version 5 Manual, NREL/TP-6A20-62641 (2014).
The year is that of tests/options/real_year.py.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import pandas as pd
import pytest
from pvlib.location import Location
from pvlib.modelchain import ModelChain
from pvlib.pvsystem import Array, FixedMount, PVSystem

from linecalc.options.array import unit_array
from linecalc.options.harvest import Harvest, Lines, harvest
from linecalc.options.outage import Floats
from linecalc.options.records import ArrayPlan, UnitPlant
from linecalc.options.sun import year_of
from tests.options.real_year import ALTITUDE_M, greensboro

PLANE = (25.0, 200.0)
DC_W = 7000.0
GAMMA = -0.35
EFFICIENCY = 0.96
FAIMAN = ({"u0": 25.0, "u1": 6.84}, "faiman")
SAPM_OPEN_RACK = ({"a": -3.56, "b": -0.075, "deltaT": 3.0}, "sapm")


@cache
def chain(ac_w: float, reflection: str, temperature: tuple[str, float] | str) -> ModelChain:
    """pvlib's chain over the year: 7 kW on one plane behind an inverter of ``ac_w``."""
    parameters, model = FAIMAN if temperature == "faiman" else SAPM_OPEN_RACK
    array = Array(FixedMount(*PLANE), module_parameters={"pdc0": DC_W, "gamma_pdc": GAMMA / 100.0}, temperature_model_parameters=parameters)
    system = PVSystem([array], inverter_parameters={"pdc0": ac_w / EFFICIENCY, "eta_inv_nom": EFFICIENCY})
    weather = greensboro()
    place = Location(weather.latitude_deg, weather.longitude_deg, "Etc/GMT+5", ALTITUDE_M)
    found = ModelChain(
        system, place, transposition_model="haydavies", aoi_model=reflection, spectral_model="no_loss", temperature_model=model, dc_model="pvwatts", ac_model="pvwatts",
        losses_model="pvwatts",
    )
    columns = {"ghi": weather.ghi, "dni": weather.dni, "dhi": weather.dhi, "temp_air": weather.air_c, "wind_speed": weather.wind_m_s}
    return found.run_model(pd.DataFrame(columns, index=weather.middle))


@cache
def array_w(losses_percent: float) -> Floats:
    """Our DC power over the year."""
    year = year_of(greensboro(), (PLANE,))
    unit = UnitPlant("U1", 5000.0, 0.0, 0.0, (((0, DC_W),),), None, 13.0, None)
    return unit_array(unit, ArrayPlan("A", (16,), None, (PLANE[0],), (PLANE[1],)), year.plane_w_m2, year.cell_c, GAMMA, losses_percent, 8760).after_w


@dataclass(frozen=True)
class Case:
    """One inverter: its rating, and the charge power of a storage that never fills."""

    ac_w: float
    charge_w: float = 0.0


SMALL, MIDDLE, LARGE, WITH_ROOM = Case(3800.0), Case(5000.0), Case(5600.0), Case(3800.0, 1000.0)
AMPLE, SHORT = Case(6030.0), Case(5700.0)
CASES = (SMALL, MIDDLE, LARGE, WITH_ROOM, AMPLE, SHORT)


@cache
def followed() -> Harvest:
    """Our year without load for every case at once: what does not charge is exported, or lost by the rating."""
    dc = np.repeat(array_w(PVWATTS_LOSSES)[None, :], len(CASES), axis=0)
    rating, charge = (np.array([getattr(case, name) for case in CASES]) for name in ("ac_w", "charge_w"))
    return harvest(Lines(dc, dc, 0.0 * dc, np.full_like(dc, np.inf), rating, charge, 1e9 * np.sign(charge), 0.0 * charge, EFFICIENCY, 1.0, 1.0), 1.0)


def lost_kwh(case: Case) -> float:
    """What the rating of a case costs in the year."""
    return float(followed().rating_kwh[CASES.index(case)])


# The default losses of PVWatts: 2, 3, 2, 2, 0.5, 1.5, 1 and 3 percent, multiplied (NREL/TP-6A20-62641, table of system losses).
PVWATTS_LOSSES = 100.0 * (1.0 - np.prod([0.98, 0.97, 0.98, 0.98, 0.995, 0.985, 0.99, 0.97]))


def test_the_default_losses_are_those_of_pvwatts():
    assert PVWATTS_LOSSES == pytest.approx(14.08, abs=0.005)
    assert chain(5000.0, "no_loss", "faiman").results.losses == pytest.approx(1.0 - PVWATTS_LOSSES / 100.0)


def test_the_dc_energy_of_a_real_year_agrees_with_pvlibs_chain_hour_by_hour():
    theirs = chain(5000.0, "no_loss", "faiman").results.dc.to_numpy()
    ours = array_w(PVWATTS_LOSSES)
    assert ours.sum() == pytest.approx(theirs.sum(), rel=1e-4)
    assert np.abs(ours - theirs).max() < 0.002 * DC_W


# What our array leaves out of PVWatts: reflection at the glass (physical model) and a warmer cell (SAPM, open rack). Their effect on this
# year is 2 percent; array_losses may be stated higher by as much.
def test_the_full_pvwatts_chain_gives_about_two_percent_less_than_ours():
    theirs = chain(5000.0, "physical", "sapm").results.dc.to_numpy().sum()
    assert 1.01 < array_w(PVWATTS_LOSSES).sum() / theirs < 1.035


@pytest.mark.parametrize("case", [SMALL, MIDDLE, LARGE])
def test_the_ac_energy_of_a_real_year_agrees_with_pvlibs_inverter_within_a_percent(case: Case):
    theirs = chain(case.ac_w, "no_loss", "faiman").results.ac.to_numpy().clip(min=0.0).sum() / 1000.0
    assert followed().used_kwh[CASES.index(case)] * EFFICIENCY == pytest.approx(theirs, rel=0.01)


# pvlib holds AC at the rating; lost energy is what the array gives beyond the power at which it does.
@pytest.mark.parametrize("case, share_percent", [(SMALL, 7.7), (MIDDLE, 0.5)])
def test_the_energy_lost_by_the_rating_agrees_with_pvlibs_clipping(case: Case, share_percent: float):
    found = chain(case.ac_w, "no_loss", "faiman").results
    dc, ac = found.dc.to_numpy(), found.ac.to_numpy()
    held = ac >= case.ac_w - 1e-6
    theirs = float((dc - case.ac_w / EFFICIENCY)[held].sum()) / 1000.0
    assert lost_kwh(case) == pytest.approx(theirs, rel=0.01)
    assert 100.0 * lost_kwh(case) / followed().array_kwh[0] == pytest.approx(share_percent, abs=0.05)


def test_clipping_vanishes_where_the_inverter_takes_all_that_pvlibs_array_gives():
    most = chain(5000.0, "no_loss", "faiman").results.dc.to_numpy().max() * EFFICIENCY
    assert SHORT.ac_w < most < AMPLE.ac_w
    assert lost_kwh(AMPLE) == 0.0 < lost_kwh(SHORT)


# Common practice, no source: with room in the storage, AC rating and DC charge rate together are what an array can use.
def test_over_a_real_year_a_storage_that_always_has_room_raises_the_limit_by_its_charge_power():
    beyond = np.maximum(array_w(PVWATTS_LOSSES) - WITH_ROOM.ac_w / EFFICIENCY - WITH_ROOM.charge_w, 0.0).sum() / 1000.0
    assert followed().full_kwh[CASES.index(WITH_ROOM)] == 0.0
    assert lost_kwh(WITH_ROOM) == pytest.approx(beyond)
    assert lost_kwh(WITH_ROOM) < 0.2 * lost_kwh(SMALL)
