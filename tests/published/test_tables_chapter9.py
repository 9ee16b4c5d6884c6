"""The chapter 9 and motor tables against published copies, cell by cell.

Sources: one file each in ``copies``; its header names publisher, title and
address. A table's header says which of its cells each copy was compared with.
"""

from math import floor
from pathlib import Path

import pytest

from tests.published.table_cells import copied, key_of, named, same_number, values
from tests.tables.reader import read_table

ROOT = Path(__file__).resolve().parents[2]
COPIES = ROOT / "tests" / "published" / "copies"
NAMES = [
    "ch9-1",
    "ch9-4",
    "ch9-5",
    "ch9-5A",
    "ch9-8",
    "ch9-9",
    "430.248",
    "430.52",
    "430.7-B",
    "resistance",
]
TABLES = {name: read_table(ROOT / "tables" / f"{name}.csv") for name in NAMES}
CHECKS = [(name, block) for name in NAMES for block in TABLES[name][0].get("checked", [])]
each_table = pytest.mark.parametrize("name", NAMES)
each_check = pytest.mark.parametrize(
    ("name", "block"), CHECKS, ids=[block["copy"] for _, block in CHECKS]
)


def differences(name: str, block: dict) -> dict:
    """Return the cells a header owns up to as different, with the copy's number."""
    header, rows = TABLES[name]
    keys = {"; ".join(key_of(header, row)): key_of(header, row) for row in rows}
    return {(keys[row], column): number for row, column, number in block.get("differs", [])}


@each_table
def test_a_table_names_itself_and_its_number_in_each_edition(name: str) -> None:
    header, _ = TABLES[name]
    assert header["name"] == name
    assert all(header[f"number_{edition}"] for edition in (2017, 2020, 2023))
    assert header["rule_key"] and header["title"]


@each_check
def test_a_checked_copy_is_on_file_and_says_whose_it_is(name: str, block: dict) -> None:
    copy, _ = read_table(COPIES / block["copy"])
    assert block["copy"].startswith(f"{name}--")
    assert [copy[word] for word in ("publisher", "title", "where")] == [
        block[word] for word in ("publisher", "title", "where")
    ]
    assert copy["found_on"] and copy["edition_stated"]


@each_check
def test_every_cell_of_a_copy_is_our_cell_or_an_owned_difference(name: str, block: dict) -> None:
    ours = values(*TABLES[name])
    owned = differences(name, block)
    copy = copied(*TABLES[name], COPIES / block["copy"])
    found = {cell: number for cell, number in copy.items() if not same_number(ours[cell], number)}
    assert found.keys() == owned.keys()
    assert all(same_number(found[cell], owned[cell]) for cell in owned)


@each_check
def test_the_cells_named_as_checked_are_those_the_copy_confirms(name: str, block: dict) -> None:
    copy = copied(*TABLES[name], COPIES / block["copy"])
    assert named(*TABLES[name], block["cells"]) == copy.keys() - differences(name, block).keys()


@each_check
def test_a_copy_agrees_in_all_or_the_header_says_where_not(name: str, block: dict) -> None:
    assert (block["agrees"] == "all") == (not block.get("differs"))


@each_table
def test_every_cell_is_checked_or_owned_to_be_from_memory(name: str) -> None:
    header, rows = TABLES[name]
    checked = {
        cell for block in header.get("checked", []) for cell in named(header, rows, block["cells"])
    }
    memory = {
        cell
        for block in header.get("from_memory", [])
        for cell in named(header, rows, block["cells"])
    }
    assert not checked & memory
    assert checked | memory == values(header, rows).keys()


@each_table
def test_every_copy_on_file_is_named_by_its_table(name: str) -> None:
    on_file = {path.name for path in COPIES.glob(f"{name}--*.csv")}
    assert on_file == {block["copy"] for block in TABLES[name][0].get("checked", [])}


def test_an_unknown_value_in_a_description_of_cells_is_refused() -> None:
    with pytest.raises(ValueError):
        named(*TABLES["ch9-4"], "rows EMT | XYZ")


def test_a_description_that_names_no_cell_is_refused() -> None:
    with pytest.raises(ValueError):
        named(*TABLES["ch9-4"], "rows LFNC-B; trade_size 6")


def test_an_edition_has_one_row_for_a_raceway_and_trade_size() -> None:
    header, rows = TABLES["ch9-4"]
    for edition in ("2017", "2020", "2023"):
        keys = [
            tuple(row[name] for name in header["key"])
            for row in rows
            if edition in row["editions"].split()
        ]
        assert len(keys) == len(set(keys))


# Source: Bracken Electric, "Electrical references", maximum number of conductors in
# electrical metallic tubing (Annex C, Table C.1),
# https://brackenelectric.com/electrical_references.html (a scan; kept in
# copies/annex-C1--bracken-electric.csv). Chapter 9 Note 7: 0.8 and more counts as one.
# Two counts differ: 14 AWG without cover in trade size 1 is read 18 on the scan, the areas
# give 16; 6 AWG THHN in 1-1/4 is 12, the areas in square inches give 11.79.
def test_the_conductor_counts_of_annex_c_follow_from_the_areas_but_for_two() -> None:
    areas = {(r["insulation"], r["size"]): float(r["area_in2"] or 0) for r in TABLES["ch9-5"][1]}
    room = {
        r["trade_size"]: float(r["fill_over2_40_in2"])
        for r in TABLES["ch9-4"][1]
        if r["raceway"] == "EMT"
    }
    _, counts = read_table(COPIES / "annex-C1--bracken-electric.csv")
    many = [row for row in counts if int(row["conductors"]) >= 3]
    off = [
        (row["insulation"], row["size"], row["trade_size"])
        for row in many
        if int(row["conductors"])
        != floor(room[row["trade_size"]] / areas[row["insulation"], row["size"]] + 0.2)
    ]
    assert len(many) > 250
    assert off == [
        ("RHH, RHW, RHW-2 without cover", "14 AWG", "1"),
        ("THHN, THWN, THWN-2", "6 AWG", "1-1/4"),
    ]
