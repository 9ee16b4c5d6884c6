"""Voltages and currents of PV strings.

References
----------
``pv_max_voltage`` 690.7(A), ``pv_voltage_table`` Table 690.7(A),
``pv_source_current`` 690.8(A). Hot cell temperature: common practice, no source.
"""

from __future__ import annotations

from linecalc.calc.ampacity import terminal_need
from linecalc.calc.pv import (
    array_power,
    cell_temperature_by_noct,
    cell_temperature_hot,
    cold_voltage,
    cold_voltage_by_table,
    cold_voltage_by_volts,
    cold_working_voltage,
    converter_current,
    converter_voltage,
    hot_voltage,
    input_short_circuit,
    relative_coefficient,
    source_current,
)
from linecalc.codebook import Book
from linecalc.errors import TableError
from linecalc.network.build import Network
from linecalc.network.electronics import Electronics, electronics_of, missing_of
from linecalc.network.loads import term_of
from linecalc.network.records import Assumption, Kind, Node
from linecalc.project.equipment import PvModule
from linecalc.sizing.records import StringFigures
from linecalc.term import Number, Term, given, label, named, value_of

STC_C = 25.0
RISE_K = {"close to roof": 35.0, "rack": 30.0, "ground": 25.0}


def string_figures(network: Network, book: Book, assumptions: list[Assumption]) -> tuple[StringFigures, ...]:
    """The figures of every string, in natural order."""
    return tuple(_figures(network, book, node, assumptions) for node in network.of_kind(Kind.STRING))


def _figures(network: Network, book: Book, node: Node, assumptions: list[Assumption]) -> StringFigures:
    module, path, tag = node.data, f"equipment.{node.item.module}", node.tag
    count = given(float(node.item.count), "", "N_s", f"string.{tag}.count", "modules in series")
    electronics = electronics_of(network.project, node)
    if electronics is not None and electronics.converts():
        return _of_converters(network, book, node, electronics, count)
    isc = term_of(module.isc, "Isc", f"{path}.isc", "module short-circuit current")
    needs: list[str] = []
    cold, by_table = _cold(network, book, module, path, tag, count, needs)
    cell, hot, cold_vmp = _working(network, node, module, path, count, assumptions, needs)
    current = label(source_current(isc, 1.0), f"{tag}.I_max")
    return StringFigures(
        tag,
        node.item.module,
        node.item.count,
        unit_of(network, tag),
        node.item.input,
        cold,
        by_table,
        hot,
        cold_vmp,
        cell,
        label(input_short_circuit(isc, 1.0), f"{tag}.I_sc"),
        current,
        label(terminal_need(current, 0.0, "pv_conductor"), f"{tag}.I_design"),
        label(array_power(count, term_of(module.power, "P_mod", f"{path}.power", "module power")), f"{tag}.P"),
        tuple(dict.fromkeys(needs)),
        None if electronics is None else _at_device(network, book, node, electronics),
    )


def _at_device(network: Network, book: Book, node: Node, electronics: Electronics) -> Number | None:
    """The cold voltage of the modules on one device."""
    path, tag = f"equipment.{node.item.module}", node.tag
    modules = 1 if electronics.data is None else electronics.data.modules
    count = given(float(modules), "", "N_d", f"{electronics.path}.modules", "modules on one device")
    cold, by_table = _cold(network, book, node.data, path, f"{tag}.device", count, [])
    return cold if cold is not None else by_table


def _of_converters(network: Network, book: Book, node: Node, electronics: Electronics, count: Term) -> StringFigures:
    """The figures of a string whose voltage and current are those of dc-to-dc converters.

    References
    ----------
    ``pv_dc_dc_voltage``: 690.7(B); ``dc_dc_converter_current``: 690.8(A).
    """
    tag, module, path = node.tag, node.data, electronics.path
    power = label(array_power(count, term_of(module.power, "P_mod", f"equipment.{node.item.module}.power", "module power")), f"{tag}.P")
    needs = list(missing_of(electronics, ("output_current", "string_voltage")))
    data = electronics.data
    highest: Number | None = None
    if data is not None and data.string_voltage_max is not None:
        highest = term_of(data.string_voltage_max, "V_string_max", f"{path}.string_voltage_max", "highest string voltage by the instructions")
        highest = label(named(highest, "V_dc_dc", "V", "highest voltage of the converters' string", "pv_dc_dc_voltage"), f"{tag}.V_oc_cold")
    elif data is not None and data.output_voltage_max is not None:
        devices = given(float(electronics.devices), "", "N_conv", f"string.{tag}.count", "converters in series")
        output_v = term_of(data.output_voltage_max, "V_conv", f"{path}.output_voltage_max", "largest output voltage of a converter")
        highest = label(converter_voltage(output_v, devices), f"{tag}.V_oc_cold")
    else:
        needs.append(f"{path}.string_voltage_max (or output_voltage_max)")
    working = None
    current: Number = 0.0
    if data is not None and data.string_voltage is not None:
        working = label(named(term_of(data.string_voltage, "V_string", f"{path}.string_voltage", "working voltage of the string"), "V_mp", "V", "working voltage that the inverter keeps"), f"{tag}.V_mp_hot")
    if data is not None and data.output_current is not None:
        output = term_of(data.output_current, "I_conv", f"{path}.output_current", "rated output current of a converter")
        current = label(converter_current(output, 1.0), f"{tag}.I_max")
    return StringFigures(
        tag,
        node.item.module,
        node.item.count,
        unit_of(network, tag),
        node.item.input,
        highest,
        None,
        working,
        None,
        None,
        current,
        current,
        label(terminal_need(current, 0.0, "pv_conductor"), f"{tag}.I_design"),
        power,
        tuple(dict.fromkeys(needs)),
        _at_device(network, book, node, electronics),
    )


