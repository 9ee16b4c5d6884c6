"""Adding a load, a source or a string mends nothing that lies neither up- nor downstream of it."""

import random

import pytest

from linecalc.advice.rerun import family
from linecalc.check import Level
from linecalc.codebook.sizes import SIZES
from tests.houses import BASE, studied, tables

SECTION = {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "12 ft"}
HOUSE = tables(
    {
        "panel.SP": {"bus": "100 A", "main": "lugs", "feed": "top", "terminals": "75 degC", "neutral_bond": False},
        "load.SHOP": {"panel": "SP", "kind": "calculated", "current": "30 A", "continuous_part": "0 A", "unbalance": "6 A", "power_factor": 0.9},
        "circuit.C5": {"from": "MP", "to": "SP", "path": ["R6"], "breaker": "60 A", "conductor": "6 AWG Cu THWN-2"},
        "section.R6": SECTION,
        "unit.U2": {"equipment": "unit-a"},
        "string.S2": {"module": "mod", "count": 10, "to": "U2", "input": 1},
        "circuit.P2": {"from": "S2", "to": "U2", "path": ["R7"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"},
        "section.R7": SECTION,
        "circuit.C6": {"from": "BP", "to": "U2", "path": ["R8"], "breaker": "50 A", "conductor": "8 AWG Cu THWN-2", "bus_position": "opposite end"},
        "section.R8": SECTION,
    },
    BASE,
)
CIRCUITS = ("C1", "C2", "C3", "C5", "C6", "P1", "P2")
MISTAKES = (
    lambda chance: {f"circuit.{chance.choice(CIRCUITS)}.conductor": f"{chance.choice(SIZES[:4])} Cu THWN-2"},
    lambda chance: {f"circuit.{chance.choice(CIRCUITS[:5])}.egc": f"{chance.choice(SIZES[:2])} Cu"},
    lambda chance: {f"circuit.{chance.choice(('C1', 'C5', 'C6'))}.breaker": f"{chance.choice([20, 35, 70, 90])} A"},
    lambda chance: {f"section.R{chance.randint(1, 8)}.size": "1/2 in"},
    lambda chance: {f"section.R{chance.randint(1, 8)}.ambient": f"{chance.choice([60, 70, 75])} degC"},
    lambda chance: {f"string.S{chance.randint(1, 2)}.count": chance.choice([2, 14, 17])},
    lambda chance: {"panel.MP.bus": "150 A"},
    lambda chance: {"panel.SP.bus": "50 A"},
    lambda chance: {"panel.SP.neutral_bond": True},
    lambda chance: {"load.SHOP.current": "75 A"},
)


def added_load(chance):
    panel = chance.choice(("MP", "SP", "BP"))
    load = {"panel": panel, "kind": chance.choice(("appliance", "heat")), "voltage": "240 V", "current": f"{chance.randint(4, 30)} A", "power_factor": 0.9}
    circuit = {"from": panel, "to": "NEW", "path": ["R9"], "breaker": "40 A", "conductor": "8 AWG Cu THWN-2"}
    return panel, {"load.NEW": load, "circuit.C9": circuit, "section.R9": SECTION}


def added_source(chance):
    panel = chance.choice(("BP", "SP", "MP"))
    circuit = {"from": panel, "to": "NEW", "path": ["R9"], "breaker": "50 A", "conductor": "8 AWG Cu THWN-2", "bus_position": "opposite end"}
    return panel, {"unit.NEW": {"equipment": "unit-a"}, "circuit.C9": circuit, "section.R9": SECTION}


def added_string(chance):
    unit = chance.choice(("U1", "U2"))
    circuit = {"from": "NEW", "to": unit, "path": ["R9"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"}
    return unit, {"string.NEW": {"module": "mod", "count": chance.choice([4, 10]), "to": unit, "input": 2}, "circuit.C9": circuit, "section.R9": SECTION}


def related(found, at):
    """The subjects up- and downstream of a thing added at a node: the way to the service, and the whole system."""
    way = found.network.path_up(at)
    nodes = {at, "NEW", "service", *(step.up for step in way)}
    sections = {section for step in way for section in step.sections}
    return nodes | sections | {step.tag for step in way} | {"C9", "R9", "system"}


def failing(found):
    return {(family(check.rule), check.subject) for check in found.checks if check.level is Level.FAIL}


def passing(found):
    bad = {(family(check.rule), check.subject) for check in found.checks if check.level is not Level.PASS and check.level is not Level.NOTE}
    return {(family(check.rule), check.subject) for check in found.checks} - bad


@pytest.mark.parametrize("seed", range(60))
def test_what_is_added_mends_nothing_beside_it(seed):
    chance = random.Random(seed)
    changes = {}
    for mistake in chance.sample(MISTAKES, 4):
        changes.update(mistake(chance))
    at, addition = (added_load, added_source, added_string)[seed % 3](chance)
    before = studied(changes, HOUSE)
    after = studied({**changes, **addition}, HOUSE)
    beside = {(rule, subject) for rule, subject in failing(before) if subject not in related(before, at)}
    assert not beside & passing(after)
    assert beside <= failing(after), "nor does a failing question vanish"


def test_the_mistakes_do_fail():
    """The law above is worth something only if enough fails beside what is added."""
    counted = 0
    for seed in range(60):
        chance = random.Random(seed)
        changes = {}
        for mistake in chance.sample(MISTAKES, 4):
            changes.update(mistake(chance))
        at, _ = (added_load, added_source, added_string)[seed % 3](chance)
        before = studied(changes, HOUSE)
        counted += len([pair for pair in failing(before) if pair[1] not in related(before, at)])
    assert counted > 60


def test_the_house_itself_passes_where_nothing_is_wrong():
    assert {pair for pair in failing(studied({}, HOUSE)) if pair[1] not in ("system", "MP", "BP", "C2", "C3")} == set()
