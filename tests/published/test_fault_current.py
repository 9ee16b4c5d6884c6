"""Published figures of fault current: at a transformer, down the conductors, and the impedance of a foot of conductor."""

from __future__ import annotations

import math

import pytest

from linecalc.calc.drop import resistance_at
from linecalc.calc.fault import (
    Impedance,
    conductor_impedance,
    fault_line_to_line,
    fault_line_to_neutral,
    in_series,
    largest_fast_device,
    series_motor_limit,
    source_impedance,
    source_impedance_line_to_neutral,
    transformer_fault_current,
)
from linecalc.codebook import open_book
from linecalc.sizing.fault import ASSUMED_X_OVER_R
from tests.houses import check, studied

NO_RUN = Impedance(0.0, 0.0)


# Source: Bussmann, note 2 of the point-to-point sheet in "Short Circuit Calculation",
# https://www.scribd.com/document/388329023/Short-Circuit-Calculation: line to neutral 1.5 times line to line at the
# terminals of a centre-tapped transformer, in theory 1.33 to 1.67.
@pytest.mark.parametrize("ratio", [1.33, 1.5, 1.67])
@pytest.mark.parametrize("x_over_r", [0.5, 2.0])
def test_the_line_to_neutral_fault_at_the_terminals_is_1_33_to_1_67_times_line_to_line(ratio: float, x_over_r: float) -> None:
    line_to_line_a = transformer_fault_current(25000.0, 240.0, 1.5)
    source = source_impedance_line_to_neutral(line_to_line_a, 120.0, ratio, x_over_r)
    assert fault_line_to_neutral(120.0, source, NO_RUN, NO_RUN) == pytest.approx(ratio * line_to_line_a)


# Source: the same note: "1.2 x %X and 1.5 x %R" of the half winding against the whole one, on half the voltage.
@pytest.mark.parametrize(("r_percent", "x_percent"), [(1.4, 1.2), (1.0, 2.0), (1.2, 0.6)])
def test_the_ratio_of_1_5_lies_within_what_the_half_windings_impedance_gives(r_percent: float, x_percent: float) -> None:
    base_ohm = 240.0**2 / 25000.0 / 100.0
    whole = 240.0 / math.hypot(r_percent * base_ohm, x_percent * base_ohm)
    half = 120.0 / math.hypot(1.5 * r_percent * base_ohm / 4.0, 1.2 * x_percent * base_ohm / 4.0)
    assert 1.33 <= half / whole <= 1.67


# Source: Cooper Bussmann, "Electrical Plan Review", point-to-point method, fault 1,
# https://www.scribd.com/document/325386963/shortcircuitcalculations-160210110236: 300 kVA, three-phase, 208 V, 1.8 % after
# tolerance, 833 A x 55.55 = 46,273 A. Three-phase: the rating is entered over 1.732, which makes the same full-load current.
def test_833_a_of_full_load_at_1_8_percent_impedance_give_46_273_a() -> None:
    assert transformer_fault_current(300000.0 / 1.732, 208.0, 1.8) == pytest.approx(46273.0, rel=0.0005)


# Source: the same sheet, fault 1 at the main service panel: 20 ft of two sets of 500 kcmil, C = 22,185 per foot, f = 0.174,
# M = 0.852, 39,425 A. The method adds magnitudes; so does ours where source and run have the same angle. Three-phase:
# both the source and one conductor count 1.732 times, against our 2 times, so 1.732 / 2 of the run is entered.
def test_20_ft_of_two_sets_of_500_kcmil_leave_39_425_of_46_273_a() -> None:
    source = source_impedance(46273.0, 208.0, 0.0)
    run = conductor_impedance(1000.0 / 22185.0 * 1.732 / 2.0, 0.0, 20.0, 2.0)
    assert fault_line_to_line(208.0, source, run) == pytest.approx(39425.0, rel=0.001)


# Source: "FaultV6", an available-fault-current worksheet, https://www.scribd.com/document/230809087/FaultV6-2-1 and
# https://pt.scribd.com/document/258244762/FaultV6-2-xls: 300 kVA single-phase, 240 V, 3 % x 0.9: 46,296 A; 150 ft of 3/0
# copper in a nonmetallic raceway, C = 13,923: 8,978 A; 40 ft of 6 AWG, C = 2,430: 4,024 A; 30 ft of 12 AWG, C = 617: 1,530 A.
WORKSHEET_RUNS = ((150.0, 13923.0, 8978.0), (40.0, 2430.0, 4024.0), (30.0, 617.0, 1530.0))


