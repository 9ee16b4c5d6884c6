"""Fragile assumptions: assumed inputs that turn a verdict within a plausible range, and only those."""

import pytest

from linecalc.advice.fragile import doubtful_inputs, fragile_assumptions
from linecalc.advice.plausible import BASIS, RANGES, range_of
from linecalc.check import Level
from linecalc.report.inputs import Input
from linecalc.report.verify import heading, verify_first
from tests.advice.studies import advised, example
from tests.houses import studied


def assumed(value):
    return {"value": value, "basis": "assumed", "source": "a guess"}


def fragile_of(changes):
    return {found.path: found for found in fragile_assumptions(studied(changes))}


def item(path, value, unit="", as_written=None):
    return Input(path, value, unit, as_written, "assumed", None)


# 10 AWG Cu THWN-2 in the attic: 40 A x factor >= 1.25 x 13 A = 16.25 A needs 0.406; the table gives 0.41 to 80 degC, 0.29 to 85.
def test_an_assumed_ambient_that_breaks_a_conductor_within_10_k_is_fragile():
    found = fragile_of({"section.R1.ambient": assumed("75 degC")})
    turns = found["section.R1.ambient"].turns
    assert [(turn.rule, turn.subject, turn.before, turn.after, turn.at) for turn in turns if turn.rule.endswith("T2")] == [
        ("pv_conductor.T2", "P1", Level.PASS, Level.FAIL, "85 degC")
    ]


def test_an_assumed_ambient_far_from_its_flip_is_not():
    assert "section.R1.ambient" not in fragile_of({"section.R1.ambient": assumed("40 degC")})


def test_a_given_input_is_never_fragile():
    assert "section.R1.ambient" not in fragile_of({"section.R1.ambient": "75 degC"})


def test_the_design_stays_while_an_assumption_changes():
    """A conductor that is chosen would grow with the heat; the one that is built does not."""
    found = fragile_of({"section.R1.ambient": assumed("75 degC"), "circuit.P1.conductor": None, "circuit.P1.insulation": "THWN-2", "circuit.P1.material": "Cu"})
    assert "section.R1.ambient" in found


def test_what_was_assumed_by_linecalc_itself_is_tried_too():
    paths = {entry.path for entry in doubtful_inputs(studied({"section.R2.moisture": None}))}
    assert "section.R2.moisture" in paths


def test_choices_of_the_designer_are_nothing_to_verify():
    assert range_of("circuit.C1.conductor") is None
    assert not any(entry.path.endswith(("conductor", "breaker")) for name in "abcd" for entry in doubtful_inputs(example(name)))


def test_what_breaks_something_comes_first():
    order = [found.breaks for name in "abcd" for found in [*advised(name).fragile]]
    for name in "abcd":
        breaks = [found.breaks for found in advised(name).fragile]
        assert breaks == sorted(breaks, reverse=True)
    assert any(order)


def test_every_range_says_that_it_is_common_practice():
    assert BASIS == "common practice, no source"
    assert all(found.range_basis.endswith(BASIS) for name in "abcd" for found in advised(name).fragile)


@pytest.mark.parametrize(
    ("entry", "tried"),
    [
        (item("section.R1.ambient", 50.0, "degC"), ("40 degC", "60 degC")),
        (item("site.low_temperature", -14.0, "degC"), ("-19 degC", "-9 degC")),
        (item("service.fault_current", 10000.0, "A"), ("5 kA", "20 kA")),
        (item("section.R1.length", 40.0, "ft"), ("32 ft", "50 ft")),
        (item("circuit.C1.terminals_to", 60.0, "degC", "60 degC"), ("75 degC",)),
        (item("section.R1.moisture", None, "", "wet"), ("dry", "damp")),
        (item("load.HOUSE.current", 100.0, "A"), ("80 A", "125 A")),
        (item("service.x_over_r", 1.5), (0.75, 3.0)),
    ],
)
def test_the_values_tried_are_those_of_the_kind_of_input(entry, tried):
    assert range_of(entry.path).tried(entry) == tried


def test_the_last_range_holds_every_other_amount():
    assert RANGES[-1].holds("anything.at.all")


@pytest.mark.parametrize(("number", "text"), [(1, "Verify this one on site"), (3, "Verify these three on site"), (14, "Verify these 14 on site")])
def test_the_heading_counts(number, text):
    assert heading(number) == text


def test_the_words_name_value_rule_and_subjects():
    found = fragile_of({"section.R1.ambient": assumed("75 degC")})["section.R1.ambient"]
    (told,) = verify_first([found])
    assert told.path == "section.R1.ambient" and told.taken == "75 degC [assumed]"
    assert "at 85 degC: pv_conductor.T2 fails on P1" in told.turns
    assert told.tried.startswith("tried 65 degC, 85 degC; ")
