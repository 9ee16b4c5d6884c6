"""Records of the Sized stage: devices, conductors, raceways as given or chosen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from linecalc.calc.ampacity import GoverningPortion
from linecalc.calc.overcurrent import Protection
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.records import Assumption, Circuit, CircuitCurrents, Demand, Mode
from linecalc.sizing.fault_records import Faults
from linecalc.sizing.grounding_records import GroundingSystem
from linecalc.term import Number


class Governed(Enum):
    """What set the size of a conductor. The value is what JSON and reports print.

    With ``NOT_DETERMINED`` an input is missing: the size is only the smallest
    that passes the terminal test, never a choice to build by.
    """

    GIVEN = "given"
    T1 = "T1"
    T2 = "T2"
    T3 = "T3"
    SMALL_CONDUCTOR = "small conductor limit"
    DWELLING = "dwelling 83 percent"
    SEGMENT = "feeder segment"
    TAP = "feeder tap"
    GENERATOR = "generator conductors"
    SUPPLY_SIDE = "supply-side minimum"
    PARALLEL = "parallel minimum"
    DROP = "voltage drop target"
    SMALLEST = "smallest size"
    NOTHING_PASSES = "no size passes"
    NOT_DETERMINED = "not determined"


@dataclass(frozen=True, slots=True)
class Device:
    """The overcurrent device that protects a circuit's conductors.

    ``where`` is the node it sits in; ``owner`` the circuit or node whose device
    it is, which differs from the circuit where it is inherited from upstream.
    ``load_end`` marks conductors protected at their load end only, such as
    service conductors.
    """

    rating: Number
    kind: str
    where: str
    owner: str
    selected: bool
    inherited: bool
    load_end: bool
    path: str


@dataclass(frozen=True, slots=True)
class Conductor:
    """A conductor as given or chosen."""

    size: str
    material: str
    insulation: str
    parallel: int
    selected: bool

    @property
    def text(self) -> str:
        """As the trade writes it, e.g. ``6 AWG Cu THWN-2``."""
        return f"{self.size} {self.material} {self.insulation}"


@dataclass(frozen=True, slots=True)
class Egc:
    """The equipment grounding conductor, or the supply-side bonding jumper, of a circuit.

    ``base_size`` is the table size, ``needed_size`` that after the proportional
    increase. ``kind`` is ``wire``, ``raceway`` or ``supply-side bonding jumper``.
    """

    kind: str
    size: str
    base_size: str
    needed_size: str
    material: str
    by_device_a: Number
    area_cmil: Number | None
    given: bool


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What one section does to one circuit.

    ``ampacity`` is that of one conductor after factors; None where the
    insulation has no ampacity there.
    """

    section: str
    method: str
    place: str
    moisture: str
    length_ft: float
    ambient_c: Number
    adder_c: Number | None
    ambient_factor: Number | None
    current_carrying: int
    count_factor: Number
    ampacity: Number | None
    set_aside: bool


@dataclass(frozen=True, slots=True)
class ModeDrop:
    """Voltage drop (in export: rise) of a circuit in one mode."""

    mode: Mode
    current: Number
    drop_v: Number
    base_v: Number
    percent: Number


@dataclass(frozen=True, slots=True)
class SizedCircuit:
    """One circuit with everything chosen and every figure that the rules compare.

    ``smallest`` is the smallest size that passes T1 to T3 at the same device,
    the baseline of the proportional increase of the grounding conductor;
    ``failing`` are the tests that the conductor does not pass.
    ``needs`` names the inputs without which a safety rule cannot be checked.
    """

    circuit: Circuit
    currents: CircuitCurrents
    device: Device | None
    device_need: Number
    conductor: Conductor
    ungrounded: int
    neutral: Conductor | None
    neutral_need: Number
    egc: Egc | None
    terminals_c: tuple[int, int]
    terminals_assumed: bool
    terminal_column_c: int
    insulation_c: int | None
    t1_need: Number
    t1_ampacity: Number | None
    t2_need: Number
    t2_ampacity: Number | None
    run: GoverningPortion | None
    protect_a: Number | None
    protection: Protection | None
    dwelling_need: Number | None
    small_limit: Number | None
    demands: tuple[Demand, ...]
    least_size: str | None
    sections: tuple[Surroundings, ...]
    failing: tuple[Governed, ...]
    governed_by: Governed
    smallest: str | None
    selected: tuple[str, ...]
    drops: tuple[ModeDrop, ...]
    rise_to_meter: Number | None
    needs: tuple[str, ...]

    @property
    def tag(self) -> str:
        """The circuit's tag."""
        return self.circuit.tag

    @property
    def determined(self) -> bool:
        """Whether the conductor is given, or chosen with every input known."""
        return self.governed_by is not Governed.NOT_DETERMINED