def test_a_300_kva_single_phase_transformer_of_2_7_percent_gives_46_296_a() -> None:
    assert transformer_fault_current(300000.0, 240.0, 2.7) == pytest.approx(46296.0, abs=1.0)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_service_a_feeder_and_a_branch_in_series_line_to_line(count: int) -> None:
    source = source_impedance(46296.0, 240.0, 0.0)
    runs = [conductor_impedance(1000.0 / constant, 0.0, feet, 1.0) for feet, constant, _ in WORKSHEET_RUNS[:count]]
    assert fault_line_to_line(240.0, source, in_series(runs)) == pytest.approx(WORKSHEET_RUNS[count - 1][2], rel=0.001)


# Source: the same worksheet, line to neutral: 7,457 A at the main. It multiplies 1.5 x 46,296 A by a factor f = 8.313 taken
# from 46,296 A; Bussmann's sheet (above) takes f from the 1.5 times itself, which gives 5,155 A, as ours does. Both are kept.
def test_the_same_service_line_to_neutral_from_one_and_a_half_times_the_terminal_current() -> None:
    source = source_impedance_line_to_neutral(46296.0, 120.0, 1.5, 0.0)
    run = conductor_impedance(1000.0 / 13923.0, 0.0, 150.0, 1.0)
    terminals = 1.5 * 46296.0
    by_bussmann = terminals / (1.0 + 2.0 * 150.0 * terminals / (13923.0 * 120.0))
    as_printed = terminals / (1.0 + 2.0 * 150.0 * 46296.0 / (13923.0 * 120.0))
    assert as_printed == pytest.approx(7457.0, rel=0.001)
    assert fault_line_to_neutral(120.0, source, run, run) == pytest.approx(by_bussmann)
    assert by_bussmann == pytest.approx(5155.0, abs=1.0)


# Source: the same worksheet, feeder line to neutral: 2,135 A over 40 ft with a 6 AWG phase (C = 2,430) and an 8 AWG neutral
# (C = 1,559). Its factor takes the mean of both constants, 1,995, for both; ours adds the two impedances, 3.5 percent less.
def test_a_feeder_with_a_smaller_neutral_counts_both_sizes() -> None:
    source = source_impedance_line_to_neutral(7457.0, 120.0, 1.0, 0.0)
    mean = conductor_impedance(1000.0 / 1995.0, 0.0, 40.0, 1.0)
    assert fault_line_to_neutral(120.0, source, mean, mean) == pytest.approx(2135.0, rel=0.001)
    phase, neutral = (conductor_impedance(1000.0 / constant, 0.0, 40.0, 1.0) for constant in (2430.0, 1559.0))
    assert fault_line_to_neutral(120.0, source, phase, neutral) == pytest.approx(2135.0, rel=0.04)


# Source: Bussmann's conductor constants C (1 / impedance per foot), 600 V, three single conductors, as printed in "Short
# Circuit Current Calculation", https://www.scribd.com/document/184293836/Short-Circuit-Current-Calculation. Compared with
# 1 / |Z| of Table 9 at 25 degC. To 1/0 AWG they agree within 6 percent (Table 9 prints two digits). From 2/0 AWG on they
# differ: the constants rest on a smaller reactance than Table 9, ours give 7 to 17 percent more impedance. Table 9 is kept.
C_COPPER_STEEL = {
    "14 AWG": 389, "12 AWG": 617, "8 AWG": 1557, "6 AWG": 2425, "4 AWG": 3806, "3 AWG": 4774, "2 AWG": 5907, "1 AWG": 7293,
    "1/0 AWG": 8925, "2/0 AWG": 10755, "3/0 AWG": 12844, "4/0 AWG": 15082, "250 kcmil": 16483, "300 kcmil": 18177,
    "350 kcmil": 19704, "400 kcmil": 20566, "500 kcmil": 22185,
}  # fmt: skip
C_COPPER_NONMETALLIC = {
    "14 AWG": 389, "12 AWG": 617, "8 AWG": 1559, "6 AWG": 2430, "4 AWG": 3826, "3 AWG": 4811, "2 AWG": 6044, "1 AWG": 7493,
    "1/0 AWG": 9317, "2/0 AWG": 11424, "3/0 AWG": 13923, "4/0 AWG": 16673, "250 kcmil": 18594, "300 kcmil": 20868,
    "350 kcmil": 22737, "400 kcmil": 24297, "500 kcmil": 26706,
}  # fmt: skip


