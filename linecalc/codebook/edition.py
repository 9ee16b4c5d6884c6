"""Editions of the code, and which wording of a changed rule each one carries.

Where an edition changed only numbers, the tables hold them. Where it changed a
rule, the wording is chosen here, as data, and the rule has one function for
each wording.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from linecalc.calc.ampacity import LowerPortionBasis
from linecalc.errors import InputError, Problem


class SupplySideLimit(Enum):
    """What the sum of supply-side sources is held against."""

    DEVICES_TO_SERVICE_RATING = "source devices to service rating"
    CURRENTS_TO_SERVICE_CONDUCTORS = "source currents to service conductor ampacity"


class TapFeeding(Enum):
    """What can feed a tap of a feeder that sources join."""

    SOURCE_CURRENTS = "feeder device plus 125 percent of the source currents"
    SOURCE_DEVICES = "feeder device plus the source devices"


class MeasuredDemandBar(Enum):
    """What measured demand (220.87) may not be used for where the house has renewable sources or peak shaving."""

    WHOLE_METHOD = "the whole method"
    THIRTY_DAYS = "the 30-day alternative"


class HermeticDevice(Enum):
    """What the device of a motor-compressor is held to at 175 percent of its current."""

    AT_MOST = "at most 175 percent"
    NEXT_SIZE_UP = "next standard size above 175 percent"


@dataclass(frozen=True, slots=True)
class Wording:
    """The rule wordings of one edition, chosen by data.

    ``lower_portion_other_reading`` is the basis of the 10 percent that editions
    to 2014 had; some readers still apply it in 2017, so its result is printed
    where it differs. ``ev_least_va`` is the least load of EV supply equipment
    in a feeder, 0 where the edition sets none; ``fixed_appliance_least_va`` the
    rating below which an appliance does not count for the 75 percent.
    ``common_supply_equipment``: up to six feeders from one panel may supply a building.
    ``left_out_motor_reading``: its 220.60 names 125 percent of a motor that is
    not the largest of noncoincident loads, which some read as to be added.
    """

    year: str
    lower_portion: LowerPortionBasis
    lower_portion_other_reading: LowerPortionBasis | None
    supply_side: SupplySideLimit
    supply_side_minimum_size: bool
    supply_side_bond_required: bool
    feed_through_method: bool
    common_supply_equipment: bool
    rooftop_height_required: bool
    island_is_stand_alone: bool
    rapid_shutdown_label_color: str
    pv_label_shows_current: bool
    pv_ac_label: bool
    hazard_control_exception: bool
    power_control: bool
    tap_feeding: TapFeeding
    ev_least_va: float
    fixed_appliance_least_va: float
    measured_demand_bar: MeasuredDemandBar
    left_out_motor_reading: bool
    hermetic_device: HermeticDevice


EDITIONS = ("2017", "2020", "2023")
_2017 = Wording(
    year="2017",
    lower_portion=LowerPortionBasis.OF_CIRCUIT,
    lower_portion_other_reading=LowerPortionBasis.OF_HIGHER,
    supply_side=SupplySideLimit.DEVICES_TO_SERVICE_RATING,
    supply_side_minimum_size=False,
    supply_side_bond_required=False,
    feed_through_method=False,
    common_supply_equipment=False,
    rooftop_height_required=True,
    island_is_stand_alone=True,
    rapid_shutdown_label_color="title black on yellow, the rest black on white",
    pv_label_shows_current=True,
    pv_ac_label=True,
    hazard_control_exception=False,
    power_control=False,
    tap_feeding=TapFeeding.SOURCE_CURRENTS,
    ev_least_va=0.0,
    fixed_appliance_least_va=0.0,
    measured_demand_bar=MeasuredDemandBar.WHOLE_METHOD,
    left_out_motor_reading=False,
    hermetic_device=HermeticDevice.AT_MOST,
)
_2020 = replace(
    _2017,
    year="2020",
    lower_portion_other_reading=None,
    supply_side=SupplySideLimit.CURRENTS_TO_SERVICE_CONDUCTORS,
    supply_side_minimum_size=True,
    supply_side_bond_required=True,
    feed_through_method=True,
    common_supply_equipment=True,
    rooftop_height_required=False,
    pv_label_shows_current=False,
    power_control=True,
    fixed_appliance_least_va=500.0,
    left_out_motor_reading=True,
)
_2023 = replace(
    _2020,
    year="2023",
    island_is_stand_alone=False,
    rapid_shutdown_label_color="contrasting, as the AHJ accepts",
    pv_ac_label=False,
    hazard_control_exception=True,
    tap_feeding=TapFeeding.SOURCE_DEVICES,
    ev_least_va=7200.0,
    measured_demand_bar=MeasuredDemandBar.THIRTY_DAYS,
    hermetic_device=HermeticDevice.NEXT_SIZE_UP,
)
_WORDINGS = {words.year: words for words in (_2017, _2020, _2023)}


def wording(year: str) -> Wording:
    """The wordings of an edition given as ``2023`` or ``NEC 2023``.

    Raises
    ------
    InputError
        The edition is not one that linecalc holds.
    """
    key = year.removeprefix("NEC").strip()
    if key not in _WORDINGS:
        expected = ", ".join(EDITIONS)
        raise InputError([Problem(f'edition "{year}" is not held; one of {expected}', key="edition", found=year, expected=expected)])
    return _WORDINGS[key]
