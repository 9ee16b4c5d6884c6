"""Records of the grounding system: electrodes, bonds, what a former service panel needs, shared grounding conductors."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from linecalc.term import Number

LISTED = "listed"


class BondRole(Enum):
    """Why the neutral is bonded, or the electrodes are connected, at a place."""

    SERVICE = "service disconnect"
    SOURCE = "source of a separately derived system"
    BUILDING = "supply of a separate building"


@dataclass(frozen=True, slots=True)
class ElectrodeNeed:
    """What one kind of electrode asks of the conductor that goes to it and no farther.

    ``table_size`` follows from the ungrounded conductors; ``limit_size`` is the
    size above which this kind asks for nothing, None where there is no limit.
    """

    kind: str
    count: int
    table_size: str
    limit_size: str | None
    needed_size: str


@dataclass(frozen=True, slots=True)
class ElectrodeConductor:
    """The conductor from a bond to the electrodes: as given, else the largest that its electrodes ask for."""

    size: str
    material: str
    needed_size: str
    table_size: str
    given: bool
    electrodes: tuple[ElectrodeNeed, ...]


@dataclass(frozen=True, slots=True)
class BondingJumper:
    """A main or system bonding jumper. ``kind`` is ``wire`` or ``listed`` with the equipment.

    ``area_cmil`` is set where the table ends and 12.5 percent of the ungrounded area decides.
    """

    kind: str
    size: str
    material: str
    needed_size: str
    area_cmil: Number | None
    given: bool


@dataclass(frozen=True, slots=True)
class GroundedConductor:
    """The grounded conductor brought to a service disconnect, against the least size for fault current."""

    size: str | None
    material: str
    sets: int
    installed_cmil: Number | None
    needed_size: str
    needed_cmil: Number


@dataclass(frozen=True, slots=True)
class BondPoint:
    """A place where the electrodes are connected, with every size that follows from what supplies it.

    ``jumper`` and ``grounded`` are None where the neutral is not bonded there.
    ``needs`` names inputs without which a size is not known.
    """

    tag: str
    role: BondRole
    circuit: str
    ungrounded: str
    ungrounded_cmil: Number
    jumper: BondingJumper | None
    grounded: GroundedConductor | None
    electrode: ElectrodeConductor
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FormerService:
    """An old main panel behind a service disconnect that moved ahead of it.

    ``feeder`` is the circuit that feeds it now. ``stated`` is None where nobody
    said whether the panel was the service equipment.
    """

    tag: str
    feeder: str
    stated: bool | None
    bond_removed: bool | None
    four_wire: bool
    electrode_conductor_moved: bool | None
    grounding_bus_separate: bool | None
    three_wire: tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class SharedGround:
    """One grounding conductor for all circuits of a raceway: the largest that any of them requires."""

    section: str
    circuits: tuple[str, ...]
    by_circuit: str
    needed_size: str
    material: str
    given_size: str | None


@dataclass(frozen=True, slots=True)
class GroundingSystem:
    """Everything about grounding that belongs to more than one circuit."""

    points: tuple[BondPoint, ...]
    former: tuple[FormerService, ...]
    shared: tuple[SharedGround, ...]

    def point(self, tag: str) -> BondPoint | None:
        """The bond point at a thing, None where there is none."""
        return next((point for point in self.points if point.tag == tag), None)
