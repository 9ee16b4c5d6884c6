"""The project model: what a file or a script says about one house."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field, StringConstraints

from linecalc.project.devices import Attachments, Enclosure, Facts, LabelChange, RapidShutdown, Required, SourceSwitches, SwitchFacts
from linecalc.project.dwelling import Dwelling, LoadData, LoadKind
from linecalc.project.equipment import Equipment, Record, Text
from linecalc.project.fields import (
    Area,
    Conductor,
    ConductorOrListed,
    ConductorOrNone,
    ConductorOrRaceway,
    Current,
    CurrentOrLugs,
    CurrentOrNone,
    Length,
    LoadPower,
    Mass,
    Percent,
    Power,
    SmallLength,
    Temperature,
    TradeSize,
    Voltage,
)
from linecalc.project.options_model import Options

Tag = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.\-]{0,23}$")]
Code = Literal["NEC 2017", "NEC 2020", "NEC 2023"]
RacewayMethod = Literal["EMT", "ENT", "FMC", "IMC", "LFMC", "LFNC-B", "RMC", "PVC40", "PVC80"]
CableMethod = Literal["NM-B", "SE", "SER", "SEU", "UF", "MC"]
Method = Literal[
    "EMT", "ENT", "FMC", "IMC", "LFMC", "LFNC-B", "RMC", "PVC40", "PVC80", "NM-B", "SE", "SER", "SEU", "UF", "MC", "free air"
]
RACEWAYS = ("EMT", "ENT", "FMC", "IMC", "LFMC", "LFNC-B", "RMC", "PVC40", "PVC80")
CABLES = ("NM-B", "SE", "SER", "SEU", "UF", "MC")
CABLES_REFUSED = ("AC", "NM", "NMC", "USE", "TC", "TC-ER", "MC-PV")
EnergySpace = Literal[
    "utility closet", "basement", "storage or utility space", "attached garage", "detached garage", "exterior wall", "outdoors", "sleeping room", "other habitable space"
]
Leg = Literal["L1", "L2", "L1-L2"]
Electrode = Literal["rod", "pipe", "plate", "concrete-encased", "ground ring", "water pipe", "structural metal"]
Horsepower = Literal["1/6 hp", "1/4 hp", "1/3 hp", "1/2 hp", "3/4 hp", "1 hp", "1-1/2 hp", "2 hp", "3 hp", "5 hp", "7-1/2 hp", "10 hp"]
CodeLetter = Literal["A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U", "V"]
SERVICE = "service"


class Revision(Record):
    """One line of the revision block."""

    number: Text
    date: Text
    description: Text


class ProjectInfo(Record):
    """The job: title block, adopted code, scope."""

    title: Text
    code: Code
    address: Text | None = None
    owner: Text | None = None
    designer: Text | None = None
    license: Text | None = None
    parcel: Text | None = None
    scope: Text | None = None
    date: Text | None = None
    revisions: tuple[Revision, ...] = ()


class Site(Record):
    """The design temperatures and where they come from."""

    low_temperature: Temperature | None = None
    high_temperature: Temperature | None = None
    mounting: Literal["close to roof", "rack", "ground"] | None = None
    floor_area: Area | None = None
    irc_edition: Literal["2018", "2021", "2024"] | None = None
    fire_code_edition: Literal["NFPA 855 2020", "NFPA 855 2023"] | None = None


class Service(Record):
    """The utility supply at the meter."""

    voltage: Voltage
    rating: Current
    meter: Text | None = None
    meter_number: Text | None = None
    location: Text | None = None
    conductor: Conductor | None = None
    terminals: Temperature | None = None
    fault_current: Current | None = None
    fault_current_at: Literal["transformer", "meter"] | None = None
    x_over_r: Annotated[float, Field(gt=0, le=50)] | None = None
    transformer: LoadPower | None = None
    transformer_impedance: Percent | None = None
    export_limit: Power | None = None
    meter_rating: Current | None = None
    drop_target: Percent | None = None
    rise_target: Percent | None = None
    neutral_bond: bool | None = None


class Placed(Record):
    """What every tagged thing in the house may state.

    ``building`` names a separate building; left out, the thing is in or on the dwelling.
    """

    description: Text | None = None
    location: Text | None = None
    existing: bool = False
    building: Text | None = None
    enclosure: Enclosure | None = None


class Worked(Placed):
    """Equipment that is worked on while energized: the clear space that is kept in front of it."""

    working_width: SmallLength | None = None
    working_depth: SmallLength | None = None
    working_height: SmallLength | None = None


class StoresEnergy(Worked):
    """Where stored energy stands, and what is near it."""

    mounting: Literal["floor", "wall"] | None = None
    space: EnergySpace | None = None
    spacing: SmallLength | None = None
    door_distance: SmallLength | None = None
    vehicle_protection: Literal["barrier", "raised", "out of path", "none"] | None = None
    wall_capacity: Mass | None = None
    clearance: SmallLength | None = None


class Bonded(Worked):
    """A thing where the neutral may be bonded and the electrodes connected."""

    neutral_bond: bool | None = None
    bonding_jumper: ConductorOrListed | None = None
    electrode_conductor: Conductor | None = None
    electrodes: tuple[Electrode, ...] | None = None


class Panel(Bonded):
    """A panelboard: bus, main, which end feeds it.

    ``former_service`` marks an old main panel whose service disconnect moved
    ahead of it; the keys after it say what was done about that.
    ``main_before`` is the rating of a main that is replaced by a smaller one.
    """

    bus: Current
    main: CurrentOrLugs
    main_before: Current | None = None
    feed: Literal["top", "bottom", "center"] | None = None
    backup: bool = False
    generation: bool = False
    terminals: Temperature | None = None
    interrupting: Current | None = None
    series_rating: Current | None = None
    series_with: Tag | None = None
    series_listing: Text | None = None
    other_breakers: tuple[Current, ...] | None = None
    service_disconnect: bool | None = None
    condition: Text | None = None
    former_service: bool | None = None
    electrode_conductor_moved: bool | None = None
    grounding_bus: Literal["separate", "none"] | None = None
    three_wire: tuple[Literal["range", "dryer", "feeder"], ...] | None = None


class PvString(Placed):
    """Modules in series on one MPPT input."""

    module: Tag
    count: Annotated[int, Field(ge=1, le=60)]
    to: Tag
    input: Annotated[int, Field(ge=1, le=24)] | None = None
    mounting: Literal["close to roof", "rack", "ground"] | None = None
    fuse: CurrentOrNone | None = None


class Unit(StoresEnergy, SourceSwitches):
    """An inverter-battery unit in the house."""

    equipment: Tag
    bonding_jumper: ConductorOrListed | None = None
    electrode_conductor: Conductor | None = None
    grid_charging: Literal["yes", "no"] | None = None
    grid_charging_control: Text | None = None
    grid_charging_limit: Current | None = None


class Inverter(Worked, SourceSwitches):
    """A PV-only inverter in the house."""

    equipment: Tag


class Storage(StoresEnergy):
    """A DC-coupled storage module attached to one unit."""

    equipment: Tag
    unit: Tag
    harness: Literal["factory", "field-extended", "field-wired"] | None = None
    distance: Length | None = None


class Isolation(Bonded):
    """The device that separates the home from the utility in an outage."""

    rating: Current
    main: CurrentOrLugs | None = None
    internal_bus: Literal["yes", "no", "unknown"] | None = None
    meter_socket: bool = False
    switches_neutral: bool | None = None
    terminals: Temperature | None = None
    interrupting: Current | None = None


class Disconnect(Bonded, SwitchFacts):
    """A disconnect, with or without an overcurrent device of its own."""

    rating: Current
    device: CurrentOrNone | None = None
    device_kind: Literal["fuse", "breaker", "none"] = "none"
    dc_voltage: Voltage | None = None
    terminals: Temperature | None = None
    interrupting: Current | None = None
    service_disconnect: bool | None = None
    purpose: Text | None = None


class Junction(Placed):
    """A box where conductors are joined or tapped."""

    terminals: Temperature | None = None


class Combiner(Placed):
    """A box where PV strings are paralleled."""

    to: Tag | None = None
    dc_voltage: Voltage | None = None
    terminals: Temperature | None = None


class Generator(Placed):
    """A standby generator behind a transfer switch."""

    power: LoadPower
    current: Current
    device: CurrentOrNone | None = None
    start: Literal["automatic", "manual"] | None = None
    neutral_bond: bool | None = None
    overload_protected: bool | None = None
    terminals: Temperature | None = None
    interrupting: Current | None = None


class Transfer(Worked):
    """A transfer switch: its loads are on the utility side or on the generator, never on both."""

    rating: Current
    main: CurrentOrLugs | None = None
    start: Literal["automatic", "manual"] | None = None
    switches_neutral: bool | None = None
    neutral_bond: bool | None = None
    terminals: Temperature | None = None
    interrupting: Current | None = None


class Load(Placed, LoadData):
    """A named load, or the calculated load of a panel with everything downstream of it."""

    panel: Tag
    kind: LoadKind
    voltage: Voltage | None = None
    legs: Leg | None = None
    current: Current | None = None
    power: LoadPower | None = None
    continuous: bool | None = None
    continuous_part: Current | None = None
    power_factor: Annotated[float, Field(gt=0, le=1)] | None = None
    rla: Current | None = None
    fan: Current | None = None
    lra: Current | None = None
    hp: Horsepower | None = None
    code_letter: CodeLetter | None = None
    inverter_driven: bool = False
    soft_start_current: Current | None = None
    mca: Current | None = None
    mocp: Current | None = None
    fuses_only: bool = False
    managed: bool = False
    calculation: Text | None = None
    unbalance: Current | None = None


class Circuit(Placed):
    """The conductors between two tagged things, with their overcurrent device.

    ``meter`` says what meter stands in the run, such as a production meter.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True, populate_by_name=True)

    from_: Annotated[Tag, Field(alias="from")]
    to: Tag
    path: tuple[Tag, ...] = ()
    length: Length | None = None
    breaker: CurrentOrNone | None = None
    interrupting: Current | None = None
    bus_position: Literal["opposite end", "main end", "middle"] | None = None
    feed_through: bool = False
    port: Literal["grid", "backup"] | None = None
    tap: bool = False
    conductor: Conductor | None = None
    neutral: ConductorOrNone | None = None
    egc: ConductorOrRaceway | None = None
    parallel: Annotated[int, Field(ge=1, le=8)] | None = None
    insulation: Text | None = None
    material: Literal["Cu", "Al"] | None = None
    terminals_from: Temperature | None = None
    terminals_to: Temperature | None = None
    wire_range_from: tuple[Conductor, Conductor] | None = None
    wire_range_to: tuple[Conductor, Conductor] | None = None
    separate_connector: bool = False
    receptacles: bool = False
    drop_target: Percent | None = None
    power_factor: Annotated[float, Field(gt=0, le=1)] | None = None
    meter: Text | None = None
    diameter: SmallLength | None = None
    voltage_rating: Voltage | None = None
    breaker_dc_voltage: Voltage | None = None


