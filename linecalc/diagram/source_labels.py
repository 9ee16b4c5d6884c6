"""The texts beside units, inverters, storage modules, strings and their boxes."""

from __future__ import annotations

from linecalc.diagram.phrases import amount, figure, head_of, joined, place_of, status
from linecalc.diagram.protection import duties, electronics_line
from linecalc.network.records import Node
from linecalc.project.equipment import InverterData, PvModule, StorageData, UnitData
from linecalc.sizing.records import StringFigures
from linecalc.study import Study
from linecalc.term import value_of


def combiner_lines(study: Study, node: Node) -> tuple[str, ...]:
    """Texts of a combiner of PV strings."""
    volts = f"{amount(node.item.dc_voltage)} DC" if node.item.dc_voltage is not None else ""
    return head_of(node, "combiner"), joined(volts, place_of(node))


def unit_lines(study: Study, node: Node) -> tuple[str, ...]:
    """Texts of an inverter-battery unit."""
    data: UnitData | None = node.data
    head = head_of(node, "inverter-battery unit")
    mounting = f"{node.item.mounting}-mounted" if node.item.mounting else ""
    place = joined(duties(study, node.tag, head), place_of(node), mounting)
    if data is None:
        return head, place
    ratings = joined(f"{amount(data.ac_power)} AC", amount(data.ac_current), amount(data.energy))
    return head, ratings, _device(data), place


def _device(data: UnitData | InverterData) -> str:
    return f"OCPD max {amount(data.overcurrent_max)}" if data.overcurrent_max else ""


def inverter_lines(study: Study, node: Node) -> tuple[str, ...]:
    """Texts of a PV inverter."""
    data: InverterData | None = node.data
    head = head_of(node, "PV inverter")
    place = joined(duties(study, node.tag, head), place_of(node))
    if data is None:
        return head, place
    return head, joined(f"{amount(data.ac_power)} AC", amount(data.ac_current)), _device(data), place


def storage_lines(study: Study, node: Node) -> tuple[str, ...]:
    """Texts of a storage module."""
    data: StorageData | None = node.data
    ratings = "" if data is None else joined(amount(data.energy), amount(data.current))
    wired = node.tag in {circuit.down for circuit in study.network.circuits}
    harness = f"{node.item.harness} harness" if node.item.harness in ("factory", "field-extended") and not wired else ""
    return head_of(node, "storage module"), joined(ratings, harness, place_of(node))


def string_lines(study: Study, node: Node) -> tuple[str, ...]:
    """Texts of a PV string."""
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
        joined(_figures(figures), f"Isc {amount(module.isc)}"),
        joined(electronics_line(study, node), item.description or "", place_of(node)),
    )


def _figures(figures: StringFigures | None) -> str:
    if figures is None:
        return ""
    cold = f"cold Voc {figure(figures.cold_voc, 'V')}" if figures.cold_voc is not None else ""
    return joined(figure(value_of(figures.power_w) / 1000, "kW"), cold)
