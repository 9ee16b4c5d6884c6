"""Motor circuits and motor starts: ampacity, device limits, locked-rotor current."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.term import Number, largest, named, total

CONDUCTOR_FACTOR = 1.25
DISCONNECT_FACTOR = 1.15
HERMETIC_FACTOR = 1.75
HERMETIC_START_FACTOR = 2.25
MOTOR_START_PERCENT = 400.0
FUSE_START_PERCENT = 225.0
LEAST_DEVICE_A = 15.0
VA_PER_KVA = 1000.0


def hermetic_circuit_ampacity(rla_a: Number, others_a: Number) -> Number:
    """Least ampacity of a motor-compressor's branch circuit, in amperes.

    Parameters
    ----------
    rla_a : rated-load current of the compressor in amperes.
    others_a : what else the circuit carries, such as the fan, in amperes.

    References
    ----------
    `hermetic_conductor` 440.32, 440.33.

    Examples
    --------
    >>> hermetic_circuit_ampacity(24.0, 0.0)
    30.0
    """
    ampacity = CONDUCTOR_FACTOR * rla_a + others_a
    return named(ampacity, "I_MCA", "A", "least ampacity of the compressor's circuit", "hermetic_conductor")


def hermetic_device_limit(rla_a: Number, others_a: Number) -> Number:
    """What the device of a motor-compressor is held to before any rounding, in amperes.

    Parameters
    ----------
    rla_a : rated-load current of the compressor in amperes.
    others_a : what else the circuit carries, such as the fan, in amperes.

    References
    ----------
    `hermetic_ocpd` 440.22(A); 440.22(B)(1) for the other loads.

    Examples
    --------
    >>> hermetic_device_limit(24.0, 0.0)
    42.0
    """
    limit = largest(LEAST_DEVICE_A, HERMETIC_FACTOR * rla_a + others_a)
    return named(limit, "I_175", "A", "175 % of the compressor's current, 15 A at least", "hermetic_ocpd")


def hermetic_start_limit(rla_a: Number, others_a: Number) -> Number:
    """What the device may reach where 175 % does not start the compressor, in amperes.

    Parameters
    ----------
    rla_a : rated-load current of the compressor in amperes.
    others_a : what else the circuit carries, such as the fan, in amperes.

    References
    ----------
    `hermetic_ocpd` 440.22(A).

    Examples
    --------
    >>> hermetic_start_limit(24.0, 0.0)
    54.0
    """
    limit = largest(LEAST_DEVICE_A, HERMETIC_START_FACTOR * rla_a + others_a)
    return named(limit, "I_225", "A", "225 % of the compressor's current, 15 A at least", "hermetic_ocpd")


def hermetic_disconnect_need(rla_a: Number, others_a: Number) -> Number:
    """Least rating of the disconnect of a motor-compressor, in amperes.

    Parameters
    ----------
    rla_a : rated-load current of the compressor in amperes.
    others_a : what else the circuit carries, such as the fan, in amperes.

    References
    ----------
    `hermetic_disconnect` 440.12(A)(1).

    Examples
    --------
    >>> hermetic_disconnect_need(20.0, 0.0)
    23.0
    """
    need = DISCONNECT_FACTOR * (rla_a + others_a)
    return named(need, "I_115", "A", "115 % of the running current", "hermetic_disconnect")


def motor_circuit_ampacity(flc_a: Number) -> Number:
    """Least ampacity of the branch circuit of one motor, in amperes.

    Parameters
    ----------
    flc_a : full-load current in amperes, from the table where horsepower is known.

    References
    ----------
    `motor_conductor` 430.22.

    Examples
    --------
    >>> motor_circuit_ampacity(28.0)
    35.0
    """
    return named(CONDUCTOR_FACTOR * flc_a, "I_MCA", "A", "least ampacity of the motor circuit", "motor_conductor")


def motor_device_limit(flc_a: Number, percent: Number) -> Number:
    """What the short-circuit device of a motor is held to before any rounding, in amperes.

    Parameters
    ----------
    flc_a : full-load current in amperes. percent : of the table, by the kind of device.

    References
    ----------
    `motor_ocpd` 430.52(C)(1) and its table.

    Examples
    --------
    >>> motor_device_limit(28.0, 250.0)
    70.0
    """
    return named(flc_a * percent / 100.0, "I_motor_dev", "A", "largest device of the motor by the table", "motor_ocpd")


def locked_rotor_current(kva_per_hp: Number, horsepower: Number, voltage_v: Number) -> Number:
    """Locked-rotor current of a single-phase motor from its code letter, in amperes.

    Parameters
    ----------
    kva_per_hp : upper end of the letter's band, kVA per horsepower. horsepower : rated horsepower.
    voltage_v : rated voltage of the motor in volts.

    References
    ----------
    `locked_rotor_letters` 430.7(B).

    Examples
    --------
    >>> locked_rotor_current(5.75, 4.0, 230.0)
    100.0
    """
    current = kva_per_hp * horsepower * VA_PER_KVA / voltage_v
    return named(current, "I_LR", "A", "locked-rotor current, upper end of the code letter", "locked_rotor_letters")


def running_current(rla_a: Number, fan_a: Number) -> Number:
    """Running current of a motor-compressor with its fan, in amperes.

    Parameters
    ----------
    rla_a : rated-load current in amperes. fan_a : fan current in amperes.

    References
    ----------
    `load_noncoincident` 220.60.

    Examples
    --------
    >>> round(running_current(17.9, 1.4), 6)
    19.3
    """
    return named(rla_a + fan_a, "I", "A", "compressor and fan", "load_noncoincident")


def other_loads(load_a: Number, own_a: Number) -> Number:
    """The loads that run beside a motor while it starts, in amperes; below zero where the load holds less than the motor.

    Parameters
    ----------
    load_a : backed-up load in amperes. own_a : running current of the motor in amperes.

    References
    ----------
    `motor_start` 110.3(B).

    Examples
    --------
    >>> other_loads(30.0, 20.0)
    10.0
    """
    return named(load_a - own_a, "I_others", "A", "other backed-up loads, the motor left out", "motor_start")


def start_demand(start_a: Number, others_a: Number) -> Number:
    """Current while one motor starts and the other loads run, in amperes on one leg.

    Parameters
    ----------
    start_a : locked-rotor or soft-start current of the motor in amperes.
    others_a : running current of the other backed-up loads on the leg, the motor's own left out, in amperes.

    References
    ----------
    `motor_start`: listed instructions, 110.3(B).

    Examples
    --------
    >>> start_demand(96.0, 30.0)
    126.0
    """
    return named(start_a + others_a, "I_start_all", "A", "motor start beside the other running loads", "motor_start")


def start_capability(currents_a: Sequence[Number]) -> Number:
    """What several units start together where their data says that start currents add, in amperes.

    Parameters
    ----------
    currents_a : start current of each unit in amperes.

    References
    ----------
    `motor_start`: listed instructions, 110.3(B).

    Examples
    --------
    >>> start_capability([140.0, 140.0])
    280.0
    """
    return named(total(tuple(currents_a)), "I_start_max", "A", "start currents of the units together", "motor_start")


def several_motors_need(load_a: Number, addition_a: Number) -> Number:
    """Ampacity of a feeder that serves motors, in amperes.

    Parameters
    ----------
    load_a : its load with every motor at 100 percent. addition_a : 25 percent of the largest motor.

    References
    ----------
    `motor_conductor_several` 430.24.

    Examples
    --------
    >>> several_motors_need(40.0, 3.0)
    43.0
    """
    return named(load_a + addition_a, "I_motors", "A", "load with 25 % of the largest motor", "motor_conductor_several")