class Section(Record):
    """A stretch of a run with uniform surroundings, shared by the circuits whose path names it."""

    method: Method
    size: TradeSize | None = None
    place: Text
    moisture: Literal["dry", "damp", "wet"] | None = None
    ambient: Temperature | None = None
    length: Length
    sun: bool | None = None
    height_above_roof: SmallLength | None = None
    spare_conductors: Annotated[int, Field(ge=0, le=100)] = 0
    partition: bool = False
    egc: Conductor | None = None
    inside: bool | None = None
    thermal_insulation: bool | None = None
    bundled_conductors: Annotated[int, Field(ge=0, le=100)] = 0
    wet_listed: bool | None = None


class Backup(Record):
    """How the backup capacity is justified."""

    method: Literal["full load", "load management", "largest single load", "manual"] | None = None
    management_setting: Current | None = None
    management_listing: Text | None = None
    runtime_load: LoadPower | None = None


class Grounding(Record):
    """The electrodes of the dwelling and the grounding of the array.

    ``electrodes`` lists each one, two rods as two; ``ground_ring`` is the
    conductor of a ring where there is one.
    """

    electrodes: tuple[Electrode, ...] | None = None
    ground_ring: Conductor | None = None
    location: Text | None = None
    existing: bool = False
    array_bonding: Text | None = None
    array_listing: Text | None = None
    array_electrode: Literal["building", "own, bonded to the building", "none"] | None = None


