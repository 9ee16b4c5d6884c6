"""Reading: what is accepted, and each way in which a file can be unreadable."""

from __future__ import annotations

import os
import time

import pytest

import linecalc
from linecalc.project import toml_text
from tests.project.house import HOUSE, changed, line_with, problems, said


def read_bytes(tmp_path, data: bytes) -> linecalc.Problem:
    path = tmp_path / "house.toml"
    path.write_bytes(data)
    with pytest.raises(linecalc.InputError) as caught:
        linecalc.read_project(path)
    assert len(caught.value.problems) == 1
    assert caught.value.problems[0].file == str(path)
    return caught.value.problems[0]


def test_a_valid_file_reads_and_keeps_what_was_written(tmp_path):
    path = tmp_path / "house.toml"
    path.write_text(HOUSE)
    project = linecalc.read_project(path)
    assert project.panel["MP"].bus.value == 225.0
    assert project.panel["MP"].bus.as_written == "225 A"
    assert project.circuit["C1"].path == ("R1", "R2")
    assert project == linecalc.read_text(HOUSE)


def test_windows_line_ends_read_the_same_and_keep_line_numbers():
    assert linecalc.read_text(HOUSE.replace("\n", "\r\n")) == linecalc.read_text(HOUSE)
    assert problems(changed('bus = "225 A"', 'bus = "225"').replace("\n", "\r\n"))[0].line == line_with('bus = "225 A"')


def test_the_order_of_tables_does_not_matter():
    head, tail = HOUSE.split("[circuit.C1]")
    assert linecalc.read_text("[circuit.C1]" + tail + "\n" + head) == linecalc.read_text(HOUSE)


def test_a_basis_and_source_are_kept():
    text = changed('low_temperature = "-14 degC"', 'low_temperature = { value = "-14 degC", basis = "assumed", source = "guess" }')
    low = linecalc.read_text(text).site.low_temperature
    assert (low.value, low.basis, low.source) == (-14.0, "assumed", "guess")


def test_all_problems_come_in_one_report_in_the_order_of_the_file():
    text = HOUSE.replace('"34 ft"', '"34"').replace('code = "NEC 2023"', 'code = "NEC 2014"').replace('module = "mod"', 'module = "mood"')
    found = problems(text)
    assert [problem.key for problem in found] == ["project.code", "string.S1.module", "circuit.C1.length"]
    assert [problem.line for problem in found] == sorted(problem.line for problem in found)


def test_the_message_has_file_line_key_and_what_to_write():
    line = line_with('length = "34 ft"')
    assert said('length = "34 ft"', 'length = "34"') == f'house.toml:{line}: circuit.C1.length: "34" has no unit; write "34 ft" or "34 m"'


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(linecalc.InputError, match="nothing.toml: there is no such file"):
        linecalc.read_project(tmp_path / "nothing.toml")


def test_a_directory_is_no_file(tmp_path):
    with pytest.raises(linecalc.InputError, match="is a directory"):
        linecalc.read_project(tmp_path)


def test_a_file_under_a_file_is_refused(tmp_path):
    (tmp_path / "a").write_text("")
    with pytest.raises(linecalc.InputError, match="cannot be read"):
        linecalc.read_project(tmp_path / "a" / "house.toml")


def test_a_nul_in_the_name_is_refused():
    with pytest.raises(linecalc.InputError, match="cannot be read"):
        linecalc.read_project("house\x00.toml")


def test_a_file_without_permission_is_refused(tmp_path, monkeypatch):
    def forbidden(*arguments):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(toml_text, "open", forbidden, raising=False)
    with pytest.raises(linecalc.InputError, match="house.toml: cannot be read: permission denied"):
        linecalc.read_project(tmp_path / "house.toml")


def test_a_byte_order_mark_is_refused(tmp_path):
    problem = read_bytes(tmp_path, b"\xef\xbb\xbf" + HOUSE.encode())
    assert "byte order mark" in problem.message
    assert problem.line == 1


def test_utf_16_is_refused_by_name(tmp_path):
    assert "UTF-16" in read_bytes(tmp_path, HOUSE.encode("utf-16")).message


def test_a_nul_byte_is_refused_with_its_line(tmp_path):
    problem = read_bytes(tmp_path, b"[project]\n\x00")
    assert "NUL" in problem.message
    assert problem.line == 2


def test_another_encoding_is_refused_with_its_line_and_byte(tmp_path):
    problem = read_bytes(tmp_path, 'a = "x"\ntitle = "Caf\xe9"\n'.encode("latin-1"))
    assert problem.message == "byte 0xe9 is not UTF-8; save the file as UTF-8"
    assert problem.line == 2


