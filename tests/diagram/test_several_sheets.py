"""How a drawing is divided over sheets: where it is cut, what shares a sheet, and what each reference says."""

from __future__ import annotations

from dataclasses import replace

from linecalc.diagram import scene_checks as checks
from linecalc.diagram.arrange import CLEAR, ROOMY, SMALL
from linecalc.diagram.cut import Piece, load_runs
from linecalc.diagram.divide import cut_to_fit, divided, size
from linecalc.diagram.plan import Branch, Column, PlanNode, Style, Table, TextBlock, branches_of, nodes_of
from linecalc.diagram.scene import Text
from linecalc.diagram.several import part_of, several_sheets, shared_out, sheet_name, with_names
from linecalc.diagram.texts import KNOWN
from tests.diagram.plans import fed, house, load, panel, plan, service, unit

ALL = (*ROOMY, *CLEAR, *SMALL)


def at_most(lines: int):
    """Whether parts take so many lines at most: a sheet without geometry."""
    return lambda share: sum(size(piece.root) for piece in share) <= lines


def two_panels(units_here: int, units_there: int) -> PlanNode:
    """A main panel with units, and a subpanel with units behind it."""
    sub = panel("SP", *(fed(unit(f"V{n}", 2), f"D{n}") for n in range(units_there)))
    here = [fed(unit(f"U{n}", 2), f"C{n + 10}") for n in range(units_here)]
    return service(Branch(panel("MP", *here, fed(sub, "C2", "100 A")), "C1"))


def references(root: PlanNode) -> list[str]:
    return [node.symbol for node in nodes_of(root) if node.style is Style.REFERENCE]


def test_a_tree_that_fits_is_not_cut():
    assert divided(two_panels(1, 1), at_most(100)) == (Piece("", two_panels(1, 1)),)


def test_a_panel_with_all_that_it_feeds_goes_to_a_sheet_of_its_own_where_both_parts_then_fit_whole():
    root = two_panels(2, 2)
    cut = cut_to_fit(Piece("", root), 0, at_most(size(root) - 1))
    assert [piece.root.branches[0].node.tag for piece in cut.pieces] == ["SP"]
    assert {"U0", "U1"} <= {node.tag for node in nodes_of(cut.main)}


def test_sources_are_cut_off_last_ones_first_and_no_more_than_needed():
    root = two_panels(6, 1)
    whole = size(root)
    cut = cut_to_fit(Piece("", root), 0, at_most(whole - 5))
    kept = [node.tag for node in nodes_of(cut.main) if node.style is Style.UNIT]
    gone = [node.tag for piece in cut.pieces for node in nodes_of(piece.root) if node.style is Style.UNIT]
    assert kept + gone == [f"U{n}" for n in range(6)] + ["V0"] and len(gone) == 3
    assert references(cut.main) == ["A", "B", "C"]


def test_where_panels_alone_are_too_large_a_feeder_is_cut_with_sources_beyond_it_left_for_its_own_sheet():
    sub = panel("SP", *(fed(load(f"L{n}"), f"C{n + 20}") for n in range(9)), fed(unit("V0", 3), "D0"))
    root = service(Branch(panel("MP", *(fed(load(f"M{n}"), f"C{n + 40}") for n in range(9)), fed(sub, "C2")), "C1"))
    parts = divided(root, at_most(15))
    assert [piece.letter for piece in parts] == ["", "A"]
    assert "SP" not in {node.tag for node in nodes_of(parts[0].root)}


def test_a_unit_too_large_for_a_sheet_goes_on_with_half_of_its_strings():
    big = service(Branch(panel("MP", fed(unit("U0", 12), "C1")), "C9"))
    parts = divided(big, lambda share: sum(node.symbol == "pv string" for piece in share for node in nodes_of(piece.root)) <= 7)
    strings = [[node.tag for node in nodes_of(piece.root) if node.symbol == "pv string"] for piece in parts]
    assert strings[1] == [f"U0-S{n}" for n in range(6)] and sum(map(len, strings)) == 12
    cut_runs = [branch for branch in branches_of(parts[1].root) if branch.node.style is Style.REFERENCE]
    assert all(branch.converter and branch.run_tag for branch in cut_runs)


def test_loads_behind_a_disconnect_are_cut_off_only_where_nothing_else_helps():
    far = PlanNode("L0-D", Style.INLINE, "disconnect", ("L0-D (N) disconnect",), branches=(Branch(load("L0"), "C8"),))
    root = service(Branch(panel("MP", fed(far, "C7"), fed(load("L1"), "C6"), fed(unit("U0", 3), "C5")), "C1"))
    assert load_runs(root) == ("C7",)

    def fits(share):
        return not {"U0", "L0-D"} & {node.tag for piece in share if not piece.letter for node in nodes_of(piece.root)}

    parts = divided(root, fits)
    assert [piece.root.branches[0].node.tag for piece in parts[1:]] == ["L0-D", "U0"]
    kept = divided(root, lambda share: fits(share) or "L0-D" in {node.tag for node in nodes_of(share[0].root)})
    assert [piece.letter for piece in kept] == [""]


