"""What is tried: every combination of units, storage modules and arrays that the project asks for."""

from __future__ import annotations

from linecalc.errors import InputError, Problem
from linecalc.network.build import natural
from linecalc.network.records import Assumption
from linecalc.options.records import ArrayPlan, Candidate
from linecalc.project.equipment import UnitData
from linecalc.project.model import Project
from linecalc.project.options_model import ArrayChoice, Options

MOST = 20_000
AS_DRAWN = "as-drawn"
TILT_DEG, AZIMUTH_DEG = 20.0, 180.0


def options_of(project: Project) -> Options:
    """The table ``[options]`` of a project, or an empty one."""
    return project.options or Options()


def candidates_of(project: Project, assumptions: list[Assumption]) -> tuple[Candidate, ...]:
    """Every candidate, from the smallest to the largest.

    Storage modules go on the units as evenly as can be, the first unit first.

    Raises
    ------
    InputError
        No unit to start from, a range the wrong way round, or more than 20,000 candidates.
    """
    if not project.unit:
        raise InputError([Problem("the study of options needs a project with one unit at least, as a pattern for others", key="unit")])
    options = options_of(project)
    drawn, data = len(project.unit), _unit_data(project)
    most = max(found.storage_modules_max for found in data)
    per_unit = -(-len(project.storage) // drawn)
    units = _range("options.units", options.units, (drawn, drawn), "as drawn", assumptions)
    modules = _range("options.modules_per_unit", options.modules_per_unit, (0, max(most, per_unit)), "from none to the unit's maximum", assumptions)
    arrays = arrays_of(project, assumptions)
    found = tuple(
        Candidate(count, spread(total, count), array)
        for count in range(units[0], units[1] + 1)
        for total in range(count * modules[0], count * modules[1] + 1)
        for array in arrays
    )
    if len(found) > MOST:
        raise InputError([Problem(f"{len(found):,} candidates; the limit is {MOST:,}, narrow the ranges", key="options")])
    return found


def spread(total: int, units: int) -> tuple[int, ...]:
    """``total`` storage modules on ``units`` units, as evenly as can be.

    Examples
    --------
    >>> spread(3, 2)
    (2, 1)
    """
    return tuple(total // units + (index < total % units) for index in range(units))


def arrays_of(project: Project, assumptions: list[Assumption]) -> tuple[ArrayPlan, ...]:
    """The arrays to try; that of the project where ``[options.array]`` is left out."""
    options = options_of(project)
    if not options.array:
        counts = tuple(project.string[tag].count for tag in unit_strings(project))
        return (_plan(AS_DRAWN, ArrayChoice(strings=counts), assumptions),)
    return tuple(_plan(name, choice, assumptions) for name, choice in options.array.items())


def unit_strings(project: Project) -> list[str]:
    """The strings that feed units; those of PV inverters stay as they are."""
    return sorted((tag for tag, string in project.string.items() if fed_by(project, string.to) not in project.inverter), key=natural)


def fed_by(project: Project, tag: str) -> str:
    """What a string that goes to ``tag`` feeds in the end: ``tag`` itself, or what its combiners lead to."""
    seen: set[str] = set()
    while tag in project.combiner and tag not in seen:
        seen.add(tag)
        tag = project.combiner[tag].to or tag
    return tag


def _plan(name: str, choice: ArrayChoice, assumptions: list[Assumption]) -> ArrayPlan:
    count = len(choice.strings)
    tilt = _angles(f"options.array.{name}.tilt", choice.tilt, count, TILT_DEG, assumptions)
    azimuth = _angles(f"options.array.{name}.azimuth", choice.azimuth, count, AZIMUTH_DEG, assumptions)
    return ArrayPlan(name, choice.strings, choice.module, tilt, azimuth)


def _angles(path: str, given: tuple[float, ...], count: int, otherwise: float, assumptions: list[Assumption]) -> tuple[float, ...]:
    if len(given) == count:
        return given
    if len(given) == 1:
        return given * count
    if given:
        raise InputError([Problem(f"has {len(given)} angles for {count} strings; give one, or one a string", key=path)])
    if count:
        assumptions.append(Assumption(path, f"{otherwise:g} deg", "not given; towards the equator at a common roof slope, a good case"))
    return (otherwise,) * count


def _range(path: str, given: tuple[int, int] | None, otherwise: tuple[int, int], why: str, assumptions: list[Assumption]) -> tuple[int, int]:
    if given is None:
        assumptions.append(Assumption(path, f"{otherwise[0]} to {otherwise[1]}", f"not given; {why}"))
        return otherwise
    if given[0] > given[1]:
        raise InputError([Problem(f"runs from {given[0]} to {given[1]}; write the smaller number first", key=path)])
    return given


def _unit_data(project: Project) -> list[UnitData]:
    found = [project.equipment[unit.equipment] for unit in project.unit.values()]
    return [data for data in found if isinstance(data, UnitData)]
