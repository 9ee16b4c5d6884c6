"""Loads on each leg, the neutral between them, and what is assumed where a load says little."""

from __future__ import annotations

from linecalc.check import Level
from linecalc.errors import InputError
from linecalc.network.records import Mode
from linecalc.term import value_of
from tests.houses import check, checks, circuit, house, studied
from linecalc.study import study

import pytest

NO_CALCULATION = {"load.BACKUP": None}


def supply(found, tag: str) -> tuple[float, float, float]:
    current = circuit(found, tag).currents.of(Mode.SUPPLY)
    return tuple(round(value_of(part), 4) for part in (current.continuous, current.noncontinuous, current.neutral))


def appliance(**keys):
    return {"panel": "BP", "kind": "appliance", "power_factor": 1.0, **keys}


def test_240_volt_load_loads_both_legs_and_no_neutral():
    found = studied({**NO_CALCULATION, "load.RANGE": appliance(voltage="240 V", current="20 A")})
    assert supply(found, "C3") == (0, 20, 0)


def test_120_volt_loads_on_one_leg_are_the_current_of_the_worse_leg_and_of_the_neutral():
    # L1: 12 + 8 = 20, L2: 5; worse leg 20, neutral 15.
    found = studied(
        {
            **NO_CALCULATION,
            "load.A": appliance(voltage="120 V", legs="L1", current="12 A"),
            "load.B": appliance(voltage="120 V", legs="L1", current="8 A"),
            "load.C": appliance(voltage="120 V", legs="L2", current="5 A"),
        }
    )
    assert supply(found, "C3") == (0, 20, 15)


def test_a_240_volt_load_beside_unequal_legs_leaves_the_difference_on_the_neutral():
    # Legs 20 + 10 and 20 + 4: worse 30, neutral 6.
    found = studied(
        {
            **NO_CALCULATION,
            "load.A": appliance(voltage="240 V", current="20 A"),
            "load.B": appliance(voltage="120 V", legs="L1", current="10 A"),
            "load.C": appliance(voltage="120 V", legs="L2", current="4 A"),
        }
    )
    assert supply(found, "C3") == (0, 30, 6)


def test_balanced_120_volt_loads_leave_nothing_on_the_neutral():
    found = studied(
        {
            **NO_CALCULATION,
            "load.A": appliance(voltage="120 V", legs="L1", current="10 A"),
            "load.B": appliance(voltage="120 V", legs="L2", current="10 A"),
        }
    )
    assert supply(found, "C3") == (0, 10, 0)


def test_continuous_and_other_parts_of_the_worse_leg_stay_apart():
    # L1: 12 continuous + 6, L2: 15. Worse L1 with 18.
    found = studied(
        {
            **NO_CALCULATION,
            "load.A": appliance(voltage="120 V", legs="L1", current="12 A", continuous=True),
            "load.B": appliance(voltage="120 V", legs="L1", current="6 A"),
            "load.C": appliance(voltage="120 V", legs="L2", current="15 A"),
        }
    )
    assert supply(found, "C3") == (12, 6, 3)


def test_a_120_volt_load_without_a_leg_is_put_on_one_leg_and_the_choice_is_listed():
    found = studied({**NO_CALCULATION, "load.A": appliance(voltage="120 V", power="1.2 kVA")})
    assert supply(found, "C3") == (0, 10, 10)
    assert any(one.path == "load.A.legs" for one in found.assumptions)


def test_a_load_on_one_leg_without_a_voltage_is_taken_at_120_volts():
    found = studied({**NO_CALCULATION, "load.A": appliance(legs="L2", power="1.2 kVA")})
    assert supply(found, "C3") == (0, 10, 10)
    assert any(one.path == "load.A.voltage" and one.value == "120 V" for one in found.assumptions)


def test_watts_without_a_power_factor_are_divided_by_085_and_listed():
    # 4080 W / 0.85 / 240 V = 20 A.
    found = studied({**NO_CALCULATION, "load.A": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "power": "4.08 kW"}})
    assert supply(found, "C3") == (0, 20, 0)
    assert any(one.path == "load.A.power_factor" for one in found.assumptions)


