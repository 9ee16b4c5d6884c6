"""The citation map: one row a rule, one section an edition, and how it is known."""

from pathlib import Path

import pytest

from tests.tables.reader import read_table

TABLES = Path(__file__).resolve().parents[2] / "tables"
EDITIONS = ("2017", "2020", "2023")
COMMON_PRACTICE = "common practice, no source"
COLUMNS = ["rule_key", "description", *(f"nec_{e}" for e in EDITIONS),
           *(f"ev_{e}" for e in EDITIONS), "note"]
ROWS = read_table(TABLES / "citations.csv")[1]
CODE_TABLES = sorted(p for p in TABLES.glob("*.csv") if p.stem not in ("citations", "checklist"))


def test_the_columns_are_the_agreed_ones_and_no_rule_has_two_rows():
    assert list(ROWS[0]) == COLUMNS
    keys = [row["rule_key"] for row in ROWS]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_section_has_its_evidence_and_a_rule_of_practice_has_neither(edition):
    for row in ROWS:
        section, evidence = row[f"nec_{edition}"], row[f"ev_{edition}"]
        if COMMON_PRACTICE in row["note"]:
            assert (section, evidence) == ("", "")
        else:
            assert section and evidence in ("T", "P", "M"), row["rule_key"]


def test_every_rule_is_described_in_words():
    assert all(len(row["description"]) >= 8 for row in ROWS)


@pytest.mark.parametrize("path", CODE_TABLES, ids=lambda path: path.stem)
def test_the_rule_of_every_table_is_in_the_map(path):
    header, _ = read_table(path)
    assert header["rule_key"] in {row["rule_key"] for row in ROWS}


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_table_number_is_the_one_the_map_cites(edition):
    sections = {row["rule_key"]: row[f"nec_{edition}"] for row in ROWS}
    for name in ("310.16", "310.17", "310.15-B-1", "310.15-C-1", "240.6-A", "250.122",
                 "250.66", "250.102-C-1", "690.7-A", "690.31", "insulation"):
        header, _ = read_table(TABLES / f"{name}.csv")
        assert header[f"number_{edition}"] in sections[header["rule_key"]]
