"""Prices and the value of energy: the score of a candidate is linear in each, so the turning points are exact.

Score: what the parts cost less what the array's energy is worth; the least is the first choice.
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.compare import at_most
from linecalc.options.answer import used_a_year_kwh
from linecalc.options.records import Result, Verdict
from linecalc.options.run import Answered
from linecalc.options.turning import ASSUMED, GIVEN, NOBODY, STATED, Flip, Turn

VALUE = "value of a kilowatt-hour, each year"
VALUE_FACTORS = (0.5, 2.0)
BUDGET = "budget"
_TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Line:
    """A candidate as a line in every price: how many of each item it holds, and the order in which equals are preferred."""

    name: str
    counts: dict[str, float]
    order: tuple[float, ...]

    def cost(self, prices: dict[str, float]) -> float:
        """What the parts cost."""
        return sum(number * prices[item] for item, number in self.counts.items() if item != VALUE)

    def score(self, prices: dict[str, float]) -> float:
        """Cost less the value of energy."""
        return sum(number * prices[item] for item, number in self.counts.items())


def price_turns(answered: Answered, winner: Result | None) -> list[Turn]:
    """Every price with a range and the value of energy, one at a time and all prices at once."""
    lines = lines_of(answered.results)
    own = next((line for line in lines if winner is not None and line.name == winner.candidate.name), None)
    if own is None:
        return []
    ranges = ranges_of(answered.results)
    prices = middle_prices(answered)
    budget = answered.context.options.budget
    money = answered.context.options.currency
    found = [_one(item, span, lines, own, prices, budget, money) for item, span in ranges.items() if span[0] != span[1]]
    joint = joint_turn(lines, own, ranges, prices, budget)
    if joint is not None and len(found) > 1:
        found.append(joint)
    if prices[VALUE] > 0.0:
        found.append(_value_turn(answered, lines, own, prices, budget, money))
    return found


def lines_of(results: tuple[Result, ...]) -> tuple[Line, ...]:
    """The candidates that pass with a known cost, and those that only the budget leaves open."""
    found = []
    for result in results:
        open_budget = result.verdict is Verdict.UNSETTLED and all(reason.rule == BUDGET for reason in result.unsettled)
        if result.bill.middle is not None and (result.verdict is Verdict.PASSES or open_budget):
            found.append(line_of(result))
    return tuple(found)


def line_of(result: Result) -> Line:
    """One candidate with a known cost as a line."""
    counts: dict[str, float] = {part.item: float(part.count) for part in result.bill.parts}
    counts[VALUE] = -used_a_year_kwh(result)
    return Line(result.candidate.name, counts, _order(result))


def _order(result: Result) -> tuple[float, ...]:
    candidate = result.candidate
    least = min((hours.least_h for hours in result.hours if hours.aged), default=0.0)
    return (-least, candidate.units, candidate.storage_modules, -candidate.array.count)


def ranges_of(results: tuple[Result, ...]) -> dict[str, tuple[float, float]]:
    """Least and most price of every part that has one."""
    return {part.item: part.price for result in results for part in result.bill.parts if part.price is not None}


def first_of(lines: tuple[Line, ...], prices: dict[str, float], budget: float | None) -> str:
    """The first choice at given prices; what the budget leaves open counts where it is within it."""
    affordable = [line for line in lines if budget is None or at_most(line.cost(prices), budget)]
    best = min(affordable, key=lambda line: (round(line.score(prices), 6), *line.order), default=None)
    return best.name if best is not None else NOBODY


def crossings(item: str, lines: tuple[Line, ...], own: Line, prices: dict[str, float], budget: float | None) -> list[float]:
    """Every price of an item at which a rival costs as much as the first choice, or the budget is reached; others stay."""
    found = []
    for line in lines:
        more = line.counts.get(item, 0.0) - own.counts.get(item, 0.0)
        if abs(more) > _TINY:
            found.append(prices[item] - (line.score(prices) - own.score(prices)) / more)
        number = line.counts.get(item, 0.0)
        if budget is not None and number > _TINY:
            found.append(prices[item] + (budget - line.cost(prices)) / number)
    return [price for price in found if price >= 0.0]


def flips_of(item: str, lines: tuple[Line, ...], own: Line, prices: dict[str, float], budget: float | None, text: str) -> tuple[Flip, ...]:
    """The nearest price on either side beyond which another candidate is the first choice."""
    now = prices[item]
    found = []
    points = crossings(item, lines, own, prices, budget)
    for side, wanted in (("below", sorted((point for point in points if point <= now), reverse=True)), ("above", sorted(point for point in points if point >= now))):
        for point in wanted:
            step = max(abs(point), 1.0) * 1e-6
            beyond = point - step if side == "below" else point + step
            then = first_of(lines, {**prices, item: max(beyond, 0.0)}, budget)
            if beyond >= 0.0 and then != own.name:
                found.append(Flip(side, point, text.format(point), then))
                break
    return tuple(found)


def _one(item: str, span: tuple[float, float], lines: tuple[Line, ...], own: Line, prices: dict[str, float], budget: float | None, money: str) -> Turn:
    low, high = (first_of(lines, {**prices, item: end}, budget) for end in span)
    flips = flips_of(item, lines, own, prices, budget, "{:,.0f} " + money)
    changed = low != own.name or high != own.name
    texts = [f"{price:,.0f} {money}" for price in (prices[item], *span)]
    return Turn(f"price of {item}", STATED, texts[0], texts[1], texts[2], low, high, flips, changed, True)


def joint_turn(lines: tuple[Line, ...], own: Line, ranges: dict[str, tuple[float, float]], prices: dict[str, float], budget: float | None) -> Turn | None:
    """All prices at once: for each rival the corner of all ranges that favours it most over the first choice.

    The difference of two scores is linear in every price, so its least value
    lies in that corner: no other combination of prices needs to be tried.
    """
    worst: tuple[float, Line, dict[str, float]] | None = None
    for line in lines:
        corner = favourable(line, own, ranges, prices)
        if line is own or corner == prices:
            continue
        if budget is not None and not at_most(line.cost(corner), budget):
            continue
        ahead = line.score(corner) - own.score(corner)
        if worst is None or ahead < worst[0]:
            worst = (ahead, line, corner)
    if worst is None:
        return None
    then = first_of(lines, worst[2], budget) if worst[0] < -_TINY else own.name
    moved = [f"{item} at {worst[2][item]:,.0f}" for item, (low, high) in ranges.items() if low != high and worst[2][item] != prices[item]]
    corner_text = f"{', '.join(moved)} (the corner that favours {worst[1].name})"
    return Turn("all prices at once", STATED, "middle of every range", corner_text, corner_text, then, then, (), then != own.name, True)


def favourable(line: Line, own: Line, ranges: dict[str, tuple[float, float]], prices: dict[str, float]) -> dict[str, float]:
    """The prices within all ranges that favour a rival most over the first choice; what both hold alike stays in its middle."""
    corner = dict(prices)
    for item, (low, high) in ranges.items():
        more = line.counts.get(item, 0.0) - own.counts.get(item, 0.0)
        if more != 0.0 and low != high:
            corner[item] = low if more > 0.0 else high
    return corner


def middle_prices(answered: Answered) -> dict[str, float]:
    """Every price in the middle of its range, and the value of a kilowatt-hour over the years counted."""
    prices = {item: (low + high) / 2.0 for item, (low, high) in ranges_of(answered.results).items()}
    return {**prices, VALUE: answered.context.settings.value_of_kwh_a_year}


def _value_turn(answered: Answered, lines: tuple[Line, ...], own: Line, prices: dict[str, float], budget: float | None, money: str) -> Turn:
    """The value of a kilowatt-hour that is used in a year, over the years counted."""
    options = answered.context.options
    years = prices[VALUE] / options.energy_value if options.energy_value else 0.0
    form = "{:,.2f} " + f"{money} over {years:g} years"
    ends = tuple(prices[VALUE] * factor for factor in VALUE_FACTORS)
    low, high = (first_of(lines, {**prices, VALUE: end}, budget) for end in ends)
    flips = flips_of(VALUE, lines, own, prices, budget, form)
    basis = ASSUMED if options.years is None else GIVEN
    return Turn(VALUE, basis, form.format(prices[VALUE]), form.format(ends[0]), form.format(ends[1]), low, high, flips, low != own.name or high != own.name, False)
