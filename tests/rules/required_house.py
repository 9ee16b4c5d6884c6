"""The small test house with every required device stated."""

from __future__ import annotations

from typing import Any

STATED: dict[str, Any] = {
    "service.location": "east wall, outdoors",
    "panel.BP.location": "garage, interior",
    "unit.U1.location": "garage wall",
    "unit.U1.ac_disconnect": "C1",
    "unit.U1.ac_disconnect_in_sight": True,
    "unit.U1.pv_disconnect": "integral",
    "unit.U1.storage_disconnect": "integral",
    "equipment.unit-a.listing": "UL 1741, UL 9540",
    "equipment.unit-a.arc_fault": "UL 1699B",
    "equipment.unit-a.ground_fault": "UL 1741",
    "equipment.unit-a.dc_switch_voltage": "600 V",
    "equipment.unit-a.dc_switch_current": "30 A",
    "equipment.unit-a.storage_voltage_max": "450 V",
    "rapid_shutdown.initiator": "switch RSS",
    "rapid_shutdown.location": "east wall, outdoors",
    "rapid_shutdown.equipment": "shutdown devices",
    "rapid_shutdown.listing": "UL 1741",
    "rapid_shutdown.inside": "80 V",
    "required.emergency_shutdown": "switch RSS",
    "required.emergency_shutdown_outdoors": True,
    "required.surge_protection": "type 2",
    "required.surge_protection_at": "MP",
    "required.emergency_disconnect": "MP",
    "panel.MP.location": "east wall, outdoors",
    "panel.MP.enclosure": "3R",
}
RULES = (
    "rapid_shutdown",
    "rapid_shutdown.initiator",
    "rapid_shutdown.inside",
    "pv_arc_fault",
    "pv_system_grounding",
    "pv_disconnect",
    "pv_disconnect.voltage",
    "pv_disconnect.current",
    "pv_equipment_disconnect",
    "source_disconnect",
    "directory_sources",
    "interactive_listing",
    "ess_disconnect",
    "ess_emergency_shutdown",
    "ess_listing",
    "emergency_disconnect",
    "surge_protection",
    "enclosure_types",
)
