"""Arithmetic that remembers itself: same value as floats, and a printed line that is true."""

from __future__ import annotations

import math

import pytest
from hypothesis import given as given_values
from hypothesis import settings
from hypothesis import strategies as st

from linecalc.term import (
    Rendered,
    Term,
    evaluate,
    exact,
    given,
    inputs_of,
    label,
    largest,
    named,
    named_terms,
    shortest,
    smallest,
    sqrt,
    total,
)

ISC = given(13.9, "A", "Isc", "equipment.mod.isc", "short-circuit current")
NUMBERS = st.one_of(st.integers(min_value=-1000, max_value=1000).map(float), st.floats(min_value=-1000, max_value=1000).filter(lambda x: abs(x) > 1e-3))


def i_max(isc):
    return named(1.25 * isc, "I_max", "A", "maximum current", "pv_max_current")


def test_a_kernel_gives_the_same_with_floats_and_terms():
    assert i_max(13.9) == i_max(ISC).value == 17.375


def test_a_float_stays_a_float():
    assert type(i_max(13.9)) is float
    assert label(17.375, "S1.I_max") == 17.375
    assert largest(1.0, 2.0) == 2.0 and smallest(1.0, 2.0) == 1.0 and sqrt(4.0) == 2.0 and total([1.0, 2.0]) == 3.0


def test_formula_substitution_and_result_come_from_one_term():
    line = Rendered(i_max(ISC))
    assert line.formula == "1.25 x Isc"
    assert line.substitution == "1.25 x 13.9 A"
    assert line.result == "17.38"
    assert line.expression == "1.25 * 13.9"


def test_a_named_term_stands_in_later_lines_by_its_symbol():
    design = named(1.25 * i_max(ISC), "I_design", "A", "design current")
    line = Rendered(design)
    assert line.formula == "1.25 x I_max"
    assert line.substitution == "1.25 x 17.38 A"
    assert [term.symbol for term in named_terms(design)] == ["I_max", "I_design"]
    assert [term.symbol for term in inputs_of(design)] == ["I_max"]


def test_a_renamed_term_is_a_step_of_its_own():
    renamed = named(i_max(ISC), "I_S1", "A", "current of the string")
    assert renamed.op == "="
    assert Rendered(renamed).formula == "I_max"
    assert [term.symbol for term in named_terms(renamed)] == ["I_max", "I_S1"]


def test_an_input_carries_its_origin_and_is_no_step():
    assert ISC.origin == "equipment.mod.isc"
    assert list(named_terms(ISC)) == []
    assert inputs_of(i_max(ISC)) == [ISC]


def test_a_label_changes_only_the_step_id():
    term = i_max(ISC)
    labelled = label(term, "S1.I_max")
    assert labelled.id == "S1.I_max"
    assert (labelled.value, labelled.unit, labelled.symbol) == (term.value, term.unit, term.symbol)
    assert (labelled.op, labelled.args) == (term.op, term.args)
    assert label(ISC, "x") is ISC


a, b, c = (given(value, "A", symbol, symbol) for value, symbol in ((2.0, "a"), (3.0, "b"), (4.0, "c")))


@pytest.mark.parametrize(
    ("term", "formula"),
    [
        (a + b * c, "a + b x c"),
        ((a + b) * c, "(a + b) x c"),
        (a - (b - c), "a - (b - c)"),
        (a - b - c, "a - b - c"),
        (a / (b * c), "a / (b x c)"),
        (a / b / c, "a / b / c"),
        (a * (b / c), "a x b / c"),
        (-(a + b), "-(a + b)"),
        (-a * b, "(-a) x b"),
        (a + -b, "a + (-b)"),
        (2.0 - a, "2 - a"),
        (1.0 / a, "1 / a"),
        (largest(a, b, c), "max(a, b, c)"),
        (smallest(a + b, 1.0), "min(a + b, 1)"),
        (sqrt(a * a + b * b), "sqrt(a x a + b x b)"),
        (a * (1.0 + -0.26 / 100.0 * (b - 25.0)), None),
    ],
)
def test_parentheses_stand_where_they_are_needed(term, formula):
    line = Rendered(term)
    assert formula is None or line.formula == formula
    assert evaluate(line.expression) == pytest.approx(term.value, rel=1e-9)


