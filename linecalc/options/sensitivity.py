"""Which assumption changes the winner. Where a length or price within its range changes it, the answer is undecided."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.errors import LinecalcError
from linecalc.options.answer import winner_of
from linecalc.options.build import Built, candidate_project
from linecalc.options.context import Context, Settings
from linecalc.options.electrical import electrical
from linecalc.options.profile import Profile
from linecalc.options.records import Bill, Result, Verdict
from linecalc.options.run import Answered, results_of
from linecalc.variants import with_values

MOST_BUILT = 400


@dataclass(frozen=True, slots=True)
class Turn:
    """One assumption moved: what, to what, and the winner then. ``decides`` marks a stated range that changes the winner."""

    what: str
    moved: str
    winner: str
    changed: bool
    decides: bool


def turns(answered: Answered, winner: Result | None) -> tuple[Turn, ...]:
    """Move every assumption that matters to energy, then prices and lengths within their ranges."""
    name = winner.candidate.name if winner is not None else "none"
    found = [*_energy_turns(answered, name), *_price_turns(answered, name)]
    if winner is not None:
        found += _length_turns(answered, winner)
    return tuple(found)


def undecided(found: tuple[Turn, ...]) -> tuple[Turn, ...]:
    """The stated ranges that change the winner."""
    return tuple(turn for turn in found if turn.changed and turn.decides)


def _moves(settings: Settings, profile: Profile) -> list[tuple[str, str, Settings, Profile]]:
    """Assumptions one at a time, each to a plausible other value."""
    lower = [("load", "20 % less", settings, profile.scaled(0.8)), ("load", "20 % more", settings, profile.scaled(1.2))]
    moved = [
        ("aged", "100 % (new storage)", replace(settings, aged=1.0)),
        ("aged", f"{80.0 * settings.aged:.0f} %", replace(settings, aged=0.8 * settings.aged)),
        ("starting_charge", f"{75.0 * settings.starting:.0f} %", replace(settings, starting=0.75 * settings.starting)),
        ("reserve", f"{100.0 * min(settings.reserve + 0.2, 0.9):.0f} %", replace(settings, reserve=min(settings.reserve + 0.2, 0.9))),
        ("efficiency.storage_to_ac", f"{90.0 * settings.storage_to_ac:.0f} %", replace(settings, storage_to_ac=0.9 * settings.storage_to_ac)),
    ]
    return lower + [(what, to, other, profile) for what, to, other in moved]


def _energy_turns(answered: Answered, name: str) -> list[Turn]:
    context = answered.context
    possible = [found for found in answered.builts if found.plant is not None and not found.reasons][:MOST_BUILT]
    found = []
    for what, to, settings, profile in _moves(context.settings, context.profile):
        results = _moved(answered, possible, settings, profile)
        best = winner_of(tuple(result for result in results if result.verdict is Verdict.PASSES), settings)
        then = best.candidate.name if best is not None else "none"
        found.append(Turn(f"options.{what}" if what != "load" else "load", to, then, then != name, False))
    return found


def _moved(answered: Answered, possible: list[Built], settings: Settings, profile: Profile) -> tuple[Result, ...]:
    """The results under moved settings, outages with the sun that ranks only; the array's energy stays as it was."""
    if not possible:
        return ()
    narrow = replace(answered.context, days=tuple(day for day in answered.context.days if day.sun == settings.sun), year=None)
    known = {result.candidate.name: result for result in answered.results}
    found = results_of(narrow, possible, settings, profile)
    return tuple(replace(result, lost=known[result.candidate.name].lost) for result in found)


def _price_turns(answered: Answered, name: str) -> list[Turn]:
    """Each priced item at both ends of its range, the others in the middle."""
    passing = [found for found in answered.results if found.verdict is Verdict.PASSES and found.bill.middle is not None]
    items = {part.item: part.price for found in passing for part in found.bill.parts if part.price is not None and part.price[0] != part.price[1]}
    turned = []
    for item, price in items.items():
        for end in price or ():
            moved = tuple(replace(found, bill=_at(found.bill, item, end)) for found in passing)
            best = winner_of(moved, answered.context.settings)
            then = best.candidate.name if best is not None else "none"
            turned.append(Turn(f"price of {item}", f"{end:,.0f} {answered.context.options.currency}", then, then != name, True))
    return turned


def _at(bill: Bill, item: str, price: float) -> Bill:
    middle = sum(part.count * (price if part.item == item else sum(part.price) / 2.0) for part in bill.parts if part.price is not None)
    return replace(bill, low=middle, high=middle)


def _length_turns(answered: Answered, winner: Result) -> list[Turn]:
    """Sections at both ends of their range: whether the winner still passes the electrical study, and who wins if not."""
    context = answered.context
    found = []
    for section, ends in context.options.length_range.items():
        for end in ends:
            fallen: set[str] = set()
            best: Result | None = winner
            while best is not None and not _passes_with(context, answered.built(best), section, end.as_written):
                fallen.add(best.candidate.name)
                rest = tuple(other for other in answered.results if other.verdict is Verdict.PASSES and other.candidate.name not in fallen)
                best = winner_of(rest, context.settings) if len(fallen) < 10 else None
            then = best.candidate.name if best is not None else "none"
            found.append(Turn(f"section.{section}.length", end.as_written, then, then != winner.candidate.name, True))
    return found


def _passes_with(context: Context, built: Built, section: str, length: str) -> bool:
    try:
        project = with_values(candidate_project(context, built.candidate), [(f"section.{section}.length", length)])
    except LinecalcError:
        return True
    return not electrical(project).fails


