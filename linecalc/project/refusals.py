"""What linecalc knows of and does not compute: refused by name, with the reason."""

from __future__ import annotations

from typing import Any

from linecalc import units
from linecalc.project.document import Document, entries, quantity
from linecalc.project.model import CABLES_REFUSED
from linecalc.project.wording import Fault, quoted, shown

_GENERATOR = "generators and their transfer switches are not computed yet; leave them off, nothing here covers them"
_AUTOTRANSFORMER = "neutral-forming autotransformers are not computed"
_VEHICLE = "a vehicle that feeds the house is not computed; an EV charger is a load with kind = \"ev\""
_TABLES = {
    "generator": _GENERATOR,
    "genset": _GENERATOR,
    "transfer": _GENERATOR,
    "transfer_switch": _GENERATOR,
    "transfer-switch": _GENERATOR,
    "ats": _GENERATOR,
    "autotransformer": _AUTOTRANSFORMER,
    "vehicle": _VEHICLE,
}
_KINDS = {
    "generator": _GENERATOR,
    "transfer switch": _GENERATOR,
    "autotransformer": _AUTOTRANSFORMER,
    "vehicle": _VEHICLE,
    "bidirectional ev": _VEHICLE,
}
_CABLES = (*CABLES_REFUSED, "NM", "NMC", "SE-R", "SE-U", "USE", "UF-B", "TC", "TC-ER", "MC-PV")
_ELECTRONICS = {
    "shutdown device": "module-level shutdown devices are not computed yet: their own limits would go unchecked",
    "dc-dc converter": "module-level dc-dc converters are not computed yet: their rated output replaces Voc and Isc",
    "ac module": "AC modules are not computed yet: they have no DC string",
}
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
        if isinstance(method, str) and method.upper() in _CABLES:
            reason = f"refused: cables are not computed yet, and {quoted(method)} is one; describe a raceway or free air"
            found.append(Fault(("section", tag, "method"), reason, found=method))
    return found


def _refused_services(document: Document) -> list[Fault]:
    service = document.get("service")
    if not isinstance(service, dict):
        return []
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
