"""Devices that must be seen on the drawing: surge protection, rapid shutdown, emergency disconnect and shutdown."""

from __future__ import annotations

from linecalc.check import Level
from linecalc.diagram.phrases import joined, names_device, status, unsaid
from linecalc.diagram.plan import Branch, PlanNode, Stacked, Style
from linecalc.network.electronics import CONVERTER, Electronics, electronics_of
from linecalc.network.records import Kind, Node
from linecalc.project.devices import INTEGRAL
from linecalc.project.equipment import Converter
from linecalc.study import Study

SURGE_TAG = "SPD"
SHUTDOWN_TAG = "RSD"
_NOT_STATED = "not stated"
_STRING_SYMBOLS = {CONVERTER: "pv string, converters"}
#: What a surge protective device may hang on: things of which the drawing shows a bus or a wire that goes on.
_SURGE_HOLDERS = (Kind.PANEL, Kind.ISOLATION, Kind.DISCONNECT)


def surge_branch(study: Study, tag: str) -> Branch | None:
    """The surge protective device on the bus or behind the switch of a thing; None where it has none."""
    required = study.project.required
    if required.surge_protection is None or required.surge_protection_at != tag:
        return None
    if study.network.nodes[tag].kind not in _SURGE_HOLDERS:
        return None
    existing = required.surge_protection_existing
    head = f"{SURGE_TAG} {status(existing)} surge protective device"
    return Branch(PlanNode(SURGE_TAG, Style.LEAF, "surge protection", (head, required.surge_protection), existing), existing=existing)


def surge_note(study: Study) -> str:
    """What the drawing cannot show of surge protection: a device without a place, or one that is asked for and not stated."""
    required = study.project.required
    if required.surge_protection is not None:
        at = required.surge_protection_at
        if at is not None and at in study.network.nodes and study.network.nodes[at].kind in _SURGE_HOLDERS:
            return ""
        return f"Surge protective device: {required.surge_protection}, {f'at {at}' if at else 'place not stated'}."
    if not _lacks(study, "surge_protection"):
        return ""
    return f"Surge protective device ({study.book.cite('surge_protection').section}): not stated."


def _lacks(study: Study, rule: str) -> bool:
    return any(check.rule == rule and check.level is Level.NOT_CHECKED for check in study.checks)


def shutdown_switch(study: Study) -> Stacked | None:
    """The switch that starts the rapid shutdown, where it is no thing of the power circuits."""
    stated = study.project.rapid_shutdown
    if not _asked(study) or stated.initiator is None or _is_thing(study, stated.initiator):
        return None
    lines = (f"{SHUTDOWN_TAG} (N) {stated.initiator}", _stops_storage(study, stated.initiator), stated.location or "")
    return Stacked("rapid shutdown", tuple(line for line in lines if line))


def duties(study: Study, tag: str, said: str) -> str:
    """What a thing is beside its own purpose: emergency disconnect, start of the rapid shutdown, stop of storage.

    *said* is what its text says already.
    """
    required, stated = study.project.required, study.project.rapid_shutdown
    starts = _asked(study) and stated.initiator is not None and tag == _thing_of(study, stated.initiator)
    return unsaid(
        joined(
            "emergency disconnect" if tag == _thing_of(study, required.emergency_disconnect or "") else "",
            "starts the rapid shutdown" if starts else "",
            _stops_storage(study, tag),
        ),
        said,
    )


def _stops_storage(study: Study, name: str) -> str:
    text = study.project.required.emergency_shutdown
    return "storage emergency shutdown" if text is not None and names_device(text, name) else ""


def _asked(study: Study) -> bool:
    return bool(study.sized.strings) and study.project.rapid_shutdown.exempt is None


def _is_thing(study: Study, name: str) -> bool:
    return _thing_of(study, name) is not None


def _thing_of(study: Study, name: str) -> str | None:
    """The tag of the thing that a name is, or whose breaker a circuit's tag names."""
    if name in study.network.nodes:
        return name
    if name in study.project.circuit:
        device = study.sized.circuit(name).device
        return device.where if device is not None else None
    return None


def shutdown_note(study: Study) -> str:
    """What starts the rapid shutdown, what carries it out and by which listing, or what is not stated of it."""
    if not study.sized.strings:
        return ""
    stated, lead = study.project.rapid_shutdown, f"Rapid shutdown ({study.book.cite('rapid_shutdown').section})"
    if stated.exempt is not None:
        return f"{lead}: not asked for, {stated.exempt}."
    return _sentence(
        lead,
        ("initiation device", stated.initiator, "started by "),
        ("its place", _shutdown_place(study), ""),
        ("equipment", stated.equipment, "by "),
        ("listing", stated.listing, ""),
        ("array boundary", {"80 V": "80 V or less"}.get(stated.inside or "", stated.inside), "array boundary: "),
    )


