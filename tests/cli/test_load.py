"""``linecalc load``: the dwelling load alone, as text, Markdown and JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from linecalc.caution import CAUTION
from linecalc.term import evaluate
from tests.cli.command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"
B = str(EXAMPLES / "b.toml")
PARTLY = """
[project]
title = "Partly backed-up dwelling"
code = "NEC 2023"
[site]
low_temperature = "-5 degC"
[service]
voltage = "240 V"
rating = "200 A"
[dwelling]
floor_area = "1800 ft2"
small_appliance_circuits = 2
laundry_circuits = 1
[dwelling.share.BP]
floor_area = "600 ft2"
small_appliance_circuits = 1
[panel.MP]
bus = "225 A"
main = "200 A"
[panel.BP]
backup = true
bus = "125 A"
main = "lugs"
[isolation.ID]
rating = "100 A"
[load.RANGE]
panel = "MP"
kind = "range"
power = "12 kVA"
[load.FRIDGE]
panel = "BP"
kind = "appliance"
power = "700 VA"
voltage = "120 V"
legs = "L1"
[circuit.C1]
from = "service"
to = "MP"
length = "10 ft"
[circuit.C2]
from = "MP"
to = "ID"
breaker = "60 A"
length = "10 ft"
[circuit.C3]
from = "ID"
to = "BP"
length = "10 ft"
"""


@pytest.fixture
def partly(tmp_path: Path) -> str:
    path = tmp_path / "partly.toml"
    path.write_text(PARTLY)
    return str(path)


def loads(out: str) -> dict[str, dict]:
    return {part["tag"]: part for part in json.loads(out)["loads"]}


def test_the_text_gives_every_method_line_by_line_with_its_sections_and_the_caution(capsys) -> None:
    done = run(capsys, "load", B)
    assert done.status == 0
    assert " ".join(CAUTION.split()) in " ".join(done.out.split())
    assert "Standard method [220.40]: 162 A" in done.out
    assert "Optional method [220.82]: 138 A, decides" in done.out
    for words in ("electric range", "11000 VA", "8000 VA", "220.55", "general load together", "18800 VA", "Neutral load", "33032 VA"):
        assert words in done.out
    assert all(len(line) <= 100 for line in done.out.splitlines())


def test_markdown_holds_the_same_numbers(capsys) -> None:
    out = run(capsys, "load", B, "--format", "markdown").out
    assert out.startswith("# Cedar Ridge residence")
    assert "33032 VA" in out and "| general load together" in out


def test_the_json_names_the_deciding_method_and_every_line(capsys) -> None:
    out = run(capsys, "load", B, "--format", "json").out
    document = json.loads(out)
    assert document["schema"] == "linecalc/load/1" and document["edition"] == "2023" and document["disclaimer"] == CAUTION
    house = loads(out)["MP"]
    assert (house["serves"], house["method"], house["current_a"], house["continuous_a"]) == ("whole dwelling", "optional", 138, 40)
    optional = next(method for method in house["methods"] if method["method"] == "optional")
    assert sum(line["counted_va"] for line in optional["lines"] if line["counted_va"] is not None) == optional["total_va"] == 33032


def test_every_step_of_the_json_evaluates_to_its_value_and_every_input_has_its_place(capsys) -> None:
    document = json.loads(run(capsys, "load", B, "--format", "json").out)
    assert len(document["steps"]) > 20
    for step in document["steps"]:
        assert evaluate(step["expression"]) == pytest.approx(step["value"], rel=1e-8)
        assert all(used["from"] for used in step["inputs"]), step["id"]


def test_the_same_input_gives_the_same_bytes(capsys) -> None:
    first = run(capsys, "load", B, "--format", "json").out
    assert run(capsys, "load", B, "--format", "json").out == first


def test_the_backed_up_loads_alone_stand_beside_the_whole_dwelling(capsys, partly: str) -> None:
    found = loads(run(capsys, "load", partly, "--format", "json").out)
    assert list(found) == ["MP", "BP"]
    assert found["MP"]["serves"] == "whole dwelling" and not found["MP"]["backed_up"]
    assert found["BP"]["serves"] == "backed-up loads" and found["BP"]["nodes"] == ["BP", "ID"]
    general = 3 * 600 + 1500
    assert found["BP"]["current_a"] == round((3000 + 0.35 * (general - 3000)) / 240 + 700 / 120)


def test_stated_totals_are_printed_as_they_are(capsys) -> None:
    found = loads(run(capsys, "load", str(EXAMPLES / "a.toml"), "--format", "json").out)
    assert (found["MP"]["stated_a"], found["BP"]["stated_a"]) == (92, 27)
    assert "attached" in found["MP"]["calculation"]


def test_another_edition_and_changed_values_are_computed(capsys) -> None:
    small = loads(run(capsys, "load", B, "--set", "load.EV.power=3.6 kVA", "--format", "json").out)["MP"]
    older = loads(run(capsys, "load", B, "--set", "load.EV.power=3.6 kVA", "--edition", "2020", "--format", "json").out)["MP"]
    assert small["current_a"] - older["current_a"] == pytest.approx((7200 - 3600) / 240)


def test_a_load_above_the_main_exits_with_1(capsys) -> None:
    assert run(capsys, "load", B, "--set", "dwelling.floor_area=9000 ft2").status == 1


def test_a_project_without_loads_is_bad_input_and_says_what_to_give(capsys, tmp_path: Path) -> None:
    path = tmp_path / "bare.toml"
    path.write_text(PARTLY.split("[dwelling]")[0] + '[panel.MP]\nbus = "200 A"\nmain = "200 A"\n[circuit.C1]\nfrom = "service"\nto = "MP"\nlength = "10 ft"\n')
    done = run(capsys, "load", str(path))
    assert done.status == 2
    assert "[dwelling]" in done.err and "calculated" in done.err


def test_what_was_assumed_is_listed(capsys, partly: str) -> None:
    out = run(capsys, "load", partly, "--set", "dwelling.laundry_circuits=").out
    assert "ASSUMED" in out and "dwelling.laundry_circuits = 1: number not given" in out


def test_the_help_shows_an_example(capsys) -> None:
    assert "linecalc load house.toml" in run(capsys, "load", "--help").out
