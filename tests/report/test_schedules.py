"""Schedules, notes and stated facts of the sheet."""

from __future__ import annotations

import pytest

from linecalc.project.read import read_project
from linecalc.report.notes import operating_type, permit_notes, stated_facts
from linecalc.report.schedules import (
    backed_up_grid,
    equipment_grid,
    grounding_grid,
    label_grid,
    module_grid,
    panel_grid,
    parts_grid,
    parts_grids,
    schedules,
    shared_grid,
    storage_grid,
)
from linecalc.report.labels import label_schedule
from linecalc.study import study
from linecalc.variants import with_value
from tests.houses import studied
from tests.report.houses import EXAMPLES


@pytest.fixture(scope="module")
def larger():
    return study(read_project(EXAMPLES / "b.toml"))


@pytest.fixture(scope="module")
def supply_side():
    return study(read_project(EXAMPLES / "c.toml"))


def row(grid, first):
    return next(cells for cells in grid.rows if cells[0] == first)


def test_every_row_of_every_schedule_has_a_cell_a_column(larger):
    for grid in (*schedules(larger), label_grid(label_schedule(larger))):
        assert grid.rows and all(len(cells) == len(grid.columns) for cells in grid.rows), grid.caption


def test_the_equipment_schedule_has_ratings_terminals_listing_enclosure_and_place(larger):
    cells = " ".join(row(equipment_grid(larger), "SD"))
    for part in ("service disconnect, new", "rating 200 A", "device 200 A", "interrupting 22000 A", "75 degC", "type 3R", "north wall"):
        assert part in cells
    assert "UL 9540" in " ".join(row(equipment_grid(larger), "U1"))
    assert "existing" in " ".join(row(equipment_grid(larger), "MP"))


def test_a_disconnect_says_whether_it_can_be_locked_and_seen_open(supply_side):
    cells = " ".join(row(equipment_grid(supply_side), "DS"))
    assert all(part in cells for part in ("fuse", "lockable open", "visible break", "readily accessible", "4 ft (1.22 m) from the meter"))


def test_modules_are_counted_over_all_strings(larger):
    # Three strings of 11 and one of 10.
    assert row(module_grid(larger), "mod-420")[:3] == ("mod-420", "43", "420 W")


def test_storage_of_units_and_modules_has_its_voltage_range(larger):
    assert [cells[0] for cells in storage_grid(larger).rows] == ["U1", "U2", "U1-B1", "U1-B2", "U2-B1"]
    assert row(storage_grid(larger), "U1-B1")[4:6] == ("350 V", "450 V")


def test_the_grounding_schedule_has_each_electrode_with_its_own_size(larger):
    cells = row(grounding_grid(larger), "SD")
    assert "1 x water pipe (4 AWG), 2 x rod (6 AWG)" in cells
    assert "4 AWG Cu" in cells and "4/0 AWG, at least 2 AWG Al" in cells


def test_a_raceway_of_several_circuits_says_what_one_conductor_would_be(larger):
    assert row(shared_grid(larger), "R1") == ("R1", "P2, P4, P6, P8", "10 AWG Cu", "P2", "one each")


def test_the_panel_schedule_has_breaker_and_place(larger):
    assert ("MP", "C3", "GP", "100 A", "opposite end") in panel_grid(larger).rows


def test_backed_up_loads_are_those_behind_the_isolation_device(supply_side):
    house = study(read_project(EXAMPLES / "a.toml"))
    assert [cells[0].split(",")[0] for cells in backed_up_grid(house).rows] == ["BACKUP"]
    assert not backed_up_grid(supply_side).rows


def test_the_bill_of_material_has_only_what_is_new(larger):
    parts = dict(parts_grid(larger).rows)
    assert parts["420 W PV module"] == "43"
    assert parts["harness kit H-6 (invented)"] == "3"
    assert not any("main panel" in part for part in parts)


def test_fuses_of_a_new_fused_disconnect_and_a_new_surge_device_are_bought(larger, supply_side):
    # DS opens two ungrounded conductors: two fuses, whatever stands on either side of it.
    assert dict(parts_grid(supply_side).rows)["50 A fuse in DS"] == "2"
    assert dict(parts_grid(larger).rows)["listed type 2 device (invented)"] == "1"


def test_the_bill_in_two_tables_is_the_whole_bill(larger):
    counted, measured = parts_grids(larger)
    assert (*counted.rows, *measured.rows) == parts_grid(larger).rows
    assert all(cells[1].isdigit() for cells in counted.rows)
    assert all(" ft (" in cells[1] for cells in measured.rows)


def test_conductors_of_the_bill_add_up_over_circuits_and_wires():
    # C2 and C3, 10 ft each, two ungrounded 6 AWG and a neutral of the same size: 2 x 3 x 10 ft.
    parts = dict(parts_grid(studied()).rows)
    assert parts["6 AWG Cu THWN-2"] == "60 ft (18.3 m)"


def test_a_shared_grounding_conductor_is_bought_once():
    second = {
        "string.S2": {"module": "mod", "count": 10, "to": "U1", "input": 2},
        "circuit.P2": {"from": "S2", "to": "U1", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
    }
    each, shared = (dict(parts_grid(studied({**second, **more})).rows) for more in ({}, {"section.R1.egc": "10 AWG Cu"}))
    # R1 is 30 ft long: two conductors of 30 ft become one.
    assert _feet(each["10 AWG Cu, grounding"]) - _feet(shared["10 AWG Cu, grounding"]) == pytest.approx(30.0)


def _feet(text):
    return float(text.split()[0])


@pytest.mark.parametrize(
    ("name", "words"), [("a", "hybrid, grid-tied with backup; DC-coupled storage"), ("c", "grid-tied, no backup; DC-coupled storage")]
)
def test_the_operating_type_follows_from_the_design(name, words):
    assert operating_type(study(read_project(EXAMPLES / f"{name}.toml"))) == words


def test_notes_are_numbered_by_key_and_cite_their_section(larger):
    notes = {note.key: note for note in permit_notes(larger)}
    assert len(notes) == len(permit_notes(larger))
    assert "110.14(D)" in notes["torque"].citation and "110.21(B)" in notes["label_stock"].citation
    assert "main breaker below the service rating: MP 150 A" in notes["service_change"].text
    assert "run in metal raceway: R2 EMT" in notes["dc_inside"].text


def test_pv_conductors_inside_in_plastic_are_told():
    plastic = with_value(read_project(EXAMPLES / "b.toml"), "section.R2.method", "PVC40")
    notes = {note.key: note.text for note in permit_notes(study(plastic))}
    assert "do not all run in metal raceway" in notes["dc_inside"]


def test_what_the_project_does_not_state_is_not_noted():
    keys = {note.key for note in permit_notes(studied())}
    assert {"fire_inspection", "zoning", "contractor_license", "communication", "attachments"}.isdisjoint(keys)
    assert not stated_facts(studied())


def test_stated_facts_stand_at_the_head_of_the_sheet(larger):
    facts = {fact.label: fact.text for fact in stated_facts(larger)}
    assert facts["Meter number"] == "EX-north-0001"
    assert facts["Governing codes"].startswith("NEC 2023; IRC 2021")
