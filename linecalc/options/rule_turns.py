"""Lengths within their range and other assumed inputs of the project, through the rules of a permit."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field

from linecalc.advice.plausible import range_of
from linecalc.errors import LinecalcError
from linecalc.options.answer import rank
from linecalc.options.build import candidate_project
from linecalc.options.context import Context
from linecalc.options.electrical import electrical
from linecalc.options.energy_turns import ENERGY_RULES
from linecalc.options.price_turns import BUDGET, favourable, line_of, middle_prices, ranges_of
from linecalc.options.records import Result, Verdict
from linecalc.options.run import Answered
from linecalc.options.turning import ASSUMED, NOBODY, STATED, Moved, Turn, figure, turn_of
from linecalc.project.model import Project
from linecalc.report.inputs import MARKED, Input, inputs_of_project
from linecalc.variants import with_values

MOST_TRIED = 6
MOST_INPUTS = 60
LENGTH = "length"
Moves = tuple[tuple[str, object], ...]


@dataclass(slots=True)
class _Runners:
    """Candidates in the order in which they are preferred: those that pass, and better ones that only the rules stop."""

    context: Context
    here: str
    order: list[Result]
    projects: dict[str, Project] = field(default_factory=dict)
    known: dict[tuple[str, Moves], bool] = field(default_factory=dict)

    def first(self, moves: Moves) -> str:
        """The first that passes every rule with the inputs moved; some beyond the first choice are tried, then nobody is named."""
        place = next(index for index, result in enumerate(self.order) if result.candidate.name == self.here)
        for result in self.order[: place + MOST_TRIED]:
            if self.passes(result, moves):
                return result.candidate.name
        return NOBODY

    def holds(self, moves: Moves) -> bool:
        """Whether the first choice still passes, and nothing that would be preferred to it does."""
        ahead = itertools.takewhile(lambda result: result.candidate.name != self.here, self.order)
        own = next(result for result in self.order if result.candidate.name == self.here)
        return self.passes(own, moves) and not any(self.passes(result, moves) for result in ahead)

    def passes(self, result: Result, moves: Moves) -> bool:
        """Whether a candidate passes every rule with the inputs moved."""
        key = (result.candidate.name, moves)
        if key not in self.known:
            self.known[key] = self._tried(result, moves)
        return self.known[key]

    def _tried(self, result: Result, moves: Moves) -> bool:
        name = result.candidate.name
        if name not in self.projects:
            self.projects[name] = candidate_project(self.context, result.candidate)
        try:
            return not electrical(with_values(self.projects[name], moves)).fails
        except LinecalcError:
            return result.verdict is Verdict.PASSES


def rule_turns(answered: Answered, winner: Result | None) -> list[Turn]:
    """Stated ranges of lengths, then every input that is marked as assumed over its plausible range."""
    return [] if winner is None else [*length_turns(answered, winner), *input_turns(answered, winner)]


def length_turns(answered: Answered, winner: Result) -> list[Turn]:
    """Stated ranges of lengths one at a time, all together, and together with prices."""
    if not answered.context.options.length_range:
        return []
    runners = _Runners(answered.context, winner.candidate.name, _order(answered, winner))
    return [*_lengths(answered, runners, winner.candidate.name), *_with_prices(answered, runners, winner)]


def _order(answered: Answered, winner: Result) -> list[Result]:
    """The winner, what passes after it, and what would be preferred to it but for the rules alone."""
    settings = answered.context.settings
    own = rank(winner, settings)
    found = []
    for result in answered.results:
        if result.verdict is Verdict.PASSES or (_only_rules(result) and rank(result, settings) < own):
            found.append(result)
    return sorted(found, key=lambda result: rank(result, settings))


def _lengths(answered: Answered, runners: _Runners, here: str) -> list[Turn]:
    context = answered.context
    ranges = context.options.length_range
    found = []
    for section, (low, high) in ranges.items():
        path = f"section.{section}.length"
        present = context.base.section[section].length if section in context.base.section else None
        now = present.value if present is not None else (low.value + high.value) / 2.0
        found.append(_numeric(path, STATED, now, (low.value, high.value), "ft", runners, here, True))
    if len(ranges) > 1:
        for place, words in ((0, "shortest"), (1, "longest")):
            moves = tuple((f"section.{section}.length", _feet(ends[place].value)) for section, ends in ranges.items())
            then = runners.first(moves)
            found.append(Turn("all lengths at once", STATED, "as drawn", words, words, then, then, (), then != here, True))
    return found


def _with_prices(answered: Answered, runners: _Runners, winner: Result) -> list[Turn]:
    """Candidates that only the rules stop at the lengths as drawn, and that could be cheaper: whether other lengths let them pass."""
    spans = answered.context.options.length_range
    if not spans or winner.bill.middle is None:
        return []
    own, prices, ranges = line_of(winner), middle_prices(answered), ranges_of(answered.results)
    for result in answered.results:
        if not _only_rules(result) or result.bill.middle is None:
            continue
        corner = favourable(line_of(result), own, ranges, prices)
        if line_of(result).score(corner) >= own.score(corner):
            continue
        for place, words in ((0, "shortest"), (1, "longest")):
            if runners.passes(result, tuple((f"section.{section}.length", _feet(ends[place].value)) for section, ends in spans.items())):
                name = result.candidate.name
                return [Turn("lengths and prices at once", STATED, "as drawn, middle prices", f"{words}, prices that favour {name}", f"{words}, prices that favour {name}", name, name, (), True, True)]
    return []


def _only_rules(result: Result) -> bool:
    """Whether nothing but rules of the permit stops a candidate."""
    others = {*ENERGY_RULES, BUDGET, "placement"}
    return result.electrical is not None and bool(result.reasons) and not result.unsettled and {reason.rule for reason in result.reasons}.isdisjoint(others)


def _feet(value: float) -> str:
    return f"{value:.6g} ft"


def _numeric(path: str, basis: str, now: float, ends: tuple[float, float], unit: str, runners: _Runners, here: str, decides: bool) -> Turn:
    def moves(value: float) -> Moves:
        return ((path, f"{value:.6g} {unit}".rstrip()),)

    moved = Moved(lambda value: runners.first(moves(value)), lambda value: runners.holds(moves(value)), lambda value: figure(value, unit))
    return turn_of(path, basis, now, ends, here, moved, decides)


def input_turns(answered: Answered, winner: Result) -> list[Turn]:
    """Inputs marked as assumed or to verify; those that change nothing share one line."""
    here = winner.candidate.name
    runners = _Runners(answered.context, here, _order(answered, winner))
    stated = set(answered.context.options.length_range)
    marked = [item for item in inputs_of_project(answered.context.base) if item.basis in MARKED and not item.path.startswith("options.")]
    items = [item for item in marked if range_of(item.path) is not None and not _is_stated(item.path, stated)]
    found, still = [], []
    for item in items[:MOST_INPUTS]:
        turn = _input_turn(item, runners, here)
        if turn is not None:
            (found if turn.changed else still).append(turn)
    if still:
        names = ", ".join(turn.what for turn in still[:4]) + (f" and {len(still) - 4} more" if len(still) > 4 else "")
        found.append(Turn(names, ASSUMED, "as written", "each over its plausible range", "each over its plausible range", here, here, (), False, False))
    if len(items) > MOST_INPUTS:
        left = f"{len(items) - MOST_INPUTS} further assumed inputs"
        found.append(Turn(left, ASSUMED, "as written", "not moved", "not moved", here, here, (), False, False))
    return found


def _is_stated(path: str, sections: set[str]) -> bool:
    return any(path == f"section.{section}.length" for section in sections)


def _input_turn(item: Input, runners: _Runners, here: str) -> Turn | None:
    """One assumed input at every value of its plausible range."""
    span = range_of(item.path)
    assert span is not None
    decides = item.path.endswith((f".{LENGTH}", ".distance"))
    if item.value is not None and not span.words:
        ends = [item.value + difference for difference in span.differences] + [item.value * factor for factor in span.factors]
        unit = item.unit
        return _numeric(item.path, ASSUMED, item.value, (min(ends), max(ends)), unit, runners, here, decides)
    tried = span.tried(item)
    if not tried:
        return None
    firsts = {str(value): runners.first(((item.path, value),)) for value in tried}
    other = next((value for value, then in firsts.items() if then != here), None)
    at = other if other is not None else str(tried[0])
    return Turn(item.path, ASSUMED, item.as_written or "", " or ".join(firsts), " or ".join(firsts), firsts[at], firsts[at], (), other is not None, decides)