def per_foot_constant(size: str, raceway: str) -> float:
    """1 / |Z| of one foot of copper at 25 degC, from Table 9."""
    book = open_book("2023")
    resistance = resistance_at(book.ac_resistance(size, "Cu", raceway).value, book.resistance_alpha("Cu").value, 25.0)
    return 1000.0 / math.hypot(resistance, book.reactance(size, raceway).value)


SMALL = ("14 AWG", "12 AWG", "8 AWG", "6 AWG", "4 AWG", "3 AWG", "2 AWG", "1 AWG", "1/0 AWG")
LARGE = tuple(size for size in C_COPPER_STEEL if size not in SMALL)


@pytest.mark.parametrize("size", SMALL)
def test_table_9_at_25_degc_gives_the_published_constants_to_1_0_awg(size: str) -> None:
    assert per_foot_constant(size, "EMT") == pytest.approx(C_COPPER_STEEL[size], rel=0.06)
    assert per_foot_constant(size, "PVC40") == pytest.approx(C_COPPER_NONMETALLIC[size], rel=0.06)


@pytest.mark.parametrize("size", LARGE)
def test_from_2_0_awg_on_table_9_gives_less_current_than_the_published_constants(size: str) -> None:
    assert 0.83 <= per_foot_constant(size, "EMT") / C_COPPER_STEEL[size] <= 0.94
    assert 0.82 <= per_foot_constant(size, "PVC40") / C_COPPER_NONMETALLIC[size] <= 0.94


def test_at_75_degc_it_would_not() -> None:
    """The constants are those of cold conductors, the high-current side, as ours are."""
    book = open_book("2023")
    hot = 1000.0 / math.hypot(book.ac_resistance("6 AWG", "Cu", "EMT").value, book.reactance("6 AWG", "EMT").value)
    assert hot < 0.85 * C_COPPER_STEEL["6 AWG"]


# Source: J. Gonen's textbook example as worked in a Scilab companion, example 3.1, page 118,
# https://git.fossee.in/Scilab-TBC-Uploads/.git/plain/1904/CH3/EX3.1/3_1.sce: a 25 kVA house transformer has R = 1.4 %, X = 1.2 %.
def test_a_25_kva_house_transformer_has_an_x_over_r_below_the_one_assumed() -> None:
    assert 1.2 / 1.4 < ASSUMED_X_OVER_R
    source = source_impedance(transformer_fault_current(25000.0, 240.0, math.hypot(1.4, 1.2)), 240.0, 1.2 / 1.4)
    assert source.r_ohm == pytest.approx(0.014 * 240.0**2 / 25000.0)
    assert source.x_ohm == pytest.approx(0.012 * 240.0**2 / 25000.0)


# Source: a post in the Eng-Tips forum, "Short Circuit Rating 120/240 Service Panels",
# http://www.eng-tips.com/viewthread.cfm?qid=141221: 50 kVA, 120/240 V, 2 %: 10,400 A at the terminals.
def test_a_50_kva_transformer_of_2_percent_gives_10_400_a() -> None:
    assert transformer_fault_current(50000.0, 240.0, 2.0) == pytest.approx(10400.0, rel=0.002)


# Source: EC&M, "Code Q&A: Field Marking of Equipment", http://ecmweb.com/qampa/code-qa-field-marking-equipment, on
# 110.24(A): service equipment in other than dwelling units is marked.
def test_no_field_marking_is_asked_for_at_a_dwelling() -> None:
    found = check(studied({"service.fault_current": "10 kA", "service.fault_current_at": "meter"}), "fault_current_marking")
    assert "no field marking" in found.message and found.citation == "110.24(A)"


# Source: a post in the Mike Holt forum, "Inverse VS Instantaneous Circuit Breakers",
# https://forums.mikeholt.com/threads/inverse-vs-instantaneous-circuit-breakers.10037: the magnetic trip of small residential
# breakers is set at about 6 to 7 times their rating.
def test_a_20_a_breaker_trips_at_once_from_about_120_to_140_a() -> None:
    assert largest_fast_device(120.0) == 20.0


# Source: Electrical License Renewal, course page on 240.86(C),
# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=640: motors
# between the devices of a series combination at most 1 % of the lower interrupting rating; Mike Holt forum thread 147308:
# a panel with 10,000 A breakers, 100 A of motors.
def test_series_rated_10_ka_breakers_allow_100_a_of_motors() -> None:
    assert series_motor_limit(10000.0) == 100.0
