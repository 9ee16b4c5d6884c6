"""The answer: what passes, the Pareto front, the winner, and in plain words what each step buys."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.options.context import Context, Settings
from linecalc.options.records import Electrical, Plant, Result, Verdict

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
    words: tuple[str, ...]


def answer(context: Context, results: tuple[Result, ...], settings: Settings) -> Answer:
    """Sort the results out and say what each step buys."""
    groups = {verdict: tuple(found for found in results if found.verdict is verdict) for verdict in Verdict}
    front = pareto(groups[Verdict.PASSES], settings)
    winner = winner_of(groups[Verdict.PASSES], settings)
    words = _words(context, results, settings, winner)
    return Answer(groups[Verdict.PASSES], groups[Verdict.UNSETTLED], groups[Verdict.FAILS], front, winner, words)


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
    """The order in which passing candidates are preferred, the first best."""
    found = measure(result, settings)
    if found.cost is not None:
        return (found.cost, -found.hours, found.clipped_percent, found.units, found.storage_modules, -found.pv_modules)
    return (found.units, found.storage_modules, round(found.clipped_percent, 6), -found.pv_modules, -found.hours)


def _words(context: Context, results: tuple[Result, ...], settings: Settings, winner: Result | None) -> tuple[str, ...]:
    known = {found.candidate.name: found for found in results if found.plant is not None and found.power}
    if winner is None:
        least = min((found for found in results if found.plant is not None), key=lambda found: len(found.reasons), default=None)
        nearest = f"; nearest is {least.candidate.name}: {least.reasons[0].text if least.reasons else least.unsettled[0].text}" if least is not None else ""
        return (f"No candidate passes everything{nearest}.",)
    lines = [_winner_words(context, winner, settings)]
    for other, step in _neighbours(known, winner):
        lines.append(_step_words(context, winner, other, step, settings))
    return tuple(lines)


def _winner_words(context: Context, winner: Result, settings: Settings) -> str:
    plant, name = _plant(winner), winner.candidate
    asked = f" of the {settings.asked_h:g} h asked" if settings.asked_h is not None else ""
    cost = _money(context, winner)
    text = (
        f"{name.name}: {count(name.units, 'unit')}, {count(name.storage_modules, 'storage module')}, {name.array.count} PV modules "
        f"({plant.pv_dc_w / 1000:.2f} kW, DC/AC {dc_ac(plant):.2f}){cost}. Carries {least_words(winner, settings)}{asked}."
    )
    return f"{text} {_peak_words(winner, plant)}"


def _peak_words(result: Result, plant: Plant) -> str:
    worst = max(result.power, key=lambda found: found.peak_w)
    return f"Continuous backup {plant.firm_w / 1000:.1f} kW without sun; the load peaks at {worst.peak_w / 1000:.1f} kW ({worst.season}, hour {worst.hour})."


def least_words(result: Result, settings: Settings) -> str:
    """Least hours carried, with `or more` where the simulated outage ends first."""
    least = result.least_hours(settings.sun) or 0.0
    return f"{least:.1f} h{' or more' if least >= settings.horizon_h - _EQUAL else ''}"


def _neighbours(known: dict[str, Result], winner: Result) -> list[tuple[Result, str]]:
    """The candidates one step away from the winner: a unit, a storage module or an array more or less."""
    found = []
    mine = winner.candidate
    for result in known.values():
        other = result.candidate
        units, modules = other.units - mine.units, other.storage_modules - mine.storage_modules
        if other.array == mine.array and (units, modules) in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            kind = "unit" if units else "storage module"
            found.append((result, f"One {kind} {'more' if units + modules > 0 else 'less'}"))
        elif other.array != mine.array and (units, modules) == (0, 0):
            found.append((result, f"Array {other.array.name} ({other.array.count} PV modules) instead of {mine.array.name} ({mine.array.count})"))
    swaps = [result for result in known.values() if result.candidate.array == mine.array and result.candidate.units == mine.units + 1 and result.candidate.storage_modules == mine.storage_modules - 1]
    return found + [(result, "A second unit in place of one storage module" if mine.units == 1 else "A further unit in place of one storage module") for result in swaps]


def _step_words(context: Context, winner: Result, other: Result, step: str, settings: Settings) -> str:
    """One step in words: power, energy, clipping, cost, circuits, and whether it passes."""
    now, then = _plant(winner), _plant(other)
    parts = []
    if abs(then.firm_w - now.firm_w) > 0.5:
        verb = "raises" if then.firm_w > now.firm_w else "lowers"
        parts.append(f"{verb} continuous backup from {now.firm_w / 1000:.1f} to {then.firm_w / 1000:.1f} kW{_power_matters(winner, other)}")
    if abs(then.usable_kwh - now.usable_kwh) > _EQUAL:
        parts.append(f"usable energy from {now.usable_kwh:.1f} to {then.usable_kwh:.1f} kWh, hours carried from {least_words(winner, settings)} to {least_words(other, settings)}")
    mine, theirs = clipped_percent(winner), clipped_percent(other)
    if winner.candidate.array != other.candidate.array:
        more = used_a_year_kwh(other) - used_a_year_kwh(winner)
        worth = f", worth {settings.value_of_kwh_a_year * more:+,.0f} {context.options.currency}" if settings.value_of_kwh_a_year else ""
        parts.append(f"{more:+,.0f} kWh of the array used in a year{worth}")
    if abs(theirs - mine) > 0.05:
        parts.append(f"lost energy from {mine:.1f} to {theirs:.1f} %")
    if winner.bill.middle is not None and other.bill.middle is not None:
        parts.append(f"cost {other.bill.middle - winner.bill.middle:+,.0f} {context.options.currency}")
    parts += _circuit_words(winner.electrical, other.electrical)
    verdict = f"fails: {other.reasons[0].text}" if other.reasons else f"not settled: {other.unsettled[0].text}" if other.unsettled else "passes too"
    return f"{step} ({other.candidate.name}): {'; '.join(parts) or 'changes nothing that was computed'}; {verdict}."


def _power_matters(winner: Result, other: Result) -> str:
    peak = max(found.peak_w for found in winner.power) / 1000
    if all(found.carried for found in winner.power) and all(found.carried for found in other.power):
        return f", but the load peaks at {peak:.1f} kW, so only energy counts"
    return f"; the load peaks at {peak:.1f} kW"


def _circuit_words(now: Electrical | None, then: Electrical | None) -> list[str]:
    """New circuits, changed devices and conductors, and what the buses still take."""
    if now is None or then is None:
        return []
    before, after = {found.tag: found for found in now.circuits}, {found.tag: found for found in then.circuits}
    added = [f"{tag} {after[tag].ends}, {after[tag].conductor}" for tag in after if tag not in before]
    changed = [
        f"{tag} {_device(before[tag].device_a)} {before[tag].conductor} becomes {_device(after[tag].device_a)} {after[tag].conductor}"
        for tag in after
        if tag in before and (before[tag].device_a, before[tag].conductor) != (after[tag].device_a, after[tag].conductor)
    ]
    left = {found.tag: found.left_a for found in now.buses}
    buses = [
        f"bus {found.tag} keeps {found.left_a:.0f} A for further sources (now {left[found.tag]:.0f} A)"
        for found in then.buses
        if found.left_a is not None and left.get(found.tag) is not None and abs(found.left_a - left[found.tag]) > _EQUAL
    ]
    return ([f"new circuits: {', '.join(added)}"] if added else []) + ([f"changed: {', '.join(changed)}"] if changed else []) + buses


def _device(amps: float | None) -> str:
    return f"{amps:g} A" if amps is not None else "no device"


def _plant(result: Result) -> Plant:
    assert result.plant is not None
    return result.plant


def dc_ac(plant: Plant) -> float:
    """DC/AC ratio: array power at STC over the AC rating."""
    rating = sum(unit.ac_export_w for unit in plant.units)
    return plant.pv_dc_w / rating


def count(number: int, word: str) -> str:
    """``2 units``."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def _money(context: Context, result: Result) -> str:
    bill = result.bill
    if bill.low is None or bill.high is None:
        return f", cost unknown (no price of {', '.join(bill.unpriced)})"
    exact = f"{bill.low:,.0f}" if bill.low == bill.high else f"{bill.low:,.0f} to {bill.high:,.0f}"
    return f", {exact} {context.options.currency}"