@dataclass(frozen=True, slots=True)
class HeldConductor:
    """Conductors of one kind that a raceway holds. ``area_in2`` is None where the maker decides it."""

    circuit: str
    role: str
    size: str
    insulation: str
    count: int
    area_in2: Number | None


@dataclass(frozen=True, slots=True)
class SizedRaceway:
    """A raceway with what it holds; ``size`` is None where none of the table holds it."""

    section: str
    method: str
    size: str | None
    selected: bool
    length_ft: float
    held: tuple[HeldConductor, ...]
    current_carrying: int
    area_in2: Number | None
    internal_in2: Number | None
    fill_percent: Number | None
    limit_percent: Number
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StringFigures:
    """Voltages and currents of one PV string. A figure is None where ``needs`` says what is missing.

    ``device_voltage`` is the cold voltage of the modules on one module-level device.
    """

    tag: str
    module: str
    count: int
    unit: str
    input: int | None
    cold_voc: Number | None
    cold_voc_table: Number | None
    hot_vmp: Number | None
    cold_vmp: Number | None
    cell_c: Number | None
    isc: Number
    max_current: Number
    design: Number
    power_w: Number
    needs: tuple[str, ...]
    device_voltage: Number | None = None


class BusVerdict(Enum):
    """What a method of the busbar rule says."""

    PASS = "pass"
    FAIL = "fail"
    NOT_USABLE = "not usable"


@dataclass(frozen=True, slots=True)
class BusMethod:
    """One method of the busbar rule on one bus: demand against limit, or why it is not usable.

    ``key`` is the citation key. ``left_a`` is the further source current the
    method leaves, where that means something.
    """

    key: str
    verdict: BusVerdict
    demand: Number | None
    limit: Number | None
    why: str
    left_a: Number | None


@dataclass(frozen=True, slots=True)
class BusFigures:
    """One bus that a source current reaches, with every method of the edition.

    ``used`` is the method that decides: the first that passes, else the one
    with the least excess. ``sources`` pairs source tags with their currents.
    ``through_one_device`` marks a bus supplied at one point only.
    """

    tag: str
    rating: Number
    protected_by: Number | None
    protected_where: str
    sources: tuple[tuple[str, Number], ...]
    source_demand: Number
    through_one_device: bool
    methods: tuple[BusMethod, ...]
    used: BusMethod | None
    left_a: Number | None
    largest_breaker_a: float | None
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SupplySideFigures:
    """A connection ahead of the service disconnect: what connects there and against what it is held."""

    junction: str
    sources: tuple[tuple[str, Number], ...]
    demand: Number
    limit: Number | None
    limit_meaning: str
    circuits: tuple[str, ...]
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sized:
    """The network with every device, conductor and raceway given or chosen."""

    network: Network
    currents: Currents
    book: Book
    circuits: tuple[SizedCircuit, ...]
    raceways: tuple[SizedRaceway, ...]
    strings: tuple[StringFigures, ...]
    buses: tuple[BusFigures, ...]
    supply_side: SupplySideFigures | None
    grounding: GroundingSystem
    assumptions: tuple[Assumption, ...]
    faults: Faults | None = None

    def circuit(self, tag: str) -> SizedCircuit:
        """The sized circuit of that tag."""
        return next(circuit for circuit in self.circuits if circuit.tag == tag)
