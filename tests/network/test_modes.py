"""What each circuit carries in export, supply, charge and island mode, worked by hand."""

from __future__ import annotations

from linecalc.network.records import Mode
from linecalc.term import value_of
from tests.houses import BASE, SUPPLY_SIDE, circuit, studied

WHOLE_HOME = {
    "circuit.C2": {"from": "service", "to": "ID", "path": ["R3"], "conductor": "2/0 AWG Cu THWN-2"},
    "circuit.C4": {"from": "ID", "to": "MP", "path": ["R5"], "conductor": "2/0 AWG Cu THWN-2"},
    "circuit.C3": {"from": "MP", "to": "BP", "path": ["R4"], "breaker": "60 A", "conductor": "6 AWG Cu THWN-2"},
    "isolation.ID.rating": "200 A",
}
TWO_UNITS = {
    "unit.U2": {"equipment": "unit-a"},
    "panel.GP": {"bus": "125 A", "main": "lugs", "generation": True, "terminals": "75 degC", "neutral_bond": False},
    "circuit.C1": {"from": "GP", "to": "U1", "path": ["R2"], "breaker": "50 A"},
    "circuit.C5": {"from": "GP", "to": "U2", "path": ["R2"], "breaker": "50 A"},
    "circuit.C6": {"from": "BP", "to": "GP", "path": ["R4"], "breaker": "100 A", "bus_position": "opposite end"},
}


def amps(found, tag: str, mode: Mode) -> tuple[float, float, float]:
    """Continuous, noncontinuous and neutral current of a circuit in a mode."""
    current = circuit(found, tag).currents.of(mode)
    return tuple(round(value_of(part), 6) for part in (current.continuous, current.noncontinuous, current.neutral))


def test_backup_subpanel_export_reaches_the_service_at_the_rating_of_the_unit():
    found = studied()
    assert [amps(found, tag, Mode.EXPORT) for tag in ("C1", "C3", "C2", "C4")] == [(40, 0, 0)] * 4


def test_backup_subpanel_supply_takes_the_load_calculated_anew_at_each_bus():
    # BP: 30 A by its own calculation. MP: 90 A over everything downstream, not 90 + 30.
    found = studied()
    assert amps(found, "C3", Mode.SUPPLY) == amps(found, "C2", Mode.SUPPLY) == (0, 30, 16)
    assert amps(found, "C4", Mode.SUPPLY) == (0, 90, 30)
    assert amps(found, "C1", Mode.SUPPLY) == (0, 0, 0)


def test_charging_is_continuous_and_added_after_the_calculated_load():
    found = studied()
    assert amps(found, "C1", Mode.CHARGE) == (20, 0, 0)
    assert amps(found, "C2", Mode.CHARGE) == (20, 30, 16)
    assert amps(found, "C4", Mode.CHARGE) == (20, 90, 30)


def test_a_unit_that_does_not_charge_from_the_utility_adds_nothing_in_charge_mode():
    found = studied({"unit.U1.grid_charging": "no"})
    assert amps(found, "C2", Mode.CHARGE) == (0, 30, 16)


def test_charging_that_is_not_stated_is_assumed_and_listed():
    found = studied({"equipment.unit-a.grid_charging": None, "equipment.unit-a.charge_current_ac": None})
    assert amps(found, "C1", Mode.CHARGE) == (40, 0, 0)
    listed = {assumption.path for assumption in found.assumptions}
    assert {"unit.U1.grid_charging", "equipment.unit-a.charge_current_ac"} <= listed


def test_in_island_mode_nothing_flows_from_the_utility_side_and_the_unit_circuit_carries_its_island_rating():
    # C3 leads from the isolation device to BP, where the unit and every load are: nothing flows in it.
    found = studied({"equipment.unit-a.ac_current_island": "44 A"})
    assert amps(found, "C1", Mode.ISLAND) == (44, 0, 16)
    assert amps(found, "C3", Mode.ISLAND) == (0, 0, 0)
    assert circuit(found, "C2").currents.of(Mode.ISLAND) is None
    assert circuit(found, "C4").currents.of(Mode.ISLAND) is None


def test_the_circuit_of_a_unit_takes_the_largest_of_export_island_and_charge():
    # 1.25 x 48 = 60 in island mode, 1.25 x 40 = 50 in export: island decides T1 and T2.
    found = studied({"equipment.unit-a.ac_current_island": "48 A", "circuit.C1.conductor": None})
    sized = circuit(found, "C1")
    assert value_of(sized.t1_need) == 60.0
    assert value_of(sized.t2_need) == 48.0


