"""Fixes: each is tried on the whole study, and none breaks a limit that no fix may break."""

import re
import random
from dataclasses import replace

import pytest

from linecalc.advice import advise
from linecalc.advice.fixes import fixes
from linecalc.advice.limits import objection
from linecalc.advice.records import Setting
from linecalc.advice.rerun import variant
from linecalc.advice.ways import WAYS
from linecalc.check import Level
from linecalc.codebook.citations import citations
from linecalc.codebook.sizes import SIZES
from linecalc.term import value_of
from tests.advice.studies import EXAMPLES, advised, bad, example, run_with, worst
from tests.houses import BASE, SUPPLY_SIDE, studied

PLANTED = re.compile(r"^\w+ = .+ # planted (?P<rule>\S+) on (?P<subject>\S+), right: (?P<right>.+)$", re.M)


SECOND_STRING = {"from": "S2", "to": "U1", "path": ["R1"], "conductor": "10 AWG Cu THWN-2", "terminals_from": "75 degC"}


def fix_of(changes, rule, subject, base=BASE):
    """The texts of the fixes of one finding of a changed house."""
    found = studied(changes, base)
    made, _ = fixes(found, found.checks)
    assert any(check.level is Level.FAIL and (check.rule, check.subject) == (rule, subject) for check in found.checks)
    return [fix.text for fix in made if (fix.rule, fix.subject) == (rule, subject)]


def stands(found, fix):
    """Whether a fix removes its finding and brings no other."""
    after = run_with(found.project, fix.settings, found.book.edition)
    assert worst(after, fix.rule, fix.subject) in (Level.PASS, Level.NOTE), fix
    assert bad(after.checks) <= bad(found.checks) - {("fail", fix.rule, fix.subject)}, fix


def test_each_planted_mistake_has_a_fix_that_stands():
    planted = {(match["rule"], match["subject"]) for match in PLANTED.finditer((EXAMPLES / "d.toml").read_text())}
    made = advised("d").fixes
    assert len(planted) == 10 and planted == {(fix.rule, fix.subject) for fix in made}
    for fix in made:
        stands(example("d"), fix)


def test_the_fix_stands_beside_its_finding():
    check = next(check for check in advised("d").study.checks if check.rule == "listed_instructions.breaker" and check.level is Level.FAIL)
    assert check.fix == "lower the breaker of C1 in GP to 50 A (now 60 A)"


def test_only_findings_that_fail_have_a_fix():
    assert all(check.fix is None for check in advised("d").study.checks if check.level is not Level.FAIL)
    assert advised("a").fixes == () and advised("a").unfixed == ()


@pytest.mark.parametrize(
    ("changes", "rule", "subject", "text"),
    [
        ({"circuit.C1.conductor": "12 AWG Cu THWN-2"}, "inverter_output_conductor.T1", "C1", "raise C1 to 8 AWG Cu THWN-2 (now 12 AWG)"),
        ({"circuit.C1.breaker": "45 A"}, "source_ocpd", "C1", "raise the breaker of C1 in BP to 50 A (now 45 A)"),
        ({"circuit.C2.egc": "14 AWG Cu"}, "egc", "C2", "10 AWG Cu as grounding conductor of C2 (now 14 AWG Cu)"),
        ({"panel.MP.neutral_bond": False}, "service_grounding", "MP", "bond the neutral in MP"),
        ({"isolation.ID.neutral_bond": True}, "neutral_for_grounding", "ID", "remove the neutral bond in ID"),
        ({"section.R3.size": "1/2 in"}, "raceway_fill", "R3", "EMT 3/4 in for R3 (now 1/2 in)"),
        ({"string.S1.count": 14}, "pv_max_voltage", "S1", "13 modules in S1 (now 14)"),
        (
            {"string.S2": {"module": "mod", "count": 10, "to": "U1", "input": 1}, "circuit.P2": SECOND_STRING},
            "mppt_limit.short_circuit",
            "S1",
            "S2 on the free input 2 of U1 (now input 1)",
        ),
        ({"circuit.C1.bus_position": "middle", "panel.BP.bus": "100 A", "panel.BP.feed": "top"}, "busbar_sum", "BP", "land C1 at the end of the bus of BP opposite its supply"),
    ],
)
def test_the_smallest_change_is_found(changes, rule, subject, text):
    assert fix_of(changes, rule, subject)[:1] == [text]


def test_a_larger_conductor_takes_a_given_raceway_along():
    texts = fix_of({"circuit.C2.conductor": "10 AWG Cu THWN-2", "section.R3.size": "1/2 in", "circuit.C2.egc": "10 AWG Cu"}, "next_size_up", "C2")
    assert any("6 AWG Cu THWN-2" in text and "EMT 3/4 in for R3" in text for text in texts)


