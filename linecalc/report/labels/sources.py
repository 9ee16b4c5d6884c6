"""Labels of the interconnection: directory, source disconnects, breakers that must not move, equipment with several sources.

References
----------
``directory_sources`` 705.10; ``pv_ac_label`` 690.54; ``source_disconnect`` 705.20; ``busbar_120``,
``busbar_all_breakers`` 705.12(B); ``equipment_multi_source_label`` 705.30(C).
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.report.labels.photovoltaic import service_place
from linecalc.report.labels.records import Label, LabelValue, Signal, label_of
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node
from linecalc.sizing.holders import holder_of, sources_with_strings, units_with_storage
from linecalc.sizing.records import BusFigures, BusVerdict
from linecalc.study import Study
from linecalc.term import given

SERVICE_V = 240.0


def directory(study: Study) -> Iterator[Label]:
    """At the service equipment and at each source disconnect: every source with its disconnect and place."""
    sources = study.network.of_kind(Kind.UNIT, Kind.INVERTER)
    if not sources or study.project.service is None:
        return
    lines = [f"Several sources of power. Utility: {_utility(study)}"]
    lines += [f"{node.tag}, {_what(study, node)}: {_disconnect(study, node)}" for node in sources]
    shutdown = study.project.required.emergency_shutdown
    lines += [f"Storage shutdown: {shutdown}"] if shutdown and units_with_storage(study.sized) else []
    where = f"{service_place(study)}, and at each source disconnect"
    yield label_of(study, "directory", "directory_sources", where, Signal.CAUTION, "; ".join(lines), prescribed=True)


def _utility(study: Study) -> str:
    tags = study.network.children.get("service", ())
    found = [circuit.down for circuit in tags if circuit.down in study.network.nodes]
    named = study.project.required.emergency_disconnect or (found[0] if found else "service disconnect")
    location = study.project.service.location
    return f"disconnect {named}" + (f", {location}" if location else "")


def _what(study: Study, node: Node) -> str:
    has_pv = node in sources_with_strings(study.sized)
    stores = node in units_with_storage(study.sized)
    return "solar and storage" if has_pv and stores else "storage" if stores else "solar"


def _disconnect(study: Study, node: Node) -> str:
    holder = holder_of(study.sized, node.item.ac_disconnect, node.tag)
    return holder.text if holder is not None else "disconnect not given"


def source_disconnects(study: Study) -> Iterator[Label]:
    """On each source disconnect: what it disconnects, with rated AC current and voltage."""
    for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER):
        rule = "pv_ac_label" if study.book.wording.pv_ac_label else "source_ac_label"
        path = f"equipment.{node.item.equipment}.ac_current"
        values = (
            LabelValue("Rated AC output current", term_of(node.data.ac_current, "I_ac", path, "rated AC current"), "A"),
            LabelValue("AC voltage", given(SERVICE_V, "V", "V_ac", "service.voltage", "nominal voltage"), "V"),
        )
        text = f"Disconnect of {node.tag}, {_what(study, node)}"
        yield label_of(study, "source_disconnect", rule, f"on {_disconnect(study, node)}", Signal.NONE, text, values)


def source_breakers(study: Study) -> Iterator[Label]:
    """Beside breakers whose place on the bus, or the sum of whose ratings, the busbar rule rests on."""
    for bus in study.sized.buses:
        if bus.used is None or bus.used.verdict is not BusVerdict.PASS or not bus.sources:
            continue
        if bus.used.key in ("busbar_120", "busbar_center_fed"):
            text = f"Power source connects here ({_names(bus)}). Do not move this breaker: it must stay where it is on the bus"
            yield label_of(study, "do_not_relocate", bus.used.key, f"beside the source breaker in {bus.tag}", Signal.WARNING, text, prescribed=True)
        if bus.used.key == "busbar_all_breakers":
            text = f"Fed by several sources ({_names(bus)}). The breakers together, the main left out, must not exceed the rating of the bus"
            values = (LabelValue("Bus rating", bus.rating, "A"), LabelValue("Breakers together now", bus.used.demand, "A"))
            yield label_of(study, "sum_of_breakers", "busbar_all_breakers", f"in {bus.tag}", Signal.WARNING, text, values, prescribed=True)


def _names(bus: BusFigures) -> str:
    return ", ".join(tag for tag, _ in bus.sources)


def several_sources(study: Study) -> Iterator[Label]:
    """On each panel and isolation device that more than one source can feed."""
    panels = [bus for bus in study.sized.buses if bus.sources]
    for bus in panels:
        text = f"Fed from more than one source: utility and {_names(bus)}. Opening the main does not make it dead"
        yield label_of(study, "several_sources", "equipment_multi_source_label", f"on {bus.tag}", Signal.WARNING, text)


def meter(study: Study) -> Iterator[Label]:
    """At the meter, and at a disconnect that the utility asks for: utility practice."""
    if not study.network.of_kind(Kind.UNIT, Kind.INVERTER) or study.project.service is None:
        return
    place = study.project.service.meter or study.project.service.location or ""
    text = "Customer generation and storage behind this meter can be live when the utility is not"
    yield label_of(study, "meter", "utility_label", f"at the meter{', ' + place if place else ''}", Signal.WARNING, text)
    for node in study.network.of_kind(Kind.DISCONNECT):
        if node.item.utility_disconnect:
            located = f", {node.item.location}" if node.item.location else ""
            text = "Utility disconnect of the customer's generation. Lockable open with visible break"
            yield label_of(study, "utility_disconnect", "utility_label", f"on {node.tag}{located}", Signal.NOTICE, text)
