"""The parts of the layout one by one: columns, heights, folding, cutting, grouping, free corners, tables."""

from __future__ import annotations

from dataclasses import replace

import pytest

from linecalc.diagram import scene_checks as checks
from linecalc.diagram.arrange import CLEAR, ROOMY, SMALL, TIGHT, arrange_cut, arrange_pieces, arrange_whole, place_arrangement
from linecalc.diagram.blocks import measure, used_symbols
from linecalc.diagram.columns import Cutting, Density, UnitText
from linecalc.diagram.cut import Piece, cut_at, cut_sources, feeder_runs, input_runs, letter_of, source_runs, with_sheets
from linecalc.diagram.fold import foldings
from linecalc.diagram.fonts import text_width_in
from linecalc.diagram.label_text import Label, leaf_label, leaf_text_least, wrap_label
from linecalc.diagram.legend import NAMES, legend_group
from linecalc.diagram.plan import Branch, Column, Feed, PlanNode, Style, Table, TextBlock, branches_of, nodes_of
from linecalc.diagram.scene import Box, Group, Outline, Scene, Symbol, Text, item_box
from linecalc.diagram.sheet import compose
from linecalc.diagram.surround import FRAME, Style as SurroundStyle, surround, surround_items
from linecalc.diagram.symbols import BUS_KINDS, SYMBOL_KINDS
from linecalc.diagram.table import fit_widths, run_in_group, table_group, text_group
from linecalc.diagram.title_block import title_group
from linecalc.diagram.typical import grouped
from linecalc.diagram.voids import fill_voids, free_rectangles
from linecalc.diagram.widths import needs_of, set_columns
from linecalc.errors import RefusedError
from tests.diagram.plans import fed, house, load, module, panel, plan, service, string, unit

AREA = Box(0.5, 0.5, 13.0, 8.0)
WIDE = Box(0.5, 0.5, 40.0, 40.0)
DENSITY = CLEAR[5]


def scene_of(items):
    return Scene((Outline("frame", Box(0, 0, 45, 45)), *items))


def test_columns_do_not_fit_below_their_needs_and_fill_the_width_above():
    needs = needs_of(house(), DENSITY)
    assert set_columns(house(), DENSITY, 0.0, needs.total() - 0.01) is None
    columns = set_columns(house(), DENSITY, 1.0, 1.0 + needs.total() + 2.0)
    gaps = [b - a - w for a, b, w in zip(columns.x, columns.x[1:], columns.width)]
    assert all(gap >= need - 1e-9 for gap, need in zip(gaps, needs.wires))
    assert columns.right == 1.0 + needs.total() + 2.0


def test_strings_and_modules_of_all_units_stand_in_one_column():
    found = arrange_whole(house(units=2), WIDE, (DENSITY,))
    items = place_arrangement(found, WIDE)
    left = {item.box.x0 for item in items if isinstance(item, Symbol) and item.kind in ("pv string", "storage module")}
    assert len(left) == 1


def test_branches_of_a_bus_share_no_height_and_the_bus_spans_them():
    columns = set_columns(house(), DENSITY, 0.5, 40.0)
    block = measure(house(), 0, columns, DENSITY)
    main = block.children[0]
    for upper, lower, a, b in zip(main.children, main.children[1:], main.rows, main.rows[1:]):
        assert a + upper.down <= b - lower.up
    items = place_arrangement(arrange_whole(house(), WIDE, (DENSITY,)), WIDE)
    assert checks.all_faults(scene_of(items)) == ()


@pytest.mark.parametrize("feed, row", [(Feed.FIRST, 0), (Feed.MIDDLE, 1), (Feed.LAST, 2)])
def test_a_panel_is_fed_at_the_end_its_feed_names(feed, row):
    node = panel("MP", *(fed(load(f"L{n}"), f"C{n}") for n in range(3)), feed=feed)
    columns = set_columns(node, DENSITY, 0.0, 20.0)
    assert measure(node, 0, columns, DENSITY).rows[row] == 0.0


def test_a_fold_cuts_only_the_last_branch_of_every_thing_before_it_and_not_beyond_a_boundary():
    ways = foldings(house())
    assert ways[0].second is None
    assert [way.run_tag for way in ways[1:]] == ["C3", "C2"]
    assert ways[1].second.boundary and not any(node.boundary for node in nodes_of(ways[1].first))


def test_a_folded_drawing_is_as_sound_as_an_unfolded_one():
    narrow = Box(0.5, 0.5, 12.0, 20.0)
    found = arrange_whole(house(units=2, strings=2), narrow, CLEAR)
    assert found.folding is not None
    scene = scene_of(place_arrangement(found, narrow))
    assert checks.all_faults(scene) == ()
    assert len([wire for wire in scene.items if getattr(wire, "subject", "") == "C3"]) >= 3


