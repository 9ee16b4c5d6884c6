"""Busbars by every method of each edition, feeder segments, supply-side connections."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.sizing.records import BusVerdict
from linecalc.term import value_of
from tests.houses import SUPPLY_SIDE, check, checks, level, studied


def bus(found, tag: str):
    return next(one for one in found.sized.buses if one.tag == tag)


def method(found, tag: str, key: str):
    return next(one for one in bus(found, tag).methods if one.key == key)


def numbers(one):
    return one.verdict, round(value_of(one.demand), 6), round(value_of(one.limit), 6)


def test_sum_of_sources_and_main():
    # BP: 1.25 x 40 + 60 = 110 <= 125. MP: 50 + 200 = 250 > 225.
    found = studied()
    assert numbers(method(found, "BP", "busbar_sum")) == (BusVerdict.PASS, 110.0, 125.0)
    assert numbers(method(found, "MP", "busbar_sum")) == (BusVerdict.FAIL, 250.0, 225.0)


def test_120_percent_at_opposite_ends():
    # 250 <= 1.2 x 225 = 270; left (270 - 250) / 1.25 = 16 A, a 20 A breaker.
    found = studied()
    assert numbers(method(found, "MP", "busbar_120")) == (BusVerdict.PASS, 250.0, 270.0)
    assert (bus(found, "MP").used.key, value_of(bus(found, "MP").left_a)) == ("busbar_120", 16.0)
    assert bus(found, "MP").largest_breaker_a == 20.0
    assert level(found, "busbar_120", "MP") is Level.PASS


def test_broken_by_every_method_fails_with_the_nearest():
    found = check(studied({"panel.MP.bus": "200 A"}), "busbar_120", "MP")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.FAIL, 250.0, 240.0)


@pytest.mark.parametrize("changes", [{"panel.MP.feed": None}, {"circuit.C2.bus_position": None}, {"circuit.C2.bus_position": "main end"}, {"circuit.C2.bus_position": "middle"}])
def test_120_percent_needs_both_positions_known_and_opposite(changes):
    assert method(studied(changes), "MP", "busbar_120").verdict is BusVerdict.NOT_USABLE
    assert level(studied(changes), "busbar_sum", "MP") is Level.FAIL


def test_sources_count_by_their_current_and_not_by_their_breakers():
    assert value_of(bus(studied({"circuit.C1.breaker": "60 A", "equipment.unit-a.overcurrent_max": "60 A"}), "BP").source_demand) == 50.0


def test_the_island_rating_does_not_count_at_a_bus():
    assert value_of(bus(studied({"equipment.unit-a.ac_current_island": "48 A"}), "MP").source_demand) == 50.0


def test_the_main_panel_counts_every_source_behind_its_feeder_breaker():
    two = {"unit.U2": {"equipment": "unit-a"}, "circuit.C5": {"from": "BP", "to": "U2", "path": ["R2"], "breaker": "50 A", "bus_position": "opposite end"}}
    found = studied(two)
    assert [tag for tag, _ in bus(found, "MP").sources] == ["U1", "U2"]
    assert value_of(bus(found, "MP").source_demand) == 100.0
    assert level(found, "busbar_120", "MP") is Level.FAIL


def test_main_lugs_take_the_feeder_device_as_the_one_that_protects_the_bus():
    found = bus(studied(), "BP")
    assert (value_of(found.protected_by), found.protected_where) == (60.0, "MP")


def test_every_bus_of_a_chain_is_checked():
    chain = {
        "panel.SP": {"bus": "100 A", "main": "lugs", "feed": "top", "terminals": "75 degC", "neutral_bond": False},
        "load.SUB": {"panel": "SP", "kind": "calculated", "current": "10 A", "continuous_part": "0 A", "unbalance": "5 A"},
        "circuit.C5": {"from": "BP", "to": "SP", "path": ["R2"], "breaker": "60 A", "bus_position": "opposite end"},
        "circuit.C1.from": "SP",
    }
    found = studied(chain)
    assert {one.tag for one in found.sized.buses} == {"SP", "BP", "MP"}
    assert numbers(method(found, "SP", "busbar_sum")) == (BusVerdict.FAIL, 110.0, 100.0)
    assert numbers(method(found, "SP", "busbar_120")) == (BusVerdict.PASS, 110.0, 120.0)


def test_a_bus_that_no_source_reaches_is_left_to_its_device():
    plain = {
        "panel.SP": {"bus": "100 A", "main": "lugs", "terminals": "75 degC", "neutral_bond": False},
        "load.SUB": {"panel": "SP", "kind": "calculated", "current": "10 A", "continuous_part": "0 A", "unbalance": "5 A"},
        "circuit.C5": {"from": "MP", "to": "SP", "path": ["R2"], "breaker": "60 A"},
    }
    found = studied(plain)
    assert "SP" not in {one.tag for one in found.sized.buses}
    assert level(found, "panel_protection", "SP") is Level.PASS


GENERATION = {
    "unit.U2": {"equipment": "unit-a"},
    "panel.GP": {"bus": "125 A", "main": "lugs", "generation": True, "terminals": "75 degC", "neutral_bond": False},
    "circuit.C1": {"from": "GP", "to": "U1", "path": ["R2"], "breaker": "50 A"},
    "circuit.C5": {"from": "GP", "to": "U2", "path": ["R2"], "breaker": "50 A"},
    "circuit.C6": {"from": "BP", "to": "GP", "path": ["R4"], "breaker": "100 A", "bus_position": "opposite end"},
}


def test_a_generation_panel_passes_by_the_sum_of_its_devices():
    # 1.25 x 80 + 100 = 200 > 125; 50 + 50 = 100 <= 125; left 25 A of devices, 20 A of current, a 25 A breaker.
    found = studied(GENERATION)
    assert numbers(method(found, "GP", "busbar_sum")) == (BusVerdict.FAIL, 200.0, 125.0)
    assert numbers(method(found, "GP", "busbar_all_breakers")) == (BusVerdict.PASS, 100.0, 125.0)
    assert (value_of(bus(found, "GP").left_a), bus(found, "GP").largest_breaker_a) == (20.0, 25.0)


def test_sum_of_devices_needs_every_device_known():
    assert method(studied({**GENERATION, "panel.GP.generation": False}), "GP", "busbar_all_breakers").verdict is BusVerdict.NOT_USABLE
    named = method(studied({"panel.BP.other_breakers": ["20 A", "15 A"]}), "BP", "busbar_all_breakers")
    assert numbers(named) == (BusVerdict.PASS, 85.0, 125.0)


def test_a_panel_whose_loads_nobody_lists_does_not_pass_by_the_sum_of_devices():
    found = studied({"load.HOUSE": None, "panel.MP.feed": None})
    assert method(found, "MP", "busbar_all_breakers").verdict is BusVerdict.NOT_USABLE


def test_center_fed_panels_of_dwellings():
    center = {"panel.MP.feed": "center"}
    assert numbers(method(studied(center), "MP", "busbar_center_fed")) == (BusVerdict.PASS, 250.0, 270.0)
    assert method(studied({**center, "circuit.C2.bus_position": "middle"}), "MP", "busbar_center_fed").verdict is BusVerdict.NOT_USABLE
    assert method(studied(), "MP", "busbar_center_fed").verdict is BusVerdict.NOT_USABLE


def test_center_fed_with_sources_at_both_ends_is_not_usable():
    both = {
        "panel.MP.feed": "center",
        "unit.U2": {"equipment": "unit-a"},
        "circuit.C5": {"from": "MP", "to": "U2", "path": ["R2"], "breaker": "50 A", "bus_position": "main end"},
    }
    assert method(studied(both), "MP", "busbar_center_fed").verdict is BusVerdict.NOT_USABLE


@pytest.mark.parametrize(("edition", "keys"), [
    ("2017", {"busbar_sum", "busbar_120", "busbar_all_breakers", "busbar_center_fed", "busbar_engineering"}),
    ("2020", {"busbar_sum", "busbar_120", "busbar_all_breakers", "busbar_center_fed", "busbar_engineering", "busbar_feed_through"}),
    ("2023", {"busbar_sum", "busbar_120", "busbar_all_breakers", "busbar_center_fed", "busbar_engineering", "busbar_feed_through"}),
])
def test_the_methods_of_each_edition(edition, keys):
    assert {one.key for one in bus(studied(edition=edition), "MP").methods} == keys


@pytest.mark.parametrize(("edition", "section"), [("2017", "705.12(B)(2)(3)(b)"), ("2020", "705.12(B)(3)(2)"), ("2023", "705.12(B)(2)")])
def test_the_method_is_cited_by_the_section_of_the_edition(edition, section):
    assert check(studied(edition=edition), "busbar_120", "MP").citation == section


def test_an_isolation_device_with_a_bus_is_a_bus_and_120_percent_is_not_usable_in_it():
    found = studied({"isolation.ID.internal_bus": "yes", "isolation.ID.rating": "125 A"})
    assert numbers(method(found, "ID", "busbar_sum")) == (BusVerdict.PASS, 110.0, 125.0)
    assert method(found, "ID", "busbar_120").verdict is BusVerdict.NOT_USABLE


@pytest.mark.parametrize("stated", [None, "unknown"])
def test_an_isolation_device_that_may_have_a_bus_is_not_checked(stated):
    found = check(studied({"isolation.ID.internal_bus": stated}), "busbar_sum", "ID")
    assert found.level is Level.NOT_CHECKED and found.needs == ("isolation.ID.internal_bus",)


def test_a_bus_with_nothing_known_to_protect_it_is_not_checked():
    assert level(studied({"circuit.C2.breaker": "none"}), "busbar_sum", "BP") is Level.NOT_CHECKED


def test_the_methods_not_used_are_told_with_their_reason():
    found = check(studied(), "busbar_sum.other", "MP")
    assert found.level is Level.NOTE
    assert "does not pass, 250 A against 225 A" in found.message
    assert "not center-fed" in found.message


INVERTER = {"kind": "inverter", "ac_power": "3.8 kW", "ac_current": "16 A", "overcurrent_max": "20 A", "terminals": "75 degC"}
JOINED = {
    "junction.J": {"terminals": "75 degC"},
    "equipment.inv": INVERTER,
    "inverter.I1": {"equipment": "inv"},
    "circuit.C2": {"from": "MP", "to": "J", "path": ["R3"], "breaker": "60 A", "bus_position": "opposite end"},
    "circuit.C6": {"from": "J", "to": "ID", "path": ["R4"], "conductor": "4 AWG Cu THWN-2"},
    "circuit.C5": {"from": "J", "to": "I1", "path": ["R2"], "breaker": "20 A"},
}


def test_a_feeder_segment_beyond_a_connection_carries_the_device_and_the_sources():
    # 60 + 1.25 x 16 = 80 A; 4 AWG at 75: 85 A; R4 also holds C3, four conductors: 95 x 0.8 = 76 A.
    apart = {**JOINED, "circuit.C6.path": ["R6"], "section.R6": {"method": "EMT", "place": "garage", "moisture": "dry", "ambient": "30 degC", "length": "10 ft"}}
    found = check(studied(apart), "feeder_connection", "C6")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 85.0, 80.0)
    small = check(studied({**apart, "circuit.C6.conductor": "6 AWG Cu THWN-2"}), "feeder_connection", "C6")
    assert (small.level, value_of(small.demand)) == (Level.FAIL, 65.0)
    assert studied({**apart, "circuit.C6.conductor": None}).sized.circuit("C6").conductor.size == "4 AWG"


def test_a_source_that_joins_the_feeder_of_a_bus_with_lugs_counts_on_that_bus():
    # BP has lugs, protected by the 60 A breaker in MP: 1.25 x (40 + 16) + 60 = 130 A on a 125 A bus;
    # one source comes in with the supply, so the two do not stand at opposite ends.
    found = check(studied(JOINED), "busbar_sum", "BP")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.FAIL, 130.0, 125.0)
    # With a main of its own, what joins upstream is held back by that main.
    own = check(studied({**JOINED, "panel.BP.main": "60 A"}), "busbar_sum", "BP")
    assert value_of(own.demand) == 110.0


def test_the_segment_upstream_of_the_connection_has_no_such_demand():
    assert checks(studied(JOINED), "feeder_connection", "C2") == []


def test_a_device_at_the_connection_ends_the_segment():
    assert checks(studied({**JOINED, "circuit.C6.breaker": "60 A"}), "feeder_connection", "C6") == []


def test_an_unknown_ampacity_of_a_segment_is_not_checked():
    found = studied({**JOINED, "section.R4.ambient": None, "section.R4.place": "attic"})
    assert level(found, "feeder_connection", "C6") is Level.NOT_CHECKED


def test_a_lug_through_isolation_device_where_a_source_joins_is_a_junction_of_a_feeder():
    # The unit joins at ID, beside the feeder to BP: 60 + 50 = 110 A beyond it.
    found = check(studied({"circuit.C1": {"from": "ID", "to": "U1", "path": ["R2"], "breaker": "50 A"}}), "feeder_connection", "C3")
    assert (found.level, value_of(found.limit)) == (Level.FAIL, 110.0)


def test_supply_side_2020_and_2023_currents_against_the_service_conductors_after_factors():
    # 40 A against 2/0 at 30 degC: 195 A; at 50 degC 159.9 A, not the 83 % rating.
    for edition in ("2020", "2023"):
        found = check(studied(base=SUPPLY_SIDE, edition=edition), "supply_side", "J")
        assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 40.0, 195.0)
    hot = check(studied({"section.R5.ambient": "50 degC"}, SUPPLY_SIDE), "supply_side", "J")
    assert value_of(hot.limit) == pytest.approx(159.9)


def test_supply_side_2017_devices_against_the_service_rating():
    found = check(studied(base=SUPPLY_SIDE, edition="2017"), "supply_side", "J")
    assert (found.level, value_of(found.demand), value_of(found.limit)) == (Level.PASS, 50.0, 200.0)
    assert level(studied({"service.rating": "40 A"}, SUPPLY_SIDE, "2017"), "supply_side", "J") is Level.FAIL


def test_supply_side_2017_takes_the_unit_breakers_where_the_disconnect_has_none():
    bare = {"disconnect.D.device": "none", "disconnect.D.device_kind": None, "circuit.C1.breaker": "50 A"}
    found = check(studied(bare, SUPPLY_SIDE, "2017"), "supply_side", "J")
    assert value_of(found.demand) == 50.0


def test_supply_side_sums_every_source_on_the_service():
    # U2 on a breaker of the main panel counts as well: 80 A.
    two = {"unit.U2": {"equipment": "unit-a"}, "circuit.C5": {"from": "MP", "to": "U2", "path": ["R2"], "breaker": "50 A", "bus_position": "opposite end"}}
    found = studied(two, SUPPLY_SIDE)
    assert value_of(check(found, "supply_side", "J").demand) == 80.0
    # The panel with the load-side unit is not itself a supply-side source connection.
    assert found.sized.supply_side.circuits == ("C2",)


def test_supply_side_above_the_conductors_fails_and_unknown_conductors_are_not_checked():
    big = {"equipment.unit-a.ac_current": "200 A", "equipment.unit-a.overcurrent_max": "300 A"}
    assert level(studied(big, SUPPLY_SIDE), "supply_side", "J") is Level.FAIL
    assert level(studied({"section.R5.ambient": None, "section.R5.place": "roof"}, SUPPLY_SIDE), "supply_side", "J") is Level.NOT_CHECKED


def test_a_supply_side_disconnect_below_60_amperes_warns():
    assert level(studied(base=SUPPLY_SIDE), "service_disconnect_rating", "D") is Level.PASS
    assert level(studied({"disconnect.D.rating": "50 A"}, SUPPLY_SIDE), "service_disconnect_rating", "D") is Level.WARN


def test_a_supply_side_connection_without_a_disconnect_fails():
    bare = {"circuit.C2": None, "disconnect.D": None, "section.R3": None, "circuit.C1": {"from": "J", "to": "U1", "path": ["R2"]}}
    assert level(studied(bare, SUPPLY_SIDE), "source_disconnect", "C1") is Level.FAIL


def test_a_source_disconnect_that_also_serves_loads_warns():
    loads = {
        "panel.BP": {"bus": "125 A", "main": "lugs", "terminals": "75 degC", "neutral_bond": False},
        "panel.SP": {"bus": "125 A", "main": "lugs", "terminals": "75 degC", "neutral_bond": False},
        "load.SUB": {"panel": "SP", "kind": "appliance", "voltage": "240 V", "current": "10 A"},
        "load.SPA": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "10 A"},
        "circuit.C7": {"from": "MP", "to": "SP", "path": ["R4"], "breaker": "60 A"},
        "circuit.C1": {"from": "BP", "to": "U1", "path": ["R2"], "breaker": "50 A"},
        "circuit.C6": {"from": "D", "to": "BP", "path": ["R2"]},
    }
    assert level(studied(loads, SUPPLY_SIDE), "service_disconnects", "D") is Level.WARN
    assert checks(studied(base=SUPPLY_SIDE), "service_disconnects", "D") == []


def test_the_utility_limit_is_a_warning():
    assert checks(studied(), "utility_limit.power") == []
    assert level(studied({"service.export_limit": "9.6 kW"}), "utility_limit.power", "system") is Level.PASS
    assert level(studied({"service.export_limit": "9 kW"}), "utility_limit.power", "system") is Level.WARN
