"""``linecalc table``."""

from __future__ import annotations

import csv
import io
import json

import pytest

from linecalc.caution import CAUTION
from linecalc.codebook import EDITIONS, tables
from tests.cli.command_line import run

NAMED_IN_THE_MANUAL = (
    ["310.16", "310.15-B-1", "310.15-C-1", "240.6-A", "250.122", "250.66", "250.102-C-1", "310.12", "690.7-A"]
    + ["ch9-1", "ch9-4", "ch9-5", "ch9-5A", "ch9-8", "ch9-9", "430.248", "430.7-B"]
)


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("name", tables.names())
def test_every_table_prints_in_every_edition_and_format(name, edition, capsys):
    table = tables.load(name, edition)
    text = run(capsys, "table", name, "--edition", edition)
    assert text.status == 0
    assert text.out.splitlines()[0] == f"{table.number}, NEC {edition}: {table.header.title}"
    assert text.out.splitlines()[-1] == CAUTION
    as_csv = run(capsys, "table", name, "--edition", edition, "--format", "csv")
    assert [tuple(row.values()) for row in rows_of(as_csv.out)] == list(table.rows)
    document = json.loads(run(capsys, "table", name, "--edition", edition, "--format", "json").out)
    assert len(document["rows"]) == len(table.rows)
    assert all(tuple(row) == table.columns for row in document["rows"])


def test_every_name_of_the_manual_is_a_table():
    assert set(NAMED_IN_THE_MANUAL) <= set(tables.names())


def test_csv_is_the_table_alone_and_the_citation_goes_to_standard_error(capsys):
    outcome = run(capsys, "table", "310.16", "--format", "csv")
    assert outcome.out.splitlines()[0].startswith("size,cu_60c_a,")
    assert next(row for row in rows_of(outcome.out) if row["size"] == "6 AWG")["cu_75c_a"] == "65"
    assert outcome.err.startswith("Table 310.16, NEC 2023")
    assert CAUTION in outcome.err


def test_the_citation_is_the_edition_s_own(capsys):
    assert run(capsys, "table", "310.16", "--edition", "2017").out.startswith("Table 310.15(B)(16), NEC 2017")
    assert run(capsys, "table", "310.16", "--edition", "NEC 2020").out.startswith("Table 310.16, NEC 2020")


def test_ten_amperes_is_a_standard_rating_only_in_2023(capsys):
    ratings = {
        edition: [row["rating_a"] for row in rows_of(run(capsys, "table", "240.6-A", "--edition", edition, "--format", "csv").out)]
        for edition in EDITIONS
    }
    assert "10" in ratings["2023"]
    assert "10" not in ratings["2017"] and "10" not in ratings["2020"]


def test_json_has_numbers_where_the_table_has_numbers_and_null_where_it_is_blank(capsys):
    document = json.loads(run(capsys, "table", "310.16", "--format", "json").out)
    assert document["schema"] == "linecalc/table/1"
    assert document["rows"][0] == {
        "size": "14 AWG",
        "cu_60c_a": 15,
        "cu_75c_a": 20,
        "cu_90c_a": 25,
        "al_60c_a": None,
        "al_75c_a": None,
        "al_90c_a": None,
    }
    assert document["disclaimer"] == CAUTION


def test_what_was_compared_and_what_was_not_is_printed(capsys):
    for name in tables.names():
        header = tables.load(name, "2023").header
        outcome = run(capsys, "table", name)
        assert outcome.out.count("Compared with: ") == len(header.checked)
        assert outcome.out.count("From memory, compared with no published copy: ") == len(header.from_memory)


def test_a_wrong_name_gets_the_nearest_names(capsys):
    outcome = run(capsys, "table", "310.61")
    assert (outcome.status, outcome.out) == (2, "")
    assert 'table: no table "310.61"; did you mean' in outcome.err
    assert '"310.16"' in outcome.err


@pytest.mark.parametrize("name", ["../pyproject", "citations", "checklist", "", "310.16.csv", "/etc/passwd", "\x1b[31m"])
def test_only_tables_are_tables(name, capsys):
    outcome = run(capsys, "table", name)
    assert outcome.status == 2
    assert "no table" in outcome.err
    assert "\x1b" not in outcome.err


def test_a_wrong_edition_is_bad_input(capsys):
    outcome = run(capsys, "table", "310.16", "--edition", "2014")
    assert outcome.status == 2
    assert outcome.err == 'edition: edition "2014" is not held; one of 2017, 2020, 2023\n'


def test_without_a_name_the_tables_are_listed(capsys):
    outcome = run(capsys, "table")
    assert outcome.status == 0
    for name in tables.names():
        assert any(line.split()[0] == name for line in outcome.out.splitlines()[2:])
    listed = json.loads(run(capsys, "table", "--format", "json").out)
    assert [entry["name"] for entry in listed["tables"]] == list(tables.names())
    assert [row["name"] for row in rows_of(run(capsys, "table", "--format", "csv").out)] == list(tables.names())