def test_a_calculated_load_keeps_its_continuous_part_apart():
    found = studied({"load.BACKUP.continuous_part": "12 A"})
    assert supply(found, "C3") == (12, 18, 16)


def test_a_calculated_load_without_a_continuous_part_takes_the_continuous_loads_named_below_it_and_says_so():
    found = studied({"load.BACKUP.continuous_part": None, "load.H": {"panel": "BP", "kind": "heat", "voltage": "240 V", "current": "10 A"}})
    assert supply(found, "C3") == (10, 20, 16)
    assert any(one.path == "load.BACKUP.continuous_part" and "H" in one.reason for one in found.assumptions)


EV = {
    "load.EV": {"panel": "BP", "kind": "ev", "voltage": "240 V", "current": "16 A", "power_factor": 1.0},
    "circuit.C5": {"from": "BP", "to": "EV", "path": ["R2"], "breaker": "20 A", "terminals_to": "75 degC"},
    **NO_CALCULATION,
}


def test_in_2023_ev_supply_equipment_counts_7200_va_in_a_feeder_and_its_nameplate_on_its_branch():
    # 7200 / 240 = 30 A in the feeder; branch 16 A, 125 % of it 20 A.
    found = studied(EV)
    assert supply(found, "C3") == (30, 0, 0)
    assert supply(found, "C5") == (16, 0, 0)
    assert check(found, "branch_continuous_ocpd", "C5").level is Level.PASS


@pytest.mark.parametrize("edition", ["2017", "2020"])
def test_before_2023_ev_supply_equipment_counts_its_nameplate_everywhere(edition):
    found = studied(EV, edition=edition)
    assert supply(found, "C3") == supply(found, "C5") == (16, 0, 0)


def test_ev_supply_equipment_above_7200_va_counts_its_nameplate():
    found = studied({**EV, "load.EV.current": "40 A", "circuit.C5.breaker": "50 A"})
    assert supply(found, "C3") == supply(found, "C5") == (40, 0, 0)


def test_a_motor_compressor_counts_running_current_and_fan_in_a_feeder():
    found = studied({**NO_CALCULATION, "load.AC": {"panel": "BP", "kind": "motor-compressor", "voltage": "240 V", "rla": "16 A", "fan": "1.5 A"}})
    assert supply(found, "C3") == (0, 17.5, 0)


def test_only_a_circuit_ampacity_given_stands_for_the_running_current_and_is_listed():
    found = studied({**NO_CALCULATION, "load.AC": {"panel": "BP", "kind": "motor-compressor", "voltage": "240 V", "mca": "21 A", "mocp": "30 A"}})
    assert supply(found, "C3") == (0, 21, 0)
    assert any(one.path == "load.AC.rla" for one in found.assumptions)


def test_a_panel_without_any_load_leaves_its_feeders_not_checked():
    found = studied(NO_CALCULATION)
    for tag in ("C3", "C2"):
        assert check(found, "feeder_continuous_conductor.load", tag).needs == ("a load, or a calculated load, on panel BP",)
    # The calculation of MP stands for everything downstream.
    assert checks(found, "service_continuous_conductor.load") == []


def test_a_generation_panel_needs_no_load():
    found = studied({"panel.BP.generation": True, **NO_CALCULATION})
    assert checks(found, "feeder_continuous_conductor.load") == []


def test_a_load_whose_circuit_comes_from_another_panel_is_an_error():
    project = house(
        {
            "load.A": {"panel": "BP", "kind": "appliance", "voltage": "240 V", "current": "5 A"},
            "circuit.C5": {"from": "MP", "to": "A", "path": ["R2"], "breaker": "15 A"},
        }
    )
    with pytest.raises(InputError) as caught:
        study(project)
    assert "circuit comes from MP" in str(caught.value)
