"""Adding a load never lowers the calculated load by the same method, and where the code itself makes it lower."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.codebook import EDITIONS
from tests.dwellings import method

Loads = dict[str, dict[str, Any]]
MEASURED = {"measured_demand": "40 A", "measured_period": "1 year", "measured_source": "utility record (invented)"}
FASTENED = ("fixed appliance", "water heater")
MOST_COOKING = 4

volt_amperes = st.integers(100, 20_000).map(lambda va: f"{va} VA")
legs = st.sampled_from([{}, {"voltage": "120 V", "legs": "L1"}, {"voltage": "120 V", "legs": "L2"}, {"voltage": "120 V"}])


def of_kind(kind: str, **keys: Any) -> st.SearchStrategy[dict[str, Any]]:
    return st.builds(lambda power, where: {"kind": kind, "power": power, **where, **keys}, volt_amperes, legs)


a_load = st.one_of(
    *(of_kind(kind) for kind in ("appliance", "fixed appliance", "water heater", "motor")),
    *(st.builds(lambda power, kind=kind: {"kind": kind, "power": power}, volt_amperes) for kind in ("range", "oven", "cooktop", "ev", "heat", "motor-compressor")),
    st.builds(lambda power, heat: {"kind": "heat pump", "power": power, "supplemental_heat": heat}, volt_amperes, volt_amperes),
)
house = st.lists(a_load, max_size=5)


def amperes(name: str, loads: list[dict[str, Any]], edition: str, **dwelling: Any) -> float:
    tagged: Loads = {f"X{number}": load for number, load in enumerate(loads)}
    found = method(name, tagged, edition, **dwelling)
    assert found.current_a is not None, found.why
    return float(found.current_a)


def number_of(loads: list[dict[str, Any]], *kinds: str) -> int:
    return sum(load["kind"] in kinds for load in loads)


@pytest.mark.parametrize("edition", EDITIONS)
@settings(max_examples=60, deadline=None)
@given(loads=house, added=a_load)
def test_adding_a_load_never_lowers_part_iii_but_for_the_fourth_fastened_appliance(
    edition: str, loads: list[dict[str, Any]], added: dict[str, Any]
) -> None:
    before, after = number_of(loads, *FASTENED), number_of([*loads, added], *FASTENED)
    if after > before and after >= 4 or number_of([*loads, added], "range", "oven", "cooktop") > MOST_COOKING:
        return
    assert amperes("standard", [*loads, added], edition) >= amperes("standard", loads, edition)


@settings(max_examples=60, deadline=None)
@given(loads=house, added=a_load)
def test_adding_a_load_never_lowers_the_optional_method(loads: list[dict[str, Any]], added: dict[str, Any]) -> None:
    assert amperes("optional", [*loads, added], "2023") >= amperes("optional", loads, "2023")


@settings(max_examples=60, deadline=None)
@given(loads=house, added=a_load)
def test_adding_a_load_never_lowers_the_method_for_existing_dwellings_while_part_a_or_part_b_stays(
    loads: list[dict[str, Any]], added: dict[str, Any]
) -> None:
    old = [{**load, "existing": True} for load in loads]
    new = {**added, "existing": added["kind"] in ("heat", "heat pump", "motor-compressor")}
    assert amperes("existing", [*old, new], "2023", existing=True) >= amperes("existing", old, "2023", existing=True)


@settings(max_examples=40, deadline=None)
@given(loads=house, added=a_load)
def test_adding_a_load_never_lowers_the_measured_method(loads: list[dict[str, Any]], added: dict[str, Any]) -> None:
    assert amperes("measured", [*loads, added], "2023", **MEASURED) >= amperes("measured", loads, "2023", **MEASURED)


@settings(max_examples=40, deadline=None)
@given(loads=house, area=st.integers(100, 5000), more=st.integers(1, 3000))
@pytest.mark.parametrize("name", ["standard", "optional", "existing"])
def test_a_larger_floor_area_never_lowers_the_load(name: str, loads: list[dict[str, Any]], area: int, more: int) -> None:
    keys = {"existing": True} if name == "existing" else {}
    smaller = amperes(name, loads, "2023", floor_area=f"{area} ft2", **keys)
    assert amperes(name, loads, "2023", floor_area=f"{area + more} ft2", **keys) >= smaller


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_fourth_fastened_appliance_lowers_the_load_by_exactly_the_75_percent(edition: str) -> None:
    three = [{"kind": "fixed appliance", "power": "4800 VA"}] * 3
    four = [*three, {"kind": "fixed appliance", "power": "600 VA"}]
    before, after = (method("standard", dict(enumerate_tags(loads)), edition) for loads in (three, four))
    assert float(before.total_va) == pytest.approx(5100.0 + 3 * 4800.0)
    assert float(after.total_va) == pytest.approx(5100.0 + 0.75 * (3 * 4800.0 + 600.0))
    assert float(after.current_a) < float(before.current_a)


def test_the_fourth_separately_controlled_heater_lowers_the_optional_method() -> None:
    three = [{"kind": "heat", "power": "3 kVA", "separately_controlled": 1}] * 3
    four = [*three, {"kind": "heat", "power": "1 kVA", "separately_controlled": 1}]
    before, after = (method("optional", dict(enumerate_tags(loads))) for loads in (three, four))
    assert float(before.total_va) == pytest.approx(9000.0 + 0.65 * 9000.0)
    assert float(after.total_va) == pytest.approx(9000.0 + 0.40 * 10000.0)


def test_the_first_added_air_conditioner_may_lower_220_83_since_only_the_larger_of_heating_and_cooling_then_counts() -> None:
    old = [
        {"kind": "heat", "power": "3 kVA", "existing": True},
        {"kind": "motor-compressor", "power": "3 kVA", "existing": True},
    ]
    added = [*old, {"kind": "motor-compressor", "power": "100 VA"}]
    keys = {"existing": True, "floor_area": "100 ft2", "small_appliance_circuits": 0, "laundry_circuits": 0}
    before, after = (method("existing", dict(enumerate_tags(loads)), **keys) for loads in (old, added))
    assert float(before.total_va) == pytest.approx(6300.0)
    assert float(after.total_va) == pytest.approx(300.0 + 3100.0)


def test_a_fifth_dryer_may_lower_the_load() -> None:
    four = [{"kind": "dryer", "power": "8 kVA"}] * 4
    five = [*four, {"kind": "dryer", "power": "5 kVA"}]
    before, after = (method("standard", dict(enumerate_tags(loads))) for loads in (four, five))
    assert float(before.total_va) == pytest.approx(5100.0 + 32000.0)
    assert float(after.total_va) == pytest.approx(5100.0 + 0.85 * 37000.0)


def enumerate_tags(loads: list[dict[str, Any]]) -> list[tuple[str, dict[str, Any]]]:
    return [(f"X{number}", load) for number, load in enumerate(loads)]
