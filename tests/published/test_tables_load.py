"""The demand tables of Article 220 against published copies, cell by cell.

Sources: one file each in ``copies``; its header names publisher, title and
address. A table's header says which of its cells each copy was compared with.
"""

from pathlib import Path

import pytest

from linecalc.codebook import EDITIONS, open_book
from tests.published.table_cells import copied, key_of, named, same_number, values
from tests.tables.reader import read_table

ROOT = Path(__file__).resolve().parents[2]
COPIES = ROOT / "tests" / "published" / "copies"
NAMES = ["220.45", "220.54", "220.55"]
TABLES = {name: read_table(ROOT / "tables" / f"{name}.csv") for name in NAMES}
CHECKS = [(name, block) for name in NAMES for block in TABLES[name][0].get("checked", [])]
each_table = pytest.mark.parametrize("name", NAMES)
each_check = pytest.mark.parametrize(("name", "block"), CHECKS, ids=[block["copy"] for _, block in CHECKS])


def differences(name: str, block: dict) -> dict:
    """The cells a header owns up to as different, with the copy's number."""
    header, rows = TABLES[name]
    keys = {"; ".join(key_of(header, row)): key_of(header, row) for row in rows}
    return {(keys[row], column): number for row, column, number in block.get("differs", [])}


@each_check
def test_a_checked_copy_is_on_file_and_says_whose_it_is(name: str, block: dict) -> None:
    copy, _ = read_table(COPIES / block["copy"])
    assert block["copy"].startswith(f"{name}--")
    assert [copy[word] for word in ("publisher", "title", "where")] == [block[word] for word in ("publisher", "title", "where")]


@each_check
def test_every_cell_of_a_copy_is_our_cell_or_an_owned_difference(name: str, block: dict) -> None:
    ours = values(*TABLES[name])
    owned = differences(name, block)
    copy = copied(*TABLES[name], COPIES / block["copy"])
    found = {cell: number for cell, number in copy.items() if not same_number(ours[cell], number)}
    assert found.keys() == owned.keys()
    assert all(same_number(found[cell], owned[cell]) for cell in owned)


@each_check
def test_the_cells_named_as_checked_are_those_of_the_copy(name: str, block: dict) -> None:
    copy = copied(*TABLES[name], COPIES / block["copy"])
    assert named(*TABLES[name], block["cells"]) == copy.keys() - differences(name, block).keys()


@each_table
def test_every_cell_is_checked_or_owned_to_be_from_memory(name: str) -> None:
    header, rows = TABLES[name]
    checked = {cell for block in header.get("checked", []) for cell in named(header, rows, block["cells"])}
    memory = {cell for block in header.get("from_memory", []) for cell in named(header, rows, block["cells"])}
    assert not checked & memory
    assert checked | memory == values(header, rows).keys()


@each_table
def test_every_copy_on_file_is_named_by_its_table(name: str) -> None:
    on_file = {path.name for path in COPIES.glob(f"{name}--*.csv")}
    assert on_file == {block["copy"] for block in TABLES[name][0].get("checked", [])}


@pytest.mark.parametrize(("name", "columns"), [("220.54", ["demand_percent"]), ("220.55", ["column_a_percent", "column_b_percent"])])
def test_a_demand_factor_never_rises_with_the_number(name: str, columns: list[str]) -> None:
    for column in columns:
        factors = [float(row[column]) for row in TABLES[name][1]]
        assert factors == sorted(factors, reverse=True)


@pytest.mark.parametrize(("column", "lowering"), [("column_a_percent", []), ("column_b_percent", [16, 21])])
def test_one_more_appliance_of_the_same_rating_lowers_the_demand_only_at_the_16th_and_21st_of_column_b(
    column: str, lowering: list[int]
) -> None:
    rows = TABLES["220.55"][1]
    demands = [int(row["appliances"]) * float(row[column]) for row in rows]
    lowered = [int(rows[index]["appliances"]) for index in range(1, len(rows)) if demands[index] < demands[index - 1]]
    assert lowered == lowering


def test_column_c_rises_with_the_number_of_appliances() -> None:
    demands = [float(row["column_c_kw"]) for row in TABLES["220.55"][1]]
    assert demands == sorted(demands) and len(set(demands)) == len(demands)


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_lighting_table_keeps_its_number_of_the_edition(edition: str) -> None:
    number = open_book(edition).table("220.45").number
    assert number == ("Table 220.45" if edition == "2023" else "Table 220.42")
