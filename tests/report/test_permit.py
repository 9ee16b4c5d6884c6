"""The permit set as PDF: every page, text, bookmark and byte."""

from __future__ import annotations

import re
from functools import cache

import pytest

from linecalc.caution import CAUTION
from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN, text_width_in
from linecalc.project.read import read_project
from linecalc.report.labels import label_schedule
from linecalc.report.permit import permit_pdf, sheet_pdf
from linecalc.report.permit.listings import listing
from linecalc.report.permit.label_items import colors, columns_of, drawn_label
from linecalc.report.amounts import amount
from linecalc.report.content import Grid
from linecalc.report.sheet import sheet
from linecalc.study import study
from linecalc.units import Quantity
from tests.report.houses import EXAMPLES
from tests.report.sheets import outside, overlapping, pages_of, reader, squeezed

SETS = ("a", "b", "c", "d")
#: Frame of a sheet and top of its title strip, in points.
FRAME_PT, TITLE_STRIP_PT = 28.0, 105.0
RATINGS = (
    "bus", "main", "rating", "device", "ac_power", "ac_current", "ac_current_island", "interrupting", "overcurrent_max", "dc_voltage_max",
    "dc_voltage", "energy", "storage_current", "charge_power", "discharge_power", "mca", "mocp", "rla", "lra",
)  # fmt: skip
#: The text of a drawing comes letter by letter.
LETTERS_OF_A_DRAWING = 2


@cache
def studied(name):
    return study(read_project(EXAMPLES / f"{name}.toml"))


@cache
def permit(name):
    found = studied(name)
    return permit_pdf(found, sheet(found))


@cache
def placed(name):
    return pages_of(permit(name))


@cache
def pages(name):
    return tuple(page.text for page in placed(name))


@pytest.mark.parametrize("name", SETS)
def test_every_sheet_says_which_of_how_many_it_is(name):
    for number, text in enumerate(pages(name), 1):
        assert f"sheet{number}of{len(pages(name))}" in text


@pytest.mark.parametrize("name", SETS)
def test_every_sheet_has_caution_edition_title_and_who_reviews(name):
    found = studied(name)
    for text in pages(name):
        for words in (CAUTION, found.checked_against, found.project.project.title):
            assert squeezed(words) in text


@pytest.mark.parametrize("name", SETS)
def test_every_tag_stands_in_the_text(name):
    found, text = studied(name), "".join(pages(name))
    tags = [*found.network.nodes, *(circuit.tag for circuit in found.network.circuits), *found.project.section]
    assert [tag for tag in tags if tag not in text] == []


@pytest.mark.parametrize("name", SETS)
def test_every_citation_stands_in_the_text(name):
    found, text = studied(name), "".join(pages(name)).replace("(frommemory)", "(sectionfrommemory,verify)")
    cited = {check.citation for check in found.checks} | {label.citation for label in label_schedule(found)}
    assert [citation for citation in cited if squeezed(citation) not in text] == []


@pytest.mark.parametrize("name", SETS)
def test_every_rating_stands_in_the_text(name):
    found, text = studied(name), "".join(pages(name))
    ratings = [circuit.device.rating for circuit in found.sized.circuits if circuit.device] + [bus.rating for bus in found.sized.buses]
    printed = [amount(rating, "A") for rating in ratings]
    for node in found.network.nodes.values():
        stated = [getattr(record, key, None) for record in (node.item, node.data) for key in RATINGS]
        printed += [amount(quantity.value, quantity.unit) for quantity in stated if isinstance(quantity, Quantity)]
    assert len(printed) > 20
    assert [rating for rating in printed if squeezed(rating) not in text] == []