def _sentence(lead: str, *parts: tuple[str, str | None, str]) -> str:
    """What is stated, each part with its own lead, and at the end the names of what is not."""
    found = [f"{before}{text}" for _, text, before in parts if text]
    missing = [name for name, text, _ in parts if not text]
    if missing:
        found.append(f"NOT STATED: {', '.join(missing)}")
    return f"{lead}: {'; '.join(found)}."


def _shutdown_place(study: Study) -> str | None:
    """Where the rapid shutdown is started, as stated for it or for the thing that starts it."""
    stated = study.project.rapid_shutdown
    thing = _thing_of(study, stated.initiator or "")
    return stated.location or (getattr(study.network.nodes[thing].item, "location", None) if thing is not None else None)


def storage_note(study: Study) -> str:
    """What disconnects the storage of each unit, and what shuts it down in an emergency."""
    units = [node for node in study.network.of_kind(Kind.UNIT) if node.data is not None]
    if not units:
        return ""
    shutdown = study.project.required.emergency_shutdown
    parts = [("disconnect", _by_switch(units, "storage_disconnect"), "disconnect ")]
    if shutdown is not None or _lacks(study, "ess_emergency_shutdown"):
        parts.append(("emergency shutdown", shutdown, "emergency shutdown: "))
    return _sentence("Storage", *parts)


def pv_note(study: Study) -> str:
    """Disconnect, arc-fault and ground-fault protection of the PV circuits of each unit or inverter."""
    hosts = {string.unit for string in study.sized.strings}
    units = [node for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER) if node.tag in hosts]
    if not units:
        return ""
    return _sentence(
        "PV circuits",
        ("disconnect", _by_switch(units, "pv_disconnect"), "disconnect "),
        ("arc-fault protection", _of_all(units, "arc_fault"), "arc fault "),
        ("ground-fault protection", _of_all(units, "ground_fault"), "ground fault "),
    )


def _by_switch(units: list[Node], key: str) -> str | None:
    """``U1, U2 integral, 1000 V, 30 A`` or ``U1 DS``, units with the same switch together; None where none is stated."""
    found: dict[str, list[str]] = {}
    for node in units:
        found.setdefault(_switch(node, key), []).append(node.tag)
    if set(found) == {_NOT_STATED}:
        return None
    return "; ".join(f"{', '.join(tags)} {switch}" for switch, tags in found.items())


def _switch(node: Node, key: str) -> str:
    name = getattr(node.item, key)
    if name is None:
        return _NOT_STATED
    if name != INTEGRAL or key != "pv_disconnect":
        return name
    ratings = (node.data.dc_switch_voltage, node.data.dc_switch_current)
    return joined(name, *(rating.as_written for rating in ratings if rating is not None))


def _of_all(units: list[Node], key: str) -> str | None:
    """What the units state, each text once; None where none of them does."""
    texts = dict.fromkeys(getattr(node.data, key) or _NOT_STATED for node in units)
    return None if set(texts) == {_NOT_STATED} else "; ".join(texts)


def string_symbol(study: Study, node: Node) -> str:
    """The symbol of a string: with converters or shutdown devices at its modules, or without."""
    electronics = electronics_of(study.project, node)
    if electronics is None or node.data.electronics == "ac module":
        return "pv string"
    return _STRING_SYMBOLS.get(electronics.kind, "pv string, shutdown")


def electronics_line(study: Study, node: Node) -> str:
    """How many devices stand at the modules of a string, and which."""
    electronics = electronics_of(study.project, node)
    if electronics is None or node.data.electronics == "ac module":
        return ""
    name = node.data.electronics_equipment
    kind = "DC-DC converters" if electronics.kind == CONVERTER else f"{electronics.kind}s"
    return joined(f"{electronics.devices} {kind}{f' {name}' if name else ''}", _electronics_ratings(electronics))


def _electronics_ratings(electronics: Electronics) -> str:
    """What one device puts on the string at most."""
    data = electronics.data
    if not isinstance(data, Converter):
        return ""
    return joined(*(rating.as_written for rating in (data.output_voltage_max, data.output_current) if rating is not None))
