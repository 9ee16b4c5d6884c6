"""Names that must mean something: every tag referred to exists, and every tag means one thing."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.project.devices import INTEGRAL, LABEL_KEYS
from linecalc.project.document import Document, entries, tags, text, texts
from linecalc.project.model import SERVICE, TAGGED
from linecalc.project.wording import Fault, Path, alternatives, nearest, quoted

_KINDS = (*TAGGED, "circuit", "section")


@dataclass(frozen=True, slots=True)
class Reference:
    """A key of one kind of table that names a tag of other kinds."""

    kind: str
    key: str
    to: tuple[str, ...]
    meaning: str


@dataclass(frozen=True, slots=True)
class EquipmentReference:
    """A key that names an entry of the equipment data, which must be of one kind."""

    kind: str
    key: str
    equipment_kind: str


_REFERENCES = (
    Reference("string", "to", ("unit", "inverter", "combiner"), "a unit, inverter or combiner"),
    Reference("storage", "unit", ("unit",), "a unit"),
    Reference("combiner", "to", ("unit", "inverter", "combiner", "disconnect"), "a unit, inverter, combiner or disconnect"),
    Reference("load", "panel", ("panel",), "a panel"),
    Reference("panel", "series_with", ("panel", "disconnect", "isolation"), "a panel, disconnect or isolation device"),
)
_EQUIPMENT = (
    EquipmentReference("string", "module", "pv module"),
    EquipmentReference("unit", "equipment", "unit"),
    EquipmentReference("inverter", "equipment", "inverter"),
    EquipmentReference("storage", "equipment", "storage module"),
)
_ELECTRONICS = ("shutdown device", "dc-dc converter")


def faults(document: Document) -> list[Fault]:
    """Every name in ``document`` that means nothing, or more than one thing."""
    found = [*_repeated_tags(document)]
    for reference in _REFERENCES:
        found += _dangling(document, reference)
    for reference in _EQUIPMENT:
        found += _equipment(document, reference)
    found += _electronics(document)
    return [*found, *_ends(document), *_paths(document), *_unused_sections(document), *_inputs(document), *_holders(document), *_labels(document), *_covers(document), *_shares(document)]


def _repeated_tags(document: Document) -> list[Fault]:
    first: dict[str, str] = {SERVICE: ""}
    found = []
    for kind in _KINDS:
        for tag in tags(document, kind):
            if tag not in first:
                first[tag] = kind
            elif tag == SERVICE:
                found.append(Fault((kind, tag), f"the tag {quoted(tag)} is taken: it means the utility supply", found=tag))
            else:
                message = f"the tag {quoted(tag)} is used twice; [{first[tag]}.{tag}] has it too, and a tag means one thing"
                found.append(Fault((kind, tag), message, found=tag))
    return found


def _missing(path: Path, name: str, known: list[str], meaning: str) -> Fault:
    """``name`` is the tag of nothing that it may mean."""
    close = nearest(name, known)
    if close:
        advice = f"; did you mean {alternatives(close)}?"
    elif known:
        advice = f"; there is {alternatives(known[:12])}"
    else:
        advice = "; the project has none"
    return Fault(path, f"{quoted(name)} is not the tag of {meaning}{advice}", found=name, expected=meaning, nearest=close)


def _dangling(document: Document, reference: Reference) -> list[Fault]:
    known = tags(document, *reference.to)
    found = []
    for tag, keys in entries(document, reference.kind):
        name = text(keys, reference.key)
        path = (reference.kind, tag, reference.key)
        if name is not None and name == tag and name in known:
            found.append(Fault(path, f"{quoted(name)} is this {reference.kind} itself; name another thing", found=name, expected=reference.meaning))
        elif name is not None and name not in known:
            found.append(_missing(path, name, known, reference.meaning))
    return found


def _equipment(document: Document, reference: EquipmentReference) -> list[Fault]:
    kinds = {tag: keys.get("kind") for tag, keys in entries(document, "equipment")}
    known = [tag for tag, kind in kinds.items() if kind == reference.equipment_kind]
    found = []
    for tag, keys in entries(document, reference.kind):
        name, path = text(keys, reference.key), (reference.kind, tag, reference.key)
        if name is None or name in known:
            continue
        kind = kinds.get(name)
        if isinstance(kind, str):
            message = f"[equipment.{name}] is of kind {quoted(kind)}, not {quoted(reference.equipment_kind)}"
            found.append(Fault(path, message, found=name, expected=f'equipment of kind "{reference.equipment_kind}"', nearest=tuple(known[:3])))
        elif name not in kinds:
            found.append(_missing(path, name, known, f'equipment of kind "{reference.equipment_kind}"'))
    return found


def _electronics(document: Document) -> list[Fault]:
    """The electronics of a module are an entry of the kind that the module names."""
    equipment = dict(entries(document, "equipment"))
    found = []
    for tag, keys in equipment.items():
        kind, name = text(keys, "electronics"), text(keys, "electronics_equipment")
        path = ("equipment", tag, "electronics_equipment")
        if name is not None and kind not in _ELECTRONICS:
            found.append(Fault(path, f"needs electronics = {alternatives(_ELECTRONICS)} beside it", found=name))
        elif name is not None and text(equipment.get(name, {}), "kind") != kind:
            known = [other for other, data in equipment.items() if data.get("kind") == kind]
            found.append(_missing(path, name, known, f'equipment of kind "{kind}"'))
    return found


def _ends(document: Document) -> list[Fault]:
    """Both ends of a circuit are tagged things or the service, and not the same one."""
    known = tags(document, *TAGGED)
    found = []
    for tag, keys in entries(document, "circuit"):
        for key in ("from", "to"):
            name, path = text(keys, key), ("circuit", tag, key)
            if name == SERVICE and not isinstance(document.get(SERVICE), dict):
                found.append(Fault(path, '"service" needs the table [service], which the project has not', found=name))
            elif name is not None and name != SERVICE and name not in known:
                found.append(_missing(path, name, [*known, SERVICE], "anything in the house"))
        if text(keys, "from") is not None and text(keys, "from") == text(keys, "to"):
            found.append(Fault(("circuit", tag, "to"), f"{quoted(keys['to'])} is where the circuit comes from", found=keys["to"]))
    return found


def _paths(document: Document) -> list[Fault]:
    known = tags(document, "section")
    found = []
    for tag, keys in entries(document, "circuit"):
        path = keys.get("path")
        for index, name in enumerate(path if isinstance(path, tuple | list) else ()):
            if not isinstance(name, str):
                continue
            place = ("circuit", tag, "path", index)
            if name not in known:
                found.append(_missing(place, name, known, "a section"))
            elif name in path[:index]:
                found.append(Fault(place, f"section {quoted(name)} stands twice in this path", found=name))
    return found


def _unused_sections(document: Document) -> list[Fault]:
    used = {name for _, keys in entries(document, "circuit") for name in texts(keys, "path")}
    return [
        Fault(("section", tag), f"no circuit has section {quoted(tag)} in its path; name it there or leave it out", found=tag)
        for tag in tags(document, "section")
        if tag not in used
    ]


def _inputs(document: Document) -> list[Fault]:
    """A string's input is one that its unit or inverter has."""
    equipment = dict(entries(document, "equipment"))
    hosts = {tag: keys for kind in ("unit", "inverter") for tag, keys in entries(document, kind)}
    found = []
    for tag, keys in entries(document, "string"):
        host = text(keys, "to") or ""
        data = equipment.get(text(hosts.get(host, {}), "equipment") or "", {})
        number, inputs = keys.get("input"), data.get("mppt")
        if type(number) is int and type(inputs) is int and inputs < number:
            message = f"{quoted(host)} has {inputs} inputs, so there is no input {number}" if number < 1000 else "no such input"
            found.append(Fault(("string", tag, "input"), message, found=str(min(number, 10**9)), expected=f"1 to {inputs}"))
    return found


