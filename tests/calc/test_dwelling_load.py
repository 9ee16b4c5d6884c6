"""Kernels of the dwelling load, by hand: Parts III and IV of Article 220 and the cooking table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from linecalc.calc import cooking_load as cooking
from linecalc.calc import dwelling_load as part_iii
from linecalc.calc import dwelling_optional as part_iv
from linecalc.calc.dwelling_load import DemandBand
from linecalc.term import Rendered
from linecalc.term import given as input_term

BANDS = [DemandBand(0.0, 3000.0, 100.0), DemandBand(3000.0, 120000.0, 35.0), DemandBand(120000.0, None, 25.0)]
va = st.floats(0.0, 200_000.0)


@pytest.mark.parametrize(("load", "demand"), [(2000.0, 2000.0), (3000.0, 3000.0), (13000.0, 6500.0), (120000.0, 43950.0), (130000.0, 46450.0)])
def test_lighting_counts_by_portions(load: float, demand: float) -> None:
    assert part_iii.lighting_demand(load, BANDS) == pytest.approx(demand)


@given(va, va)
def test_more_lighting_never_counts_less(one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert part_iii.lighting_demand(less, BANDS) <= part_iii.lighting_demand(more, BANDS) + 1e-6


def test_only_the_portions_that_are_reached_are_printed() -> None:
    load = input_term(2500.0, "VA", "S", "here")
    bands = [DemandBand(0.0, 3000.0, 100.0), DemandBand(3000.0, 120000.0, 35.0)]
    assert Rendered(part_iii.lighting_demand(load, bands)).formula == "S x 100 / 100"


@pytest.mark.parametrize(("number", "share"), [(1, 1.0), (3, 1.0), (4, 0.75), (7, 0.75)])
def test_three_quarters_of_four_or_more_fastened_appliances(number: int, share: float) -> None:
    assert part_iii.fixed_appliance_load([1000.0] * number) == pytest.approx(number * 1000.0 * share)
    assert part_iii.fixed_appliance_part(1000.0, number) == pytest.approx(1000.0 * share)


@pytest.mark.parametrize(("nameplate", "load"), [(4000.0, 5000.0), (5000.0, 5000.0), (7200.0, 7200.0)])
def test_a_dryer_counts_5000_va_at_least(nameplate: float, load: float) -> None:
    assert part_iii.dryer_load(nameplate) == load


def test_a_leg_carries_half_of_what_both_share_and_all_of_its_own() -> None:
    assert part_iii.leg_load_current(24000.0, 1200.0, 2.5) == pytest.approx(100.0 + 10.0 + 2.5)


def test_the_continuous_part_is_never_more_than_the_load() -> None:
    assert part_iii.continuous_part([48.0, 40.0], 70.0) == 70.0
    assert part_iii.continuous_part([48.0], 70.0) == 48.0


@pytest.mark.parametrize(("load", "optional", "existing"), [(8000.0, 8000.0, 8000.0), (10000.0, 10000.0, 8800.0), (30000.0, 18000.0, 16800.0)])
def test_the_first_kilovolt_amperes_count_in_full_and_the_rest_at_40_percent(load: float, optional: float, existing: float) -> None:
    assert part_iv.optional_general(load) == pytest.approx(optional)
    assert part_iv.existing_general(load) == pytest.approx(existing)


@given(va, va)
def test_more_general_load_never_counts_less(one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert part_iv.optional_general(less) <= part_iv.optional_general(more) + 1e-6


@pytest.mark.parametrize(("controls", "factor"), [(0, 0.65), (1, 0.65), (3, 0.65), (4, 0.4), (9, 0.4)])
def test_heat_counts_65_percent_or_40_percent_from_four_controls(controls: int, factor: float) -> None:
    assert part_iv.optional_heat(10000.0, controls) == pytest.approx(10000.0 * factor)


def test_a_heat_pump_that_cannot_run_with_its_supplement_is_not_added() -> None:
    assert part_iv.heat_pump_with_supplement(0.0, 10000.0) == pytest.approx(6500.0)
    assert part_iv.heat_pump_with_supplement(4000.0, 10000.0) == pytest.approx(10500.0)


def test_measured_demand_counts_a_quarter_more() -> None:
    assert part_iv.measured_existing(20000.0) == pytest.approx(25000.0)


@pytest.mark.parametrize(("average", "over"), [(12.0, 0.0), (12.49, 0.0), (12.5, 1.0), (13.49, 1.0), (27.0, 15.0)])
def test_a_major_fraction_of_a_kilowatt_counts_as_a_whole_one(average: float, over: float) -> None:
    assert cooking.kilowatts_over(average) == over


def test_appliances_below_12_kw_enter_the_average_as_12_kw() -> None:
    assert cooking.average_rating([3.0, 18.0]) == 15.0
    assert cooking.average_rating([8.0]) == 12.0


def test_column_c_rises_5_percent_for_each_kilowatt_over() -> None:
    assert cooking.column_c_demand(11.0, 4.0) == pytest.approx(11.0 * 1.2)


def test_the_lowest_lawful_demand_counts_and_what_is_outside_the_table_beside_it() -> None:
    assert cooking.cooking_load([14.0, 11.5, 20.0], [1500.0]) == pytest.approx(13000.0)
