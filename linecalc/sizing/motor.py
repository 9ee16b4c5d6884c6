"""Motor circuits: which motor a circuit feeds, what its conductors carry, what its device is held to.

References
----------
``hermetic_conductor`` 440.32; ``hermetic_ocpd`` 440.22; ``hermetic_nameplate`` 440.4(B);
``motor_conductor`` 430.22; ``motor_ocpd`` 430.52; ``motor_current`` 430.6(A)(1); ``motor_flc``.
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.motor import (
    FUSE_START_PERCENT,
    MOTOR_START_PERCENT,
    hermetic_circuit_ampacity,
    hermetic_device_limit,
    hermetic_start_limit,
    motor_circuit_ampacity,
    motor_device_limit,
)
from linecalc.calc.overcurrent import next_standard_at_or_above
from linecalc.codebook import Book
from linecalc.codebook.edition import HermeticDevice
from linecalc.network.build import Network
from linecalc.network.loads import load_current, motor_full_load, term_of
from linecalc.network.records import Circuit, Kind, Node
from linecalc.term import Number, Term, named, value_of

COMPRESSOR = "motor-compressor"
MOTORS = ("motor", COMPRESSOR)
FUSE = "fuse"


@dataclass(frozen=True, slots=True)
class DeviceLimits:
    """What the device of a motor circuit is held to, in amperes.

    ``usual`` is the largest without further reason, ``most`` the largest where
    that does not start the motor; equal where a nameplate governs. ``before``
    is the figure before any rounding up.
    """

    rule: str
    usual: Number
    most: Number
    before: Number


def motor_behind(network: Network, circuit: Circuit) -> Node | None:
    """The motor that a circuit feeds and nothing else, directly or through disconnects and boxes."""
    node = network.nodes[circuit.down]
    while node.kind in (Kind.DISCONNECT, Kind.JUNCTION):
        children = network.children.get(node.tag, ())
        if len(children) != 1:
            return None
        node = network.nodes[children[0].down]
    return node if node.kind is Kind.LOAD and node.item.kind in MOTORS else None


def conductor_rule(motor: Node) -> str:
    """The citation key of what sizes a motor's conductors."""
    if motor.item.mca is not None:
        return "hermetic_nameplate"
    return "hermetic_conductor" if motor.item.kind == COMPRESSOR else "motor_conductor"


def device_rule(motor: Node) -> str:
    """The citation key of what limits a motor's device."""
    if motor.item.mocp is not None:
        return "hermetic_nameplate"
    return "hermetic_ocpd" if motor.item.kind == COMPRESSOR else "motor_ocpd"


def circuit_ampacity(motor: Node) -> Number:
    """What the conductors of a motor circuit carry: MCA, else 125 percent of the motor and the fan beside it."""
    if motor.item.mca is not None:
        nameplate = term_of(motor.item.mca, "MCA", f"load.{motor.tag}.mca", "minimum circuit ampacity")
        return named(nameplate, "I_MCA", "A", "minimum circuit ampacity of the nameplate", "hermetic_nameplate")
    if motor.item.kind == COMPRESSOR:
        return hermetic_circuit_ampacity(*compressor_currents(motor))
    return motor_circuit_ampacity(full_load_current(motor))


def compressor_currents(motor: Node) -> tuple[Number, Number]:
    """Rated-load current of the compressor and what runs beside it."""
    item, base = motor.item, f"load.{motor.tag}"
    if item.rla is None:
        return load_current(motor.tag, item, []), 0.0
    fan = 0.0 if item.fan is None else term_of(item.fan, "I_fan", f"{base}.fan", "fan current")
    return term_of(item.rla, "RLA", f"{base}.rla", "rated-load current"), fan


def full_load_current(motor: Node) -> Number:
    """Full-load current of a motor: that of the table where its horsepower is known, else what is stated."""
    if motor.item.hp is not None:
        return motor_full_load(motor.tag, motor.item)
    return load_current(motor.tag, motor.item, [])


def device_limits(motor: Node, book: Book, device_kind: str) -> DeviceLimits | None:
    """What the device is held to, or None where no current of the compressor is known.

    The nameplate MOCP governs where it is given. A fuse counts as a dual-element one.
    """
    item = motor.item
    if item.mocp is not None:
        nameplate = term_of(item.mocp, "MOCP", f"load.{motor.tag}.mocp", "maximum overcurrent protection")
        return DeviceLimits("hermetic_nameplate", nameplate, nameplate, nameplate)
    if item.kind == COMPRESSOR:
        return _hermetic_limits(motor, book)
    return _motor_limits(motor, book, device_kind)


def _hermetic_limits(motor: Node, book: Book) -> DeviceLimits | None:
    if motor.item.rla is None and motor.item.current is None:
        return None
    running, others = compressor_currents(motor)
    before = hermetic_device_limit(running, others)
    most = hermetic_start_limit(running, others)
    usual = _rounded_up(book, before) if book.wording.hermetic_device is HermeticDevice.NEXT_SIZE_UP else before
    return DeviceLimits("hermetic_ocpd", usual, max(usual, most, key=value_of), before)


def _motor_limits(motor: Node, book: Book, device_kind: str) -> DeviceLimits:
    current = full_load_current(motor)
    column, start = ("dual_element_fuse_percent", FUSE_START_PERCENT) if device_kind == FUSE else ("inverse_time_breaker_percent", MOTOR_START_PERCENT)
    before = motor_device_limit(current, book.motor_device_percent(column))
    usual = _rounded_up(book, before)
    most = motor_device_limit(current, start)
    return DeviceLimits("motor_ocpd", usual, max(usual, most, key=value_of), before)


def _rounded_up(book: Book, limit: Number) -> Number:
    """The next standard rating at or above a limit; the limit itself beyond the standard ratings."""
    rating = next_standard_at_or_above(book.standard_ratings(), limit)
    if rating is None:
        return limit
    return Term(rating, "A", symbol="I_next", meaning="next standard rating", origin=f"table:240.6-A/{rating:g}/rating_a")