@pytest.mark.parametrize("name", SETS)
def test_no_formula_number_fact_or_finding_of_the_calculations_is_missing(name):
    content, text = sheet(studied(name)), "".join(pages(name))
    told = [part for fact in (*content.job, *content.system, *content.basis) for part in fact.text.split("; ")] + list(content.memory)
    told += [doubt.path for doubt in content.doubts] + [table.number for table in content.tables]
    for block in content.blocks:
        told += [block.title, *(fact.text for fact in block.facts), *(line.arithmetic for line in block.lines)]
        told += [line.citation for line in block.lines] + [line.meaning for line in block.lines]
        told += [part for found in block.findings for part in (found.message, found.citation, *(advice for _, advice in found.advice))]
        told += [cell for grid in block.grids for row in grid.rows for cell in row if cell != "-"]
    assert len(told) > 500
    assert [words for words in dict.fromkeys(told) if squeezed(words) not in text] == []


@pytest.mark.parametrize("name", SETS)
def test_the_last_sheet_of_the_calculations_is_no_rest(name):
    sheets = [text for text in pages(name) if re.search(r"E-603(\.\d+)?sheet", text)]
    assert len(sheets) > 5
    bare = len(squeezed(CAUTION)) + 250
    middle = sorted(len(text) - bare for text in sheets)[len(sheets) // 2]
    assert len(sheets[-1]) - bare > middle / 4


@pytest.mark.parametrize("name", SETS)
def test_no_heading_is_the_last_thing_of_its_column(name):
    stranded = []
    for number, page in enumerate(placed(name), 1):
        for piece in page.pieces:
            heads = abs(piece.cap_in - CAP_REVIEW_IN) < 0.001 and piece.y > TITLE_STRIP_PT and len(piece.text) > LETTERS_OF_A_DRAWING
            below = (other for other in page.pieces if abs(other.x - piece.x) < 30 and TITLE_STRIP_PT < other.y < piece.y - 1)
            if heads and not any(below):
                stranded.append((number, piece.text))
    assert stranded == []


@pytest.mark.parametrize("name", SETS)
def test_no_text_is_smaller_than_a_tenth_of_an_inch_lies_over_another_or_beyond_the_frame(name):
    for page in placed(name):
        assert min(piece.cap_in for piece in page.pieces) >= CAP_MIN_IN - 1e-4
        assert (outside(page, FRAME_PT), overlapping(page)) == ([], [])


@pytest.mark.parametrize("name", SETS)
def test_no_sheet_claims_a_verdict_of_its_own(name):
    text = "".join(pages(name)).lower()
    assert "compliant" not in text
    assert "approved" not in text


@pytest.mark.parametrize("name", SETS)
def test_no_sheet_is_all_but_empty(name):
    bare = len(squeezed(CAUTION)) + 250
    assert [number for number, text in enumerate(pages(name), 1) if len(text) < bare] == []


@pytest.mark.parametrize("name", SETS)
def test_the_index_names_every_sheet_with_the_pages_on_which_it_stands(name):
    document = reader(permit(name))
    heads = [item for item in document.outline if not isinstance(item, list)]
    starts = [document.get_destination_page_number(item) + 1 for item in heads]
    assert starts == sorted(starts) and starts[0] == 1
    for head, first, following in zip(heads, starts, [*starts[1:], len(document.pages) + 1], strict=True):
        number, title = head["/Title"].split(" ", 1)
        more = following - first > 1
        row = f"{number} to {number}.{following - first}" if more else number
        place = f"{first} to {following - 1}" if more else f"{first}"
        assert squeezed(f"{row} {title} {place}") in pages(name)[0]


def test_every_sheet_and_every_subject_is_a_bookmark():
    outline = reader(permit("a")).outline
    titles = [item["/Title"] for item in outline if not isinstance(item, list)]
    assert [title[:5] for title in titles] == ["E-001", "E-601", "E-602", "E-603", "E-604"]
    inner = [item["/Title"] for part in outline if isinstance(part, list) for item in part if not isinstance(item, list)]
    assert "System summary" in inner
    assert any(title.startswith("C1: ") for title in inner)


def test_the_document_says_what_it_is_and_has_no_date():
    found = reader(permit("a")).metadata
    assert found["/Title"] == "Juniper Bend residence, permit set"
    assert found["/Author"] == "Example Designer"
    for word in ("NEC 2023", "Single-line diagram", "Calculations", "Label schedule"):
        assert word in found["/Keywords"]
    assert "/CreationDate" not in found


def test_only_the_shipped_font_is_used_and_it_is_embedded():
    fonts = set()
    for page in reader(permit("c")).pages:
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            fonts.add(inner["/BaseFont"].split("+")[-1])
            descriptor = inner["/FontDescriptor"].get_object()
            assert "/FontFile2" in descriptor or "/FontFile3" in descriptor
    assert len(fonts) == 1


def test_the_same_study_gives_the_same_bytes():
    found = studied("c")
    assert permit_pdf(found, sheet(found)) == permit("c")


def test_calculations_on_letter_paper_leave_the_other_sheets_as_they_are():
    found = studied("c")
    sizes = [(float(page.mediabox.width), float(page.mediabox.height)) for page in reader(permit_pdf(found, sheet(found), "letter")).pages]
    assert set(sizes) == {(1224.0, 792.0), (612.0, 792.0)}
    assert sizes[0] == sizes[-1] == (1224.0, 792.0)


def test_the_calculation_sheet_alone_is_on_letter_paper():
    found = studied("c")
    document = reader(sheet_pdf(found, sheet(found)))
    assert {float(page.mediabox.width) for page in document.pages} == {612.0}
    assert f"sheet{len(document.pages)}of{len(document.pages)}" in squeezed(document.pages[-1].extract_text())


def test_a_table_never_becomes_wider_than_its_room():
    grid = Grid("t", tuple("abcdefgh"), (tuple("words that go on and on, more of them" for _ in range(8)),))
    assert sum(listing(grid, 7.5).widths) == pytest.approx(7.5, abs=0.01)
    assert sum(listing(Grid("t", ("a",), (("b",),)), 7.5).widths) < 1.0


def test_labels_have_the_capitals_and_colors_that_their_section_asks_for():
    labels = {label.key: drawn_label(1, label) for label in label_schedule(studied("b"))}
    shutdown = labels["rapid_shutdown_switch"]
    assert shutdown.cap >= 0.375
    assert shutdown.text == shutdown.text.upper()
    assert (shutdown.letters, shutdown.fill) == colors("white on red")
    assert labels["directory"].header == "CAUTION"
    assert labels["directory"].header_fill == colors("black on yellow")[1]


def test_the_label_of_the_building_has_a_title_twice_as_high_as_the_rest():
    label = next(drawn_label(1, found) for found in label_schedule(studied("b")) if found.key == "rapid_shutdown")
    assert label.title == label.title.upper() != ""
    assert (label.header_cap, label.cap) == (0.375, 0.1875)
    assert label.title.lower() not in label.text.lower()


def test_every_label_is_drawn_once_and_numbered_as_in_the_schedule():
    text = "".join(pages("b"))
    for number in range(1, len(label_schedule(studied("b"))) + 1):
        assert text.count(f"No.{number}:") == 1


def test_letters_of_the_labels_are_printed_at_their_true_height():
    pieces = [piece for page in placed("b") for piece in page.pieces]
    heights = {
        "RAPID SHUTDOWN SWITCH OF THE SOLAR ARRAY": 0.375, "EMERGENCY SHUTDOWN OF THE ENERGY STORAGE": 0.5, "SOLAR DC CIRCUIT: LIVE IN DAYLIGHT": 0.375,
        "Service disconnect SD": 0.125, "CAUTION": 0.25,
    }  # fmt: skip
    for words, cap_in in heights.items():
        assert [piece for piece in pieces if piece.text.strip() == words and abs(piece.cap_in - cap_in) < 0.001], words


def test_a_label_of_large_letters_is_as_wide_as_its_line_and_fits_the_sheet():
    drawn = [drawn_label(1, label) for label in label_schedule(studied("b"))]
    large = [label for label in drawn if columns_of(label) < 3 and not label.title]
    assert [columns_of(label) for label in large] == [1, 1, 1, 2]
    assert all(text_width_in(label.text, label.cap) + 0.24 < label.width <= 15.0 for label in large)
