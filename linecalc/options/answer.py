"""The answer: what passes, the Pareto front, and the first choice."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.options.context import Settings
from linecalc.options.records import Plant, Result, Verdict

_EQUAL = 1e-9


@dataclass(frozen=True, slots=True)
class Measure:
    """What candidates are compared by: cost and space as little, hours as many, clipped energy as little as can be.

    Cost is the middle of its range less the value of the array's energy, or None where no price is known; then units,
    storage modules and PV modules stand for it. Space is the width of wall or floor in inches.
    """

    cost: float | None
    units: int
    storage_modules: int
    pv_modules: int
    hours: float
    clipped_percent: float
    space_in: float


@dataclass(frozen=True, slots=True)
class Answer:
    """The results sorted out. ``winner`` is None where nothing passes."""

    passing: tuple[Result, ...]
    unsettled: tuple[Result, ...]
    failing: tuple[Result, ...]
    front: tuple[Result, ...]
    winner: Result | None


def answer(results: tuple[Result, ...], settings: Settings) -> Answer:
    """Sort the results out."""
    groups = {verdict: tuple(found for found in results if found.verdict is verdict) for verdict in Verdict}
    front = pareto(groups[Verdict.PASSES], settings)
    winner = winner_of(groups[Verdict.PASSES], settings)
    return Answer(groups[Verdict.PASSES], groups[Verdict.UNSETTLED], groups[Verdict.FAILS], front, winner)


def measure(result: Result, settings: Settings) -> Measure:
    """What a result is compared by; hours with the storage aged."""
    candidate = result.candidate
    space = result.layout.taken_in if result.layout is not None else 0.0
    hours = result.least_hours(settings.sun) or 0.0
    cost = None if result.bill.middle is None else result.bill.middle - settings.value_of_kwh_a_year * used_a_year_kwh(result)
    return Measure(cost, candidate.units, candidate.storage_modules, candidate.array.count, hours, clipped_percent(result), space)


def clipped_percent(result: Result) -> float:
    """Share of the array's energy that is lost: over the year where weather is known, else over the days simulated."""
    whole = [found for found in result.lost if found.label == "year"] or list(result.lost)
    array = sum(found.array_kwh for found in whole)
    return 100.0 * sum(found.clipped_kwh for found in whole) / array if array > 0.0 else 0.0


def used_a_year_kwh(result: Result) -> float:
    """Array energy used in a year: by the weather file, else the days simulated (clear: best case) for 365 days."""
    year = [found for found in result.lost if found.label == "year"]
    if year:
        return year[0].used_kwh
    return 365.0 * sum(found.used_kwh for found in result.lost) / len(result.lost) if result.lost else 0.0


def pareto(results: tuple[Result, ...], settings: Settings) -> tuple[Result, ...]:
    """The results that no other one beats in one thing without being worse in another."""
    measured = [(found, _losses(measure(found, settings))) for found in results]
    return tuple(found for found, mine in measured if not any(_beats(theirs, mine) for _, theirs in measured))


def _losses(found: Measure) -> tuple[float, ...]:
    cost = (found.cost,) if found.cost is not None else (float(found.units), float(found.storage_modules), float(found.pv_modules))
    return (*cost, -found.hours, round(found.clipped_percent, 9), found.space_in)


def _beats(theirs: tuple[float, ...], mine: tuple[float, ...]) -> bool:
    if len(theirs) != len(mine):
        return False
    return all(a <= b + _EQUAL for a, b in zip(theirs, mine, strict=True)) and any(a < b - _EQUAL for a, b in zip(theirs, mine, strict=True))


def winner_of(results: tuple[Result, ...], settings: Settings) -> Result | None:
    """The cheapest of those that pass; with equal cost, more hours, then less clipped energy, then fewer parts.

    Without prices: fewest units, then storage modules; of these the array that loses least, then the larger one.
    """
    return min(results, key=lambda found: rank(found, settings), default=None)


def rank(result: Result, settings: Settings) -> tuple[float, ...]:
    """The order in which passing candidates are preferred, the first best; those without a price come after those with one."""
    found = measure(result, settings)
    if found.cost is not None:
        return (0, found.cost, -found.hours, found.clipped_percent, found.units, found.storage_modules, -found.pv_modules)
    return (1, found.units, found.storage_modules, round(found.clipped_percent, 6), -found.pv_modules, -found.hours)


def dc_ac(plant: Plant) -> float:
    """DC/AC ratio: array power at STC over the AC rating."""
    rating = sum(unit.ac_export_w for unit in plant.units)
    return plant.pv_dc_w / rating
