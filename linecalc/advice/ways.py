"""Which ways a finding may be put right, by the question that its rule answers.

A way is a series of candidates from the smallest change to the largest. Ways
stand in the order in which a designer would try them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from linecalc.advice import ways_backup, ways_buses, ways_conductors, ways_devices, ways_grounding, ways_places, ways_strings
from linecalc.advice.records import Candidate
from linecalc.advice.rerun import family
from linecalc.check import Check
from linecalc.study import Study

Way = Callable[[Study, Check], Iterator[Candidate]]

WAYS: tuple[tuple[str, tuple[Way, ...]], ...] = (
    ("T1", (ways_conductors.larger_conductor,)),
    ("T2", (ways_conductors.larger_conductor,)),
    ("dwelling_83pct", (ways_conductors.larger_conductor,)),
    ("feeder_connection", (ways_conductors.larger_conductor, ways_devices.lower_device)),
    ("supply_side", (ways_conductors.larger_conductor_to,)),
    ("supply_side_conductor", (ways_conductors.larger_conductor,)),
    ("parallel_conductors", (ways_conductors.larger_conductor,)),
    ("next_size_up", (ways_devices.lower_device, ways_conductors.larger_conductor)),
    ("small_conductors", (ways_devices.lower_device, ways_conductors.larger_conductor)),
    ("ocpd", (ways_devices.raise_device, ways_strings.smaller_fuse)),
    ("listed_instructions.breaker", (ways_devices.lower_device,)),
    ("hermetic_nameplate", (ways_devices.lower_device,)),
    ("motor_ocpd", (ways_devices.lower_device,)),
    ("hermetic_ocpd", (ways_devices.lower_device,)),
    ("running", (ways_devices.raise_device,)),
    ("feeder_load_rating", (ways_devices.raise_device_of_panel,)),
    ("listed_instructions.rating", (ways_places.larger_switch, ways_devices.lower_device)),
    ("listed_instructions.transfer", (ways_places.larger_switch,)),
    ("hermetic_disconnect", (ways_places.larger_switch,)),
    ("panel_protection", (ways_devices.lower_device_of_panel, ways_buses.larger_bus)),
    ("busbar", (ways_buses.opposite_end, ways_devices.lower_device_of_panel, ways_buses.larger_bus)),
    ("egc", (ways_grounding.needed_grounding_conductor,)),
    ("ssbj", (ways_grounding.needed_grounding_conductor,)),
    ("neutral_for_grounding", (ways_grounding.bond_removed,)),
    ("service_grounding", (ways_grounding.bond_made,)),
    ("supply_side_grounding", (ways_grounding.bond_made,)),
    ("separate_building.conductor", (ways_grounding.bond_removed, ways_grounding.needed_grounding_conductor)),
    ("former_service.electrode", (ways_grounding.electrode_conductor_moved,)),
    ("panel_grounding_bus", (ways_grounding.separate_grounding_bus,)),
    ("gec", (ways_grounding.larger_electrode_conductor,)),
    ("neutral_of_source", (ways_grounding.larger_neutral, ways_conductors.larger_conductor)),
    ("load_neutral", (ways_grounding.larger_neutral, ways_conductors.larger_conductor, ways_backup.less_unbalance)),
    ("main_bonding_jumper", (ways_grounding.larger_bonding_jumper,)),
    ("wire_in_wet_place", (ways_conductors.insulation_for_wet,)),
    ("raceway_fill", (ways_places.larger_raceway,)),
    ("pv_wiring_methods", (ways_places.partition,)),
    ("interrupting_rating", (ways_places.larger_interrupting,)),
    ("pv_inside_building", (ways_places.metal_raceway,)),
    ("se_cable_uses.neutral", (ways_places.cable_with_neutral,)),
    ("insulation_rating.voltage", (ways_places.higher_insulation_voltage,)),
    ("enclosure_types", (ways_places.outdoor_enclosure,)),
    ("pv_max_voltage", (ways_strings.fewer_modules,)),
    ("mppt_limit.short_circuit", (ways_strings.another_input, ways_strings.another_module)),
    ("mppt_limit.input", (ways_strings.another_input,)),
    ("array_power_limit", (ways_strings.fewer_modules_on_unit,)),
    ("array_power_limit.input", (ways_strings.fewer_modules,)),
    ("pv_ocpd_not_required", (ways_strings.string_fuses, ways_strings.another_input)),
    ("listed_instructions.storage_modules", (ways_backup.module_to_another_unit,)),
    ("listed_instructions.harness", (ways_backup.nearer_module,)),
    ("standby_capacity", (ways_backup.less_backed_up_load, ways_backup.load_management)),
)


def ways_of(study: Study, check: Check) -> tuple[Iterator[Candidate], ...]:
    """The ways that may put a finding right."""
    rule = family(check.rule)
    for names in (_is_named, _ends_in):
        found = tuple(way(study, check) for name, ways in WAYS if names(rule, name) for way in ways)
        if found:
            return found
    return ()


def _is_named(rule: str, name: str) -> bool:
    return rule == name


def _ends_in(rule: str, name: str) -> bool:
    """Keys such as ``pv_conductor.T2`` and ``source_ocpd``, or the main part of a key with a suffix."""
    return rule.endswith((f".{name}", f"_{name}")) or rule.split(".")[0] == name
