"""Lines, tables and pages of the set, laid out by the measures of the drafting font."""

from __future__ import annotations

import json
from dataclasses import asdict
from importlib.resources import as_file, files

import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st

from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN, font_metrics, font_size_in, text_width_in
from linecalc.report.content import Fact, Grid
from linecalc.report.permit.flow import flow
from linecalc.report.permit.items import Facts, Heading, Lines, Listing, NewPage, Paragraph, Shelf, run_of_facts
from linecalc.report.permit.listings import height_of, listing, row_by_row, shelves, spread, tables
from linecalc.report.permit.typeset import HANGING_IN, cell_lines, in_lines, words

WIDTH = 5.06
LONG = "the ampacity needed at the terminals before any factor, at most 10.4 kWh and 3/4 in of -17 degC in all of them "


def text_of(item):
    return [("".join(run for run, _ in line)) for line in item.lines]


def set_one(item, width=WIDTH):
    return in_lines((item,), width)[0]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("at most 10.4 kWh each", ("at", "most", "10.4 kWh", "each")),
        ("1-1/4 in EMT, 2/0 AWG Cu", ("1-1/4 in", "EMT,", "2/0 AWG", "Cu")),
        ("-17 degC, 26.3 % of 40 %", ("-17 degC,", "26.3 %", "of", "40 %")),
        ("2 units in all", ("2", "units", "in", "all")),
        ("1.24 ohm/kft x 30 ft", ("1.24 ohm/kft", "x", "30 ft")),
    ],
)
def test_a_number_stays_with_its_unit(text, found):
    assert words(text) == found


def test_no_line_ends_between_a_number_and_its_unit():
    for width in (1.0, 1.5, 2.0, 3.0):
        for line in text_of(set_one(Paragraph(LONG * 3, "Lead"), width)):
            assert not line.endswith((" 10.4", " 3/4", " -17"))


@given(st.text(max_size=120), st.text(max_size=300), st.floats(0.6, 8.0))
def test_no_line_is_wider_than_its_column_and_no_character_is_lost(lead, text, width):
    found = set_one(Paragraph(text, lead), width)
    lines = text_of(found)
    for at, line in enumerate(lines):
        assert text_width_in(line, CAP_MIN_IN) <= width - (HANGING_IN if at else 0) + 1e-6
    whole = "".join("".join(words(part)) for part in (lead, text)).replace(" ", "")
    assert "".join(lines).replace(" ", "") == whole


def test_a_word_longer_than_a_line_is_cut_and_the_rest_of_the_paragraph_follows():
    lines = cell_lines("a " + "x" * 80 + " b", 1.0)
    assert lines[0] == "a"
    assert lines[-1].endswith("x b")
    assert "".join(lines).replace(" ", "") == "a" + "x" * 80 + "b"


def test_a_lead_stands_out_and_the_text_after_it_does_not():
    assert set_one(Paragraph("text", "Lead")).lines == ((("Lead", True), ("  text", False)),)
    assert set_one(Paragraph("text")).lines == ((("text", False),),)


def test_facts_follow_each_other_in_one_paragraph():
    (facts,) = run_of_facts((Fact("Length", "30 ft"), Fact("Ambient", "60 degC", "assumed")))
    assert text_of(set_one(facts)) == ["Length  30 ft      Ambient  60 degC [assumed]"]
    assert run_of_facts(()) == ()
    assert set_one(Facts((("a", "b"),), sticky=True)).sticky


def grid(columns, rows, cell="words", caption="t"):
    return Grid(caption, tuple(f"c{at}" for at in range(columns)), tuple((cell,) * columns for _ in range(rows)))


def test_heads_are_broken_before_the_cells_are():
    found = listing(Grid("t", ("Carries after factors", "Size"), (("39 A", "2/0 AWG Cu THWN-2"),)), 2.2)
    assert "\n" in found.columns[0]
    assert found.rows == (("39 A", "2/0 AWG Cu THWN-2"),)


def test_no_cell_is_wider_than_its_column():
    found = listing(grid(6, 4, LONG), 9.0)
    assert sum(found.widths) <= 9.001
    for row in (found.columns, *found.rows):
        for cell, width in zip(row, found.widths, strict=True):
            assert max(text_width_in(line, CAP_MIN_IN) for line in cell.split("\n")) <= width - 0.13


def test_tables_stand_side_by_side_and_below_each_other_but_never_beyond_the_room():
    (shelf, last) = shelves([grid(3, 12, caption="high"), grid(2, 3, caption="low"), grid(2, 2, caption="lower"), grid(30, 2, caption="wide")], 16.0)
    assert isinstance(shelf, Shelf) and isinstance(last, Listing)
    assert [[table.caption for table in stack] for stack in shelf.stacks] == [["high"], ["low", "lower"]]
    assert sum(max(sum(table.widths) for table in stack) for stack in shelf.stacks) <= 16.0


