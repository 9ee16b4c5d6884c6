"""What a project says about the dwelling's load: floor area, circuits, methods, measured demand."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from linecalc.project.equipment import Record, Text
from linecalc.project.fields import Area, CurrentOrPower, LoadPower

PanelTag = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.\-]{0,23}$")]
Circuits = Annotated[int, Field(ge=0, le=40)]
Method = Literal["standard", "optional", "existing", "measured"]
LoadKind = Literal[
    "appliance",
    "fixed appliance",
    "range",
    "oven",
    "cooktop",
    "dryer",
    "water heater",
    "heat",
    "heat pump",
    "motor-compressor",
    "motor",
    "ev",
    "calculated",
]


class DwellingShare(Record):
    """What of the general load hangs on one panel and everything downstream of it."""

    floor_area: Area
    small_appliance_circuits: Circuits = 0
    laundry_circuits: Circuits = 0


class Dwelling(Record):
    """The dwelling as Article 220 asks for it.

    ``methods`` are those asked for; every lawful one where left out.
    ``existing`` says that the dwelling and its service exist, so that new
    loads are added to them. ``share`` is by panel, for panels that do not
    serve the whole dwelling.
    """

    floor_area: Area | None = None
    small_appliance_circuits: Circuits | None = None
    laundry_circuits: Circuits | None = None
    methods: tuple[Method, ...] = ()
    existing: bool = False
    measured_demand: CurrentOrPower | None = None
    measured_period: Literal["1 year", "30 days"] | None = None
    measured_source: Text | None = None
    power_factor: Annotated[float, Field(gt=0, le=1)] | None = None
    share: dict[PanelTag, DwellingShare] = {}


class LoadData(Record):
    """What a load states for the calculation beside its size.

    ``separately_controlled`` counts room heaters with controls of their own;
    without it heating is central. ``supplemental_heat`` belongs to a heat pump,
    ``supplemental_interlocked`` says that its compressor cannot run with it.
    Loads of the same ``noncoincident`` group never run together.
    ``motor_driven`` marks an appliance that is a motor load.
    """

    separately_controlled: Annotated[int, Field(ge=1, le=40)] | None = None
    supplemental_heat: LoadPower | None = None
    supplemental_interlocked: bool = False
    noncoincident: Text | None = None
    motor_driven: bool = False