def test_letters_run_on_after_z():
    assert [letter_of(n) for n in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]


def test_cutting_takes_every_unit_out_with_a_matched_reference_and_leaves_the_device():
    cut = cut_sources(house(units=3))
    assert [piece.letter for piece in cut.pieces] == ["A", "B", "C"]
    assert all(piece.boundary for piece in cut.pieces)
    assert not any(node.style is Style.UNIT for node in nodes_of(cut.main))
    ends = [(branch, branch.node) for branch in branches_of(cut.main) if branch.node.style is Style.REFERENCE]
    assert [node.label for _, node in ends] == [("to U0",), ("to U1",), ("to U2",)]
    assert [(branch.run_tag, branch.device, branch.rating) for branch, _ in ends] == [
        ("C10", "breaker", "40 A"), ("C11", "breaker", "40 A"), ("C12", "breaker", "40 A")]
    starts = [piece.root for piece in cut.pieces]
    assert [node.label for node in starts] == [("from BP",)] * 3
    assert not any(node.branches[0].run_tag or node.branches[0].device for node in starts)


def test_a_tree_can_be_cut_at_panels_at_sources_and_at_the_inputs_of_a_unit():
    root = house(units=2, strings=2, modules=1)
    assert feeder_runs(root) == ("C2",)
    assert source_runs(root) == ("C10", "C11")
    assert input_runs(root)[:3] == ("U0-P0", "U0-P1", "U0-D0")
    built_in = PlanNode("U9", Style.INLINE, "isolation device", ("U9",), boundary="BACKED-UP PART", branches=(Branch(unit("U9")),))
    assert source_runs(panel("MP", fed(built_in, "C1"))) == ()


def test_a_cut_within_what_was_cut_off_is_left_for_later_and_letters_go_on():
    cut = cut_at(Piece("", house(units=2)), frozenset({"C2", "C10"}), first=3)
    assert [piece.letter for piece in cut.pieces] == ["D"]
    assert source_runs(cut.pieces[0].root) == ("C10", "C11")
    assert source_runs(cut.main) == ()


def test_each_end_of_a_reference_names_the_sheet_of_the_other_unless_it_is_the_same():
    cut = cut_sources(house(units=2))
    main = with_sheets(cut.main, "E-601", ends={"A": "E-601", "B": "E-601"}, starts={"A": "E-601", "B": "E-601.2"})
    assert [node.label for node in nodes_of(main) if node.style is Style.REFERENCE] == [("to U0",), ("to U1", "sheet E-601.2")]
    start = with_sheets(cut.pieces[1].root, "E-601.2", ends={"B": "E-601"}, starts={"B": "E-601.2"})
    assert start.label == ("from BP", "sheet E-601")


def test_a_cut_drawing_is_sound_and_shows_every_thing():
    area = Box(0.5, 0.5, 16.5, 7.0)
    found = arrange_cut(house(units=3, strings=2, modules=1), area, (*CLEAR, *SMALL))
    scene = scene_of(place_arrangement(found, area))
    assert checks.all_faults(scene) == ()
    subjects = {item.subject for item in scene.items if isinstance(item, (Symbol, Outline))}
    assert {"U0", "U1", "U2", "MP", "BP", "ID"} <= subjects


def test_equal_modules_are_drawn_once_with_all_their_tags_and_different_ones_are_not():
    node = unit("U1", 1, 2)
    different = replace(node, branches=(*node.branches, Branch(module("U1-B9", "another module"), "D9")))
    branches = grouped(different).branches
    assert [branch.node.tag for branch in branches] == ["U1-S0", "U1-B0, U1-B1", "U1-B9"]
    assert branches[1].run_tag == "U1-D0, U1-D1"
    assert branches[1].node.label[0] == "U1-B0, U1-B1 (N) storage module"


def test_strings_are_never_put_together():
    assert len(grouped(unit("U1", 3)).branches) == 3


def test_text_beside_a_leaf_is_whole_at_its_least_width_and_cut_below_it():
    node = PlanNode("L", Style.LEAF, "load", ("L (N) a load with a name", "17.9 A RLA, 96 A LRA, 23.8 A MCA, south side"))
    least = leaf_text_least(node, DENSITY)
    assert leaf_label(node.label, least, DENSITY).complete
    assert not leaf_label(node.label, least - 0.13, DENSITY).complete
    for line in leaf_label(node.label, least, DENSITY).rest:
        assert text_width_in(line, DENSITY.text_in) <= least + 1e-9


