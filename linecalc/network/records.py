"""Records of the network: nodes, circuits, what each carries, and assumptions."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Any

from linecalc.term import Number


class Kind(Enum):
    """What a node is, in trade words."""

    SERVICE = "service"
    PANEL = "panel"
    ISOLATION = "isolation device"
    DISCONNECT = "disconnect"
    JUNCTION = "junction"
    COMBINER = "combiner"
    GENERATOR = "generator"
    TRANSFER = "transfer switch"
    UNIT = "unit"
    INVERTER = "inverter"
    STORAGE = "storage module"
    STRING = "string"
    LOAD = "load"


class System(Enum):
    """What kind of current a circuit carries."""

    AC = "ac"
    PV = "pv"
    STORAGE = "storage"


class Mode(Enum):
    """An operating mode; DC circuits have one of their own."""

    EXPORT = "export"
    SUPPLY = "supply"
    CHARGE = "charge"
    ISLAND = "island"
    DC = "dc"




@dataclass(frozen=True, slots=True)
class Assumption:
    """An input that linecalc had to assume, and why that value."""

    path: str
    value: str
    reason: str


@dataclass(frozen=True, slots=True)
class Node:
    """One tagged thing. ``item`` is its project record, ``data`` its equipment data."""

    tag: str
    kind: Kind
    item: Any
    data: Any = None


@dataclass(frozen=True, slots=True)
class Circuit:
    """The conductors between two tagged things.

    ``up`` is the end nearer to the utility (for DC circuits the unit or
    inverter), ``down`` the other one. ``sections`` are tags in the order of the
    path; ``length_ft`` is their sum, or None where no length is known.
    """

    tag: str
    system: System
    up: str
    down: str
    item: Any
    sections: tuple[str, ...]
    length_ft: float | None


@dataclass(frozen=True, slots=True)
class ModeCurrent:
    """What a circuit carries in one mode, in amperes.

    ``continuous`` + ``noncontinuous`` is the current of the more loaded leg.
    """

    continuous: Number
    noncontinuous: Number
    neutral: Number


@dataclass(frozen=True, slots=True)
class Demand:
    """An ampacity that no operating mode shows, such as a feeder segment where sources add."""

    key: str
    amps: Number
    cite: str
    why: str


@dataclass(frozen=True, slots=True)
class CircuitCurrents:
    """All modes of one circuit.

    DC circuits hold their operating current and voltage for the drop beside the
    current that sizes them; ``needs`` names inputs without which no current is
    known, ``loads_not_given`` the panels whose load the supply mode lacks.
    """

    modes: tuple[tuple[Mode, ModeCurrent], ...]
    operating_a: Number | None = None
    base_v: Number | None = None
    needs: tuple[str, ...] = ()
    loads_not_given: tuple[str, ...] = ()

    def of(self, mode: Mode) -> ModeCurrent | None:
        """The currents of one mode, None where the circuit has no such mode."""
        for found, current in self.modes:
            if found is mode:
                return current
        return None
