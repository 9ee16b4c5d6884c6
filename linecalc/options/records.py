"""Records of the sizing study: what is tried, and what is found about it."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from linecalc.network.records import Assumption


class Verdict(Enum):
    """What the study says of a candidate."""

    PASSES = "passes"
    UNSETTLED = "not settled"
    FAILS = "fails"


@dataclass(frozen=True, slots=True)
class ArrayPlan:
    """An array to try: modules in series of each string, with tilt and azimuth in degrees a string.

    ``module`` is None where every string keeps its own of the project.
    """

    name: str
    strings: tuple[int, ...]
    module: str | None
    tilt_deg: tuple[float, ...]
    azimuth_deg: tuple[float, ...]

    @property
    def count(self) -> int:
        """Modules in the whole array."""
        return sum(self.strings)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A number of units, the storage modules on each of them, and an array."""

    units: int
    modules: tuple[int, ...]
    array: ArrayPlan

    @property
    def storage_modules(self) -> int:
        """Storage modules on all units together."""
        return sum(self.modules)

    @property
    def name(self) -> str:
        """Short name: units, storage modules, array; ``2u3m-A22``."""
        return f"{self.units}u{self.storage_modules}m-{self.array.name}"


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a candidate does not pass, or is not settled: what was checked, on what, and the message."""

    rule: str
    subject: str
    message: str

    @property
    def text(self) -> str:
        """One line."""
        return f"{self.subject}: {self.message}" if self.subject else self.message


@dataclass(frozen=True, slots=True)
class CircuitChoice:
    """A circuit as the electrical study chose it."""

    tag: str
    ends: str
    device_a: float | None
    conductor: str
    length_ft: float | None


@dataclass(frozen=True, slots=True)
class BusLoad:
    """A bus with its deciding method: demand against limit in amperes."""

    tag: str
    method: str
    demand_a: float | None
    limit_a: float | None
    left_a: float | None


@dataclass(frozen=True, slots=True)
class RacewayChoice:
    """A raceway as the electrical study chose it; ``size`` is None where none of the table holds its conductors."""

    section: str
    method: str
    size: str | None


@dataclass(frozen=True, slots=True)
class PlaceEnergy:
    """Nominal energy of the storage in one place against what the adopted code allows there, in kilowatt-hours."""

    subject: str
    energy_kwh: float
    limit_kwh: float
    within: bool
    message: str


@dataclass(frozen=True, slots=True)
class Electrical:
    """The full electrical study of one candidate, reduced to what the answer needs."""

    fails: tuple[Reason, ...]
    not_checked: tuple[Reason, ...]
    warnings: int
    circuits: tuple[CircuitChoice, ...]
    buses: tuple[BusLoad, ...]
    raceways: tuple[RacewayChoice, ...] = ()
    places: tuple[PlaceEnergy, ...] = ()


@dataclass(frozen=True, slots=True)
class UnitPlant:
    """Figures of one unit with its storage and its part of the array; power in watts, energy in kilowatt-hours.

    ``inputs`` holds for each PV input its strings as (index in the array,
    modules, watts a module); ``input_current_a`` is the input's working limit
    and ``string_current_a`` what one string gives at full sun.
    """

    tag: str
    ac_export_w: float
    charge_w: float
    usable_kwh: float
    inputs: tuple[tuple[tuple[int, float], ...], ...]
    input_current_a: float | None
    string_current_a: float
    input_power_w: float | None


@dataclass(frozen=True, slots=True)
class Plant:
    """Figures of a whole candidate; power in watts, energy in kilowatt-hours, current in amperes.

    ``coupled`` are the PV inverters beside the units; ``ac_export_w`` is the
    rating of the units within the utility's limit on export, ``export_limit_w``
    that limit itself.
    """

    units: tuple[UnitPlant, ...]
    nominal_kwh: float
    usable_kwh: float
    ac_island_w: float
    discharge_w: float
    charge_w: float
    standby_w: float
    leg_a: float | None
    start_a: float | None
    pv_dc_w: float
    ac_export_w: float
    coupled: tuple[str, ...] = ()
    export_limit_w: float | None = None

    @property
    def firm_w(self) -> float:
        """Continuous backup power without sun."""
        return min(self.ac_island_w, self.discharge_w)

    @property
    def usable_array_room_w(self) -> float:
        """Array power that can be used with room in the storage: AC rating and DC charge power together."""
        return self.ac_export_w + self.charge_w


@dataclass(frozen=True, slots=True)
class PowerCheck:
    """The coincident peak of a season against what the units carry, and the worst start of each motor over its hours."""

    season: str
    hour: int
    peak_w: float
    leg_peak_a: float
    start_demand_a: float | None
    carried: bool
    why: str
    shed: tuple[str, ...]
    starts: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours carried in one season, sun and age, over every starting hour."""

    season: str
    sun: str
    aged: bool
    least_h: float
    median_h: float
    by_start_h: tuple[float, ...]
    share_served: float
    residual_kwh: float


