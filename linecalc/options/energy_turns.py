"""Load, storage, efficiencies and the outage itself: which value of each changes the first choice.

Only what may become the first choice is simulated again, the preferred
candidate first, and for the length that is asked for; candidates that an outage
cannot tell apart (without sun those that differ in their array) are simulated once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from linecalc.calc.compare import at_least
from linecalc.options.answer import rank
from linecalc.options.build import Built
from linecalc.options.context import Context, Settings
from linecalc.options.energy import Arrays, outage_hours
from linecalc.options.power import Kept, hours_kept
from linecalc.options.profile import Profile
from linecalc.options.records import Plant, Result
from linecalc.options.run import Answered, sun_words
from linecalc.options.sun import NONE
from linecalc.options.turning import ASKED, ASSUMED, GIVEN, NOBODY, Flip, Moved, Turn, figure, turn_of

BATCH = 12
MOST = 400
ENERGY_RULES = ("hours", "backup_power")
State = tuple[Settings, Profile, float]


@dataclass(frozen=True, slots=True)
class Axis:
    """One assumption: its path, value now, plausible ends, and what it does to settings, loads and standby draw."""

    path: str
    now: float
    ends: tuple[float, float]
    unit: str
    applied: Callable[[float], State]

    def text(self, value: float) -> str:
        """A value with its unit."""
        return figure(value, self.unit)


@dataclass(slots=True)
class _Field:
    """The candidates that may become the first choice, preferred first, and what was computed about them."""

    answered: Answered
    runners: list[Built]
    kept: dict[tuple[object, ...], dict[str, tuple[Kept, ...]]] = field(default_factory=dict)

    def first(self, state: State) -> str:
        """The first candidate that carries the loads as long as asked."""
        settings, profile, standby = state
        found: dict[tuple[object, ...], bool] = {}
        for place, built in enumerate(self.runners):
            if _key(built, settings) not in found:
                batch = self._batch(place, settings, found)
                found |= dict(zip(batch, self._pass(list(batch.values()), settings, profile, standby), strict=True))
            if found[_key(built, settings)]:
                return built.candidate.name
        return NOBODY

    def _batch(self, place: int, settings: Settings, known: dict[tuple[object, ...], bool]) -> dict[tuple[object, ...], Built]:
        """The next candidates from ``place`` on that an outage can tell apart and that are not known yet."""
        batch: dict[tuple[object, ...], Built] = {}
        for built in self.runners[place:]:
            key = _key(built, settings)
            if key not in known and len(batch) < BATCH:
                batch.setdefault(key, built)
        return batch

    def _pass(self, builts: list[Built], settings: Settings, profile: Profile, standby: float) -> list[bool]:
        context = self.answered.context
        moved = [replace(built, plant=replace(plant_in(built), standby_w=plant_in(built).standby_w * standby)) for built in builts]
        kept = [self._kept(context, built, profile) for built in builts]
        carried = [not any(hour.why for hours in seasons.values() for hour in hours) for seasons in kept]
        if settings.asked_h is None or not any(carried):
            return carried
        narrow = replace(context, days=tuple(day for day in context.days if day.sun == settings.sun), year=None)
        hours = outage_hours(narrow, moved, replace(settings, outages_h=(settings.asked_h,)), profile, kept, Arrays(settings.losses_percent))
        least = [min((found.least_h for found in each if found.aged), default=0.0) for each in hours]
        return [ok and at_least(found, settings.asked_h) for ok, found in zip(carried, least, strict=True)]

    def _kept(self, context: Context, built: Built, profile: Profile) -> dict[str, tuple[Kept, ...]]:
        plant = plant_in(built)
        if profile is not context.profile:
            return {season: hours_kept(profile, plant, season) for season in context.seasons}
        key = (plant.firm_w, plant.leg_a, plant.start_a)
        if key not in self.kept:
            self.kept[key] = {season: hours_kept(profile, plant, season) for season in context.seasons}
        return self.kept[key]


def plant_in(built: Built) -> Plant:
    """The plant of a candidate that can be built."""
    assert built.plant is not None
    return built.plant


def _key(built: Built, settings: Settings) -> tuple[object, ...]:
    """What an outage can tell apart."""
    plant = plant_in(built)
    own = (plant.usable_kwh, plant.ac_island_w, plant.discharge_w, plant.charge_w, plant.standby_w, plant.leg_a, plant.start_a)
    return own if settings.sun == NONE else (*own, built.candidate.name)


def energy_turns(answered: Answered, winner: Result | None) -> list[Turn]:
    """Every assumption about load, storage and outage over its plausible range."""
    name = winner.candidate.name if winner is not None else NOBODY
    return [*axis_turns(answered, name, axes_of(answered.context)), *outage_turns(answered, _runners(answered), name)]


def axis_turns(answered: Answered, name: str, axes: tuple[Axis, ...]) -> list[Turn]:
    """Some assumptions, each over its range; ``name`` is the first choice now."""
    by_name = {built.candidate.name: built for built in answered.builts}
    runners = _Field(answered, [by_name[found.candidate.name] for found in _runners(answered)])
    return [_turn(answered.context, runners, axis, name) for axis in axes]


def _runners(answered: Answered) -> list[Result]:
    """What an outage alone may stop, in the order of preference."""
    settings = answered.context.settings
    found = [result for result in answered.results if result.plant is not None and not result.unsettled and all(found.rule in ENERGY_RULES for found in result.reasons)]
    return sorted(found, key=lambda result: rank(result, settings))[:MOST]


def _turn(context: Context, runners: _Field, axis: Axis, name: str) -> Turn:
    def winner_at(value: float) -> str:
        return runners.first(axis.applied(value))

    return turn_of(axis.path, basis_of(context, axis.path), axis.now, axis.ends, name, Moved(winner_at, lambda value: winner_at(value) == name, axis.text))


def basis_of(context: Context, path: str) -> str:
    """Whether an input was assumed or given; the load is assumed where any part of it was."""
    assumed = [found.path for found in context.assumptions]
    if path.startswith("load"):
        options = context.options
        given = bool(options.use) or options.load_file is not None
        return GIVEN if given and not any(found.startswith(("options.use.", "options.load_file")) for found in assumed) else ASSUMED
    return ASSUMED if path in assumed else GIVEN


def axes_of(context: Context) -> tuple[Axis, ...]:
    """What is moved, one at a time, and how far; all ranges are common practice, no source."""
    settings, profile = context.settings, context.profile

    def storage(key: str, now: float, low: float, high: float) -> Axis:
        def applied(value: float) -> State:
            return replace(settings, **{key.rpartition(".")[2]: value / 100.0}), profile, 1.0

        return Axis(f"options.{key}", 100.0 * now, (min(low, 100.0 * now), max(high, 100.0 * now)), "%", applied)

    def loads(value: float) -> State:
        return settings, profile.scaled(value / 100.0), 1.0

    def duties(value: float) -> State:
        return settings, _worked(profile, value / 100.0), 1.0

    def starting(value: float) -> State:
        return replace(settings, starting=value / 100.0), profile, 1.0

    return (
        Axis("load, power of every load", 100.0, (80.0, 120.0), "%", loads),
        Axis("load, duty of every load", 100.0, (75.0, 125.0), "%", duties),
        storage("aged", settings.aged, 60.0, 100.0),
        Axis("options.starting_charge", 100.0 * settings.starting, (min(50.0, 100.0 * settings.starting), 100.0), "%", starting),
        storage("reserve", settings.reserve, 0.0, 30.0),
        storage("restart", settings.restart, 5.0, 25.0),
        storage("efficiency.storage_to_ac", settings.storage_to_ac, 88.0, 97.0),
        Axis("options.standby_power", 100.0, (50.0, 200.0), "% of the units' own", lambda value: (settings, profile, value / 100.0)),
    )


def _worked(profile: Profile, factor: float) -> Profile:
    """The same loads with another duty, at most the whole of their hours; their peaks stay."""
    return replace(profile, appliances=tuple(replace(found, duty=min(found.duty * factor, 1.0)) for found in profile.appliances))


def outage_turns(answered: Answered, order: list[Result], name: str) -> list[Turn]:
    """The length, the season and the sky of the outage, from the hours that are known already."""
    context = answered.context
    settings = context.settings
    found = [] if settings.asked_h is None else [_length(order, settings, name)]
    for season in context.seasons if len(context.seasons) > 1 else ():
        then = _first(order, settings, (season,), settings.sun)
        found.append(Turn("season of the outage", ASKED, "the worst", f"{season} only", f"{season} only", then, then, (), then != name, False))
    for sun in context.suns():
        if sun != settings.sun:
            then = _first(order, settings, context.seasons, sun)
            found.append(Turn("sky during the outage", ASKED, sun_words(settings.sun), sun_words(sun), sun_words(sun), then, then, (), then != name, False))
    return found


def _first(order: list[Result], settings: Settings, seasons: tuple[str, ...], sun: str) -> str:
    for result in order:
        least = min((hours.least_h for hours in result.carried(sun, True) if hours.season in seasons), default=0.0)
        carried = all(check.carried for check in result.power if check.season in seasons)
        if carried and (settings.asked_h is None or at_least(least, settings.asked_h)):
            return result.candidate.name
    return NOBODY


def _length(order: list[Result], settings: Settings, name: str) -> Turn:
    """The hours that are asked for, from a quarter to the longest outage simulated: exact, each candidate carries what it carries."""
    assert settings.asked_h is not None
    asked, ends = settings.asked_h, (0.25 * settings.asked_h, max(settings.horizon_h, settings.asked_h))

    def winner_at(hours: float) -> str:
        able = (found for found in order if all(check.carried for check in found.power) and at_least(found.least_hours(settings.sun) or 0.0, hours))
        return next((found.candidate.name for found in able), NOBODY)

    points = sorted({found.least_hours(settings.sun) or 0.0 for found in order})
    flips = []
    above = next((point for point in points if point >= asked and winner_at(point * (1.0 + 1e-6)) != name), None)
    below = next((point for point in reversed(points) if point < asked and winner_at(point) != name), None)
    if below is not None and below >= ends[0]:
        flips.append(Flip("up to", below, f"{below:.1f} h", winner_at(below)))
    if above is not None and above < ends[1]:
        flips.append(Flip("above", above, f"{above:.1f} h", winner_at(above * (1.0 + 1e-6))))
    return Turn("options.outages, hours asked for", ASKED, f"{asked:g} h", f"{ends[0]:g} h", f"{ends[1]:g} h", winner_at(ends[0]), winner_at(ends[1]), tuple(flips), bool(flips), False)
