"""In plain words what each step away from the first choice buys: power, energy, hours, money, circuits."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.options.answer import clipped_percent, dc_ac, rank, used_a_year_kwh
from linecalc.options.context import Context, Settings
from linecalc.options.differences import bus_pairs, circuit_changes, device_text
from linecalc.options.figures import hour_span
from linecalc.options.records import Plant, Result

MOST_ARRAYS = 4
_TINY = 1e-9


@dataclass(frozen=True, slots=True)
class _Module:
    """What a storage module buys beside the first choice: usable energy, money, whether a circuit is new."""

    kwh: float
    cost: float | None
    circuits: bool
    further: bool


def step_words(context: Context, results: tuple[Result, ...], settings: Settings, winner: Result | None) -> tuple[str, ...]:
    """The first choice, and each candidate that is one step away from it."""
    known = tuple(found for found in results if found.plant is not None and found.power)
    if winner is None:
        return (_nothing_passes(results),)
    module = _module(known, winner)
    return (_winner_words(context, winner, settings), *(_step(context, settings, winner, other, lead, module) for other, lead in _neighbours(known, winner, settings)))


def count(number: int, word: str) -> str:
    """``2 units``."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def least_words(result: Result, settings: Settings) -> str:
    """Least hours carried, with `or more` where the simulated outage ends first."""
    least = result.least_hours(settings.sun) or 0.0
    return f"{least:.1f} h{' or more' if least >= settings.horizon_h - _TINY else ''}"


def _nothing_passes(results: tuple[Result, ...]) -> str:
    tried = [found for found in results if found.plant is not None]
    least = min(tried or results, key=lambda found: (len(found.reasons), len(found.unsettled)), default=None)
    if least is None:
        return "No candidate passes everything."
    first = next(iter((*least.reasons, *least.unsettled)), None)
    return f"No candidate passes everything; nearest is {least.candidate.name}{f': {first.text}' if first is not None else ''}."


def _winner_words(context: Context, winner: Result, settings: Settings) -> str:
    plant, found = _plant(winner), winner.candidate
    worst = max(winner.power, key=lambda check: check.peak_w)
    asked = f"; {settings.asked_h:g} h are asked" if settings.asked_h is not None else ""
    return (
        f"{found.name}: {count(found.units, 'unit')}, {count(found.storage_modules, 'storage module')}, {count(found.array.count, 'PV module')} "
        f"({plant.pv_dc_w / 1000:.2f} kW, DC/AC {dc_ac(plant):.2f}){_money(context, winner)}. It carries {least_words(winner, settings)}{asked}. "
        f"Continuous backup without sun is {plant.firm_w / 1000:.1f} kW; the load peaks at {worst.peak_w / 1000:.1f} kW ({worst.season}, {hour_span(worst.hour)})."
    )


def _neighbours(known: tuple[Result, ...], winner: Result, settings: Settings) -> list[tuple[Result, str]]:
    """The candidates one step away: a unit, a storage module or an array more or less, a unit in place of a module."""
    mine = winner.candidate
    found: list[tuple[Result, str]] = []
    for result in known:
        other = result.candidate
        units, modules = other.units - mine.units, other.storage_modules - mine.storage_modules
        if other.array != mine.array:
            continue
        if (units, modules) in ((1, 0), (-1, 0)):
            found.append((result, _ordinal(other.units) if units > 0 else "One unit less"))
        elif (units, modules) in ((0, 1), (0, -1)):
            found.append((result, "One storage module more" if modules > 0 else "One storage module less"))
        elif (units, modules) == (1, -1):
            found.append((result, f"{_ordinal(other.units)} in place of one storage module"))
    return found + [(result, _other_array(result, winner)) for result in _arrays(known, winner, settings)]


