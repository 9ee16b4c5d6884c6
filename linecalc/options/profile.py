"""The backed-up load hour by hour: named loads with hours of use, or a file of hourly means."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from linecalc.calc.motor import locked_rotor_current
from linecalc.codebook import EDITIONS, open_book
from linecalc.errors import InputError, Problem
from linecalc.network.loads import load_current
from linecalc.network.records import Assumption
from linecalc.options.candidates import options_of
from linecalc.project import toml_text
from linecalc.project.model import Load, Project
from linecalc.project.options_model import Use
from linecalc.rules.motor_start import horsepower_of
from linecalc.term import value_of

SEASONS = ("winter", "spring", "summer", "fall")
HOURS = 24
LINE_V, LEG_V = 240.0, 120.0
MOST_W = 1e6
_COLUMNS = ("hour", "l1_w", "l2_w")
_MOTORS = ("motor", "motor-compressor", "heat pump")


@dataclass(frozen=True, slots=True)
class Appliance:
    """A named backed-up load while it runs: watts, amperes on each leg, and when.

    ``duty`` is the share of the time that it runs within its hours; ``start_a``
    the current of its start, None where it has none or it is not given.
    """

    name: str
    power_w: float
    leg_1_a: float
    leg_2_a: float
    duty: float
    hours: frozenset[int]
    seasons: frozenset[str]
    start_a: float | None
    managed: bool

    def runs(self, season: str, hour: int) -> bool:
        """Whether it may run in that hour."""
        return season in self.seasons and hour in self.hours


@dataclass(frozen=True, slots=True)
class Profile:
    """The whole backed-up load. ``peaks_known`` is false where a file gives hourly means only."""

    appliances: tuple[Appliance, ...]
    peaks_known: bool

    def mean_w(self, season: str, hour: int) -> float:
        """Mean power of that hour, managed loads included."""
        return sum(found.power_w * found.duty for found in self.appliances if found.runs(season, hour))

    def day_kwh(self, season: str) -> float:
        """Energy of a day, managed loads included."""
        return sum(self.mean_w(season, hour) for hour in range(HOURS)) / 1000.0

    def scaled(self, factor: float) -> Profile:
        """The same loads with their duty and power changed alike."""
        return replace(
            self,
            appliances=tuple(
                replace(found, power_w=found.power_w * factor, leg_1_a=found.leg_1_a * factor, leg_2_a=found.leg_2_a * factor) for found in self.appliances
            ),
        )


def profile_of(project: Project, folder: str, assumptions: list[Assumption]) -> Profile:
    """The backed-up load of a project.

    Parameters
    ----------
    folder : where ``load_file`` is looked for.

    Raises
    ------
    InputError
        A use names no load or states no power, or the file cannot be used.
    """
    options = options_of(project)
    found: list[Appliance] = [_appliance(project, name, use, assumptions) for name, use in options.use.items()]
    known = True
    if options.load_file is not None:
        rows = toml_text.load(Path(folder) / options.load_file)
        found += _from_file(rows.text, options.load_file, options.seasons or SEASONS)
        known = False
        assumptions.append(Assumption("options.load_file", "peaks not known", "hourly means hide short peaks; the peak is checked for named loads only"))
    if not found:
        found = _constant(project, assumptions)
    _starts_told(project, options.use, assumptions)
    return Profile(tuple(found), known)


def _starts_told(project: Project, uses: Mapping[str, Use], assumptions: list[Assumption]) -> None:
    """Name the uses without a start current, motors of unknown start apart."""
    loads = {name: _load_of(project, f"options.use.{name}", use) for name, use in uses.items()}
    open_ended = [name for name, use in uses.items() if use.start_current is None and _start(loads[name]) is None]
    driven = [name for name in open_ended if (load := loads[name]) is not None and load.inverter_driven]
    motors = [name for name in open_ended if (load := loads[name]) is not None and name not in driven and load.kind in _MOTORS]
    plain = [name for name in open_ended if name not in driven and name not in motors]
    if motors:
        assumptions.append(Assumption("options.use start_current", "not known", f"{', '.join(motors)}: the motor's start is not checked; give start_current, or lra, soft_start_current, hp and code_letter of the load"))
    if plain:
        assumptions.append(Assumption("options.use start_current", "none", f"not given for {', '.join(plain)}; taken as loads without a motor's start"))


def hours_of(spans: tuple[str, ...]) -> frozenset[int]:
    """The hours of the day in spans such as ``22-6``.

    Examples
    --------
    >>> sorted(hours_of(("22-1",)))
    [0, 22, 23]
    """
    hours: set[int] = set()
    for span in spans:
        first, last = (int(part) for part in span.split("-"))
        hours |= set(range(first, last)) if last > first else set(range(first, HOURS)) | set(range(last))
    return frozenset(hours)


def _appliance(project: Project, name: str, use: Use, assumptions: list[Assumption]) -> Appliance:
    path = f"options.use.{name}"
    power_w, amps, legs, start = _figures(project, path, use, assumptions)
    duty = 1.0
    if use.duty is not None:
        duty = use.duty.value / 100.0
    else:
        assumptions.append(Assumption(f"{path}.duty", "100 %", "not given; the whole of its hours"))
    seasons = frozenset(use.seasons or SEASONS)
    on_1, on_2 = legs in ("L1", "L1-L2"), legs in ("L2", "L1-L2")
    return Appliance(name, power_w, amps * on_1, amps * on_2, duty, hours_of(use.hours), seasons, start, use.managed)


def _figures(project: Project, path: str, use: Use, assumptions: list[Assumption]) -> tuple[float, float, str, float | None]:
    """Watts, amperes on its legs, legs, and start current of a use."""
    load = _load_of(project, path, use)
    factor = use.power_factor or (load.power_factor if load is not None else None)
    legs = use.legs or (load.legs if load is not None else None)
    if legs is None:
        legs = "L1-L2"
        if load is None or load.voltage is None:
            assumptions.append(Assumption(f"{path}.legs", legs, "not given; a 240 V load"))
    volts = LINE_V if legs == "L1-L2" else LEG_V
    start = use.start_current.value if use.start_current is not None else _start(load)
    if factor is None:
        factor = 1.0
        assumptions.append(Assumption(f"{path}.power_factor", "1.0", "not given; the most watts of its volt-amperes"))
    if use.power is not None:
        apparent = use.power.value if use.power.unit == "VA" else use.power.value / factor
        real = use.power.value * factor if use.power.unit == "VA" else use.power.value
        return real, apparent / volts, legs, start
    if load is None:
        raise InputError([Problem("states no power; give power, or load with the tag of a load", key=path)])
    amps = value_of(load_current(use.load or "", load, assumptions))
    return amps * volts * factor, amps, legs, start


def _load_of(project: Project, path: str, use: Use) -> Load | None:
    if use.load is None:
        return None
    if use.load not in project.load:
        known = ", ".join(project.load) or "none"
        raise InputError([Problem(f'"{use.load}" is not the tag of a load; there is {known}', key=f"{path}.load", found=use.load)])
    return project.load[use.load]


def _start(load: Load | None) -> float | None:
    """Start current by the load's own data, else by its code letter; an inverter-driven compressor has none.

    References
    ----------
    ``locked_rotor_letters``: Table 430.7(B), the same in every edition.
    """
    if load is None or load.inverter_driven:
        return None
    found = load.soft_start_current or load.lra
    if found is not None:
        return found.value
    kva = open_book(EDITIONS[-1]).locked_rotor_kva(load.code_letter) if load.code_letter is not None else None
    if kva is None or load.hp is None:
        return None
    volts = load.voltage.value if load.voltage is not None else LEG_V if load.legs in ("L1", "L2") else LINE_V
    return value_of(locked_rotor_current(kva, horsepower_of(load.hp), volts))


def _from_file(text: str, file: str, studied: tuple[str, ...]) -> list[Appliance]:
    """One appliance an hour, season and leg of a CSV file with the columns hour, l1_w, l2_w and perhaps season.

    Parameters
    ----------
    studied : the seasons that the study asks for; each of them needs every hour once.
    """
    reader = csv.DictReader(io.StringIO(text))
    if not set(_COLUMNS) <= set(reader.fieldnames or ()):
        raise InputError([Problem(f"needs the columns {', '.join(_COLUMNS)}, and season where seasons differ", file=file, line=1)])
    found: list[Appliance] = []
    given: list[tuple[str, int]] = []
    for line, row in enumerate(reader, start=2):
        hour, powers, seasons = _row(row, file, line)
        given += [(season, hour) for season in seasons]
        found += [
            Appliance(f"{file} L{leg}", power, power / LEG_V * (leg == 1), power / LEG_V * (leg == 2), 1.0, frozenset((hour,)), frozenset(seasons), None, False)
            for leg, power in enumerate(powers, start=1)
        ]
    if not found:
        raise InputError([Problem("holds no hours", file=file)])
    for season in studied:
        hours = sorted(hour for name, hour in given if name == season)
        wrong = next((hour for hour in range(HOURS) if hours.count(hour) != 1), None)
        if wrong is not None:
            raise InputError([Problem(f"gives hour {wrong} of {season} {hours.count(wrong)} times; every hour of a studied season stands once", file=file)])
    return found


def _row(row: dict[str, str], file: str, line: int) -> tuple[int, tuple[float, float], tuple[str, ...]]:
    """Hour, watts on each leg, and seasons of one line of a load file."""
    try:
        hour, powers = int(row["hour"]), (float(row["l1_w"]), float(row["l2_w"]))
    except (TypeError, ValueError):
        raise InputError([Problem("hour, l1_w and l2_w must be numbers", file=file, line=line)]) from None
    season = (row.get("season") or "").strip()
    if not 0 <= hour < HOURS or not all(0.0 <= power <= MOST_W for power in powers) or (season and season not in SEASONS):
        raise InputError([Problem(f"hours run from 0 to 23, powers are positive, seasons are {', '.join(SEASONS)}", file=file, line=line)])
    return hour, powers, (season,) if season else SEASONS


def _constant(project: Project, assumptions: list[Assumption]) -> list[Appliance]:
    """Without named loads: the runtime load, else the calculated load of the backed-up panels, all day."""
    everywhere = frozenset(range(HOURS)), frozenset(SEASONS)
    runtime = project.backup.runtime_load
    if runtime is not None:
        assumptions.append(Assumption("options.use", f"{runtime.as_written} all day", "no hours of use given; backup.runtime_load is taken"))
        amps = runtime.value / LINE_V
        return [Appliance("backup.runtime_load", runtime.value, amps, amps, 1.0, *everywhere, None, False)]
    backed = [(tag, load) for tag, load in project.load.items() if load.panel in project.panel and project.panel[load.panel].backup]
    if not backed:
        raise InputError([Problem("no backed-up load is known; give [options.use.NAME] with power and hours, or load_file", key="options.use")])
    found = []
    for tag, load in backed:
        amps = value_of(load_current(tag, load, assumptions))
        found.append(Appliance(tag, amps * LINE_V * (load.power_factor or 1.0), amps, amps, 1.0, *everywhere, _start(load), load.managed))
    assumptions.append(Assumption("options.use", "the calculated load all day", "no hours of use given; the worst case, hours are understated"))
    return found
