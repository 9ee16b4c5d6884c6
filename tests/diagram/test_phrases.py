"""Short texts say nothing twice."""

from __future__ import annotations

import pytest

from linecalc.diagram.phrases import arithmetic, joined, listed, names_device, place_once, unsaid
from linecalc.term import given


@pytest.mark.parametrize(("meter", "location", "said"), [
    ("on the east wall", "east wall, outdoors", "east wall, outdoors"),
    ("east wall", "east wall, outdoors", "east wall, outdoors"),
    ("at the gate", "street side, outdoors", "at the gate, street side, outdoors"),
    ("on the wall", "eastern walls", "on the wall, eastern walls"),
    (None, "east wall", "east wall"),
    ("on the east wall", None, "on the east wall"),
    (None, None, ""),
])
def test_two_descriptions_of_one_place_are_one(meter, location, said):
    assert place_once(meter, location) == said


@pytest.mark.parametrize(("text", "said", "left"), [
    ("roof", "roof box, string 1", ""),
    ("roof, south side", "roof box", "south side"),
    ("roof", "rooftop box", "roof"),
    ("Lockable", "fused disconnect, lockable", ""),
    ("service disconnect, utility disconnect", "SD (N) service disconnect", "utility disconnect"),
    ("", "anything", ""),
])
def test_parts_that_are_said_already_are_left_out_by_whole_words(text, said, left):
    assert unsaid(text, said) == left


@pytest.mark.parametrize(("text", "name", "same"), [
    ("switch RSS beside the meter stops unit and storage", "rapid shutdown switch RSS", True),
    ("opening DS stops unit and storage", "DS", True),
    ("opening DS-2 stops storage", "DS", False),
    ("a push button", "emergency switch ES", False),
    ("a push button", "push button", True),
    ("a push button stops it", "A", False),
])
def test_a_device_is_known_by_its_designation_in_capitals_else_by_its_whole_name(text, name, same):
    assert names_device(text, name) is same


def test_words_are_listed_with_commas_and_one_and():
    assert [listed(found) for found in ((), ("A",), ("A", "B"), ("A", "B", "C"))] == ["", "A", "A and B", "A, B and C"]
    assert joined("a", "", "b") == "a, b"


def test_arithmetic_shows_the_sum_and_a_plain_number_only_itself():
    total = given(40.0, "A", "a", "x", "first") + given(200.0, "A", "b", "y", "second")
    assert arithmetic(total, "A") == "40 A + 200 A = 240 A"
    assert arithmetic(60.0, "A") == "60 A"
