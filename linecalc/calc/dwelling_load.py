"""Dwelling load by Article 220 Part III: general lighting, appliances, dryers, motors, noncoincident loads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from linecalc.calc.compare import at_least, largest_of
from linecalc.term import Number, largest, named, smallest, total, value_of

CIRCUIT_VA = 1500.0
DRYER_LEAST_VA = 5000.0
FIXED_APPLIANCES_FROM = 4
FIXED_APPLIANCE_FACTOR = 0.75
LARGEST_MOTOR_PART = 0.25
NEUTRAL_PART = 0.7
NEUTRAL_FULL_A = 200.0


@dataclass(frozen=True, slots=True)
class DemandBand:
    """A band of the lighting demand table: from and to in volt-amperes, and its demand in percent."""

    from_va: Number
    to_va: Number | None
    demand_percent: Number


def general_lighting(floor_area_ft2: Number, va_per_ft2: Number) -> Number:
    """General lighting and general-use receptacles, in volt-amperes.

    Parameters
    ----------
    floor_area_ft2 : outside dimensions, in square feet. va_per_ft2 : 3 in all editions held here.

    References
    ----------
    `load_lighting` 220.41, 220.14(J) in 2020, 220.12 in 2017.

    Examples
    --------
    >>> general_lighting(1500.0, 3.0)
    4500.0
    """
    return named(floor_area_ft2 * va_per_ft2, "S_light", "VA", "general lighting and receptacles", "load_lighting")


def small_appliance_load(circuits: Number) -> Number:
    """Small-appliance branch circuits at 1500 VA each, in volt-amperes.

    Parameters
    ----------
    circuits : their number.

    References
    ----------
    `load_small_appliance` 220.52(A).

    Examples
    --------
    >>> small_appliance_load(2.0)
    3000.0
    """
    return named(CIRCUIT_VA * circuits, "S_kitchen", "VA", "small-appliance circuits", "load_small_appliance")


def laundry_load(circuits: Number) -> Number:
    """Laundry branch circuits at 1500 VA each, in volt-amperes.

    Parameters
    ----------
    circuits : their number.

    References
    ----------
    `load_small_appliance` 220.52(B).

    Examples
    --------
    >>> laundry_load(1.0)
    1500.0
    """
    return named(CIRCUIT_VA * circuits, "S_laundry", "VA", "laundry circuits", "load_small_appliance")


def lighting_demand(load_va: Number, bands: Sequence[DemandBand]) -> Number:
    """General lighting, small-appliance and laundry load after the demand table, in volt-amperes.

    Parameters
    ----------
    load_va : their sum in volt-amperes. bands : the bands of the table, rising.

    References
    ----------
    `load_lighting_demand` Table 220.45, Table 220.42 before 2023.

    Examples
    --------
    >>> lighting_demand(9000.0, [DemandBand(0.0, 3000.0, 100.0), DemandBand(3000.0, None, 35.0)])
    5100.0
    """
    parts = [_band_part(load_va, band) for band in bands if value_of(load_va) > value_of(band.from_va)]
    demand = total(parts) if parts else load_va
    return named(demand, "S_general", "VA", "lighting, small-appliance and laundry load after demand", "load_lighting_demand")


def _band_part(load_va: Number, band: DemandBand) -> Number:
    top = load_va if band.to_va is None or value_of(load_va) <= value_of(band.to_va) else band.to_va
    width = top if value_of(band.from_va) == 0.0 else top - band.from_va
    return width * band.demand_percent / 100.0


def fixed_appliance_load(loads_va: Sequence[Number]) -> Number:
    """Appliances fastened in place: 75 percent of four or more, all of fewer, in volt-amperes.

    Parameters
    ----------
    loads_va : nameplate ratings that the factor may be applied to, in volt-amperes, one or more.

    References
    ----------
    `load_appliance_75` 220.53. The fourth appliance may lower the load: three of 3000 VA count
    for 9000 VA, with a fourth of 500 VA they count for 7125 VA.

    Examples
    --------
    >>> fixed_appliance_load([3000.0, 3000.0, 3000.0]), fixed_appliance_load([3000.0, 3000.0, 3000.0, 500.0])
    (9000.0, 7125.0)
    """
    demand = _of_so_many(total(tuple(loads_va)), len(loads_va))
    return named(demand, "S_fixed", "VA", "appliances fastened in place", "load_appliance_75")


def fixed_appliance_part(load_va: Number, number: int) -> Number:
    """What one of several appliances fastened in place counts for, in volt-amperes.

    Parameters
    ----------
    load_va : its nameplate in volt-amperes. number : how many there are.

    References
    ----------
    `load_appliance_75` 220.53.

    Examples
    --------
    >>> fixed_appliance_part(1200.0, 3), fixed_appliance_part(1200.0, 4)
    (1200.0, 900.0)
    """
    return named(_of_so_many(load_va, number), "S_part", "VA", "one appliance fastened in place, after demand", "load_appliance_75")


def _of_so_many(load_va: Number, number: int) -> Number:
    return FIXED_APPLIANCE_FACTOR * load_va if number >= FIXED_APPLIANCES_FROM else load_va


def dryer_load(nameplate_va: Number) -> Number:
    """Load of one electric clothes dryer, in volt-amperes: its nameplate, at least 5000.

    Parameters
    ----------
    nameplate_va : in volt-amperes.

    References
    ----------
    `load_dryer` 220.54.

    Examples
    --------
    >>> dryer_load(4500.0), dryer_load(5500.0)
    (5000.0, 5500.0)
    """
    return named(largest(DRYER_LEAST_VA, nameplate_va), "S_dryer", "VA", "clothes dryer, at least 5000 VA", "load_dryer")


def dryer_demand(loads_va: Sequence[Number], demand_percent: Number) -> Number:
    """Load of all dryers after the demand table, in volt-amperes.

    Parameters
    ----------
    loads_va : each dryer by :func:`dryer_load`. demand_percent : of Table 220.54 for their number.

    References
    ----------
    `load_dryer` Table 220.54.

    Examples
    --------
    >>> dryer_demand([5000.0, 5500.0], 100.0)
    10500.0
    """
    return named(total(tuple(loads_va)) * demand_percent / 100.0, "S_dryers", "VA", "clothes dryers after demand", "load_dryer")


def ev_load(nameplate_va: Number, least_va: Number) -> Number:
    """Load of EV supply equipment in a feeder or service from 2023, in volt-amperes.

    Parameters
    ----------
    nameplate_va : in volt-amperes. least_va : 7200 in 2023.

    References
    ----------
    `load_ev` 220.57 (2023).

    Examples
    --------
    >>> ev_load(5000.0, 7200.0), ev_load(11520.0, 7200.0)
    (7200.0, 11520.0)
    """
    return named(largest(least_va, nameplate_va), "S_ev", "VA", "EV supply equipment, at least 7200 VA", "load_ev")


def motor_addition(loads_va: Sequence[Number]) -> Number:
    """What the largest motor adds beside its full load: 25 percent of it, in volt-amperes.

    Parameters
    ----------
    loads_va : the motor loads that run together, in volt-amperes.

    Raises
    ------
    ValueError
        There is no motor.

    References
    ----------
    `load_motor` 220.50, 430.24.

    Examples
    --------
    >>> motor_addition([960.0, 4632.0])
    1158.0
    """
    return named(LARGEST_MOTOR_PART * largest_of(loads_va), "S_motor", "VA", "25 percent of the largest motor", "load_motor")


def motor_addition_current(currents_a: Sequence[Number]) -> Number:
    """What the largest motor on one leg adds beside its full load: 25 percent of it, in amperes.

    Parameters
    ----------
    currents_a : running currents of the motors on the leg, in amperes.

    Raises
    ------
    ValueError
        There is no motor.

    References
    ----------
    `load_motor` 220.50, 430.24; Annex D, example D1(b), takes the largest motor line by line.

    Examples
    --------
    >>> motor_addition_current([6.0, 12.0])
    3.0
    """
    return named(LARGEST_MOTOR_PART * largest_of(currents_a), "I_motor", "A", "25 percent of the largest motor of the leg", "load_motor")


def calculated_load(parts_va: Sequence[Number]) -> Number:
    """Sum of all parts of a load calculation, in volt-amperes.

    Parameters
    ----------
    parts_va : each part after its demand factor, in volt-amperes.

    References
    ----------
    `load_total` 220.40.

    Examples
    --------
    >>> calculated_load([5100.0, 8000.0, 5500.0])
    18600.0
    """
    return named(total(tuple(parts_va)), "S_total", "VA", "calculated load", "load_total")


def leg_load_current(even_va: Number, leg_va: Number, motor_a: Number) -> Number:
    """Calculated current of one leg, in amperes.

    Parameters
    ----------
    even_va : load on both legs alike, in volt-amperes at 240 V. leg_va : 120 V load on this leg
    alone, in volt-amperes. motor_a : addition for the largest motor on this leg, in amperes.

    References
    ----------
    `load_total` 220.40; Annex D, example D1(b), counts line by line in the same way.

    Examples
    --------
    >>> leg_load_current(18600.0, 1440.0, 3.0)
    92.5
    """
    return named(even_va / 240.0 + leg_va / 120.0 + motor_a, "I_leg", "A", "calculated load of one leg", "load_total")


def neutral_cooking_dryer(demand_va: Number) -> Number:
    """What ranges, ovens, cooktops and dryers put on the neutral: 70 percent, in volt-amperes.

    Parameters
    ----------
    demand_va : their load on the ungrounded conductors after demand, in volt-amperes.

    References
    ----------
    `load_neutral` 220.61(B)(1).

    Examples
    --------
    >>> neutral_cooking_dryer(8000.0)
    5600.0
    """
    return named(NEUTRAL_PART * demand_va, "S_N70", "VA", "70 percent of cooking and dryer load on the neutral", "load_neutral")


def neutral_load_current(common_va: Number, leg_va: Number, motor_a: Number) -> Number:
    """Largest load between the neutral and one leg, in amperes.

    Parameters
    ----------
    common_va : 120 V load spread over both legs, in volt-amperes at 240 V. leg_va : 120 V load on
    this leg alone, in volt-amperes. motor_a : addition for its largest 120 V motor, in amperes.

    References
    ----------
    `load_neutral` 220.61(A).

    Examples
    --------
    >>> neutral_load_current(14550.0, 0.0, 0.0)
    60.625
    """
    return named(common_va / 240.0 + leg_va / 120.0 + motor_a, "I_neutral", "A", "load between neutral and this leg", "load_neutral")


def neutral_cooking_dryer_current(demand_a: Number) -> Number:
    """What a range, oven, cooktop or dryer puts on the neutral of a feeder: 70 percent, in amperes.

    Parameters
    ----------
    demand_a : its current on the ungrounded conductors in amperes.

    References
    ----------
    `load_neutral` 220.61(B)(1).

    Examples
    --------
    >>> round(neutral_cooking_dryer_current(50.0), 6)
    35.0
    """
    return named(NEUTRAL_PART * demand_a, "I_N70", "A", "70 percent of cooking or dryer load on the neutral", "load_neutral")


def neutral_beyond_200(neutral_a: Number) -> Number:
    """The neutral load with 70 percent of what exceeds 200 A, in amperes.

    Parameters
    ----------
    neutral_a : the neutral load of a single-phase feeder or service in amperes.

    References
    ----------
    `load_neutral` 220.61(B)(2).

    Examples
    --------
    >>> neutral_beyond_200(475.0), neutral_beyond_200(180.0)
    (392.5, 180.0)
    """
    if not value_of(neutral_a) > NEUTRAL_FULL_A:
        return neutral_a
    reduced = NEUTRAL_FULL_A + NEUTRAL_PART * (neutral_a - NEUTRAL_FULL_A)
    return named(reduced, "I_N", "A", "neutral load, 70 percent of what exceeds 200 A", "load_neutral")


def range_neutral_need(branch_a: Number) -> Number:
    """Ampacity of the neutral of a household range's own circuit, in amperes.

    Parameters
    ----------
    branch_a : rating of the branch circuit, which is that of its device, in amperes.

    References
    ----------
    `cooking_circuit` 210.19(A)(3) Exception No. 2, 210.19(C) in 2023.

    Examples
    --------
    >>> range_neutral_need(40.0)
    28.0
    """
    return named(NEUTRAL_PART * branch_a, "I_N70", "A", "70 percent of the rating of the branch circuit", "cooking_circuit")


def continuous_part(loads_a: Sequence[Number], load_a: Number) -> Number:
    """The continuous part of a calculated load, in amperes, never more than the load.

    Parameters
    ----------
    loads_a : continuous loads in it (EV supply equipment above all), in amperes, one or more.
    load_a : the calculated load in amperes.

    References
    ----------
    `feeder_continuous_conductor` 215.2(A)(1).

    Examples
    --------
    >>> continuous_part([48.0], 137.0)
    48.0
    """
    parts = total(tuple(loads_a))
    part = parts if at_least(load_a, parts) else smallest(parts, load_a)
    return named(part, "I_cont", "A", "continuous part of the load", "feeder_continuous_conductor")
