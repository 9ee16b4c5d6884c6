"""Network to Currents: what every circuit carries in every operating mode."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.calc.interconnection import controlled_current
from linecalc.calc.pv import array_power, converter_current, input_working_current, source_current, string_working_current, working_voltage
from linecalc.calc.storage import (
    charge_current_at_terminals,
    charge_current_from_ac,
    discharge_current_at_terminals,
    discharge_current_from_ac,
    storage_circuit_current,
)
from linecalc.codebook import Book
from linecalc.network.branches import branch_loads
from linecalc.network.article220 import dwelling_loads
from linecalc.network.build import Network
from linecalc.network.dwelling_records import DwellingLoads
from linecalc.network.electronics import Electronics, electronics_of, missing_of
from linecalc.network.flow import FlowTree, load_at, walk
from linecalc.network.loads import SourceFigures, leg_loads, loads_not_given, source_figures, term_of
from linecalc.network.records import (
    Assumption,
    Circuit,
    CircuitCurrents,
    Kind,
    Mode,
    ModeCurrent,
    Node,
    System,
)
from linecalc.term import Number, Term, given, label, named, smallest, total, value_of


@dataclass(frozen=True, slots=True)
class Currents:
    """The currents of every circuit by tag, and the assumptions made on the way.

    ``island_load`` is the load below what separates the house in an outage,
    ``calculated`` the nodes whose load is a calculated one.
    """

    network: Network
    book: Book
    by_circuit: dict[str, CircuitCurrents]
    sources: dict[str, SourceFigures]
    assumptions: tuple[Assumption, ...]
    island_load: ModeCurrent | None = None
    dwelling: DwellingLoads = DwellingLoads()
    calculated: frozenset[str] = frozenset()

    def of(self, circuit: Circuit) -> CircuitCurrents:
        """The currents of one circuit."""
        return self.by_circuit[circuit.tag]


def compute_currents(network: Network, book: Book) -> Currents:
    """Walk the network once and keep every mode's figure on every circuit.

    References
    ----------
    ``inverter_output_current``, ``pv_source_current``, ``ess_circuit_current``.
    """
    assumptions: list[Assumption] = []
    sources = source_figures(network, assumptions)
    loads = leg_loads(network, book.edition, assumptions)
    dwelling = dwelling_loads(network, book, loads.calculated, assumptions)
    calculated = {**dwelling.leg_loads(), **loads.calculated}
    consumers = frozenset(node.tag for node in network.of_kind(Kind.PANEL, Kind.LOAD) if node.kind is Kind.LOAD or not node.item.generation)
    tree = FlowTree(network.order, network.parent, sources, loads.fixed, calculated, network.island, consumers, branch_loads(network, book, assumptions))
    modes = _without_utility(walk(tree)) if network.is_standalone() else walk(tree)
    missing = loads_not_given(network, dwelling.computed())
    down = {circuit.tag: circuit.down for circuit in network.parent.values()}
    found = {tag: CircuitCurrents(circuit_modes, loads_not_given=missing[down[tag]]) for tag, circuit_modes in modes.items()}
    for circuit in network.circuits:
        if circuit.system is System.PV:
            found[circuit.tag] = _pv(network, circuit)
        elif circuit.system is System.STORAGE:
            found[circuit.tag] = _storage(network, circuit)
        elif network.nodes[circuit.down].kind is Kind.GENERATOR:
            found[circuit.tag] = _generator(network, circuit, tree, missing[circuit.up])
    for tag in network.project.power_control.covers if network.project.power_control is not None and book.wording.power_control else ():
        if tag in modes and network.nodes[down[tag]].kind not in (Kind.UNIT, Kind.INVERTER):
            found[tag] = _controlled(network, tag, found[tag])
    island_load = None if network.island is None else load_at(tree, network.island)
    return Currents(network, book, found, sources, tuple(assumptions), island_load, dwelling, frozenset(calculated))


def _controlled(network: Network, tag: str, currents: CircuitCurrents) -> CircuitCurrents:
    """The export of a feeder that a power control covers, held to its setting.

    References
    ----------
    ``pcs``: 705.13.
    """
    setting = term_of(network.project.power_control.setting, "I_set", "power_control.setting", "setting of the power control")
    held = [
        (mode, replace(current, continuous=label(controlled_current(current.continuous, setting), f"{tag}.I_pcs")) if mode is Mode.EXPORT else current)
        for mode, current in currents.modes
    ]
    return replace(currents, modes=tuple(held))


def _without_utility(modes: dict[str, tuple[tuple[Mode, ModeCurrent], ...]]) -> dict[str, tuple[tuple[Mode, ModeCurrent], ...]]:
    """The modes of a stand-alone system: the island alone."""
    return {tag: tuple(pair for pair in found if pair[0] is Mode.ISLAND) for tag, found in modes.items()}


def _generator(network: Network, circuit: Circuit, tree: FlowTree, missing: tuple[str, ...]) -> CircuitCurrents:
    """What a generator's circuit carries with the utility absent: its load, at most its rated current.

    References
    ----------
    ``generator_conductor``: 445.13.
    """
    load = load_at(tree, circuit.up)
    generator = network.nodes[circuit.down]
    rated = term_of(generator.item.current, "I_gen", f"generator.{generator.tag}.current", "rated current of the generator")
    whole = _sum(load.continuous, load.noncontinuous)
    if value_of(whole) > rated.value or not isinstance(whole, Term):
        return CircuitCurrents(((Mode.ISLAND, ModeCurrent(0.0, rated, _least(load.neutral, rated))),), loads_not_given=missing)
    return CircuitCurrents(((Mode.ISLAND, load),), loads_not_given=missing)


def _least(first: Number, second: Number) -> Number:
    return first if value_of(first) <= value_of(second) else second


def _sum(first: Number, second: Number) -> Number:
    if value_of(second) == 0.0:
        return first
    return second if value_of(first) == 0.0 else first + second


def _pv(network: Network, circuit: Circuit) -> CircuitCurrents:
    strings = network.strings_behind(circuit)
    if not strings or strings[0].data is None:
        return CircuitCurrents((), needs=(f"circuit.{circuit.tag}: a string behind it",))
    electronics = electronics_of(network.project, strings[0])
    if electronics is not None and electronics.converts():
        return _converters(circuit, strings, electronics)
    strongest = max(strings, key=lambda string: string.data.isc.value)
    module, path = strongest.data, f"equipment.{strongest.item.module}"
    n = given(float(len(strings)), "", "n", f"circuit.{circuit.tag}", "strings in parallel on this circuit")
    isc = term_of(module.isc, "Isc", f"{path}.isc", "module short-circuit current")
    imp = term_of(module.imp, "Imp", f"{path}.imp", "module working current")
    vmp = term_of(module.vmp, "Vmp", f"{path}.vmp", "module working voltage")
    count = given(float(strongest.item.count), "", "N_s", f"string.{strongest.tag}.count", "modules in series")
    current = label(source_current(isc, n), f"{circuit.tag}.I_max")
    operating = label(input_working_current(imp, n), f"{circuit.tag}.I_op", "I_op")
    base = label(working_voltage(vmp, count), f"{circuit.tag}.V_base")
    return CircuitCurrents(((Mode.DC, ModeCurrent(current, 0.0, 0.0)),), operating, base)


def _converters(circuit: Circuit, strings: tuple[Node, ...], electronics: Electronics) -> CircuitCurrents:
    """The currents of strings of dc-to-dc converters: rated output, and at the working voltage that the inverter keeps.

    References
    ----------
    ``dc_dc_converter_current``: 690.8(A).
    """
    missing = missing_of(electronics, ("output_current", "string_voltage"))
    if missing:
        return CircuitCurrents((), needs=missing)
    data, path, tag = electronics.data, electronics.path, circuit.tag
    n = given(float(len(strings)), "", "n", f"circuit.{tag}", "strings in parallel on this circuit")
    output = term_of(data.output_current, "I_conv", f"{path}.output_current", "rated output current of a converter")
    base = term_of(data.string_voltage, "V_string", f"{path}.string_voltage", "working voltage of the string")
    current = label(converter_current(output, n), f"{tag}.I_max")
    module = strings[0].data
    power = array_power(
        given(float(sum(string.item.count for string in strings)), "", "N", f"circuit.{tag}", "modules behind this circuit"),
        term_of(module.power, "P_mod", f"equipment.{strings[0].item.module}.power", "module power"),
    )
    working = label(named(smallest(string_working_current(power, base), current), "I_op", "A", "operating current at STC", "dc_dc_converter_current"), f"{tag}.I_op")
    return CircuitCurrents(((Mode.DC, ModeCurrent(current, 0.0, 0.0)),), working, label(named(base, "V_base", "V", "working voltage of the string"), f"{tag}.V_base"))


def _storage(network: Network, circuit: Circuit) -> CircuitCurrents:
    modules = network.storage_behind(circuit)
    if not modules:
        return CircuitCurrents((), needs=(f"circuit.{circuit.tag}: a storage module behind it",))
    found = [storage_current(module) for module in modules]
    needs = tuple(dict.fromkeys(need for _, missing in found for need in missing))
    if needs:
        return CircuitCurrents((), needs=needs)
    together = total([current for current, _ in found])
    if len(modules) > 1:
        together = named(together, "I_ess", "A", "currents of the storage modules together", "ess_circuit_current")
    current, module = label(together, f"{circuit.tag}.I_ess"), modules[0]
    base = None
    if module.data.voltage_min is not None:
        base = term_of(module.data.voltage_min, "V_min", f"equipment.{module.item.equipment}.voltage_min", "lowest storage voltage")
    return CircuitCurrents(((Mode.DC, ModeCurrent(current, 0.0, 0.0)),), current, base)


def storage_current(module: Node) -> tuple[Number | None, tuple[str, ...]]:
    """The current of a storage module's DC circuit, or None and the inputs that are missing.

    References
    ----------
    ``ess_circuit_current``: 706.30(A), 706.20(A) in 2017.
    """
    data, path = module.data, f"equipment.{module.item.equipment}"
    if data.current is not None:
        return named(term_of(data.current, "I_nameplate", f"{path}.current"), "I_ess", "A", "nameplate current", "ess_circuit_current"), ()
    missing = [key for key in ("discharge_power", "charge_power", "voltage_min", "power_at") if getattr(data, key) is None]
    if missing:
        return None, tuple(f"{path}.{key}" for key in missing)
    discharge = term_of(data.discharge_power, "P_dis", f"{path}.discharge_power", "discharge power")
    charge = term_of(data.charge_power, "P_chg", f"{path}.charge_power", "charge power")
    lowest = term_of(data.voltage_min, "V_min", f"{path}.voltage_min", "lowest storage voltage")
    if data.power_at == "terminals":
        return storage_circuit_current(
            discharge_current_at_terminals(discharge, lowest), charge_current_at_terminals(charge, lowest)
        ), ()
    if data.efficiency is None:
        return None, (f"{path}.efficiency",)
    efficiency = term_of(data.efficiency, "eff", f"{path}.efficiency", "one-way efficiency")
    return storage_circuit_current(
        discharge_current_from_ac(discharge, efficiency, lowest), charge_current_from_ac(charge, efficiency, lowest)
    ), ()
