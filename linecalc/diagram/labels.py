"""The texts beside each thing on the drawing, from the project's records and the study's figures."""

from __future__ import annotations

from linecalc.diagram.interconnection import bus_line, supply_side_line
from linecalc.diagram.phrases import amount, figure, head_of, joined, place_of, place_once, status, unsaid
from linecalc.diagram.protection import duties
from linecalc.diagram.source_labels import combiner_lines, inverter_lines, storage_lines, string_lines, unit_lines
from linecalc.network.records import Kind, Node, System
from linecalc.project.model import Disconnect, Panel, Service
from linecalc.sizing.records import SizedCircuit
from linecalc.study import Study
from linecalc.units import Quantity

_NEUTRAL = {True: "switches the neutral", False: "neutral not switched", None: ""}
_CALCULATED = "calculated"


def lines_of(study: Study, node: Node) -> tuple[str, ...]:
    """All lines of a thing: the head, then ratings, then what it is there for, then the place."""
    writer = {
        Kind.PANEL: _panel,
        Kind.ISOLATION: _isolation,
        Kind.DISCONNECT: _disconnect,
        Kind.JUNCTION: _junction,
        Kind.COMBINER: combiner_lines,
        Kind.UNIT: unit_lines,
        Kind.INVERTER: inverter_lines,
        Kind.STORAGE: storage_lines,
        Kind.STRING: string_lines,
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
    supply = joined(amount(service.voltage), "1-phase", "3-wire")
    return tuple(line for line in ("Utility supply", supply, fault + at) if line)


def meter_lines(service: Service, existing: bool) -> tuple[str, ...]:
    """What stands beside the meter."""
    bond = "neutral bonded here" if service.neutral_bond else ""
    number = f"no. {service.meter_number}" if service.meter_number else ""
    lines = (f"Meter {status(existing)}", number, f"{amount(service.rating)} service", place_once(service.meter, service.location), bond)
    return tuple(line for line in lines if line)


def existing_of(study: Study, node: Node) -> bool:
    """Whether a thing is drawn as existing; a calculated load is no thing, and looks like its panel."""
    if node.kind is Kind.LOAD and node.item.kind == _CALCULATED:
        return node.item.existing or study.network.nodes[node.item.panel].item.existing
    return node.item.existing


def _interrupting(rating: Quantity | None) -> str:
    return f"{amount(rating)} AIC" if rating is not None else ""


def _main(main: Quantity | str | None) -> str:
    return "" if main is None or isinstance(main, str) else f"{amount(main)} main"


def _bus(study: Study, node: Node) -> str:
    figures = next((found for found in study.sized.buses if found.tag == node.tag), None)
    return bus_line(study, figures) if figures is not None else ""


def _panel(study: Study, node: Node) -> tuple[str, ...]:
    panel = node.item
    main = "main lugs" if isinstance(panel.main, str) else _main(panel.main)
    kind = "backed-up panel" if panel.backup else "generation panel, no loads" if panel.generation else "panel"
    feed = f"fed at the {panel.feed}" if panel.feed else ""
    head = head_of(node, kind)
    purpose = "service disconnect" if panel.service_disconnect else ""
    return (
        head,
        joined(f"{amount(panel.bus)} bus", main, feed, _interrupting(panel.interrupting), _series(panel)),
        _bus(study, node),
        joined(purpose, duties(study, node.tag, head), _side(study, node), _former(panel), place_of(node)),
    )


def _series(panel: Panel) -> str:
    if panel.series_rating is None:
        return ""
    return f"{amount(panel.series_rating)} series rated{f' with {panel.series_with}' if panel.series_with else ''}"


def _former(panel: Panel) -> str:
    return "former service equipment" if panel.former_service else ""


def _side(study: Study, node: Node) -> str:
    """Whether a panel stays without supply in an outage because it is ahead of what isolates the house."""
    island = study.network.island
    if island is None or node.tag in study.network.below(island):
        return ""
    return f"ahead of {island}"


def _isolation(study: Study, node: Node) -> tuple[str, ...]:
    device = node.item
    head = head_of(node, "isolation device")
    switched = _NEUTRAL[device.switches_neutral]
    return (
        head,
        joined(amount(device.rating), _main(device.main), _interrupting(device.interrupting), switched),
        _bus(study, node),
        joined("in the meter socket" if device.meter_socket else "", duties(study, node.tag, head), place_of(node)),
    )


def _disconnect(study: Study, node: Node) -> tuple[str, ...]:
    item = node.item
    head = head_of(node, "disconnect")
    device = f"{amount(item.device)} {item.device_kind}" if item.device is not None and item.device_kind != "none" else "no fuses"
    rating = "" if device == f"{amount(item.rating)} breaker" else amount(item.rating)
    volts = f"{amount(item.dc_voltage)} DC" if item.dc_voltage is not None else ""
    said = joined(head, item.purpose or "")
    return (
        head,
        joined(rating, device, volts, _interrupting(item.interrupting)),
        joined(item.purpose or "", unsaid(_purposes(item), said), duties(study, node.tag, said), unsaid(_features(item), said)),
        supply_side_line(study, node.tag),
        place_of(node),
    )


def _purposes(item: Disconnect) -> str:
    service = "service disconnect" if item.service_disconnect else ""
    return joined(service, "utility disconnect" if item.utility_disconnect else "")


def _features(item: Disconnect) -> str:
    distance = f"{item.meter_distance.as_written} from the meter" if item.meter_distance is not None else ""
    return joined("lockable" if item.lockable else "", "visible break" if item.visible_break else "", distance)


def _junction(study: Study, node: Node) -> tuple[str, ...]:
    return head_of(node, "junction box"), supply_side_line(study, node.tag), place_of(node)


def _load(study: Study, node: Node) -> tuple[str, ...]:
    load = node.item
    names = {_CALCULATED: "calculated load", "ev": "EV supply equipment", "heat": "heater"}
    ratings = joined(
        amount(load.current), amount(load.power),
        f"{amount(load.rla)} RLA" if load.rla else "", f"{amount(load.lra)} LRA" if load.lra else "",
        f"{amount(load.mca)} MCA" if load.mca else "", f"{amount(load.mocp)} MOCP" if load.mocp else "",
    )
    head = head_of(node, names.get(load.kind, load.kind))
    if load.kind == _CALCULATED:
        head = f"{node.tag} {load.description or names[_CALCULATED]}"
    return head, joined(ratings, place_of(node), load.calculation or "")


def _generator(study: Study, node: Node) -> tuple[str, ...]:
    item = node.item
    device = f"{amount(item.device)} device" if item.device is not None and not isinstance(item.device, str) else ""
    bond = {True: "neutral bonded at the generator", False: "neutral not bonded", None: ""}[item.neutral_bond]
    return (
        head_of(node, "generator"),
        joined(amount(item.power), amount(item.current), device, _interrupting(item.interrupting)),
        joined(f"{item.start} start" if item.start else "", bond, place_of(node)),
    )


def _transfer(study: Study, node: Node) -> tuple[str, ...]:
    item = node.item
    start = item.start or ""
    return (
        head_of(node, "transfer switch"),
        joined(amount(item.rating), _main(item.main), start, _interrupting(item.interrupting), _NEUTRAL[item.switches_neutral]),
        place_of(node),
    )


def device_text(sized: SizedCircuit) -> str:
    """The rating of the overcurrent device that belongs to a circuit itself, empty for none."""
    if sized.device is None or sized.device.inherited or sized.device.load_end:
        return ""
    poles = " 1P" if sized.circuit.system is System.AC and sized.ungrounded == 1 else ""
    rating = figure(sized.device.rating, "A") + poles
    interrupting = sized.circuit.item.interrupting
    return joined(rating, _interrupting(interrupting)) if interrupting is not None else rating
