"""One call of every public kernel, and the same call with every number made a Term."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
from collections.abc import Iterator
from enum import Enum
from types import FunctionType, ModuleType

from linecalc.calc.ampacity import LowerPortionBasis, Portion
from linecalc.calc.dwelling_load import DemandBand
from linecalc.calc.fault import Impedance
from linecalc.term import Term, given

MODULES = tuple(
    importlib.import_module(f"linecalc.calc.{name}")
    for name in (
        "ampacity",
        "backup",
        "compare",
        "cooking_load",
        "drop",
        "dwelling_load",
        "dwelling_optional",
        "fault",
        "grounding",
        "interconnection",
        "load",
        "motor",
        "overcurrent",
        "pv",
        "raceway",
        "source",
        "storage",
    )
)

RATINGS = [15.0, 20.0, 30.0, 50.0, 60.0, 70.0, 100.0, 800.0, 1000.0]
BANDS = [DemandBand(0.0, 3000.0, 100.0), DemandBand(3000.0, 120000.0, 35.0), DemandBand(120000.0, None, 25.0)]
RUN = [Portion("roof", 6.5, 40.04), Portion("attic", 38.0, 54.6), Portion("garage", 22.0, 60.3)]

CALLS: dict[str, list[dict]] = {
    "ampacity.terminal_need": [
        {"continuous_a": 31.7, "noncontinuous_a": 9.3, "cite": "feeder_continuous_conductor"},
        {"continuous_a": 40.0, "noncontinuous_a": 0.0},
    ],
    "ampacity.conditions_need": [{"continuous_a": 31.7, "noncontinuous_a": 9.3, "cite": "pv_conductor"}],
    "ampacity.raised_ambient": [{"ambient_c": 36.3, "adder_c": 33.0}],
    "ampacity.corrected_ampacity": [{"table_a": 55.0, "ambient_factor": 0.91, "count_factor": 0.8}],
    "ampacity.dwelling_ampacity_need": [{"rating_a": 225.0}],
    "ampacity.capped_ampacity": [{"corrected_a": 64.5, "cap_a": 55.0, "cite": "nm_cable_ampacity"}],
    "ampacity.parallel_ampacity": [{"single_a": 150.3, "sets": 2.0}],
    "ampacity.governing_portion": [
        {"portions": RUN, "basis": LowerPortionBasis.OF_HIGHER},
        {"portions": RUN, "basis": LowerPortionBasis.OF_CIRCUIT},
        {"portions": RUN[:1], "basis": LowerPortionBasis.OF_CIRCUIT},
    ],
    "backup.combined_rating": [{"ratings_va": [9600.0, 7680.5]}],
    "backup.combined_discharge": [{"powers_w": [5000.3, 4200.0, 4200.0]}],
    "backup.firm_apparent_power": [{"limits_va": [17280.5, 24000.0]}, {"limits_va": [9600.0]}],
    "backup.firm_power": [{"limits_w": [17280.5, 10000.0, 24000.0]}, {"limits_w": [9600.0]}],
    "backup.real_power": [{"apparent_va": 8123.0, "power_factor": 0.87}],
    "backup.leg_current": [{"two_pole_a": 19.3, "single_pole_a": 12.1}],
    "backup.neutral_current": [{"leg_1_a": 12.1, "leg_2_a": 19.7}, {"leg_1_a": 12.1, "leg_2_a": 19.7, "beside_a": 3.3}, {"leg_1_a": 19.7, "leg_2_a": 12.1}],
    "backup.largest_single_load": [{"loads_va": [1500.0, 4800.0]}, {"loads_va": [1500.0]}],
    "compare.at_most": [{"amount": 40.0, "limit": 40.0}, {"amount": 40.1, "limit": 40.0}],
    "compare.at_least": [{"amount": 40.0, "limit": 40.0}, {"amount": 39.9, "limit": 40.0}],
    "compare.same": [{"left": 40.0, "right": 40.0}, {"left": 40.1, "right": 40.0}],
    "compare.largest_of": [{"amounts": [3.0, 7.0]}, {"amounts": [3.0]}],
    "compare.smallest_of": [{"amounts": [3.0, 7.0]}, {"amounts": [3.0]}],
    "cooking_load.column_demand": [{"ratings_kw": [4.1, 4.0, 5.1], "demand_percent": 55.0}],
    "cooking_load.rating_in_kilowatts": [{"rating_va": 12013.0, "meaning": "rating"}],
    "cooking_load.average_rating": [{"ratings_kw": [11.0, 18.3]}, {"ratings_kw": [13.6]}, {"ratings_kw": [9.0]}],
    "cooking_load.kilowatts_over": [{"average_kw": 13.6}, {"average_kw": 12.4}, {"average_kw": 14.0}, {"average_kw": 12.5}],
    "cooking_load.column_c_demand": [{"table_kw": 8.0, "over_kw": 0.0}, {"table_kw": 25.0, "over_kw": 2.0}],
    "cooking_load.cooking_load": [{"demands_kw": [14.0, 7.205], "beside_va": [1500.0]}, {"demands_kw": [8.0], "beside_va": []}],
    "dwelling_load.general_lighting": [{"floor_area_ft2": 1512.5, "va_per_ft2": 3.0}],
    "dwelling_load.small_appliance_load": [{"circuits": 2.0}],
    "dwelling_load.laundry_load": [{"circuits": 1.0}],
    "dwelling_load.lighting_demand": [
        {"load_va": 9037.0, "bands": BANDS},
        {"load_va": 2500.0, "bands": BANDS},
        {"load_va": 121000.0, "bands": BANDS},
        {"load_va": 0.0, "bands": BANDS},
    ],
    "dwelling_load.fixed_appliance_load": [{"loads_va": [1200.0, 4500.3, 900.0]}, {"loads_va": [1200.0, 4500.3, 900.0, 1300.0]}],
    "dwelling_load.fixed_appliance_part": [{"load_va": 1213.0, "number": 3}, {"load_va": 1213.0, "number": 4}],
    "dwelling_load.dryer_load": [{"nameplate_va": 4500.0}, {"nameplate_va": 5500.0}],
    "dwelling_load.dryer_demand": [{"loads_va": [5000.0, 5500.0], "demand_percent": 100.0}],
    "dwelling_load.ev_load": [{"nameplate_va": 5000.0, "least_va": 7200.0}, {"nameplate_va": 9600.0, "least_va": 7200.0}],
    "dwelling_load.motor_addition": [{"loads_va": [960.0, 4632.0]}, {"loads_va": [960.0]}],
    "dwelling_load.motor_addition_current": [{"currents_a": [6.0, 12.1]}],
    "dwelling_load.calculated_load": [{"parts_va": [5112.95, 8000.0, 5500.0]}],
    "dwelling_load.leg_load_current": [
        {"even_va": 18612.95, "leg_va": 1440.0, "motor_a": 3.0},
        {"even_va": 18612.95, "leg_va": 0.0, "motor_a": 0.0},
    ],
    "dwelling_load.neutral_cooking_dryer": [{"demand_va": 8013.0}],
    "dwelling_load.neutral_cooking_dryer_current": [{"demand_a": 45.83}],
    "dwelling_load.neutral_beyond_200": [{"neutral_a": 276.5}, {"neutral_a": 183.7}],
    "dwelling_load.range_neutral_need": [{"branch_a": 45.0}],
    "dwelling_load.neutral_load_current": [{"common_va": 14563.0, "leg_va": 1440.0, "motor_a": 3.0}],
    "dwelling_load.continuous_part": [{"loads_a": [48.0, 10.1], "load_a": 137.0}, {"loads_a": [48.0], "load_a": 40.0}],
    "dwelling_optional.optional_general": [{"load_va": 29713.0}, {"load_va": 9000.0}],
    "dwelling_optional.existing_general": [{"load_va": 29713.0}, {"load_va": 7000.0}],
    "dwelling_optional.optional_heat": [{"load_va": 15013.0, "separately_controlled": 0}, {"load_va": 9000.0, "separately_controlled": 4}],
    "dwelling_optional.heat_pump_with_supplement": [
        {"compressor_va": 5760.0, "supplement_va": 15000.0},
        {"compressor_va": 0.0, "supplement_va": 15000.0},
    ],
    "dwelling_optional.largest_hvac": [
        {"choices_va": [10080.0, 975.0]},
        {"choices_va": [975.0, 4632.0], "cite": "load_existing_dwelling"},
    ],
    "dwelling_optional.measured_existing": [{"demand_va": 12013.0}],
    "drop.resistance_at": [{"r75_ohm_per_kft": 0.491, "alpha_per_k": 0.00323, "temperature_c": 25.0}],
    "drop.effective_impedance": [
        {"r_ohm_per_kft": 0.49, "x_ohm_per_kft": 0.064, "power_factor": 0.85},
        {"r_ohm_per_kft": 0.49, "x_ohm_per_kft": 0.064, "power_factor": 1.0},
    ],
    "drop.two_wire_drop": [
        {
            "length_ft": 95.0,
            "current_a": 40.3,
            "r_ohm_per_kft": 0.49,
            "x_ohm_per_kft": 0.064,
            "power_factor": 0.85,
            "sets": 2.0,
        }
    ],
    "drop.dc_drop": [{"length_ft": 95.0, "current_a": 13.2, "r_ohm_per_kft": 1.24, "sets": 1.0}],
    "drop.phase_and_neutral_drop": [
        {
            "length_ft": 61.0,
            "current_a": 11.7,
            "phase_ohm_per_kft": 0.49,
            "neutral_ohm_per_kft": 0.78,
            "sets": 1.0,
        }
    ],
    "drop.percent_of": [{"drop_v": 4.7, "base_v": 240.0, "cite": "voltage_drop_feeder_note"}],
    "drop.cumulative_rise": [{"percents": [0.31, 0.72, 0.11]}],
    "drop.longest_length": [{"length_ft": 95.0, "drop_percent": 1.7, "target_percent": 3.0}],
    "fault.transformer_fault_current": [{"rating_va": 25000.0, "voltage_v": 240.0, "impedance_percent": 1.9}],
    "fault.source_impedance": [{"fault_ll_a": 9700.0, "voltage_v": 240.0, "x_over_r": 1.3}],
    "fault.source_impedance_line_to_neutral": [
        {"fault_ll_a": 9700.0, "voltage_ln_v": 120.0, "ratio": 1.5, "x_over_r": 1.3}
    ],
    "fault.conductor_impedance": [
        {"r_ohm_per_kft": 0.205, "x_ohm_per_kft": 0.057, "length_ft": 43.0, "sets": 1.0}
    ],
    "fault.in_series": [{"impedances": [Impedance(0.011, 0.003), Impedance(0.023, 0.007)]}],
    "fault.fault_line_to_line": [
        {"voltage_v": 240.0, "source": Impedance(0.015, 0.019), "run": Impedance(0.0088, 0.0025)}
    ],
    "fault.fault_line_to_neutral": [
        {
            "voltage_ln_v": 120.0,
            "source": Impedance(0.005, 0.006),
            "phase": Impedance(0.0088, 0.0025),
            "neutral": Impedance(0.0139, 0.0026),
        }
    ],
    "fault.assumed_contribution": [{"start_a": 70.0, "rated_a": 40.3}, {"start_a": 140.0, "rated_a": 40.3}],
    "fault.with_contributions": [{"fault_a": 5123.0, "contributions_a": [80.6, 140.0]}],
    "fault.worst_fault": [{"faults_a": [5123.0, 6203.5]}],
    "fault.series_motor_limit": [{"rating_a": 10000.0}],
    "fault.storage_fault": [{"currents_a": [1203.0, 980.5]}],
    "fault.largest_fast_device": [{"fault_a": 285.0}],
    "grounding.proportional_egc_area": [
        {"base_cmil": 10380.0, "installed_cmil": 52620.0, "smallest_cmil": 41740.0}
    ],
    "grounding.area_of_sets": [{"area_cmil": 167800.0, "sets": 2.0}],
    "grounding.supply_side_jumper_area": [{"ungrounded_cmil": 1200000.0}],
    "interconnection.source_demand": [
        {"currents_a": [40.3, 16.1]},
        {"currents_a": [40.3], "cite": "feeder_connection"},
    ],
    "interconnection.bus_sum": [{"source_demand_a": 50.4, "protecting_device_a": 200.0}],
    "interconnection.bus_120_limit": [{"bus_a": 225.0}],
    "interconnection.bus_all_devices": [{"devices_a": [50.0, 20.0, 15.0]}],
    "interconnection.remaining_by_sum": [
        {"bus_a": 225.0, "protecting_device_a": 150.0, "source_demand_a": 50.4},
        {"bus_a": 200.0, "protecting_device_a": 200.0, "source_demand_a": 50.4},
    ],
    "interconnection.remaining_by_120": [
        {"bus_a": 225.0, "protecting_device_a": 200.0, "source_demand_a": 50.4},
    ],
    "interconnection.remaining_by_all_devices": [{"bus_a": 125.0, "devices_sum_a": 85.0}],
    "interconnection.remaining_source_current": [{"left_a": 69.6, "cite": "busbar_120"}],
    "interconnection.feeder_segment_need": [{"upstream_device_a": 100.0, "source_demand_a": 50.4}],
    "interconnection.tap_need_25_ft": [{"feeding_a": 150.4}],
    "interconnection.tap_need_10_ft": [{"feeding_a": 150.4}],
    "interconnection.tap_feeding_devices": [{"feeder_device_a": 200.0, "source_devices_a": [60.0, 50.0]}],
    "interconnection.controlled_current": [{"sources_a": 80.1, "setting_a": 48.0}, {"sources_a": 40.0, "setting_a": 48.0}],
    "interconnection.sources_together": [{"currents_a": [40.1, 31.7]}],
    "interconnection.source_powers_together": [{"powers_w": [9600.0, 7600.5]}],
    "interconnection.supply_side_devices": [{"devices_a": [60.0, 30.0]}],
    "interconnection.supply_side_currents": [{"currents_a": [48.1, 24.0]}],
    "load.current_from_va": [{"load_va": 7300.0, "voltage_v": 240.0}],
    "load.apparent_power": [{"current_a": 30.1, "voltage_v": 240.0, "cite": "load_total"}],
    "load.apparent_from_real": [{"power_w": 6120.0, "power_factor": 0.85, "cite": "load_measured"}],
    "load.whole_amperes": [{"current_a": 103.3}, {"current_a": 103.5}, {"current_a": 104.0}],
    "load.continuous_share": [{"currents_a": [30.1, 17.5]}],
    "load.noncontinuous_share": [{"load_a": 103.0, "continuous_a": 30.1}, {"load_a": 20.0, "continuous_a": 30.1}],
    "backup.source_neutral_need": [{"unbalance_a": 16.4}],
    "motor.several_motors_need": [{"load_a": 41.5, "addition_a": 4.25}],
    "motor.hermetic_circuit_ampacity": [{"rla_a": 17.9, "others_a": 1.4}],
    "motor.hermetic_device_limit": [{"rla_a": 17.9, "others_a": 1.4}, {"rla_a": 5.1, "others_a": 0.7}],
    "motor.hermetic_start_limit": [{"rla_a": 17.9, "others_a": 1.4}, {"rla_a": 4.1, "others_a": 0.7}],
    "motor.hermetic_disconnect_need": [{"rla_a": 17.9, "others_a": 1.4}],
    "motor.motor_circuit_ampacity": [{"flc_a": 28.3}],
    "motor.motor_device_limit": [{"flc_a": 28.3, "percent": 250.0}],
    "motor.locked_rotor_current": [{"kva_per_hp": 6.29, "horsepower": 5.0, "voltage_v": 230.0}],
    "motor.running_current": [{"rla_a": 17.9, "fan_a": 1.4}],
    "motor.other_loads": [{"load_a": 38.3, "own_a": 19.3}],
    "motor.start_demand": [{"start_a": 96.0, "others_a": 31.7}],
    "motor.start_capability": [{"currents_a": [140.0, 97.5]}],
    "overcurrent.device_need": [{"continuous_a": 40.1, "noncontinuous_a": 3.0, "cite": "source_ocpd"}],
    "overcurrent.next_standard_at_or_above": [
        {"ratings": RATINGS, "need_a": 50.1},
        {"ratings": RATINGS, "need_a": 1000.1},
    ],
    "overcurrent.largest_standard_at_or_below": [
        {"ratings": RATINGS, "limit_a": 69.9},
        {"ratings": RATINGS, "limit_a": 14.9},
    ],
    "overcurrent.ampacity_to_protect": [{"terminal_a": 65.0, "conditions_a": 54.6}],
    "overcurrent.protected_by_device": [
        {"ampacity_a": 54.6, "device_a": device_a, "ratings": RATINGS, "next_size_up_allowed": allowed}
        for device_a in (50.0, 60.0, 70.0)
        for allowed in (True, False)
    ],
    "pv.source_current": [{"isc_a": 13.9, "strings": 2.0}],
    "pv.cold_voltage": [{"voc_v": 38.1, "count": 11.0, "coefficient_percent_per_k": -0.26, "low_c": -14.2}],
    "pv.cold_voltage_by_volts": [{"voc_v": 38.1, "count": 11.0, "coefficient_v_per_k": -0.099, "low_c": -14.2}],
    "pv.cold_voltage_by_table": [{"voc_v": 38.1, "count": 11.0, "factor": 1.14}],
    "pv.working_voltage": [{"vmp_v": 31.7, "count": 11.0}],
    "pv.string_working_current": [{"power_w": 4620.0, "voltage_v": 371.0}],
    "pv.relative_coefficient": [{"coefficient_v_per_k": -0.099, "voltage_v": 38.1}],
    "pv.cell_temperature_hot": [{"high_c": 36.3, "rise_k": 35.0}],
    "pv.cell_temperature_by_noct": [{"high_c": 36.3, "noct_c": 44.7}],
    "pv.hot_voltage": [{"vmp_v": 31.9, "count": 11.0, "coefficient_percent_per_k": -0.34, "cell_c": 71.3}],
    "pv.cold_working_voltage": [
        {"vmp_v": 31.9, "count": 11.0, "coefficient_percent_per_k": -0.34, "low_c": -14.2}
    ],
    "pv.input_short_circuit": [{"isc_a": 13.9, "strings": 2.0}],
    "pv.input_short_circuit_raised": [{"isc_a": 13.9, "strings": 2.0}],
    "pv.input_working_current": [{"imp_a": 13.2, "strings": 2.0}],
    "pv.string_protection_current": [{"strings": 3.0, "isc_a": 13.9, "backfeed_a": 1.1}],
    "pv.array_power": [{"count": 22.0, "power_w": 420.5}],
    "pv.converter_current": [{"output_a": 15.1, "strings": 2.0}],
    "pv.converter_voltage": [{"output_v": 60.3, "count": 9.0}],
    "pv.usable_array_power": [{"ac_w": 9600.0, "charge_w": 4200.3}],
    "raceway.area_from_diameter": [{"diameter_in": 0.273}],
    "raceway.group_area": [{"count": 3.0, "area_in2": 0.0507}],
    "raceway.conductor_area": [{"areas_in2": [0.1521, 0.0211]}],
    "raceway.fill_percent": [{"conductor_area_in2": 0.1732, "internal_area_in2": 0.864}],
    "raceway.wires_by_note_7": [
        {"internal_area_in2": 0.864, "one_conductor_area_in2": 0.0507, "percent": 40.0},
        {"internal_area_in2": 0.533, "one_conductor_area_in2": 0.0211, "percent": 40.0},
    ],
    "raceway.jam_ratio": [{"internal_diameter_in": 1.049, "conductor_diameter_in": 0.352}],
    "source.generator_conductor_need": [{"rated_a": 41.7}],
    "storage.discharge_current_at_terminals": [{"power_w": 5000.0, "lowest_v": 43.2}],
    "storage.charge_current_at_terminals": [{"power_w": 4200.0, "lowest_v": 43.2}],
    "storage.discharge_current_from_ac": [{"power_w": 5000.0, "efficiency_percent": 96.7, "lowest_v": 43.2}],
    "storage.charge_current_from_ac": [{"power_w": 4200.0, "efficiency_percent": 96.7, "lowest_v": 43.2}],
    "storage.energy_together": [{"energies_kwh": [10.4, 9.9], "cite": "ess_runtime"}],
    "storage.runtime": [{"usable_kwh": 13.1, "load_w": 4000.0}],
    "storage.storage_circuit_current": [{"discharge_a": 119.7, "charge_a": 94.0}],
}


def public_kernels(module: ModuleType) -> dict[str, FunctionType]:
    """The functions a module defines itself, by ``module.name``."""
    short = module.__name__.rpartition(".")[2]
    return {
        f"{short}.{name}": value
        for name, value in vars(module).items()
        if inspect.isfunction(value) and value.__module__ == module.__name__ and not name.startswith("_")
    }


KERNELS = {name: kernel for module in MODULES for name, kernel in public_kernels(module).items()}


def as_terms(argument: object, path: str) -> object:
    """``argument`` with every float in it made an input Term; text, flags and enums stay."""
    if isinstance(argument, float):
        return given(argument, "", path.replace(".", "_"), path)
    if isinstance(argument, list):
        return [as_terms(item, f"{path}_{index}") for index, item in enumerate(argument)]
    if dataclasses.is_dataclass(argument):
        return dataclasses.replace(
            argument, **{name: as_terms(value, f"{path}_{name}") for name, value in fields_of(argument)}
        )
    return argument


def fields_of(record: object) -> list[tuple[str, object]]:
    """The fields of a dataclass instance with their values."""
    return [(field.name, getattr(record, field.name)) for field in dataclasses.fields(record)]


def plain(result: object) -> object:
    """``result`` with every Term in it replaced by its value."""
    if isinstance(result, Term):
        return result.value
    if isinstance(result, tuple | list):
        return [plain(item) for item in result]
    if dataclasses.is_dataclass(result):
        return [plain(value) for _, value in fields_of(result)]
    return result


def terms_in(result: object) -> Iterator[Term]:
    """Every Term that a result holds."""
    if isinstance(result, Term):
        yield result
    elif isinstance(result, tuple | list):
        for item in result:
            yield from terms_in(item)
    elif dataclasses.is_dataclass(result) and not isinstance(result, Enum):
        for _, value in fields_of(result):
            yield from terms_in(value)
