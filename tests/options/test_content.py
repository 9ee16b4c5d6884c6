"""What is shown: rows, counts, the sentence of the answer, parts and their sum."""

from __future__ import annotations

from dataclasses import replace

import pytest

from linecalc.options.content import (
    COLUMNS,
    FIGURES_HEAD,
    GROWTH_HEAD,
    HOURS_HEAD,
    LOST_HEAD,
    PARTS_HEAD,
    POWER_HEAD,
    STEP_HEAD,
    TURN_HEAD,
    Content,
    candidate_rows,
    candidates_head,
    figures_rows,
    first_failures,
    growth_rows,
    hours_rows,
    lost_rows,
    parts_rows,
    power_rows,
    ranking_words,
    row_of,
    shown,
    turn_rows,
    verdict_counts,
    verdict_line,
)
from linecalc.options.records import Reason


def test_every_table_has_as_many_cells_as_its_head(storage: Content, array: Content):
    found = storage.answer.winner
    tables = [
        (HOURS_HEAD, hours_rows(storage, found)), (LOST_HEAD, lost_rows(found)), (POWER_HEAD, power_rows(found)), (PARTS_HEAD, parts_rows(storage, found)),
        (FIGURES_HEAD, figures_rows(storage, found)), (STEP_HEAD, storage.unit_steps[0].rows), (TURN_HEAD, turn_rows(storage)),
        (GROWTH_HEAD, growth_rows(array.growth[0])), (candidates_head(storage), candidate_rows(storage)),
    ]
    for head, rows in tables:
        assert rows and {len(row) for row in rows} == {len(head)}, head
        assert all(isinstance(cell, str) for row in rows for cell in row)


def test_the_row_of_a_candidate_has_every_column_and_its_own_figures(storage: Content):
    row = row_of(storage, storage.answer.winner)
    assert set(row) == set(COLUMNS)
    assert (row["units"], row["storage_modules"], row["pv_modules"]) == (1, 2, 18)
    assert row["nominal_kwh"] == pytest.approx(31.2) and row["dc_kw"] == pytest.approx(7.56) and row["space_in"] == 110.0
    assert row["array_usable_room_kw"] == pytest.approx(7.6 + 3 * 5.0)


def test_what_cannot_be_built_shows_dashes_and_its_reason(storage: Content):
    bare = replace(storage.answer.failing[0], plant=None, hours=(), layout=None, reasons=(Reason("inputs", "", "too many strings"),), bill=replace(storage.answer.winner.bill, low=None, high=None))
    row = row_of(storage, bare)
    assert row["first_reason"] == "too many strings" and row["hours_least"] is None and row["cost_low"] is None
    assert shown(row["hours_least"]) == "-"


@pytest.mark.parametrize("value, text", [(None, "-"), (0.0, "0.0"), (12.345, "12.3"), (999.96, "1000.0"), (28940.0, "28,940"), (-1500.0, "-1,500"), (3, "3"), ("x", "x")])
def test_cells_are_short(value: str | float | int | None, text: str):
    assert shown(value) == text


def test_passing_candidates_come_first_and_failing_ones_last(storage: Content):
    verdicts = [row[1] for row in candidate_rows(storage)]
    assert verdicts == sorted(verdicts, key=["passes", "not settled", "fails"].index)
    assert len(first_failures(storage)) == verdicts.count("fails") and sum(verdict_counts(storage).values()) == len(verdicts)


def test_only_candidates_that_pass_are_on_the_front(units: Content):
    assert {row[1] for row in candidate_rows(units) if row[-2] == "yes"} == {"passes"}


def test_parts_add_up_and_those_ordered_together_follow_each_other(storage: Content):
    rows = parts_rows(storage, storage.answer.winner)
    names = [row[0] for row in rows]
    assert names.index("mount-kit") == names.index("unit-76") + 1
    assert set(names[names.index("store-104") + 1 : names.index("store-104") + 3]) == {"stacking-kit", "harness-short"}
    assert rows[-1][:1] + rows[-1][3:4] == ("together, USD", "28,940 to 30,340")
    low = sum(int(row[3].split(" to ")[0].replace(",", "")) for row in rows[:-1])
    assert low == 28_940


def test_a_budget_stands_beside_the_sum(storage: Content):
    context = storage.answered.context
    limited = replace(context, options=context.options.model_copy(update={"budget": 31_000.0}))
    shown_budget = replace(storage, answered=replace(storage.answered, context=limited))
    assert parts_rows(shown_budget, storage.answer.winner)[-1][-1] == "budget 31,000 USD"


def test_a_part_without_a_price_leaves_the_sum_open(storage: Content):
    winner = storage.answer.winner
    bill = replace(winner.bill, parts=tuple(replace(part, price=None) if part.item == "store-104" else part for part in winner.bill.parts), low=None, high=None, unpriced=("store-104",))
    rows = parts_rows(storage, replace(winner, bill=bill))
    assert rows[-1][3] == "no price of store-104" and next(row for row in rows if row[0] == "store-104")[2] == "no price"


def test_hours_at_the_end_of_the_simulation_say_or_more(storage: Content):
    cells = {row[:3]: row[3] for row in hours_rows(storage, storage.answer.winner)}
    assert cells["spring", "no sun", "new"] == "72.0 h or more" and cells["winter", "no sun", "aged"] == "32.8 h"


def test_the_meaning_of_hours_is_said(storage: Content):
    words = ranking_words(storage)
    assert "24 starting hours" in words and "no sun" in words and "70 %" in words and "15 min" in words


def test_what_is_open_and_would_come_first_is_named(storage: Content):
    """The winner's own cheaper neighbour, were it only not settled."""
    open_one = replace(next(found for found in storage.answer.failing if found.candidate.name == "1u1m-A18"), reasons=(), unsettled=(Reason("placement", "", "width not given"),))
    found = replace(storage, answer=replace(storage.answer, unsettled=(open_one,)))
    assert verdict_line(found).endswith("1u1m-A18 would come before it, but is not settled: width not given.")
    dear = replace(open_one, bill=replace(open_one.bill, low=90_000.0, high=90_000.0))
    assert "would come before" not in verdict_line(replace(storage, answer=replace(storage.answer, unsettled=(dear,))))


def test_without_a_first_choice_only_the_counts_are_said(storage: Content):
    found = replace(storage, answer=replace(storage.answer, winner=None, passing=()), turns=())
    assert verdict_line(found) == "0 of 16 candidates pass, 0 are not settled, 8 fail."
    assert found.shown_result is not None


def test_the_candidate_shown_in_full_is_the_first_choice_else_the_first_that_is_open(storage: Content):
    assert storage.shown_result is storage.answer.winner
    open_one = replace(storage.answer.failing[0], reasons=(), unsettled=(Reason("x", "", "y"),))
    assert replace(storage, answer=replace(storage.answer, winner=None, unsettled=(open_one,))).shown_result is open_one
