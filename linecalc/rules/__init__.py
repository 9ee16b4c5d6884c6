"""The rules: one file an article and subject, all of them in one tuple.

A rule takes the sized network and yields checks. No rule calls another, prints
or knows a report.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from linecalc.check import Check
from linecalc.rules import (
    art110_fault,
    art220_loads,
    art240_devices,
    art250_electrode,
    art250_former_service,
    art250_grounding,
    art310_conductors,
    art690_grounding,
    art690_inputs,
    art690_strings,
    art690_wiring,
    art702_backup,
    art705_interconnection,
    art706_storage,
    ch9_raceways,
    voltage_drop,
)
from linecalc.sizing.records import Sized

Rule = Callable[[Sized], Iterator[Check]]

RULES: tuple[Rule, ...] = (
    art690_strings.cold_voltage,
    art690_strings.table_voltage,
    art690_strings.hot_voltage,
    art690_inputs.input_known,
    art690_inputs.short_circuit_current,
    art690_inputs.working_current,
    art690_inputs.equal_strings,
    art690_inputs.string_protection,
    art690_inputs.array_power,
    art690_wiring.systems_apart,
    art690_wiring.strings_wired,
    art706_storage.module_count,
    art706_storage.harnesses,
    art310_conductors.given_length,
    art220_loads.loads_given,
    art310_conductors.terminal_test,
    art310_conductors.conditions_test,
    art240_devices.conductor_protected,
    art310_conductors.whole_dwelling,
    art240_devices.small_conductors,
    art310_conductors.terminal_temperature,
    art310_conductors.insulation_in_place,
    art310_conductors.parallel_sets,
    art310_conductors.supply_side_least_size,
    art310_conductors.rooftop_height,
    art310_conductors.other_reading_of_lower_portion,
    art240_devices.device_large_enough,
    art240_devices.device_maximum,
    art240_devices.standard_rating,
    art240_devices.missing_device,
    art240_devices.panel_protected,
    art240_devices.switch_ratings,
    art705_interconnection.busbars,
    art705_interconnection.other_methods,
    art705_interconnection.feeder_segments,
    art705_interconnection.supply_side,
    art705_interconnection.supply_side_disconnect,
    art705_interconnection.export_limit,
    art250_grounding.grounding_conductors,
    art250_grounding.neutral_bonds,
    art250_grounding.source_bonds,
    art250_grounding.shared_conductors,
    art250_electrode.electrodes,
    art250_electrode.electrode_conductors,
    art250_electrode.bonding_jumpers,
    art250_electrode.grounded_conductors,
    art250_electrode.several_disconnects,
    art250_former_service.former_services,
    art690_grounding.array_bonding,
    art690_grounding.array_electrode,
    art220_loads.feeder_neutrals,
    art702_backup.capacity,
    art702_backup.ac_coupled,
    art702_backup.legs,
    art702_backup.source_neutrals,
    art110_fault.interrupting_ratings,
    art110_fault.storage_direct_current,
    art110_fault.marking,
    art110_fault.island_fault,
    ch9_raceways.fill,
    ch9_raceways.jamming,
    voltage_drop.drops,
    voltage_drop.rises,
)