def _arrays(known: tuple[Result, ...], winner: Result, settings: Settings) -> list[Result]:
    """The same units and storage modules with the arrays nearest in size, the best of each size; a few of them."""
    mine = winner.candidate
    others = [found for found in known if (found.candidate.units, found.candidate.modules) == (mine.units, mine.modules) and found.candidate.array != mine.array]
    sizes: dict[int, Result] = {}
    for result in sorted(others, key=lambda found: rank(found, settings)):
        sizes.setdefault(result.candidate.array.count, result)
    return [sizes[size] for size in sorted(sizes, key=lambda size: (abs(size - mine.array.count), size))[:MOST_ARRAYS]]


def _other_array(result: Result, winner: Result) -> str:
    new, old = (f"{found.candidate.array.name} ({found.candidate.array.count} modules, {_plant(found).pv_dc_w / 1000.0:.2f} kW)" for found in (result, winner))
    return f"Array {new} instead of {old}"


def _ordinal(units: int) -> str:
    return {2: "A second unit", 3: "A third unit", 4: "A fourth unit"}.get(units, "One unit more")


def _module(known: tuple[Result, ...], winner: Result) -> _Module | None:
    """A storage module more than the first choice has, or the last one that it has."""
    by_size = {found.candidate.storage_modules - winner.candidate.storage_modules: found for found in known if (found.candidate.units, found.candidate.array) == (winner.candidate.units, winner.candidate.array)}
    pair = (winner, by_size[1]) if 1 in by_size else (by_size[-1], winner) if -1 in by_size else None
    if pair is None:
        return None
    now, then = pair
    cost = then.bill.middle - now.bill.middle if then.bill.middle is not None and now.bill.middle is not None else None
    return _Module(_plant(then).usable_kwh - _plant(now).usable_kwh, cost, bool(circuit_changes(now.electrical, then.electrical)[0]), 1 in by_size)


def _step(context: Context, settings: Settings, winner: Result, other: Result, lead: str, module: _Module | None) -> str:
    """One step: sentences on power, energy, array, money and circuits, then whether it passes."""
    parts = [
        _power(context, winner, other, module), _energy(winner, other, settings), _array(context, winner, other, settings), *_circuits(winner, other)
    ]
    said = "; ".join(part for part in parts if part) or "changes nothing that was computed"
    verdict = f"Fails: {other.reasons[0].text}" if other.reasons else f"Not settled: {other.unsettled[0].text}" if other.unsettled else "Passes too"
    return f"{lead} ({other.candidate.name}): {said}. {verdict}."


def _power(context: Context, winner: Result, other: Result, module: _Module | None) -> str:
    now, then = _plant(winner), _plant(other)
    if abs(then.firm_w - now.firm_w) <= 0.5:
        return ""
    verb = "raises" if then.firm_w > now.firm_w else "lowers"
    text = f"{verb} continuous backup from {now.firm_w / 1000:.1f} to {then.firm_w / 1000:.1f} kW; the load peaks at {max(found.peak_w for found in winner.power) / 1000:.1f} kW"
    if all(found.carried for found in (*winner.power, *other.power)):
        return f"{text}, so only its energy helps{_instead(context, winner, other, module)}"
    if then.firm_w < now.firm_w:
        return f"{text}, which that does not carry: the outage ends at once, however large the storage"
    return text


def _instead(context: Context, winner: Result, other: Result, module: _Module | None) -> str:
    """The same energy by storage modules."""
    more = _plant(other).usable_kwh - _plant(winner).usable_kwh
    cost = other.bill.middle - winner.bill.middle if other.bill.middle is not None and winner.bill.middle is not None else None
    if module is None or module.cost is None or cost is None or module.kwh <= 0.0:
        return ""
    currency = context.options.currency
    circuit = "" if module.circuits or not circuit_changes(winner.electrical, other.electrical)[0] else " and needs no new circuit"
    if more <= _TINY:
        return f": a storage module gives the same {module.kwh:.1f} kWh for {cost:,.0f} {currency} less{circuit}" if cost > 0.0 else ""
    for_unit, for_module = cost / more, module.cost / module.kwh
    less = "for less" if for_module < for_unit else "for more"
    figures = f"({for_module:,.0f} instead of {for_unit:,.0f} {currency} a usable kWh)"
    if not module.further:
        return f": a storage module gives energy {less} {figures}{circuit}, but no further one can be added"
    return f": a storage module gives energy {less} {figures}{circuit}"