def test_half_a_surrogate_in_a_text_is_refused():
    assert "not UTF-8" in problems('title = "\ud800"')[0].message


def test_more_than_a_megabyte_is_refused_with_the_limit(tmp_path):
    assert "1 MB" in read_bytes(tmp_path, b"#" * 1_000_001).message


def test_exactly_a_megabyte_is_read():
    assert not problems(HOUSE + "#" * (1_000_000 - len(HOUSE.encode())))


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no such device")
def test_an_endless_device_is_refused():
    with pytest.raises(linecalc.InputError, match="1 MB"):
        linecalc.read_project("/dev/zero")


def many_panels(count: int) -> str:
    return HOUSE + "".join(f'[junction.J{number}]\n' for number in range(count))


def test_more_than_two_thousand_tagged_things_are_refused_with_the_limit():
    found = problems(many_panels(2000))
    assert [problem.message for problem in found] == ["2014 tagged things; the limit is 2,000 a project"]


def test_close_to_two_thousand_tagged_things_are_read():
    assert not problems(many_panels(1980))


def test_a_syntax_error_is_reported_alone_with_its_line():
    found = problems(changed('main = "200 A"', "main = 200 A") + "\n[nonsense]\n")
    assert len(found) == 1
    assert found[0].line == line_with('main = "200 A"')
    assert found[0].message.startswith("TOML syntax: ")


def test_an_unfinished_text_is_a_syntax_error_on_the_last_line():
    found = problems('[project]\ntitle = "x')
    assert (len(found), found[0].line) == (1, 2)


def test_a_table_written_twice_is_named():
    found = problems(HOUSE + "[panel.MP]\n")
    assert found[0].message == "TOML syntax: [panel.MP] is written twice"
    assert found[0].line == HOUSE.count("\n") + 1


def test_a_key_written_twice_is_named_with_its_line():
    found = problems(changed('bus = "225 A"', 'bus = "225 A"\nbus = "200 A"'))
    assert (found[0].line, found[0].message) == (line_with('bus = "225 A"') + 1, "TOML syntax: this key is written twice in its table")


@pytest.mark.parametrize("opening", ["[", "{a=", "[{a="])
def test_unclosed_deep_nesting_is_refused(opening):
    found = problems("x = " + opening * 5000)
    assert len(found) == 1
    assert found[0].message.startswith(("is nested too deeply", "TOML syntax"))


def test_complete_deep_nesting_is_refused_with_the_limit():
    found = problems("x = " + "[" * 5000 + "]" * 5000)
    assert "nested too deeply; the limit is 12 levels" in found[0].message
    found = problems("x = " + "[" * 60 + "]" * 60)
    assert "nested too deeply; the limit is 12 levels" in found[0].message
    assert found[0].line == 1


def test_a_key_of_very_many_names_is_refused_at_once():
    start = time.perf_counter()
    found = problems("x=1\n" + ".".join("a" * 400_000) + " = 1")
    assert "a key joins more than 20 names by dots" in found[0].message
    assert found[0].line == 2
    assert time.perf_counter() - start < 5


def test_a_number_of_very_many_digits_is_refused():
    assert problems("x = " + "9" * 5000)
    assert problems(changed("count = 11", "count = 0x" + "f" * 5000))[0].key == "string.S1.count"


def test_control_characters_in_text_are_refused():
    assert "U+001B" in said('title = "Test house"', 'title = "\\u001b[31mred"')
    assert "U+0000" in said('title = "Test house"', 'title = "a\\u0000b"')
    assert "U+202E" in said('title = "Test house"', 'title = "a\\u202eb"')


def test_other_scripts_and_line_breaks_in_text_are_read():
    text = changed('title = "Test house"', 'title = "Casa ñandú 家 🏠\\nsecond line"')
    assert linecalc.read_text(text).project.title == "Casa ñandú 家 🏠\nsecond line"


def test_messages_print_on_one_line_whatever_was_written():
    message = said('rating = "200 A"', 'rating = "2\\u00a0\\n\\t\\u200300 A"')
    assert "\n" not in message and message.isprintable()


def test_very_many_problems_are_cut_with_their_number():
    found = problems(HOUSE + "[site.x]\n" + "".join(f"k{number} = 1\n" for number in range(10)) + "".join(f"[panel.P{n}]\nzz = 1\n" for n in range(150)))
    assert len(found) == 201
    assert found[-1].message == "and 251 more problems"
