"""Shared equipment and amendments in files of their own."""

from __future__ import annotations

import pytest

import linecalc
from linecalc.errors import InputError, Problem
from linecalc.project.include import DEEPEST_INCLUDE
from linecalc.project.read import placed
from tests.project.house import HOUSE

START, END = HOUSE.index("[equipment.mod]"), HOUSE.index("[panel.MP]")
EQUIPMENT = HOUSE[START:END]
WITHOUT = HOUSE[:START] + HOUSE[END:]


def project_file(tmp_path, included: str = '["equipment.toml"]', text: str = WITHOUT):
    path = tmp_path / "house.toml"
    path.write_text(f"include = {included}\n{text}")
    return path


def problems_of(path) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        linecalc.read_project(path)
    return caught.value.problems


def test_included_equipment_reads_as_if_it_stood_in_the_file(tmp_path):
    (tmp_path / "equipment.toml").write_text(EQUIPMENT)
    assert linecalc.read_project(project_file(tmp_path)) == linecalc.read_text(HOUSE)


def test_names_are_relative_to_the_file_that_includes(tmp_path, monkeypatch):
    shared = tmp_path / "shared"
    shared.mkdir()
    (shared / "all.toml").write_text('include = ["more/equipment.toml"]\n')
    (shared / "more").mkdir()
    (shared / "more" / "equipment.toml").write_text(EQUIPMENT)
    monkeypatch.chdir("/")
    assert linecalc.read_project(project_file(tmp_path, '["shared/all.toml"]')) == linecalc.read_text(HOUSE)


def test_own_and_included_equipment_add_up(tmp_path):
    cut = EQUIPMENT.index("[equipment.store]")
    (tmp_path / "equipment.toml").write_text(EQUIPMENT[cut:])
    assert linecalc.read_project(project_file(tmp_path, text=WITHOUT + EQUIPMENT[:cut])) == linecalc.read_text(HOUSE)


def test_included_amendments_follow_the_project_s_own(tmp_path):
    (tmp_path / "county.toml").write_text('[[amendments]]\ntext = "county rule"\nsource = "ordinance 7"\n')
    own = '[[amendments]]\ntext = "own"\nsource = "letter"\n'
    project = linecalc.read_project(project_file(tmp_path, '["county.toml"]', HOUSE + own))
    assert [entry.text for entry in project.amendments] == ["own", "county rule"]


def test_a_problem_in_an_included_file_names_that_file_and_line(tmp_path):
    (tmp_path / "equipment.toml").write_text("# values\n" + EQUIPMENT.replace('"38.1 V"', '"38.1"'))
    (problem,) = problems_of(project_file(tmp_path))
    assert problem.file == str(tmp_path / "equipment.toml")
    assert problem.line == 5
    assert problem.key == "equipment.mod.voc"


def test_a_problem_in_an_included_amendment_names_that_file_and_line(tmp_path):
    (tmp_path / "county.toml").write_text('[[amendments]]\ntext = "one"\nsource = "a"\n[[amendments]]\ntext = 3\nsource = "b"\n')
    own = '[[amendments]]\ntext = "own"\nsource = "letter"\n'
    (problem,) = problems_of(project_file(tmp_path, '["county.toml"]', HOUSE + own))
    assert (problem.file, problem.line) == (str(tmp_path / "county.toml"), 5)


def test_problems_of_both_files_come_together(tmp_path):
    (tmp_path / "equipment.toml").write_text(EQUIPMENT.replace('"38.1 V"', '"38.1"'))
    found = problems_of(project_file(tmp_path, text=WITHOUT.replace('"225 A"', '"225"')))
    assert [problem.key for problem in found] == ["panel.MP.bus", "equipment.mod.voc"]


def test_a_missing_include_is_named_where_it_is_written(tmp_path):
    (problem,) = problems_of(project_file(tmp_path))
    assert (problem.line, problem.key) == (1, "include[0]")
    assert problem.message == '"equipment.toml" there is no such file' or "no such file" in problem.message


def test_a_missing_include_does_not_hide_other_problems(tmp_path):
    found = problems_of(project_file(tmp_path, text=WITHOUT.replace('"225 A"', '"225"')))
    assert [problem.key for problem in found] == ["include[0]", "panel.MP.bus"]


def test_a_syntax_error_in_an_include_is_reported_in_its_own_file(tmp_path):
    (tmp_path / "equipment.toml").write_text("[equipment.mod\n")
    (problem,) = problems_of(project_file(tmp_path))
    assert (problem.file, problem.line) == (str(tmp_path / "equipment.toml"), 1)
    assert problem.message.startswith("TOML syntax")


@pytest.mark.parametrize("data", [b"\xef\xbb\xbf[equipment]", b"\x00", "é".encode("latin-1"), b"#" * 1_000_001])
def test_an_unreadable_include_is_an_error(tmp_path, data):
    (tmp_path / "equipment.toml").write_bytes(data)
    assert len(problems_of(project_file(tmp_path))) == 1


def test_a_directory_cannot_be_included(tmp_path):
    (tmp_path / "equipment.toml").mkdir()
    assert "is a directory" in problems_of(project_file(tmp_path))[0].message


