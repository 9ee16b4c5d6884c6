"""Each check finds the fault it is for, and is silent about a sound scene."""

from __future__ import annotations

import pytest

from linecalc.diagram import scene_checks as checks
from linecalc.diagram.scene import Box, Outline, Rule, Scene, Symbol, Text, Wire, subject_boxes
from linecalc.diagram.symbols import place

FRAME = Outline("frame", Box(0.5, 0.5, 16.5, 10.5))


def scene(*items):
    return Scene((FRAME, *items))


def sound():
    left, right = place("meter", 2, 2, "M"), place("disconnect", 5, 2, "D")
    tag = Outline("run tag", Box(3.5, 2.125, 3.75, 2.375), "C1")
    return (
        left, right, tag,
        Text(3.625, 2.3, ("C1",), 0.1, "middle", "C1", "tag"),
        Wire(((2.5, 2.25), (3.5, 2.25)), "C1"), Wire(((3.75, 2.25), (5, 2.25)), "C1"),
        Text(2, 3, ("meter", "(E)"), 0.125),
        Outline("boundary", Box(4, 1, 9, 4)), Outline("table", Box(2, 6, 4, 7)),
        Text(2.1, 6.3, ("cell",), 0.1), Rule(2, 6.5, 4, 6.5),
    )


def test_a_sound_scene_has_no_faults():
    assert checks.all_faults(scene(*sound())) == ()


@pytest.mark.parametrize("item, said", [
    (Text(2.1, 2.3, ("over",), 0.1), "text 'over' overlaps meter M"),
    (place("meter", 2.25, 2.25, "M2"), "meter M overlaps meter M2"),
    (Text(2.05, 3.05, ("twice",), 0.1), "text 'meter' overlaps text 'twice'"),
    (Text(3.5, 2.3, ("other",), 0.1, "start", "C2", "tag"), "run tag C1 overlaps text 'other'"),
])
def test_planted_overlaps_are_found(item, said):
    faults = checks.overlaps(scene(*sound(), item))
    assert any(fault == said or fault == _swapped(said) for fault in faults), faults


def _swapped(said):
    first, second = said.split(" overlaps ")
    return f"{second} overlaps {first}"


def test_a_text_on_the_edge_of_a_boundary_or_on_a_table_line_is_found():
    on_edge = checks.overlaps(scene(*sound(), Text(3.9, 3.5, ("across",), 0.1)))
    assert on_edge == ("text 'across' lies on the edge of boundary",)
    on_rule = checks.overlaps(scene(*sound(), Text(2.1, 6.55, ("struck",), 0.1)))
    assert "text 'struck' lies on the edge of rule at 2.0, 6.5" in on_rule


@pytest.mark.parametrize("kind, box, said", [
    ("enclosure", Box(8, 5, 10, 6), "enclosure P overlaps enclosure Q"),
    ("enclosure", Box(8.5, 4.5, 8.75, 4.75), "enclosure P overlaps enclosure Q"),
    ("boundary", Box(8, 5, 12, 8), "enclosure P overlaps boundary Q"),
])
def test_enclosures_that_share_area_and_outlines_that_cross_are_found(kind, box, said):
    panel = Outline("enclosure", Box(8, 4, 9, 5.5), "P")
    assert checks.overlaps(scene(panel, Outline(kind, box, "Q"))) == (said,)
    assert checks.overlaps(scene(panel, Outline(kind, Box(9, 4, 10, 6), "Q"))) == ()
    assert checks.overlaps(scene(panel, Outline("boundary", Box(7, 3, 12, 8), "Q"))) == ()


def test_boxes_that_only_touch_do_not_overlap():
    assert not Box(0, 0, 1, 1).overlaps(Box(1, 0, 2, 1))
    assert Box(0, 0, 1, 1).overlaps(Box(0.99, 0, 2, 1))


@pytest.mark.parametrize("wire, through", [
    (Wire(((1, 2.25), (2.25, 2.25)), "X"), "meter M"),
    (Wire(((2.25, 1), (2.25, 2.1)), "X"), "meter M"),
    (Wire(((1, 2.95), (4, 2.95)), "X"), "text 'meter'"),
    (Wire(((3.6, 1), (3.6, 3)), "X"), "run tag C1"),
])
def test_a_wire_through_a_symbol_a_text_or_a_tag_is_found(wire, through):
    assert f"wire X runs through {through}" in checks.wires_through(scene(*sound(), wire))


def test_a_wire_may_end_on_a_symbol_and_cross_a_boundary():
    assert checks.wires_through(scene(*sound())) == ()


@pytest.mark.parametrize("points, crosses", [
    (((3, 1), (3, 3)), True),  # straight across
    (((3, 2.25), (3, 3)), False),  # ends on it: a junction
    (((2.6, 2.25), (3.2, 2.25)), True),  # lies on it
    (((3, 1), (3, 2.25), (3.2, 2.25), (3.2, 3)), True),  # lies on it for a stretch
    (((3, 1), (3, 2)), False),
])
def test_wires_that_cross_or_lie_on_each_other_are_found(points, crosses):
    found = checks.crossings(scene(*sound(), Wire(points, "X")))
    assert bool(found) == crosses


