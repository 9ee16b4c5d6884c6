"""Article 440: air conditioners and other motor-compressors, and equipment whose nameplate states MCA and MOCP.

References
----------
``hermetic_nameplate`` 440.4(B), ``hermetic_ocpd`` 440.22, ``hermetic_conductor`` 440.32,
``hermetic_disconnect`` 440.12, ``listed_instructions`` 110.3(B).
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_least
from linecalc.calc.motor import hermetic_circuit_ampacity, hermetic_disconnect_need
from linecalc.check import Check, Level, Sense, limit_check, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Kind
from linecalc.rules.motor_checks import device_checks, guarded_circuits, motor_circuits, named_device
from linecalc.sizing.motor import COMPRESSOR, FUSE, compressor_currents, motor_behind
from linecalc.sizing.records import Sized
from linecalc.term import label


def compressor_device(sized: Sized) -> Iterator[Check]:
    """The device stays within MOCP, or within 175 % (to start: 225 %) of the compressor's current beside the other loads.

    References
    ----------
    ``hermetic_nameplate``: 440.4(B), never rounded up; ``hermetic_ocpd``: 440.22(A), rounded up in 2023 only.
    """
    for circuit, motor in guarded_circuits(sized):
        if motor.item.kind == COMPRESSOR or motor.item.mocp is not None:
            yield from device_checks(sized, circuit, motor)


def fuses_only(sized: Sized) -> Iterator[Check]:
    """A nameplate that names a largest fuse, and no breaker, asks for fuses in the circuit.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for circuit, motor in motor_circuits(sized):
        if not motor.item.fuses_only or circuit.circuit.down != motor.tag or circuit.device is None:
            continue
        fused = circuit.device.kind == FUSE
        message = (
            f"{named_device(circuit.device)}: the nameplate asks for fuses"
            if fused
            else f"the nameplate asks for fuses, but the device is the {named_device(circuit.device)}; a fused disconnect at the unit would serve"
        )
        yield remark(sized.book, "listed_instructions.fuses", circuit.tag, Level.PASS if fused else Level.FAIL, message)


def nameplate_ampacity(sized: Sized) -> Iterator[Check]:
    """A nameplate MCA below 125 % of the compressor's current beside the fan looks misread.

    References
    ----------
    ``hermetic_conductor``: 440.32.
    """
    for circuit, motor in motor_circuits(sized):
        if motor.item.mca is None or motor.item.rla is None or circuit.circuit.down != motor.tag:
            continue
        computed = label(hermetic_circuit_ampacity(*compressor_currents(motor)), f"{motor.tag}.I_MCA")
        stated = term_of(motor.item.mca, "MCA", f"load.{motor.tag}.mca", "minimum circuit ampacity")
        if not at_least(stated, computed):
            message = "the nameplate MCA is below 125 % of the compressor's current and the fan: read the nameplate again"
            yield remark(sized.book, "hermetic_nameplate.mca", motor.tag, Level.WARN, message, (computed, stated))


def disconnect_rating(sized: Sized) -> Iterator[Check]:
    """A disconnect of a motor-compressor is rated for 115 % of its running current.

    References
    ----------
    ``hermetic_disconnect``: 440.12(A)(1).
    """
    for node in sized.network.of_kind(Kind.DISCONNECT):
        if node.tag not in sized.network.parent:
            continue
        motor = motor_behind(sized.network, sized.network.parent[node.tag])
        if motor is None or motor.item.kind != COMPRESSOR or (motor.item.rla is None and motor.item.current is None):
            continue
        yield limit_check(
            sized.book,
            "hermetic_disconnect",
            node.tag,
            term_of(node.item.rating, "I_rating", f"disconnect.{node.tag}.rating", f"rating of {node.tag}"),
            label(hermetic_disconnect_need(*compressor_currents(motor)), f"{node.tag}.I_115"),
            "A",
            f"the disconnect of {motor.tag} is large enough",
            f"the disconnect of {motor.tag} is below 115 % of its running current",
            Sense.AT_LEAST,
        )
