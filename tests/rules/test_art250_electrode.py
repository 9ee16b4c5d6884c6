"""Electrodes, electrode conductors, bonding jumpers and the grounded conductor of the service."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.project.read import read_project
from linecalc.study import study
from linecalc.term import value_of
from linecalc.variants import with_value
from tests.houses import BASE, SUPPLY_SIDE, check, checks, level, studied

PROJECTS = Path(__file__).parents[1] / "projects"
TWO_RODS = {"grounding.electrodes": ("rod", "rod")}


def point(found, tag="MP"):
    return found.sized.grounding.point(tag)


def gec(changes, tag="MP", base=BASE):
    found = point(studied(changes, base), tag).electrode
    return found.size, found.needed_size, found.table_size


@pytest.mark.parametrize(
    ("electrodes", "size"),
    [
        (("rod", "rod"), "6 AWG"),
        (("concrete-encased",), "4 AWG"),
        (("concrete-encased", "rod"), "4 AWG"),
        (("ground ring",), "2 AWG"),
        (("water pipe", "rod"), "2 AWG"),
        (("structural metal",), "2 AWG"),
    ],
)
def test_the_electrode_conductor_is_the_largest_that_any_electrode_asks_for(electrodes, size):
    # 250 kcmil copper: the table asks for 2 AWG, rods for 6 AWG, concrete for 4 AWG, a 2 AWG ring for 2 AWG.
    changes = {"grounding.electrodes": electrodes, "service.conductor": "250 kcmil Cu THWN-2"}
    assert gec(changes) == (size, size, "2 AWG")


def test_a_limit_never_asks_for_more_than_the_table():
    # 6 AWG copper service conductors: the table asks for 8 AWG, so a rod asks for no more than 8 AWG.
    assert gec({**TWO_RODS, "service.conductor": "6 AWG Cu THWN-2"}) == ("8 AWG", "8 AWG", "8 AWG")


def test_a_larger_ring_raises_the_limit_of_a_ring():
    changes = {"grounding.electrodes": ("ground ring",), "service.conductor": "500 kcmil Cu THWN-2"}
    assert gec(changes)[0] == "2 AWG"
    assert gec({**changes, "grounding.ground_ring": "1/0 AWG Cu"})[0] == "1/0 AWG"


def test_parallel_service_conductors_count_with_their_areas_together():
    # Two 3/0 copper are 335,600 cmil: above 3/0, up to 350 kcmil, so 2 AWG.
    changes = {"grounding.electrodes": ("structural metal",), "service.conductor": "3/0 AWG Cu THWN-2", "circuit.C4.parallel": 2}
    assert gec(changes)[0] == "2 AWG"
    assert value_of(point(studied(changes)).ungrounded_cmil) == 335600.0


def test_an_aluminum_electrode_conductor_is_read_from_its_own_column():
    # 2/0 copper service: 2 AWG aluminum; a rod asks for 4 AWG aluminum at most.
    assert gec({"grounding.electrodes": ("structural metal",), "panel.MP.electrode_conductor": "2 AWG Al"}) == ("2 AWG", "2 AWG", "2 AWG")
    assert gec({**TWO_RODS, "panel.MP.electrode_conductor": "4 AWG Al"}) == ("4 AWG", "4 AWG", "2 AWG")


def test_a_given_conductor_too_small_for_one_of_its_electrodes_fails():
    small = {"panel.MP.electrode_conductor": "6 AWG Cu"}
    assert level(studied({**TWO_RODS, **small}), "gec", "MP") is Level.PASS
    assert level(studied({"grounding.electrodes": ("concrete-encased", "rod"), **small}), "gec", "MP") is Level.FAIL


def test_without_electrodes_neither_the_system_nor_a_chosen_conductor_is_passed():
    found = studied()
    assert level(found, "electrode_system") is Level.NOT_CHECKED
    assert check(found, "gec", "MP").needs == ("grounding.electrodes",)


@pytest.mark.parametrize(
    ("electrodes", "verdict"),
    [
        ((), Level.FAIL),
        (("rod",), Level.WARN),
        (("plate",), Level.WARN),
        (("rod", "rod"), Level.PASS),
        (("water pipe",), Level.FAIL),
        (("water pipe", "rod"), Level.PASS),
        (("concrete-encased",), Level.PASS),
        (("ground ring",), Level.PASS),
    ],
)
def test_electrodes_that_may_not_stand_alone(electrodes, verdict):
    assert level(studied({"grounding.electrodes": electrodes}), "electrode_system") is verdict


def test_the_main_bonding_jumper_is_chosen_by_the_table_or_listed_with_the_panel():
    # 2/0 copper: 4 AWG copper.
    found = studied(TWO_RODS)
    assert point(found).jumper.size == "4 AWG"
    assert level(found, "main_bonding_jumper", "MP") is Level.PASS
    listed = studied({**TWO_RODS, "panel.MP.bonding_jumper": "listed"})
    assert point(listed).jumper.kind == "listed"
    assert "listed" in check(listed, "main_bonding_jumper", "MP").message
    assert level(studied({**TWO_RODS, "panel.MP.bonding_jumper": "6 AWG Cu"}), "main_bonding_jumper", "MP") is Level.FAIL


def test_beyond_the_table_a_jumper_is_an_eighth_of_the_ungrounded_area():
    # Four 500 kcmil: 2,000,000 cmil x 0.125 = 250,000 cmil.
    changes = {**TWO_RODS, "service.conductor": "500 kcmil Cu THWN-2", "circuit.C4.parallel": 4}
    jumper = point(studied(changes)).jumper
    assert (value_of(jumper.area_cmil), jumper.size) == (250000.0, "250 kcmil")


def test_a_panel_that_does_not_bond_has_no_main_bonding_jumper():
    found = studied({**TWO_RODS, "panel.MP.neutral_bond": False})
    assert point(found).jumper is None
    assert not checks(found, "main_bonding_jumper", "MP")


def test_a_grounded_service_conductor_below_the_table_fails_and_a_missing_one_too():
    # 2/0 copper: at least 4 AWG copper.
    assert level(studied({"circuit.C4.neutral": "4 AWG Cu THWN-2"}), "grounded_service_conductor", "MP") is Level.PASS
    small = check(studied({"circuit.C4.neutral": "6 AWG Cu THWN-2"}), "grounded_service_conductor", "MP")
    assert (small.level, value_of(small.demand), value_of(small.limit)) == (Level.FAIL, 26240.0, 41740.0)
    assert level(studied({"circuit.C4.neutral": "none"}), "grounded_service_conductor", "MP") is Level.FAIL


def test_the_grounded_conductor_need_not_be_larger_than_the_ungrounded_ones():
    # 10 AWG ungrounded conductors: the table begins at 8 AWG.
    found = studied({"circuit.C2.conductor": "10 AWG Cu THWN-2", "disconnect.D.device": "30 A"}, SUPPLY_SIDE)
    assert point(found, "D").grounded.needed_size == "10 AWG"


def test_a_supply_side_disconnect_goes_by_the_conductors_that_supply_it_and_not_by_the_service():
    # 6 AWG to the disconnect: 8 AWG jumper; 2/0 to the panel: 4 AWG.
    found = studied(TWO_RODS, SUPPLY_SIDE)
    assert (point(found, "D").jumper.size, point(found, "MP").jumper.size) == ("8 AWG", "4 AWG")
    assert level(found, "electrode_taps", "service") is Level.NOTE


def test_one_service_disconnect_has_nothing_to_tap():
    assert not checks(studied(TWO_RODS), "electrode_taps")


SWITCHED = {**TWO_RODS, "isolation.ID.switches_neutral": True, "equipment.unit-a.neutral_bond": "island only"}


def test_a_separately_derived_source_has_its_own_bond_and_electrode_conductor():
    # 8 AWG copper in the unit's circuit: 8 AWG jumper and 8 AWG to the electrodes.
    found = point(studied(SWITCHED), "U1")
    assert (found.role.value, found.jumper.kind, found.jumper.needed_size) == ("source of a separately derived system", "listed", "8 AWG")
    assert found.electrode.size == "8 AWG"
    assert level(studied(SWITCHED), "gec", "U1") is Level.PASS
    assert level(studied({**SWITCHED, "unit.U1.electrode_conductor": "10 AWG Cu"}), "gec", "U1") is Level.FAIL


def test_a_neutral_that_is_not_switched_gives_the_units_no_electrode_of_their_own():
    assert point(studied(TWO_RODS), "U1") is None


BUILDING = {**TWO_RODS, "panel.BP.building": "workshop"}


def test_a_separate_building_needs_electrodes_of_its_own_by_its_feeder():
    # 6 AWG copper feeder: 8 AWG copper electrode conductor.
    found = studied({**BUILDING, "panel.BP.electrodes": ("rod", "rod")})
    assert point(found, "BP").electrode.size == "8 AWG"
    assert point(found, "BP").jumper is None
    assert level(found, "gec", "BP") is Level.PASS


def test_a_separate_building_without_stated_electrodes_is_not_checked():
    assert check(studied(BUILDING), "gec", "BP").needs == ("panel.BP.electrodes",)
    assert level(studied({**BUILDING, "panel.BP.electrodes": ("rod",)}), "electrode_system", "BP") is Level.WARN


def test_a_second_panel_in_the_same_building_needs_no_second_electrode():
    found = studied({**BUILDING, "panel.BP.electrodes": ("rod", "rod"), "isolation.ID.building": "workshop"})
    assert point(found, "BP") is None


# Source of the other reading: Electrical Contractor magazine, October 2007, answer by G. Flach, quoted in Mike Holt Forum,
# https://forums.mikeholt.com/threads/ec-magazine-article.40970: 4 AWG to concrete even for a service in 6 AWG copper.
def test_where_the_table_asks_for_less_than_4_awg_to_concrete_the_other_reading_is_told():
    small = studied({"grounding.electrodes": ("concrete-encased",), "service.conductor": "6 AWG Cu THWN-2"})
    assert level(small, "electrode_limits", "MP") is Level.NOTE
    assert not checks(studied({"grounding.electrodes": ("concrete-encased",)}), "electrode_limits")


def test_a_generator_behind_a_transfer_switch_that_switches_the_neutral_is_separately_derived():
    project = read_project(PROJECTS / "generator.toml")
    assert study(project).sized.grounding.point("G1") is None
    for path, value in (("transfer.T1.switches_neutral", True), ("generator.G1.neutral_bond", True)):
        project = with_value(project, path, value)
    found = study(project).sized.grounding.point("G1")
    assert (found.role.value, found.circuit) == ("source of a separately derived system", "C4")
    assert found.jumper.needed_size == found.electrode.table_size


def test_a_built_in_transfer_that_switches_the_neutral_needs_its_own_electrode_conductor_and_jumper():
    project = read_project(PROJECTS / "built_in_transfer.toml")
    switching = with_value(with_value(project, "equipment.unit-a.switches_neutral", True), "equipment.unit-a.neutral_bond", "island only")
    found = study(with_value(switching, "grounding", {"electrodes": ["rod", "rod"]}))
    assert point(found, "U1").electrode is not None
    assert {one.rule for one in checks(found, "gec", "U1") + checks(found, "main_bonding_jumper", "U1")} == {"gec", "main_bonding_jumper"}
    assert not checks(study(project), "main_bonding_jumper", "U1")
