"""Interconnection: busbars, feeder segments, taps and supply-side connections."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.term import Number, largest, named, smallest, total

SOURCE_FACTOR = 1.25
BUS_120 = 1.20


def source_demand(currents_a: Sequence[Number], cite: str = "busbar_sum") -> Number:
    """125 percent of the rated current of every source that reaches a bus, in amperes.

    Parameters
    ----------
    currents_a : rated continuous currents in amperes, one a source.
    cite : codebook key, `feeder_connection` where it loads a feeder.

    References
    ----------
    `busbar_sum` 705.12(B)(1), 705.12(B)(3)(1) in 2020, 705.12(B)(2)(3)(a) in 2017.

    Examples
    --------
    >>> source_demand([40.0, 16.0])
    70.0
    """
    return named(SOURCE_FACTOR * total(tuple(currents_a)), "I_src_125", "A", "125 % of the source currents", cite)


def bus_sum(source_demand_a: Number, protecting_device_a: Number) -> Number:
    """Sources at 125 percent plus the device that protects the bus, in amperes.

    Parameters
    ----------
    source_demand_a : from `source_demand`. protecting_device_a : device rating in amperes.

    References
    ----------
    `busbar_sum` 705.12(B)(1), 705.12(B)(3)(1) in 2020, 705.12(B)(2)(3)(a) in 2017;
    the same sum is held against `bus_120_limit` by `busbar_120`.

    Examples
    --------
    >>> bus_sum(50.0, 200.0)
    250.0
    """
    demand = source_demand_a + protecting_device_a
    return named(demand, "I_bus_sum", "A", "125 % of the sources plus the device protecting the bus", "busbar_sum")


def bus_120_limit(bus_a: Number) -> Number:
    """120 percent of a bus rating, in amperes.

    Parameters
    ----------
    bus_a : bus rating in amperes.

    References
    ----------
    `busbar_120` 705.12(B)(2), 705.12(B)(3)(2) in 2020, 705.12(B)(2)(3)(b) in 2017.

    Examples
    --------
    >>> bus_120_limit(225.0)
    270.0
    """
    return named(BUS_120 * bus_a, "I_bus_120", "A", "120 % of the bus rating", "busbar_120")


def bus_all_devices(devices_a: Sequence[Number]) -> Number:
    """Sum of every load and source device on a bus, its main left out, in amperes.

    Parameters
    ----------
    devices_a : device ratings in amperes.

    References
    ----------
    `busbar_all_breakers` 705.12(B)(3), 705.12(B)(3)(3) in 2020, 705.12(B)(2)(3)(c) in 2017.

    Examples
    --------
    >>> bus_all_devices([50.0, 20.0, 15.0])
    85.0
    """
    meaning = "sum of all devices on the bus, main left out"
    return named(total(tuple(devices_a)), "I_bus_all", "A", meaning, "busbar_all_breakers")


def remaining_by_sum(bus_a: Number, protecting_device_a: Number, source_demand_a: Number) -> Number:
    """What the sum method leaves for further sources, at 125 percent of their current, in amperes.

    Parameters
    ----------
    bus_a : bus rating. protecting_device_a : device protecting it. source_demand_a : present
        sources at 125 percent. Amperes.

    References
    ----------
    `busbar_sum` 705.12(B)(1), 705.12(B)(3)(1) in 2020, 705.12(B)(2)(3)(a) in 2017.

    Examples
    --------
    >>> remaining_by_sum(225.0, 150.0, 50.0)
    25.0
    """
    left = largest(0.0, bus_a - protecting_device_a - source_demand_a)
    return named(left, "I_left_sum", "A", "left for further sources, at 125 % of their current", "busbar_sum")


def remaining_by_120(bus_a: Number, protecting_device_a: Number, source_demand_a: Number) -> Number:
    """What the 120 percent method leaves for further sources, at 125 percent of their current, in amperes.

    Parameters
    ----------
    As `remaining_by_sum`.

    References
    ----------
    `busbar_120` 705.12(B)(2), 705.12(B)(3)(2) in 2020, 705.12(B)(2)(3)(b) in 2017.

    Examples
    --------
    >>> remaining_by_120(225.0, 200.0, 50.0)
    20.0
    """
    left = largest(0.0, bus_120_limit(bus_a) - protecting_device_a - source_demand_a)
    return named(left, "I_left_120", "A", "left for further sources, at 125 % of their current", "busbar_120")


def remaining_by_all_devices(bus_a: Number, devices_sum_a: Number) -> Number:
    """What the sum-of-devices method leaves for one more source device, in amperes.

    Parameters
    ----------
    bus_a : bus rating in amperes. devices_sum_a : from `bus_all_devices`.

    References
    ----------
    `busbar_all_breakers` 705.12(B)(3), 705.12(B)(3)(3) in 2020, 705.12(B)(2)(3)(c) in 2017.

    Examples
    --------
    >>> remaining_by_all_devices(125.0, 85.0)
    40.0
    """
    left = largest(0.0, bus_a - devices_sum_a)
    return named(left, "I_left_all", "A", "left for one more source device", "busbar_all_breakers")


def remaining_source_current(left_a: Number, cite: str = "busbar_sum") -> Number:
    """The rated source current that an amount left at 125 percent stands for, in amperes.

    Parameters
    ----------
    left_a : from one of the ``remaining_by`` kernels. cite : codebook key of that method.

    References
    ----------
    `busbar_sum`, `busbar_120` or `busbar_all_breakers`, by the method used.

    Examples
    --------
    >>> remaining_source_current(70.0)
    56.0
    """
    return named(left_a / SOURCE_FACTOR, "I_left", "A", "further source current that the bus takes", cite)


def feeder_segment_need(upstream_device_a: Number, source_demand_a: Number) -> Number:
    """Ampacity of a feeder downstream of where a source joins it, in amperes.

    Parameters
    ----------
    upstream_device_a : feeder device in amperes. source_demand_a : sources at 125 percent.

    References
    ----------
    `feeder_connection` 705.12(A)(2), 705.12(B)(1) in 2020, 705.12(B)(2)(1) in 2017.

    Examples
    --------
    >>> feeder_segment_need(100.0, 50.0)
    150.0
    """
    need = upstream_device_a + source_demand_a
    return named(need, "I_seg", "A", "ampacity needed downstream of the connection", "feeder_connection")


def tap_need_25_ft(feeding_a: Number) -> Number:
    """Ampacity of a tap of at most 25 ft: a third of what can feed it, in amperes.

    Parameters
    ----------
    feeding_a : feeder device plus sources, added as the edition says, in amperes.

    References
    ----------
    `feeder_taps` 705.12(A)(3), 705.12(B)(2) in 2020, 705.12(B)(2)(2) in 2017, with 240.21(B)(2).

    Examples
    --------
    >>> tap_need_25_ft(150.0)
    50.0
    """
    return named(feeding_a / 3.0, "I_tap_25", "A", "ampacity needed for a tap of at most 25 ft", "feeder_taps")


def tap_need_10_ft(feeding_a: Number) -> Number:
    """Ampacity of a tap of at most 10 ft: a tenth of what can feed it, in amperes.

    Parameters
    ----------
    feeding_a : feeder device plus sources, added as the edition says, in amperes.

    References
    ----------
    `feeder_taps` 705.12(A)(3), 705.12(B)(2) in 2020, 705.12(B)(2)(2) in 2017, with 240.21(B)(1).

    Examples
    --------
    >>> tap_need_10_ft(150.0)
    15.0
    """
    return named(feeding_a / 10.0, "I_tap_10", "A", "ampacity needed for a tap of at most 10 ft", "feeder_taps")


def supply_side_devices(devices_a: Sequence[Number]) -> Number:
    """Sum of the source devices on the supply side, held against the service rating, in amperes.

    Parameters
    ----------
    devices_a : device ratings in amperes.

    References
    ----------
    `supply_side` 705.12(A) in 2017.

    Examples
    --------
    >>> supply_side_devices([60.0, 30.0])
    90.0
    """
    return named(total(tuple(devices_a)), "I_ss_dev", "A", "sum of supply-side source devices", "supply_side")


def supply_side_currents(currents_a: Sequence[Number]) -> Number:
    """Sum of source currents on the supply side, held against the service conductors, in amperes.

    Parameters
    ----------
    currents_a : continuous source currents in amperes.

    References
    ----------
    `supply_side` 705.11 in 2020 and 2023.

    Examples
    --------
    >>> supply_side_currents([48.0, 24.0])
    72.0
    """
    return named(total(tuple(currents_a)), "I_ss", "A", "sum of supply-side source currents", "supply_side")


def tap_feeding_devices(feeder_device_a: Number, source_devices_a: Sequence[Number]) -> Number:
    """What can feed a tap where the edition adds the source devices, not their currents, in amperes.

    Parameters
    ----------
    feeder_device_a : device of the feeder. source_devices_a : devices of the sources on it. Amperes.

    References
    ----------
    `feeder_taps` 705.12(A)(3) in 2023.

    Examples
    --------
    >>> tap_feeding_devices(200.0, [60.0])
    260.0
    """
    feeding = feeder_device_a + total(tuple(source_devices_a))
    return named(feeding, "I_feeding", "A", "feeder device plus the devices of the sources on the feeder", "feeder_taps")


def controlled_current(sources_a: Number, setting_a: Number) -> Number:
    """Source current that a power control system lets flow, in amperes.

    Parameters
    ----------
    sources_a : rated currents of the sources together. setting_a : setting of the control. Amperes.

    References
    ----------
    `pcs` 705.13.

    Examples
    --------
    >>> controlled_current(80.0, 48.0)
    48.0
    """
    return named(smallest(sources_a, setting_a), "I_pcs", "A", "source current within the control setting", "pcs")


def sources_together(currents_a: Sequence[Number]) -> Number:
    """Sum of source currents, held against the rating of the meter, in amperes.

    Parameters
    ----------
    currents_a : rated continuous currents in amperes, one a source.

    References
    ----------
    `utility_limit`: the limit is the utility's.

    Examples
    --------
    >>> sources_together([40.0, 40.0])
    80.0
    """
    return named(total(tuple(currents_a)), "I_sources", "A", "rated currents of all sources together", "utility_limit")


def source_powers_together(powers_w: Sequence[Number]) -> Number:
    """Sum of source ratings, held against the cap of the utility, in watts.

    Parameters
    ----------
    powers_w : rated AC powers in watts, one a source.

    References
    ----------
    `utility_limit`: the limit is the utility's.

    Examples
    --------
    >>> source_powers_together([9600.0, 7600.0])
    17200.0
    """
    return named(total(tuple(powers_w)), "P_sources", "W", "rated powers of all sources together", "utility_limit")
