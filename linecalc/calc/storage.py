"""Storage circuits on the DC side: currents from power at the lowest voltage."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.term import Number, largest, named, total

CITE = "ess_circuit_current"


def discharge_current_at_terminals(power_w: Number, lowest_v: Number) -> Number:
    """Discharge current where the power is stated at the storage terminals, in amperes.

    Parameters
    ----------
    power_w : continuous discharge power in watts. lowest_v : lowest working voltage in volts.

    References
    ----------
    `ess_circuit_current` 706.30(A), 706.20(A) in 2017.

    Examples
    --------
    >>> discharge_current_at_terminals(5000.0, 40.0)
    125.0
    """
    return named(power_w / lowest_v, "I_dis", "A", "discharge current at the lowest voltage", CITE)


def charge_current_at_terminals(power_w: Number, lowest_v: Number) -> Number:
    """Charge current where the power is stated at the storage terminals, in amperes.

    Parameters
    ----------
    power_w : continuous charge power in watts. lowest_v : lowest working voltage in volts.

    References
    ----------
    `ess_circuit_current` 706.30(A), 706.20(A) in 2017.

    Examples
    --------
    >>> charge_current_at_terminals(4200.0, 40.0)
    105.0
    """
    return named(power_w / lowest_v, "I_chg", "A", "charge current at the lowest voltage", CITE)


def discharge_current_from_ac(power_w: Number, efficiency_percent: Number, lowest_v: Number) -> Number:
    """Discharge current where the power is stated at the AC side, in amperes.

    Parameters
    ----------
    power_w : AC power in watts. efficiency_percent : from the storage terminals to AC, one way.
    lowest_v : lowest working voltage in volts.

    References
    ----------
    `ess_circuit_current` 706.30(A), 706.20(A) in 2017.

    Examples
    --------
    >>> discharge_current_from_ac(4800.0, 96.0, 40.0)
    125.0
    """
    current = power_w / (efficiency_percent / 100.0 * lowest_v)
    return named(current, "I_dis", "A", "discharge current at the lowest voltage, losses added", CITE)


def charge_current_from_ac(power_w: Number, efficiency_percent: Number, lowest_v: Number) -> Number:
    """Charge current where the power is stated at the AC side, in amperes.

    Parameters
    ----------
    power_w : AC power in watts. efficiency_percent : from AC to the storage terminals, one way.
    lowest_v : lowest working voltage in volts.

    References
    ----------
    `ess_circuit_current` 706.30(A), 706.20(A) in 2017.

    Examples
    --------
    >>> charge_current_from_ac(5000.0, 96.0, 40.0)
    120.0
    """
    current = power_w * (efficiency_percent / 100.0) / lowest_v
    return named(current, "I_chg", "A", "charge current at the lowest voltage, losses taken off", CITE)


def storage_circuit_current(discharge_a: Number, charge_a: Number) -> Number:
    """Current of a storage circuit: the larger of discharge and charge, in amperes.

    Parameters
    ----------
    discharge_a, charge_a : continuous currents in amperes.

    References
    ----------
    `ess_circuit_current` 706.30(A), 706.20(A) in 2017.

    Examples
    --------
    >>> storage_circuit_current(125.0, 105.0)
    125.0
    """
    return named(largest(discharge_a, charge_a), "I_ess", "A", "larger of discharge and charge current", CITE)


def energy_together(energies_kwh: Sequence[Number], cite: str = "ess_energy") -> Number:
    """Energy of several storages together, in kilowatt-hours.

    Parameters
    ----------
    energies_kwh : nominal energies for limits, usable ones for runtime. cite : codebook key.

    References
    ----------
    `ess_energy`; `ess_runtime` for usable energy.

    Examples
    --------
    >>> energy_together([10.4, 10.4])
    20.8
    """
    return named(total(tuple(energies_kwh)), "E_sum", "kWh", "energy together", cite)


def runtime(usable_kwh: Number, load_w: Number) -> Number:
    """How long the storage carries a steady load alone, in hours.

    Parameters
    ----------
    usable_kwh : usable energy in kilowatt-hours, conversion losses left out. load_w : steady load in watts.

    References
    ----------
    `ess_runtime`: common practice.

    Examples
    --------
    >>> runtime(13.0, 4000.0)
    3.25
    """
    return named(1000.0 * usable_kwh / load_w, "t_run", "h", "runtime of the usable energy at the stated load", "ess_runtime")
