"""Quantities: what is read, what is refused, and that conversion is exact."""

from __future__ import annotations

import math
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from linecalc import units
from linecalc.errors import QuantityError
from linecalc.units import DIMENSIONS, both_units, convert, format_quantity, parse_quantity


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("42 ft", units.LENGTH, 42.0),
        ("12 in", units.LENGTH, 1.0),
        ("0.3048 m", units.LENGTH, 1.0),
        ("30.48 cm", units.LENGTH, 1.0),
        ("304.8 mm", units.LENGTH, 1.0),
        ("25.4 mm", units.SMALL_LENGTH, 1.0),
        ("-14 degC", units.TEMPERATURE, -14.0),
        ("32 degF", units.TEMPERATURE, 0.0),
        ("212 °F", units.TEMPERATURE, 100.0),
        ("-40 F", units.TEMPERATURE, -40.0),
        ("9.6 kW", units.POWER, 9600.0),
        ("5.2 kVA", units.APPARENT_POWER, 5200.0),
        ("10 kA", units.CURRENT, 10_000.0),
        ("250 mA", units.CURRENT, 0.25),
        ("240 Vac", units.VOLTAGE, 240.0),
        ("10400 Wh", units.ENERGY, 10.4),
        ("2 min", units.TIME, 120.0),
        ("100 lb", units.MASS, 45.359237),
        ("100 sq m", units.AREA, 1076.3910416709722),
        ("2 %", units.PERCENT, 2.0),
        ("-0.26 %/K", units.RELATIVE_COEFFICIENT, -0.26),
        ("-0.26 %/°C", units.RELATIVE_COEFFICIENT, -0.26),
        ("-99 mV/K", units.VOLTAGE_COEFFICIENT, -0.099),
        ("-0.099 V/degC", units.VOLTAGE_COEFFICIENT, -0.099),
    ],
)
def test_each_unit_converts_to_the_canonical_one(text, dimension, value):
    found = parse_quantity(text, dimension)
    assert found.value == pytest.approx(value, rel=1e-12, abs=1e-12)
    assert found.unit == dimension.canonical
    assert found.as_written == text


@pytest.mark.parametrize("text", ["42 ft", "  42 ft ", "42   ft", "+42 ft", "42. ft", "4.2e1 ft", "42\tft", "42 feet"])
def test_spellings_of_one_length_are_equal(text):
    assert parse_quantity(text, units.LENGTH).value == 42.0


@pytest.mark.parametrize(
    "text",
    ["", " ", "ft", "42", "42ft", "42 ", "4 2 ft", "1,000 ft", "1_000 ft", "0x10 ft", "1/2 in", "42 ft ft", "42 ft; 3 m"]
    + ["nan ft", "inf ft", "--1 ft", "1e ft", "1e9999 ft", "٤٢ ft", "42 FT", "9**9**9 ft", "42 * 3 ft", "__import__('os') ft"]
    + ["42 ft**2", "42 meter", "42 \x00", "1 ft\n2 ft"],
)
def test_what_is_not_one_number_and_one_unit_is_refused(text):
    with pytest.raises(QuantityError):
        parse_quantity(text, units.LENGTH)


def test_text_that_an_expression_parser_would_compute_for_ever_returns_at_once():
    start = time.perf_counter()
    for text in ("9**9**9 ft", "9" * 150 + " ft", "(" * 100 + "1 ft", "1e999 ft"):
        with pytest.raises(QuantityError):
            parse_quantity(text, units.LENGTH)
    assert time.perf_counter() - start < 1.0


def test_text_of_more_than_200_characters_is_refused_unread():
    with pytest.raises(QuantityError, match="limit 200"):
        parse_quantity("1" * 201 + " ft", units.LENGTH)


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("-1 ft", units.LENGTH),
        ("20001 ft", units.LENGTH),
        ("-91 degC", units.TEMPERATURE),
        ("151 degC", units.TEMPERATURE),
        ("-1 A", units.CURRENT),
        ("201 kA", units.CURRENT),
        ("101 %", units.PERCENT),
        ("3 %/K", units.RELATIVE_COEFFICIENT),
    ],
)
def test_a_value_out_of_range_is_refused_with_the_range(text, dimension):
    with pytest.raises(QuantityError, match="outside the accepted range") as caught:
        parse_quantity(text, dimension)
    assert f"{dimension.highest:g} {dimension.canonical}" in str(caught.value)


