"""What the units, storage modules and array of a candidate can do, from the equipment data."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.network.build import natural
from linecalc.network.records import Assumption
from linecalc.options.candidates import fed_by, options_of, unit_strings
from linecalc.options.context import STORAGE_TO_AC
from linecalc.options.records import Candidate, Plant, UnitPlant
from linecalc.project.equipment import PvModule, StorageData, UnitData
from linecalc.project.model import Project
from linecalc.project.options_model import Options

STANDBY_W = 40.0
GAMMA = -0.4
LINE_V = 240.0


def plant_of(base: Project, project: Project, candidate: Candidate, assumptions: list[Assumption]) -> Plant:
    """Figures of one candidate.

    Parameters
    ----------
    base : the project with its options. project : that of the candidate.
    """
    options = options_of(base)
    units = [(tag, _unit_data(project, tag)) for tag in project.unit]
    modules = {tag: _storage_data(project, tag) for tag, _ in units}
    plants = tuple(_unit(project, options, tag, data, modules[tag], candidate, assumptions) for tag, data in units)
    energy = sum(data.energy.value for _, data in units) + sum(found.energy.value for held in modules.values() for found in held)
    export = sum(data.ac_power.value for _, data in units)
    limit = project.service.export_limit if project.service is not None else None
    if limit is not None:
        export = min(export, limit.value)
    return Plant(
        plants,
        energy,
        sum(plant.usable_kwh for plant in plants),
        sum(_island(tag, data, assumptions) for tag, data in units),
        sum(_discharge(options, tag, data, modules[tag], assumptions) for tag, data in units),
        sum(plant.charge_w for plant in plants),
        sum(_standby(options, data, assumptions) for _, data in units),
        _summed([data.leg_current for _, data in units]),
        _start([data for _, data in units]),
        sum(watts for plant in plants for held in plant.inputs for _, watts in held),
        export,
        tuple(sorted(project.inverter, key=natural)),
        limit.value if limit is not None else None,
    )


def gamma_of(modules: Sequence[PvModule], assumptions: list[Assumption]) -> float:
    """Temperature coefficient of Pmax of an array's modules, in percent a kelvin; that of the first that states one."""
    known = [module.pmax_coefficient.value for module in modules if module.pmax_coefficient is not None]
    if modules and not known:
        _once(assumptions, Assumption("pmax_coefficient", f"{GAMMA:g} %/K", "not given by the PV modules (common practice, no source)"))
    return known[0] if known else GAMMA


def modules_of(project: Project) -> tuple[PvModule, ...]:
    """The PV modules of the strings that feed units, string by string."""
    found = [project.equipment[project.string[tag].module] for tag in unit_strings(project)]
    return tuple(module for module in found if isinstance(module, PvModule))


def _unit_data(project: Project, tag: str) -> UnitData:
    data = project.equipment[project.unit[tag].equipment]
    assert isinstance(data, UnitData)
    return data


def _storage_data(project: Project, unit: str) -> list[StorageData]:
    found = [project.equipment[item.equipment] for item in project.storage.values() if item.unit == unit]
    return [data for data in found if isinstance(data, StorageData)]


def _unit(project: Project, options: Options, tag: str, data: UnitData, modules: list[StorageData], candidate: Candidate, assumptions: list[Assumption]) -> UnitPlant:
    usable = _usable(data.usable_energy, data.energy, project.unit[tag].equipment, assumptions)
    usable += sum(_usable(found.usable_energy, found.energy, "storage module", assumptions) for found in modules)
    charge = data.charge_power.value
    if options.charge_limit != "unit only":
        charge += sum(found.charge_power.value for found in modules if found.charge_power is not None)
        if options.charge_limit is None and any(found.charge_power is not None for found in modules):
            _once(assumptions, Assumption("options.charge_limit", "modules add", "not given; the charge power of a storage module adds to that of its unit"))
    strings = _strings(project, tag)
    _limits_told(tag, data, bool(strings), assumptions)
    current = max((module.imp.value for module, _, _, _ in strings), default=0.0)
    inputs: dict[int, list[tuple[int, float]]] = {}
    for module, count, number, index in strings:
        inputs.setdefault(number, []).append((index, count * module.power.value))
    return UnitPlant(
        tag,
        data.ac_power.value,
        charge,
        usable,
        tuple(tuple(inputs[number]) for number in sorted(inputs)),
        data.mppt_current.value if data.mppt_current is not None else None,
        current,
        data.input_power_max.value if data.input_power_max is not None else None,
    )