def _energy(winner: Result, other: Result, settings: Settings) -> str:
    now, then = _plant(winner).usable_kwh, _plant(other).usable_kwh
    hours = least_words(winner, settings), least_words(other, settings)
    if abs(then - now) > _TINY:
        return f"usable energy {now:.1f} to {then:.1f} kWh, hours carried {hours[0]} to {hours[1]}"
    if hours[0] == hours[1]:
        return ""
    draw = " by the standby draw of one unit more" if other.candidate.units > winner.candidate.units and (other.least_hours(settings.sun) or 0.0) < (winner.least_hours(settings.sun) or 0.0) else ""
    return f"hours carried {hours[0]} to {hours[1]}{draw}"


def _array(context: Context, winner: Result, other: Result, settings: Settings) -> str:
    mine, theirs = clipped_percent(winner), clipped_percent(other)
    lost = f"lost energy {mine:.1f} to {theirs:.1f} %" if abs(theirs - mine) > 0.05 else ""
    if winner.candidate.array == other.candidate.array:
        return "; ".join(part for part in (lost, _cost(context, winner, other)) if part)
    more = used_a_year_kwh(other) - used_a_year_kwh(winner)
    text = f"{abs(more):,.0f} kWh {'more' if more >= 0.0 else 'less'} of its energy used in a year"
    cost, worth = _cost(context, winner, other), settings.value_of_kwh_a_year * more
    if worth and winner.bill.middle is not None and other.bill.middle is not None:
        dearer = other.bill.middle - winner.bill.middle - worth
        currency = context.options.currency
        text += f", worth {abs(worth):,.0f} {currency} over the years counted; {cost}: {abs(dearer):,.0f} {currency} {'worse' if dearer > 0.0 else 'better'} in all"
        cost = ""
    return "; ".join(part for part in (text, lost, cost) if part)


def _cost(context: Context, winner: Result, other: Result) -> str:
    if winner.bill.middle is None or other.bill.middle is None:
        return ""
    more = other.bill.middle - winner.bill.middle
    if abs(more) < 0.5:
        return "costs the same"
    return f"costs {abs(more):,.0f} {context.options.currency} {'more' if more > 0.0 else 'less'}"


def _circuits(winner: Result, other: Result) -> list[str]:
    """New circuits, changed devices and conductors, and what the buses still take."""
    added, changed = circuit_changes(winner.electrical, other.electrical)
    new = ", ".join(f"{found.tag} {found.ends}, {found.conductor}" for found in added)
    grown = ", ".join(f"{old.tag} {device_text(old.device_a)} {old.conductor} becomes {device_text(found.device_a)} {found.conductor}" for old, found in changed)
    buses = [
        f"bus {old.tag} has {found.left_a:.0f} A left for sources (now {old.left_a:.0f} A)"
        for old, found in bus_pairs(winner.electrical, other.electrical)
        if found.left_a is not None and old.left_a is not None and abs(found.left_a - old.left_a) > _TINY
    ]
    return [f"new circuit{'s' if len(added) > 1 else ''}: {new}"] * bool(added) + [f"changed: {grown}"] * bool(changed) + buses


def _plant(result: Result) -> Plant:
    assert result.plant is not None
    return result.plant


def _money(context: Context, result: Result) -> str:
    bill = result.bill
    if bill.low is None or bill.high is None:
        return f", cost unknown (no price of {', '.join(bill.unpriced)})"
    exact = f"{bill.low:,.0f}" if bill.low == bill.high else f"{bill.low:,.0f} to {bill.high:,.0f}"
    return f", {exact} {context.options.currency}"
