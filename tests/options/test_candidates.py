"""Candidates as projects: what is taken out, what is copied, and what a project file says of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from linecalc.errors import InputError, RefusedError
from linecalc.options import run as run_module
from linecalc.options.build import build
from linecalc.options.candidates import candidates_of, spread
from linecalc.options.content import Content
from linecalc.options.electrical import electrical
from linecalc.options.house import project_of, unit_tags
from linecalc.options.records import ArrayPlan, Candidate
from linecalc.options.toml_write import project_toml
from linecalc.project.read import read_project, read_text
from linecalc.study import study
from linecalc.variants import with_value, with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
BASE = read_project(EXAMPLES / "options_storage.toml")
A18 = ArrayPlan("A18", (9, 9), None, (22.0, 22.0), (190.0, 190.0))


def made(units: int, modules: tuple[int, ...], strings: tuple[int, ...] = (9, 9)):
    """The project of a candidate."""
    return project_of(BASE, Candidate(units, modules, ArrayPlan("A", strings, None, (22.0,) * len(strings), (190.0,) * len(strings))))


def test_storage_modules_are_spread_as_evenly_as_can_be():
    assert [spread(total, 3) for total in (0, 1, 4, 6)] == [(0, 0, 0), (1, 0, 0), (2, 1, 1), (2, 2, 2)]


def test_every_combination_of_units_modules_and_arrays_is_tried_once():
    names = [candidate.name for candidate in candidates_of(BASE, [])]
    assert len(names) == len(set(names)) == 2 * (3 + 5)


def test_a_range_the_wrong_way_round_is_refused():
    with pytest.raises(InputError, match="smaller number first"):
        candidates_of(with_value(BASE, "options.units", [3, 1]), [])


def test_a_project_without_a_unit_is_no_pattern():
    empty = read_text('[project]\ntitle = "Empty"\ncode = "NEC 2023"\n')
    with pytest.raises(InputError, match="one unit at least"):
        candidates_of(empty, [])


def test_the_candidate_that_is_drawn_is_the_project_itself_without_its_options():
    drawn = made(1, (0,))
    assert drawn == with_value(BASE, "options", None)


def test_a_second_unit_brings_its_own_circuit_and_section_to_the_same_panel():
    grown = made(2, (0, 0))
    circuit = grown.circuit["C1-2"]
    assert (circuit.from_, circuit.to, circuit.path) == ("U2", "BP", ("R3-2",))
    assert grown.unit["U2"].ac_disconnect == "C1-2"
    assert unit_tags(BASE, 3) == ["U1", "U2", "U3"]


def test_strings_take_the_units_in_turn():
    grown = made(2, (0, 0), (9, 9, 8, 8))
    assert [(string.to, string.input, string.count) for string in grown.string.values()] == [("U1", 1, 9), ("U2", 1, 9), ("U1", 2, 8), ("U2", 2, 8)]
    ends = {circuit.to for circuit in grown.circuit.values()} | {circuit.from_ for circuit in grown.circuit.values()}
    assert {"S3", "S4", "U1", "U2"} <= ends


def test_a_string_taken_out_takes_its_box_circuits_and_section_with_it():
    smaller = made(1, (0,), (9,))
    assert set(smaller.string) == {"S1"}
    assert "JB2" not in smaller.junction and "P2" not in smaller.circuit and "F2" not in smaller.section
    assert "R1" in smaller.section


def test_candidates_that_differ_in_tilt_only_share_their_electrical_study(monkeypatch, storage: Content):
    context = storage.answered.context
    first = storage.answer.winner.candidate
    steep = replace(first, array=replace(first.array, name="steep", tilt_deg=(50.0, 50.0)))
    fewer = replace(first, array=replace(first.array, name="fewer", strings=(9, 8)))
    made: list[str] = []
    own = run_module.build
    monkeypatch.setattr(run_module, "build", lambda context, candidate: made.append(candidate.name) or own(context, candidate))
    found = run_module.built_of(context, (first, steep, fewer))
    assert made == [first.name, fewer.name]
    assert [built.candidate for built in found] == [first, steep, fewer] and found[1].electrical is found[0].electrical
    assert found[1] == build(context, steep)


def test_no_array_at_all_can_be_tried():
    assert not made(1, (1,), ()).string


def test_storage_modules_are_attached_to_their_units():
    grown = made(2, (2, 1))
    assert {tag: item.unit for tag, item in grown.storage.items()} == {"U1-B1": "U1", "U1-B2": "U1", "U2-B1": "U2"}


def test_a_change_applies_only_from_its_number_of_units():
    assert made(1, (0,)).circuit["C2"].breaker.value == 60.0
    assert made(2, (0, 0)).circuit["C2"].breaker.value == 90.0


def test_storage_modules_without_a_pattern_are_refused_with_the_key():
    bare = with_value(BASE, "options.storage_module", None)
    with pytest.raises(InputError, match="storage_module"):
        project_of(bare, Candidate(1, (1,), A18))


def test_a_unit_can_be_taken_out_of_a_larger_house():
    larger = read_project(EXAMPLES / "b.toml")
    counts = tuple(string.count for string in larger.string.values())
    smaller = project_of(larger, Candidate(1, (1,), ArrayPlan("A", counts[:2], None, (20.0,) * 2, (180.0,) * 2)))
    assert set(smaller.unit) == {"U1"} and set(smaller.storage) == {"U1-B1"}
    assert "C2" not in smaller.circuit


@pytest.mark.parametrize("units, modules", [(1, (0,)), (1, (2,)), (2, (1, 1))])
def test_a_written_candidate_reads_back_as_the_same_project(units: int, modules: tuple[int, ...]):
    project = made(units, modules)
    again = read_text(project_toml(project, "a candidate"))
    assert again == project
    assert [(check.rule, check.level) for check in study(again).checks] == [(check.rule, check.level) for check in study(project).checks]


def test_text_with_quotes_backslashes_and_brackets_survives_writing():
    odd = with_value(BASE, "project.scope", 'a "quoted" \\ [text] = é # no comment')
    assert read_text(project_toml(odd, "odd")).project.scope == odd.project.scope


@pytest.mark.parametrize("name", ["a", "b", "c", "d", "options_units"])
def test_every_example_survives_writing(name: str):
    project = read_project(EXAMPLES / f"{name}.toml")
    assert read_text(project_toml(project, name)) == project


def test_the_electrical_study_of_a_candidate_is_that_of_check():
    project = with_values(made(2, (0, 0)), [("circuit.C2.breaker", "60 A")])
    fails = {(check.rule, check.subject) for check in study(project).checks if check.level.value == "fail"}
    assert fails and {(reason.rule, reason.subject) for reason in electrical(project).fails} == fails


def test_a_refused_candidate_fails_with_the_refusal():
    broken = BASE.model_copy(update={"circuit": {tag: item for tag, item in BASE.circuit.items() if tag != "C3"}, "options": None})
    try:
        found = electrical(broken)
    except (InputError, RefusedError) as error:
        pytest.fail(f"raised {error}")
    assert found.fails


def test_the_array_as_drawn_stays_on_the_units_it_is_drawn_on():
    larger = read_project(EXAMPLES / "b.toml")
    candidate = next(found for found in candidates_of(larger, []) if found.modules == (2, 1))
    assert project_of(larger, candidate) == larger
