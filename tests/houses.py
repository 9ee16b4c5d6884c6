"""Small invented houses for tests: a base as plain tables, changed key by key."""

from __future__ import annotations

import copy
from typing import Any

from linecalc.check import Check, Level
from linecalc.project.model import Project
from linecalc.project.sources import Sources
from linecalc.project.validate import validated
from linecalc.sizing.records import SizedCircuit
from linecalc.study import Study, study

MODULE = {
    "kind": "pv module",
    "power": "400 W",
    "voc": "40 V",
    "isc": "13 A",
    "vmp": "33 V",
    "imp": "12 A",
    "voc_coefficient": "-0.25 %/K",
    "pmax_coefficient": "-0.35 %/K",
    "series_fuse": "25 A",
    "system_voltage": "1000 V",
    "technology": "crystalline silicon",
}
UNIT = {
    "kind": "unit",
    "ac_power": "9.6 kW",
    "ac_current": "40 A",
    "ac_current_island": "40 A",
    "ac_power_island": "9.6 kW",
    "charge_current_ac": "20 A",
    "grid_charging": "yes",
    "overcurrent_max": "50 A",
    "terminals": "75 degC",
    "mppt": 2,
    "mppt_current": "14 A",
    "mppt_short_circuit": "18 A",
    "mppt_window": ["90 V", "500 V"],
    "dc_voltage_max": "600 V",
    "array_power_max": "12 kW",
    "backfeed_current": "0 A",
    "energy": "10 kWh",
    "charge_power": "5 kW",
    "discharge_power": "9.6 kW",
    "leg_current": "40 A",
    "neutral": "loads",
    "neutral_rating": "40 A",
    "neutral_bond": "none",
    "storage_modules_max": 1,
}
BASE: dict[str, Any] = {
    "project": {"title": "Test house", "code": "NEC 2023"},
    "site": {"low_temperature": "-15 degC", "high_temperature": "35 degC", "mounting": "rack"},
    "service": {"voltage": "240 V", "rating": "200 A", "conductor": "2/0 AWG Cu THWN-2", "terminals": "75 degC"},
    "backup": {"method": "full load"},
    "equipment": {"mod": MODULE, "unit-a": UNIT},
    "panel": {
        "MP": {"bus": "225 A", "main": "200 A", "feed": "top", "terminals": "75 degC", "neutral_bond": True},
        "BP": {"backup": True, "bus": "125 A", "main": "lugs", "feed": "top", "terminals": "75 degC", "neutral_bond": False},
    },
    "isolation": {"ID": {"rating": "100 A", "internal_bus": "no", "neutral_bond": False, "switches_neutral": False, "terminals": "75 degC"}},
    "unit": {"U1": {"equipment": "unit-a"}},
    "string": {"S1": {"module": "mod", "count": 10, "to": "U1", "input": 1}},
    "load": {
        "HOUSE": {"panel": "MP", "kind": "calculated", "current": "90 A", "continuous_part": "0 A", "unbalance": "30 A", "power_factor": 0.9},
        "BACKUP": {"panel": "BP", "kind": "calculated", "current": "30 A", "continuous_part": "0 A", "unbalance": "16 A", "power_factor": 0.9},
    },
    "circuit": {
        "P1": {"from": "S1", "to": "U1", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
        "C1": {"from": "BP", "to": "U1", "path": ["R2"], "breaker": "50 A", "conductor": "8 AWG Cu THWN-2", "bus_position": "opposite end"},
        "C2": {"from": "MP", "to": "ID", "path": ["R3"], "breaker": "60 A", "conductor": "6 AWG Cu THWN-2", "bus_position": "opposite end"},
        "C3": {"from": "ID", "to": "BP", "path": ["R4"], "conductor": "6 AWG Cu THWN-2"},
        "C4": {"from": "service", "to": "MP", "path": ["R5"]},
    },
    "section": {
        "R1": {"method": "EMT", "place": "attic", "moisture": "dry", "ambient": "50 degC", "length": "30 ft"},
        "R2": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"},
        "R3": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"},
        "R4": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"},
        "R5": {"method": "RMC", "size": "2 in", "place": "outdoor wall", "moisture": "wet", "ambient": "30 degC", "length": "10 ft"},
    },
}
SUPPLY_SIDE: dict[str, Any] = {
    **BASE,
    "panel": {"MP": BASE["panel"]["MP"]},
    "isolation": {},
    "junction": {"J": {"terminals": "75 degC"}},
    "disconnect": {
        "D": {
            "rating": "60 A",
            "device": "50 A",
            "device_kind": "fuse",
            "terminals": "75 degC",
            "service_disconnect": True,
            "neutral_bond": True,
        }
    },
    "load": {"HOUSE": BASE["load"]["HOUSE"]},
    "circuit": {
        "P1": BASE["circuit"]["P1"],
        "C1": {"from": "D", "to": "U1", "path": ["R2"], "conductor": "8 AWG Cu THWN-2"},
        "C2": {"from": "J", "to": "D", "path": ["R3"], "conductor": "6 AWG Cu THWN-2"},
        "C3": {"from": "J", "to": "MP", "path": ["R4"], "conductor": "2/0 AWG Cu THWN-2"},
        "C4": {"from": "service", "to": "J", "path": ["R5"]},
    },
}


def tables(changes: dict[str, Any] | None = None, base: dict[str, Any] = BASE) -> dict[str, Any]:
    """The tables of ``base`` with values set at dotted paths; None removes a key."""
    raw = copy.deepcopy(base)
    for path, value in (changes or {}).items():
        *tables_on_the_way, key = path.split(".")
        table = raw
        for name in tables_on_the_way:
            table = table.setdefault(name, {})
        if value is None:
            table.pop(key, None)
        else:
            table[key] = copy.deepcopy(value)
    return raw


def house(changes: dict[str, Any] | None = None, base: dict[str, Any] = BASE) -> Project:
    """A valid project: ``base`` with ``changes``."""
    return validated(tables(changes, base), Sources())


def studied(changes: dict[str, Any] | None = None, base: dict[str, Any] = BASE, edition: str | None = None) -> Study:
    """The study of a changed house."""
    return study(house(changes, base), edition)


def checks(found: Study, rule: str, subject: str | None = None) -> list[Check]:
    """The checks of one rule key, of one subject if given."""
    return [check for check in found.checks if check.rule == rule and subject in (None, check.subject)]


def check(found: Study, rule: str, subject: str | None = None) -> Check:
    """The only check of a rule on a subject."""
    matching = checks(found, rule, subject)
    assert len(matching) == 1, f"{rule} on {subject}: {[(one.subject, one.level.value) for one in matching]}"
    return matching[0]


def level(found: Study, rule: str, subject: str | None = None) -> Level:
    """The level of the only check of a rule on a subject."""
    return check(found, rule, subject).level


def circuit(found: Study, tag: str) -> SizedCircuit:
    """One sized circuit."""
    return found.sized.circuit(tag)
