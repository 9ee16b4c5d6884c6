"""Records of the dwelling load: items, lines, methods, and what each bus carries."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from linecalc.network.loads import LegLoad
from linecalc.term import Number

EVEN = "even"
COOKING = ("range", "oven", "cooktop")
FASTENED = ("fixed appliance", "water heater")
HEATING = ("heat", "heat pump")
COOLING = ("motor-compressor", "heat pump")


class LoadMethod(Enum):
    """The methods of Article 220 for one dwelling. The value is the key in a project file."""

    STANDARD = "standard"
    OPTIONAL = "optional"
    EXISTING = "existing"
    MEASURED = "measured"


METHOD_CITE = {
    LoadMethod.STANDARD: "load_total",
    LoadMethod.OPTIONAL: "load_optional_dwelling",
    LoadMethod.EXISTING: "load_existing_dwelling",
    LoadMethod.MEASURED: "load_measured",
}


@dataclass(frozen=True, slots=True)
class LoadItem:
    """One load as Article 220 takes it.

    ``va`` is its nameplate in volt-amperes at nominal voltage. ``legs`` is
    ``L1``, ``L2``, ``L1-L2``, or ``even`` for a 120 V load whose leg is not
    stated. ``motor_va`` is the motor in it, None where there is none or where
    the figure already holds its 125 percent. ``supplement_va`` is the
    supplemental heat of a heat pump, ``controls`` the number of separately
    controlled heaters, 0 for central heating.
    """

    tag: str
    kind: str
    text: str
    va: Number
    legs: str
    existing: bool
    continuous: bool
    motor_va: Number | None
    group: str | None
    controls: int
    supplement_va: Number | None
    interlocked: bool


@dataclass(frozen=True, slots=True)
class GeneralLoad:
    """Lighting and receptacles, small-appliance and laundry circuits of a bus, each in volt-amperes.

    ``needs`` names the inputs without which they are not known.
    """

    lighting_va: Number
    kitchen_va: Number
    laundry_va: Number
    needs: tuple[str, ...] = ()

    def lines(self) -> list[LoadLine]:
        """Its parts that are not zero, to count on a line below."""
        parts = (
            ("general lighting and receptacles, 3 VA a square foot", self.lighting_va, "load_lighting"),
            ("small-appliance circuits, 1500 VA each", self.kitchen_va, "load_small_appliance"),
            ("laundry circuits, 1500 VA each", self.laundry_va, "load_small_appliance"),
        )
        return [LoadLine(text, va, None, cite) for text, va, cite in parts if float(va) > 0.0]


@dataclass(frozen=True, slots=True)
class Stated:
    """A panel downstream whose load is stated as a total in amperes, added as it is."""

    tag: str
    load: LegLoad
    amps: Number
    va: Number


@dataclass(frozen=True, slots=True)
class Gathered:
    """Everything that one bus carries: the loads downstream, each once.

    ``whole`` says that the bus serves the whole dwelling.
    """

    tag: str
    items: tuple[LoadItem, ...]
    general: GeneralLoad
    stated: tuple[Stated, ...]
    whole: bool


@dataclass(frozen=True, slots=True)
class LoadLine:
    """A line of a load calculation: what is connected, what of it counts, and by which section.

    ``counted_va`` is None for a part of a group that counts on a line below.
    """

    text: str
    connected_va: Number
    counted_va: Number | None
    cite: str
    how: str = ""


def counted(lines: Iterable[LoadLine]) -> list[Number]:
    """What the lines count for, in volt-amperes."""
    return [line.counted_va for line in lines if line.counted_va is not None]


@dataclass(frozen=True, slots=True)
class Reading:
    """Another reading of the same rule, with the amperes it gives."""

    text: str
    current_a: Number


@dataclass(frozen=True, slots=True)
class MethodLoad:
    """One method on one bus.

    ``current_a`` is in whole amperes on the more loaded leg; None where the
    method is not lawful here or an input is missing, ``why`` and ``needs`` say
    which. ``left_out`` are loads that never run with those counted.
    """

    method: LoadMethod
    why: str = ""
    lines: tuple[LoadLine, ...] = ()
    total_va: Number | None = None
    current_a: Number | None = None
    legs_a: tuple[Number, ...] = ()
    needs: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()


@dataclass(frozen=True, slots=True)
class NeutralLoad:
    """The neutral load of a bus, in amperes, with its lines in volt-amperes."""

    lines: tuple[LoadLine, ...]
    current_a: Number


@dataclass(frozen=True, slots=True)
class BusLoad:
    """The calculated load of a bus and of everything upstream that carries the same loads.

    ``nodes`` are those AC nodes, the bus first. ``used`` decides; None where no
    method can be computed, with the inputs that are missing.
    """

    tag: str
    nodes: tuple[str, ...]
    whole: bool
    items: tuple[LoadItem, ...]
    methods: tuple[MethodLoad, ...]
    used: MethodLoad | None
    neutral: NeutralLoad | None
    continuous_a: Number
    leg_load: LegLoad | None
    needs: tuple[str, ...]

    def of(self, method: LoadMethod) -> MethodLoad | None:
        """One method of this bus, None where it was not asked for."""
        return next((found for found in self.methods if found.method is method), None)


@dataclass(frozen=True, slots=True)
class DwellingLoads:
    """The calculated load of every bus that a ``[dwelling]`` table and its loads describe.

    ``empty`` are AC nodes that are known to carry no load.
    """

    buses: tuple[BusLoad, ...] = ()
    empty: tuple[str, ...] = ()

    def leg_loads(self) -> dict[str, LegLoad]:
        """What the walk takes at each AC node that a calculation could be made for."""
        return {node: bus.leg_load for bus in self.buses for node in bus.nodes if bus.leg_load is not None}

    def computed(self) -> dict[str, bool]:
        """By AC node whether its load is known: the calculation could be made, or there is nothing to calculate."""
        found = {node: bus.leg_load is not None for bus in self.buses for node in bus.nodes}
        return {**dict.fromkeys(self.empty, True), **found}

    def at(self, node: str) -> BusLoad | None:
        """The load of an AC node, None where nothing is computed for it."""
        return next((bus for bus in self.buses if node in bus.nodes), None)

    def whole(self) -> BusLoad | None:
        """The load of the whole dwelling, None where no bus serves it."""
        return next((bus for bus in self.buses if bus.whole), None)
