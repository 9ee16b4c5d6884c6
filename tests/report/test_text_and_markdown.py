"""The sheet as text and as Markdown says the same as the page."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from linecalc.cli.sheet import sheet_as
from linecalc.report.sheet import sheet
from linecalc.report.text import column_groups, column_widths
from linecalc.study import study
from linecalc.variants import with_value
from tests.report.houses import EXAMPLES, HOSTILE, example, example_files, failing_house, hostile_house, small_house

FORMATS = (".txt", ".md", ".html")
CASES = [pytest.param(path, id=path.stem) for path in example_files()]


def words(text):
    """The text without line breaks, escapes and marks of the format."""
    plain = re.sub(r"<style>.*?</style>|<svg.*?</svg>", "", text, flags=re.DOTALL)
    plain = re.sub(r"\\([!-/:-@\[-`{-~])", r"\1", re.sub(r"</?[a-z][^>]*>", " ", plain)) if "<html" in plain else re.sub(r"\\(.)", r"\1", plain)
    return " ".join(plain.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&").replace("&times;", "x").replace("&#x27;", "'").split())


@pytest.mark.parametrize("suffix", FORMATS)
@pytest.mark.parametrize("path", CASES)
def test_the_order_is_that_of_a_reader_with_ten_minutes(path, suffix):
    text = sheet_as(example(path), suffix).lower()
    places = [re.search(pattern, text).start() for pattern in (r"array", r"interconnection", r">?findings\b", r"calculations, in the order", r"to be verified on site", r"code tables used")]
    assert places == sorted(places) or suffix == ".html"


@pytest.mark.parametrize("suffix", FORMATS)
def test_every_line_of_arithmetic_stands_in_every_format(suffix):
    text = words(sheet_as(small_house(), suffix))
    for block in sheet(small_house()).blocks:
        for line in block.lines:
            assert words(" = ".join(line.parts)) in text or words(line.parts[-1]) in text
            assert words(line.parts[0]) in text


@pytest.mark.parametrize("suffix", FORMATS)
def test_the_head_says_what_a_reviewer_asks_first(suffix):
    text = words(sheet_as(small_house(), suffix))
    for said in ("NEC 2023", "-14 degC (6.8 degF); extreme annual mean minimum", "705.12(B)(2)", "118 Juniper Bend", "for review by the AHJ"):
        assert said in text


@pytest.mark.parametrize("suffix", FORMATS)
def test_assumed_inputs_are_marked_and_listed(suffix):
    text = words(sheet_as(small_house(), suffix))
    assert "attic in summer" in text and "[assumed]" in text.replace("**", "") and "utility letter requested" in text


def test_a_doubtful_input_names_the_subjects_that_use_it():
    users = {doubt.path: doubt.used_by for doubt in sheet(small_house()).doubts}
    assert users["section.R2.ambient"] == ("P3", "P4") and users["section.F1.ambient"] == ("P1",)
    assert users["service.fault_current"] == ("service",)
    assert all(users.values())


@pytest.mark.parametrize("suffix", FORMATS)
def test_a_field_verify_input_is_marked_at_the_length_and_at_the_drop(suffix):
    found = study(with_value(small_house().project, "section.R3.length", {"value": "14 ft", "basis": "field verify", "source": "measure on site"}))
    text = words(sheet_as(found, suffix)).replace("**", "")
    assert "14 ft (4.27 m) [field verify]" in text or "14 ft (4.27 m) field verify" in text
    assert "section.R3.length [field verify]" in text or "section.R3.length field verify" in text
    assert "measure on site" in text


@pytest.mark.parametrize("suffix", FORMATS)
def test_tables_used_say_what_they_were_compared_with_and_what_not(suffix):
    text = words(sheet_as(small_house(), suffix))
    assert "Table 310.16" in text and "compared with" in text and "from memory, compared with nothing" in text


@pytest.mark.parametrize("suffix", FORMATS)
def test_sections_from_memory_are_marked_and_listed(suffix):
    text = words(sheet_as(small_house(), suffix))
    assert "(from memory)" in text and "cited from memory, to be verified" in text.lower()


@pytest.mark.parametrize("suffix", FORMATS)
def test_the_caution_is_there_and_no_verdict_is_claimed(suffix):
    text = words(sheet_as(failing_house(), suffix)).lower()
    assert "a licensed electrician decide" in text
    assert "compliant" not in text and "approved" not in text


@pytest.mark.parametrize("suffix", FORMATS)
def test_a_local_amendment_is_printed_with_its_source(suffix):
    found = study(with_value(small_house().project, "amendments", [{"text": "visible-break disconnect", "source": "utility handbook 7"}]))
    text = words(sheet_as(found, suffix))
    assert "visible-break disconnect" in text and "utility handbook 7" in text


def test_equal_input_gives_equal_bytes_in_every_process(tmp_path):
    first, second = (_written(tmp_path / seed, seed) for seed in "12")
    assert first == second and all(len(text) > 10_000 for text in first)


def _written(folder, seed):
    """The sheet in every format, written by one process with a hash seed of its own."""
    folder.mkdir()
    paths = [str(folder / f"sheet{suffix}") for suffix in FORMATS]
    program = (
        "from click.testing import CliRunner\n"
        "from linecalc.cli.sheet import command\n"
        f"for path in {paths!r}:\n"
        f"    CliRunner().invoke(command, [{str(EXAMPLES / 'a.toml')!r}, '-o', path], catch_exceptions=False, standalone_mode=False)\n"
    )
    subprocess.run([sys.executable, "-c", program], check=True, capture_output=True, timeout=120, env={"PYTHONHASHSEED": seed})
    return [Path(path).read_bytes() for path in paths]


def test_no_line_of_text_is_wider_than_a_page():
    wide = [line for line in sheet_as(small_house(), ".txt").splitlines() if len(line) > 100]
    assert not wide


def test_every_table_of_the_markdown_has_as_many_cells_in_every_row():
    for table in re.findall(r"(?:^\|.*\n)+", sheet_as(hostile_house(), ".md"), flags=re.MULTILINE):
        counts = {len(re.findall(r"(?<!\\)\|", line)) for line in table.splitlines()}
        assert len(counts) == 1


def test_markup_in_user_text_stays_text_in_markdown():
    text = sheet_as(hostile_house(), ".md")
    assert not re.search(r"(?<!\\)<", text) and not re.search(r"(?<!\\)`", text)
    assert "\\[link\\]" in text


def test_user_text_stands_on_one_line_of_the_text():
    assert sheet_as(hostile_house(), ".txt").splitlines()[0] == " ".join(HOSTILE.split())


def test_columns_are_narrowed_from_the_widest_and_never_below_a_word():
    heads, rows = ["Tag", "Place"], [["R1", "A long sentence about an attic"]]
    assert column_widths(heads, rows, 60) == [5, 30]
    assert column_widths(heads, rows, 20) == [5, 13]
    assert column_widths(heads, rows, 3) == [5, 8]


def test_a_long_table_of_many_columns_stands_in_parts_that_fit_each_with_the_first_column():
    heads, row = list("abcdefghij"), ["x" * 10] * 10
    groups = column_groups(heads, [row] * 4, 60)
    assert groups == [[0, 1, 2, 3, 4], [0, 5, 6, 7, 8], [0, 9]]
    assert column_groups(heads, [row] * 4, 200) == [list(range(10))]
    assert column_groups(heads, [row], 60) == [list(range(10))]


def test_a_long_label_keeps_a_space_before_its_text():
    assert not re.search(r"^  [A-Z][a-z ]{20,}:\S", sheet_as(small_house(), ".txt"), flags=re.MULTILINE)