def test_tables_keep_the_order_in_which_they_are_read():
    found = shelves([grid(3, at, caption=str(number)) for number, at in enumerate((4, 2, 9, 1, 7, 3))], 6.0)
    firsts = [item.caption if isinstance(item, Listing) else item.stacks[0][0].caption for item in found]
    assert firsts == sorted(firsts)
    for item in found:
        if isinstance(item, Shelf):
            heads = [stack[0].caption for stack in item.stacks]
            assert heads == sorted(heads)
            assert all([table.caption for table in stack] == sorted(table.caption for table in stack) for stack in item.stacks)


def test_every_table_stands_on_a_shelf_once():
    captions = [str(number) for number in range(12)]
    found = shelves([grid(2 + number % 5, 1 + number * 7 % 11, caption=text) for number, text in enumerate(captions)], 9.0)
    shown = [table.caption for item in found for stack in (item.stacks if isinstance(item, Shelf) else ((item,),)) for table in stack]
    assert sorted(shown) == sorted(captions)


def test_a_last_page_with_little_on_it_takes_a_shelf_from_the_page_before():
    high, middle, low = (listing(grid(2, rows), 16.0) for rows in (20, 20, 2))
    page = height_of(high) + height_of(middle) + 0.1
    assert spread((high, middle), page) == (high, middle)
    assert spread((high, middle, low), page) == (high, NewPage(), middle, low)
    assert spread((high, middle, high), page) == (high, middle, high)


def test_the_rest_of_a_table_that_is_broken_over_pages_stays_where_it_falls():
    long, low = (listing(grid(2, rows), 16.0) for rows in (80, 2))
    assert not long.whole
    assert spread((low, long), 8.0) == (low, long)


def test_a_table_too_wide_for_a_column_is_written_row_by_row_with_every_cell():
    wide = Grid("Path", ("Section", "Method", "Place", "Fill"), (("R1", "EMT 3/4 in", LONG, "24 % of 40 %"), ("R2", "EMT 1 in", LONG, "-")))
    heading, first, second = tables([wide], WIDTH)
    assert heading == Heading("Path", 4)
    assert (first.lead, second.lead) == ("Section R1", "Section R2")
    assert first.text == f"Method: EMT 3/4 in; Place: {LONG}; Fill: 24 % of 40 %"
    assert "Fill" not in second.text
    assert row_by_row(wide) == (heading, first, second)


def test_a_low_table_is_never_broken_and_a_high_one_may_be():
    assert listing(grid(2, 5), 16.0).whole
    assert not listing(grid(2, 60), 16.0).whole


ITEMS = (
    Heading("First"), Paragraph(LONG * 2, "Lead"), Paragraph("short"), listing(grid(2, 5), WIDTH), Heading("small", 4), Paragraph(LONG * 5),
    listing(grid(1, 3, LONG), WIDTH), Heading("third", 3), Paragraph(LONG),
)  # fmt: skip


def test_heights_are_those_that_the_template_gives():
    """Measured by typst itself, item by item, with the space around left out."""
    found = flow(3, ITEMS, WIDTH, 8.87).items
    template = (files("linecalc.report.permit") / "set.typ").read_text("utf-8")
    head = template[: template.index("#for sheet in data.sheets")]
    query = f"#context [#metadata(data.items.map(item => measure(block(width: {WIDTH}in, draw(item))).height / 1in)) <heights>]"
    data = {
        "title": "", "subject": "", "author": "", "keywords": [], "font": font_metrics().family, "em": font_size_in(1.0) * 72,
        "cap": CAP_MIN_IN, "cap_review": CAP_REVIEW_IN, "items": [asdict(item) for item in found],
    }  # fmt: skip
    with as_file(files("linecalc.diagram") / "linecalc-drafting.ttf") as font:
        measured = json.loads(
            typst.query(
                (head + query).encode(), "<heights>", field="value", one=True, font_paths=[str(font.parent)], ignore_system_fonts=True,
                sys_inputs={"data": json.dumps(data)},
            )  # fmt: skip
        )
    for item, height in zip(found, measured, strict=True):
        assert own_height(item) == pytest.approx(height, abs=0.004), item


def own_height(item):
    em = font_size_in(CAP_MIN_IN)
    if isinstance(item, Lines):
        return CAP_MIN_IN + (len(item.lines) - 1) * (CAP_MIN_IN + 0.47 * em)
    if isinstance(item, Heading):
        return CAP_REVIEW_IN if item.level < 3 else CAP_MIN_IN
    return height_of(item) - 0.9 * em


def test_the_pages_of_a_flow_are_equally_full():
    paragraphs = [Paragraph(LONG, str(number)) for number in range(200)]
    whole = flow(3, paragraphs, WIDTH, 8.87)
    total = sum(own_height(item) + 0.58 * font_size_in(CAP_MIN_IN) for item in whole.items)
    pages = -(-total // (3 * 8.77))
    assert 0 < whole.spare < 8.87 / pages
    assert total <= pages * 3 * (8.87 - whole.spare)
    assert total > pages * 3 * (8.87 - whole.spare) * 0.93


def test_a_short_flow_is_one_page_with_alike_columns():
    assert flow(3, [Paragraph("one line", str(number)) for number in range(30)], WIDTH, 8.87).spare > 5.0


def test_an_empty_flow_is_one_page():
    assert flow(3, (), WIDTH, 8.87).items == ()
