"""Whatever a file says, reading it gives a project or an InputError."""

from __future__ import annotations

import copy
import json
import random
import tomllib
from typing import Any

import pytest

import linecalc
from linecalc.cli.new import starter_text
from tests.project.house import HOUSE

VALUES: tuple[Any, ...] = (
    "",
    " ",
    "34",
    "34 ft",
    "-1 A",
    "1e308 kA",
    "nan A",
    "9**9**9 ft",
    "٣٤ ft",
    "34\u00a0ft",
    "\u202e tf 43",
    "\x1b[31m",
    "\x00",
    "x" * 5000,
    "😀",
    "MP",
    "service",
    "lugs",
    "none",
    "__class__",
    "{found}",
    "%s %n",
    "6 AWG Cu THWN-2",
    "7 AWG",
    "NEC 2023",
    "../../etc/passwd",
    0,
    -1,
    10**9,
    10**40,
    -(10**5000),
    1.5,
    float("nan"),
    float("inf"),
    1e300,
    True,
    [],
    {},
    ["34 ft"],
    ["R1", "R1"],
    [[["x"]]],
    [{"value": "34 ft"}],
    {"value": "34 ft"},
    {"value": "34"},
    {"value": "34 ft", "basis": "guess"},
    {"value": 3, "source": []},
    {"kind": "pv module"},
    {"a": {"b": {"c": {"d": {"e": {"f": {"g": {"h": {"i": {"j": {"k": {"l": 1}}}}}}}}}}}},
)
KEYS = ("", "from", "from_", "kind", "bus", "xyzzy", "a b", "é", "x" * 300, "MP", "service", "R1", "generator", "__class__", "\n", "'\"\\")


def places(value: Any, path: tuple = ()) -> list[tuple]:
    """The path of every value inside ``value``."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(found for key, below in inner for found in places(below, (*path, key)))]


def at(document: Any, path: tuple) -> Any:
    for key in path:
        document = document[key]
    return document


def mutate(document: dict[str, Any], chance: random.Random) -> None:
    """One change in place: a key deleted, renamed, added, or a value swapped for an odd one or for another."""
    path = chance.choice([place for place in places(document) if place])
    table, key = at(document, path[:-1]), path[-1]
    match chance.randrange(6):
        case 0:
            del table[key]
        case 1 | 2:
            table[key] = chance.choice(VALUES)
        case 3:
            other = at(document, chance.choice([place for place in places(document) if place]))
            table[key] = copy.deepcopy(other)
        case 4 if isinstance(table, dict):
            table[chance.choice(KEYS)] = table.pop(key)
        case _:
            target = table if isinstance(table, dict) else document
            target[chance.choice(KEYS)] = copy.deepcopy(chance.choice(VALUES))


def toml_of(value: Any) -> str:
    """A value in TOML, on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value).replace("\x7f", "\\u007f") if value.isascii() else '"' + value.replace("\x00", "") + '"'
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key, ensure_ascii=False)} = {toml_of(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(toml_of(inner) for inner in value) + "]"
    return hex(value) if isinstance(value, int) and value > 10**18 else repr(value) if not isinstance(value, int) or abs(value) < 10**18 else "-1"


def read(text: str) -> None:
    try:
        project = linecalc.read_text(text, "fuzz.toml")
    except linecalc.InputError as error:
        assert error.problems
        for problem in error.problems:
            assert problem.message and problem.message.isprintable() and len(str(problem)) < 2000
            assert problem.file == "fuzz.toml"
            assert problem.line is None or 1 <= problem.line <= text.count("\n") + 1
    else:
        assert project.project.code


@pytest.mark.parametrize("seed", range(10))
def test_fifty_mutated_documents_each_give_a_project_or_an_input_error(seed):
    chance = random.Random(seed)
    for _ in range(50):
        document = tomllib.loads(chance.choice((HOUSE, HOUSE, starter_text())))
        for _ in range(chance.randint(1, 4)):
            if document:
                mutate(document, chance)
        read("\n".join(f"{json.dumps(key, ensure_ascii=False)} = {toml_of(value)}" for key, value in document.items()) + "\n")


@pytest.mark.parametrize("seed", range(4))
def test_fifty_texts_with_characters_lost_doubled_or_swapped_do_too(seed):
    chance = random.Random(100 + seed)
    for _ in range(50):
        text = list(HOUSE)
        for _ in range(chance.randint(1, 6)):
            place = chance.randrange(len(text))
            text[place] = chance.choice(("", text[place] * 2, chance.choice('[]{}="\n#.,é\x00\ud800'), text[place - 1]))
        read("".join(text))


def test_the_same_documents_told_to_a_builder_do_too():
    chance = random.Random(7)
    for _ in range(50):
        document = tomllib.loads(HOUSE)
        mutate(document, chance)
        builder = linecalc.ProjectBuilder(title="x", code="NEC 2023")
        for kind in ("panel", "unit", "string", "circuit", "equipment", "section"):
            for tag, keys in (document.get(kind) or {}).items() if isinstance(document.get(kind), dict) else ():
                if isinstance(keys, dict):
                    getattr(builder, kind)(tag, **{key: value for key, value in keys.items() if key not in ("self", "tag")})
        try:
            builder.build()
        except linecalc.InputError as error:
            assert error.problems
