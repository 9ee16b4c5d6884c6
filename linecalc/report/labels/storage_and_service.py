"""Labels of storage, standby sources and the service.

References
----------
``ess_disconnect_marking`` 706.15; ``ess_emergency_shutdown``; ``ess_directory`` 706.21; ``standby_signs`` 702.7;
``emergency_disconnect_mark`` 230.85; ``service_disconnect_mark`` 230.70(B); ``panel_directory`` 408.4.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.report.labels.photovoltaic import service_place
from linecalc.report.labels.records import Label, LabelValue, Signal, Stock, label_of
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node
from linecalc.sizing.grounding_system import service_disconnects
from linecalc.sizing.holders import holder_of, location_of, units_with_storage
from linecalc.study import Study
from linecalc.term import Number, given, value_of

SERVICE_V = 240.0


def storage_disconnects(study: Study) -> Iterator[Label]:
    """On each storage disconnect: what it is, with the voltages behind it."""
    for node in units_with_storage(study.sized):
        holder = holder_of(study.sized, node.item.storage_disconnect, node.tag)
        where = f"on {holder.text}" if holder is not None else f"on the storage disconnect of {node.tag} (not given)"
        text = f"Energy storage disconnect of {node.tag}"
        values = (
            LabelValue("Nominal AC voltage", given(SERVICE_V, "V", "V_ac", "service.voltage", "nominal voltage"), "V"),
            _highest_voltage(study, node),
        )
        yield label_of(study, "storage_disconnect", "ess_disconnect_marking", where, Signal.NONE, text, values, prescribed=True)


def _highest_voltage(study: Study, node: Node) -> LabelValue:
    """The highest DC voltage of the unit's own storage and of the modules attached to it."""
    modules = [found for found in study.network.of_kind(Kind.STORAGE) if found.item.unit == node.tag]
    stated: list[Number] = []
    for found, key in [(node, "storage_voltage_max"), *((module, "voltage_max") for module in modules)]:
        value = getattr(found.data, key)
        path = f"equipment.{found.item.equipment}.{key}"
        if value is None:
            return LabelValue("Highest DC voltage", None, "V", path)
        stated.append(term_of(value, "V_max", path, "highest storage voltage"))
    return LabelValue("Highest DC voltage", max(stated, key=value_of), "V")


def storage_shutdown(study: Study) -> Iterator[Label]:
    """At the device that shuts the storage down in an emergency, in the editions that ask for one."""
    stated = study.project.required
    if not units_with_storage(study.sized) or not study.book.cite("ess_emergency_shutdown").asked:
        return
    where = f"on the emergency shutdown: {stated.emergency_shutdown or 'not given'}"
    text = "Emergency shutdown of the energy storage"
    yield label_of(
        study, "storage_shutdown", "ess_emergency_shutdown", where, Signal.NONE, text, color="white on red", stock=Stock.LARGE, prescribed=True
    )


def storage_placard(study: Study) -> Iterator[Label]:
    """At the service equipment: that there is storage, how much, and where."""
    units = units_with_storage(study.sized)
    if not units:
        return
    modules = study.network.of_kind(Kind.STORAGE)
    energy = sum(node.data.energy.value for node in (*units, *modules))
    places = dict.fromkeys(found for node in units if (found := location_of(study.network, node.tag)))
    text = f"Energy storage on site: {', '.join(places) or 'place not given'}. {_count(len(units), 'unit')}, {_count(len(modules), 'storage module')}"
    values = (LabelValue("Nominal energy", energy, "kWh"),)
    yield label_of(study, "storage_placard", "ess_directory", service_place(study), Signal.WARNING, text, values)


def _count(number: int, one: str) -> str:
    return f"{number or 'no'} {one}{'' if number == 1 else 's'}"


def standby(study: Study) -> Iterator[Label]:
    """At the service equipment: kind and place of every source that feeds the house in an outage."""
    if not study.network.of_kind(Kind.ISOLATION):
        return
    units = study.network.of_kind(Kind.UNIT)
    if not units:
        return
    told = "; ".join(f"{node.tag}, {location_of(study.network, node.tag) or 'place not given'}" for node in units)
    island = set(study.network.below(study.network.island)) if study.network.island else set()
    loads = [node.item.panel or node.tag for node in study.network.of_kind(Kind.LOAD)]
    fed = "the house" if island.issuperset(loads) else "part of the house"
    text = f"Standby power on site feeds {fed} in an outage: {told}"
    yield label_of(study, "standby", "standby_signs", service_place(study), Signal.WARNING, text)
    if not study.network.of_kind(Kind.ISOLATION)[0].item.switches_neutral:
        bonds = ", ".join(service_disconnects(study.network))
        served = ", ".join(node.tag for node in units)
        text = f"The neutral bond in {bonds} also serves {served}. Removing it leaves {served} without ground"
        yield label_of(study, "standby_bond", "standby_signs", f"at the neutral bond, {bonds}", Signal.WARNING, text, prescribed=True)


def service(study: Study) -> Iterator[Label]:
    """On each service disconnect, and on the emergency disconnect where the edition asks for one."""
    for tag in service_disconnects(study.network):
        where = f"on {tag}" + (f", {found}" if (found := location_of(study.network, tag)) else "")
        yield label_of(study, "service_disconnect", "service_disconnect_mark", where, Signal.NONE, f"Service disconnect {tag}")
    named = study.project.required.emergency_disconnect
    if named is not None and study.book.cite("emergency_disconnect_mark").asked:
        holder = holder_of(study.sized, named, named)
        text = "Emergency disconnect" + (", service disconnect" if named in service_disconnects(study.network) else ", not service equipment")
        yield label_of(
            study, "emergency_disconnect", "emergency_disconnect_mark", f"on {holder.text}", Signal.NONE, text,
            color="white on red", stock=Stock.LARGE, prescribed=True,
        )  # fmt: skip


def panel_directories(study: Study) -> Iterator[Label]:
    """In each panel: what every breaker feeds."""
    for node in study.network.of_kind(Kind.PANEL):
        circuits = study.network.children.get(node.tag, ())
        known = ", ".join(f"{circuit.tag} to {circuit.down}" for circuit in circuits)
        parent = study.network.parent.get(node.tag)
        fed = f"Fed from {parent.up}. " if parent is not None else ""
        text = f"Circuit directory of {node.tag}. {fed}{known or 'existing branch circuits'}; every breaker and spare described, legibly"
        yield label_of(study, "panel_directory", "panel_directory", f"in the door of {node.tag}", Signal.NONE, text)
