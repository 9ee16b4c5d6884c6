"""Which assumption changes the first choice, and at which value: hand-worked crossings, stated ranges, undecided answers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.options.answer import winner_of
from linecalc.options.content import Content, turn_rows, verdict_line
from linecalc.options.energy_turns import axes_of, axis_turns, basis_of
from linecalc.options.price_turns import VALUE, Line, favourable, first_of, flips_of, joint_turn, lines_of, middle_prices, price_turns, ranges_of
from linecalc.options.records import Reason, Result, Verdict
from linecalc.options.rule_turns import input_turns, length_turns, rule_turns
from linecalc.options.run import Answered, results_of, run_options
from linecalc.options.turning import ASSUMED, NOBODY, STATED, Flip, Moved, Turn, figure, halved, resting_on, turn_of, undecided
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
BASE = read_project(EXAMPLES / "options_storage.toml")
A18 = {"A18": {"strings": [9, 9], "tilt": [22.0], "azimuth": [190.0]}}

# Two candidates: at 9,000 a unit and 5,000 a module A costs 19,000 and B 23,000.
A = Line("A", {"unit": 1.0, "module": 2.0, VALUE: 0.0}, (0.0,))
B = Line("B", {"unit": 2.0, "module": 1.0, VALUE: 0.0}, (0.0,))
PRICES = {"unit": 9000.0, "module": 5000.0, VALUE: 0.0}


def test_the_break_even_price_is_where_both_cost_the_same():
    """B has one unit more and one module less: 4,000 dearer, equal with units at 5,000 or modules at 9,000."""
    assert flips_of("unit", (A, B), A, PRICES, None, "{:.0f}") == (Flip("below", 5000.0, "5000", "B"),)
    assert flips_of("module", (A, B), A, PRICES, None, "{:.0f}") == (Flip("above", 9000.0, "9000", "B"),)


def test_a_part_that_all_hold_alike_changes_nothing():
    both = tuple(replace(line, counts={**line.counts, "panel": 1.0}) for line in (A, B))
    assert flips_of("panel", both, both[0], {**PRICES, "panel": 300.0}, None, "{}") == ()


def test_the_nearest_rival_gives_the_break_even_price():
    near = Line("C", {"unit": 2.0, "module": 1.5, VALUE: 0.0}, (0.0,))
    (found,) = flips_of("unit", (A, B, near), A, {**PRICES, "module": 2000.0}, None, "{:.0f}")
    # A 13,000, B 20,000, C 21,000: B first, at 9,000 - 7,000.
    assert (found.value, found.winner) == (2000.0, "B")


def test_prices_that_change_nothing_one_by_one_may_do_so_together():
    """Units from 6,500 take 2,500 off the 4,000, modules up to 7,000 another 2,000."""
    ranges = {"unit": (6500.0, 11500.0), "module": (3000.0, 7000.0)}
    for item, span in ranges.items():
        assert {first_of((A, B), {**PRICES, item: price}, None) for price in span} == {"A"}
    turn = joint_turn((A, B), A, ranges, PRICES, None)
    assert turn.changed and turn.at_low == "B" and "unit at 6,500, module at 7,000" in turn.low
    assert not joint_turn((A, B), A, {"unit": (7000.0, 11000.0), "module": (4000.0, 6000.0)}, PRICES, None).changed


@settings(max_examples=80, deadline=None)
@given(
    counts=st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3), st.integers(0, 3)), min_size=2, max_size=6),
    spans=st.lists(st.tuples(st.integers(0, 20), st.integers(0, 20)), min_size=3, max_size=3),
)
def test_the_joint_corner_is_the_worst_of_all_corners(counts: list[tuple[int, int, int]], spans: list[tuple[int, int]]):
    items = ("x", "y", "z")
    ranges = {item: (float(min(span)), float(max(span))) for item, span in zip(items, spans, strict=True)}
    prices = {item: (low + high) / 2.0 for item, (low, high) in ranges.items()}
    lines = tuple(Line(f"L{number}", dict(zip(items, map(float, each), strict=True)), (float(number),)) for number, each in enumerate(counts))
    own = next(line for line in lines if line.name == first_of(lines, prices, None))
    for line in lines:
        corner = favourable(line, own, ranges, prices)
        ahead = line.score(corner) - own.score(corner)
        for picks in range(8):
            other = {item: ranges[item][(picks >> place) & 1] for place, item in enumerate(items)}
            assert ahead <= line.score(other) - own.score(other) + 1e-9


def test_a_budget_stops_the_first_choice_above_a_price():
    """A costs 19,000; with 20,000 to spend its two modules may cost 500 more each, then nothing is left."""
    (found,) = (flip for flip in flips_of("module", (A,), A, PRICES, 20_000.0, "{:.0f}") if flip.side == "above")
    assert (found.value, found.winner) == (5500.0, NOBODY)


def test_what_only_the_budget_leaves_open_may_become_the_first_choice(storage: Content):
    open_ones = tuple(replace(found, unsettled=(Reason("budget", "", "within"),)) for found in storage.answer.passing)
    assert {line.name for line in lines_of(open_ones)} == {found.candidate.name for found in storage.answer.passing}
    other = tuple(replace(found, unsettled=(Reason("placement", "", "not given"),)) for found in storage.answer.passing)
    assert lines_of(other) == ()


def test_break_even_prices_of_a_study_agree_with_ranking_it_again(storage: Content):
    """On either side of the printed price of a module the ranking by plain cost gives the winner that is printed."""
    turn = next(turn for turn in storage.turns if turn.what == "price of store-104")
    (flip,) = turn.flips
    settings_, passing = storage.answered.context.settings, storage.answer.passing
    for price, winner in ((flip.value - 1.0, turn.at_low), (flip.value + 1.0, flip.winner)):
        assert winner_of(tuple(_at(found, "store-104", price) for found in passing), settings_).candidate.name == winner


def _at(result: Result, item: str, price: float) -> Result:
    cost = sum(part.count * (price if part.item == item else sum(part.price) / 2.0) for part in result.bill.parts)
    return replace(result, bill=replace(result.bill, low=cost, high=cost))


def test_the_value_of_energy_has_its_break_even_too(array: Content):
    """A18 costs 6 x 420 = 2,520 more and is used more: it pays from 2,520 / that energy on."""
    from linecalc.options.answer import used_a_year_kwh

    by_name = {found.candidate.name: found for found in array.answered.results}
    more = used_a_year_kwh(by_name["1u0m-A18"]) - used_a_year_kwh(by_name["1u0m-A12"])
    flip = next(flip for turn in array.turns if turn.what == VALUE for flip in turn.flips if flip.side == "above")
    assert (flip.value, flip.winner) == (pytest.approx(2520.0 / more), "1u0m-A18")


def test_prices_within_their_range_leave_the_answer_decided(storage: Content):
    assert not storage.undecided
    assert "first choice" in verdict_line(storage) and "Undecided" not in verdict_line(storage)
    assert next(turn for turn in storage.turns if turn.what == "all prices at once").at_low == storage.answer.winner.candidate.name


def test_a_price_range_that_holds_the_break_even_leaves_it_undecided(storage: Content):
    """The break-even price of a module is 10,380: 4,000 to 12,000 holds it, 4,000 to 10,300 does not."""
    for high, open_ in ((12_000.0, True), (10_300.0, False)):
        answered = _priced(storage, "store-104", (4000.0, high))
        turn = next(turn for turn in price_turns(answered, _winner(answered)) if turn.what == "price of store-104")
        assert bool(undecided((turn,))) is open_


def _priced(content: Content, item: str, price: tuple[float, float]) -> Answered:
    """The same study with another price."""

    def moved(result: Result) -> Result:
        parts = tuple(replace(part, price=price) if part.item == item else part for part in result.bill.parts)
        if any(part.price is None for part in parts):
            return result
        low, high = (sum(part.count * part.price[end] for part in parts) for end in (0, 1))
        return replace(result, bill=replace(result.bill, parts=parts, low=low, high=high))

    return replace(content.answered, results=tuple(moved(found) for found in content.answered.results))


def _winner(answered: Answered) -> Result:
    found = winner_of(tuple(found for found in answered.results if found.verdict is Verdict.PASSES), answered.context.settings)
    assert found is not None
    return found


def test_the_words_of_an_undecided_answer_name_price_range_and_rival(storage: Content):
    answered = _priced(storage, "store-104", (4000.0, 12_000.0))
    turned = replace(storage, answered=answered, turns=tuple(price_turns(answered, _winner(answered))))
    line = verdict_line(turned)
    assert "Undecided: 1u2m-A18 by the middle of every range" in line
    assert "price of store-104 (4,000 USD to 12,000 USD) changes it: 2u1m-A18 above 1" in line
    assert any("(undecided)" in row[-1] for row in turn_rows(turned))


@cache
def _lengths() -> tuple[Answered, Result]:
    """Case 1 with cheap units, so that two units are the first choice; their feeder is the larger one, and 12 kA at the meter."""
    moved = [("options.price.unit-76", 4000), ("service.fault_current", "12 kA"), ("section.R4.length", "40 ft"), ("options.array", A18), ("options.modules_per_unit", [0, 2])]
    answered = run_options(with_values(BASE, moved), workers=1)
    return answered, _winner(answered)


def _ranged(**ranges: list[str]) -> list[Turn]:
    answered, winner = _lengths()
    options = with_values(answered.context.base, [("options.length_range", ranges)]).options
    return length_turns(replace(answered, context=replace(answered.context, options=options)), winner)


def test_a_length_range_that_changes_the_first_choice_leaves_it_undecided():
    """Close to the service the larger feeder lets more than 10 kA through; the smaller feeder of one unit does not."""
    assert _lengths()[1].candidate.name == "2u1m-A18"
    turn = next(turn for turn in _ranged(R4=["2 ft", "60 ft"]) if turn.what == "section.R4.length")
    assert (turn.basis, turn.now, turn.at_low, turn.at_high) == (STATED, "40 ft", "1u2m-A18", "2u1m-A18")
    assert undecided((turn,)) and 2.0 < turn.flips[0].value < 10.0 and turn.flips[0].side == "below"


def test_a_length_range_that_stays_on_one_side_leaves_it_decided():
    found = _ranged(R4=["10 ft", "60 ft"])
    assert not undecided(tuple(found))
    assert next(turn for turn in found if turn.what == "section.R4.length").change_text == "no change"


def test_lengths_are_also_moved_all_at_once():
    """R4 down to 6 ft alone holds, R5 down to 1 ft alone holds; both together let too much current through."""
    found = {(turn.what, turn.low): turn for turn in _ranged(R4=["6 ft", "60 ft"], R5=["1 ft", "8 ft"])}
    assert not found["section.R4.length", "6 ft"].changed and not found["section.R5.length", "1 ft"].changed
    assert found["all lengths at once", "shortest"].changed
    assert not found["all lengths at once", "longest"].changed


def test_what_only_the_rules_stop_as_drawn_may_win_with_other_lengths_and_prices():
    """As drawn at 2 ft two units fail by the rules; units cheap, and longer, they would be first."""
    answered, winner = _lengths()
    options = with_values(answered.context.base, [("options.length_range", {"R4": ["2 ft", "60 ft"]})]).options
    failed = tuple(replace(found, reasons=(Reason("interrupting", "BP", "10 kA"),)) if found.candidate == winner.candidate else found for found in answered.results)
    short = replace(answered, context=replace(answered.context, options=options), results=failed)
    found = next(turn for turn in length_turns(short, _winner(short)) if turn.what == "lengths and prices at once")
    assert (found.at_low, found.decides) == (winner.candidate.name, True)


def test_a_length_that_is_only_assumed_leaves_the_answer_undecided_too():
    """5 ft as assumed, 20 % less to 25 % more: 4 ft is too close to the service for the larger feeder."""
    answered, winner = _lengths()
    base = with_values(answered.context.base, [("section.R4.length", {"value": "5 ft", "basis": "assumed", "source": "not measured"})])
    turn = next(turn for turn in input_turns(replace(answered, context=replace(answered.context, base=base)), winner) if turn.what == "section.R4.length")
    assert (turn.basis, turn.low, turn.high, turn.at_low) == (ASSUMED, "4 ft", "6.25 ft", "1u2m-A18")
    assert undecided((turn,)) and not resting_on((turn,))


def test_assumed_inputs_of_the_project_are_moved_over_their_plausible_range(storage: Content):
    turn = next(turn for turn in storage.turns if turn.what == "service.fault_current")
    assert (turn.basis, turn.low, turn.high) == (ASSUMED, "5,000 A", "20,000 A")
    assert turn.flips[0].winner == NOBODY and "rests on what was assumed: service.fault_current" in verdict_line(storage)
    assert turn in resting_on(storage.turns)


def test_assumed_inputs_that_change_nothing_share_a_line(storage: Content):
    (line,) = (turn for turn in storage.turns if "section.F1.ambient" in turn.what)
    assert not line.changed and "section.R2.ambient" in line.what


def test_hours_asked_for_change_the_first_choice_exactly_at_what_it_carries(storage: Content):
    turn = next(turn for turn in storage.turns if turn.what == "options.outages, hours asked for")
    own, fewer = (next(found for found in storage.answered.results if found.candidate.name == name).least_hours("none") for name in ("1u2m-A18", "1u1m-A18"))
    assert [(flip.side, flip.value) for flip in turn.flips] == [("up to", fewer), ("above", own)]


@pytest.mark.parametrize("season, first", [("winter", "1u2m-A18"), ("summer", "1u1m-A18")])
def test_an_outage_in_one_season_only_has_its_own_first_choice(storage: Content, season: str, first: str):
    assert next(turn.at_low for turn in storage.turns if turn.low == f"{season} only") == first


def test_the_load_always_moves_and_its_ends_agree_with_a_whole_study(units: Content):
    turn = next(turn for turn in units.turns if turn.what == "load, power of every load")
    answered = units.answered
    for factor, printed in ((0.8, turn.at_low), (1.2, turn.at_high)):
        results = results_of(answered.context, list(answered.builts), answered.context.settings, answered.context.profile.scaled(factor))
        passing = tuple(found for found in results if found.verdict is Verdict.PASSES)
        best = winner_of(tuple(replace(found, lost=_lost(units, found)) for found in passing), answered.context.settings)
        assert (best.candidate.name if best is not None else NOBODY) == printed


def _lost(content: Content, result: Result):
    return next(found.lost for found in content.answered.results if found.candidate == result.candidate)


def test_the_first_choice_changes_at_the_printed_age_and_not_before(units: Content):
    flip = next(turn for turn in units.turns if turn.what == "options.aged").flips[0]
    answered = units.answered
    context = answered.context
    for aged, changed in ((flip.value / 100.0, True), (flip.value / 100.0 - 0.005, False)):
        moved = replace(context, settings=replace(context.settings, aged=aged))
        results = results_of(moved, [answered.built(found) for found in answered.results if found.candidate.array.name == "A18"], moved.settings, context.profile)
        best = winner_of(tuple(replace(found, lost=_lost(units, found)) for found in results if found.verdict is Verdict.PASSES), moved.settings)
        assert (best.candidate != units.answer.winner.candidate) is changed


def test_what_is_not_given_is_marked_as_assumed(storage: Content):
    from linecalc.network.records import Assumption

    context = replace(storage.answered.context, assumptions=(Assumption("options.aged", "70 %", "not given"),), options=storage.answered.context.options.model_copy(update={"use": {}}))
    assert [basis_of(context, path) for path in ("options.aged", "load, power of every load", "options.reserve")] == [ASSUMED, ASSUMED, "given"]
    assert basis_of(storage.answered.context, "load, power of every load") == "given"
    assert [axis.path for axis in axes_of(context)] == [turn.what for turn in storage.turns if turn.what in {axis.path for axis in axes_of(context)}]


def test_without_a_first_choice_prices_and_lengths_are_not_moved(units: Content):
    assert price_turns(units.answered, None) == [] and rule_turns(units.answered, None) == []


def test_prices_of_a_study_are_the_middle_of_their_ranges(storage: Content):
    assert middle_prices(storage.answered)["unit-76"] == 9500.0 and ranges_of(storage.answered.results)["unit-76"] == (9200.0, 9800.0)


def test_halving_finds_the_value_from_which_it_no_longer_holds():
    moved = Moved(lambda value: "A" if value < 62.5 else "B", lambda value: value < 62.5, lambda value: figure(value, "%"))
    flip = halved(50.0, 100.0, moved)
    assert (flip.side, flip.winner) == ("above", "B") and 62.5 <= flip.value <= 62.5 + 50.0 / 2**7
    turn = turn_of("x", "given", 50.0, (0.0, 100.0), "A", moved)
    assert (turn.at_low, turn.at_high, len(turn.flips)) == ("A", "B", 1)


@pytest.mark.parametrize("value, text", [(14843.75, "14,840 A"), (0.125, "0.125 A"), (3.0, "3 A"), (1e6, "1,000,000 A")])
def test_figures_have_four_digits_and_no_powers_of_ten(value: float, text: str):
    assert figure(value, "A") == text


_EFFECT = {"options.aged": "aged", "options.starting_charge": "starting", "options.reserve": "reserve", "options.restart": "restart", "options.efficiency.storage_to_ac": "storage_to_ac"}


def _whole_study(content: Content, settings, standby: float = 1.0) -> str:
    """The first choice by simulating every candidate under moved settings, for as long as is asked."""
    answered = content.answered
    short = replace(settings, outages_h=(settings.asked_h,))
    context = replace(answered.context, days=tuple(day for day in answered.context.days if day.sun == settings.sun), year=None, settings=short)
    builts = [replace(built, plant=replace(built.plant, standby_w=built.plant.standby_w * standby)) for built in answered.builts if built.plant is not None]
    passing = [found for found in results_of(context, builts, short, context.profile) if found.verdict is Verdict.PASSES]
    best = winner_of(tuple(replace(found, lost=_lost(content, found)) for found in passing), settings)
    return best.candidate.name if best is not None else NOBODY


def test_both_ends_of_every_axis_agree_with_a_whole_study(units: Content):
    turned = {turn.what: turn for turn in units.turns}
    settings_ = units.answered.context.settings
    seen = set()
    for axis in axes_of(units.answered.context):
        for end, printed in zip(axis.ends, (turned[axis.path].at_low, turned[axis.path].at_high), strict=True):
            if axis.path in _EFFECT:
                assert _whole_study(units, replace(settings_, **{_EFFECT[axis.path]: end / 100.0})) == printed, axis.path
            elif axis.path == "options.standby_power":
                assert _whole_study(units, settings_, end / 100.0) == printed
            seen.add(printed)
    assert len(seen) > 2


def test_the_standby_draw_moves_the_plants_own(units: Content):
    """Twenty times the draw of two units leaves nobody who carries 8 h."""
    context = units.answered.context
    axis = replace(next(axis for axis in axes_of(context) if axis.path == "options.standby_power"), ends=(100.0, 2000.0))
    (turn,) = axis_turns(units.answered, units.answer.winner.candidate.name, (axis,))
    assert turn.at_high == _whole_study(units, context.settings, 20.0) != units.answer.winner.candidate.name


def test_with_sun_candidates_that_differ_in_their_array_are_told_apart(units: Content):
    """Ranked by a clear sky, hours depend on the array: asked for a little more than the smaller array carries, only the larger one passes."""
    answered = units.answered
    small, large = (next(found.least_hours("clear") for found in answered.results if found.candidate.name == name) for name in ("2u2m-A14", "2u2m-A18"))
    assert small < large
    settings_ = replace(answered.context.settings, sun="clear", asked_h=(small + large) / 2.0, outages_h=(24.0,), value_of_kwh_a_year=0.0)
    context = replace(answered.context, settings=settings_)
    results = tuple(replace(found, lost=_lost(units, found)) for found in results_of(context, list(answered.builts), settings_, context.profile))
    moved = replace(answered, context=context, results=results)
    first = _winner(moved)
    assert first.candidate.array.name == "A18"
    (turn,) = axis_turns(moved, first.candidate.name, tuple(axis for axis in axes_of(context) if axis.path == "options.restart"))
    assert turn.at_low == turn.at_high == first.candidate.name


def test_a_better_candidate_that_only_the_rules_stop_as_drawn_wins_where_a_length_lets_it():
    """Drawn at 2 ft the two units fail by the rules and one unit is first; from about 4.6 ft on the two units are."""
    answered, cheaper = _lengths()
    base = with_values(answered.context.base, [("section.R4.length", "2 ft"), ("options.length_range", {"R4": ["2 ft", "60 ft"]})])
    failed = tuple(replace(found, reasons=(Reason("interrupting", "BP", "10 kA"),)) if found.candidate == cheaper.candidate else found for found in answered.results)
    drawn = replace(answered, context=replace(answered.context, base=base, options=base.options), results=failed)
    turn = next(turn for turn in length_turns(drawn, _winner(drawn)) if turn.what == "section.R4.length")
    assert (turn.at_low, turn.at_high, turn.flips[0].side, turn.flips[0].winner) == ("1u2m-A18", "2u1m-A18", "above", "2u1m-A18")
    assert 2.0 < turn.flips[0].value < 10.0


@pytest.mark.parametrize("asked", [7.9, 8.1, 0.1])
def test_a_length_between_two_steps_can_be_carried(units: Content, asked: float):
    """A candidate without load to speak of carries any length; none is lost to the step of 15 min."""
    answered = units.answered
    settings_ = replace(answered.context.settings, asked_h=asked, outages_h=(asked,))
    built = answered.built(units.answer.winner)
    (found,) = results_of(replace(answered.context, settings=settings_), [built], settings_, answered.context.profile.scaled(0.01))
    assert found.least_hours("none") >= asked and not found.reasons