def test_without_an_island_rating_the_export_rating_is_assumed_and_listed():
    found = studied({"equipment.unit-a.ac_current_island": None})
    assert amps(found, "C1", Mode.ISLAND)[0] == 40
    assert any(one.path == "equipment.unit-a.ac_current_island" for one in found.assumptions)


def test_whole_home_backup_the_main_panel_lies_inside_the_island():
    found = studied(WHOLE_HOME)
    assert circuit(found, "C2").currents.of(Mode.ISLAND) is None
    # C4, isolation device to main panel: everything is beyond it, nothing flows.
    assert amps(found, "C4", Mode.ISLAND) == (0, 0, 0)
    # C3, main panel to BP: the unit at BP feeds the loads of MP through it; its neutral carries their unbalance.
    assert amps(found, "C3", Mode.ISLAND) == (40, 0, 30)
    assert amps(found, "C2", Mode.SUPPLY) == (0, 90, 30)


def test_supply_side_connection_export_does_not_pass_the_main_panel():
    found = studied(base=SUPPLY_SIDE)
    assert amps(found, "C2", Mode.EXPORT) == (40, 0, 0)
    assert amps(found, "C3", Mode.EXPORT) == (0, 0, 0)
    assert amps(found, "C4", Mode.EXPORT) == (40, 0, 0)
    assert amps(found, "C3", Mode.SUPPLY) == amps(found, "C4", Mode.SUPPLY) == (0, 90, 30)


def test_generation_panel_feeder_carries_the_sum_of_its_units():
    found = studied(TWO_UNITS)
    assert amps(found, "C6", Mode.EXPORT) == (80, 0, 0)
    assert amps(found, "C6", Mode.ISLAND) == (80, 0, 16)
    assert amps(found, "C6", Mode.CHARGE) == (40, 0, 0)
    assert amps(found, "C2", Mode.CHARGE) == (40, 30, 16)
    assert amps(found, "C1", Mode.ISLAND) == amps(found, "C5", Mode.ISLAND) == (40, 0, 16)


def test_units_in_two_panels_each_reach_the_buses_on_their_own_way():
    found = studied({"unit.U2": {"equipment": "unit-a"}, "circuit.C5": {"from": "MP", "to": "U2", "path": ["R2"], "breaker": "50 A"}})
    assert amps(found, "C2", Mode.EXPORT) == (40, 0, 0)
    assert amps(found, "C4", Mode.EXPORT) == (80, 0, 0)
    # U2 stands on the utility side of the isolation device: no island mode there.
    assert circuit(found, "C5").currents.of(Mode.ISLAND) is None
    assert amps(found, "C1", Mode.ISLAND)[0] == 40


def test_chain_of_subpanels_each_feeder_takes_the_calculation_of_its_own_panel():
    found = studied(
        {
            "panel.SP": {"bus": "100 A", "main": "lugs", "terminals": "75 degC", "neutral_bond": False},
            "load.SUB": {"panel": "SP", "kind": "calculated", "current": "22 A", "continuous_part": "0 A", "unbalance": "5 A"},
            "circuit.C5": {"from": "BP", "to": "SP", "path": ["R2"], "breaker": "40 A"},
        }
    )
    assert amps(found, "C5", Mode.SUPPLY) == (0, 22, 5)
    assert amps(found, "C3", Mode.SUPPLY) == (0, 30, 16)
    assert amps(found, "C4", Mode.SUPPLY) == (0, 90, 30)
    # In an outage the subpanel is fed by the unit beyond it.
    assert amps(found, "C5", Mode.ISLAND) == (0, 22, 5)


def test_pv_only_inverter_exports_and_is_never_firm():
    inverter = {"kind": "inverter", "ac_power": "3.8 kW", "ac_current": "16 A", "overcurrent_max": "20 A", "terminals": "75 degC"}
    found = studied(
        {
            "equipment.inv": inverter,
            "inverter.I1": {"equipment": "inv"},
            "circuit.C5": {"from": "BP", "to": "I1", "path": ["R2"], "breaker": "20 A", "bus_position": "opposite end"},
        }
    )
    assert amps(found, "C5", Mode.EXPORT) == (16, 0, 0)
    # In an outage it runs beside the unit, without a neutral of its own; 16 A.
    assert amps(found, "C5", Mode.ISLAND) == (16, 0, 0)
    assert value_of(found.sized.currents.sources["I1"].island_a) == 0.0
    assert amps(found, "C2", Mode.EXPORT) == (56, 0, 0)


