"""Every question that the checklist table may ask, by name."""

from __future__ import annotations

from collections.abc import Callable

from linecalc.report import checklist_circuits as circuits
from linecalc.report import checklist_sheets as sheets
from linecalc.report import checklist_things as things
from linecalc.report.checklist_fact import Fact
from linecalc.study import Study

_FUNCTIONS: tuple[Callable[[Study], Fact], ...] = (
    sheets.sheet_index,
    sheets.sheet_number,
    sheets.sheet_identifier,
    sheets.sheet_size,
    sheets.text_size,
    sheets.lettering,
    sheets.legend,
    sheets.symbols,
    sheets.legible,
    sheets.existing_and_new,
    sheets.low_temperature,
    sheets.high_temperature,
    sheets.label_values,
    sheets.storage_label_values,
    sheets.labels_drawn,
    sheets.sprinkler,
    things.array_power,
    things.system_size,
    things.modules,
    things.strings,
    things.inputs,
    things.series_fuse,
    things.coefficients,
    things.converters,
    things.dc_disconnect,
    things.source_ratings,
    things.storage_ratings,
    things.storage_voltages,
    things.isolation,
    things.panels,
    things.panel_condition,
    things.backed_up,
    things.measured_load,
    things.generator,
    things.service_voltage,
    things.interconnection,
    things.disconnect_features,
    things.production_meter,
    things.string_current,
    things.busbar,
    things.bus_rating,
    things.equipment,
    things.panel_schedule,
    things.nameplates,
    things.parts,
    circuits.pv_conductors,
    circuits.conductors,
    circuits.pv_raceways,
    circuits.raceways,
    circuits.held,
    circuits.ends,
    circuits.lengths,
    circuits.neutrals,
    circuits.devices,
    circuits.grounding_conductors,
    circuits.terminals,
    circuits.terminal_limits,
    circuits.feeders,
    circuits.ambient_factors,
    circuits.count_factors,
    circuits.rooftop,
    circuits.source_breakers,
    circuits.source_breaker,
)
FACTS: dict[str, Callable[[Study], Fact]] = {function.__name__: function for function in _FUNCTIONS}
