"""What an array gives with the utility present, and where energy is lost: inputs, inverter rating, full storage.

The load is served first, what is left charges the storage, the rest is
exported: load and export together within the inverter's rating, export alone
within the utility's limit where there is one. At night the storage serves the
load down to the reserve. What can neither be used, stored nor exported is lost:
as *full storage* as far as the storage would have taken it with room, else as
*inverter rating* (the limit on export included).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from linecalc.options.outage import Floats


@dataclass(frozen=True, slots=True)
class Lines:
    """Units to follow, one row each: array before and after its inputs, load share, most export (rows x steps), limits (one a row).

    Powers in watts, energies in kilowatt-hours. ``export_w`` is infinite where the utility sets no limit.
    """

    before_w: Floats
    after_w: Floats
    load_w: Floats
    export_w: Floats
    rating_w: Floats
    charge_w: Floats
    usable_kwh: Floats
    begin_kwh: Floats
    pv_to_ac: float
    pv_to_storage: float
    storage_to_ac: float


@dataclass(frozen=True, slots=True)
class Harvest:
    """Energies by row in kilowatt-hours; ``end_kwh`` is what the storage holds at the end."""

    array_kwh: Floats
    used_kwh: Floats
    input_kwh: Floats
    rating_kwh: Floats
    full_kwh: Floats
    end_kwh: Floats


def harvest(lines: Lines, step_h: float) -> Harvest:
    """Follow every row through all steps."""
    rows, steps = lines.after_w.shape
    kwh = step_h / 1000.0
    energy = np.minimum(lines.begin_kwh, lines.usable_kwh).astype(float)
    rating, full = np.zeros(rows), np.zeros(rows)
    for step in range(steps):
        sun, load = lines.after_w[:, step], np.minimum(lines.load_w[:, step], lines.rating_w)
        to_load = np.minimum(sun, load / lines.pv_to_ac)
        left = sun - to_load
        wanted = np.minimum(left, lines.charge_w)
        charged = np.minimum(wanted, np.maximum(lines.usable_kwh - energy, 0.0) / (kwh * lines.pv_to_storage))
        exported = np.minimum(left - charged, np.minimum(lines.rating_w - to_load * lines.pv_to_ac, lines.export_w[:, step]) / lines.pv_to_ac)
        lost = left - charged - exported
        by_full = np.minimum(lost, wanted - charged)
        full += by_full
        rating += lost - by_full
        missing = (load - to_load * lines.pv_to_ac) / lines.storage_to_ac
        drawn = np.minimum(np.maximum(missing, 0.0), np.maximum(energy, 0.0) / kwh)
        energy = energy + (charged * lines.pv_to_storage - drawn) * kwh
    array = lines.before_w.sum(axis=1) * kwh
    inputs = (lines.before_w - lines.after_w).sum(axis=1) * kwh
    return Harvest(array, array - inputs - (rating + full) * kwh, inputs, rating * kwh, full * kwh, energy)
