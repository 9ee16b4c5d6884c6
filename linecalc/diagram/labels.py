"""The texts beside each thing on the drawing, from the project's records and the study's figures."""

from __future__ import annotations

from linecalc.calc.compare import at_most
from linecalc.network.records import Kind, Node
from linecalc.project.equipment import InverterData, PvModule, StorageData, UnitData
from linecalc.project.model import Service
from linecalc.sizing.records import BusFigures, BusVerdict, SizedCircuit, StringFigures
from linecalc.study import Study
from linecalc.term import Number, Rendered, Term, value_of
from linecalc.units import Quantity, unit_text

ASSUMED = "assumed"


def amount(quantity: Quantity | str | None) -> str:
    """A quantity of the project as the user wrote it, marked where it is assumed; empty for none."""
    if quantity is None:
        return ""
    if isinstance(quantity, str):
        return quantity
    written = _spaced(quantity)
    if quantity.basis == "given":
        return written
    return f"{written} ({quantity.basis})"


def _spaced(quantity: Quantity) -> str:
    """The text as written, with the degree sign of the trade."""
    return quantity.as_written.replace(" degC", " °C").replace(" degF", " °F")


def figure(number: Number, unit: str, digits: int = 3) -> str:
    """A computed figure with its unit, rounded for reading."""
    value = value_of(number)
    text = f"{value:.{digits}g}" if abs(value) < 1000 else f"{value:.0f}"
    return f"{float(text):g} {unit_text(unit)}".strip()


def status(existing: bool) -> str:
    """The mark of what exists already or is new."""
    return "(E)" if existing else "(N)"


def joined(*parts: str) -> str:
    """The parts that say something, with commas."""
    return ", ".join(part for part in parts if part)


def head_of(node: Node, fallback: str) -> str:
    """Tag, mark and name of a thing."""
    name = node.item.description or (node.data.description if node.data is not None else None) or fallback
    return f"{node.tag} {status(node.item.existing)} {name}"


def lines_of(study: Study, node: Node) -> tuple[str, ...]:
    """All lines of a thing: the head, then ratings, then the place."""
    writer = {
        Kind.PANEL: _panel,
        Kind.ISOLATION: _isolation,
        Kind.DISCONNECT: _disconnect,
        Kind.JUNCTION: _junction,
        Kind.COMBINER: _combiner,
        Kind.UNIT: _unit,
        Kind.INVERTER: _inverter,
        Kind.STORAGE: _storage,
        Kind.STRING: _string,
        Kind.LOAD: _load,
        Kind.GENERATOR: _generator,
        Kind.TRANSFER: _transfer,
    }[node.kind]
    return tuple(line for line in writer(study, node) if line)


def transfer_lines(node: Node) -> tuple[str, ...]:
    """What stands beside the transfer that is built into a unit."""
    return (f"{node.tag} {status(node.item.existing)} transfer", f"built into unit {node.tag}: grid port, backup port")


def utility_lines(service: Service) -> tuple[str, ...]:
    """What stands beside the utility supply."""
    fault = f"{amount(service.fault_current)} available" if service.fault_current else ""
    at = f" at the {service.fault_current_at}" if service.fault_current and service.fault_current_at else ""
    return tuple(line for line in ("Utility supply", joined(amount(service.voltage), "1-phase"), fault + at) if line)


def meter_lines(service: Service, existing: bool) -> tuple[str, ...]:
    """What stands beside the meter."""
    bond = "neutral bonded here" if service.neutral_bond else ""
    place = joined(service.meter or "", service.location or "")
    lines = (f"Meter {status(existing)}", f"{amount(service.rating)} service", place, bond)
    return tuple(line for line in lines if line)


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
    return f"Busbar {citation}: {arithmetic(used.demand, 'A')} {sign} {arithmetic(used.limit, 'A')}"


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


def arithmetic(number: Number, unit: str) -> str:
    """``40 A + 200 A = 240 A``, or only the figure where nothing was computed."""
    if not isinstance(number, Term) or not number.op:
        return figure(number, unit)
    line = Rendered(number)
    result = f"{line.result} {unit_text(unit)}"
    return result if line.substitution == result else f"{line.substitution} = {result}"


def _panel(study: Study, node: Node) -> tuple[str, ...]:
    panel = node.item
    main = "main lugs" if isinstance(panel.main, str) else f"{amount(panel.main)} main"
    kind = "backed-up panel" if panel.backup else "generation panel, no loads" if panel.generation else "panel"
    feed = f"fed at the {panel.feed}" if panel.feed else ""
    interrupting = f"{amount(panel.interrupting)} interrupting" if panel.interrupting else ""
    figures = next((found for found in study.sized.buses if found.tag == node.tag), None)
    return (
        head_of(node, kind),
        joined(f"{amount(panel.bus)} bus", main, feed, interrupting),
        bus_line(study, figures) if figures is not None else "",
        joined("service disconnect" if panel.service_disconnect else "", panel.location or ""),
    )


