"""Busbars, feeders, taps and supply-side sums; cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st

from linecalc.calc.compare import at_most
from linecalc.calc.interconnection import (
    bus_120_limit,
    bus_all_devices,
    bus_sum,
    feeder_segment_need,
    remaining_by_120,
    remaining_by_all_devices,
    remaining_by_sum,
    remaining_source_current,
    source_demand,
    supply_side_currents,
    supply_side_devices,
    tap_need_10_ft,
    tap_need_25_ft,
)
from tests.calc.strategies import AMPERES, MORE

SOURCES = st.lists(AMPERES, min_size=1, max_size=5)


def test_a_40_ampere_unit_counts_as_50_on_the_bus() -> None:
    assert source_demand([40.0]) == 50.0


def test_every_source_that_reaches_the_bus_counts() -> None:
    assert source_demand([40.0, 24.0, 16.0]) == 100.0
    assert source_demand([]) == 0.0


def test_a_200_ampere_bus_and_main_have_room_for_32_amperes_at_120_percent() -> None:
    demand = source_demand([32.0])
    assert at_most(bus_sum(demand, 200.0), bus_120_limit(200.0))
    assert not at_most(bus_sum(demand, 200.0), 200.0)


def test_33_amperes_are_one_too_many_there() -> None:
    assert not at_most(bus_sum(source_demand([33.0]), 200.0), bus_120_limit(200.0))


def test_a_225_ampere_bus_behind_200_amperes_takes_a_70_ampere_source_breaker() -> None:
    left = remaining_by_120(225.0, 200.0, 0.0)
    assert left == pytest.approx(70.0)
    assert remaining_source_current(left, "busbar_120") == pytest.approx(56.0)


def test_a_reduced_main_makes_room_by_the_sum() -> None:
    assert remaining_by_sum(200.0, 150.0, 0.0) == 50.0
    assert remaining_by_sum(200.0, 150.0, source_demand([16.0])) == 30.0


def test_a_full_bus_takes_nothing_more_rather_than_less_than_nothing() -> None:
    assert remaining_by_sum(200.0, 200.0, 50.0) == 0.0
    assert remaining_by_120(100.0, 125.0, 0.0) == 0.0
    assert remaining_by_all_devices(100.0, 140.0) == 0.0


def test_devices_are_added_by_their_ratings() -> None:
    assert bus_all_devices([50.0, 40.0, 20.0]) == 110.0
    assert remaining_by_all_devices(125.0, 110.0) == 15.0


def test_downstream_of_a_source_the_feeder_carries_both() -> None:
    assert feeder_segment_need(100.0, source_demand([40.0])) == 150.0


def test_taps_take_a_third_or_a_tenth_of_what_can_feed_them() -> None:
    assert tap_need_25_ft(150.0) == 50.0
    assert tap_need_10_ft(150.0) == 15.0


def test_supply_side_devices_and_currents_are_two_sums() -> None:
    assert supply_side_devices([60.0, 30.0]) == 90.0
    assert supply_side_currents([48.0, 24.0]) == 72.0


@for_all(SOURCES, AMPERES)
def test_one_more_source_never_loads_a_bus_less(sources: list, further: float) -> None:
    more = [*sources, further]
    assert source_demand(more) > source_demand(sources)
    assert bus_all_devices(more) > bus_all_devices(sources)
    assert supply_side_devices(more) > supply_side_devices(sources)
    assert supply_side_currents(more) > supply_side_currents(sources)


@for_all(AMPERES, AMPERES, MORE)
def test_larger_sources_or_devices_never_need_less(device, demand, more) -> None:
    assert bus_sum(demand + more, device) >= bus_sum(demand, device)
    assert bus_sum(demand, device + more) >= bus_sum(demand, device)
    assert feeder_segment_need(device + more, demand) >= feeder_segment_need(device, demand)
    assert feeder_segment_need(device, demand + more) >= feeder_segment_need(device, demand)
    assert tap_need_25_ft(device + more) >= tap_need_25_ft(device)
    assert tap_need_10_ft(device + more) >= tap_need_10_ft(device)


@for_all(AMPERES)
def test_a_long_tap_never_needs_less_than_a_short_one(feeding: float) -> None:
    assert tap_need_25_ft(feeding) > tap_need_10_ft(feeding)


@for_all(AMPERES, AMPERES, AMPERES, MORE)
def test_what_is_left_never_grows_with_the_load_nor_shrinks_with_the_bus(bus, device, demand, more) -> None:
    for method in (remaining_by_sum, remaining_by_120):
        base = method(bus, device, demand)
        assert method(bus + more, device, demand) >= base
        assert method(bus, device + more, demand) <= base
        assert method(bus, device, demand + more) <= base
    assert remaining_by_all_devices(bus, device + more) <= remaining_by_all_devices(bus, device)


@for_all(AMPERES, AMPERES, AMPERES)
def test_the_120_percent_method_never_leaves_less_than_the_sum(bus, device, demand) -> None:
    assert remaining_by_120(bus, device, demand) >= remaining_by_sum(bus, device, demand)


@for_all(AMPERES, AMPERES, SOURCES)
def test_a_source_of_exactly_what_is_left_just_passes(bus, device, sources) -> None:
    left = remaining_by_sum(bus, device, source_demand(sources))
    if left > 1e-3:
        filled = bus_sum(source_demand([*sources, remaining_source_current(left)]), device)
        assert filled == pytest.approx(bus, rel=1e-9)


@for_all(AMPERES, AMPERES, SOURCES)
def test_the_same_holds_at_120_percent(bus, device, sources) -> None:
    left = remaining_by_120(bus, device, source_demand(sources))
    if left > 1e-3:
        filled = bus_sum(source_demand([*sources, remaining_source_current(left)]), device)
        assert filled == pytest.approx(bus_120_limit(bus), rel=1e-9)
