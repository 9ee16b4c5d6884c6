"""``linecalc schedule``."""

from __future__ import annotations

import pytest

from tests.cli.command_line import run
from tests.report.houses import EXAMPLES


@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
def test_the_file_is_written_and_the_verdicts_are_printed(suffix, tmp_path, capsys):
    target = tmp_path / f"a.{suffix}"
    done = run(capsys, "schedule", str(EXAMPLES / "a.toml"), "-o", str(target))
    assert done.status == 0
    assert target.stat().st_size > 1000
    assert done.out.startswith(f"wrote {target}: 0 fail")


def test_a_failing_design_is_written_and_the_status_says_so(tmp_path, capsys):
    target = tmp_path / "d.csv"
    assert run(capsys, "schedule", str(EXAMPLES / "d.toml"), "-o", str(target)).status == 1
    assert "Conductor schedule" in target.read_text("utf-8")


def test_another_suffix_is_refused_with_the_possible_ones(tmp_path, capsys):
    done = run(capsys, "schedule", str(EXAMPLES / "a.toml"), "-o", str(tmp_path / "a.ods"))
    assert done.status == 2
    assert ".csv, .xlsx" in done.err
