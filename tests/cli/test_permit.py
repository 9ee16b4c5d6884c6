"""``linecalc permit``: one PDF, written whole; then the status says whether something fails."""

from __future__ import annotations

import pytest

from tests.cli.command_line import run
from tests.report.houses import EXAMPLES

C, D = str(EXAMPLES / "c.toml"), str(EXAMPLES / "d.toml")


@pytest.mark.parametrize("more", [(), ("--letter",), ("--edition", "2017")])
def test_the_set_is_written_and_the_verdicts_are_printed(more, tmp_path, capsys):
    target = tmp_path / "c.pdf"
    done = run(capsys, "permit", C, "-o", str(target), *more)
    assert done.status == 0
    assert target.read_bytes().startswith(b"%PDF")
    assert done.out.startswith(f"wrote {target}: 0 fail")


def test_a_failing_design_is_written_and_the_status_says_so(tmp_path, capsys):
    target = tmp_path / "d.pdf"
    assert run(capsys, "permit", D, "-o", str(target)).status == 1
    assert target.stat().st_size > 100_000


def test_bad_input_leaves_an_old_set_alone(tmp_path, capsys):
    target, broken = tmp_path / "old.pdf", tmp_path / "broken.toml"
    target.write_text("old")
    broken.write_text('[project]\ntitle = "x"\n')
    assert run(capsys, "permit", str(broken), "-o", str(target)).status == 2
    assert target.read_text() == "old"
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["broken.toml", "old.pdf"]


def test_another_suffix_is_refused(tmp_path, capsys):
    assert run(capsys, "permit", C, "-o", str(tmp_path / "c.svg")).status == 2