def test_a_tag_written_in_two_files_is_an_error_that_names_both(tmp_path):
    (tmp_path / "equipment.toml").write_text(EQUIPMENT)
    path = project_file(tmp_path, text=HOUSE)
    found = problems_of(path)
    assert [problem.key for problem in found] == ["equipment.mod", "equipment.unit-a", "equipment.store", "equipment.inv"]
    assert found[0].file == str(tmp_path / "equipment.toml")
    assert str(path) in found[0].message


def test_a_tag_written_in_two_included_files_is_an_error(tmp_path):
    (tmp_path / "a.toml").write_text(EQUIPMENT)
    (tmp_path / "b.toml").write_text(EQUIPMENT)
    assert all("is written twice" in problem.message for problem in problems_of(project_file(tmp_path, '["a.toml", "b.toml"]')))


def test_a_file_that_includes_itself_is_an_error(tmp_path):
    path = project_file(tmp_path, '["house.toml"]', HOUSE)
    (problem,) = problems_of(path)
    assert problem.message == '"house.toml" includes itself: house.toml -> house.toml'


def test_a_loop_of_includes_is_an_error_that_shows_the_loop(tmp_path):
    (tmp_path / "a.toml").write_text('include = ["b.toml"]\n')
    (tmp_path / "b.toml").write_text('include = ["a.toml"]\n')
    (problem,) = problems_of(project_file(tmp_path, '["a.toml"]', HOUSE))
    assert problem.file == str(tmp_path / "b.toml")
    assert problem.message == '"a.toml" includes itself: a.toml -> b.toml -> a.toml'


def test_a_loop_through_a_link_is_found(tmp_path):
    (tmp_path / "link.toml").symlink_to(tmp_path / "house.toml")
    assert "includes itself" in problems_of(project_file(tmp_path, '["link.toml"]', HOUSE))[0].message


def test_a_file_reached_on_two_ways_is_taken_once(tmp_path):
    (tmp_path / "equipment.toml").write_text(EQUIPMENT)
    (tmp_path / "a.toml").write_text('include = ["equipment.toml"]\n')
    (tmp_path / "b.toml").write_text('include = ["equipment.toml"]\n')
    assert linecalc.read_project(project_file(tmp_path, '["a.toml", "b.toml"]')) == linecalc.read_text(HOUSE)


def chain_of_includes(tmp_path, length: int):
    for number in range(length - 1):
        (tmp_path / f"f{number}.toml").write_text(f'include = ["f{number + 1}.toml"]\n')
    (tmp_path / f"f{length - 1}.toml").write_text(EQUIPMENT)
    return project_file(tmp_path, '["f0.toml"]')


def test_includes_nest_to_the_limit(tmp_path):
    assert linecalc.read_project(chain_of_includes(tmp_path, DEEPEST_INCLUDE)) == linecalc.read_text(HOUSE)


def test_includes_nested_too_deeply_are_an_error(tmp_path):
    found = problems_of(chain_of_includes(tmp_path, DEEPEST_INCLUDE + 1))
    assert f"nested more than {DEEPEST_INCLUDE} deep" in found[0].message


def test_only_shared_data_can_be_included(tmp_path):
    (tmp_path / "equipment.toml").write_text(EQUIPMENT + '[panel.X]\nbus = "1 A"\n')
    (problem,) = problems_of(project_file(tmp_path))
    assert problem.key == "panel"
    assert "only \"equipment\", \"amendments\" or \"include\" can" in problem.message


@pytest.mark.parametrize("written", ['"equipment.toml"', "3", "[3]", "{ a = 1 }"])
def test_include_is_a_list_of_names(tmp_path, written):
    (problem,) = problems_of(project_file(tmp_path, written, HOUSE))
    assert problem.key == "include"
    assert "is not a list of file names" in problem.message


@pytest.mark.parametrize("name", ["", "a\\u0000b"])
def test_a_name_that_cannot_be_one_is_an_error(tmp_path, name):
    (problem,) = problems_of(project_file(tmp_path, f'["{name}"]', HOUSE))
    assert problem.key == "include[0]"


def test_text_without_a_file_includes_nothing():
    with pytest.raises(InputError, match="needs a project file"):
        linecalc.read_text('include = ["equipment.toml"]\n' + HOUSE)


def test_a_later_problem_gets_file_and_line_by_its_key(tmp_path):
    (tmp_path / "equipment.toml").write_text(EQUIPMENT)
    path = project_file(tmp_path)
    later = InputError([Problem("a loop", key="circuit.C2"), Problem("odd", key="equipment.store"), Problem("whole"), Problem("wrong", key="edition")])
    first, second, third, fourth = placed(later, path).problems
    assert (first.file, first.line) == (str(path), path.read_text().splitlines().index("[circuit.C2]") + 1)
    assert (second.file, second.line) == (str(tmp_path / "equipment.toml"), EQUIPMENT.splitlines().index("[equipment.store]") + 1)
    assert third == Problem("whole")
    assert fourth == Problem("wrong", key="edition"), "a key of the command line stands in no file"