# 70 A of load and 1.25 x 20 A of charging: 95 A.
def test_a_larger_breaker_takes_conductor_grounding_conductor_and_raceway_along():
    changes = {"load.BACKUP.current": "70 A", "load.BACKUP.unbalance": "20 A", "section.R3.size": "1 in", "circuit.C2.egc": "10 AWG Cu", "isolation.ID.rating": "200 A"}
    texts = fix_of(changes, "feeder_continuous_ocpd", "C2")
    assert texts and "raise the breaker of C2 in MP to 100 A" in texts[0]
    assert "for C2" in texts[0] and "as grounding conductor of C2" in texts[0]


def test_a_neutral_that_is_full_size_and_too_small_grows_with_its_conductor():
    texts = fix_of({"circuit.C1.conductor": "14 AWG Cu THWN-2"}, "neutral_of_source", "C1")
    assert texts == ["raise C1 to 8 AWG Cu THWN-2 (now 14 AWG)"]


def test_a_supply_side_bond_is_made_in_the_disconnect():
    assert fix_of({"disconnect.D.neutral_bond": False}, "supply_side_grounding", "D", SUPPLY_SIDE) == ["bond the neutral in D"]


def test_a_finding_without_a_fix_says_why():
    found = studied({"equipment.unit-a.neutral_bond": "always"})
    advice = advise(found)
    assert [(none.rule, none.subject) for none in advice.unfixed] == [("neutral_for_grounding", "U1")]
    check = next(check for check in advice.study.checks if check.level is Level.FAIL)
    assert check.fix is None and "no single change" in check.unfixed


# --- what no fix may do ------------------------------------------------------


def objection_to(settings, target, changes=None, base=BASE):
    found = studied(changes, base)
    run = variant(found.project, found.book, [Setting(path, value) for path, value in settings.items()])
    return objection(found, run, target)


def test_a_breaker_is_not_raised_above_the_units_maximum():
    changes = {"circuit.C1.breaker": "45 A", "circuit.C1.conductor": "4 AWG Cu THWN-2"}
    assert "listed_instructions.breaker" in objection_to({"circuit.C1.breaker": "60 A"}, ("source_ocpd", "C1"), changes)


def test_a_breaker_is_not_raised_above_the_maximum_even_if_no_rule_says_so():
    changes = {"circuit.C1.breaker": "45 A", "circuit.C1.conductor": "4 AWG Cu THWN-2"}
    found = studied(changes)
    run = variant(found.project, found.book, [Setting("circuit.C1.breaker", "60 A")])
    silent = replace(run, checks=tuple(check for check in run.checks if check.rule != "listed_instructions.breaker"))
    assert objection(found, silent, ("source_ocpd", "C1")) == "the device of C1 would be above the unit's maximum"


def test_a_main_is_not_lowered_below_the_calculated_load():
    found = studied({"panel.MP.bus": "150 A", "load.HOUSE.current": "140 A"})
    run = variant(found.project, found.book, [Setting("panel.MP.main", "125 A")])
    silent = replace(run, checks=tuple(check for check in run.checks if check.level is not Level.FAIL))
    assert "below" in objection(found, silent, ("panel_protection", "MP"))


def test_a_main_is_not_lowered_where_the_load_is_not_given():
    changes = {"load.HOUSE": None, "panel.MP.bus": "175 A"}
    found = studied(changes)
    run = variant(found.project, found.book, [Setting("panel.MP.main", "150 A")])
    silent = replace(run, checks=tuple(check for check in run.checks if check.level is Level.PASS))
    assert "not fully given" in objection(found, silent, ("panel_protection", "MP"))


def test_a_device_is_not_lowered_below_125_percent_of_its_continuous_current():
    found = studied({"circuit.C1.breaker": "60 A", "circuit.C1.conductor": "4 AWG Cu THWN-2"})
    run = variant(found.project, found.book, [Setting("circuit.C1.breaker", "45 A")])
    silent = replace(run, checks=tuple(check for check in run.checks if check.level is not Level.FAIL))
    assert objection(found, silent, ("listed_instructions.breaker", "C1")) == "the device of C1 would be below its load"


def test_a_grounding_conductor_is_never_dropped():
    found = studied({"circuit.C2.egc": "14 AWG Cu"})
    run = variant(found.project, found.book, [Setting("circuit.C2.egc", "none")])
    silent = replace(run, checks=tuple(check for check in run.checks if check.level is not Level.FAIL))
    assert objection(found, silent, ("egc", "C2")) == "C2 would lose its grounding conductor"


def test_a_new_warning_is_an_objection():
    assert "mppt_window.hot" in objection_to({"string.S1.count": 3}, ("pv_max_voltage", "S1"), {"string.S1.count": 14})