def test_in_tight_settings_all_texts_beside_leaves_are_of_one_size():
    label = ("L (N) a load with a name", "17.9 A RLA, 96 A LRA, 23.8 A MCA, south side")
    tight, roomy = DENSITY, CLEAR[0]
    assert leaf_label(label, 6.0, tight) == Label((), ("; ".join(label),))
    assert leaf_label(label, 3.2, tight).head == () and len(leaf_label(label, 3.2, tight).rest) == 2
    assert leaf_label(label, 6.0, roomy).head == label[:1]


def test_the_text_ahead_of_a_leaf_stands_on_one_line_below_the_wire_in_tight_settings():
    switch = PlanNode("D", Style.INLINE, "disconnect", ("D (N) disconnect", "30 A, 600 V", "east wall"), branches=(Branch(string("S")),))
    for density, lines in ((DENSITY, ("D (N) disconnect; 30 A, 600 V; east wall",)), (CLEAR[0], ("30 A, 600 V", "east wall"))):
        columns = set_columns(panel("MP", fed(switch, "C1")), density, 0.0, 12.0)
        assert wrap_label(switch, 1, columns, density).rest == lines


def test_the_text_of_a_small_box_is_whole_in_every_setting_that_cuts_nothing():
    box = PlanNode("J", Style.INLINE, "junction", ("J (N) a description that somebody typed with care", "roof"), branches=(Branch(string("S")),))
    for density in (*ROOMY, *CLEAR, *SMALL):
        columns = set_columns(panel("MP", fed(box, "C1")), density, 0.0, 12.0)
        found = wrap_label(box, 1, columns, density)
        assert found.complete and "…" not in " ".join((*found.head, *found.rest))
        assert " ".join((*found.head, *found.rest)).split() == "J (N) a description that somebody typed with care roof".split()


def test_a_thing_with_a_long_text_below_it_gets_a_wider_column_up_to_a_limit():
    def wire(text):
        box = PlanNode("J", Style.INLINE, "junction", (text,), branches=(Branch(string("S")),))
        return needs_of(panel("MP", fed(box, "C1")), DENSITY).wires[1]

    assert wire("J (N)") < wire("word " * 14) < wire("word " * 30) == wire("word " * 60)


def test_an_enclosure_ends_just_above_its_bus_where_its_text_is_beside_what_it_feeds():
    high = panel("SP", *(fed(load(f"L{n}"), f"C{n}") for n in range(6)), feed=Feed.LAST)
    root = panel("MP", fed(high, "C9"), fed(load("L9"), "C8"), feed=Feed.LAST)
    columns = set_columns(root, CLEAR[1], 0.0, 16.0)
    block = measure(root, 0, columns, CLEAR[1])
    assert block.rows[0] - block.top < 0.5 < block.up + block.top


def test_pieces_beside_each_other_share_the_width_and_too_wide_ones_stand_alone():
    pieces = cut_sources(house(units=3)).pieces
    beside = arrange_pieces(pieces, Box(0.5, 0.5, 16.5, 4.2), CLEAR[5:])
    assert max(len(row.lines) for row in beside.rows) > 1
    narrow = arrange_pieces(pieces, Box(0.5, 0.5, 8.0, 12.0), CLEAR[5:])
    assert [len(row.lines) for row in narrow.rows] == [1, 1, 1]


def test_only_the_last_settings_cut_texts():
    assert all(density.cutting is Cutting.NEVER for density in (*CLEAR, *SMALL))
    assert all(density.cutting is Cutting.ALLOWED for density in TIGHT)


def test_a_drawing_that_would_cut_a_text_does_not_fit_where_cutting_is_not_allowed():
    root = panel("MP", fed(PlanNode("L", Style.LEAF, "load", ("L (N) load", "word " * 60)), "C1"))
    never = Density(0.1, 0.1, 2, 5, 0.03, UnitText.INSIDE)
    small = Box(0, 0, 5.0, 5.0)
    assert arrange_whole(root, small, (never,)) is None
    assert arrange_whole(root, small, (replace(never, cutting=Cutting.ALLOWED),)) is not None


def test_a_plan_beyond_every_sheet_is_refused_with_the_reason():
    deep = string("S")
    for number in range(30):
        deep = PlanNode(f"J{number}", Style.INLINE, "junction", (f"J{number} (N)",), branches=(Branch(deep, f"P{number}"),))
    with pytest.raises(RefusedError, match="does not fit on 17 x 11 in sheets"):
        compose(plan(service(Branch(deep, "C1"))))


