"""What no suggested fix may do, whatever the rules make of it.

Never raises a device above a listed maximum or above what protects the
conductor, never lowers a main below the calculated load or a device below what
it must carry, never drops or shrinks a grounding conductor below its need.
"""

from __future__ import annotations

from collections.abc import Mapping

from linecalc.advice.records import Key
from linecalc.advice.rerun import BAD, Run, family, levels, worse
from linecalc.calc.compare import at_least, at_most
from linecalc.check import Check, Level
from linecalc.codebook.sizes import size_index
from linecalc.network.records import Kind
from linecalc.sizing.devices import node_device
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.study import Study
from linecalc.term import value_of
from linecalc.units import Quantity


def objection(before: Study, after: Run, target: Key) -> str:
    """Why a change is no fix of ``target``; empty where it is one."""
    now = levels(after.checks)
    if _still_bad(after.checks, target):
        return "the finding stays"
    then = levels(before.checks)
    new = sorted(key for key, level in now.items() if _is_new(key, level, then))
    if new:
        rule, subject = new[0]
        return f"it brings {rule} on {subject}"
    sized = before.sized
    return _device_objection(sized, after.sized) or _main_objection(sized, after.sized) or _grounding_objection(sized, after.sized)


def _still_bad(checks: tuple[Check, ...], target: Key) -> bool:
    rule, subject = target
    return any(check.level in BAD and check.subject == subject and family(check.rule) == family(rule) for check in checks)


def _is_new(key: Key, level: Level, then: Mapping[Key, Level]) -> bool:
    """Whether a finding that must be acted on was not there, or not as bad."""
    return level in BAD and (key not in then or worse(level, then[key]))


def _device_objection(before: Sized, after: Sized) -> str:
    present = {circuit.tag: circuit for circuit in before.circuits}
    for circuit in after.circuits:
        old = present.get(circuit.tag)
        if circuit.device is None or old is None:
            continue
        if old.device is None or value_of(circuit.device.rating) > value_of(old.device.rating):
            problem = _above_a_maximum(after, circuit)
        elif value_of(circuit.device.rating) < value_of(old.device.rating):
            problem = _below_its_load(circuit)
        else:
            continue
        if problem:
            return problem
    return ""


def _above_a_maximum(sized: Sized, circuit: SizedCircuit) -> str:
    node = sized.network.nodes[circuit.circuit.down]
    limits = {
        "the unit's maximum": getattr(node.data, "overcurrent_max", None) if node.kind in (Kind.UNIT, Kind.INVERTER) else None,
        "MOCP": getattr(node.item, "mocp", None) if node.kind is Kind.LOAD else None,
        "the module's fuse rating": _series_fuse(sized, circuit),
    }
    for name, limit in limits.items():
        if isinstance(limit, Quantity) and not at_most(circuit.device.rating, limit.value):
            return f"the device of {circuit.tag} would be above {name}"
    motor = node.kind is Kind.LOAD and node.item.kind.startswith("motor")
    if circuit.dwelling_need is None and not motor and circuit.protection is not None and not circuit.protection.protected:
        return f"the device of {circuit.tag} would not protect its conductors"
    return ""


def _main_objection(before: Sized, after: Sized) -> str:
    """A main, or the device in a disconnect, that is lowered stays above the calculated load that comes through it."""
    for tag, circuit in after.network.parent.items():
        old, new = (node_device(sized.network.nodes[tag], sized.book, 0.0) for sized in (before, after) if tag in sized.network.nodes)
        if old is None or new is None or at_least(new.rating, old.rating):
            continue
        through = after.circuit(circuit.tag)
        if through.currents.needs or through.currents.loads_not_given:
            return f"the load of {tag} is not fully given, so its main is not lowered"
        if not at_least(new.rating, through.device_need):
            return f"the main of {tag} would be below the calculated load"
    return ""


def _series_fuse(sized: Sized, circuit: SizedCircuit) -> Quantity | None:
    strings = sized.network.strings_behind(circuit.circuit) if circuit.circuit.system.value == "pv" else ()
    return next((node.data.series_fuse for node in strings if node.data is not None and node.data.series_fuse is not None), None)


def _below_its_load(circuit: SizedCircuit) -> str:
    """A device is not lowered where the load is not fully known, or below 125 % of the continuous current plus the rest."""
    if circuit.currents.needs or circuit.currents.loads_not_given:
        return f"the load of {circuit.tag} is not fully given, so its device is not lowered"
    if not at_least(circuit.device.rating, circuit.device_need):
        return f"the device of {circuit.tag} would be below its load"
    return ""


def _grounding_objection(before: Sized, after: Sized) -> str:
    present = {circuit.tag: circuit.egc for circuit in before.circuits}
    for circuit in after.circuits:
        old = present.get(circuit.tag)
        if old is None:
            continue
        if circuit.egc is None or (old.kind != "raceway" and circuit.egc.kind == "raceway"):
            return f"{circuit.tag} would lose its grounding conductor"
        if circuit.egc.kind == old.kind == "wire" and size_index(circuit.egc.size) < min(size_index(circuit.egc.needed_size), size_index(old.size)):
            return f"the grounding conductor of {circuit.tag} would be too small"
    return ""