@dataclass(frozen=True, slots=True)
class Lost:
    """Energy of the array over a day or a year, in kilowatt-hours, and where it is lost."""

    label: str
    array_kwh: float
    used_kwh: float
    input_kwh: float
    rating_kwh: float
    full_kwh: float

    @property
    def clipped_kwh(self) -> float:
        """All that is lost at the inputs, the rating and a full storage."""
        return self.input_kwh + self.rating_kwh + self.full_kwh

    @property
    def clipped_percent(self) -> float:
        """Share of the array's energy that is lost."""
        return 100.0 * self.clipped_kwh / self.array_kwh if self.array_kwh > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on a wall or a strip of floor, in inches from its left end and from the floor."""

    tag: str
    place: str
    left_in: float
    bottom_in: float
    width_in: float
    height_in: float
    kind: str
    depth_in: float
    mounting: str


@dataclass(frozen=True, slots=True)
class Working:
    """The working space before a unit, from left to right in inches from the left end of its place."""

    place: str
    unit: str
    left_in: float
    right_in: float


@dataclass(frozen=True, slots=True)
class Layout:
    """Where everything stands; ``reasons`` say why it does not fit, ``needs`` what is missing to tell.

    ``ways_ft`` is the way of the harness by storage module, ``taken_in`` the width of wall or floor in use,
    ``stacked`` how many storage modules stand on another one.
    """

    boxes: tuple[Box, ...]
    ways_ft: tuple[tuple[str, float], ...]
    taken_in: float
    mounting: str
    reasons: tuple[Reason, ...]
    needs: tuple[str, ...]
    stacked: int = 0
    working: tuple[Working, ...] = ()
    assumptions: tuple[Assumption, ...] = ()

    @property
    def spacing_in(self) -> float | None:
        """Least distance between neighbours, a stack counted as one; None where no two stand side by side."""
        columns = {(box.place, box.left_in): box.width_in for box in self.boxes}
        row = sorted(columns)
        gaps = [right[1] - left[1] - columns[left] for left, right in zip(row, row[1:], strict=False) if left[0] == right[0]]
        return min(gaps, default=None)


@dataclass(frozen=True, slots=True)
class Part:
    """One line of the bill of materials; prices as least and most, None where no price is given."""

    item: str
    count: int
    price: tuple[float, float] | None
    order_with: str | None
    note: str


@dataclass(frozen=True, slots=True)
class Bill:
    """The parts of a candidate and what they cost together."""

    parts: tuple[Part, ...]
    low: float | None
    high: float | None
    unpriced: tuple[str, ...]

    @property
    def middle(self) -> float | None:
        """Half way between least and most."""
        return None if self.low is None or self.high is None else (self.low + self.high) / 2.0


@dataclass(frozen=True, slots=True)
class Result:
    """Everything found about one candidate."""

    candidate: Candidate
    plant: Plant | None
    electrical: Electrical | None
    layout: Layout | None
    bill: Bill
    power: tuple[PowerCheck, ...] = ()
    hours: tuple[Hours, ...] = ()
    lost: tuple[Lost, ...] = ()
    recharge_share: tuple[tuple[str, float], ...] = ()
    reasons: tuple[Reason, ...] = ()
    unsettled: tuple[Reason, ...] = ()
    assumptions: tuple[Assumption, ...] = field(default=())

    @property
    def verdict(self) -> Verdict:
        """Passes, fails, or is not settled for want of inputs."""
        if self.reasons:
            return Verdict.FAILS
        return Verdict.UNSETTLED if self.unsettled else Verdict.PASSES

    def carried(self, sun: str, aged: bool) -> tuple[Hours, ...]:
        """The hours of each season with that sun and age."""
        return tuple(found for found in self.hours if found.sun == sun and found.aged is aged)

    def least_hours(self, sun: str, aged: bool = True) -> float | None:
        """The least hours carried over all seasons and starts; None where they were not simulated."""
        found = self.carried(sun, aged)
        return min(hours.least_h for hours in found) if found else None
