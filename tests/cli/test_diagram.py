"""``linecalc diagram``: a drawing as SVG or PNG."""

from pathlib import Path

import pytest

from linecalc.cli.diagram import names
from tests.cli.command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"
A, D = str(EXAMPLES / "a.toml"), str(EXAMPLES / "d.toml")


@pytest.mark.parametrize(("suffix", "head"), [(".svg", b"<?xml"), (".png", b"\x89PNG"), (".SVG", b"<?xml")])
def test_the_suffix_says_the_format(suffix, head, capsys, tmp_path):
    path = tmp_path / f"line{suffix}"
    outcome = run(capsys, "diagram", A, "-o", str(path))
    assert outcome.status == 0 and str(path) in outcome.out
    assert path.read_bytes().startswith(head)


def test_a_failing_project_is_drawn_and_has_status_1(capsys, tmp_path):
    assert run(capsys, "diagram", D, "-o", str(tmp_path / "line.svg")).status == 1
    assert list(tmp_path.glob("line*.svg"))


@pytest.mark.parametrize("name", ["line.dwg", "line.jpg", "line"])
def test_another_suffix_is_refused_with_the_possible_ones(name, capsys, tmp_path):
    outcome = run(capsys, "diagram", A, "-o", str(tmp_path / name))
    assert outcome.status == 2 and ".svg" in outcome.err and ".png" in outcome.err and not list(tmp_path.iterdir())


@pytest.mark.parametrize("suffix", [".svg", ".pdf", ".dxf"])
def test_the_drawing_is_the_same_every_time(suffix, capsys, tmp_path):
    first, second = tmp_path / f"1{suffix}", tmp_path / f"2{suffix}"
    for path in (first, second):
        run(capsys, "diagram", A, "-o", str(path))
    assert first.read_bytes() == second.read_bytes()


def test_several_sheets_are_numbered_and_one_is_not():
    assert names("out/house.svg", 1) == ["out/house.svg"]
    assert names("out/house.svg", 3) == ["out/house-1.svg", "out/house-2.svg", "out/house-3.svg"]
