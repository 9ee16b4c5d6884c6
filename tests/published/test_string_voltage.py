"""Published worked examples of string voltage, cold and hot."""

import math

import pytest

from linecalc.calc.compare import at_most
from linecalc.calc.pv import cold_voltage, cold_voltage_by_table, cold_voltage_by_volts, hot_voltage, relative_coefficient
from linecalc.codebook import EDITIONS, Book, open_book


@pytest.fixture(params=EDITIONS)
def book(request: pytest.FixtureRequest) -> Book:
    return open_book(request.param)


# Source: Global Sustainable Energy Solutions, worksheet "Calculating Module Voltages" (2011),
# https://www.scribd.com/document/700873953/Calculating-Module-Voltages-1. No code table used.
def test_a_module_of_45_8_v_with_0_13_v_per_degree_has_49_05_v_at_0_degc() -> None:
    assert cold_voltage_by_volts(45.8, 1, -0.13, 0.0) == pytest.approx(49.05)


# Source: the same. Its coefficients are in V/K.
@pytest.mark.parametrize(
    ("vmp_v", "volts_per_k", "cell_c", "published_v"), [(35.4, -0.16, 55.0, 30.6), (36.4, -0.17, 70.0, 28.75)]
)
def test_hot_working_voltages_of_one_module(vmp_v: float, volts_per_k: float, cell_c: float, published_v: float) -> None:
    assert hot_voltage(vmp_v, 1, relative_coefficient(volts_per_k, vmp_v), cell_c) == pytest.approx(published_v)


# Source: "NABCEP review 4", a training class's question set, https://jeopardylabs.com/play/nabcep-review-4.
def test_49_v_at_minus_0_24_percent_per_degree_are_52_79_v_at_minus_7_2_degc() -> None:
    assert round(cold_voltage(49.0, 1, -0.24, -7.2), 2) == 52.79


# Source: amozeshbargh.ir, post 69, https://amozeshbargh.ir/post-69.
def test_49_5_v_are_53_66_v_at_minus_5_degc_and_eighteen_modules_stay_below_1000_v() -> None:
    assert round(cold_voltage(49.5, 1, -0.28, -5.0), 2) == 53.66
    assert at_most(cold_voltage(49.5, 18, -0.28, -5.0), 1000.0)
    assert not at_most(cold_voltage(49.5, 19, -0.28, -5.0), 1000.0)


# Source: HeatSpring, "50 practice questions" for the NABCEP installer exam, question 3,
# https://wixlib.com/document/14626_nabcep-s-solar-pv-installer-exam-is-notoriously-hard-here.html:
# 37 V x 1.20 = 44.4 V, thirteen modules at 600 V. It prints 13.4 for the quotient, which is 13.51.
# Checked against the current table: yes.
def test_37_v_modules_at_minus_24_degc_go_thirteen_to_a_string_of_600_v_by_the_table(book: Book) -> None:
    factor = book.cold_factor(-24.0)
    one_v = cold_voltage_by_table(37.0, 1, factor)
    assert (float(factor), float(one_v)) == (1.20, pytest.approx(44.4))
    assert math.floor(600.0 / float(one_v)) == 13
    assert at_most(cold_voltage_by_table(37.0, 13, factor), 600.0)
    assert not at_most(cold_voltage_by_table(37.0, 14, factor), 600.0)


# Source: Quizwiz, "Photovoltaic Final Review", https://quizwizapp.com/fil/study/photovoltaic-final-review.
# Only its answer, twelve, is printed there.
def test_37_8_v_modules_at_minus_37_degc_go_twelve_to_an_input_of_550_v() -> None:
    assert at_most(cold_voltage(37.8, 12, -0.30, -37.0), 550.0)
    assert not at_most(cold_voltage(37.8, 13, -0.30, -37.0), 550.0)


# Source: Generac Power Systems, installation manual, table of cold factors by temperature,
# https://www.easymanua.ls/generac-power-systems/pv-link/manual?p=11. Checked against the current table: yes.
@pytest.mark.parametrize(
    ("warmest_c", "coldest_c", "factor"),
    [
        (9, 5, 1.08),
        (4, 0, 1.10),
        (-1, -5, 1.12),
        (-6, -10, 1.14),
        (-11, -15, 1.16),
        (-16, -20, 1.18),
        (-21, -25, 1.20),
        (-26, -30, 1.21),
        (-31, -35, 1.23),
        (-36, -36, 1.25),
    ],
)
def test_cold_factors_at_both_ends_of_each_printed_band(book: Book, warmest_c: int, coldest_c: int, factor: float) -> None:
    assert float(book.cold_factor(float(warmest_c))) == float(book.cold_factor(float(coldest_c))) == factor
