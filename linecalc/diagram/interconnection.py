"""How the sources connect: the arithmetic beside each bus, and the sentence of the notes."""

from __future__ import annotations

from linecalc.calc.compare import at_most
from linecalc.diagram.phrases import amount, arithmetic, figure, joined, listed
from linecalc.network.records import Kind
from linecalc.project.model import SERVICE
from linecalc.sizing.power_control import covers
from linecalc.sizing.records import BusFigures, BusVerdict
from linecalc.study import Study

_PLACES = {
    "opposite end": ", opposite end of the bus", "main end": ", main end of the bus",
    "middle": ", middle of the bus", None: "",
}


def bus_line(study: Study, figures: BusFigures) -> str:
    """The busbar method that decides, with its arithmetic, on one line."""
    if figures.through_one_device and figures.protected_by is not None:
        device = figure(figures.protected_by, "A")
        return f"Bus fed through one device: {device} on {figure(figures.rating, 'A')} bus"
    used = figures.used
    if used is None or used.demand is None or used.limit is None:
        missing = f" (needs {', '.join(figures.needs)})" if figures.needs else ""
        return f"Busbar: not checked{missing}"
    citation = study.book.cite(used.key).text
    sign = "<=" if used.verdict is BusVerdict.PASS else ">"
    held = f"Busbar {citation}: {arithmetic(used.demand, 'A')} {sign} {arithmetic(used.limit, 'A')}"
    return joined(held, _control(study, figures.tag))


def _control(study: Study, tag: str) -> str:
    control = study.project.power_control
    if control is None or not covers(study.project, study.book, tag):
        return ""
    return f"power control set to {amount(control.setting)}"


def supply_side_line(study: Study, tag: str) -> str:
    """The arithmetic of a connection ahead of the service disconnect, at the thing where it is made."""
    figures = study.sized.supply_side
    if figures is None or figures.junction != tag:
        return ""
    citation = study.book.cite("supply_side").text.split(";")[0]
    if figures.limit is None:
        return f"Supply side {citation}: not checked (needs {', '.join(figures.needs)})"
    sign = "<=" if at_most(figures.demand, figures.limit) else ">"
    return f"Supply side {citation}: {arithmetic(figures.demand, 'A')} {sign} {arithmetic(figures.limit, 'A')}"


def interconnection_note(study: Study) -> str:
    """Supply or load side, and where; empty without a utility or without a source."""
    if study.project.service is None or not study.network.of_kind(Kind.UNIT, Kind.INVERTER):
        return ""
    supply = study.sized.supply_side
    if supply is not None:
        at = "the meter" if supply.junction == SERVICE else supply.junction
        mains = _service_disconnects(study, supply.junction)
        ahead = f", ahead of {listed(mains)}" if mains else ""
        return f"Supply-side interconnection: joined at {at}{ahead}."
    found = [*_source_breakers(study), *_source_taps(study)]
    return f"Load-side interconnection: {'; '.join(found)}." if found else ""


def _service_disconnects(study: Study, junction: str) -> list[str]:
    """The service disconnects behind the place of a supply-side connection that no source is behind."""
    network = study.network
    sources = {node.tag for node in network.of_kind(Kind.UNIT, Kind.INVERTER)}
    return [
        tag for tag in network.below(junction)
        if getattr(network.nodes[tag].item, "service_disconnect", None) and not sources & set(network.below(tag))
    ]


def _source_breakers(study: Study) -> list[str]:
    """``C1 40 A in BP, C2 60 A in MP, opposite end of the bus``: the breakers on the way of the sources."""
    sources = {node.tag for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER)}
    found: dict[str, list[str]] = {}
    for sized in study.sized.circuits:
        circuit, device = sized.circuit, sized.device
        if device is None or device.inherited or device.where != circuit.up or not sources & set(study.network.below(circuit.down)):
            continue
        if study.network.nodes[circuit.up].kind is Kind.PANEL:
            breaker = f"{circuit.tag} {figure(device.rating, 'A')} in {circuit.up}"
            found.setdefault(_PLACES[circuit.item.bus_position], []).append(breaker)
    return [f"{', '.join(breakers)}{place}" for place, breakers in found.items()]


def _source_taps(study: Study) -> list[str]:
    """The boxes in which the way of a source joins another conductor."""
    sources = {node.tag for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER)}
    return [
        f"tapped at {node.tag}" for node in study.network.of_kind(Kind.JUNCTION)
        if len(study.network.children.get(node.tag, ())) > 1 and sources & set(study.network.below(node.tag))
    ]
