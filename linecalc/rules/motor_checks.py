"""What the rules of Articles 430 and 440 share: which circuits feed a motor, and its device against its limits."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, Sense, limit_check, not_checked
from linecalc.network.loads import load_current
from linecalc.network.records import Node
from linecalc.sizing.motor import COMPRESSOR, DeviceLimits, device_limits, device_rule, motor_behind
from linecalc.sizing.records import Device, Sized, SizedCircuit
from linecalc.term import label, value_of


def motor_circuits(sized: Sized) -> Iterator[tuple[SizedCircuit, Node]]:
    """Every circuit that feeds one motor and nothing else, with that motor."""
    for circuit in sized.circuits:
        motor = motor_behind(sized.network, circuit.circuit)
        if motor is not None:
            yield circuit, motor


def guarded_circuits(sized: Sized) -> Iterator[tuple[SizedCircuit, Node]]:
    """The motor circuits with a device, each device once."""
    seen: set[tuple[str, str]] = set()
    ordered = sorted(motor_circuits(sized), key=lambda pair: pair[0].device is not None and pair[0].device.inherited)
    for circuit, motor in ordered:
        if circuit.device is not None and (circuit.device.owner, motor.tag) not in seen:
            seen.add((circuit.device.owner, motor.tag))
            yield circuit, motor


def named_device(device: Device) -> str:
    """``40 A breaker in MP``."""
    return f"{value_of(device.rating):g} A {device.kind} in {device.where}"


def device_checks(sized: Sized, circuit: SizedCircuit, motor: Node) -> Iterator[Check]:
    """The device of a motor circuit against what limits it, and against the motor's running current."""
    limits = device_limits(motor, sized.book, circuit.device.kind)
    if limits is None:
        needs = (f"load.{motor.tag}.mocp", f"load.{motor.tag}.rla")
        yield not_checked(sized.book, device_rule(motor), circuit.tag, "the largest device of this motor is not known: give MOCP, or RLA", needs)
    else:
        yield _within(sized, circuit, limits)
    running = label(load_current(motor.tag, motor.item, []), f"{circuit.tag}.I_running")
    yield limit_check(
        sized.book,
        "hermetic_ocpd.running" if motor.item.kind == COMPRESSOR else "motor_ocpd.running",
        circuit.tag,
        circuit.device.rating,
        running,
        "A",
        f"{named_device(circuit.device)} carries the running current of {motor.tag}",
        f"{named_device(circuit.device)} is below the running current of {motor.tag}",
        Sense.AT_LEAST,
    )


def _within(sized: Sized, circuit: SizedCircuit, limits: DeviceLimits) -> Check:
    device = named_device(circuit.device)
    beyond_usual = not at_most(circuit.device.rating, limits.usual)
    only_to_start = beyond_usual and at_most(circuit.device.rating, limits.most)
    limit = limits.most if beyond_usual and not only_to_start else limits.usual
    name = "the nameplate MOCP" if limits.rule == "hermetic_nameplate" else "what the article allows"
    breaking = f"{device} is allowed only where a smaller one does not start the motor" if only_to_start else f"{device} is above {name}"
    return limit_check(
        sized.book,
        limits.rule,
        circuit.tag,
        circuit.device.rating,
        label(limit, f"{circuit.tag}.I_dev_max"),
        "A",
        f"{device} is within {name}",
        breaking,
        broken=Level.WARN if only_to_start else Level.FAIL,
        terms=() if limits.before is limit else (label(limits.before, f"{circuit.tag}.I_dev_before"),),
    )
