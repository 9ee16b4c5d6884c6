"""Printed amounts say what the numbers are, and never hide a broken limit."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from linecalc.calc.compare import at_most
from linecalc.check import Sense
from linecalc.report.amounts import UNKNOWN, against, amount, both, json_number

AMPS = st.floats(min_value=1e-3, max_value=1e5, allow_nan=False)


def numbers(held):
    return float(held.demand.split()[0]), float(held.limit.split()[0])


@given(AMPS, AMPS)
@example(200.4, 200.0)
@example(200.00001, 200.0)
@example(199.99999, 200.0)
@example(0.1 + 0.2, 0.3)
def test_the_printed_relation_is_the_true_one(demand, limit):
    left, right = numbers(shown := against(demand, limit, "A"))
    assert shown.sign == ("<=" if at_most(demand, limit) else ">")
    assert left <= right if shown.sign == "<=" else left > right


@given(AMPS, AMPS)
def test_the_same_holds_for_limits_from_below(demand, limit):
    left, right = numbers(shown := against(demand, limit, "A", Sense.AT_LEAST))
    assert shown.sign == (">=" if at_most(limit, demand) else "<")
    assert left >= right if shown.sign == ">=" else left < right


def test_more_digits_are_shown_only_where_they_are_needed():
    assert against(17.375, 20.0, "A").relation == "17.38 A <= 20 A"
    assert against(200.04, 200.0, "A").relation == "200.04 A > 200 A"


def test_a_margin_of_nothing_is_said_to_be_at_the_limit():
    assert against(240.0, 240.0, "A").margin == "exactly at the limit"


@pytest.mark.parametrize(
    ("demand", "limit", "sense", "margin"),
    [
        (50.0, 40.0, Sense.AT_MOST, "10 A over"),
        (30.0, 40.0, Sense.AT_MOST, "10 A to spare"),
        (30.0, 40.0, Sense.AT_LEAST, "10 A short"),
        (50.0, 40.0, Sense.AT_LEAST, "10 A to spare"),
    ],
)
def test_the_margin_says_which_way(demand, limit, sense, margin):
    assert against(demand, limit, "A", sense).margin == margin


def test_a_reviewer_reads_lengths_and_temperatures_in_both_systems():
    assert both(34.0, "ft") == "34 ft (10.4 m)"
    assert both(-14.0, "degC") == "-14 degC (6.8 degF)"


def test_amperes_have_one_unit():
    assert both(17.375, "A") == amount(17.375, "A") == "17.38 A"


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_not_known_is_said_in_words_and_null_in_json(value):
    assert amount(value, "A") == both(value, "ft") == UNKNOWN
    assert json_number(value) is None


@pytest.mark.parametrize(("value", "shown"), [(1 / 3, 0.3333333333), (40.0, 40), (2e20, 2e20), (None, None), (0.1 + 0.2, 0.3)])
def test_json_carries_ten_significant_digits(value, shown):
    assert json_number(value) == shown and type(json_number(value)) is type(shown)
