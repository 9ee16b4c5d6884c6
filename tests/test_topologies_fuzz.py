"""Any key of any invented house may be left out: the answer is a study or an error, never a defect."""

from __future__ import annotations

import copy
import json
import random
import tomllib
from pathlib import Path

import pytest

import linecalc
from linecalc.report.results_json import results
from tests.project.test_fuzz import at, places, toml_of

PROJECTS = Path(__file__).parent / "projects"
FILES = [path for path in sorted(PROJECTS.glob("*.toml")) if path.stem != "equipment"]
EQUIPMENT = tomllib.loads((PROJECTS / "equipment.toml").read_text())["equipment"]
TRIED = 25


def whole(path: Path) -> dict:
    """The project with the equipment that it names, in one document."""
    document = tomllib.loads(path.read_text())
    document.pop("include")
    named = json.dumps(document)
    used = {tag: keys for tag, keys in EQUIPMENT.items() if f'"{tag}"' in named}
    used |= {keys["electronics_equipment"]: EQUIPMENT[keys["electronics_equipment"]] for keys in used.values() if "electronics_equipment" in keys}
    return {**document, "equipment": used}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_key_left_out_gives_a_study_or_an_error(path: Path) -> None:
    document = whole(path)
    keys = [key for key in places(document) if key and not isinstance(at(document, key[:-1]), list)]
    done = 0
    for key in random.Random(path.stem).sample(keys, TRIED):
        changed = copy.deepcopy(document)
        del at(changed, key[:-1])[key[-1]]
        text = "\n".join(f"{json.dumps(name)} = {toml_of(value)}" for name, value in changed.items()) + "\n"
        try:
            results(linecalc.compute(linecalc.read_text(text)))
        except linecalc.LinecalcError as error:
            assert str(error)
            continue
        done += 1
    assert done > TRIED // 4, "most keys are optional"
