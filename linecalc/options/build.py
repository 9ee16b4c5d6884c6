"""The part of a candidate that no weather and no outage changes: layout, project, electrical study, plant, bill."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.errors import InputError, LinecalcError
from linecalc.network.records import Assumption
from linecalc.options.context import Context
from linecalc.options.cost import bill_of
from linecalc.options.electrical import electrical
from linecalc.options.house import project_of, unit_tags
from linecalc.options.placement import layout_of
from linecalc.options.plant import gamma_of, modules_of, plant_of
from linecalc.options.records import Bill, Candidate, Electrical, Layout, Plant, Reason
from linecalc.project.equipment import StorageData, UnitData
from linecalc.project.model import Project


@dataclass(frozen=True, slots=True)
class Built:
    """A candidate as far as it does not depend on weather or outages. ``plant`` is None where it cannot be built."""

    candidate: Candidate
    plant: Plant | None
    electrical: Electrical | None
    layout: Layout | None
    bill: Bill
    gamma_percent: float
    reasons: tuple[Reason, ...]
    assumptions: tuple[Assumption, ...]


def build(context: Context, candidate: Candidate) -> Built:
    """Everything about one candidate that is computed once."""
    impossible = _impossible(context, candidate)
    if impossible is not None:
        return Built(candidate, None, None, None, Bill((), None, None, ()), 0.0, (impossible,), ())
    layout = _layout(context, candidate)
    try:
        project = project_of(context.base, candidate, layout)
    except LinecalcError as error:
        problem = error.problems[0].message if isinstance(error, InputError) else str(error)
        return Built(candidate, None, None, layout, Bill((), None, None, ()), 0.0, (Reason("project", "", problem),), ())
    assumptions: list[Assumption] = list(layout.assumptions) if layout is not None else []
    plant = plant_of(context.base, project, candidate, assumptions)
    found = electrical(project)
    bill = bill_of(context.options, context.base, project, candidate, layout)
    reasons = (*found.fails, *(layout.reasons if layout is not None else ()))
    gamma = gamma_of(modules_of(project), assumptions)
    return Built(candidate, plant, found, layout, bill, gamma, reasons, tuple(assumptions))


def candidate_project(context: Context, candidate: Candidate) -> Project:
    """The project of a candidate as the study checked it.

    Raises
    ------
    InputError, RefusedError
        The candidate cannot be built.
    """
    layout = _layout(context, candidate)
    return project_of(context.base, candidate, layout)


def _impossible(context: Context, candidate: Candidate) -> Reason | None:
    """Limits of the equipment that need no study."""
    data = [context.base.equipment[unit.equipment] for unit in context.base.unit.values()]
    units = [found for found in data if isinstance(found, UnitData)]
    inputs = min((found.mppt for found in units if found.mppt is not None), default=None)
    needed = -(-len(candidate.array.strings) // candidate.units)
    if inputs is not None and needed > inputs:
        return Reason("inputs", "", f"{len(candidate.array.strings)} strings need {needed} inputs on a unit, it has {inputs}")
    most = min(found.storage_modules_max for found in units)
    if max(candidate.modules) > most:
        return Reason("storage_modules", "", f"{max(candidate.modules)} storage modules on one unit, at most {most} by its data")
    return None


def _layout(context: Context, candidate: Candidate) -> Layout | None:
    if not context.options.place:
        return None
    if context.unit_item is None or (candidate.storage_modules and context.module_item is None):
        return Layout((), (), 0.0, "", (), context.place_needs or ("equipment of the storage module",))
    wanted = next((unit.mounting for unit in context.base.unit.values() if unit.mounting is not None), None)
    units = unit_tags(context.base, candidate.units)
    return layout_of(candidate, units, context.unit_item, context.module_item, context.options, wanted, _reach_in(context))


def _reach_in(context: Context) -> float | None:
    """The longest harness by the storage module's data and the accessories, in inches; None where none is given."""
    options = context.options
    tags = [options.storage_module.equipment] if options.storage_module is not None else [item.equipment for item in context.base.storage.values()]
    data = [context.base.equipment[tag] for tag in tags]
    own = [found.harness_length.value for found in data if isinstance(found, StorageData) and found.harness_length is not None]
    sold = [found.up_to.value for found in options.accessory.values() if found.up_to is not None]
    longest = [max(found) for found in (own, sold) if found]
    return 12.0 * min(longest) if longest else None
