"""Flip points: hand-worked ones, and every one of the examples run again on its own."""

import pytest

from linecalc.advice.axes import axes_of
from linecalc.advice.design import as_designed
from linecalc.advice.flips import flip_points, texts_by_check
from linecalc.check import Level
from linecalc.study import study
from tests.advice.studies import advised, example, run_with, worst
from tests.houses import studied


def text(found, rule, subject):
    return texts_by_check(flip_points(found, found.checks)).get((rule, subject), "")


# 8 AWG Cu THWN-2, dry: 55 A in the 90 degC column of Table 310.16. 40 A need a factor of 0.727:
# 0.76 to 55 degC holds, 0.71 to 60 degC does not; 4 to 6 conductors 0.80 hold, 7 to 9 0.70 do not.
def test_a_unit_circuit_of_8_awg_and_40_a_passes_to_55_degc_and_to_6_conductors():
    told = text(studied(), "inverter_output_conductor.T2", "C1")
    assert told == "passes to 55 degC ambient in R2; to 6 current-carrying conductors in R2"


# Voc at T is 400 V x (1 - 0.0025 (T - 25)); 600 V would be 225 K below 25 degC, beyond the table's -40 degC.
def test_a_string_that_no_temperature_breaks_has_no_flip_by_temperature():
    assert "degC" not in text(studied(), "pv_max_voltage", "S1")


# 14 x 40 V x (1 - 0.0025 (T - 25)) <= 600 V holds down to 25 - 0.0714 / 0.0025 = -3.57 degC.
def test_a_string_of_14_modules_passes_down_to_minus_3_degc():
    found = studied({"string.S1.count": 14, "site.low_temperature": "0 degC"})
    assert "passes down to -3 degC" in text(found, "pv_max_voltage", "S1")


# 40 V x 1.1 x 13 = 572 V, x 14 = 616 V at -15 degC.
def test_modules_in_series_flip_at_13_from_either_side():
    assert "to 13 modules in series" in text(studied(), "pv_max_voltage", "S1")
    assert "to 13 modules in series" in text(studied({"string.S1.count": 16}), "pv_max_voltage", "S1")


# The drop is proportional to the length: 3 % at 10 ft x 3 / drop.
def test_a_drop_passes_to_the_length_at_which_it_reaches_its_limit():
    found = studied()
    check = next(check for check in found.checks if check.subject == "C1" and check.rule.startswith("voltage_drop") and check.limit is not None)
    longest = int(10.0 * 3.0 / check.demand.value)
    assert text(found, "voltage_drop", "C1") == f"passes to {longest} ft"


def test_a_path_of_two_sections_is_stretched_in_proportion():
    found = example("b")
    flip = next(flip for flip in advised("b").flips if flip.subject == "C3" and flip.input.count("length") == 2)
    lengths = [found.project.section[tag].length.value for tag in found.project.circuit["C3"].path]
    stretched = [float(str(setting.value).split()[0]) for setting in flip.broken_settings]
    assert stretched[0] / stretched[1] == pytest.approx(lengths[0] / lengths[1])
    assert "of the same proportions" in flip.text


def test_a_breaker_within_the_units_maximum_passes_to_that_maximum():
    found = studied({"circuit.C1.breaker": "60 A", "circuit.C1.conductor": "4 AWG Cu THWN-2"})
    assert text(found, "listed_instructions.breaker", "C1") == "passes to a 50 A breaker"


def test_a_device_passes_down_to_what_it_must_carry():
    found = studied({"circuit.C1.breaker": "60 A", "circuit.C1.conductor": "4 AWG Cu THWN-2"})
    assert text(found, "source_ocpd", "C1") == "passes down to a 50 A breaker"


def test_a_bus_that_fails_says_the_main_at_which_it_passes():
    # 1.25 x 40 A + main <= 1.2 x 200 A holds to a main of 190 A: 175 A is the next standard rating below.
    found = studied({"panel.MP.bus": "200 A", "panel.MP.main": "200 A"})
    assert text(found, "busbar", "MP") == "passes to a 175 A main in MP"


def test_a_bus_that_passes_tells_the_main_beside_what_the_bus_still_takes():
    bus = next(check for check in advised("a").study.checks if check.subject == "BP" and check.rule.startswith("busbar_") and check.limit is not None)
    assert bus.flip.startswith("the bus still takes")


def test_the_fault_current_at_the_service_flips_an_interrupting_rating():
    flips = [flip for flip in advised("a").flips if flip.input == "service.fault_current"]
    assert flips and all(flip.passing < flip.broken for flip in flips)


def test_what_is_not_checked_has_no_flip():
    found = example("missing")
    open_ones = {(check.rule, check.subject) for check in found.checks if check.level is Level.NOT_CHECKED}
    assert not {(flip.rule, flip.subject) for flip in flip_points(found, found.checks)} & open_ones


def test_only_the_checks_asked_for_are_searched():
    found = example("a")
    one = [check for check in found.checks if check.rule == "pv_max_voltage" and check.subject == "S1"]
    assert {flip.subject for flip in flip_points(found, one)} == {"S1"}


@pytest.mark.parametrize("name", ["a", "d"])
def test_every_flip_of_an_example_is_real_when_its_input_alone_is_changed(name):
    """One run served several inputs at once; each is tried again by itself, on both sides."""
    found = example(name)
    design = as_designed(found)
    flips = advised(name).flips
    assert len(flips) > 25
    for flip in flips:
        passing = worst(run_with(design, flip.passing_settings, found.book.edition), flip.rule, flip.subject)
        broken = worst(run_with(design, flip.broken_settings, found.book.edition), flip.rule, flip.subject)
        assert passing in (Level.PASS, Level.NOTE), flip
        assert list(Level).index(broken) < list(Level).index(passing), flip


@pytest.mark.parametrize("name", ["a", "c"])
def test_every_axis_begins_at_the_present_value(name):
    found = example(name)
    design = as_designed(found)
    before = study(design)
    for axis in axes_of(found):
        now = run_with(design, axis.settings(axis.values[0]), found.book.edition)
        watched = [check for check in before.checks if check.subject in axis.subjects]
        for check in watched:
            assert worst(now, check.rule, check.subject) is worst(before, check.rule, check.subject), (axis.input, check.rule)


def test_a_flip_is_told_on_its_check():
    check = next(check for check in advised("a").study.checks if (check.rule, check.subject) == ("pv_conductor.T2", "P1"))
    assert check.flip.startswith("passes to ") and "ambient in F1" in check.flip