def test_a_change_that_leaves_the_finding_is_no_fix():
    assert objection_to({"string.S1.count": 15}, ("pv_max_voltage", "S1"), {"string.S1.count": 16}) == "the finding stays"


# --- the property ------------------------------------------------------------

MISTAKES = (
    lambda chance: {"circuit.C1.breaker": f"{chance.choice([30, 40, 45, 60, 70, 80])} A"},
    lambda chance: {"circuit.C2.breaker": f"{chance.choice([30, 40, 70, 100, 125])} A"},
    lambda chance: {f"circuit.C{chance.randint(1, 3)}.conductor": f"{chance.choice(SIZES[:8])} Cu THWN-2"},
    lambda chance: {"circuit.P1.conductor": f"{chance.choice(SIZES[:3])} Cu THWN-2"},
    lambda chance: {f"circuit.C{chance.randint(1, 3)}.egc": f"{chance.choice(SIZES[:6])} Cu"},
    lambda chance: {f"section.R{chance.randint(1, 4)}.size": chance.choice(["1/2 in", "3/4 in", "1 in"])},
    lambda chance: {f"section.R{chance.randint(1, 4)}.ambient": f"{chance.randint(20, 75)} degC"},
    lambda chance: {"panel.MP.bus": f"{chance.choice([125, 150, 200, 225])} A"},
    lambda chance: {"panel.BP.bus": f"{chance.choice([60, 70, 100, 125])} A"},
    lambda chance: {"string.S1.count": chance.randint(2, 18)},
    lambda chance: {"load.HOUSE.current": f"{chance.randint(20, 190)} A"},
    lambda chance: {"load.BACKUP.current": f"{chance.randint(10, 70)} A"},
    lambda chance: {"panel.BP.neutral_bond": True},
    lambda chance: {"circuit.C1.bus_position": chance.choice(["middle", "main end"])},
    lambda chance: {"equipment.mod.isc": f"{chance.randint(13, 20)} A"},
)


@pytest.mark.parametrize("seed", range(24))
def test_a_suggested_fix_never_fails(seed):
    chance = random.Random(seed)
    changes = {}
    for mistake in chance.sample(MISTAKES, 4):
        changes.update(mistake(chance))
    found = studied(changes)
    made, without = fixes(found, found.checks)
    failing = {(check.rule, check.subject) for check in found.checks if check.level is Level.FAIL}
    assert {(fix.rule, fix.subject) for fix in made} | {(none.rule, none.subject) for none in without} == failing
    assert all(none.reason for none in without)
    for fix in made:
        stands(found, fix)
        keeps_its_limits(found, fix)


def keeps_its_limits(found, fix):
    """Breakers within the unit's maximum, devices not below their load, grounding conductors kept."""
    after = run_with(found.project, fix.settings, found.book.edition)
    for circuit in after.sized.circuits:
        before = found.sized.circuit(circuit.tag)
        if before.egc is not None:
            assert circuit.egc is not None
        if circuit.device is None or before.device is None:
            continue
        if value_of(circuit.device.rating) > value_of(before.device.rating) and circuit.tag == "C1" and circuit.device.owner == "C1":
            assert value_of(circuit.device.rating) <= 50.0
        if value_of(circuit.device.rating) < value_of(before.device.rating):
            assert value_of(circuit.device.rating) >= value_of(circuit.device_need) * (1 - 1e-9)



@pytest.mark.parametrize(
    ("changes", "rule", "subject", "text"),
    [
        ({"isolation.ID.rating": "30 A"}, "listed_instructions.rating", "ID", "a 60 A rating for ID (now 30 A)"),
        ({"section.R1.method": "PVC40", "section.R1.inside": True}, "pv_inside_building", "P1", "EMT for R1"),
        (
            {"panel.MP.interrupting": "10 kA", "service.fault_current": "20 kA", "service.fault_current_at": "transformer", "service.x_over_r": 2.0},
            "interrupting_rating",
            "MP",
            "devices of 22 kA interrupting rating in MP (now 10 kA)",
        ),
        ({"panel.MP.location": "outdoors", "panel.MP.enclosure": "1"}, "enclosure_types", "MP", "an enclosure of type 3R for MP (now type 1)"),
    ],
)
def test_equipment_of_another_rating_is_a_fix(changes, rule, subject, text):
    assert fix_of(changes, rule, subject)[:1] == [text]


def test_every_way_is_for_a_rule_of_the_citation_map():
    for name, _ in WAYS:
        base = name.split(".")[0]
        assert base in citations("2023") or name in ("T1", "T2", "ocpd", "running", "busbar", "egc"), name