_HOLDERS = tuple((kind, key) for kind in ("unit", "inverter") for key in ("ac_disconnect", "pv_disconnect", "storage_disconnect"))


def _holders(document: Document) -> list[Fault]:
    """What a switch is said to be: the tag of a thing or circuit, or a switch inside the equipment."""
    known = [*tags(document, "disconnect", "panel", "isolation", "circuit", "unit", "inverter"), INTEGRAL]
    meaning = f'a disconnect, panel or circuit, or "{INTEGRAL}"'
    found = []
    for kind, key in _HOLDERS:
        for tag, keys in entries(document, kind):
            name = text(keys, key)
            if name is not None and name not in known:
                found.append(_missing((kind, tag, key), name, known, meaning))
    required = document.get("required")
    for key in ("emergency_disconnect", "surge_protection_at"):
        name = text(required, key) if isinstance(required, dict) else None
        if name is not None and name not in known:
            found.append(_missing(("required", key), name, known, meaning))
    return found


def _labels(document: Document) -> list[Fault]:
    """A label that linecalc does not know is an additional one, and then says where it goes and what it says."""
    found = []
    for key, keys in entries(document, "label"):
        if key in LABEL_KEYS or (text(keys, "where") is not None and text(keys, "text") is not None):
            continue
        close = nearest(key, list(LABEL_KEYS))
        hint = f"; did you mean {alternatives(close)}?" if close else ""
        message = f"{quoted(key)} is no label of linecalc{hint} An additional label needs where and text"
        found.append(Fault(("label", key), message, found=key, expected=", ".join(LABEL_KEYS), nearest=close))
    return found


def _covers(document: Document) -> list[Fault]:
    control = document.get("power_control")
    if not isinstance(control, dict):
        return []
    known = [*tags(document, *_KINDS), SERVICE]
    named = control.get("covers")
    return [
        _missing(("power_control", "covers", index), name, known, "a bus, device or circuit")
        for index, name in enumerate(named if isinstance(named, tuple | list) else ())
        if isinstance(name, str) and name not in known
    ]


def _shares(document: Document) -> list[Fault]:
    """A share of the general load is by the tag of a panel."""
    dwelling = document.get("dwelling")
    if not isinstance(dwelling, dict):
        return []
    known = tags(document, "panel")
    return [_missing(("dwelling", "share", tag), tag, known, "a panel") for tag, _ in entries(dwelling, "share") if tag not in known]