def _limits_told(tag: str, data: UnitData, strings: bool, assumptions: list[Assumption]) -> None:
    """Say where no limit of the PV inputs is known."""
    if strings and data.mppt_current is None and data.input_power_max is None:
        _once(assumptions, Assumption(f"equipment of {tag}: mppt_current", "no limit", "not given; nothing is counted as lost at the PV inputs"))


def _strings(project: Project, unit: str) -> list[tuple[PvModule, int, int, int]]:
    """Module, count, input and place in the array of each string of a unit; the strings of a combiner share an input."""
    found = []
    shared: dict[str, int] = {}
    for index, tag in enumerate(unit_strings(project)):
        item = project.string[tag]
        module = project.equipment[item.module]
        if fed_by(project, item.to) != unit or not isinstance(module, PvModule):
            continue
        number = item.input or index + 1
        if item.to in project.combiner:
            number = shared.setdefault(item.to, number)
        found.append((module, item.count, number, index))
    return found


def _usable(usable: object, nominal: object, what: str, assumptions: list[Assumption]) -> float:
    if usable is not None:
        return usable.value  # type: ignore[attr-defined, no-any-return]
    _once(assumptions, Assumption(f"usable energy of {what}", "the nominal energy", "usable_energy not given; hours are overstated if less can be used"))
    return nominal.value  # type: ignore[attr-defined, no-any-return]


def _island(tag: str, data: UnitData, assumptions: list[Assumption]) -> float:
    if data.ac_power_island is not None:
        return data.ac_power_island.value
    if data.ac_current_island is not None:
        return data.ac_current_island.value * LINE_V
    _once(assumptions, Assumption(f"unit.{tag} island power", f"{data.ac_power.value:g} W", "ac_power_island not given; the export rating is taken"))
    return data.ac_power.value


def _discharge(options: Options, tag: str, data: UnitData, modules: list[StorageData], assumptions: list[Assumption]) -> float:
    """Continuous discharge at the AC side, within the unit's own rating; what modules give at their terminals is converted first."""
    own = data.discharge_power.value if data.discharge_power is not None else _island(tag, data, assumptions)
    if data.discharge_power is None:
        _once(assumptions, Assumption(f"unit.{tag} discharge power", f"{own:g} W", "discharge_power not given; the island rating is taken"))
    stated = options.efficiency.storage_to_ac
    converted = (stated.value if stated is not None else STORAGE_TO_AC) / 100.0
    for found in modules:
        if found.discharge_power is not None:
            own += found.discharge_power.value * (1.0 if found.power_at == "ac side" else converted)
            if found.power_at is None:
                _once(assumptions, Assumption("storage module power_at", "terminals", "not given; its discharge power counts less what conversion loses"))
    return min(own, _island(tag, data, assumptions))


def _standby(options: Options, data: UnitData, assumptions: list[Assumption]) -> float:
    if data.standby_power is not None:
        return data.standby_power.value
    if options.standby_power is not None:
        return options.standby_power.value
    _once(assumptions, Assumption("options.standby_power", f"{STANDBY_W:g} W a unit", "not given (common practice, no source)"))
    return STANDBY_W


def _summed(found: list[object]) -> float | None:
    values = [quantity.value for quantity in found if quantity is not None]  # type: ignore[attr-defined]
    return sum(values) if len(values) == len(found) else None


def _start(units: list[UnitData]) -> float | None:
    """Start current: of all units where every datasheet says that they add, else of the best one."""
    values = [data.start_current.value for data in units if data.start_current is not None]
    if len(values) != len(units):
        return None
    return sum(values) if all(data.start_currents_add == "yes" for data in units) else max(values)


def _once(assumptions: list[Assumption], found: Assumption) -> None:
    if found not in assumptions:
        assumptions.append(found)