@pytest.mark.parametrize(
    ("dimension", "written"),
    [
        (units.LENGTH, '"34" has no unit; write "34 ft" or "34 m"'),
        (units.SMALL_LENGTH, '"34" has no unit; write "34 in" or "34 mm"'),
        (units.TEMPERATURE, '"34" has no unit; write "34 degC" or "34 degF"'),
        (units.CURRENT, '"34" has no unit; write "34 A"'),
        (units.POWER, '"34" has no unit; write "34 W" or "34 kW"'),
        (units.PERCENT, '"34" has no unit; write "34 %"'),
        (units.RELATIVE_COEFFICIENT, '"34" has no unit; write "34 %/K"'),
    ],
)
def test_a_bare_number_is_told_what_to_write(dimension, written):
    with pytest.raises(QuantityError) as caught:
        parse_quantity("34", dimension)
    assert str(caught.value) == written


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda dimension: dimension.name)
def test_what_a_bare_number_is_told_to_write_is_accepted(dimension):
    with pytest.raises(QuantityError) as caught:
        parse_quantity("1", dimension)
    for written in str(caught.value).split('"')[3::2]:
        assert parse_quantity(written, dimension).unit == dimension.canonical


def test_an_unknown_unit_is_told_the_known_ones():
    with pytest.raises(QuantityError, match=r'unknown unit "V" in "42 V"; one of: ft, in, m, cm, mm, feet'):
        parse_quantity("42 V", units.LENGTH)


def test_the_first_dimension_that_knows_the_unit_is_taken():
    assert parse_quantity("-0.26 %/K", units.RELATIVE_COEFFICIENT, units.VOLTAGE_COEFFICIENT).unit == "percent/K"
    assert parse_quantity("-99 mV/K", units.RELATIVE_COEFFICIENT, units.VOLTAGE_COEFFICIENT).unit == "V/K"


def test_the_error_says_what_was_expected():
    with pytest.raises(QuantityError) as caught:
        parse_quantity("x", units.POWER, units.APPARENT_POWER)
    assert caught.value.expected == 'power or apparent power, like "9.6 kW" or "5.2 kVA"'


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda dimension: dimension.name)
def test_every_alias_and_the_example_of_a_dimension_read(dimension):
    assert parse_quantity(dimension.example, dimension).unit == dimension.canonical
    for alias, _ in dimension.aliases:
        assert math.isfinite(parse_quantity(f"1 {alias}", dimension).value)
    assert dimension.unit_of(dict(dimension.aliases) and dimension.aliases[0][0]) is not None


@given(st.floats(min_value=0.001, max_value=1000), st.sampled_from([("ft", "m"), ("in", "mm"), ("kg", "lb"), ("ft2", "m2"), ("kW", "W")]))
def test_converting_there_and_back_returns_the_value(value, pair):
    assert convert(convert(value, *pair), *reversed(pair)) == pytest.approx(value, rel=1e-12)


@given(st.floats(min_value=-80, max_value=140))
def test_temperatures_follow_nine_fifths_and_32(celsius):
    assert convert(celsius, "degC", "degF") == pytest.approx(celsius * 9 / 5 + 32, abs=1e-9)


@given(st.text(max_size=300))
def test_any_text_gives_a_quantity_or_a_quantity_error(text):
    try:
        found = parse_quantity(text, units.LENGTH)
    except QuantityError as error:
        assert str(error)
    else:
        assert 0.0 <= found.value <= 20_000.0


@given(st.floats(min_value=0, max_value=20_000))
def test_a_number_written_with_its_unit_reads_back(value):
    assert parse_quantity(f"{value!r} ft", units.LENGTH).value == value


def test_a_basis_is_kept_beside_an_unchanged_value():
    plain = parse_quantity("42 ft", units.LENGTH)
    assumed = plain.with_basis("assumed", "drawing")
    assert (plain.basis, assumed.basis, assumed.source) == ("given", "assumed", "drawing")
    assert assumed.value == plain.value


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (42.0, "ft", "42 ft"),
        (17.375, "A", "17.38 A"),
        (2.0, "percent", "2 %"),
        (-0.26, "percent/K", "-0.26 %/K"),
        (123456.0, "W", "123456 W"),
        (0.0, "V", "0 V"),
    ],
)
def test_quantities_are_printed_with_four_digits_and_the_trade_s_sign(value, unit, text):
    assert format_quantity(value, unit) == text


def test_both_systems_are_printed_where_a_reviewer_wants_them():
    assert both_units(34.0, "ft") == "34 ft (10.4 m)"
    assert both_units(36.0, "degC") == "36 degC (96.8 degF)"
    assert both_units(40.0, "A") == "40 A"


@pytest.mark.parametrize(("unit", "second"), [("ft", "m"), ("in", "mm"), ("ft2", "m2"), ("kg", "lb"), ("degC", "degF")])
@pytest.mark.parametrize("value", [-40.0, 0.0, 37.5, 1e4])
def test_the_second_unit_of_a_printed_amount_is_what_pint_makes_of_it(unit, second, value):
    assert convert(value, unit, second) == pytest.approx(units.registry().Quantity(value, unit).to(second).magnitude, rel=1e-12, abs=1e-9)
