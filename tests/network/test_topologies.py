"""Each arrangement that linecalc computes, as an invented house, with currents, sizes and verdicts worked by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.codebook import EDITIONS
from linecalc.errors import InputError, RefusedError
from linecalc.network.records import Mode
from linecalc.project.read import read_project
from linecalc.study import Study, study
from linecalc.term import value_of
from linecalc.variants import with_values
from tests.houses import check, checks, circuit, level, studied

PROJECTS = Path(__file__).parents[1] / "projects"


def read(name: str, changes: dict[str, object] | None = None, edition: str | None = None) -> Study:
    project = read_project(PROJECTS / f"{name}.toml")
    return study(with_values(project, (changes or {}).items()) if changes else project, edition)


def amps(found: Study, tag: str, mode: Mode) -> float:
    current = circuit(found, tag).currents.of(mode)
    return value_of(current.continuous) + value_of(current.noncontinuous)


def failing(found: Study) -> list[tuple[str, str]]:
    return [(one.rule, one.subject) for one in found.checks if one.level is Level.FAIL]


def bus(found: Study, tag: str) -> tuple[str, float, float]:
    """The method that decides on a bus, its demand and its limit."""
    one = next(figures for figures in found.sized.buses if figures.tag == tag)
    return one.used.key, value_of(one.used.demand), value_of(one.used.limit)


@pytest.mark.parametrize("name", [path.stem for path in sorted(PROJECTS.glob("*.toml")) if path.stem != "equipment"])
@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_no_topology_fails_anything_but_what_2017_lacks(name: str, edition: str) -> None:
    allowed = {"busbar_120": {"feed_through"}, "busbar_sum": {"feed_through"}} if edition == "2017" else {}
    assert not [found for found in failing(read(name, edition=edition)) if name not in allowed.get(found[0], ())]


# --- units in two panels --------------------------------------------------


def test_units_in_two_panels_export_together_only_where_both_lie_behind() -> None:
    found = read("two_panels")
    assert amps(found, "C5", Mode.EXPORT) == 40.0
    assert amps(found, "C3", Mode.EXPORT) == amps(found, "C1", Mode.EXPORT) == 80.0


def test_in_an_outage_the_unit_of_the_subpanel_feeds_the_main_panel_backwards() -> None:
    found = read("two_panels")
    assert amps(found, "C5", Mode.ISLAND) == 40.0
    assert amps(found, "C3", Mode.ISLAND) == 0.0
    assert circuit(found, "C2").currents.of(Mode.ISLAND) is None


def test_each_of_the_two_buses_counts_the_sources_that_reach_it() -> None:
    found = read("two_panels")
    assert bus(found, "SP") == ("busbar_120", 1.25 * 40 + 100, 1.2 * 125)
    assert bus(found, "MP") == ("busbar_120", 1.25 * 80 + 150, 1.2 * 225)


# --- AC-coupled PV inverter beside a unit ---------------------------------


def test_the_generation_panel_carries_unit_and_inverter_together() -> None:
    found = read("ac_coupled")
    assert amps(found, "C4", Mode.EXPORT) == 40.0 + 21.0
    assert circuit(found, "C4").conductor.size == "4 AWG"  # T1: 76.25 A, 6 AWG at 75 degC has 65 A
    assert bus(found, "GP") == ("busbar_all_breakers", 80.0, 125.0)


def test_pv_is_never_counted_as_firm_power_though_it_runs_in_an_outage() -> None:
    found = read("ac_coupled")
    assert (amps(found, "C6", Mode.ISLAND), amps(found, "C4", Mode.ISLAND)) == (21.0, 61.0)
    assert value_of(check(found, "standby_capacity", "system").limit) == 40 * 240


# --- feeder and sub-panel chain -------------------------------------------


def test_every_bus_of_a_chain_is_checked_against_its_own_device() -> None:
    found = read("chain")
    assert bus(found, "SP2") == ("busbar_120", 50 + 100, 1.2 * 125)
    assert bus(found, "SP1") == ("busbar_120", 50 + 125, 1.2 * 150)
    assert bus(found, "MP") == ("busbar_120", 50 + 200, 1.2 * 225)


def test_one_bus_of_a_chain_that_is_too_small_fails_alone() -> None:
    found = read("chain", {"panel.SP1.bus": "125 A"})
    assert failing(found) == [("busbar_120", "SP1")]


# --- generator with transfer switch ---------------------------------------


def test_a_generator_carries_the_load_behind_its_switch_and_nothing_in_other_modes() -> None:
    found = read("generator")
    modes = circuit(found, "C4").currents.modes
    assert [mode for mode, _ in modes] == [Mode.ISLAND]
    assert amps(found, "C4", Mode.ISLAND) == 60.0
    assert circuit(found, "C4").device.where == "G1"
    assert circuit(found, "C4").conductor.size == "3 AWG"  # 100 A at 75 degC


def test_a_generator_adds_nothing_to_any_bus() -> None:
    found = read("generator")
    assert [tag for one in found.sized.buses for tag, _ in one.sources] == ["U1"]


def test_a_generator_never_meets_a_source() -> None:
    assert level(read("generator"), "standby_transfer", "T1") is Level.PASS
    meeting = read("generator", {"circuit.C5.from": "EP"})
    assert level(meeting, "standby_transfer", "T1") is Level.FAIL
    assert "would meet U1" in check(meeting, "standby_transfer", "T1").message


def test_automatic_transfer_needs_a_generator_for_the_whole_load_and_manual_one_does_not() -> None:
    assert value_of(check(read("generator"), "standby_capacity.generator", "G1").demand) == 60 * 240
    assert level(read("generator", {"generator.G1.power": "14 kVA"}), "standby_capacity.generator", "G1") is Level.FAIL
    assert level(read("generator", {"generator.G1.power": "14.4 kVA"}), "standby_capacity.generator", "G1") is Level.PASS
    by_hand = read("generator", {"transfer.T1.start": "manual", "generator.G1.power": "5 kVA"})
    assert level(by_hand, "standby_capacity_manual", "G1") is Level.NOTE
    unknown = read("generator", {"transfer.T1.start": None})
    assert level(unknown, "standby_capacity.generator", "G1") is Level.NOT_CHECKED


@pytest.mark.parametrize(
    ("switched", "bonded", "rule", "verdict"),
    [
        (False, False, "separately_derived", Level.PASS),
        (True, True, "separately_derived", Level.PASS),
        (False, True, "neutral_for_grounding", Level.FAIL),
        (True, False, "separately_derived", Level.FAIL),
    ],
)
def test_the_bond_of_a_generator_follows_its_switch(switched: bool, bonded: bool, rule: str, verdict: Level) -> None:
    found = read("generator", {"transfer.T1.switches_neutral": switched, "generator.G1.neutral_bond": bonded})
    assert level(found, rule, "G1") is verdict


def test_a_generator_without_a_breaker_needs_conductors_for_115_percent() -> None:
    found = read("generator", {"generator.G1.device": "none", "circuit.C4.conductor": "3 AWG Cu THWN-2"})
    one = check(found, "generator_conductor", "C4")
    assert value_of(one.limit) == pytest.approx(1.15 * 83.3)
    assert one.level is Level.PASS  # 100 A
    small = read("generator", {"generator.G1.device": "none", "circuit.C4.conductor": "4 AWG Cu THWN-2"})
    assert level(small, "generator_conductor", "C4") is Level.FAIL  # 85 A
    by_design = {"generator.G1.device": "none", "generator.G1.overload_protected": True, "circuit.C4.conductor": "4 AWG Cu THWN-2"}
    assert level(read("generator", by_design), "generator_conductor", "C4") is Level.PASS  # 85 >= 83.3


def test_a_transfer_switch_is_rated_for_the_devices_of_both_sides() -> None:
    found = checks(read("generator", {"transfer.T1.rating": "90 A"}), "listed_instructions.transfer", "T1")
    assert [one.level for one in found] == [Level.FAIL, Level.FAIL]


def test_the_load_side_conductors_are_protected_from_the_generator_too() -> None:
    smaller = {"circuit.C2.breaker": "60 A", "circuit.C3.conductor": "6 AWG Cu THWN-2"}
    assert level(read("generator", smaller), "next_size_up", "C3") is Level.FAIL  # 100 A device on 65 A
    assert level(read("generator"), "next_size_up.generator", "C3") is Level.PASS


def test_a_generator_on_a_panel_is_refused() -> None:
    with pytest.raises(RefusedError, match="generator G1 must lead to one transfer switch"):
        read("generator", {"circuit.C4.from": "EP"})


# --- stand-alone ----------------------------------------------------------


def test_stand_alone_there_is_only_the_island() -> None:
    found = read("standalone")
    assert {mode for one in found.sized.circuits for mode, _ in one.currents.modes} == {Mode.ISLAND}
    assert amps(found, "C1", Mode.ISLAND) == 40.0
    assert amps(found, "C3", Mode.ISLAND) == 12.0
    assert found.network.root == found.network.island == "MP"
    assert not found.sized.buses


def test_stand_alone_the_largest_load_decides_and_the_whole_load_is_told() -> None:
    found = read("standalone")
    one = check(found, "standalone_capacity", "system")
    assert (value_of(one.demand), value_of(one.limit)) == (12 * 240, 2 * 40 * 240)
    more = read("standalone", {"load.CABIN.current": "90 A"})
    assert check(more, "standalone_capacity.whole", "system").message.endswith("loads must be chosen by hand")


def test_stand_alone_the_bus_carries_the_devices_of_all_units() -> None:
    found = read("standalone")
    one = check(found, "panel_protection.sources", "MP")
    assert (value_of(one.demand), value_of(one.limit)) == (100.0, 125.0)
    assert level(read("standalone", {"panel.MP.bus": "90 A"}), "panel_protection.sources", "MP") is Level.FAIL


@pytest.mark.parametrize(("bond", "verdict"), [(True, Level.PASS), (False, Level.FAIL), (None, Level.NOT_CHECKED)])
def test_stand_alone_the_neutral_is_bonded_once(bond: bool | None, verdict: Level) -> None:
    assert level(read("standalone", {"panel.MP.neutral_bond": bond}), "separately_derived", "system") is verdict


def test_stand_alone_the_fault_current_is_what_the_sources_give() -> None:
    found = read("standalone")
    assert value_of(found.sized.faults.at("MP").low) == 2 * 2 * 40  # no datasheet value: twice the rated current each


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"isolation": {"ID": {"rating": "100 A"}}}, "there is nothing to separate from"),
        ({"unit": {}, "circuit": {}, "section": {}, "load": {}}, "needs an inverter-battery unit"),
    ],
)
def test_stand_alone_systems_that_are_not_understood_are_refused(changes: dict, reason: str) -> None:
    with pytest.raises(RefusedError, match=reason):
        read("standalone", changes)


# --- unit with built-in transfer ------------------------------------------


def test_the_load_of_the_backup_port_passes_through_the_unit() -> None:
    found = read("built_in_transfer")
    assert amps(found, "C2", Mode.SUPPLY) == amps(found, "C3", Mode.SUPPLY) == 30.0
    assert amps(found, "C2", Mode.CHARGE) == 30.0 + 20.0
    assert amps(found, "C2", Mode.EXPORT) == 40.0
    assert circuit(found, "C2").currents.of(Mode.ISLAND) is None
    assert amps(found, "C3", Mode.ISLAND) == 30.0
    assert found.network.island == "U1"


def test_the_bus_behind_a_backup_port_is_reached_by_what_passes_through_and_by_the_unit() -> None:
    assert [one.tag for one in read("built_in_transfer").sized.buses] == ["BP", "MP"]


def test_the_pass_through_rating_holds_for_the_load_and_for_the_device_ahead() -> None:
    assert level(read("built_in_transfer"), "listed_instructions.pass_through", "U1") is Level.PASS
    small = read("built_in_transfer", {"equipment.unit-a.pass_through": "25 A"})
    assert level(small, "listed_instructions.pass_through", "U1") is Level.FAIL
    assert level(small, "listed_instructions.pass_through_device", "U1") is Level.FAIL
    unknown = read("built_in_transfer", {"equipment.unit-a.pass_through": None})
    assert level(unknown, "listed_instructions.pass_through", "U1") is Level.NOT_CHECKED


def test_a_second_circuit_without_ports_is_refused_by_name() -> None:
    with pytest.raises(RefusedError, match="U1 has 2 AC circuits"):
        read("built_in_transfer", {"circuit.C3.port": None})


def test_a_port_on_the_wrong_side_is_an_error() -> None:
    with pytest.raises(InputError, match="is no unit"):
        read("built_in_transfer", {"circuit.C2.port": "backup", "circuit.C3.port": "grid"})


def test_two_units_with_backup_ports_are_refused() -> None:
    second = {
        "unit.U2": {"equipment": "unit-a"},
        "panel.BP2": {"bus": "125 A", "main": "lugs"},
        "circuit.C4": {"from": "MP", "to": "U2", "breaker": "60 A", "port": "grid", "length": "10 ft"},
        "circuit.C5": {"from": "U2", "to": "BP2", "port": "backup", "length": "10 ft"},
    }
    with pytest.raises(RefusedError, match="more than one unit with a backup port"):
        read("built_in_transfer", second)


# --- isolation device in the meter socket ---------------------------------


def test_conductors_on_both_sides_of_the_meter_socket_are_service_conductors() -> None:
    found = read("meter_socket")
    for tag in ("C1", "C2"):
        assert circuit(found, tag).device.where == "MP"
        assert circuit(found, tag).device.load_end
        assert circuit(found, tag).egc is None
    assert level(found, "service_grounding", "MP") is Level.PASS
    assert level(found, "meter_socket_equipment", "ID") is Level.WARN


def test_a_meter_socket_device_smaller_than_the_service_disconnect_fails() -> None:
    assert level(read("meter_socket", {"isolation.ID.rating": "150 A"}), "listed_instructions.rating", "ID") is Level.FAIL


# --- meter-main with feed-through lugs -------------------------------------


def test_feed_through_conductors_carry_the_main_and_the_sources_together() -> None:
    found = read("feed_through")
    assert bus(found, "MM") == ("busbar_feed_through", 200 + 50, 285.0)  # 300 kcmil Cu at 75 degC
    small = read("feed_through", {"circuit.C2.conductor": "4/0 AWG Cu THWN-2"})
    assert ("busbar_feed_through", "MM") in failing(small) or ("busbar_120", "MM") in failing(small) or ("busbar_sum", "MM") in failing(small)


def test_2017_has_no_feed_through_method() -> None:
    keys = {method.key for one in read("feed_through", edition="2017").sized.buses for method in one.methods}
    assert "busbar_feed_through" not in keys


# --- detached building ----------------------------------------------------


def test_a_detached_building_has_its_disconnect_and_four_wires() -> None:
    found = read("detached")
    assert level(found, "building_disconnect", "GP") is Level.PASS
    assert level(found, "building_disconnect_rating", "GP") is Level.PASS
    assert level(found, "separate_building.conductor", "C2") is Level.PASS


def test_main_lugs_in_a_detached_building_disconnect_nothing() -> None:
    assert level(read("detached", {"panel.GP.main": "lugs"}), "building_disconnect", "GP") is Level.FAIL


def test_a_disconnect_below_60_a_in_a_detached_building_is_a_warning() -> None:
    found = read("detached", {"panel.GP.main": "50 A"})
    assert level(found, "building_disconnect_rating", "GP") is Level.WARN


def test_a_feeder_without_grounding_conductor_to_a_building_fails() -> None:
    assert level(read("detached", {"circuit.C2.egc": "none"}), "separate_building.conductor", "C2") is Level.FAIL


def test_a_neutral_bond_in_a_detached_building_fails() -> None:
    assert level(read("detached", {"panel.GP.neutral_bond": True}), "separate_building.conductor", "GP") is Level.FAIL


GARAGE_CIRCUIT = {
    "load.DOOR": {"panel": "MP", "kind": "fixed appliance", "voltage": "240 V", "power": "2 kVA", "building": "garage"},
    "circuit.C9": {"from": "MP", "to": "DOOR", "path": ["R2"], "breaker": "20 A", "conductor": "12 AWG Cu THWN-2"},
}


@pytest.mark.parametrize("edition", EDITIONS)
def test_one_feeder_to_a_detached_building_is_its_only_supply(edition: str) -> None:
    assert level(read("detached", edition=edition), "building_supplies", "C2") is Level.PASS


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_branch_circuit_beside_the_feeder_of_a_detached_building_fails(edition: str) -> None:
    found = check(read("detached", GARAGE_CIRCUIT, edition), "building_supplies")
    assert found.level is Level.FAIL and "C2" in found.message and "C9" in found.message


# Source: EC&M, Structures Supplied by Other Than a Service, Part 2, 7 June 2013: 225.30(A) lets feeders of
# parallel power production systems come beside the one supply, http://ecmweb.com/ops-amp-maintenance/structures-supplied-other-service-part-2
def test_the_circuit_of_a_source_may_come_beside_the_feeder() -> None:
    found = check(read("detached", {"circuit.C3.from": "MP"}), "building_supplies")
    assert found.level is Level.PASS and "C3 may come beside" in found.message


def test_a_building_that_several_circuits_reach_has_a_plaque_at_each_disconnect() -> None:
    assert level(read("detached", {"circuit.C3.from": "MP"}), "building_directory") is Level.NOTE
    assert not [one for one in read("detached").checks if one.rule == "building_directory"]


def test_a_building_with_two_sources_alone_is_supplied_by_one_circuit_with_the_other_beside_it() -> None:
    units = {
        "panel.GP.building": None,
        "circuit.C3.from": "MP",
        "unit.U2": {"equipment": "unit-a", "building": "garage"},
        "circuit.C9": {"from": "MP", "to": "U2", "path": ["R3"], "breaker": "50 A", "insulation": "THWN-2", "material": "Cu"},
    }
    found = check(read("detached", units), "building_supplies")
    assert found.level is Level.PASS and found.message.count("may come beside") == 1


# Source: Electrical License Renewal, 225.30(B) Common Supply Equipment, new in 2020: up to six feeders from one panel,
# each ending in one disconnect, https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=838
@pytest.mark.parametrize(("edition", "verdict"), [("2017", Level.FAIL), ("2020", Level.WARN), ("2023", Level.WARN)])
def test_two_feeders_from_one_panel_need_grouped_disconnects_from_2020(edition: str, verdict: Level) -> None:
    second = {
        "panel.GP2": {"bus": "125 A", "main": "60 A", "feed": "top", "terminals": "75 degC", "building": "garage", "neutral_bond": False},
        "load.SHOP": {"panel": "GP2", "kind": "calculated", "current": "20 A", "continuous_part": "0 A", "unbalance": "5 A", "power_factor": 0.9},
        "circuit.C9": {"from": "MP", "to": "GP2", "path": ["R2"], "breaker": "60 A", "conductor": "6 AWG Cu THWN-2"},
    }
    assert level(read("detached", second, edition), "building_supplies") is verdict
    lugs = {**second, "panel.GP2": {**second["panel.GP2"], "main": "lugs"}}
    assert level(read("detached", lugs, edition), "building_supplies") is Level.FAIL


def test_the_dwelling_behind_another_building_needs_a_disconnect_of_100_a() -> None:
    moved = {"panel.MP.building": "barn", "panel.GP.building": None, "unit.U1.building": None}
    assert level(read("detached", moved), "building_disconnect_rating", "GP") is Level.PASS
    assert level(read("detached", {**moved, "panel.GP.main": "60 A"}), "building_disconnect_rating", "GP") is Level.FAIL


def test_one_circuit_to_a_thing_in_another_building_asks_for_its_disconnect() -> None:
    found = read("detached", {"unit.U1.building": "shed"})
    assert level(found, "building_disconnect", "C3") is Level.NOT_CHECKED


# --- refused ----------------------------------------------------------------


def test_main_lugs_at_the_service_with_several_breakers_are_refused() -> None:
    with pytest.raises(RefusedError, match="several service disconnects on one bus are not computed"):
        studied({"panel.MP.main": "lugs"})


def test_two_isolation_devices_are_refused() -> None:
    second = {"isolation.ID2": {"rating": "100 A"}, "circuit.C9": {"from": "MP", "to": "ID2", "length": "5 ft"}}
    with pytest.raises(RefusedError, match="more than one isolation device"):
        studied(second)


def test_an_isolation_device_beside_a_built_in_transfer_is_refused() -> None:
    second = {"isolation.ID": {"rating": "100 A"}, "circuit.C9": {"from": "MP", "to": "ID", "length": "5 ft"}}
    with pytest.raises(RefusedError, match="both the isolation device ID and the built-in transfer of U1"):
        read("built_in_transfer", second)


def test_a_generator_in_a_stand_alone_system_is_refused() -> None:
    changes = {
        "generator.G1": {"power": "10 kVA", "current": "41.7 A"},
        "transfer.T1": {"rating": "100 A"},
        "circuit.C8": {"from": "MP", "to": "T1", "length": "5 ft"},
        "circuit.C9": {"from": "T1", "to": "G1", "length": "5 ft"},
    }
    with pytest.raises(RefusedError, match="it meets the units there"):
        read("standalone", changes)


def test_a_transfer_switch_without_a_generator_is_refused() -> None:
    with pytest.raises(RefusedError, match="transfer switch T1 has 0 generators"):
        read("generator", {"generator": {}, "circuit.C4": None, "section.R4": None})


def test_a_transfer_switch_with_two_generators_is_refused() -> None:
    second = {"generator.G2": {"power": "10 kVA", "current": "41.7 A"}, "circuit.C9": {"from": "T1", "to": "G2", "length": "5 ft"}}
    with pytest.raises(RefusedError, match="transfer switch T1 has 2 generators"):
        read("generator", second)


def test_an_inverter_with_two_circuits_is_refused() -> None:
    with pytest.raises(RefusedError, match="I1 has 2 AC circuits"):
        read("ac_coupled", {"circuit.C9": {"from": "I1", "to": "J9", "length": "5 ft"}, "junction.J9": {}})


def test_stand_alone_units_that_no_panel_joins_are_refused() -> None:
    apart = {"panel.P2": {"bus": "100 A", "main": "lugs"}, "circuit.C2.from": "P2"}
    with pytest.raises(RefusedError, match="needs a panel that every unit leads to"):
        read("standalone", apart)


def test_a_load_on_a_generation_panel_is_an_error() -> None:
    with pytest.raises(InputError, match=r"panel\.GP\.generation: GP is said to be for generation alone, but X hangs on it"):
        read("ac_coupled", {"load.X": {"panel": "GP", "kind": "calculated", "current": "10 A", "continuous_part": "0 A"}})
    below = {"panel.SP": {"bus": "100 A", "main": "lugs"}, "circuit.C9": {"from": "GP", "to": "SP", "path": ["R6"], "breaker": "30 A"}}
    with pytest.raises(InputError, match="but SP hangs on it"):
        read("ac_coupled", below)


def test_a_source_on_an_isolation_device_ahead_of_the_service_disconnect_is_refused() -> None:
    with pytest.raises(RefusedError, match="C3 joins a source to the isolation device ID ahead of the service disconnect"):
        read("meter_socket", {"circuit.C3.from": "ID", "circuit.C3.breaker": None})
    with_main = {"circuit.C3.from": "ID", "isolation.ID.main": "200 A", "isolation.ID.internal_bus": "yes"}
    assert check(read("meter_socket", with_main), "busbar_sum", "ID").level is Level.FAIL  # 200 + 50 A on 200 A


# Hand: the generator's 100 A device feeds what lies behind the switch too: 60 A bus, 6 AWG (65 A), 8 AWG grounding conductor.
def test_the_larger_device_of_utility_and_generator_protects_what_lies_behind_the_switch() -> None:
    small = {"circuit.C2.breaker": "60 A", "panel.EP.bus": "60 A"}
    found = read("generator", small)
    assert level(found, "panel_protection", "EP") is Level.FAIL
    assert (circuit(found, "C3").conductor.size, circuit(found, "C3").egc.size) == ("3 AWG", "8 AWG")
    assert (circuit(found, "C2").conductor.size, circuit(found, "C2").egc.size) == ("6 AWG", "10 AWG")
    beyond = {"junction.J": {"terminals": "75 degC"}, "circuit.C3.to": "J", "circuit.C9": {"from": "J", "to": "EP", "path": ["R2"], "conductor": "6 AWG Cu THWN-2"}}
    assert level(read("generator", {**small, **beyond}), "next_size_up", "C9") is Level.FAIL


# Hand: without its breaker the unit's circuit has no known device on GP: 30 A alone is no sum.
def test_a_bus_with_a_circuit_without_a_device_does_not_pass_by_the_sum_of_its_breakers() -> None:
    found = read("ac_coupled", {"circuit.C5.breaker": "none"})
    assert bus(found, "GP") == ("busbar_sum", 80 + 76.25, 125.0)


@pytest.mark.parametrize(("name", "circuit_tag", "where"), [("ac_coupled", "C1", "the service"), ("meter_socket", "C2", "ID")])
def test_a_breaker_ahead_of_the_service_disconnect_is_an_error(name: str, circuit_tag: str, where: str) -> None:
    with pytest.raises(InputError, match=f"circuit.{circuit_tag}.breaker: a breaker at {where} would be a service disconnect"):
        read(name, {f"circuit.{circuit_tag}.breaker": "150 A"})


def test_what_only_conductors_of_strings_join_to_the_service_is_an_error() -> None:
    strings = {
        "junction.JB": {"terminals": "75 degC"},
        "string.S1": {"module": "mod", "count": 10, "to": "U1", "input": 1},
        "circuit.P1": {"from": "S1", "to": "JB", "path": ["R6"]},
        "circuit.P2": {"from": "JB", "to": "U1", "path": ["R6"]},
        "circuit.C6": {"from": "JB", "to": "U2", "path": ["R6"]},
    }
    with pytest.raises(InputError, match=r"unit\.U2: no AC circuits lead from U2 to the service"):
        read("two_panels", strings)
