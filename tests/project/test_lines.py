"""The line of each key."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from typing import Any

import pytest

from linecalc.project.lines import key_lines, line_of
from linecalc.project.wording import dotted
from tests.project.house import HOUSE

TEXT = """\
# a comment
include = ["a.toml", "b.toml"]
[panel.MP]
bus = "225 A"   # rating
"odd key" = 1
site.low.x = 1
[equipment]
m = { kind = "unit", nested = { deep = [1, { z = 2 }] } }
[[amendments]]
text = '''
two
lines'''
[[amendments]]
text = "b"
[[amendments.notes]]
n = 1
[[amendments.notes]]
n = 2
[ "spaced" . 'quoted' ]
list = [
  "one",
  # between
  "two",
]
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("include",), 2),
        (("include", 1), 2),
        (("panel",), 3),
        (("panel", "MP"), 3),
        (("panel", "MP", "bus"), 4),
        (("panel", "MP", "odd key"), 5),
        (("panel", "MP", "site", "low"), 6),
        (("panel", "MP", "site", "low", "x"), 6),
        (("equipment", "m", "kind"), 8),
        (("equipment", "m", "nested", "deep", 1, "z"), 8),
        (("amendments",), 9),
        (("amendments", 0), 9),
        (("amendments", 0, "text"), 10),
        (("amendments", 1), 13),
        (("amendments", 1, "text"), 14),
        (("amendments", 1, "notes", 0, "n"), 16),
        (("amendments", 1, "notes", 1, "n"), 18),
        (("spaced", "quoted"), 19),
        (("spaced", "quoted", "list", 1), 23),
    ],
)
def test_each_key_has_its_line(path, line):
    assert key_lines(TEXT)[path] == line


def paths_in(value: Any, path: tuple = ()) -> list[tuple]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return ([path] if path else []) + [found for key, below in inner for found in paths_in(below, (*path, key))]


@pytest.mark.parametrize("text", [TEXT, HOUSE], ids=["text", "house"])
def test_every_path_that_the_parser_reads_has_a_line(text):
    assert set(paths_in(tomllib.loads(text))) == set(key_lines(text))


def test_a_key_that_is_not_written_has_the_line_of_its_table():
    lines = key_lines(TEXT)
    assert line_of(lines, ("panel", "MP", "main")) == 3
    assert line_of(lines, ("panel", "XX")) == 3
    assert line_of(lines, ("nothing",)) is None
    assert line_of(lines, ()) is None


def test_characters_beyond_ascii_do_not_shift_lines():
    assert key_lines('a = "é家🏠"\nb = 1\n')[("b",)] == 2


def test_deep_nesting_is_walked_without_recursion():
    assert len(key_lines("x = " + "[" * 3000 + "]" * 3000)) == 3000


def test_the_parser_of_lines_is_loaded_only_for_an_error():
    program = "import sys, linecalc; linecalc.read_text(sys.stdin.read()); print('tree_sitter' in sys.modules, 'difflib' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", program], input=HOUSE, capture_output=True, text=True, check=True)
    assert done.stdout.split()[0] == "False"


def test_paths_are_written_as_toml_writes_them():
    assert dotted(("panel", "MP", "bus")) == "panel.MP.bus"
    assert dotted(("circuit", "C1", "path", 1)) == "circuit.C1.path[1]"
    assert dotted(("panel", "a b")) == 'panel."a b"'
    assert dotted(("panel", 'a"b\n')) == 'panel."a\\"b\\n"'
    assert dotted(()) == ""