def test_a_large_plan_goes_on_several_sheets_with_its_pieces_shared_out():
    root = house(units=8, strings=5, modules=3)
    scenes = compose(plan(root))
    assert len(scenes) > 1
    assert [scene.sheet for scene in scenes][:2] == ["E-601", "E-601.2"]
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []


def test_free_rectangles_avoid_what_is_taken_and_the_largest_comes_first():
    taken = [Box(0, 0, 6, 4), Box(6, 0, 12, 1)]
    free = free_rectangles(taken, Box(0, 0, 12, 8))
    assert not any(box.overlaps(other) for box in free for other in taken)
    areas = [box.width() * box.height() for box in free]
    assert areas == sorted(areas, reverse=True) and areas[0] == pytest.approx(12 * 3.75, abs=2.0)


def test_groups_fill_free_corners_or_are_handed_back():
    block = TextBlock("NOTES", ("word " * 30,))
    make = lambda width: text_group(block, width, 0.125, 0.1)  # noqa: E731
    items = [Symbol("meter", Box(0, 0, 8, 5))]
    placed = fill_voids(items, Box(0, 0, 12, 6), [make])
    assert placed and not any(item_box(p).overlaps(items[0].box) for p in placed)
    assert fill_voids(items, Box(0, 0, 9, 5.2), [make]) is None


@pytest.mark.parametrize("style", list(SurroundStyle))
def test_what_stands_around_keeps_clear_of_the_diagrams_area_and_of_each_other(style):
    found = surround(plan(house()), ("bus", "breaker", "run tag"), style)
    scene = Scene(tuple(surround_items(found)))
    assert checks.overlaps(scene) == () and checks.outside_frame(scene) == ()
    area = found.area()
    assert FRAME.contains(area)
    assert not any(item_box(text).overlaps(area) for text in scene.of(Text))


def test_the_legend_names_every_symbol_there_is():
    assert set(SYMBOL_KINDS) - {"unit"} | set(BUS_KINDS) <= set(NAMES)


def test_the_legend_shows_the_used_kinds_only_and_reduces_large_symbols():
    kinds = (*used_symbols(house()), "run tag", "existing", "new", "boundary", "reference")
    group = legend_group(kinds, 6.0, 0.125, 0.1)
    drawn = {item.kind for item in group.items if isinstance(item, Symbol)} - {"dc bus"}
    assert drawn == set(used_symbols(house())) - {"bus", "dc bus"}
    assert all(item.box.height() <= 0.3 for item in group.items if isinstance(item, Symbol))
    assert checks.overlaps(Scene(group.items)) == ()


def test_a_table_wraps_the_columns_that_may_shrink_and_loses_nothing():
    table = Table("T", (Column("Run", True), Column("Text", True), Column("Fixed")), (("C1, C2, C3, C4, C5", "many words " * 6, "2 x 6 AWG"),))
    wide = table_group(table, 0.1, 12.0, 0.125)
    narrow = table_group(table, 0.1, 3.5, 0.125)
    assert narrow.width <= 3.5 + 1e-9 and narrow.height > wide.height
    for group in (wide, narrow):
        assert checks.overlaps(Scene(group.items)) == ()
        words = " ".join(line for item in group.items if isinstance(item, Text) for line in item.lines).split()
        assert words.count("words") == 6 and "C5" in words
    assert table_group(table, 0.1, 1.0, 0.125) is None
    assert fit_widths(table, 0.1, 1.0) is None


def test_numbered_notes_hang_below_their_numbers():
    group = text_group(TextBlock("NOTES", ("first " * 20, "second"), True), 2.0, 0.125, 0.1)
    marks = [item for item in group.items if isinstance(item, Text) and item.lines[0] in ("1.", "2.")]
    assert len(marks) == 2 and marks[0].y < marks[1].y
    assert all(item_box(item).x1 <= 2.0 + 1e-9 for item in group.items)


def test_abbreviations_stand_in_one_paragraph():
    group = run_in_group("ABBREVIATIONS", (("PV", "photovoltaic"), ("AHJ", "authority")), 6.0, 0.125, 0.1)
    assert "PV = photovoltaic; AHJ = authority" in group.items[-1].lines


def test_the_title_block_holds_any_text_within_its_width():
    block = plan(house()).title_block
    long = replace(block, title="T" * 120, lines=("x" * 300,), checked="c " * 80, revisions=(("1", "2026-01-01", "r" * 90),) * 6)
    for found in (block, long):
        group = title_group(found, 3.25, 0.125, 0.1)
        assert isinstance(group, Group) and checks.overlaps(Scene(group.items)) == ()
        assert all(-1e-9 <= item_box(item).x0 and item_box(item).x1 <= 3.25 + 1e-9 for item in group.items)
