"""What a project says about the study of its size: how many units, storage modules, how large an array.

Everything is optional; what is left out is assumed and listed by the study.
Angles are plain numbers in degrees, prices plain numbers in ``currency``.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from linecalc.project.equipment import Record, Text
from linecalc.project.fields import Current, Energy, Length, LoadPower, Mass, Percent, Power, SmallLength, Temperature, Time

Name = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.\-]{0,23}$")]
Span = Annotated[str, StringConstraints(pattern=r"^([01]?\d|2[0-3])-([01]?\d|2[0-4])$")]
Season = Literal["winter", "spring", "summer", "fall"]
Leg = Literal["L1", "L2", "L1-L2"]
Fixing = Literal["floor", "wall"]
Money = Annotated[float, Field(ge=0, le=1e7)]
Price = Money | tuple[Money, Money]
Count = Annotated[int, Field(ge=0, le=12)]
Fraction = Annotated[float, Field(gt=0, le=1)]


class ArrayChoice(Record):
    """One array to try: modules in series of each string; one tilt and azimuth, or one a string."""

    strings: Annotated[tuple[Annotated[int, Field(ge=1, le=60)], ...], Field(max_length=48)]
    module: Name | None = None
    tilt: tuple[Annotated[float, Field(ge=0, le=90)], ...] = ()
    azimuth: tuple[Annotated[float, Field(ge=0, le=360)], ...] = ()


class Use(Record):
    """When a backed-up load runs and with what power.

    ``load`` names a ``[load.TAG]`` whose power, legs, power factor and start
    current are taken. ``duty`` is the share of the time that it runs within
    its ``hours``; the mean counts for energy, the whole for the peak.
    ``managed`` loads are shed first.
    """

    load: Name | None = None
    power: LoadPower | None = None
    legs: Leg | None = None
    power_factor: Fraction | None = None
    duty: Percent | None = None
    hours: tuple[Span, ...] = ("0-24",)
    seasons: tuple[Season, ...] = ()
    start_current: Current | None = None
    managed: bool = False


class StorageChoice(Record):
    """The storage module that is added, where the project has none to copy; ``distance`` by place in the row."""

    equipment: Name
    harness: Literal["factory", "field-extended", "field-wired"] | None = None
    distance: tuple[Length, ...] = ()
    mounting: Fixing | None = None


class Efficiency(Record):
    """One-way efficiencies by path; ``ac_to_storage`` counts where a PV inverter charges the storage through the units."""

    pv_to_ac: Percent | None = None
    pv_to_storage: Percent | None = None
    storage_to_ac: Percent | None = None
    ac_to_storage: Percent | None = None


class Facing(Record):
    """How the strings of a PV inverter lie, in degrees."""

    tilt: Annotated[float, Field(ge=0, le=90)]
    azimuth: Annotated[float, Field(ge=0, le=360)]


class Derate(Record):
    """What remains of charge and discharge power below or above an ambient temperature."""

    below: Temperature | None = None
    above: Temperature | None = None
    charge: Percent | None = None
    discharge: Percent | None = None


class Obstacle(Record):
    """What stands in the way on a wall, measured from its left end and from the floor.

    ``clear`` is the distance that boxes keep from it, ``depth`` how far it
    stands out from the wall (left out: far enough to be in the working space).
    """

    kind: Literal["door", "window", "panel", "other"] = "other"
    left: SmallLength
    width: SmallLength
    bottom: SmallLength | None = None
    height: SmallLength | None = None
    depth: SmallLength | None = None
    clear: SmallLength | None = None


class Place(Record):
    """A wall, or a strip of floor, where units and their storage modules may stand side by side.

    ``bottom`` is the height at which the lower edge of what hangs on the wall is set.
    """

    width: SmallLength
    height: SmallLength | None = None
    depth_in_front: SmallLength | None = None
    mounting: Annotated[tuple[Fixing, ...], Field(min_length=1)] = ("floor", "wall")
    bottom: SmallLength | None = None
    mass_max: Mass | None = None
    energy_max: Energy | None = None
    obstacle: dict[Name, Obstacle] = {}


class Accessory(Record):
    """A part that goes with something: a mount kit, a harness by distance, an extra breaker.

    ``order_with`` is the equipment it must be ordered together with. A stacking
    kit says with ``stack`` how many storage modules may stand one on another on the floor.
    """

    price: Price
    per: Literal["project", "unit", "storage module", "stacked module", "pv module", "string", "added unit"] = "project"
    stack: Annotated[int, Field(ge=2, le=6)] | None = None
    mounting: Fixing | None = None
    up_to: Length | None = None
    order_with: Name | None = None
    note: Text | None = None


class Change(Record):
    """What else changes in the project for a number of units or storage modules: path and new value."""

    units: Annotated[int, Field(ge=1, le=12)] | None = None
    units_min: Annotated[int, Field(ge=1, le=12)] | None = None
    modules_min: Annotated[int, Field(ge=0, le=48)] | None = None
    set: dict[str, str | bool | int | float | tuple[str, ...]] = {}
    without: tuple[Name, ...] = ()


class Options(Record):
    """The study of the system's size: ranges, loads in an outage, weather, places and prices."""

    units: tuple[Annotated[int, Field(ge=1, le=12)], Annotated[int, Field(ge=1, le=12)]] | None = None
    modules_per_unit: tuple[Count, Count] | None = None
    array: dict[Name, ArrayChoice] = {}
    inverter: dict[Name, Facing] = {}
    storage_module: StorageChoice | None = None
    spacing: SmallLength | None = None
    use: dict[Name, Use] = {}
    load_file: Text | None = None
    outages: Annotated[tuple[Time, ...], Field(max_length=8)] = ()
    sun: Literal["none", "p10", "median"] | None = None
    seasons: tuple[Season, ...] = ()
    starting_charge: Percent | None = None
    reserve: Percent | None = None
    restart: Percent | None = None
    aged: Percent | None = None
    standby_power: Power | None = None
    charge_limit: Literal["modules add", "unit only"] | None = None
    efficiency: Efficiency = Efficiency()
    derate: tuple[Derate, ...] = ()
    latitude: Annotated[float, Field(ge=-66, le=66)] | None = None
    weather: Text | None = None
    array_losses: Percent | None = None
    place: dict[Name, Place] = {}
    price: dict[Name, Price] = {}
    accessory: dict[Name, Accessory] = {}
    currency: Annotated[str, StringConstraints(pattern=r"^[A-Za-z$€£ ]{1,8}$")] = "USD"
    budget: Money | None = None
    energy_value: Annotated[float, Field(ge=0, le=10)] | None = None
    years: Annotated[float, Field(gt=0, le=40)] | None = None
    length_range: dict[Name, tuple[Length, Length]] = {}
    change: tuple[Change, ...] = ()
