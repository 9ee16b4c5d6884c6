"""Schedules as CSV and as a workbook: typed, reproducible, safe with any text."""

from __future__ import annotations

import csv
import io

import openpyxl
import pytest

from linecalc.caution import CAUTION
from linecalc.project.read import read_project
from linecalc.report.comma_separated import schedules_csv
from linecalc.report.parts import parts
from linecalc.report.schedule_tables import conductor_table, equipment_table, panel_table, schedule_tables
from linecalc.report.tabular import Column, Table, grid_of, without
from linecalc.report.workbook import schedules_xlsx
from linecalc.study import study
from linecalc.variants import with_values
from tests.report.houses import EXAMPLES

HOSTILE = '=HYPERLINK("http://x.example","y") <b>#$@' + "\u05e9\u05dc\u05d5\u05dd \U0001f600 " + "x" * 80


@pytest.fixture(scope="module")
def larger():
    return study(read_project(EXAMPLES / "b.toml"))


@pytest.fixture(scope="module")
def hostile():
    project = with_values(read_project(EXAMPLES / "a.toml"), [("project.title", HOSTILE), ("panel.MP.location", HOSTILE)])
    return study(project)


def workbook(found):
    return openpyxl.load_workbook(io.BytesIO(schedules_xlsx(found, schedule_tables(found))))


def column(sheet, heading):
    heads = [cell.value for cell in sheet[1]]
    return [row[heads.index(heading)].value for row in sheet.iter_rows(min_row=2)]


def test_the_same_study_gives_the_same_bytes(larger):
    tables = schedule_tables(larger)
    assert schedules_xlsx(larger, tables) == schedules_xlsx(larger, tables)
    assert schedules_csv(larger, tables) == schedules_csv(larger, tables)


def test_every_schedule_is_a_sheet_with_a_frozen_head_on_one_page_in_width(larger):
    book = workbook(larger)
    assert book.sheetnames == ["Conductors", "Equipment", "PV modules", "Panels", "Backed-up loads", "Bill of material"]
    for sheet in book:
        assert sheet.freeze_panes == "A2"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToWidth in (None, 1)  # 1 is the default of the format
        assert sheet.page_setup.fitToHeight == 0


def test_wide_schedules_are_set_for_the_larger_paper_with_the_head_on_every_page(larger):
    book = workbook(larger)
    assert {tab.title: tab.page_setup.paperSize for tab in book} | {"PV modules": 1, "Panels": 1, "Conductors": 3} == {
        tab.title: tab.page_setup.paperSize for tab in book
    }
    assert {tab.page_setup.orientation for tab in book} == {"landscape"}
    assert {tab.print_title_rows for tab in book} == {"$1:$1"}
    assert all(CAUTION in tab.oddFooter.left.text for tab in book)


def test_a_long_title_stays_within_what_a_header_may_hold():
    project = with_values(read_project(EXAMPLES / "a.toml"), [("project.title", "&" * 200)])
    found = study(project)
    header = workbook(found)["Conductors"].oddHeader
    assert "&&" in header.left.text
    assert sum(len(part.text or "") for part in (header.left, header.center, header.right)) < 255


def test_amounts_are_numbers_with_their_unit_in_the_head(larger):
    sheet = workbook(larger)["Conductors"]
    lengths = dict(zip(column(sheet, "Run"), column(sheet, "Length (ft)")))
    metres = dict(zip(column(sheet, "Run"), column(sheet, "Length (m)")))
    assert lengths["C3"] == 140
    assert metres["C3"] == pytest.approx(140 * 0.3048)
    assert column(sheet, "Device (A)")[column(sheet, "Run").index("C1")] == 50
    for cells in sheet.iter_rows(min_row=2):
        assert [cell.data_type for cell in cells[:1]] == ["s"]


def test_the_conductor_schedule_has_every_circuit_once(larger):
    rows = conductor_table(larger).rows
    assert [row[0] for row in rows] == [circuit.tag for circuit in larger.sized.circuits]


