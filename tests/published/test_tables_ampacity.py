"""The ampacity, overcurrent, grounding and photovoltaic tables against published copies.

Each copy in `copies/` names its publisher, title and address in its header. It was
written from the text found there, not from our table. A copy's `stands_for` names the
editions it is compared with; `differs` lists cells known to differ, with both numbers.
"""

from pathlib import Path

import pytest

from tests.tables.cells import all_cells, named_cells, row_editions, row_name
from tests.tables.reader import read_table

ROOT = Path(__file__).resolve().parents[2]
COPIES = Path(__file__).parent / "copies"
NAMES = (
    "310.16", "310.17", "310.15-B-1", "310.15-C-1", "310.15-B-2", "310.12", "240.6-A",
    "240.4-D", "250.122", "250.66", "250.102-C-1", "690.7-A", "690.31", "insulation",
)
NOT_GIVEN = "?"
HEADER_KEYS = {"name", "title", "rule_key", "number_2017", "number_2020", "number_2023", "key"}
CHECKED_KEYS = {"cells", "editions", "publisher", "title", "where", "copy", "agrees"}
COPY_KEYS = {"table", "publisher", "title", "where", "found_on", "edition_stated", "stands_for"}

TABLES = {name: read_table(ROOT / "tables" / f"{name}.csv") for name in NAMES}
CHECKS = [(name, entry) for name in NAMES for entry in TABLES[name][0].get("checked", [])]
COPY_OF = dict.fromkeys((name, entry["copy"]) for name, entry in CHECKS)


def differing(copy_header):
    """Return {(row name, column): (number there, number here)} of a copy."""
    return {(d["row"], d["column"]): (d["copy"], d["ours"]) for d in copy_header.get("differs", [])}


def pairs(name, copy_file):
    """Yield (row index, our row, row of the copy) for each row the two share."""
    header, rows = TABLES[name]
    copy_header, copy_rows = read_table(COPIES / copy_file)
    editions = set(copy_header["stands_for"].split())
    for index, row in enumerate(rows):
        if row_editions(row) & editions:
            for other in copy_rows:
                if row_name(header, other) == row_name(header, row):
                    yield index, row, other


@pytest.mark.parametrize("name", NAMES)
def test_a_table_header_has_its_numbers_and_key_and_names_itself(name):
    header, rows = TABLES[name]
    assert HEADER_KEYS <= set(header)
    assert header["name"] == name
    assert set(header["key"]) <= set(rows[0])


@pytest.mark.parametrize(("name", "entry"), CHECKS)
def test_a_check_names_its_publisher_title_and_address_and_its_copy_exists(name, entry):
    assert CHECKED_KEYS <= set(entry)
    copy_header, copy_rows = read_table(COPIES / entry["copy"])
    assert COPY_KEYS <= set(copy_header)
    assert copy_header["table"] == name and copy_rows
    for key in ("publisher", "title", "where"):
        assert entry[key] == copy_header[key]
    assert entry["editions"] == copy_header["stands_for"]


def mismatches(header, known, shared):
    """Return the cells (row name, column, theirs, ours) that differ and are not in `known`."""
    return [
        (row_name(header, row), column, value, row[column])
        for _, row, other in shared
        for column, value in other.items()
        if value not in (NOT_GIVEN, row[column])
        and known.get((row_name(header, row), column)) != (value, row[column])
    ]


@pytest.mark.parametrize(("name", "copy_file"), COPY_OF)
def test_every_cell_of_a_copy_equals_ours_or_is_listed_as_differing(name, copy_file):
    known = differing(read_table(COPIES / copy_file)[0])
    shared = list(pairs(name, copy_file))
    assert shared
    assert mismatches(TABLES[name][0], known, shared) == []
    assert len(mismatches(TABLES[name][0], {}, shared)) == len(known)


@pytest.mark.parametrize(("name", "copy_file"), COPY_OF)
def test_every_row_of_a_copy_is_a_row_of_ours_in_each_edition_it_stands_for(name, copy_file):
    header, rows = TABLES[name]
    copy_header, copy_rows = read_table(COPIES / copy_file)
    theirs = [row_name(header, row) for row in copy_rows]
    assert len(theirs) == len(set(theirs))
    for edition in copy_header["stands_for"].split():
        ours = [row_name(header, row) for row in rows if edition in row_editions(row)]
        assert set(theirs) <= set(ours)
        if copy_header.get("complete"):
            assert theirs == ours


@pytest.mark.parametrize(("name", "entry"), CHECKS)
def test_every_cell_claimed_as_checked_is_in_the_copy(name, entry):
    header, rows = TABLES[name]
    given = {
        (index, column)
        for index, _, other in pairs(name, entry["copy"])
        for column, value in other.items()
        if value != NOT_GIVEN
    }
    assert named_cells(entry, header, rows) <= given


@pytest.mark.parametrize("name", NAMES)
def test_every_cell_is_checked_against_a_copy_or_listed_as_from_memory(name):
    header, rows = TABLES[name]
    checked, memory = set(), set()
    for entry in header.get("checked", []):
        known = differing(read_table(COPIES / entry["copy"])[0])
        cells = named_cells(entry, header, rows)
        checked |= {c for c in cells if (row_name(header, rows[c[0]]), c[1]) not in known}
    for entry in header.get("from_memory", []):
        memory |= named_cells(entry, header, rows)
    assert checked | memory == all_cells(header, rows)
    assert not checked & memory


def test_the_header_of_the_ampacity_table_gives_both_numbers_of_each_cell_that_differs():
    header, _ = TABLES["310.16"]
    entry = next(e for e in header["checked"] if e["copy"].endswith("pre-2011.csv"))
    known = differing(read_table(COPIES / entry["copy"])[0])
    assert len(known) == 15
    for (row, column), (there, here) in known.items():
        assert f"{row} {column} {there}/{here}" in entry["agrees"]


def test_one_wrong_cell_is_reported_with_both_numbers():
    header, _ = TABLES["310.16"]
    index, row, other = next(pairs("310.16", "310.16--nfpa-2017.csv"))
    wrong = [(index, {**row, "cu_60c_a": "20"}, other)]
    assert mismatches(header, {}, wrong) == [("14 AWG", "cu_60c_a", "15", "20")]
