"""Questions of the checklist about modules, storage, panels and other equipment."""

from __future__ import annotations

from linecalc.network.dwelling_records import LoadMethod
from linecalc.network.records import Kind
from linecalc.report.amounts import amount
from linecalc.report.checklist_fact import Fact, all_of, any_of
from linecalc.report.schedules import backed_up_grid, equipment_grid, load_grid, panel_grid, parts_grid
from linecalc.study import Study
from linecalc.term import value_of
from linecalc.units import Quantity

SIMPLE_BUS_A = 225.0


def _strings(study: Study) -> tuple:
    return study.network.of_kind(Kind.STRING)


def array_power(study: Study) -> Fact:
    """System size in kW DC."""
    watts = sum(value_of(string.power_w) for string in study.sized.strings)
    return Fact(watts > 0.0, f"{amount(watts / 1000.0, 'kW')} DC at standard test conditions")


def system_size(study: Study) -> Fact:
    """System size in kW AC, with storage power and energy."""
    sources = study.network.of_kind(Kind.UNIT, Kind.INVERTER)
    watts = sum(node.data.ac_power.value for node in sources)
    energy = sum(node.data.energy.value for node in study.network.of_kind(Kind.UNIT, Kind.STORAGE))
    return Fact(bool(sources), f"{amount(watts / 1000.0, 'kW')} AC, {amount(energy, 'kWh')} of storage")


def modules(study: Study) -> Fact:
    """Module type, count and datasheet values."""
    return any_of((f"{node.tag} {node.item.count} x {node.item.module}, {amount(node.data.power.value, 'W')}" for node in _strings(study)), "no modules")


def strings(study: Study) -> Fact:
    """Strings, their modules and where they lead."""
    return any_of((f"{string.tag}: {string.count} in series to {string.unit}" for string in study.sized.strings), "no strings")


def inputs(study: Study) -> Fact:
    """The MPPT input of every string."""
    lacking = [string.tag for string in study.sized.strings if string.input is None and study.network.nodes[string.unit].data.mppt != 1]
    return all_of(lacking, "input not stated", "every string names its input")


def series_fuse(study: Study) -> Fact:
    """The maximum series fuse of every module."""
    return all_of((node.tag for node in _strings(study) if node.data.series_fuse is None), "series fuse not stated", "in the module schedule")


def coefficients(study: Study) -> Fact:
    """The temperature coefficient of Voc of every module."""
    return all_of((node.tag for node in _strings(study) if node.data.voc_coefficient is None), "coefficient not stated", "in the module schedule")


def converters(study: Study) -> Fact:
    """Module-level electronics with their ratings."""
    found = dict.fromkeys(getattr(node.data, "electronics", "none") for node in _strings(study))
    return any_of((kind for kind in found if kind != "none"), "none")


def dc_disconnect(study: Study) -> Fact:
    """DC disconnects of their own, with voltage rating."""
    found = [node.tag for node in study.network.of_kind(Kind.DISCONNECT) if node.item.dc_voltage is not None]
    return any_of(found, "the rating of the PV switch inside a unit is not given, and there is none beside it")


def source_ratings(study: Study) -> Fact:
    """Rating of every inverter and unit."""
    nodes = study.network.of_kind(Kind.UNIT, Kind.INVERTER)
    return any_of((f"{node.tag} {amount(node.data.ac_power.value / 1000, 'kW')}, {amount(node.data.ac_current.value, 'A')}" for node in nodes), "none")


def storage_ratings(study: Study) -> Fact:
    """Energy and power of every unit and storage module."""
    nodes = study.network.of_kind(Kind.UNIT, Kind.STORAGE)
    return any_of((f"{node.tag} {amount(node.data.energy.value, 'kWh')}" for node in nodes), "no storage")


def storage_voltages(study: Study) -> Fact:
    """DC voltage range and current of storage."""
    lacking = [node.tag for node in study.network.of_kind(Kind.UNIT) if None in (node.data.storage_voltage_min, node.data.storage_voltage_max)]
    lacking += [node.tag for node in study.network.of_kind(Kind.STORAGE) if None in (node.data.voltage_min, node.data.voltage_max)]
    return all_of(lacking, "voltage range not stated", "in the storage schedule")


def isolation(study: Study) -> Fact:
    """The isolation device with its rating."""
    return any_of((f"{node.tag} {amount(node.item.rating.value, 'A')}" for node in study.network.of_kind(Kind.ISOLATION)), "none")


def panels(study: Study) -> Fact:
    """Bus and main rating of every panel."""
    return any_of((f"{node.tag} bus {amount(node.item.bus.value, 'A')}, {_main(node.item.main)}" for node in study.network.of_kind(Kind.PANEL)), "no panel")


def _main(main: object) -> str:
    return f"main {amount(main.value, 'A')}" if isinstance(main, Quantity) else "main lugs"


