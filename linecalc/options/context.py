"""What is the same for every candidate: loads, days, places, limits of the study. Made once, read by every worker."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from linecalc.errors import InputError, Problem
from linecalc.network.records import Assumption
from linecalc.options.candidates import candidates_of, options_of
from linecalc.options.placement import Item, item_of
from linecalc.options.profile import SEASONS, Profile, profile_of
from linecalc.options.records import ArrayPlan, Candidate
from linecalc.project.equipment import StorageData, UnitData
from linecalc.project.model import Project
from linecalc.project.options_model import Options
from linecalc.variants import with_values

if TYPE_CHECKING:
    from linecalc.options.coupled import Coupled
    from linecalc.options.sun import Day, Plane, Year

OUTAGE_H = 24.0
STARTING, RESERVE, RESTART, AGED = 100.0, 0.0, 10.0, 70.0
PV_TO_AC, PV_TO_STORAGE, STORAGE_TO_AC, AC_TO_STORAGE = 97.0, 97.0, 95.0, 95.0
LOSSES = 14.0
YEARS = 10.0
YEAR_HOURS = 8760
AIR_C = (0.0, 35.0)


@dataclass(frozen=True, slots=True)
class Settings:
    """Limits of the outage and efficiencies, as fractions; hours for lengths of outages."""

    outages_h: tuple[float, ...]
    asked_h: float | None
    sun: str
    starting: float
    reserve: float
    restart: float
    aged: float
    pv_to_ac: float
    pv_to_storage: float
    storage_to_ac: float
    ac_to_storage: float
    losses_percent: float
    value_of_kwh_a_year: float

    @property
    def horizon_h(self) -> float:
        """The longest outage that is simulated."""
        return max(self.outages_h)


@dataclass(frozen=True, slots=True)
class Context:
    """Everything shared. ``folder`` is where files named by the project are looked for."""

    base: Project
    options: Options
    candidates: tuple[Candidate, ...]
    profile: Profile
    seasons: tuple[str, ...]
    days: tuple[Day, ...]
    year: Year | None
    coupled: tuple[Coupled, ...]
    settings: Settings
    unit_item: Item | None
    module_item: Item | None
    place_needs: tuple[str, ...]
    assumptions: tuple[Assumption, ...]

    def suns(self) -> tuple[str, ...]:
        """The kinds of days that are simulated."""
        return tuple(dict.fromkeys(day.sun for day in self.days))


def context_of(project: Project, folder: str) -> Context:
    """Read and settle everything that the candidates share.

    Raises
    ------
    InputError
        Something named by the options is missing or wrong, or the extra libraries are not installed.
    """
    require_libraries()

    assumptions: list[Assumption] = []
    options = options_of(project)
    base = _with_temperatures(project, options, folder, assumptions)
    candidates = candidates_of(base, assumptions)
    profile = profile_of(base, folder, assumptions)
    seasons = options.seasons or SEASONS
    coupled = _coupled(base, options, assumptions)
    planes = tuple(dict.fromkeys((*_planes(candidates), *(plane for found in coupled for plane in found.planes()))))
    days, year = _days(base, options, folder, seasons, planes, assumptions)
    settings = _settings(options, tuple(dict.fromkeys(day.sun for day in days)), any(found.inside for found in coupled), assumptions)
    _told(options, candidates, planes, assumptions)
    needs: list[str] = []
    unit_item, module_item = _items(base, options, needs) if options.place else (None, None)
    if not options.place:
        assumptions.append(Assumption("options.place", "not checked", "no wall or floor given; whether it fits is not known"))
    return Context(base, options, candidates, profile, seasons, days, year, coupled, settings, unit_item, module_item, tuple(needs), tuple(assumptions))


def require_libraries() -> None:
    """Refuse with the command to install where numpy or pvlib is not there.

    Raises
    ------
    InputError
        One of them is missing.
    """
    from importlib.util import find_spec

    missing = [name for name in ("numpy", "pandas", "pvlib") if find_spec(name) is None]
    if missing:
        raise InputError([Problem(f"the study of options needs {', '.join(missing)}; install them with: pip install 'linecalc[options]'")])


def _with_temperatures(project: Project, options: Options, folder: str, assumptions: list[Assumption]) -> Project:
    """Site temperatures that are not given are taken from the design conditions of an EPW file."""
    if options.weather is None or not options.weather.lower().endswith(".epw"):
        return project
    from linecalc.options.weather import design_temperatures

    found = design_temperatures(Path(folder) / options.weather)
    if found is None:
        why = f"the header of {options.weather} holds no design conditions in a known order"
        missing = [key for key in ("low_temperature", "high_temperature") if getattr(project.site, key) is None]
        assumptions.extend(Assumption(f"site.{key}", "not given", why) for key in missing)
        return project
    settings = []
    for key, value_c, name in (("low_temperature", found.low_c, found.low_name), ("high_temperature", found.high_c, found.high_name)):
        if getattr(project.site, key) is None:
            settings.append((f"site.{key}", {"value": f"{value_c:g} degC", "basis": "computed", "source": f"{name}, {found.source}"}))
            assumptions.append(Assumption(f"site.{key}", f"{value_c:g} degC", f"{name}, {found.source}"))
    return with_values(project, settings) if settings else project


def _coupled(base: Project, options: Options, assumptions: list[Assumption]) -> tuple[Coupled, ...]:
    from linecalc.options.coupled import coupled_of

    otherwise = options.efficiency.pv_to_ac
    return coupled_of(base, otherwise.value if otherwise is not None else PV_TO_AC, assumptions)


def _told(options: Options, candidates: tuple[Candidate, ...], planes: tuple[Plane, ...], assumptions: list[Assumption]) -> None:
    """What the study leaves out, said wherever it applies."""
    if any(candidate.units > 1 for candidate in candidates):
        assumptions.append(Assumption("several units", "one state of charge", "in an outage they are taken to share load and array so that their storages stand alike; a unit that is empty first ends it earlier"))
    if not options.derate:
        assumptions.append(Assumption("options.derate", "none", "not given; the storage gives and takes its full power at any temperature"))
    if planes and any(found.value > 24.0 * 3600.0 for found in options.outages):
        assumptions.append(Assumption("options.outages", "the same day", "longer than a day; the day that is studied repeats"))
    if planes:
        assumptions.append(Assumption("options.use", "the only load", "on days with the utility no other load of the house is known; energy that it would use counts as exported or lost"))


def _planes(candidates: tuple[Candidate, ...]) -> tuple[Plane, ...]:
    arrays: dict[ArrayPlan, None] = dict.fromkeys(candidate.array for candidate in candidates)
    return tuple(dict.fromkeys(plane for array in arrays for plane in zip(array.tilt_deg, array.azimuth_deg, strict=True)))


def _days(
    base: Project, options: Options, folder: str, seasons: tuple[str, ...], planes: tuple[Plane, ...], assumptions: list[Assumption]
) -> tuple[tuple[Day, ...], Year | None]:
    from linecalc.options import sun

    if options.weather is not None:
        from linecalc.options.weather import read_weather

        weather = read_weather(Path(folder) / options.weather, options.latitude, assumptions)
        year = sun.year_of(weather, planes)
        found = tuple(day for season in seasons for day in sun.season_days(weather, year, season))
        dark = tuple(sun.no_sun(day.season, day.air_c) for day in found if day.sun == sun.P10)
        if not planes:
            return dark, None
        if len(year.hour) < YEAR_HOURS:
            assumptions.append(Assumption("options.weather", f"{len(year.hour) // 24} days", "shorter than a year: energy of a year is that of the days studied"))
            return (*dark, *found), None
        return (*dark, *found), year
    air = _air_c(base, options, assumptions)
    dark = tuple(sun.no_sun(season, air[season]) for season in seasons)
    if not planes:
        return dark, None
    if options.latitude is None:
        assumptions.append(Assumption("options.latitude", "no sun", "neither latitude nor weather given; only outages without sun are simulated"))
        return dark, None
    assumptions.append(Assumption("options.weather", "clear sky", f"no weather file; a cloudless day of each season at {options.latitude:g} deg in solar time, best case"))
    return (*dark, *(sun.clear_day(season, options.latitude, planes, air[season]) for season in seasons)), None


def _air_c(base: Project, options: Options, assumptions: list[Assumption]) -> dict[str, float]:
    """Air temperature of a day without weather file by season: the site's design temperatures and the middle between them."""
    given = {"low": base.site.low_temperature, "high": base.site.high_temperature}
    low, high = (quantity.value if quantity is not None else otherwise for quantity, otherwise in zip(given.values(), AIR_C, strict=True))
    middle = (low + high) / 2.0
    guessed = [f"{name} temperature not given" for name, quantity in given.items() if quantity is None]
    if options.latitude is not None or options.derate:
        why = "; ".join(["no weather file; constant over a day", "by the site's design temperatures", *guessed])
        assumptions.append(Assumption("air temperature", f"winter {low:g}, spring and fall {middle:g}, summer {high:g} degC", why))
    return {"winter": low, "spring": middle, "summer": high, "fall": middle}


