"""Article 220 over the network: which loads a bus carries, which methods are lawful, what the feeders get."""

from __future__ import annotations

import pytest

from linecalc.network.dwelling_records import LoadMethod
from linecalc.network.records import Mode
from tests.dwellings import bus, counted, currents, method, project

RANGE = {"kind": "range", "power": "12 kVA"}
DRYER = {"kind": "dryer", "power": "5 kVA"}
EV = {"kind": "ev", "power": "9.6 kVA", "voltage": "240 V"}
AC = {"kind": "motor-compressor", "rla": "16 A", "fan": "4 A"}
HEAT = {"kind": "heat", "power": "9 kVA"}
SUBPANEL = {
    "panel": {"SP": {"bus": "125 A", "main": "lugs"}},
    "circuit": {"C2": {"from": "MP", "to": "SP", "breaker": "60 A", "length": "20 ft"}},
}
PV = {
    "equipment": {"inv": {"kind": "inverter", "ac_power": "5 kW", "ac_current": "21 A"}},
    "inverter": {"I1": {"equipment": "inv"}},
    "circuit": {"C3": {"from": "MP", "to": "I1", "breaker": "30 A", "length": "20 ft"}},
}
MEASURED = {"measured_demand": "60 A", "measured_period": "1 year", "measured_source": "utility record (invented)"}


def test_the_service_and_everything_that_carries_the_same_loads_share_one_calculation() -> None:
    found = bus({"RANGE": RANGE}, tag="service")
    assert found.nodes == ("MP", "service") and found.whole


def test_the_walk_takes_the_calculated_load_with_the_ev_share_apart_and_the_neutral() -> None:
    found = currents(project({"RANGE": RANGE, "EV": EV}))
    load = found.dwelling.at("MP")
    supply = found.by_circuit["C1"].of(Mode.SUPPLY)
    assert float(supply.continuous) == 40.0
    assert float(supply.continuous) + float(supply.noncontinuous) == float(load.used.current_a)
    assert float(supply.neutral) == float(load.neutral.current_a)


def test_only_sources_and_charging_add_to_a_calculated_load() -> None:
    with_pv = currents(project({"RANGE": RANGE}, PV)).by_circuit["C1"]
    without = currents(project({"RANGE": RANGE})).by_circuit["C1"]
    assert float(with_pv.of(Mode.SUPPLY).noncontinuous) == float(without.of(Mode.SUPPLY).noncontinuous)
    assert float(with_pv.of(Mode.EXPORT).continuous) == 21.0


def test_demands_do_not_add_each_bus_is_computed_anew() -> None:
    loads = {"R1": {**RANGE, "panel": "SP"}, "R2": RANGE}
    share = {"SP": {"floor_area": "0 ft2"}}
    main = bus(loads, more=SUBPANEL, share=share, methods=["standard"])
    sub = bus(loads, tag="SP", more=SUBPANEL, share=share, methods=["standard"])
    assert counted(sub.used, "R1") == 8000.0
    assert counted(main.used, "R1") == 11000.0


def test_a_part_of_the_dwelling_goes_by_part_iii_though_the_optional_method_was_asked_for() -> None:
    found = bus({"R1": {**RANGE, "panel": "SP"}}, tag="SP", more=SUBPANEL, share={"SP": {"floor_area": "0 ft2"}}, methods=["optional"])
    assert not found.whole
    assert found.used.method is LoadMethod.STANDARD
    assert "whole" in found.of(LoadMethod.OPTIONAL).why


def test_a_share_says_what_of_the_general_load_hangs_on_a_panel() -> None:
    share = {"SP": {"floor_area": "400 ft2", "small_appliance_circuits": 1}}
    sub = bus({}, tag="SP", more=SUBPANEL, share=share)
    assert sum(float(line.connected_va) for line in sub.used.lines if line.counted_va is None) == 1200.0 + 1500.0


def test_without_a_share_a_panel_carries_all_of_the_general_load_and_that_is_said() -> None:
    found = currents(project({}, SUBPANEL))
    sub = found.dwelling.at("SP")
    assert counted(sub.used, "these together") == pytest.approx(5100.0)
    assert any(item.path == "dwelling.share.SP" for item in found.assumptions)