def unit_of(network: Network, string: str) -> str:
    """The unit or inverter that a string feeds, through a combiner where there is one."""
    target = network.nodes[network.nodes[string].item.to]
    if target.kind is Kind.COMBINER:
        return target.item.to or next(
            (tag for tag in network.graph.neighbors(target.tag) if network.nodes[tag].kind in (Kind.UNIT, Kind.INVERTER)), target.tag
        )
    return target.tag


def _cold(
    network: Network, book: Book, module: PvModule, path: str, tag: str, count: Term, needs: list[str]
) -> tuple[Number | None, Number | None]:
    """Cold open-circuit voltage by the datasheet coefficient, and by the table for crystalline silicon."""
    low = network.project.site.low_temperature
    if low is None:
        needs.append("site.low_temperature")
        return None, None
    t_low = term_of(low, "T_low", "site.low_temperature", "lowest expected ambient")
    voc = term_of(module.voc, "Voc", f"{path}.voc", "module open-circuit voltage")
    by_table = None
    factor = _table_factor(book, low.value) if module.technology == "crystalline silicon" else None
    if factor is not None:
        by_table = label(cold_voltage_by_table(voc, count, factor), f"{tag}.V_oc_table")
    coefficient = module.voc_coefficient
    if coefficient is None:
        if by_table is None:
            needs.append(f"{path}.voc_coefficient (or technology = crystalline silicon for the table)")
        return None, by_table
    beta = term_of(coefficient, "beta", f"{path}.voc_coefficient", "temperature coefficient of Voc")
    kernel = cold_voltage if coefficient.unit == "percent/K" else cold_voltage_by_volts
    return label(kernel(voc, count, beta, t_low), f"{tag}.V_oc_cold"), by_table


def _table_factor(book: Book, low_c: float) -> Term | None:
    """The table's factor; None where the temperature lies outside the table."""
    try:
        return book.cold_factor(low_c) if low_c < STC_C else None
    except TableError:
        return None


def _working(
    network: Network,
    node: Node,
    module: PvModule,
    path: str,
    count: Term,
    assumptions: list[Assumption],
    needs: list[str],
) -> tuple[Number | None, Number | None, Number | None]:
    """Hot cell temperature, hot and cold working voltage."""
    site = network.project.site
    key = "vmp_coefficient" if module.vmp_coefficient is not None else "pmax_coefficient"
    coefficient = getattr(module, key)
    if coefficient is None:
        needs.append(f"{path}.vmp_coefficient or pmax_coefficient")
    if site.high_temperature is None:
        needs.append("site.high_temperature")
    if coefficient is None:
        return None, None, None
    gamma: Number = term_of(coefficient, "gamma" if coefficient.unit == "percent/K" else "gamma_V", f"{path}.{key}", "temperature coefficient for Vmp")
    vmp = term_of(module.vmp, "Vmp", f"{path}.vmp", "module working voltage")
    if coefficient.unit != "percent/K":
        gamma = label(relative_coefficient(gamma, vmp), f"{node.tag}.gamma", "gamma")
    cold = None
    if site.low_temperature is not None:
        low = term_of(site.low_temperature, "T_low", "site.low_temperature", "lowest expected ambient")
        cold = label(cold_working_voltage(vmp, count, gamma, low), f"{node.tag}.V_mp_cold")
    if site.high_temperature is None:
        return None, None, cold
    high = term_of(site.high_temperature, "T_high", "site.high_temperature", "high design ambient")
    cell = label(_cell(network, node, module, path, high, assumptions), f"{node.tag}.T_cell")
    return cell, label(hot_voltage(vmp, count, gamma, cell), f"{node.tag}.V_mp_hot"), cold


def _cell(network: Network, node: Node, module: PvModule, path: str, high: Term, assumptions: list[Assumption]) -> Number:
    """The hot cell temperature by mounting or by NOCT; where both are given, the hotter."""
    mounting = node.item.mounting or network.project.site.mounting
    found = []
    if module.noct is not None:
        noct = term_of(module.noct, "NOCT", f"{path}.noct", "nominal operating cell temperature")
        found.append(label(cell_temperature_by_noct(high, noct), f"{node.tag}.T_cell_noct", "T_NOCT"))
    if mounting is None and not found:
        mounting = "close to roof"
        assumptions.append(Assumption(f"string.{node.tag}.mounting", mounting, "mounting not given; the hottest is taken"))
    if mounting is not None:
        rise = given(RISE_K[mounting], "K", "dT_cell", f"string.{node.tag}.mounting", f"rise over ambient, {mounting} (common practice)")
        found.append(cell_temperature_hot(high, rise))
    return max(found, key=value_of)
