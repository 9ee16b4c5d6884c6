"""What the study of options says, once: tables and sentences that every format renders."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.caution import CAUTION
from linecalc.network.records import Assumption
from linecalc.options.answer import Answer, answer, clipped_percent, dc_ac, rank
from linecalc.options.differences import UnitStep, unit_steps
from linecalc.options.figures import Figure, figures_of, hour_span
from linecalc.options.later import Growth, growth
from linecalc.options.records import Result, Verdict
from linecalc.options.run import Answered, sun_words
from linecalc.options.sensitivity import turns
from linecalc.options.turning import Turn, resting_on, undecided
from linecalc.options.words import count, step_words

COLUMNS = (
    "candidate", "units", "storage_modules", "pv_modules", "verdict", "hours_least", "hours_median", "hours_new_least", "served_percent", "backup_kw", "peak_kw",
    "usable_kwh", "nominal_kwh", "dc_kw", "dc_ac_ratio", "array_usable_room_kw", "array_usable_full_kw", "clipped_percent", "space_in", "cost_low", "cost_high", "first_reason",
)


@dataclass(frozen=True, slots=True)
class Content:
    """Everything that is shown."""

    title: str
    edition: str
    answered: Answered
    answer: Answer
    words: tuple[str, ...]
    unit_steps: tuple[UnitStep, ...]
    turns: tuple[Turn, ...]
    growth: tuple[Growth, ...]
    assumptions: tuple[Assumption, ...]
    caution: str

    @property
    def undecided(self) -> tuple[Turn, ...]:
        """The stated ranges that change the winner."""
        return undecided(self.turns)

    @property
    def shown_result(self) -> Result | None:
        """The candidate that is shown in full: the first choice, else one that is not settled, else any that was simulated."""
        return self.answer.winner or next(iter(self.answer.unsettled), None) or next((found for found in self.answered.results if found.hours), None)

    @property
    def ordered(self) -> tuple[Result, ...]:
        """Passing first, then not settled, then failing, each in the order of the candidates."""
        return (*self.answer.passing, *self.answer.unsettled, *self.answer.failing)


def content_of(answered: Answered, later_modules: int = 0) -> Content:
    """Sort the results out, move the assumptions, and look at later growth of the winner (or of every unit count without one)."""
    context = answered.context
    found = answer(answered.results, context.settings)
    assumptions = list(context.assumptions)
    for result in answered.results:
        assumptions += [item for item in result.assumptions if item not in assumptions]
    grown: tuple[Growth, ...] = ()
    if later_modules:
        chosen = [found.winner] if found.winner is not None else list(found.unsettled[:1])
        grown = tuple(growth(context, result.candidate, later_modules) for result in chosen)
    project = context.base.project
    return Content(
        project.title, project.code, answered, found, step_words(context, answered.results, context.settings, found.winner), unit_steps(context, answered.results, found.winner),
        turns(answered, found.winner), grown, tuple(assumptions), CAUTION,
    )


def row_of(content: Content, result: Result) -> dict[str, str | float | int | None]:
    """One line of the table by column; None where a figure is not known."""
    settings = content.answered.context.settings
    plant, candidate = result.plant, result.candidate
    hours = result.carried(settings.sun, True)
    new = result.carried(settings.sun, False)
    why = result.reasons or result.unsettled
    row: dict[str, str | float | int | None] = dict.fromkeys(COLUMNS)
    row |= {
        "candidate": candidate.name, "units": candidate.units, "storage_modules": candidate.storage_modules, "pv_modules": candidate.array.count,
        "verdict": result.verdict.value, "cost_low": result.bill.low, "cost_high": result.bill.high, "first_reason": why[0].text if why else "",
    }
    if result.layout is not None:
        row["space_in"] = result.layout.taken_in
    if hours and new:
        row |= {
            "hours_least": min(found.least_h for found in hours), "hours_median": min(found.median_h for found in hours),
            "hours_new_least": min(found.least_h for found in new), "served_percent": 100.0 * min(found.share_served for found in hours),
            "peak_kw": max(found.peak_w for found in result.power) / 1000.0, "clipped_percent": clipped_percent(result),
        }
    if plant is not None:
        row |= {
            "backup_kw": plant.firm_w / 1000.0, "usable_kwh": plant.usable_kwh, "nominal_kwh": plant.nominal_kwh, "dc_kw": plant.pv_dc_w / 1000.0,
            "dc_ac_ratio": dc_ac(plant), "array_usable_room_kw": plant.usable_array_room_w / 1000.0, "array_usable_full_kw": plant.ac_export_w / 1000.0,
        }
    return row


def shown(value: str | float | int | None) -> str:
    """A cell as text; unknown is a dash."""
    if value is None:
        return "-"
    if isinstance(value, float):
        return f"{value:,.0f}" if abs(value) >= 1000.0 else f"{value:.1f}"
    return str(value)


SHOWN = ("candidate", "verdict", "hours_least", "hours_new_least", "backup_kw", "usable_kwh", "dc_kw", "clipped_percent", "space_in", "cost_low", "cost_high")
_NAMES = {
    "hours_least": "hours, aged storage", "hours_new_least": "hours, new storage", "backup_kw": "backup, kW", "usable_kwh": "usable, kWh", "dc_kw": "array, kW",
    "clipped_percent": "lost, %", "space_in": "width, in",
}


def candidates_head(content: Content) -> tuple[str, ...]:
    """The head of the table of candidates."""
    money = content.answered.context.options.currency
    named = {**_NAMES, "cost_low": f"cost from, {money}", "cost_high": f"to, {money}"}
    return (*(named.get(name, name) for name in SHOWN), "Pareto front", "first reason")


def candidate_rows(content: Content) -> tuple[tuple[str, ...], ...]:
    """Every candidate: what passes first, what fails last."""
    front = {found.candidate.name for found in content.answer.front}
    rows = ((row_of(content, found), found.candidate.name in front) for found in content.ordered)
    return tuple((*(shown(row[name]) for name in SHOWN), "yes" if on else "", str(row["first_reason"] or "")) for row, on in rows)


def verdict_line(content: Content) -> str:
    """The answer in one sentence."""
    winner = content.answer.winner
    counts = f"{len(content.answer.passing)} of {len(content.answered.results)} candidates pass, {len(content.answer.unsettled)} are not settled, {len(content.answer.failing)} fail"
    if winner is None:
        return f"{counts}."
    worth = " less the value of the array's energy" if content.answered.context.settings.value_of_kwh_a_year else ""
    if content.undecided:
        others = "; ".join(_undecided_words(turn) for turn in content.undecided)
        return f"{counts}. Undecided: {winner.candidate.name} by the middle of every range, but {others}."
    why = f"is the first choice by cost{worth}" if winner.bill.middle is not None else "needs the fewest parts"
    unpriced = [found for found in content.answer.passing if found.bill.middle is None]
    if unpriced and winner.bill.middle is not None:
        missing = sorted({item for found in unpriced for item in found.bill.unpriced})
        return f"{counts}. Undecided: {winner.candidate.name} {why} of those with a price; {count(len(unpriced), 'candidate')} more pass, but there is no price of {', '.join(missing)}."
    rests = [turn.what for turn in resting_on(content.turns)]
    words = f"{counts}. {winner.candidate.name} {why}." + (f" It rests on what was assumed: {', '.join(rests)}." if rests else "")
    return words + _open_before(content, winner)


def _open_before(content: Content, winner: Result) -> str:
    """Candidates that would be preferred to the first choice if what is open about them were settled."""
    settings = content.answered.context.settings
    ahead = sorted((found for found in content.answer.unsettled if rank(found, settings) < rank(winner, settings)), key=lambda found: rank(found, settings))
    if not ahead:
        return ""
    others = f" and {count(len(ahead) - 1, 'candidate')} more" if len(ahead) > 1 else ""
    return f" {ahead[0].candidate.name}{others} would come before it, but {'is' if len(ahead) == 1 else 'are'} not settled: {ahead[0].unsettled[0].text}."


def _undecided_words(turn: Turn) -> str:
    if turn.flips:
        return f"{turn.what} ({turn.range_text}) changes it: " + ", ".join(f"{flip.winner} {flip.side} {flip.text}" for flip in turn.flips)
    other = turn.at_low if turn.low == turn.high else " or ".join(dict.fromkeys((turn.at_low, turn.at_high)))
    return f"{turn.what}, {turn.range_text}, would make it {other}"


TURN_HEAD = ("assumption", "basis", "now", "range", "first choice at its ends", "changes")


def turn_rows(content: Content) -> tuple[tuple[str, ...], ...]:
    """Every assumption that was moved."""
    return tuple(
        (turn.what, turn.basis, turn.now, turn.range_text, " / ".join(dict.fromkeys((turn.at_low, turn.at_high))), turn.change_text + (" (undecided)" if turn.changed and turn.decides else ""))
        for turn in content.turns
    )


def ranking_words(content: Content) -> str:
    """What hours mean here."""
    settings = content.answered.context.settings
    return (
        f"Hours are the least over 24 starting hours and every season, {sun_words(settings.sun)}, storage aged to {100 * settings.aged:.0f} %; "
        f"outages are simulated for {settings.horizon_h:g} h in steps of 15 min. Peaks take every load of the hour at once."
    )


def first_failures(content: Content) -> tuple[tuple[str, str], ...]:
    """Candidates that fail with their first reason."""
    return tuple((found.candidate.name, found.reasons[0].text) for found in content.answer.failing)


def hours_rows(content: Content, result: Result) -> tuple[tuple[str, ...], ...]:
    """Hours by season, sun and age of one candidate."""
    horizon = content.answered.context.settings.horizon_h
    return tuple(
        (found.season, sun_words(found.sun), "aged" if found.aged else "new", _hours(found.least_h, horizon), _hours(found.median_h, horizon), f"{100 * found.share_served:.1f} %")
        for found in result.hours
    )


def _hours(hours: float, horizon: float) -> str:
    return f"{hours:.1f} h{' or more' if hours >= horizon - 1e-9 else ''}"


def lost_rows(result: Result) -> tuple[tuple[str, ...], ...]:
    """Energy of the array and where it is lost, with the recharge of a day."""
    shares = dict(result.recharge_share)
    return tuple(
        (
            found.label, f"{found.array_kwh:.1f}", f"{found.input_kwh:.2f}", f"{found.rating_kwh:.2f}", f"{found.full_kwh:.2f}", f"{found.clipped_percent:.1f} %",
            f"{100 * shares[found.label]:.0f} %" if found.label in shares else "-",
        )
        for found in result.lost
    )


def power_rows(result: Result) -> tuple[tuple[str, ...], ...]:
    """Peak against the units by season."""
    return tuple(
        (
            found.season, hour_span(found.hour), f"{found.peak_w / 1000:.2f} kW", f"{found.leg_peak_a:.1f} A",
            ", ".join(f"{name} {amps:.0f} A" for name, amps in found.starts) or "-", "carried" if found.carried else found.why, ", ".join(found.shed) or "-",
        )
        for found in result.power
    )


HOURS_HEAD = ("season", "sun", "storage", "least", "median", "served")
LOST_HEAD = ("days", "array kWh", "lost at inputs", "lost by rating", "lost, storage full", "lost", "recharged in a day")
POWER_HEAD = ("season", "hour", "peak", "worst leg", "with motor start", "units", "shed")
PARTS_HEAD = ("part", "count", "each", "together", "note")
FIGURES_HEAD = ("figure", "formula", "numbers", "value", "inputs")
STEP_HEAD = ("where", "before", "after")
GROWTH_HEAD = ("subject", "do now", "otherwise, later")


def parts_rows(content: Content, result: Result) -> tuple[tuple[str, ...], ...]:
    """The bill of materials; parts that are ordered together follow each other."""
    order = {part.item: index for index, part in enumerate(result.bill.parts)}
    parts = sorted(result.bill.parts, key=lambda part: (order.get(part.order_with or part.item, order[part.item]), part.order_with is not None))
    rows = [(part.item, str(part.count), _price(part.price), _price(part.price, part.count), part.note) for part in parts]
    bill = result.bill
    budget = content.answered.context.options.budget
    total = _price((bill.low, bill.high)) if bill.low is not None and bill.high is not None else f"no price of {', '.join(bill.unpriced)}"
    left = "" if budget is None else f"budget {budget:,.0f} {content.answered.context.options.currency}"
    return (*rows, (f"together, {content.answered.context.options.currency}", "", "", total, left))


def _price(price: tuple[float, float] | None, number: int = 1) -> str:
    if price is None:
        return "no price"
    low, high = number * price[0], number * price[1]
    return f"{low:,.0f}" if low == high else f"{low:,.0f} to {high:,.0f}"


def figures_rows(content: Content, result: Result) -> tuple[tuple[str, ...], ...]:
    """How the figures of one candidate come about."""
    return tuple((found.name, found.formula, found.numbers, _valued(found), found.origin) for found in figures_of(content.answered.context, result))


def _valued(found: Figure) -> str:
    digits = f"{found.value:,.0f}" if abs(found.value) >= 1000.0 else f"{found.value:.2f}" if not found.unit else f"{found.value:.4g}"
    return f"{digits} {found.unit}".rstrip()


def growth_rows(grown: Growth) -> tuple[tuple[str, ...], ...]:
    """What to do now for storage modules later."""
    return tuple((point.subject, point.now, point.otherwise) for point in grown.points)


def growth_title(grown: Growth) -> str:
    """From what to what."""
    return f"{count(grown.added, 'storage module')} later: {grown.now.name} becomes {grown.later.name}"


def blocked_line(grown: Growth) -> str:
    """Why it cannot grow as planned, and how far it can."""
    how_far = f"{count(grown.possible, 'storage module')} can be added" if grown.possible else "none can be added"
    then = f". Below: for {grown.possible}." if grown.possible else ""
    return f"Cannot be added as planned ({how_far}): {'; '.join(grown.blocked)}{then}" if grown.blocked else ""


def step_title(step: UnitStep) -> str:
    """Which unit is added."""
    return f"From {step.units - 1} to {count(step.units, 'unit')} ({step.fewer} to {step.more})"


RANGES_NOTE = "Prices and lengths are moved within the ranges that are stated; all other ranges are common practice, no source. One assumption is moved at a time, prices and lengths also all at once."


def verdict_counts(content: Content) -> dict[str, int]:
    """How many candidates have each verdict."""
    return {verdict.value: sum(found.verdict is verdict for found in content.answered.results) for verdict in Verdict}


