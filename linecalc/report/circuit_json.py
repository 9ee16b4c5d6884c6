"""One sized circuit as JSON; shared by the results of a project and of a single circuit."""

from __future__ import annotations

from typing import Any

from linecalc.network.records import CircuitCurrents, Mode, ModeCurrent
from linecalc.report.amounts import json_number as number
from linecalc.report.fault_block import fault_result
from linecalc.sizing.fault_records import Faults
from linecalc.sizing.records import Conductor, Egc, SizedCircuit, SizedRaceway, Surroundings
from linecalc.term import value_of

Json = dict[str, Any]


def circuit_result(circuit: SizedCircuit, raceways: tuple[SizedRaceway, ...], faults: Faults | None = None) -> Json:
    """The circuit with its modes, tests, sections and the fault current at its far end; absent is null."""
    worst = worst_mode(circuit.currents)
    item = circuit.circuit.item
    return {
        "tag": circuit.tag,
        "from": item.from_,
        "to": item.to,
        "system": circuit.circuit.system.value,
        "modes": {mode.value: _mode(mode, circuit) for mode in Mode},
        "rise_percent_to_meter": number(circuit.rise_to_meter),
        "continuous_a": number(worst.continuous) if worst else None,
        "noncontinuous_a": number(worst.noncontinuous) if worst else None,
        "design_a": number(circuit.device_need),
        "selected": list(circuit.selected),
        "governed_by": circuit.governed_by.value,
        "ocpd_a": number(circuit.device.rating) if circuit.device else None,
        "terminals_c": list(circuit.terminals_c),
        "conductor": _conductor(circuit.conductor, circuit.ungrounded),
        "neutral": {"size": circuit.neutral.size} if circuit.neutral else None,
        "egc": _egc(circuit.egc),
        "length_ft": number(circuit.circuit.length_ft),
        "tests": {
            "T1": {"needed_a": number(circuit.t1_need), "ampacity_a": number(circuit.t1_ampacity)},
            "T2": {"needed_a": number(circuit.t2_need), "ampacity_a": number(circuit.t2_ampacity)},
            "T3": {"protected_a": number(circuit.protect_a), "ocpd_a": number(circuit.device.rating) if circuit.device else None},
        },
        "sections": [_section(section, raceways) for section in circuit.sections],
        "fault": fault_result(faults, circuit.circuit.down),
    }


def worst_mode(currents: CircuitCurrents) -> ModeCurrent | None:
    """The mode that asks most of the terminals: 1.25 times the continuous current plus the rest."""
    found = [current for _, current in currents.modes]
    return max(found, key=lambda mode: 1.25 * value_of(mode.continuous) + value_of(mode.noncontinuous), default=None)


def _mode(mode: Mode, circuit: SizedCircuit) -> Json | None:
    current = circuit.currents.of(mode)
    if current is None:
        return None
    drop = next((found for found in circuit.drops if found.mode is mode), None)
    return {
        "current_a": number(value_of(current.continuous) + value_of(current.noncontinuous)),
        "neutral_a": number(current.neutral),
        "drop_v": number(drop.drop_v) if drop else None,
        "drop_percent": number(drop.percent) if drop else None,
        "base_v": number(drop.base_v) if drop else None,
    }


def _conductor(conductor: Conductor, count: int) -> Json:
    return {
        "size": conductor.size,
        "material": conductor.material,
        "insulation": conductor.insulation,
        "parallel": conductor.parallel,
        "count": count,
    }


def _egc(egc: Egc | None) -> Json | None:
    if egc is None:
        return None
    return {"kind": egc.kind, "size": egc.size or None, "base_size": egc.base_size or None, "material": egc.material or None}


def _section(section: Surroundings, raceways: tuple[SizedRaceway, ...]) -> Json:
    raceway = next((found for found in raceways if found.section == section.section), None)
    return {
        "tag": section.section,
        "method": section.method,
        "size": raceway.size if raceway else None,
        "fill_percent": number(raceway.fill_percent) if raceway else None,
        "place": section.place,
        "wet": section.moisture == "wet",
        "ambient_c": number(section.ambient_c),
        "adder_c": number(section.adder_c),
        "ambient_factor": number(section.ambient_factor),
        "current_carrying": section.current_carrying,
        "count_factor": number(section.count_factor),
        "ampacity_a": number(section.ampacity),
        "set_aside": section.set_aside,
    }