def test_what_cannot_be_cut_is_not_divided():
    root = service(Branch(panel("MP", *(fed(load(f"L{n}"), f"C{n + 20}") for n in range(30))), "C1"))
    assert divided(root, at_most(20)) is None


def test_letters_run_through_all_sheets_and_each_has_two_ends():
    parts = divided(two_panels(6, 6), at_most(8))
    letters = [letter for piece in parts for letter in references(piece.root)]
    assert sorted(letters) == sorted(2 * [piece.letter for piece in parts[1:]])


def test_parts_keep_their_order_on_as_few_sheets_as_hold_them_and_these_are_filled_evenly():
    pieces = tuple(Piece(letter, unit("U", strings)) for letter, strings in (("", 8), ("A", 4), ("B", 4), ("C", 4), ("D", 4)))
    shares = shared_out(pieces, at_most(13))
    assert [piece.letter for share in shares for piece in share] == ["", "A", "B", "C", "D"]
    assert [len(share) for share in shares] == [1, 2, 2]


def test_the_first_sheet_holds_further_parts_where_there_is_room():
    pieces = (Piece("", unit("U", 2)), Piece("A", unit("V", 2)), Piece("B", unit("W", 8)))
    assert [len(share) for share in shared_out(pieces, at_most(9))] == [2, 1]


def test_a_reference_names_the_sheet_of_its_partner_only_where_that_is_another():
    whole = plan(two_panels(2, 2))
    first, second = divided(whole.root, at_most(size(whole.root) - 1))
    apart = with_names(whole, ((first,), (second,)))
    labels = [node.label for share in apart for piece in share for node in nodes_of(piece.root) if node.style is Style.REFERENCE]
    assert labels == [("to SP", "sheet E-601.2"), ("from MP", "sheet E-601")]
    together = with_names(whole, ((first, second),))
    labels = [node.label for piece in together[0] for node in nodes_of(piece.root) if node.style is Style.REFERENCE]
    assert labels == [("to SP",), ("from MP",)]
    assert [sheet_name(whole, number) for number in (0, 1, 11)] == ["E-601", "E-601.2", "E-601.12"]


def test_a_sheet_lists_its_own_runs_and_abbreviations_and_only_the_first_one_the_notes():
    rows = (("C2", "MP - SP"), ("D0", "SP - V0"))
    sub = panel("SP", fed(load("L", "EV charger"), "D0"), fed(unit("V0", 6), "D1"))
    root = service(Branch(panel("MP", fed(unit("U0", 6), "C3"), fed(sub, "C2")), "C1"))
    whole = plan(root, rows, abbreviations=(("AWG", "gauge"), ("EV", "vehicle")))
    first, second = divided(whole.root, at_most(size(whole.root) - 1))
    parts = [part_of(whole, (piece,), number, 2) for number, piece in enumerate((first, second))]
    assert [part.schedule.rows for part in parts] == [rows[:1], rows[1:]]
    assert parts[0].blocks == whole.blocks and parts[1].blocks[0].paragraphs == ("Notes: see sheet E-601.",)
    assert [part.abbreviations for part in parts] == [(), (("EV", "vehicle"),)]
    assert [part.title_block.sheet_count for part in parts] == ["sheet 1 of 2", "sheet 2 of 2"]


def test_groups_of_the_first_sheet_may_stand_in_the_corners_of_its_diagram_where_that_makes_room():
    branches = [fed(load(f"L{n}"), f"C{n + 20}") for n in range(13)]
    root = service(Branch(panel("MP", *branches, fed(unit("U0", 6, 3), "C2"), fed(unit("U1", 6, 3), "C3"), main="200 A"), "C1"))
    rows = tuple((f"C{n}", "x - y", *["5 x 250 kcmil in 2 in"] * 6) for n in range(20, 32))
    words = " ".join(short for short, _ in KNOWN)
    notes = (TextBlock("NOTES", (words, "word " * 240), True), TextBlock("MODES", ("word " * 150,)))
    columns = tuple(Column("Heading") for _ in range(8))
    whole = replace(plan(root, abbreviations=KNOWN), schedule=Table("SCHEDULE", columns, rows), blocks=notes)
    assert several_sheets(whole, ALL) is None
    scenes = several_sheets(whole, ALL, (0, 1, 2))
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []


def test_a_drawing_on_several_sheets_is_sound_and_its_references_match():
    scenes = several_sheets(plan(house(units=4, strings=4, modules=2)), ALL)
    assert len(scenes) == 2
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []
    assert checks.unmatched_references(scenes) == ()
    assert any(text.lines[0].endswith("continued") for text in scenes[1].of(Text) if text.role == "boundary label")
    assert all("backed-up part" in " ".join(line for text in scene.of(Text) for line in text.lines) for scene in scenes)