def test_a_corner_of_one_wire_on_the_middle_of_another_counts_as_crossing():
    a = Wire(((1, 1), (3, 1)), "A")
    b = Wire(((2, 0.75), (2, 1), (2.0, 1.5)), "B")
    assert checks.crossings(scene(a, b)) == ("wire A crosses wire B",)


def test_a_loose_end_is_found():
    loose = checks.loose_ends(scene(*sound(), Wire(((2.5, 4), (3, 4)), "X")))
    assert loose == ("wire X ends loose at 2.5, 4.0", "wire X ends loose at 3.0, 4.0")


def test_items_outside_the_frame_are_found():
    assert checks.outside_frame(scene(Text(16.3, 5, ("too far",), 0.1))) == (
        "text 'too far' is outside the frame",
    )


def test_text_under_the_limit_is_found():
    assert checks.small_text(scene(Text(2, 2, ("small",), 0.0999))) != ()
    assert checks.small_text(scene(Text(2, 2, ("right",), 0.1))) == ()


def test_a_bus_drawn_twice_is_found():
    bar = Symbol("bus", Box(3, 3, 3.06, 4), "MP")
    assert checks.duplicate_buses(scene(bar)) == ()
    assert checks.duplicate_buses(scene(bar, bar)) == ("the bus of MP is drawn 2 times",)


def test_used_ratio_counts_cells_that_hold_something():
    assert checks.used_ratio(scene()) == 0.0
    cells = 32 * 20
    one = checks.used_ratio(scene(Text(0.6, 0.9, ("a",), 0.1)))
    assert one == pytest.approx(1 / cells)
    assert 0.02 < checks.used_ratio(scene(*sound())) < 0.2


def test_an_aslant_wire_and_an_unknown_anchor_are_refused():
    with pytest.raises(ValueError, match="aslant"):
        Wire(((0, 0), (1, 1)))
    with pytest.raises(ValueError, match="anchor"):
        Text(0, 0, ("a",), 0.1, "left")


def test_coordinates_are_rounded_to_a_thousandth_of_an_inch():
    assert Wire(((0.12345, 1), (2, 1))).points[0] == (0.123, 1)
    assert Text(0.00049, -0.0001, ("a",), 0.1).x == 0.0
    assert str(Text(0, -0.0001, ("a",), 0.1).y) == "0.0"


def test_links_find_the_box_of_a_tag():
    boxes = subject_boxes(scene(*sound()))
    assert boxes["M"] == Box(2, 2, 2.5, 2.5)
    assert set(boxes) == {"M", "D", "C1"}


def reference(letter, x, said):
    """A reference of a diagram with its letter and text."""
    subject = f"reference {letter}"
    return (
        Outline("reference", Box(x, 5, x + 0.375, 5.2), subject), Text(x + 0.1, 5.15, (letter,), 0.1, "start", subject, "tag"),
        Text(x + 0.5, 5.15, said, 0.1, "start", subject),
    )


def sheet(name, *items):
    return Scene((FRAME, *items), sheet=name)


def test_references_that_name_each_others_sheets_match():
    first = sheet("E-1", *reference("A", 2, ("to U1, sheet E-1.2",)), *reference("B", 5, ("to U2",)), *reference("B", 8, ("from MP",)))
    second = sheet("E-1.2", *reference("A", 2, ("from MP", "sheet E-1")))
    assert checks.unmatched_references((first, second)) == ()


@pytest.mark.parametrize("said, fault", [
    (("from MP",), "reference A on sheet E-1.2 says 'from MP', its partner is on E-1"),
    (("from MP", "sheet E-1.3"), "reference A on sheet E-1.2 says 'from MP sheet E-1.3', its partner is on E-1"),
])
def test_a_reference_that_names_no_sheet_or_another_one_is_found(said, fault):
    scenes = sheet("E-1", *reference("A", 2, ("to U1, sheet E-1.2",))), sheet("E-1.2", *reference("A", 2, said))
    assert checks.unmatched_references(scenes) == (fault,)


def test_a_reference_with_one_end_or_three_is_found():
    lone = sheet("E-1", *reference("A", 2, ("to U1, sheet E-1.2",)))
    assert checks.unmatched_references((lone,)) == ("reference A stands at 1 ends",)
    assert checks.unmatched_references((lone, lone, lone)) == ("reference A stands at 3 ends",)


def test_a_fault_is_found_across_the_cells_of_the_raster_and_counted_once():
    wires = (Wire(((1, 5), (15, 5)), "LONG"), Wire(((7, 2), (7, 9)), "HIGH"))
    assert checks.crossings(scene(*wires)) == ("wire LONG crosses wire HIGH",)
    assert checks.wires_through(scene(wires[0], place("meter", 9, 4.75, "M"))) == ("wire LONG runs through meter M",)
    assert len(checks.loose_ends(scene(*wires))) == 4


def test_a_letter_narrower_than_its_flag_belongs_to_it():
    flag = Outline("run tag", Box(2, 2, 2.25, 2.2), "I")
    assert checks.overlaps(scene(flag, Text(2.125, 2.15, ("I",), 0.1, "middle", "I", "tag"))) == ()