def test_what_shares_elsewhere_claim_is_not_counted_again_where_none_is_stated() -> None:
    more = {
        "panel": {**SUBPANEL["panel"], "SQ": {"bus": "125 A", "main": "lugs"}},
        "circuit": {**SUBPANEL["circuit"], "C4": {"from": "MP", "to": "SQ", "breaker": "60 A", "length": "20 ft"}},
    }
    sub = bus({}, tag="SP", more=more, share={"SQ": {"floor_area": "500 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1}})
    lines = {line.text: float(line.connected_va) for line in sub.used.lines if line.counted_va is None}
    assert list(lines.values()) == [3000.0]


def test_a_stated_total_downstream_stands_for_its_panel_and_is_added_as_it_is_upstream() -> None:
    loads = {"SUB": {"panel": "SP", "kind": "calculated", "current": "30 A", "continuous_part": "10 A", "unbalance": "12 A"}, "RANGE": RANGE}
    found = currents(project(loads, SUBPANEL, share={"SP": {"floor_area": "500 ft2"}}))
    assert found.dwelling.at("SP") is None
    load = found.dwelling.at("MP")
    assert [float(line.counted_va) for line in load.used.lines if "stated" in line.text] == [7200.0]
    assert load.used.method is LoadMethod.STANDARD
    assert "does not come apart" in load.of(LoadMethod.OPTIONAL).why
    supply = found.by_circuit["C1"].of(Mode.SUPPLY)
    assert float(supply.continuous) == 10.0
    lighting = next(line for line in load.used.lines if "lighting" in line.text)
    assert float(lighting.connected_va) == 3000.0


def test_a_load_inside_a_stated_total_is_not_counted_again() -> None:
    loads = {
        "SUB": {"panel": "SP", "kind": "calculated", "current": "30 A", "continuous_part": "0 A", "unbalance": "12 A"},
        "EV": {**EV, "panel": "SP"},
    }
    load = bus(loads, more=SUBPANEL)
    assert [item.tag for item in load.items] == []


def test_a_stated_total_of_the_main_panel_leaves_nothing_to_compute() -> None:
    loads = {"HOUSE": {"kind": "calculated", "current": "90 A", "continuous_part": "0 A", "unbalance": "20 A"}, "EV": EV}
    assert currents(project(loads)).dwelling.buses == ()


def test_without_a_dwelling_table_nothing_is_computed() -> None:
    found = project({"RANGE": RANGE})
    bare = found.model_copy(update={"dwelling": None})
    assert currents(bare).dwelling.buses == ()


def test_the_lowest_lawful_method_decides_and_the_others_say_why_they_give_more() -> None:
    found = bus({"RANGE": RANGE, "DRYER": DRYER, "HEAT": HEAT})
    usable = [one for one in found.methods if one.current_a is not None]
    assert len(usable) == 2
    assert found.used is min(usable, key=lambda one: float(one.current_a))
    other = next(one for one in usable if one is not found.used)
    assert f"{float(other.current_a) - float(found.used.current_a):g} A more" in other.why


def test_only_the_methods_asked_for_are_printed() -> None:
    assert [one.method for one in bus({"RANGE": RANGE}, methods=["standard"]).methods] == [LoadMethod.STANDARD]


@pytest.mark.parametrize(("rating", "usable"), [("100 A", True), ("99 A", False)])
def test_the_optional_method_asks_for_conductors_of_100_amperes(rating: str, usable: bool) -> None:
    found = bus({"RANGE": RANGE}, more={"service": {"voltage": "240 V", "rating": rating}})
    assert (found.of(LoadMethod.OPTIONAL).current_a is not None) is usable


@pytest.mark.parametrize(
    ("edition", "period", "usable"),
    [
        ("2017", "1 year", False),
        ("2020", "1 year", False),
        ("2020", "30 days", False),
        ("2023", "1 year", True),
        ("2023", "30 days", False),
    ],
)
def test_measured_demand_where_pv_serves_the_house_by_edition(edition: str, period: str, usable: bool) -> None:
    found = bus({"EV": EV}, edition, more=PV, **{**MEASURED, "measured_period": period}).of(LoadMethod.MEASURED)
    assert (found.current_a is not None) is usable
    assert usable or "I1" in found.why


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_measured_demand_without_sources_is_lawful_in_every_edition(edition: str) -> None:
    found = method("measured", {"EV": EV}, edition, **{**MEASURED, "measured_period": "30 days"})
    assert float(found.total_va) == pytest.approx(1.25 * 60.0 * 240.0 + 9600.0)


@pytest.mark.parametrize("missing", ["measured_period", "measured_source"])
def test_measured_demand_without_period_or_source_is_not_used(missing: str) -> None:
    found = method("measured", {"EV": EV}, **{**MEASURED, missing: None})
    assert found.current_a is None
    assert found.needs == (f"dwelling.{missing}",)


def test_measured_kilowatts_without_a_power_factor_assume_one_and_say_so() -> None:
    found = currents(project({}, **{**MEASURED, "measured_demand": "10.2 kW", "methods": ["measured"]}))
    assert float(found.dwelling.at("MP").used.total_va) == pytest.approx(1.25 * 12000.0)
    assert any(item.path == "dwelling.power_factor" for item in found.assumptions)


def test_only_loads_that_are_new_are_added_to_the_measured_demand() -> None:
    loads = {"OLD": {**RANGE, "existing": True}, "NEW": DRYER}
    assert float(method("measured", loads, **MEASURED).total_va) == pytest.approx(1.25 * 60.0 * 240.0 + 5000.0)


def test_without_a_floor_area_neither_part_iii_nor_the_optional_method_is_computed() -> None:
    found = bus({"RANGE": RANGE}, floor_area=None)
    assert found.used is None and found.leg_load is None
    assert found.needs == ("dwelling.floor_area",)
    assert currents(project({"RANGE": RANGE}, floor_area=None)).by_circuit["C1"].loads_not_given == ("MP",)


def test_circuits_that_are_not_counted_are_assumed_to_be_the_least_that_a_dwelling_must_have() -> None:
    found = currents(project({}, small_appliance_circuits=None, laundry_circuits=None))
    lines = [float(line.connected_va) for line in found.dwelling.at("MP").used.lines if line.counted_va is None]
    assert lines == [4500.0, 3000.0, 1500.0]
    assert {item.path for item in found.assumptions} >= {"dwelling.small_appliance_circuits", "dwelling.laundry_circuits"}


def test_heating_and_cooling_never_run_together_the_larger_counts() -> None:
    found = method("standard", {"AC": AC, "HEAT": HEAT})
    assert found.left_out == ("AC",)
    assert counted(found, "HEAT") == 9000.0


def test_the_larger_total_decides_not_the_larger_load() -> None:
    """220.60 case by case: 4750 VA of heat against 4000 VA of compressor and fan with 25 % of the 16 A compressor."""
    loads = {"AC": {**AC, "rla": "18 A", "fan": "0.5 A"}, "HEAT": {"kind": "heat", "power": "4.75 kVA"}}
    found = method("standard", loads)
    assert found.left_out == ("HEAT",)
    assert counted(found, "25 %") == pytest.approx(0.25 * 18.0 * 240.0)


def test_loads_of_one_noncoincident_group_count_once() -> None:
    pumps = {
        "P1": {"kind": "motor", "current": "10 A", "noncoincident": "pool"},
        "P2": {"kind": "motor", "current": "8 A", "noncoincident": "pool"},
    }
    found = method("standard", pumps)
    assert found.left_out == ("P2",)
    assert float(found.total_va) == pytest.approx(5100.0 + 1.25 * 2400.0)


@pytest.mark.parametrize(("heat", "counts"), [("10 kVA", 10000.0), ("5 kVA", 1.25 * 4800.0)])
def test_an_interlocked_heat_pump_counts_its_supplemental_heat_or_its_compressor_with_a_quarter_more(heat: str, counts: float) -> None:
    loads = {"HP": {"kind": "heat pump", "rla": "20 A", "supplemental_heat": heat, "supplemental_interlocked": True}}
    found = method("standard", loads)
    assert float(found.total_va) == pytest.approx(5100.0 + counts)
    assert found.left_out == ()


def test_the_largest_motor_goes_by_the_compressor_not_by_its_fan() -> None:
    assert counted(method("standard", {"AC": AC}), "25 %") == pytest.approx(0.25 * 16.0 * 240.0)


def test_a_circuit_ampacity_holds_its_125_percent_already() -> None:
    found = method("standard", {"AC": {"kind": "motor-compressor", "mca": "25 A"}})
    assert counted(found, "AC") == pytest.approx(6000.0)
    assert not [line for line in found.lines if "25 %" in line.text]


def test_a_motor_may_state_its_size_in_horsepower() -> None:
    found = method("standard", {"PUMP": {"kind": "motor", "hp": "1 hp", "voltage": "230 V"}})
    assert counted(found, "25 %") == pytest.approx(0.25 * 8.0 * 240.0)


def test_a_120_v_load_counts_on_its_leg_alone() -> None:
    loads = {"A1": {"kind": "appliance", "power": "1.2 kVA", "voltage": "120 V", "legs": "L1"}}
    found = method("standard", loads)
    assert [float(leg) for leg in found.legs_a] == pytest.approx([5100.0 / 240.0 + 10.0, 5100.0 / 240.0])


def test_a_120_v_load_without_a_leg_counts_evenly_and_that_is_said() -> None:
    found = currents(project({"A1": {"kind": "appliance", "power": "1.2 kVA", "voltage": "120 V"}}))
    assert any(item.path == "load.A1.legs" and item.value == "even" for item in found.assumptions)
    assert len(found.dwelling.at("MP").of(LoadMethod.STANDARD).legs_a) == 1


def test_the_neutral_takes_120_v_loads_and_70_percent_of_cooking_and_dryers_but_no_240_v_load() -> None:
    loads = {"RANGE": RANGE, "DRYER": DRYER, "WH": {"kind": "water heater", "power": "4.5 kVA"}, "EV": EV, "AC": AC}
    neutral = bus(loads).neutral
    assert float(neutral.current_a) == pytest.approx((5100.0 + 0.7 * 8000.0 + 0.7 * 5000.0) / 240.0)


def test_a_generation_panel_has_no_part_of_the_general_load() -> None:
    more = {
        "panel": {"GP": {"bus": "125 A", "main": "lugs", "generation": True}},
        "circuit": {"C2": {"from": "MP", "to": "GP", "breaker": "60 A", "length": "20 ft"}},
    }
    found = currents(project({"RANGE": RANGE}, more))
    assert found.dwelling.at("GP") is None
    assert found.dwelling.at("MP").whole


@pytest.mark.parametrize(("edition", "va"), [("2017", 3600.0), ("2020", 3600.0), ("2023", 7200.0)])
def test_a_small_ev_charger_counts_by_edition_in_feeders_and_by_nameplate_in_its_own_circuit(edition: str, va: float) -> None:
    more = {"circuit": {"C5": {"from": "MP", "to": "EV", "breaker": "20 A", "length": "20 ft"}}}
    found = currents(project({"EV": {"kind": "ev", "power": "3.6 kVA", "voltage": "240 V"}}, more), edition)
    assert counted(found.dwelling.at("MP").of(LoadMethod.STANDARD), "EV") == va
    assert float(found.by_circuit["C5"].of(Mode.SUPPLY).continuous) == 15.0


def test_a_storage_water_heater_is_continuous_in_its_own_circuit_only() -> None:
    more = {"circuit": {"C5": {"from": "MP", "to": "WH", "breaker": "30 A", "length": "20 ft"}}}
    found = currents(project({"WH": {"kind": "water heater", "power": "4.5 kVA", "voltage": "240 V"}}, more))
    assert float(found.by_circuit["C5"].of(Mode.SUPPLY).continuous) == 18.75
    assert float(found.by_circuit["C1"].of(Mode.SUPPLY).continuous) == 0.0


@pytest.mark.parametrize(("edition", "readings"), [("2017", 0), ("2020", 1), ("2023", 1)])
def test_since_2020_some_count_a_quarter_of_an_air_conditioner_that_is_left_out(edition: str, readings: int) -> None:
    """Readers differ on 220.60: 9000 VA of heat count, the 3840 VA compressor does not; the other reading adds 960 VA."""
    found = method("standard", {"AC": AC, "HEAT": HEAT}, edition)
    assert len(found.readings) == readings
    for reading in found.readings:
        assert float(reading.current_a) == round((5100.0 + 9000.0 + 960.0) / 240.0)


def test_a_panel_whose_share_is_nothing_and_that_has_no_loads_is_known_to_carry_none() -> None:
    found = currents(project({"RANGE": RANGE}, SUBPANEL, share={"SP": {"floor_area": "0 ft2"}}))
    assert found.dwelling.at("SP") is None
    assert found.by_circuit["C2"].loads_not_given == ()
    assert float(found.by_circuit["C2"].of(Mode.SUPPLY).noncontinuous) == 0.0


def test_more_appliances_than_the_tables_here_hold_count_at_nameplate() -> None:
    ranges = {f"R{number}": RANGE for number in range(26)}
    assert counted(method("standard", ranges), "cooking") == 26 * 12000.0
    dryers = {f"D{number}": DRYER for number in range(12)}
    assert counted(method("standard", dryers), "dryers") == 12 * 5000.0


@pytest.mark.parametrize(("power", "load"), [("1.75 kVA", 1750.0), ("1.76 kVA", 1408.0), ("28 kVA", 28000.0), ("27 kVA", 14000.0)])
def test_cooking_appliances_outside_the_table_count_at_nameplate(power: str, load: float) -> None:
    assert counted(method("standard", {"OVEN": {"kind": "oven", "power": power}}), "OVEN") == pytest.approx(load)


@pytest.mark.parametrize(("power", "load"), [("3.49 kVA", 0.8 * 3490.0), ("3.5 kVA", 0.8 * 3500.0), ("8.75 kVA", 7000.0), ("8.76 kVA", 8000.0)])
def test_the_column_of_one_appliance_goes_by_its_rating(power: str, load: float) -> None:
    assert counted(method("standard", {"OVEN": {"kind": "oven", "power": power}}), "OVEN") == pytest.approx(load)


def test_the_part_of_a_neutral_beyond_200_amperes_counts_70_percent():
    # 25 loads of 1200 VA on L1: 250 A; lighting and small appliances 5100 VA / 240 V = 21.25 A on the neutral.
    # 271.25 A: 200 + 0.7 x 71.25 = 249.875 A.
    loads = {f"A{number}": {"kind": "appliance", "power": "1200 VA", "voltage": "120 V", "legs": "L1"} for number in range(25)}
    assert float(bus(loads).neutral.current_a) == pytest.approx(249.875)
