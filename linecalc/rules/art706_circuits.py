"""Article 706: DC storage circuits, the voltage of their parts, and how long the storage lasts.

References
----------
``ess_dc_voltage`` 706.20(B), 706.10(B) in 2017; ``ess_runtime``: common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.storage import energy_together, runtime
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node, System
from linecalc.rules.art702_backup import backup_of
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.sizing.storage_places import stored_of
from linecalc.term import Term, given, label, named, value_of
from linecalc.units import Quantity

BUILDING_WIRE_V = 600.0
ACCESSIBLE_V = 100.0
SYSTEM = "system"


def dc_voltage(sized: Sized) -> Iterator[Check]:
    """Conductors, breakers and switches of a storage circuit are rated for its highest voltage.

    References
    ----------
    ``ess_dc_voltage``; ``insulation_rating`` for conductors.
    """
    for circuit in sized.circuits:
        if circuit.circuit.system is not System.STORAGE:
            continue
        module = next((sized.network.nodes[end] for end in (circuit.circuit.down, circuit.circuit.up) if sized.network.nodes[end].kind is Kind.STORAGE), None)
        if module is None:
            continue
        path = f"equipment.{module.item.equipment}.voltage_max"
        if module.data.voltage_max is None:
            yield not_checked(sized.book, "ess_dc_voltage", circuit.tag, "the highest voltage of the storage is not given", (path,))
            continue
        highest = term_of(module.data.voltage_max, "V_max", path, "highest storage voltage")
        yield from _parts(sized, circuit, highest)
        if highest.value > ACCESSIBLE_V:
            message = f"{highest.value:g} V in a dwelling, above 100 V: no live part may be accessible during routine maintenance"
            yield remark(sized.book, "ess_dc_voltage.dwelling", circuit.tag, Level.NOTE, message, ())


def _parts(sized: Sized, circuit: SizedCircuit, highest: Term) -> Iterator[Check]:
    item, tag = circuit.circuit.item, circuit.tag
    wire = given(BUILDING_WIRE_V, "V", "V_wire", "rule:insulation_rating", "insulation voltage, the lowest marking of such conductors")
    if item.voltage_rating is not None:
        wire = term_of(item.voltage_rating, "V_wire", f"circuit.{tag}.voltage_rating", "insulation voltage")
    yield _rated(sized, tag, "ess_dc_voltage.conductors", f"insulation of {circuit.conductor.insulation}", wire, highest)
    if isinstance(item.breaker, Quantity):
        path = f"circuit.{tag}.breaker_dc_voltage"
        if item.breaker_dc_voltage is None:
            yield not_checked(sized.book, "ess_dc_voltage.device", tag, "the DC voltage rating of the breaker is not given", (path,))
        else:
            yield _rated(sized, tag, "ess_dc_voltage.device", "breaker", term_of(item.breaker_dc_voltage, "V_breaker", path, "DC rating of the breaker"), highest)
    for end in (circuit.circuit.up, circuit.circuit.down):
        node = sized.network.nodes[end]
        if node.kind is not Kind.DISCONNECT:
            continue
        path = f"disconnect.{end}.dc_voltage"
        if node.item.dc_voltage is None:
            yield not_checked(sized.book, "ess_dc_voltage.device", end, "the DC voltage rating of the disconnect is not given", (path,))
        else:
            yield _rated(sized, end, "ess_dc_voltage.device", "disconnect", term_of(node.item.dc_voltage, f"V_{end}", path, f"DC rating of {end}"), highest)


def _rated(sized: Sized, subject: str, rule: str, what: str, rating: Term, highest: Term) -> Check:
    return limit_check(
        sized.book, rule, subject, rating, highest, "V", f"{what} is rated for the storage voltage", f"{what} is not rated for the storage voltage", Sense.AT_LEAST
    )


def runtime_at_load(sized: Sized) -> Iterator[Check]:
    """How long the usable energy carries the stated load, without PV and conversion losses.

    References
    ----------
    ``ess_runtime``: common practice, no source.
    """
    load = sized.network.project.backup.runtime_load
    backup = backup_of(sized)
    if load is None or backup is None:
        return
    tags = {node.tag for node in backup.units}
    found = [stored.node for stored in stored_of(sized.network) if stored.unit.tag in tags]
    missing = tuple(dict.fromkeys(f"equipment.{node.item.equipment}.usable_energy" for node in found if node.data.usable_energy is None))
    if missing or not found:
        yield not_checked(sized.book, "ess_runtime", SYSTEM, "the usable energy of the storage is not given", missing or ("storage with energy",))
        return
    usable = label(energy_together([_usable(node) for node in found], "ess_runtime"), "system.E_usable", "E_usable")
    power = term_of(load, "P_run", "backup.runtime_load", "load for the runtime")
    hours = label(runtime(usable, power), "system.t_run")
    message = f"usable {value_of(usable):.4g} kWh carry {power.value / 1000:.4g} k{power.unit} for {value_of(hours):.3g} h, without PV, losses left out"
    yield remark(sized.book, "ess_runtime", SYSTEM, Level.NOTE, message, (hours,))


def _usable(node: Node) -> Term:
    term = term_of(node.data.usable_energy, f"E_{node.tag}", f"equipment.{node.item.equipment}.usable_energy", f"usable energy of {node.tag}")
    return named(term, f"E_use_{node.tag}", "kWh", f"usable energy of {node.tag}", "ess_runtime")