def test_inverters_inside_the_island_add_to_the_units_and_alone_form_no_island():
    inverter = {"kind": "inverter", "ac_power": "3.8 kW", "ac_current": "16 A", "overcurrent_max": "20 A", "terminals": "75 degC"}
    beside = {"equipment.inv": inverter, "inverter.I1": {"equipment": "inv"}, "circuit.C7": {"from": "GP", "to": "I1", "path": ["R2"], "breaker": "20 A"}}
    found = studied({**TWO_UNITS, **beside})
    assert amps(found, "C6", Mode.ISLAND) == (96, 0, 16)  # 40 + 40 + 16 A; the neutral by the unbalance of the units' loads
    outside = studied({**beside, "circuit.C7.from": "MP"})
    assert Mode.ISLAND not in [mode for mode, _ in circuit(outside, "C7").currents.modes]


def test_t1_and_t2_take_their_own_worst_mode():
    # Export 48: T1 60, T2 48. Supply 55 noncontinuous: T1 55, T2 55.
    found = studied(
        {
            "equipment.unit-a.ac_current": "48 A",
            "equipment.unit-a.grid_charging": "no",
            "equipment.unit-a.overcurrent_max": "60 A",
            "circuit.C1.breaker": "60 A",
            "load.BACKUP.current": "55 A",
        }
    )
    sized = circuit(found, "C2")
    assert value_of(sized.t1_need) == 60.0
    assert value_of(sized.t2_need) == 55.0


def test_a_junction_part_way_makes_two_segments_and_the_one_downstream_carries_both():
    # Feeder 60 A from MP to BP; a 20 A inverter joins at J: downstream 60 + 1.25 x 16 = 80 A.
    inverter = {"kind": "inverter", "ac_power": "3.8 kW", "ac_current": "16 A", "overcurrent_max": "20 A", "terminals": "75 degC"}
    joined = {
        "junction.J": {"terminals": "75 degC"},
        "equipment.inv": inverter,
        "inverter.I1": {"equipment": "inv"},
        "disconnect.D": {"rating": "30 A", "device": "20 A", "device_kind": "fuse", "terminals": "75 degC"},
        "circuit.C2": {"from": "MP", "to": "J", "path": ["R3"], "breaker": "60 A", "bus_position": "opposite end"},
        "circuit.C6": {"from": "J", "to": "ID", "path": ["R4"]},
        "circuit.C3": {"from": "ID", "to": "BP", "path": ["R4"]},
        "circuit.C5": {"from": "J", "to": "D", "path": ["R2"], "breaker": "20 A"},
        "circuit.C7": {"from": "D", "to": "I1", "path": ["R2"]},
    }
    found = studied(joined)
    assert amps(found, "C2", Mode.EXPORT) == (56, 0, 0)
    (demand,) = circuit(found, "C6").demands
    assert value_of(demand.amps) == 80.0
    assert circuit(found, "C2").demands == ()


def test_the_same_house_gives_the_same_currents_in_every_edition():
    for tag in BASE["circuit"]:
        found = {edition: circuit(studied(edition=edition), tag).currents for edition in ("2017", "2020", "2023")}
        values = {
            edition: [(mode, value_of(one.continuous), value_of(one.noncontinuous)) for mode, one in currents.modes]
            for edition, currents in found.items()
        }
        assert values["2017"] == values["2020"] == values["2023"]


def test_strings_in_parallel_on_one_circuit_add_and_unlike_modules_count_by_the_strongest():
    # 1.25 x 2 x 15 A = 37.5 A; with two alike 1.25 x 2 x 13 = 32.5 A.
    joined = {
        "combiner.CB": {"to": "U1", "dc_voltage": "600 V", "terminals": "75 degC"},
        "string.S1.to": "CB",
        "string.S2": {"module": "mod", "count": 10, "to": "CB", "input": 1},
        "circuit.P1": {"from": "S1", "to": "CB", "path": ["R1"]},
        "circuit.P2": {"from": "S2", "to": "CB", "path": ["R1"]},
        "circuit.P3": {"from": "CB", "to": "U1", "path": ["R1"]},
    }
    (_, alike), = circuit(studied(joined), "P3").currents.modes
    assert value_of(alike.continuous) == 32.5
    strong = {**joined, "equipment.big": {**BASE["equipment"]["mod"], "isc": "15 A"}, "string.S2.module": "big"}
    (_, unlike), = circuit(studied(strong), "P3").currents.modes
    assert value_of(unlike.continuous) == 37.5
