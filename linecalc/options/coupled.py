"""PV inverters of the project: AC-coupled to the units where they stand inside the backed-up part.

They stay as they are drawn, whatever the candidate. With the utility present
they serve the load first. In an outage they run only while the units form the
island: they serve the load, the units charge from what is left, and the rest is
held down by the units' frequency.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from linecalc.errors import InputError, Problem
from linecalc.network.build import build_network, natural
from linecalc.network.records import Assumption
from linecalc.options.array import unit_array
from linecalc.options.candidates import AZIMUTH_DEG, TILT_DEG, fed_by, options_of
from linecalc.options.outage import Floats
from linecalc.options.plant import gamma_of
from linecalc.options.records import ArrayPlan, UnitPlant
from linecalc.project.equipment import InverterData, PvModule
from linecalc.project.model import Project

if TYPE_CHECKING:
    from linecalc.options.sun import Day, Plane, Year


@dataclass(frozen=True, slots=True)
class Coupled:
    """A PV inverter with its strings; ``inside`` says whether it runs in an outage.

    ``inputs`` are its figures in the form of a unit without storage, ``efficiency`` a fraction.
    """

    tag: str
    inputs: UnitPlant
    array: ArrayPlan
    gamma_percent: float
    efficiency: float
    inside: bool

    def planes(self) -> tuple[Plane, ...]:
        """The planes of its strings."""
        return tuple(zip(self.array.tilt_deg, self.array.azimuth_deg, strict=True))

    def power_w(self, sun: Day | Year, losses_percent: float, length: int) -> Floats:
        """Its AC power over a day or a year, within its rating."""
        power = unit_array(self.inputs, self.array, sun.plane_w_m2, sun.cell_c, self.gamma_percent, losses_percent, length).after_w
        return np.minimum(power * self.efficiency, self.inputs.ac_export_w)


def coupled_of(project: Project, otherwise_percent: float, assumptions: list[Assumption]) -> tuple[Coupled, ...]:
    """The PV inverters of a project, with what had to be assumed about them.

    Parameters
    ----------
    otherwise_percent : efficiency of an inverter whose data give none.

    Raises
    ------
    InputError, RefusedError
        The options name an inverter that is not there, or the project is not a house that can be studied.
    """
    unknown = [tag for tag in options_of(project).inverter if tag not in project.inverter]
    if unknown:
        known = ", ".join(project.inverter) or "none"
        raise InputError([Problem(f'"{unknown[0]}" is not the tag of a PV inverter; there is {known}', key=f"options.inverter.{unknown[0]}", found=unknown[0])])
    if not project.inverter:
        return ()
    network = build_network(project)
    inside = set(network.below(network.island)) if network.island is not None else set()
    found = tuple(_one(project, tag, tag in inside, otherwise_percent, assumptions) for tag in sorted(project.inverter, key=natural))
    for one in found:
        told = _INSIDE if one.inside else ("gives nothing in an outage", "it stands outside the backed-up part")
        assumptions.append(Assumption(f"inverter.{one.tag}", *told))
    return found


_INSIDE = (
    "follows the units in an outage",
    "held down in proportion to the load and what the storage takes, to the load alone with the storage full; off while the units are shut down; "
    "one that trips instead gives less; loads above the units' own rating are not served by it",
)


def _one(project: Project, tag: str, inside: bool, otherwise_percent: float, assumptions: list[Assumption]) -> Coupled:
    data = project.equipment[project.inverter[tag].equipment]
    assert isinstance(data, InverterData)
    strings = [item for name, item in sorted(project.string.items(), key=lambda pair: natural(pair[0])) if fed_by(project, item.to) == tag]
    modules = [project.equipment[item.module] for item in strings]
    known = [module for module in modules if isinstance(module, PvModule)]
    inputs: dict[int, list[tuple[int, float]]] = {}
    for index, (item, module) in enumerate(zip(strings, known, strict=True)):
        inputs.setdefault(item.input or index + 1, []).append((index, item.count * module.power.value))
    current = max((module.imp.value for module in known), default=0.0)
    limit = data.mppt_current.value if data.mppt_current is not None else None
    most = data.input_power_max.value if data.input_power_max is not None else None
    efficiency = data.efficiency.value if data.efficiency is not None else otherwise_percent
    if data.efficiency is None:
        assumptions.append(Assumption(f"inverter.{tag} efficiency", f"{otherwise_percent:g} %", "not given; that of the array to AC is taken"))
    figures = UnitPlant(tag, data.ac_power.value, 0.0, 0.0, tuple(tuple(inputs[number]) for number in sorted(inputs)), limit, current, most)
    return Coupled(tag, figures, _facing(project, tag, tuple(item.count for item in strings), assumptions), gamma_of(known, assumptions), efficiency / 100.0, inside)


def _facing(project: Project, tag: str, counts: tuple[int, ...], assumptions: list[Assumption]) -> ArrayPlan:
    """The strings with the tilt and azimuth that the options state for this inverter."""
    stated = options_of(project).inverter.get(tag)
    if stated is None:
        assumptions.append(Assumption(f"options.inverter.{tag}", f"tilt {TILT_DEG:g} deg, azimuth {AZIMUTH_DEG:g} deg", "not given; towards the equator at a common roof slope, a good case"))
        return ArrayPlan(tag, counts, None, (TILT_DEG,) * len(counts), (AZIMUTH_DEG,) * len(counts))
    return ArrayPlan(tag, counts, None, (stated.tilt,) * len(counts), (stated.azimuth,) * len(counts))