class PowerControl(Record):
    """A listed power control setting and what it protects."""

    setting: Current
    listing: Text
    covers: tuple[Tag, ...]


class Amendment(Record):
    """A local change of the code or a utility rule, printed with its source."""

    text: Text
    source: Text


class Project(Record):
    """One house, whole and validated. Equal contents are equal projects."""

    project: ProjectInfo
    site: Site = Site()
    service: Service | None = None
    dwelling: Dwelling | None = None
    backup: Backup = Backup()
    grounding: Grounding = Grounding()
    rapid_shutdown: RapidShutdown = RapidShutdown()
    required: Required = Required()
    facts: Facts = Facts()
    attachments: Attachments = Attachments()
    label: dict[Tag, LabelChange] = {}
    options: Options | None = None
    power_control: PowerControl | None = None
    amendments: tuple[Amendment, ...] = ()
    equipment: dict[Tag, Equipment] = {}
    panel: dict[Tag, Panel] = {}
    string: dict[Tag, PvString] = {}
    unit: dict[Tag, Unit] = {}
    inverter: dict[Tag, Inverter] = {}
    storage: dict[Tag, Storage] = {}
    isolation: dict[Tag, Isolation] = {}
    disconnect: dict[Tag, Disconnect] = {}
    junction: dict[Tag, Junction] = {}
    combiner: dict[Tag, Combiner] = {}
    generator: dict[Tag, Generator] = {}
    transfer: dict[Tag, Transfer] = {}
    load: dict[Tag, Load] = {}
    circuit: dict[Tag, Circuit] = {}
    section: dict[Tag, Section] = {}


TAGGED = ("panel", "string", "unit", "inverter", "storage", "isolation", "disconnect", "junction", "combiner", "generator", "transfer", "load")
