"""One house with long and strange text wherever a user may write some, in every format that leaves the program."""

from __future__ import annotations

import csv
import io
from functools import cache
from html.parser import HTMLParser
from xml.etree import ElementTree

import openpyxl
import pytest

from linecalc.cli.sheet import sheet_as
from linecalc.diagram import draw, render_dxf, render_pdf, render_png, render_svg
from linecalc.diagram.fonts import drawable
from linecalc.diagram.scene_checks import all_faults
from linecalc.project.read import read_project
from linecalc.report.comma_separated import schedules_csv
from linecalc.report.markdown import sheet_markdown
from linecalc.report.permit import permit_pdf
from linecalc.report.schedule_tables import schedule_tables
from linecalc.report.sheet import sheet
from linecalc.report.text import sheet_text
from linecalc.report.workbook import schedules_xlsx
from linecalc.report.wording import markdown
from linecalc.study import study
from linecalc.variants import with_values
from tests.report import sheets
from tests.report.houses import EXAMPLES

ezdxf = pytest.importorskip("ezdxf")

STRANGE = (
    "x" * 80
    + ''' "quoted" 'single' <blink>&amp; #set page(width: 1in) $x^2$ @ref [x] // /* \\ *bold* _it_ `c` ~ %%d ^J {;} ]]> '''
    + "\U0001f600 \u05e9\u05dc\u05d5\u05dd"
)
FORMULAS = ("=cmd|'/c calc'!A0", "+1+cmd|'/c calc'!A0", "-2+3+cmd|'/c calc'!A0", "@SUM(1+1)*cmd|'/c calc'!A0")
FORMULA_PLACES = ("panel.BP.location", "junction.JB1.location", "junction.JB2.location", "isolation.ID.location")
PLACES = (
    "project.title", "project.address", "project.owner", "project.designer", "project.license", "project.parcel", "project.scope",
    "project.date", "project.revisions[0].number", "project.revisions[0].date", "project.revisions[0].description",
    "site.low_temperature.source", "service.meter", "service.meter_number", "service.location", "service.fault_current.source",
    "grounding.location", "grounding.array_bonding", "rapid_shutdown.initiator", "rapid_shutdown.location", "rapid_shutdown.equipment",
    "rapid_shutdown.listing", "required.emergency_shutdown", "facts.codes[0]", "facts.contractor", "facts.contractor_license", "facts.seal",
    "facts.metering", "facts.monitoring", "facts.communication", "facts.interlocks", "facts.state_list", "facts.alarm", "facts.separation",
    "attachments.site_plan", "attachments.spec_sheets", "equipment.mod-420.description", "equipment.mod-420.listing",
    "equipment.unit-76.description", "equipment.unit-76.listing", "equipment.unit-76.arc_fault", "panel.MP.description", "panel.MP.location",
    "panel.BP.description", "unit.U1.location", "unit.U1.description", "isolation.ID.description", "junction.JB1.description",
    "load.HOUSE.description", "load.BACKUP.description", "section.R1.place", "section.R2.place", "section.R2.ambient.source",
)  # fmt: skip
SHOWN = drawable(STRANGE).text


@cache
def house():
    settings = [(path, STRANGE) for path in PLACES] + list(zip(FORMULA_PLACES, FORMULAS, strict=True))
    return study(with_values(read_project(EXAMPLES / "a.toml"), settings))


@cache
def content():
    return sheet(house())


@cache
def scenes():
    return draw(house())


def test_nothing_on_the_drawing_overlaps_leaves_the_frame_or_becomes_too_small():
    for scene in scenes():
        assert all_faults(scene) == ()
        assert any("U+1F600" in note for note in scene.notes)


def test_svg_holds_the_text_and_no_element_of_it():
    found = [ElementTree.fromstring(render_svg(scene)) for scene in scenes()]
    assert not [element for root in found for element in root.iter() if element.tag.endswith("}blink")]
    assert '"quoted"' in "".join(text for root in found for text in root.itertext())


