"""A project with anything left out or out of proportion gives a study or an error, never a defect."""

from __future__ import annotations

import copy
import json
import random
import tomllib

import pytest

import linecalc
from linecalc.cli.new import starter_text
from tests.project.test_fuzz import at, places, toml_of

STARTER = tomllib.loads(starter_text())


def studied(document: dict) -> linecalc.Study | None:
    """The study of a document with every step rendered, or None where it is refused."""
    text = "\n".join(f"{json.dumps(key)} = {toml_of(value)}" for key, value in document.items()) + "\n"
    try:
        study = linecalc.compute(linecalc.read_text(text))
    except linecalc.LinecalcError as error:
        assert str(error)
        return None
    for step in study.steps:
        step.rendered()
    return study


def keys_of_tables() -> list[tuple]:
    return [path for path in places(STARTER) if path and not isinstance(at(STARTER, path[:-1]), list)]


def test_each_key_of_the_starter_may_be_left_out():
    done = 0
    for path in keys_of_tables():
        document = copy.deepcopy(STARTER)
        del at(document, path[:-1])[path[-1]]
        done += studied(document) is not None
    assert done > 80, "most keys are optional"


@pytest.mark.parametrize("seed", range(4))
def test_values_a_thousand_times_too_large_or_small_are_answered(seed):
    chance = random.Random(seed)
    for _ in range(25):
        document = copy.deepcopy(STARTER)
        for path in chance.sample(keys_of_tables(), 3):
            value = at(document, path) if path[0] in document else None
            number, _, unit = value.partition(" ") if isinstance(value, str) else ("", "", "")
            if number.replace(".", "", 1).isdigit() and unit:
                at(document, path[:-1])[path[-1]] = f"{float(number) * chance.choice([0.001, 0.1, 0.5, 2, 10, 1000]):g} {unit}"
        studied(document)