def test_a_negative_input_is_put_in_parentheses():
    low = given(-14.0, "degC", "T", "site.low_temperature")
    assert Rendered(25.0 - low).substitution == "25 - (-14 degC)"
    assert Rendered(25.0 - low).expression == "25 - (-14)"


OPERATIONS = st.sampled_from(["+", "-", "*", "/", "max", "min"])


def kept(left, right, result) -> bool:
    """Whether a sum keeps its digits: ten printed digits say nothing of a difference of nearly equal numbers."""
    return abs(result) >= 1e-2 * (abs(left.value) + abs(right.value))


@st.composite
def trees(draw, depth=3):
    """A random expression over inputs and constants."""
    if depth == 0 or draw(st.booleans()):
        value = draw(NUMBERS)
        return given(value, "A", f"x{draw(st.integers(0, 9))}", "input") if draw(st.booleans()) else Term(value)
    left, right = draw(trees(depth=depth - 1)), draw(trees(depth=depth - 1))
    match draw(OPERATIONS):
        case "+":
            found = left + right if kept(left, right, left.value + right.value) else largest(left, right)
        case "-":
            found = left - right if kept(left, right, left.value - right.value) else largest(left, right)
        case "*":
            found = left * right
        case "/":
            found = left / right if abs(right.value) > 1e-6 else largest(left, right)
        case "max":
            found = largest(left, right)
        case _:
            found = smallest(left, right)
    return named(found, "y", "A", "a step") if draw(st.booleans()) else found


@settings(max_examples=200, deadline=None)
@given_values(trees())
def test_every_expression_evaluates_to_the_value(term):
    if not math.isfinite(term.value):
        return
    assert evaluate(Rendered(term).expression) == pytest.approx(term.value, rel=1e-6)


@settings(max_examples=200, deadline=None)
@given_values(st.lists(st.floats(min_value=0.001, max_value=5000), min_size=1, max_size=4), st.sampled_from([1.25, 0.8, 1.56, 3.0]))
def test_the_printed_line_is_true_with_the_digits_printed(values, factor):
    inputs = [given(value, "", f"x{index}", "input") for index, value in enumerate(values)]
    line = Rendered(named(factor * total(inputs), "y", "", "sum"))
    printed = evaluate(line.substitution.replace(" x ", " * "))
    assert any(shortest(printed, digits) == line.result for digits in range(4, 13))


def test_a_limit_broken_by_little_is_printed_with_enough_digits():
    assert shortest(200.4, 4) == "200.4"
    line = Rendered(named(given(100.2, "A", "a", "x") * 2.0, "y", "A", "twice"))
    assert line.result == "200.4"


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (17.375, 4, "17.38"),
        (200.0, 4, "200"),
        (123456.0, 4, "123456"),
        (1200.4, 2, "1200"),
        (0.00012345, 3, "0.000123"),
        (1e-12, 4, "0.000000000001"),
        (0.0, 4, "0"),
        (-2.5, 4, "-2.5"),
    ],
)
def test_numbers_are_printed_without_exponents_and_needless_zeros(value, digits, text):
    assert shortest(value, digits) == text


def test_ten_digits_go_into_the_expression():
    assert exact(1 / 3) == "0.3333333333"
    assert exact(40.0) == "40"


@pytest.mark.parametrize(
    "text", ["__import__('os')", "a + 1", "2 ** 9", "[1]", "max(1, b=2)", "abs(1)", "1 if 1 else 2", "True", "'x'", "lambda: 1", "1 < 2"]
)
def test_only_plain_arithmetic_is_evaluated(text):
    with pytest.raises(ValueError):
        evaluate(text)


def test_comparison_looks_at_values():
    assert a < b and a <= 2.0 and b > 2.9 and c >= b and not a > b


def test_named_terms_come_once_and_arguments_first():
    first = named(a + b, "s", "A", "sum")
    second = named(first * first, "q", "", "square")
    third = named(second + first, "t", "", "together")
    assert [term.symbol for term in named_terms(third)] == ["s", "q", "t"]


def test_a_long_chain_is_walked_without_recursion():
    term = named(a + 0.0, "y0", "A", "start")
    for index in range(5000):
        term = named(term + 1.0, f"y{index + 1}", "A", "next")
    assert sum(1 for _ in named_terms(term)) == 5001