def _settings(options: Options, suns: tuple[str, ...], coupled: bool, assumptions: list[Assumption]) -> Settings:
    def taken(key: str, given: object, otherwise: float, why: str) -> float:
        if given is not None:
            return given.value / 100.0  # type: ignore[attr-defined, no-any-return]
        assumptions.append(Assumption(f"options.{key}", f"{otherwise:g} %", f"not given; {why}"))
        return otherwise / 100.0

    path = options.efficiency
    outages = tuple(sorted(found.value / 3600.0 for found in options.outages))
    if not outages:
        assumptions.append(Assumption("options.outages", f"{OUTAGE_H:g} h", "not given; simulated for a day, no length is asked for"))
    if outages and outages[-1] > 24.0 * 30:
        raise InputError([Problem("outages of more than 30 days are not simulated", key="options.outages")])
    return Settings(
        outages or (OUTAGE_H,),
        options.outages[0].value / 3600.0 if options.outages else None,
        _ranking_sun(options, suns, assumptions),
        taken("starting_charge", options.starting_charge, STARTING, "the storage is full when the outage begins"),
        taken("reserve", options.reserve, RESERVE, "all usable energy may be taken"),
        taken("restart", options.restart, RESTART, "share of usable energy at which units start again (common practice, no source)"),
        taken("aged", options.aged, AGED, "energy left at the end of the storage's life (common practice, no source)"),
        taken("efficiency.pv_to_ac", path.pv_to_ac, PV_TO_AC, "array to AC (common practice, no source)"),
        taken("efficiency.pv_to_storage", path.pv_to_storage, PV_TO_STORAGE, "array to storage (common practice, no source)"),
        taken("efficiency.storage_to_ac", path.storage_to_ac, STORAGE_TO_AC, "storage to AC (common practice, no source)"),
        taken("efficiency.ac_to_storage", path.ac_to_storage, AC_TO_STORAGE, "AC to storage, for PV inverters beside the units (common practice, no source)") if coupled else 1.0,
        100.0 * taken("array_losses", options.array_losses, LOSSES, "default of PVWatts (NREL/TP-6A20-62641), without its reflection at the glass (about 2 % of a year)"),
        _value(options, assumptions),
    )


