"""Motor starts in an outage: locked-rotor current beside the other running loads against what the units start.

References
----------
``motor_start``: the units' instructions, 110.3(B); ``locked_rotor_letters``: Table 430.7(B).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from linecalc.calc.motor import locked_rotor_current, other_loads, start_capability, start_demand
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.loads import load_current, load_voltage, term_of
from linecalc.network.records import Kind, Node
from linecalc.rules.art702_backup import MANAGED, MANUAL, Backup, backup_of
from linecalc.sizing.motor import MOTORS
from linecalc.sizing.records import Sized
from linecalc.term import Number, given, label, named, smallest, value_of
from linecalc.units import Quantity


@dataclass(frozen=True, slots=True)
class _Start:
    """What a motor draws while it starts, or the inputs that are missing; ``words`` say which value it is."""

    amps: Number | None
    words: str
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Capability:
    """What the units start, for how long, and how several of them count; or the inputs that are missing."""

    amps: Number | None
    words: str
    needs: tuple[str, ...] = ()


def motor_starts(sized: Sized) -> Iterator[Check]:
    """Each backed-up motor, one at a time, against the stated start current of the units.

    References
    ----------
    ``motor_start``: 110.3(B).
    """
    backup = backup_of(sized)
    if backup is None or sized.network.project.backup.method == MANUAL:
        return
    motors = _backed_up_motors(sized, backup)
    capability = _capability(backup)
    for motor in motors:
        yield _start_check(sized, backup, motor, capability)
    if len([motor for motor in motors if not motor.item.inverter_driven]) > 1:
        message = "motor starts are computed one at a time; nothing keeps several from starting together unless they are interlocked"
        yield remark(sized.book, "motor_start.together", "system", Level.NOTE, message)


def _backed_up_motors(sized: Sized, backup: Backup) -> list[Node]:
    inside = set(sized.network.below(backup.isolation.tag))
    loads = sized.network.of_kind(Kind.LOAD)
    return [node for node in loads if node.item.panel in inside and (node.item.kind in MOTORS or node.item.lra is not None)]


def _start_check(sized: Sized, backup: Backup, motor: Node, capability: _Capability) -> Check:
    if motor.item.inverter_driven:
        message = f"{motor.tag} is inverter-driven: it starts without a locked-rotor current, its MCA counts"
        return remark(sized.book, "motor_start", motor.tag, Level.NOTE, message)
    start = _start(sized, motor)
    load_known = () if value_of(backup.load_a) > 0.0 else ("the backed-up load",)
    needs = (*start.needs, *capability.needs, *load_known)
    if needs or start.amps is None or capability.amps is None:
        return not_checked(sized.book, "motor_start", motor.tag, f"whether the units start {motor.tag} is not known", tuple(dict.fromkeys(needs)))
    demand = label(start_demand(start.amps, _others(sized, backup, motor)), f"{motor.tag}.I_start_all")
    words = f"{start.words} beside the other backed-up loads"
    return limit_check(
        sized.book,
        "motor_start",
        motor.tag,
        demand,
        capability.amps,
        "A",
        f"{words}: the units start it; {capability.words}",
        f"{words}: the units do not start it; {capability.words}",
    )


def _start(sized: Sized, motor: Node) -> _Start:
    """Soft-start current with its source, else the nameplate's locked-rotor current, else that of the code letter."""
    item, base = motor.item, f"load.{motor.tag}"
    if item.soft_start_current is not None:
        return _soft_start(item.soft_start_current, motor.tag)
    if item.lra is not None:
        return _Start(term_of(item.lra, "LRA", f"{base}.lra", f"locked-rotor current of {motor.tag}"), "locked-rotor current of the nameplate")
    if item.code_letter is None or item.hp is None:
        return _Start(None, "", (f"{base}.lra, or {base}.hp and {base}.code_letter",))
    kva = sized.book.locked_rotor_kva(item.code_letter)
    if kva is None:
        return _Start(None, "", (f"{base}.lra: code letter {item.code_letter} has no upper end",))
    volts = load_voltage(motor.tag, item).value
    amps = locked_rotor_current(
        kva,
        given(horsepower_of(item.hp), "hp", "hp", f"{base}.hp", "rated horsepower"),
        given(volts, "V", "V_motor", f"{base}.voltage", "rated voltage of the motor"),
    )
    return _Start(label(amps, f"{motor.tag}.I_LR"), f"locked-rotor current of code letter {item.code_letter}")


def _soft_start(stated: Quantity, tag: str) -> _Start:
    path = f"load.{tag}.soft_start_current"
    if stated.source is None:
        return _Start(None, "", (f"{path}: its source",))
    return _Start(term_of(stated, "I_soft", path, f"start current of {tag} with its soft starter"), f"start with a soft starter ({stated.source})")


def horsepower_of(text: str) -> float:
    """``1-1/2 hp`` as 1.5."""
    return float(sum(Fraction(part) for part in text.removesuffix(" hp").split("-")))


def _others(sized: Sized, backup: Backup, motor: Node) -> Number:
    """The other backed-up loads on the more loaded leg: the motor's own current left out, never above the setting of a load management."""
    own = label(load_current(motor.tag, motor.item, []), f"{motor.tag}.I_running")
    rest = other_loads(backup.load_a, own)
    if value_of(rest) < 0.0:
        return given(0.0, "A", "I_others", f"load.{motor.tag}", "other backed-up loads: none beside the motor")
    rest = label(rest, f"{motor.tag}.I_others")
    chosen = sized.network.project.backup
    if chosen.method != MANAGED or chosen.management_setting is None:
        return rest
    setting = term_of(chosen.management_setting, "I_set", "backup.management_setting", "setting of the load management")
    return label(named(smallest(rest, setting), "I_others_max", "A", "other loads within the load management", "motor_start"), f"{motor.tag}.I_others_max")


def _capability(backup: Backup) -> _Capability:
    """The start current of the units together where their data says that they add, else of the weakest one."""
    missing = tuple(
        f"equipment.{node.item.equipment}.{key}" for node in backup.units for key in ("start_current", "start_duration") if getattr(node.data, key) is None
    )
    if missing:
        return _Capability(None, "", missing)
    starts = [term_of(node.data.start_current, f"I_start_{node.tag}", f"equipment.{node.item.equipment}.start_current", f"start current of {node.tag}") for node in backup.units]
    seconds = min(node.data.start_duration.value for node in backup.units)
    if len(starts) == 1:
        return _Capability(starts[0], f"stated for {seconds:g} s")
    if all(node.data.start_currents_add == "yes" for node in backup.units):
        return _Capability(label(start_capability(starts), "system.I_start_max"), f"stated for {seconds:g} s, the units' start currents add by their data")
    weakest = min(starts, key=value_of)
    stated = all(node.data.start_currents_add is not None for node in backup.units)
    why = "by their data the units' start currents do not add" if stated else "it is not stated that the units' start currents add"
    return _Capability(weakest, f"stated for {seconds:g} s; {why}: one counts")