def test_factors_and_fill_are_those_of_the_worst_section(larger):
    sheet = workbook(larger)["Conductors"]
    at = column(sheet, "Run").index("P2")
    # R1: 0.96, R2: 0.82; both hold eight conductors, 0.7.
    assert column(sheet, "Ambient factor")[at] == pytest.approx(0.82)
    assert column(sheet, "Count factor")[at] == pytest.approx(0.7)
    assert column(sheet, "Fill (%)")[at] == pytest.approx(29.3, abs=0.05)


def test_columns_left_out_take_their_cells_with_them():
    table = Table("t", "T", (Column("A"), Column("B", "ft"), Column("C")), (("a", 1.0, "c"),))
    assert without(table, ("B (ft)",)).rows == (("a", "c"),)


def test_a_size_that_is_not_determined_is_left_empty():
    found = study(read_project(EXAMPLES / "missing.toml"))
    open_runs = {circuit.tag for circuit in found.sized.circuits if not circuit.determined}
    assert open_runs
    assert {row[0] for row in conductor_table(found).rows if row[7] is None} == open_runs


def test_datasheet_values_of_modules_are_numbers(larger):
    sheet = workbook(larger)["PV modules"]
    assert column(sheet, "Quantity") == [43]
    assert column(sheet, "Voc (V)") == [38.1]
    assert column(sheet, "Series fuse (A)") == [25]


def test_ratings_of_equipment_stand_in_the_unit_of_their_column(larger):
    table = equipment_table(larger)
    heads = [found.heading for found in table.columns]
    unit = next(row for row in table.rows if row[0] == "U1")
    assert unit[heads.index("AC power (kW)")] == pytest.approx(9.6)
    assert unit[heads.index("Interrupting (kA)")] == pytest.approx(10)
    assert next(row for row in table.rows if row[0] == "GP")[heads.index("Main (A)")] == "lugs"


def test_each_breaker_of_a_panel_is_a_row_with_its_place(larger):
    assert ("MP", "C3", "GP", 100.0, "opposite end") in panel_table(larger).rows


def test_the_bill_names_conductors_raceways_devices_units_modules_mountings_and_harnesses(larger):
    assert {part.kind for part in parts(larger)} >= {
        "pv module", "unit", "storage module", "mounting", "harness", "overcurrent device", "conductor", "raceway",
    }  # fmt: skip


def test_both_units_of_length_say_the_same(larger):
    bill = next(table for table in schedule_tables(larger) if table.name == "Bill of material")
    for row in bill.rows:
        assert (row[3] is None) == (row[4] is None) != (row[2] is None)
        assert row[3] is None or row[4] == pytest.approx(row[3] * 0.3048)


def test_a_negative_coefficient_is_no_formula_and_stays_as_it_is(larger):
    cells = [cell for row in csv.reader(io.StringIO(schedules_csv(larger, schedule_tables(larger)))) for cell in row]
    assert "-0.26 %/K" in cells


def test_csv_has_every_table_under_its_title_and_the_caution(larger):
    rows = list(csv.reader(io.StringIO(schedules_csv(larger, schedule_tables(larger)))))
    assert [CAUTION] in rows
    for table in schedule_tables(larger):
        at = rows.index([table.title])
        assert rows[at + 1] == [found.heading for found in table.columns]
        assert all(len(row) == len(table.columns) for row in rows[at + 1 : at + 2 + len(table.rows)])


def test_no_user_text_becomes_a_formula(hostile):
    for sheet in workbook(hostile):
        assert not [cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]
    for row in csv.reader(io.StringIO(schedules_csv(hostile, schedule_tables(hostile)))):
        assert not [cell for cell in row if cell.startswith(("=", "+", "@"))]


def test_a_strange_text_comes_back_whole_from_the_workbook(hostile):
    assert " ".join(HOSTILE.split()) in column(workbook(hostile)["Equipment"], "Location")


def test_amounts_of_a_grid_carry_the_unit_of_their_column():
    table = Table("t", "T", (Column("Name"), Column("Length", "ft")), (("a", 4.25), ("b", None)))
    assert grid_of(table).rows == (("a", "4.25 ft"), ("b", "-"))
