"""The storage limits of the residential and fire codes, and the cables' grounding conductors, against published copies.

Sources: one file each in ``copies``; its header names publisher, title and address.
"""

from pathlib import Path

import pytest

from tests.published.table_cells import copied, named, same_number, values
from tests.tables.reader import read_table

ROOT = Path(__file__).resolve().parents[2]
COPIES = ROOT / "tests" / "published" / "copies"
HEADER, ROWS = read_table(ROOT / "tables" / "storage-limits.csv")
each_copy = pytest.mark.parametrize("block", HEADER["checked"], ids=[block["copy"] for block in HEADER["checked"]])


def limits(cells) -> set:
    return {cell for cell in cells if cell[1] == "limit"}


@each_copy
def test_a_copy_is_on_file_and_says_whose_it_is(block: dict) -> None:
    copy, _ = read_table(COPIES / block["copy"])
    assert [copy[word] for word in ("publisher", "title", "where")] == [block[word] for word in ("publisher", "title", "where")]


@each_copy
def test_every_limit_of_a_copy_is_ours(block: dict) -> None:
    ours = values(HEADER, ROWS)
    copy = copied(HEADER, ROWS, COPIES / block["copy"])
    assert all(same_number(ours[cell], number) for cell, number in copy.items())
    assert named(HEADER, ROWS, block["cells"]) == copy.keys()


def test_every_limit_is_checked_or_owned_to_be_from_memory() -> None:
    checked = {cell for block in HEADER["checked"] for cell in named(HEADER, ROWS, block["cells"])}
    stated = values(HEADER, ROWS)
    memory = {cell for cell in limits(named(HEADER, ROWS, HEADER["from_memory"][0]["cells"])) if stated[cell]}
    assert not checked & memory
    assert checked | memory == {cell for cell in limits(values(HEADER, ROWS)) if values(HEADER, ROWS)[cell]}


def test_every_row_says_where_it_stands_and_how_that_is_known() -> None:
    assert all(row["section"] and row["evidence"] in ("P", "M") for row in ROWS)
    assert {row["unit"] for row in ROWS if row["limit"]} == {"kWh", "in"}


@pytest.mark.parametrize("code", ["IRC 2021", "IRC 2024", "NFPA 855 2020", "NFPA 855 2023"])
def test_every_code_has_the_same_items_once(code: str) -> None:
    items = [row["item"] for row in ROWS if row["code"] == code]
    assert items == ["unit", "interior", "attached garage", "detached garage", "exterior wall", "outdoors", "spacing", "doors", "rooms", "vehicles"]