def _value(options: Options, assumptions: list[Assumption]) -> float:
    """What a kilowatt-hour used each year is worth over the years counted; 0 where no value is given."""
    if options.energy_value is None:
        assumptions.append(Assumption("options.energy_value", "0", "not given; candidates are ranked by their cost alone, which favours small arrays"))
        return 0.0
    if options.years is None:
        assumptions.append(Assumption("options.years", f"{YEARS:g}", "not given (common practice, no source)"))
    return options.energy_value * (options.years or YEARS)


def _ranking_sun(options: Options, suns: tuple[str, ...], assumptions: list[Assumption]) -> str:
    if options.sun is None:
        assumptions.append(Assumption("options.sun", "none", "not given; hours are ranked without sun"))
        return "none"
    if options.sun not in suns:
        raise InputError([Problem(f'sun = "{options.sun}" needs a weather file', key="options.sun", found=options.sun)])
    return options.sun


def _items(base: Project, options: Options, needs: list[str]) -> tuple[Item | None, Item | None]:
    """The boxes of the unit and of the storage module that are placed."""
    tag = next(iter(base.unit.values())).equipment
    data = base.equipment[tag]
    unit = item_of("unit", data, needs, f"equipment.{tag}") if isinstance(data, UnitData) else None
    name = options.storage_module.equipment if options.storage_module is not None else next((item.equipment for item in base.storage.values()), None)
    if name is None:
        return unit, None
    stored = base.equipment.get(name)
    if not isinstance(stored, StorageData):
        raise InputError([Problem(f'"{name}" is not equipment of kind "storage module"', key="options.storage_module.equipment", found=name)])
    return unit, item_of("module", stored, needs, f"equipment.{name}")
