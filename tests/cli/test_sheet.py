"""``linecalc sheet``: the file is written whole, then the status says whether something fails."""

from pathlib import Path

import pytest

from tests.cli.command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"
A, D = str(EXAMPLES / "a.toml"), str(EXAMPLES / "d.toml")


@pytest.mark.parametrize("suffix", [".txt", ".md", ".html", ".HTML"])
def test_the_suffix_says_the_format(suffix, capsys, tmp_path):
    path = tmp_path / f"sheet{suffix}"
    outcome = run(capsys, "sheet", A, "-o", str(path))
    assert outcome.status == 0 and str(path) in outcome.out
    head = path.read_text("utf-8")[:40]
    assert head.startswith({".txt": "Juniper", ".md": "# Juniper", ".html": "<!DOCTYPE html>"}[suffix.lower()])


def test_a_failing_project_has_its_sheet_and_status_1(capsys, tmp_path):
    path = tmp_path / "sheet.html"
    outcome = run(capsys, "sheet", D, "-o", str(path))
    assert outcome.status == 1 and path.stat().st_size > 10_000 and "fail" in outcome.out


def test_bad_input_leaves_no_file_and_an_old_one_alone(capsys, tmp_path):
    path = tmp_path / "sheet.html"
    path.write_text("old")
    broken = tmp_path / "broken.toml"
    broken.write_text('[project]\ntitle = "x"\n')
    assert run(capsys, "sheet", str(broken), "-o", str(path)).status == 2
    assert path.read_text() == "old" and sorted(entry.name for entry in tmp_path.iterdir()) == ["broken.toml", "sheet.html"]


@pytest.mark.parametrize("name", ["sheet.dxf", "sheet.docx", "sheet", "sheet."])
def test_another_suffix_is_refused_with_the_possible_ones(name, capsys, tmp_path):
    outcome = run(capsys, "sheet", A, "-o", str(tmp_path / name))
    assert outcome.status == 2 and ".html" in outcome.err and not list(tmp_path.iterdir())


def test_pdf_is_written_whole_with_the_same_bytes_each_time(capsys, tmp_path):
    first, second = tmp_path / "1.pdf", tmp_path / "2.pdf"
    for path in (first, second):
        assert run(capsys, "sheet", A, "-o", str(path)).status == 0
    assert first.read_bytes().startswith(b"%PDF") and first.read_bytes() == second.read_bytes()



def test_a_sheet_without_an_output_file_is_refused(capsys):
    assert run(capsys, "sheet", A).status == 2


def test_a_directory_that_does_not_exist_is_named(capsys, tmp_path):
    outcome = run(capsys, "sheet", A, "-o", str(tmp_path / "none" / "sheet.txt"))
    assert outcome.status == 2 and "no such directory" in outcome.err


def test_another_edition_is_cited(capsys, tmp_path):
    path = tmp_path / "sheet.txt"
    run(capsys, "sheet", A, "-o", str(path), "--edition", "2017")
    assert "Table 310.15(B)(16)" in path.read_text() and "checked against NEC 2017" in path.read_text()
