"""What linecalc knows of and does not compute: refused by name, with the reason."""

from __future__ import annotations

from typing import Any

from linecalc import units
from linecalc.project.document import Document, entries, quantity
from linecalc.project.model import CABLES, CABLES_REFUSED
from linecalc.project.wording import Fault, quoted, shown

_GENERATOR = "write [generator.TAG] and [transfer.TAG] with the values of their nameplates"
_AUTOTRANSFORMER = (
    "neutral-forming autotransformers are not computed: their neutral current, protection and fault current "
    "follow rules of their own (450.5)"
)
_VEHICLE = (
    "a vehicle that feeds the house is not computed: it comes and goes, so neither its current nor its capacity can be "
    "counted on; an EV charger is a load with kind = \"ev\""
)
_SPLIT_BUS = (
    "split-bus panels are not computed: each part of the bus has another device ahead of it, "
    "so no single rating or busbar method holds for the whole"
)
_TWO_SERVICES = "two services are not computed: which loads and sources hang on which, and what ties them, is not understood"
_TABLES = {
    "genset": _GENERATOR,
    "transfer_switch": _GENERATOR,
    "transfer-switch": _GENERATOR,
    "ats": _GENERATOR,
    "autotransformer": _AUTOTRANSFORMER,
    "vehicle": _VEHICLE,
    "v2h": _VEHICLE,
    "services": _TWO_SERVICES,
    "service2": _TWO_SERVICES,
    "service_2": _TWO_SERVICES,
}
_KINDS = {
    "generator": _GENERATOR,
    "transfer switch": _GENERATOR,
    "autotransformer": _AUTOTRANSFORMER,
    "vehicle": _VEHICLE,
    "bidirectional ev": _VEHICLE,
}
_CABLES = (*CABLES_REFUSED, "TC-PV")
_SPELLINGS = {"SE-R": "SER", "SE-U": "SEU", "UF-B": "UF", "NMB": "NM-B", "NM-B CABLE": "NM-B"}
_ELECTRONICS = {
    "ac module": "AC modules are not computed: they have no DC string, and their branch is a listed trunk cable of the maker",
}
_VEHICLE_KEYS = ("bidirectional", "discharge", "v2h", "discharge_power")
_SPLIT_KEYS = ("split_bus", "split-bus", "bus_sections", "sections")
_SPLIT_PHASE_V = 240.0
_TWO_HUNDRED_EIGHT = (
    "120/208 V and three-phase services are not computed: their legs do not stand opposite each other, "
    "so every current and drop would differ"
)


def faults(document: Document) -> list[Fault]:
    """Everything in ``document`` that is refused by name."""
    return [
        *_refused_tables(document),
        *_refused_equipment(document),
        *_refused_cables(document),
        *_refused_services(document),
        *_refused_panels(document),
        *_refused_vehicles(document),
        *_second_spelling(document),
    ]


def _refused_tables(document: Document) -> list[Fault]:
    return [Fault((key,), f"refused: {_TABLES[key.lower()]}", found=key) for key in document if str(key).lower() in _TABLES]


def _refused_equipment(document: Document) -> list[Fault]:
    found = []
    for tag, keys in entries(document, "equipment"):
        kind, electronics = keys.get("kind"), keys.get("electronics")
        if isinstance(kind, str) and kind.lower() in _KINDS:
            found.append(Fault(("equipment", tag, "kind"), f"refused: {_KINDS[kind.lower()]}", found=kind))
        if isinstance(electronics, str) and electronics in _ELECTRONICS:
            reason = f"refused: {_ELECTRONICS[electronics]}"
            found.append(Fault(("equipment", tag, "electronics"), reason, found=electronics, expected='"none"'))
    return found


def _refused_cables(document: Document) -> list[Fault]:
    found = []
    for tag, keys in entries(document, "section"):
        method = keys.get("method")
        if not isinstance(method, str):
            continue
        if method.upper() in _CABLES:
            reason = f"refused: {quoted(method)} is not computed; of cables, {', '.join(CABLES)} are"
            found.append(Fault(("section", tag, "method"), reason, found=method))
        elif method.upper() in _SPELLINGS:
            right = _SPELLINGS[method.upper()]
            found.append(Fault(("section", tag, "method"), f"write {quoted(right)}", found=method, expected=right, nearest=(right,)))
    return found


def _refused_panels(document: Document) -> list[Fault]:
    """Panels whose bus is in several parts."""
    return [
        Fault(("panel", tag, key), f"refused: {_SPLIT_BUS}", found=key)
        for tag, keys in entries(document, "panel")
        for key in _SPLIT_KEYS
        if key in keys
    ]


def _refused_vehicles(document: Document) -> list[Fault]:
    """Loads that are said to feed the house."""
    found = []
    for tag, keys in entries(document, "load"):
        kind = keys.get("kind")
        if isinstance(kind, str) and kind.lower() in ("v2h", "bidirectional ev", "vehicle"):
            found.append(Fault(("load", tag, "kind"), f"refused: {_VEHICLE}", found=kind))
        found += [Fault(("load", tag, key), f"refused: {_VEHICLE}", found=key) for key in _VEHICLE_KEYS if key in keys]
    return found


def _refused_services(document: Document) -> list[Fault]:
    service = document.get("service")
    if isinstance(service, list | tuple) and len(service) > 1:
        return [Fault(("service",), f"refused: {_TWO_SERVICES}", found=f"{len(service)} services")]
    if not isinstance(service, dict):
        return []
    parts = [key for key, value in service.items() if isinstance(value, dict) and "rating" in value]
    if parts:
        return [Fault(("service", key), f"refused: {_TWO_SERVICES}", found=key) for key in parts]
    keys = [key for key in ("phases", "phase", "wires") if key in service and str(service[key]) in ("3", "three", "4")]
    found = [Fault(("service", key), f"refused: {_TWO_HUNDRED_EIGHT}", found=str(service[key])) for key in keys]
    reason = _voltage_reason(service.get("voltage"))
    if reason:
        found.append(Fault(("service", "voltage"), reason, found=shown(service["voltage"]), expected='"240 V"'))
    return found


def _voltage_reason(written: Any) -> str:
    """Why a service voltage is refused; empty for 120/240 V and for what is no voltage at all."""
    if isinstance(written, dict):
        written = written.get("value")
    if isinstance(written, str) and "/" in written:
        if "240" in written and "120" in written:
            return f'{quoted(written)}: write "240 V"; both legs are understood'
        return f"refused: {_TWO_HUNDRED_EIGHT}"
    voltage = quantity(written, units.VOLTAGE)
    if voltage is None or abs(voltage.value - _SPLIT_PHASE_V) < 1e-9:
        return ""
    if voltage.value in (208.0, 120.0, 277.0, 480.0, 400.0, 415.0) and voltage.value != 120.0:
        return f"refused: {_TWO_HUNDRED_EIGHT}"
    return f'refused: only services of 120/240 V, single-phase, are computed, not {quoted(voltage.as_written)}; write "240 V"'


def _second_spelling(document: Document) -> list[Fault]:
    """``from_`` is the spelling of scripts; a file says ``from``."""
    return [
        Fault(("circuit", tag, "from_"), 'unknown key; did you mean "from"?', found="from_", nearest=("from",))
        for tag, keys in entries(document, "circuit")
        if "from_" in keys
    ]
