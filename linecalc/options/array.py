"""Power of an array behind its input limits, by quarter or hour.

References
----------
DC power: pvlib ``pvwatts_dc`` (PVWatts): power at 1000 W/m2 in proportion, with
the temperature coefficient of Pmax. System losses, 14 % where not given:
A. Dobos, PVWatts Version 5 Manual, NREL/TP-6A20-62641 (2014), table of default losses (14.08 %).
Reflection at the glass, which PVWatts counts beside the losses, is left out: about 2 % of a year.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import pvlib

from linecalc.options.outage import Floats
from linecalc.options.records import ArrayPlan, UnitPlant

FULL_SUN = 1000.0
REFERENCE_C = 25.0

Plane = tuple[float, float]


@dataclass(frozen=True, slots=True)
class ArrayPower:
    """Watts of one unit's strings: before and after the limits of its inputs."""

    before_w: Floats
    after_w: Floats


def unit_array(
    unit: UnitPlant, array: ArrayPlan, sun: Mapping[Plane, Floats], cell_c: Mapping[Plane, Floats], gamma_percent: float, losses_percent: float, length: int
) -> ArrayPower:
    """The strings of one unit on its inputs.

    An input passes its working current: where the strings on it give more, the
    power is lost in proportion (an input that raises the voltage instead loses a little less).

    Parameters
    ----------
    gamma_percent : temperature coefficient of Pmax in percent a kelvin. losses_percent : of the array, in percent.
    length : number of steps, for an array without sun.
    """
    before, after = np.zeros(length), np.zeros(length)
    for strings in unit.inputs:
        power, current = np.zeros(length), np.zeros(length)
        for index, watts in strings:
            plane = (array.tilt_deg[index], array.azimuth_deg[index])
            if plane in sun:
                power = power + pvlib.pvsystem.pvwatts_dc(sun[plane], cell_c[plane], watts, gamma_percent / 100.0, REFERENCE_C) * (1.0 - losses_percent / 100.0)
                current = current + unit.string_current_a * sun[plane] / FULL_SUN
        passed = power
        if unit.input_current_a is not None:
            over = np.maximum(current, unit.input_current_a)
            passed = power * (unit.input_current_a / over)
        if unit.input_power_w is not None:
            passed = np.minimum(passed, unit.input_power_w)
        before, after = before + power, after + passed
    return ArrayPower(before, after)
