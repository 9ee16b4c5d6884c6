"""Article 430: motors that are not motor-compressors.

References
----------
``motor_ocpd`` 430.52, ``motor_conductor`` 430.22, ``motor_current`` 430.6(A)(1), ``motor_flc``,
``motor_conductor_several`` 430.24.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, remark
from linecalc.network.loads import motor_full_load, term_of
from linecalc.rules.demand_checks import demand_checks
from linecalc.rules.motor_checks import device_checks, guarded_circuits, motor_circuits
from linecalc.sizing.motor import COMPRESSOR
from linecalc.sizing.records import Sized


def motor_device(sized: Sized) -> Iterator[Check]:
    """The short-circuit device within the table's share of the full-load current, rounded up to a standard rating.

    References
    ----------
    ``motor_ocpd``: 430.52(C)(1) and its Exceptions.
    """
    for circuit, motor in guarded_circuits(sized):
        if motor.item.kind != COMPRESSOR and motor.item.mocp is None:
            yield from device_checks(sized, circuit, motor)


def current_by_horsepower(sized: Sized) -> Iterator[Check]:
    """Where horsepower is known, the table's current sizes the circuit, whatever the nameplate says.

    References
    ----------
    ``motor_current``: 430.6(A)(1).
    """
    for circuit, motor in motor_circuits(sized):
        item = motor.item
        if item.hp is None or item.current is None or item.kind == COMPRESSOR or circuit.circuit.down != motor.tag:
            continue
        table = motor_full_load(motor.tag, item)
        stated = term_of(item.current, f"I_{motor.tag}", f"load.{motor.tag}.current", "nameplate current")
        if not at_most(stated, table):
            message = "the nameplate current is above that of the table for this horsepower: read the nameplate again"
            yield remark(sized.book, "motor_current", motor.tag, Level.WARN, message, (table, stated))


def several_motors(sized: Sized) -> Iterator[Check]:
    """A feeder of motors given as fixed loads carries its load and 25 percent of the largest motor.

    References
    ----------
    ``motor_conductor_several``: 430.24.
    """
    yield from demand_checks(sized, "motors", "the feeder's ampacity is not known")
