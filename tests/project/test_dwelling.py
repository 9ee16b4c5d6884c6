"""The dwelling's table and its loads: what is read, what is refused with its line."""

from __future__ import annotations

from typing import Any

import pytest

import linecalc
from linecalc.errors import InputError

TEXT = """
[project]
title = "Dwelling"
code = "NEC 2023"

[dwelling]
floor_area = "1800 ft2"
small_appliance_circuits = 2
laundry_circuits = 1
methods = ["standard", "measured"]
measured_demand = "12 kW"
measured_period = "30 days"
measured_source = "recorder (invented)"

[dwelling.share.SP]
floor_area = "600 ft2"
small_appliance_circuits = 1

[panel.SP]
bus = "100 A"
main = "100 A"
main_before = "125 A"

[load.HP]
panel = "SP"
kind = "heat pump"
rla = "18 A"
supplemental_heat = "10 kW"
supplemental_interlocked = true
"""


def said(text: str) -> str:
    with pytest.raises(InputError) as caught:
        linecalc.read_text(text)
    return "\n".join(str(problem) for problem in caught.value.problems)


def changed(old: str, new: str) -> str:
    assert TEXT.count(old) == 1
    return TEXT.replace(old, new)


def test_the_table_is_read_with_units_and_shares_by_panel() -> None:
    dwelling = linecalc.read_text(TEXT).dwelling
    assert (dwelling.floor_area.value, dwelling.floor_area.unit) == (1800.0, "ft2")
    assert dwelling.share["SP"].floor_area.value == 600.0 and dwelling.share["SP"].laundry_circuits == 0
    assert dwelling.methods == ("standard", "measured")


def test_a_floor_area_may_be_metric() -> None:
    assert linecalc.read_text(changed('"1800 ft2"', '"167 m2"')).dwelling.floor_area.value == pytest.approx(1797.6, abs=0.1)


@pytest.mark.parametrize("amount", ['"52 A"', '"12 kVA"', '"12 kW"'])
def test_a_measured_demand_may_be_a_current_or_a_power(amount: str) -> None:
    assert linecalc.read_text(changed('"12 kW"\nmeasured_period', f"{amount}\nmeasured_period")).dwelling.measured_demand.value > 0.0


def test_a_script_gives_an_equal_project() -> None:
    house = linecalc.ProjectBuilder(title="Dwelling", code="NEC 2023")
    keys: dict[str, Any] = {"measured_demand": "12 kW", "measured_period": "30 days", "measured_source": "recorder (invented)"}
    share = {"SP": {"floor_area": "600 ft2", "small_appliance_circuits": 1}}
    house.dwelling(floor_area="1800 ft2", small_appliance_circuits=2, laundry_circuits=1, methods=["standard", "measured"], share=share, **keys)
    house.panel("SP", bus="100 A", main="100 A", main_before="125 A")
    house.load("HP", panel="SP", kind="heat pump", rla="18 A", supplemental_heat="10 kW", supplemental_interlocked=True)
    assert house.build() == linecalc.read_text(TEXT)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('floor_area = "600 ft2"', 'floor_area = "2600 ft2"', "more than the floor area of the dwelling"),
        ("small_appliance_circuits = 1", "small_appliance_circuits = 3", "3 is more than the 2 of the dwelling"),
        ("[dwelling.share.SP]", "[dwelling.share.SPX]", 'did you mean "SP"?'),
        ('methods = ["standard", "measured"]', 'methods = ["quick"]', "methods"),
        ('floor_area = "1800 ft2"', 'floor_area = "0 ft2"', "must be more than 0"),
        ('floor_area = "1800 ft2"', "floor_area = 1800", "no unit"),
        ('kind = "heat pump"', 'kind = "motor"', "means nothing for a load of kind"),
        ('kind = "heat pump"', 'kind = "oven grill"', "kind"),
        ('measured_period = "30 days"', 'measured_period = "2 weeks"', "measured_period"),
        ("laundry_circuits = 1", "laundry_circuits = -1", "laundry_circuits"),
    ],
)
def test_what_contradicts_itself_is_refused_by_its_key(old: str, new: str, message: str) -> None:
    assert message in said(changed(old, new))


def test_the_message_names_the_kinds_that_a_key_belongs_to() -> None:
    text = said(changed('kind = "heat pump"', 'kind = "range"'))
    assert 'load.HP.supplemental_heat: means nothing for a load of kind "range"; it belongs to kind "heat pump"' in text


@pytest.mark.parametrize("kind", ["ev", "heat"])
def test_vehicle_charging_and_room_heating_are_always_continuous(kind: str) -> None:
    load = f'\n[load.L]\npanel = "SP"\nkind = "{kind}"\npower = "7.2 kW"\ncontinuous = '
    assert "always counts as continuous" in said(TEXT + load + "false\n")
    assert linecalc.read_text(TEXT + load + "true\n").load["L"].continuous


def test_a_panel_has_one_calculated_load() -> None:
    load = '\n[load.{}]\npanel = "{}"\nkind = "calculated"\ncurrent = "40 A"\n'
    other = '\n[panel.TP]\nbus = "100 A"\nmain = "100 A"\n'
    assert "is a second calculated load on SP, beside A" in said(TEXT + load.format("A", "SP") + load.format("B", "SP"))
    assert len(linecalc.read_text(TEXT + other + load.format("A", "SP") + load.format("B", "TP")).load) == 3
