"""Labels of the PV side: rapid shutdown, PV disconnects, DC voltage, raceways.

References
----------
``rapid_shutdown_label`` 690.12(D), 690.56(C); ``rapid_shutdown_switch_label``; ``pv_disconnect`` 690.13(B);
``pv_voltage_label`` 690.7(D), 690.53; ``pv_raceway_label`` 690.31(D)(2), 690.31(G)(3).
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.report.labels.records import Label, LabelValue, Signal, Stock, label_of
from linecalc.network.records import Node, System
from linecalc.project.model import RACEWAYS
from linecalc.sizing.holders import holder_of, sources_with_strings
from linecalc.study import Study
from linecalc.term import value_of


def rapid_shutdown(study: Study) -> Iterator[Label]:
    """At the service equipment: that the array can be shut down, and where."""
    stated = study.project.rapid_shutdown
    if not study.sized.strings or stated.exempt is not None:
        return
    where = stated.location or "place not given"
    text = f"Rapid shutdown: this building has a solar array that can be shut down. Switch: {stated.initiator or 'not given'}, {where}. Turn it off to bring the array to a safe voltage"
    color = study.book.wording.rapid_shutdown_label_color
    yield label_of(study, "rapid_shutdown", "rapid_shutdown_label", service_place(study), Signal.NONE, text, color=color, stock=Stock.BUILDING, prescribed=True)
    switch = "Rapid shutdown switch of the solar array"
    yield label_of(
        study, "rapid_shutdown_switch", "rapid_shutdown_switch_label", f"on {stated.initiator or 'the initiation device'}, {where}",
        Signal.NONE, switch, color="white on red", stock=Stock.REFLECTIVE, prescribed=True,
    )  # fmt: skip


def service_place(study: Study) -> str:
    """``at the service equipment``, with its place."""
    location = study.project.service.location if study.project.service is not None else None
    return "at the service equipment" + (f", {location}" if location else "")


def pv_disconnects(study: Study) -> Iterator[Label]:
    """On each PV disconnect: what it is, that both sides can be live, and the highest DC voltage."""
    for node in sources_with_strings(study.sized):
        holder = holder_of(study.sized, node.item.pv_disconnect, node.tag)
        where = f"on {holder.text}" if holder is not None else f"on the PV disconnect of {node.tag} (not given)"
        text = f"PV system disconnect of {node.tag}. Open it to separate the array from the house"
        yield label_of(study, "pv_disconnect", "pv_disconnect", where, Signal.NONE, text, prescribed=True)
        shock = "Shock hazard: with the switch open, terminals on both sides can be live while the sun shines"
        yield label_of(study, "pv_disconnect_live", "pv_disconnect", where, Signal.WARNING, shock, prescribed=True)
        yield label_of(study, "pv_voltage", "pv_voltage_label", where, Signal.NONE, f"DC circuits of {node.tag}", _voltage(study, node))


def _voltage(study: Study, node: Node) -> tuple[LabelValue, ...]:
    """The highest voltage of the unit's strings; in 2017 the highest circuit current too."""
    strings = [string for string in study.sized.strings if string.unit == node.tag]
    known = [string.cold_voc for string in strings if string.cold_voc is not None]
    needs = next((need for string in strings if string.cold_voc is None for need in string.needs), "")
    highest = None if needs or not known else max(known, key=value_of)
    values = [LabelValue("Highest DC voltage", highest, "V", needs)]
    if study.book.wording.pv_label_shows_current:
        values.append(LabelValue("Highest circuit current", max((string.max_current for string in strings), key=value_of), "A"))
    return tuple(values)


def dc_raceways(study: Study) -> Iterator[Label]:
    """Along every raceway and on every box with PV DC conductors."""
    sections = [
        f"{raceway.section} ({study.project.section[raceway.section].place})"
        for raceway in study.sized.raceways
        if raceway.method in RACEWAYS and _has_pv(study, raceway.section)
    ]
    if sections:
        where = f"along {', '.join(sections)}: every 10 ft, at each turn and wall, and on box covers"
        text = "Solar DC circuit: live in daylight"
        yield label_of(
            study, "dc_raceway", "pv_raceway_label", where, Signal.WARNING, text, color="white on red", stock=Stock.REFLECTIVE, prescribed=True
        )


def _has_pv(study: Study, section: str) -> bool:
    return any(circuit.circuit.system is System.PV and section in circuit.circuit.sections for circuit in study.sized.circuits)


