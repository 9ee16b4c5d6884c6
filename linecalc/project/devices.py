"""Keys of devices that must be present, of labels, of sheet facts and of attachments."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from linecalc.project.equipment import Record, Text
from linecalc.project.fields import Length

Enclosure = Literal["1", "2", "3", "3R", "3RX", "3S", "3X", "4", "4X", "5", "6", "6P", "12", "13"]
Holder = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.\-]{0,23}$")]
HeaderWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE", "none"]
INTEGRAL = "integral"
LABEL_KEYS = (
    "meter",
    "utility_disconnect",
    "service_disconnect",
    "emergency_disconnect",
    "directory",
    "rapid_shutdown",
    "rapid_shutdown_switch",
    "storage_placard",
    "standby",
    "standby_bond",
    "storage_shutdown",
    "several_sources",
    "do_not_relocate",
    "sum_of_breakers",
    "source_disconnect",
    "storage_disconnect",
    "pv_disconnect",
    "pv_disconnect_live",
    "pv_voltage",
    "dc_raceway",
    "panel_directory",
)


class SourceSwitches(Record):
    """What disconnects a unit or inverter.

    Each is the tag of a disconnect, of a panel with a main, of a circuit (its
    breaker), or ``integral`` for a switch inside the equipment.
    """

    ac_disconnect: Holder | None = None
    ac_disconnect_in_sight: bool | None = None
    pv_disconnect: Holder | None = None
    pv_disconnect_in_sight: bool | None = None
    storage_disconnect: Holder | None = None
    storage_disconnect_in_sight: bool | None = None


class SwitchFacts(Record):
    """What a disconnect offers beside its ratings."""

    lockable: bool | None = None
    visible_break: bool | None = None
    readily_accessible: bool | None = None
    utility_disconnect: bool = False
    meter_distance: Length | None = None


class RapidShutdown(Record):
    """How the PV circuits on or in the building are brought to a safe voltage.

    ``initiator`` is the tag of a disconnect or panel, or words for a switch
    that carries no power. ``exempt`` is the reason where the section does not ask for it.
    """

    initiator: Text | None = None
    location: Text | None = None
    outdoors: bool | None = None
    equipment: Text | None = None
    listing: Text | None = None
    inside: Literal["80 V", "listed array", "no exposed metal"] | None = None
    exempt: Text | None = None


class Required(Record):
    """Devices that belong to the house as a whole.

    ``surge_protection`` says what the device is, ``surge_protection_at`` on which
    panel, disconnect or isolation device it hangs.
    """

    emergency_disconnect: Holder | None = None
    emergency_shutdown: Text | None = None
    emergency_shutdown_outdoors: bool | None = None
    surge_protection: Text | None = None
    surge_protection_at: Holder | None = None
    surge_protection_existing: bool = False


class LabelChange(Record):
    """A label as the AHJ or the utility wants it: what is stated replaces what is computed."""

    source: Text
    text: Text | None = None
    header: HeaderWord | None = None
    color: Text | None = None
    where: Text | None = None
    omit: bool = False


class Facts(Record):
    """What offices ask a sheet to say and no calculation gives."""

    codes: tuple[Text, ...] = ()
    contractor: Text | None = None
    contractor_license: Text | None = None
    seal: Text | None = None
    metering: Text | None = None
    monitoring: Text | None = None
    communication: Text | None = None
    interlocks: Text | None = None
    state_list: Text | None = None
    alarm: Text | None = None
    separation: Text | None = None
    fire_inspection: Text | None = None
    zoning: Text | None = None
    yearly_use: Annotated[float, Field(gt=0, le=1e7)] | None = None


class Attachments(Record):
    """Papers that go with the sheets, each with where it is found or who makes it."""

    site_plan: Text | None = None
    roof_plan: Text | None = None
    elevation: Text | None = None
    storage_plan: Text | None = None
    raceway_plan: Text | None = None
    panel_photo: Text | None = None
    load_calculation: Text | None = None
    structural: Text | None = None
    spec_sheets: Text | None = None
    instructions: Text | None = None
    mounting_detail: Text | None = None
    box_listing: Text | None = None
    racking_listing: Text | None = None
    fire_test_report: Text | None = None
    interconnection_letter: Text | None = None
    commissioning: Text | None = None
    as_built: Text | None = None
    tap_listing: Text | None = None
    hazard_documentation: Text | None = None