def test_png_has_the_size_of_the_sheet():
    png = render_png(scenes()[0], ppi=50)
    assert (int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")) == (850, 550)


def test_pdf_of_the_drawing_is_one_page_within_its_frame():
    (page,) = sheets.pages_of(render_pdf(scenes()[0]))
    assert (page.width, page.height) == (1224.0, 792.0)
    assert sheets.outside(page, 27.0) == []
    assert "#setpage(width:1in)$x^2$" in page.text


def test_dxf_passes_the_audit_with_the_text_in_it():
    for scene in scenes():
        document = ezdxf.read(io.StringIO(render_dxf(scene)))
        audit = document.audit()
        assert [*audit.errors, *audit.fixes] == []
    assert any("*bold*" in entity.plain_text() for entity in document.modelspace().query("TEXT"))


@cache
def permit():
    return permit_pdf(house(), content())


@cache
def permit_pages():
    return sheets.pages_of(permit())


def clean(pages):
    return [(sheets.outside(page, 28.0), sheets.overlapping(page)) for page in pages] == [([], [])] * len(pages)


def test_no_page_of_the_set_has_text_over_text_or_beyond_the_frame():
    assert {(page.width, page.height) for page in permit_pages()} == {(1224.0, 792.0)}
    assert clean(permit_pages())


def test_neither_has_a_page_of_calculations_on_letter_paper():
    pages = sheets.pages_of(permit_pdf(house(), content(), "letter"), width_pt=612.0)
    assert len(pages) > 10
    assert clean(pages)


def test_the_set_prints_the_text_as_text_and_reads_none_of_it_as_markup():
    first = permit_pages()[0].text
    for words in ('"quoted"', "<blink>&amp;", "#setpage(width:1in)", "$x^2$", "@ref", "//", "\\", "*bold*", "_it_", "{;}"):
        assert words in first
    assert sheets.squeezed(SHOWN) in first


def test_no_other_font_is_taken_for_what_the_shipped_one_lacks():
    fonts = {font.get_object()["/BaseFont"].split("+")[-1] for page in sheets.reader(permit()).pages for font in page["/Resources"]["/Font"].values()}
    assert len(fonts) == 1 and "LinecalcDrafting" in fonts.pop()


def test_a_character_that_the_font_lacks_is_a_box_and_noted():
    text = "".join(page.text for page in permit_pages()[:2])
    assert "\U0001f600" not in text
    assert "\u25a1" in text
    assert "U+1F600" in text


def test_the_workbook_has_the_text_whole_and_no_formula():
    book = openpyxl.load_workbook(io.BytesIO(schedules_xlsx(house(), schedule_tables(house()))))
    cells = [cell for tab in book for row in tab.iter_rows() for cell in row]
    assert [cell for cell in cells if cell.data_type == "f"] == []
    values = {cell.value for cell in cells}
    assert {" ".join(STRANGE.split()), *FORMULAS} <= values
    assert all(len(str(tab.oddHeader.left.text)) < 200 for tab in book)


def test_no_cell_of_the_csv_begins_as_a_formula():
    rows = list(csv.reader(io.StringIO(schedules_csv(house(), schedule_tables(house())))))
    cells = [cell for row in rows for cell in row]
    assert {f"'{formula}" for formula in FORMULAS} <= set(cells)
    assert [cell for cell in cells if cell[:1] in ("=", "+", "@") or (cell[:1] == "-" and "cmd" in cell)] == []
    assert " ".join(STRANGE.split()) in cells


class Elements(HTMLParser):
    def __init__(self):
        super().__init__()
        self.names, self.data = set(), []

    def handle_starttag(self, tag, attrs):
        self.names.add(tag)

    def handle_data(self, data):
        self.data.append(data)


@pytest.mark.parametrize("page", ["html", "notebook"])
def test_html_shows_the_text_and_takes_no_element_from_it(page):
    found = Elements()
    found.feed(sheet_as(house(), ".html") if page == "html" else house()._repr_html_())
    assert "blink" not in found.names
    assert any("<blink>&amp; #set page(width: 1in)" in text for text in found.data)


def test_markdown_escapes_the_text():
    text = sheet_markdown(content())
    assert markdown(STRANGE) in text
    assert "<blink>" not in text.replace("\\<blink\\>", "")


def test_plain_text_has_the_text_in_lines_without_control_characters():
    text = sheet_text(content())
    assert "x" * 80 in text
    assert all(character.isprintable() for character in text.replace("\n", ""))
