"""Panels with many branch circuits: what is drawn together, what each group says, and that nothing gets lost."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from linecalc.diagram import scene_checks as checks
from linecalc.diagram.arrange import PACKED, arrange_whole, place_arrangement
from linecalc.diagram.balloons import balloon, in_ranges, names_all
from linecalc.diagram.fonts import text_width_in
from linecalc.diagram.lists import in_columns, run_on
from linecalc.diagram.notes_sheet import notes_scene
from linecalc.diagram.one_sheet import run_tags
from linecalc.diagram.plan import Branch, Merging, Plan, PlanNode, Style, TextBlock, branches_of, nodes_of
from linecalc.diagram.scene import Box, Outline, Scene, Text, item_box, subject_boxes
from linecalc.diagram.schedule import COLUMNS, merged_rows, ranged_rows, schedule_table
from linecalc.diagram.sheet import compose
from linecalc.diagram.together import GROUPINGS, plans_with_groups, with_groups
from linecalc.errors import RefusedError
from tests.diagram.plans import fed, panel, plan, service, unit

RATINGS = ("20 A", "15 A", "20 A", "30 A", "20 A", "40 A")


def circuit(number: int, rating: str = "20 A", symbol: str = "load", existing: bool = False, head: str = "L") -> Branch:
    mark = "(E)" if existing else "(N)"
    label = (f"{head}{number} {mark} outlets of room {number}", "1.2 kW")
    return fed(PlanNode(f"{head}{number}", Style.LEAF, symbol, label, existing), f"C{head}{number}", rating)


def crowded(count: int, head: str = "L") -> tuple[Branch, ...]:
    """Circuits of several ratings, every fifth of them existing."""
    return tuple(circuit(n, RATINGS[n % len(RATINGS)], existing=n % 5 == 1, head=head) for n in range(count))


def drawing_of(root: PlanNode, lengths: bool = True) -> Plan:
    """The plan of a tree, with a row in the schedule for every run; each of another length."""
    tags = [branch.run_tag for branch in branches_of(root) if branch.run_tag]
    rows = tuple(
        (tag, f"MP - X{n}", "2 x 12 AWG Cu THWN-2", "-", "12 AWG Cu", "1/2 in EMT", f"{10 + n * lengths} ft", "20 A", "9 A", "0.50 %")
        for n, tag in enumerate(tags)
    )
    return replace(plan(root), schedule=schedule_table(rows))


def house_with(count: int, *more: Branch) -> Plan:
    return drawing_of(service(Branch(panel("MP", *crowded(count), fed(unit("U1", 2, 1), "C2"), *more, main="200 A"), "C1")))


def words(scenes: tuple[Scene, ...]) -> str:
    return " ".join(line for scene in scenes for text in scene.of(Text) for line in text.lines)


# --- balloons ---------------------------------------------------------------


def test_a_balloon_names_first_and_last_of_runs_that_follow_each_other():
    assert balloon("C1") == "C1" and balloon("C1, C2") == "C1, C2"
    assert balloon("C9, C10, C11, C14") == "C9 to C11, C14"
    assert in_ranges(("L0C", "L1C", "L2C")) == "L0C to L2C"


def test_tags_that_only_look_alike_are_no_range():
    assert in_ranges(("C1", "D2", "C3")) == "C1, D2, C3"
    assert in_ranges(("C1A", "C2B", "C3A")) == "C1A, C2B, C3A"
    assert in_ranges(("C08", "C09", "C10")) == "C08, C09, C10"
    assert in_ranges(("AC", "EV")) == "AC, EV"


def test_a_balloon_without_room_for_all_tags_tells_how_many_runs_there_are():
    tag = ", ".join(f"ROOM{n}" for n in range(1, 30, 3))
    assert not names_all(tag) and balloon(tag) == "10 runs"


# --- texts in columns -------------------------------------------------------


def test_texts_are_set_in_columns_read_downwards_that_share_no_width():
    texts = tuple(f"C{n}: ROOM{n}" for n in range(9))
    columns = in_columns(texts, 2.6, 0.1)
    assert tuple(text for _, lines in columns for text in lines) == texts
    assert len(columns) > 1
    for (left, lines), (following, _) in zip(columns, columns[1:]):
        assert left + max(text_width_in(text, 0.1) for text in lines) < following
    assert columns[-1][0] + max(text_width_in(text, 0.1) for text in columns[-1][1]) <= 2.6


def test_no_columns_are_set_where_they_would_be_long_and_texts_then_run_on():
    texts = tuple(f"C{n}: the outlets of room number {n}" for n in range(50))
    assert in_columns(texts, 3.5, 0.1) == ()
    lines = run_on(texts, 3.5, 0.1)
    assert " ".join(lines) == "; ".join(texts)
    assert all(text_width_in(line, 0.1) <= 3.5 for line in lines)
    assert all(line.endswith(";") for line in lines[:-1])


# --- what is drawn together -------------------------------------------------


def test_circuits_of_one_rating_kind_and_mark_are_one_branch_with_quantity_and_rating():
    root = panel("MP", *(circuit(n) for n in range(6)), circuit(6, "30 A"), circuit(7, existing=True))
    branches = with_groups(root, GROUPINGS[0]).branches
    assert [branch.rating for branch in branches] == ["6 x 20 A", "30 A", "20 A"]
    group = branches[0]
    assert group.run_tag == "CL0, CL1, CL2, CL3, CL4, CL5" and group.node.tag == "L0, L1, L2, L3, L4, L5"
    assert group.node.circuits == 6 and group.node.label[:2] == ("6 (N) branch circuits", "L0 outlets of room 0, 1.2 kW")


def test_motors_ev_equipment_and_things_with_something_beyond_stay_by_themselves_at_first():
    far = PlanNode("D", Style.INLINE, "disconnect", ("D (N) disconnect",), branches=(Branch(circuit(99).node, "C99"),))
    more = (circuit(20, symbol="motor"), circuit(21, symbol="motor"), circuit(22, symbol="ev equipment"), fed(far, "C50", "20 A"))
    root = panel("MP", *(circuit(n) for n in range(8)), *more, fed(unit("U1"), "C2", "20 A"))
    branches = with_groups(root, GROUPINGS[0]).branches
    assert [branch.rating for branch in branches] == ["8 x 20 A", *5 * ["20 A"]]
    later = with_groups(root, GROUPINGS[1]).branches
    assert [branch.node.label[0] for branch in later[1:2]] == ["2 (N) motors"] and later[-2].run_tag == "C50"


def test_a_panel_with_few_circuits_is_left_as_it_is():
    root = panel("MP", *(circuit(n) for n in range(7)))
    assert with_groups(root, GROUPINGS[0]) == root


def test_no_circuit_is_put_past_one_that_leads_further():
    root = panel("MP", *(circuit(n) for n in range(5)), fed(unit("U1"), "C2"), *(circuit(n) for n in range(5, 9)))
    assert [branch.run_tag[:3] for branch in with_groups(root, GROUPINGS[0]).branches] == ["CL0", "C2", "CL5"]


@pytest.mark.parametrize("grouping", GROUPINGS)
def test_no_way_of_drawing_together_loses_a_tag(grouping):
    root = house_with(40).root
    found = with_groups(root, grouping)

    def every(part: PlanNode) -> tuple[list[str], list[str]]:
        runs = [tag for branch in branches_of(part) for tag in branch.run_tag.split(", ") if tag]
        return sorted(runs), sorted(tag for node in nodes_of(part) for tag in node.tag.split(", "))

    assert every(found) == every(root)
    assert sum(1 for _ in nodes_of(found)) < sum(1 for _ in nodes_of(root)) / 2


def test_where_the_balloon_tells_only_how_many_each_load_stands_beside_the_tag_of_its_run():
    root = panel("MP", *(circuit(n) for n in range(0, 40, 3)))
    node = with_groups(root, GROUPINGS[0]).branches[0].node
    assert node.label[1] == "CL0: L0 outlets of room 0, 1.2 kW" and len(node.label) == 15


def test_circuits_of_several_ratings_or_marks_say_their_own_each():
    mixed = tuple(circuit(n, f"{15 + 5 * (n % 4)} A") for n in range(8))
    odd = replace(mixed[0], node=replace(mixed[0].node, existing=True))
    group = with_groups(panel("MP", odd, *mixed[1:]), GROUPINGS[4]).branches[0]
    assert group.rating == "8 x 15 A to 30 A"
    assert group.node.label[:3] == ("8 branch circuits", "L0 (E), 15 A", "L1 (N), 20 A")
    two = with_groups(panel("MP", *(circuit(n, f"{15 + 5 * (n % 2)} A") for n in range(5))), GROUPINGS[-1]).branches[0]
    assert two.rating == "3 x 15 A, 2 x 20 A"


def test_at_last_existing_runs_stand_beside_new_ones_each_with_its_mark():
    mixed = tuple(circuit(n, "20 A") for n in range(4))
    odd = replace(mixed[0], existing=True)
    assert len(with_groups(panel("MP", odd, *mixed[1:]), GROUPINGS[-2]).branches) == 2
    group = with_groups(panel("MP", odd, *mixed[1:]), GROUPINGS[-1]).branches[0]
    assert group.node.label == ("4 (N) branch circuits", "CL0 (E): L0", "CL1 (N): L1", "CL2 (N): L2", "CL3 (N): L3")
    assert not group.existing and group.rating == "4 x 20 A"


def test_a_plan_with_groups_says_so_in_its_notes_and_each_way_is_tried_once():
    whole = house_with(20)
    ways = tuple(plans_with_groups(whole))
    assert len(set(ways)) == len(ways) and all(way.root != whole.root for way in ways)
    assert all("drawn together" in way.blocks[0].paragraphs[1] for way in ways)
    assert ways[-1].merging is Merging.RANGES and "least to largest" in ways[-1].blocks[0].paragraphs[-1]


# --- the schedule -----------------------------------------------------------


def test_merged_rows_are_in_the_order_of_their_tags_with_an_end_that_is_the_same_once():
    rows = tuple((f"C{n}", f"MP - L{n}", "x") for n in (12, 3, 2, 1))
    assert merged_rows(rows) == (("C1, C2, C3, C12", "MP - L1 to L3, L12", "x"),)
    assert merged_rows((("P1", "S1 - U1", "x"), ("P2", "S2 - U1", "x"))) == (("P1, P2", "S1, S2 - U1", "x"),)
    assert merged_rows((("P1", "S1 - A", "x"), ("P2", "S2 - B", "x"))) == (("P1, P2", "S1 - A, S2 - B", "x"),)


def test_rows_of_other_length_current_and_drop_are_put_together_with_least_and_largest():
    rows = (
        ("C2", "MP - B", "2 x 12", "-", "12", "EMT", "40 ft", "20 A", "9 A", "1.10 %"),
        ("C1", "MP - A", "2 x 12", "-", "12", "EMT", "9 ft", "20 A", "12.5 A", "0.30 %"),
        ("C3", "MP - D", "2 x 10", "-", "12", "EMT", "9 ft", "20 A", "12.5 A", "0.30 %"),
        ("C4", "MP - E", "2 x 12", "-", "12", "EMT", "-", "20 A", "9 A", "-"),
    )
    assert ranged_rows(rows) == (
        ("C1, C2", "MP - A, B", "2 x 12", "-", "12", "EMT", "9 to 40 ft", "20 A", "9 to 12.5 A", "0.30 to 1.10 %"), *rows[2:],
    )
    assert [column.heading for column in COLUMNS][6::2] == ["Length", "Current"] and COLUMNS[9].heading == "Drop"


# --- rows close to each other ------------------------------------------------


def test_in_the_tightest_settings_rows_stand_close_and_every_rating_ends_ahead_of_every_balloon():
    wide = fed(unit("U1"), "RUN-TO-THE-FIRST-UNIT", "40 A")
    root = service(Branch(panel("MP", *crowded(17), wide, main="200 A"), "C1"))
    found = arrange_whole(root, Box(0.0, 0.0, 16.0, 9.0), PACKED[:1])
    assert found is not None
    rows = found.rows[0].lines[0].block.children[0].rows
    assert max(below - above for above, below in zip(rows, rows[1:17])) < 0.3
    items = place_arrangement(found, Box(0.0, 0.0, 16.0, 9.0))
    branches = {branch.run_tag for branch in root.branches[0].node.branches}
    ratings = [item_box(item).x1 for item in items if isinstance(item, Text) and item.role == "rating" and item.subject in branches]
    balloons = [item.box.x0 for item in items if isinstance(item, Outline) and item.kind == "run tag" and item.subject in branches]
    assert len(ratings) == len(balloons) == 18 and max(ratings) < min(balloons)


# --- whole drawings ---------------------------------------------------------


@pytest.mark.parametrize("count", [14, 42])
def test_a_panel_with_so_many_circuits_is_drawn_whole_with_every_tag_and_its_row(count):
    whole = house_with(count)
    scenes = compose(whole)
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []
    assert checks.unmatched_references(scenes) == ()
    assert {tag for scene in scenes for tag in run_tags(scene)} == {row[0] for row in whole.schedule.rows}
    assert {f"L{n}" for n in range(count)} <= set().union(*(subject_boxes(scene) for scene in scenes))
    for scene in scenes:
        listed = set(re.findall(r"[\w-]+", " ".join(line for text in scene.of(Text) if text.role == "table" for line in text.lines)))
        assert set(run_tags(scene)) <= listed
    assert "…" not in words(scenes)
    assert set(re.findall(r"L\d+", " ".join(line for scene in scenes for line in checks.diagram_lines(scene)))) >= {
        f"L{n}" for n in range(count)
    }


def test_fourteen_circuits_each_keep_a_breaker_of_their_own():
    ratings = [text.lines[0] for scene in compose(house_with(14)) for text in scene.of(Text) if text.role == "rating"]
    assert not any(" x " in rating for rating in ratings)
    assert ratings.count("20 A") == 7 and ratings.count("15 A") == 3


def test_two_crowded_panels_stand_on_sheets_of_their_own():
    sub = panel("SP", *crowded(16, "K"), fed(unit("U2", 3), "C8"), main="100 A")
    scenes = compose(house_with(16, fed(sub, "C7", "100 A")))
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []
    where = [next(scene.sheet for scene in scenes if tag in subject_boxes(scene)) for tag in ("MP", "SP")]
    assert len(set(where)) == 2


def test_notes_that_no_sheet_of_the_diagram_holds_stand_on_one_of_their_own():
    notes = tuple(TextBlock(f"NOTES {n}", tuple("a note of the house " * 12 for _ in range(12)), True) for n in range(2))
    scenes = compose(replace(house_with(14), blocks=notes))
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []
    assert f"Notes: see sheet {scenes[-1].sheet}." in words(scenes[:1]) and "NOTES 1" in words(scenes[-1:])
    far_too_long = replace(house_with(1), blocks=(TextBlock("NOTES", ("a note of the house " * 3000,)),))
    assert notes_scene(far_too_long, ("load",)) is None


def test_what_no_sheet_holds_is_refused_with_the_tag_of_what_is_crowded():
    root = service(Branch(panel("MP", *(fed(unit(f"U{n}"), f"D{n}") for n in range(40))), "C1"))
    with pytest.raises(RefusedError, match="MP has 40 branches"):
        compose(drawing_of(root))