def _isolation(study: Study, node: Node) -> tuple[str, ...]:
    device = node.item
    main = "" if device.main is None or isinstance(device.main, str) else f"{amount(device.main)} main"
    switched = {True: "switches the neutral", False: "neutral not switched", None: ""}[device.switches_neutral]
    figures = next((found for found in study.sized.buses if found.tag == node.tag), None)
    return (
        head_of(node, "isolation device"),
        joined(amount(device.rating), main, switched),
        bus_line(study, figures) if figures is not None else "",
        device.location or "",
    )


def _disconnect(study: Study, node: Node) -> tuple[str, ...]:
    item = node.item
    device = amount(item.device) if item.device is not None and item.device_kind != "none" else ""
    return (
        head_of(node, "disconnect"),
        joined(amount(item.rating), f"{device} {item.device_kind}" if device else "", amount(item.dc_voltage)),
        joined(item.purpose or "", "service disconnect" if item.service_disconnect else ""),
        supply_side_line(study, node.tag),
        item.location or "",
    )


def _junction(study: Study, node: Node) -> tuple[str, ...]:
    head = f"{node.tag} {status(node.item.existing)}"
    return head, node.item.location or "", node.item.description or "", supply_side_line(study, node.tag)


def _combiner(study: Study, node: Node) -> tuple[str, ...]:
    return head_of(node, "combiner"), joined(amount(node.item.dc_voltage), node.item.location or "")


def _unit(study: Study, node: Node) -> tuple[str, ...]:
    data: UnitData | None = node.data
    if data is None:
        return head_of(node, "inverter-battery unit"), node.item.location or ""
    return (
        head_of(node, "inverter-battery unit"),
        joined(amount(data.ac_power), amount(data.ac_current), amount(data.energy)),
        f"device at most {amount(data.overcurrent_max)}" if data.overcurrent_max else "",
        joined(node.item.location or "", f"{node.item.mounting}-mounted" if node.item.mounting else ""),
    )


def _inverter(study: Study, node: Node) -> tuple[str, ...]:
    data: InverterData | None = node.data
    if data is None:
        return head_of(node, "PV inverter"), node.item.location or ""
    return (
        head_of(node, "PV inverter"),
        joined(amount(data.ac_power), amount(data.ac_current)),
        f"device at most {amount(data.overcurrent_max)}" if data.overcurrent_max else "",
        node.item.location or "",
    )


def _storage(study: Study, node: Node) -> tuple[str, ...]:
    data: StorageData | None = node.data
    ratings = "" if data is None else joined(amount(data.energy), amount(data.current))
    return head_of(node, "storage module"), joined(ratings, node.item.location or "")


def _string(study: Study, node: Node) -> tuple[str, ...]:
    module: PvModule | None = node.data
    figures = next((found for found in study.sized.strings if found.tag == node.tag), None)
    item = node.item
    head = f"{node.tag} {status(item.existing)} {item.count} x {item.module}"
    if item.input is not None:
        head += f", input {item.input}"
    if module is None:
        return head, item.location or ""
    return (
        head,
        joined(_string_figures(figures), f"Isc {amount(module.isc)}"),
        joined(item.description or "", item.location or ""),
    )


def _string_figures(figures: StringFigures | None) -> str:
    if figures is None:
        return ""
    cold = f"cold Voc {figure(figures.cold_voc, 'V')}" if figures.cold_voc is not None else ""
    return joined(figure(value_of(figures.power_w) / 1000, "kW"), cold)


def _load(study: Study, node: Node) -> tuple[str, ...]:
    load = node.item
    names = {"calculated": "calculated load", "ev": "EV supply equipment", "heat": "heater"}
    ratings = joined(
        amount(load.current), amount(load.power),
        f"{amount(load.rla)} RLA" if load.rla else "", f"{amount(load.lra)} LRA" if load.lra else "",
        f"{amount(load.mca)} MCA" if load.mca else "", f"{amount(load.mocp)} MOCP" if load.mocp else "",
    )
    return head_of(node, names.get(load.kind, load.kind)), joined(ratings, load.location or "", load.calculation or "")


def _generator(study: Study, node: Node) -> tuple[str, ...]:
    item = node.item
    device = f"{amount(item.device)} device" if item.device is not None and not isinstance(item.device, str) else ""
    return (
        head_of(node, "generator"), joined(amount(item.power), amount(item.current), device),
        joined(f"{item.start} start" if item.start else "", item.location or ""),
    )


def _transfer(study: Study, node: Node) -> tuple[str, ...]:
    item = node.item
    switched = {True: "switches the neutral", False: "neutral not switched", None: ""}[item.switches_neutral]
    return (
        head_of(node, "transfer switch"), joined(amount(item.rating), f"{item.start}" if item.start else "", switched),
        item.location or "",
    )


def device_text(sized: SizedCircuit) -> str:
    """The rating of the overcurrent device that belongs to a circuit itself, empty for none."""
    if sized.device is None or sized.device.inherited or sized.device.load_end:
        return ""
    return figure(sized.device.rating, "A")