def panel_condition(study: Study) -> Fact:
    """Whether an existing panel is a split-bus or an obsolete one."""
    lacking = [node.tag for node in study.network.of_kind(Kind.PANEL) if node.item.existing and node.item.condition is None]
    return all_of(lacking, "condition of the existing panel not stated", "single bus; split-bus panels are refused")


def measured_load(study: Study) -> Fact:
    """The load from demand records, where the method may be used."""
    methods = [(bus.tag, method) for bus in study.currents.dwelling.buses for method in bus.methods if method.method is LoadMethod.MEASURED]
    found = [f"{tag} {amount(method.current_a, 'A')}" for tag, method in methods if method.current_a is not None]
    return any_of(found, "; ".join(dict.fromkeys(method.why for _, method in methods)) or "the method was not asked for")


def backed_up(study: Study) -> Fact:
    """The list of backed-up loads."""
    return any_of((row[0] for row in backed_up_grid(study).rows), "no load is named behind the isolation device")


def generator(study: Study) -> Fact:
    """A generator with its rating and transfer switch."""
    return any_of(study.project.generator, "none")


def service_voltage(study: Study) -> Fact:
    """Voltage, phases and wires of the service."""
    service = study.project.service
    return Fact(service is not None, f"{amount(service.voltage.value, 'V')}, single-phase, three-wire" if service else "no service")


def interconnection(study: Study) -> Fact:
    """Where the sources connect: supply side or load side, and by which bus."""
    if study.sized.supply_side is not None:
        return Fact(True, f"supply side at {study.sized.supply_side.junction}")
    return any_of((f"load side, bus of {bus.tag}" for bus in study.sized.buses if bus.sources), "no bus carries a source current")


def disconnect_features(study: Study) -> Fact:
    """Rating, fuses, lock and visible break of every AC disconnect."""
    nodes = [node for node in study.network.of_kind(Kind.DISCONNECT) if node.item.dc_voltage is None]
    lacking = [node.tag for node in nodes if node.item.lockable is None or node.item.visible_break is None]
    told = ", ".join(f"{node.tag} {amount(node.item.rating.value, 'A')}, {node.item.device_kind}" for node in nodes)
    return all_of(lacking, "lockable or visible_break not stated", told)


def production_meter(study: Study) -> Fact:
    """No loads between a production meter and the sources."""
    metered = [circuit for circuit in study.network.circuits if circuit.item.meter is not None]
    if not metered:
        return Fact(False, "no circuit states its meter: circuit.TAG.meter")
    loads = study.network.of_kind(Kind.LOAD)
    between = [
        f"{load.tag} behind the meter in {circuit.tag}"
        for circuit in metered for load in loads
        if {load.tag, load.item.panel} & set(study.network.below(circuit.down))
    ]
    return all_of(between, "loads", f"no loads behind the meter in {', '.join(circuit.tag for circuit in metered)}")


def string_current(study: Study) -> Fact:
    """1.25 x Isc of every string."""
    return any_of((f"{string.tag} {amount(string.max_current, 'A')}" for string in study.sized.strings), "no strings")


def busbar(study: Study) -> Fact:
    """Every bus with the method that decides."""
    lacking = [bus.tag for bus in study.sized.buses if bus.sources and bus.used is None]
    used = [f"{bus.tag} {study.book.cite(bus.used.key).section}" for bus in study.sized.buses if bus.sources and bus.used is not None]
    return all_of(lacking, "no method could be judged", ", ".join(used))


def bus_rating(study: Study) -> Fact:
    """Bus ratings against the 225 A of a simple path."""
    rated = {node.tag: node.item.bus.value for node in study.network.of_kind(Kind.PANEL)}
    within = all(rating <= SIMPLE_BUS_A for rating in rated.values())
    told = ", ".join(f"{tag} {rating:g} A" for tag, rating in rated.items())
    return Fact(bool(rated), f"{told}: {'within' if within else 'above'} 225 A" if rated else "no panel")


def equipment(study: Study) -> Fact:
    """The equipment schedule."""
    return any_of((row[0] for row in equipment_grid(study).rows), "no equipment")


def panel_schedule(study: Study) -> Fact:
    """Breakers of the panels with their places."""
    return any_of((f"{row[0]} {row[1]}" for row in panel_grid(study).rows), "no breaker is described")


def nameplates(study: Study) -> Fact:
    """Nameplate data of motors and air conditioners."""
    motors = [node for node in study.network.of_kind(Kind.LOAD) if node.item.kind in ("motor", "motor-compressor")]
    lacking = [node.tag for node in motors if node.item.rla is None and node.item.mca is None and node.item.current is None]
    return all_of(lacking, "nameplate not stated", "; ".join(row[3] for row in load_grid(study).rows if row[0] in {node.tag for node in motors}))


def parts(study: Study) -> Fact:
    """The bill of material."""
    return any_of((row[0] for row in parts_grid(study).rows), "nothing new")
