"""The JSON Schema of the project file."""

from __future__ import annotations

import copy
import json
import tomllib
from pathlib import Path
from typing import Any

import pytest

import linecalc
from linecalc.cli.new import starter_text
from linecalc.project.model import TAGGED, Circuit, Project
from linecalc.project.problems import keys_of
from tests.project.house import HOUSE

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("**/*.toml"))


def nodes(value: Any):
    """Every object inside a schema."""
    if isinstance(value, dict):
        yield value
    if isinstance(value, dict | list):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from nodes(inner)


def test_the_schema_is_of_the_2020_dialect_and_closed():
    schema = linecalc.project_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["additionalProperties"] is False
    assert json.loads(json.dumps(schema)) == schema


def test_the_schema_has_every_table_and_include():
    properties = linecalc.project_schema()["properties"]
    assert set(properties) == {*keys_of(Project), "include"}
    assert {*TAGGED, "circuit", "section", "equipment"} <= set(properties)


def test_keys_are_spelt_as_in_the_file():
    schema = linecalc.project_schema()
    assert set(schema["$defs"]["Circuit"]["properties"]) == set(keys_of(Circuit))
    assert {"from", "to"} <= set(schema["$defs"]["Circuit"]["required"])


def test_every_record_is_closed_to_unknown_keys():
    for name, record in linecalc.project_schema()["$defs"].items():
        if record.get("type") == "object":
            assert record["additionalProperties"] is False, name


def test_every_reference_leads_to_a_definition():
    schema = linecalc.project_schema()
    for node in nodes(schema):
        if "$ref" in node:
            assert node["$ref"].removeprefix("#/$defs/") in schema["$defs"]


def test_toml_has_no_null_so_the_schema_has_none():
    assert all(node.get("type") != "null" for node in nodes(linecalc.project_schema()))


def test_two_schemas_are_the_same_bytes():
    assert json.dumps(linecalc.project_schema()) == json.dumps(linecalc.project_schema())


def validator():
    jsonschema = pytest.importorskip("jsonschema")
    schema = linecalc.project_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@pytest.mark.parametrize("text", [HOUSE, starter_text()], ids=["house", "starter"])
def test_a_valid_project_fits_the_schema(text):
    assert [error.message for error in validator().iter_errors(tomllib.loads(text))] == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_every_example_fits_the_schema(path):
    document = tomllib.loads(path.read_text("utf-8"))
    if "project" in document:
        assert [error.message for error in validator().iter_errors(document)] == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("panel", "MP", "bus"), 225),
        (("panel", "MP", "bux"), "225 A"),
        (("panel", "a b"), {"bus": "1 A", "main": "lugs"}),
        (("project", "code"), "NEC 2014"),
        (("string", "S1", "count"), 0),
        (("section", "R1", "method"), "EMTT"),
        (("equipment", "mod", "kind"), "modul"),
        (("panels",), {}),
        (("panel", "MP", "feed"), None),
        (("include",), "equipment.toml"),
    ],
)
def test_what_the_reader_refuses_does_not_fit_the_schema(path, value):
    document = copy.deepcopy(tomllib.loads(HOUSE))
    table = document
    for key in path[:-1]:
        table = table[key]
    table[path[-1]] = value
    assert not validator().is_valid(document)
