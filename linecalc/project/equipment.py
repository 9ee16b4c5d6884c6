"""Equipment data: what datasheets and nameplates say, one model a kind."""

from __future__ import annotations

from typing import Annotated, Literal, Union

from pydantic import BaseModel, ConfigDict, Field

from linecalc.project.fields import (
    Conductor,
    Current,
    Energy,
    Length,
    Mass,
    Percent,
    Power,
    RelativeCoefficient,
    SmallLength,
    Temperature,
    Time,
    Voltage,
    VoltageCoefficient,
)

Text = Annotated[str, Field(max_length=400)]


class Record(BaseModel):
    """Base of all project records: frozen, and closed to unknown keys."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Item(Record):
    """What every kind of equipment may state."""

    description: Text | None = None
    listing: Text | None = None
    width: SmallLength | None = None
    height: SmallLength | None = None
    depth: SmallLength | None = None
    mass: Mass | None = None


class PvModule(Item):
    """A PV module at standard test conditions."""

    kind: Literal["pv module"]
    power: Power
    voc: Voltage
    isc: Current
    vmp: Voltage
    imp: Current
    voc_coefficient: VoltageCoefficient | None = None
    pmax_coefficient: RelativeCoefficient | None = None
    vmp_coefficient: VoltageCoefficient | None = None
    series_fuse: Current | None = None
    system_voltage: Voltage | None = None
    noct: Temperature | None = None
    technology: Literal["crystalline silicon", "thin film"] | None = None
    electronics: Literal["none", "shutdown device", "dc-dc converter", "ac module"] = "none"
    electronics_equipment: Text | None = None


class ShutdownDevice(Item):
    """A module-level shutdown device: it passes the string's voltage and current, within its own limits."""

    kind: Literal["shutdown device"]
    modules: Annotated[int, Field(ge=1, le=4)] = 1
    input_voltage_max: Voltage | None = None
    input_current_max: Current | None = None
    string_voltage_max: Voltage | None = None
    output_current_max: Current | None = None


class Converter(Item):
    """A module-level dc-to-dc converter: its rated output replaces the module's Voc and Isc in the string."""

    kind: Literal["dc-dc converter"]
    modules: Annotated[int, Field(ge=1, le=4)] = 1
    input_voltage_max: Voltage | None = None
    input_current_max: Current | None = None
    input_power_max: Power | None = None
    output_voltage_max: Voltage | None = None
    output_current: Current | None = None
    string_voltage_max: Voltage | None = None
    string_voltage: Voltage | None = None
    string_power_max: Power | None = None
    string_count_min: Annotated[int, Field(ge=1, le=60)] | None = None
    string_count_max: Annotated[int, Field(ge=1, le=60)] | None = None


class PvInputs(Item):
    """The PV inputs of a unit or inverter."""

    mppt: Annotated[int, Field(ge=0, le=24)] | None = None
    mppt_current: Current | None = None
    mppt_short_circuit: Current | None = None
    mppt_short_circuit_basis: Literal["STC", "1.25 Isc"] | None = None
    mppt_window: tuple[Voltage, Voltage] | None = None
    dc_voltage_max: Voltage | None = None
    input_power_max: Power | None = None
    array_power_max: Power | None = None
    backfeed_current: Current | None = None


class AcOutput(PvInputs):
    """The AC side of a unit or inverter."""

    ac_power: Power
    ac_current: Current
    overcurrent_max: Current | None = None
    terminals: Temperature | None = None
    wire_range: tuple[Conductor, Conductor] | None = None
    interrupting: Current | None = None
    fault_contribution: Current | None = None
    efficiency: Percent | None = None
    arc_fault: Text | None = None
    ground_fault: Text | None = None
    dc_switch_voltage: Voltage | None = None
    dc_switch_current: Current | None = None


class UnitData(AcOutput):
    """An inverter-battery unit: PV inputs, inverter and its own storage."""

    kind: Literal["unit"]
    ac_power_island: Power | None = None
    ac_current_island: Current | None = None
    charge_current_ac: Current | None = None
    leg_current: Current | None = None
    neutral_rating: Current | None = None
    neutral: Literal["loads", "sensing", "none"] | None = None
    neutral_bond: Literal["none", "always", "island only"] | None = None
    reduced_neutral: Literal["allowed", "not allowed"] | None = None
    start_current: Current | None = None
    start_duration: Time | None = None
    start_currents_add: Literal["yes", "no"] | None = None
    pass_through: Current | None = None
    switches_neutral: bool | None = None
    storage_voltage_min: Voltage | None = None
    storage_voltage_max: Voltage | None = None
    storage_current: Current | None = None
    energy: Energy
    usable_energy: Energy | None = None
    charge_power: Power
    discharge_power: Power | None = None
    power_factor: Annotated[float, Field(gt=0, le=1)] | None = None
    standby_power: Power | None = None
    ac_coupled_max: Power | None = None
    dc_interrupting: Current | None = None
    ac_coupled_curtailment: Text | None = None
    ac_coupled_restart: Text | None = None
    listed_as: Literal["cabinet", "assembly"] | None = None
    fire_test: Text | None = None
    clearance: SmallLength | None = None
    storage_modules_max: Annotated[int, Field(ge=0, le=12)] = 0
    grid_charging: Literal["yes", "no"] | None = None


class InverterData(AcOutput):
    """A PV-only inverter."""

    kind: Literal["inverter"]


class StorageData(Item):
    """A DC-coupled storage module without inverter."""

    kind: Literal["storage module"]
    energy: Energy
    usable_energy: Energy | None = None
    charge_power: Power | None = None
    discharge_power: Power | None = None
    power_at: Literal["terminals", "ac side"] | None = None
    current: Current | None = None
    voltage_min: Voltage | None = None
    voltage_max: Voltage | None = None
    efficiency: Percent | None = None
    terminals: Temperature | None = None
    listed_as: Literal["cabinet", "assembly"] | None = None
    fire_test: Text | None = None
    clearance: SmallLength | None = None
    short_circuit_current: Current | None = None
    harness_part: Text | None = None
    harness_current: Current | None = None
    harness_length: Length | None = None


Equipment = Annotated[
    Union[PvModule, ShutdownDevice, Converter, UnitData, InverterData, StorageData],
    Field(discriminator="kind"),
]
EQUIPMENT_KINDS = {"pv module": PvModule, "shutdown device": ShutdownDevice, "dc-dc converter": Converter, "unit": UnitData, "inverter": InverterData, "storage module": StorageData}
