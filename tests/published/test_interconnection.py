"""Published examples of busbars, feeders with a source, taps and supply-side connections."""

import pytest

from linecalc.calc.compare import at_least, at_most
from linecalc.calc.interconnection import (
    bus_120_limit,
    bus_all_devices,
    bus_sum,
    feeder_segment_need,
    remaining_by_120,
    source_demand,
    supply_side_currents,
    tap_need_25_ft,
)
from linecalc.codebook import open_book


# Source: Mike Holt Forum, "Back-fed c/b", https://forums.mikeholt.com/threads/back-fed-c-b.94786/. It counts breakers, as
# the rule did before 2014; the 90 A are now 125 percent of the source current.
def test_a_200_a_bus_behind_a_150_a_main_leaves_90_a_for_sources() -> None:
    assert bus_120_limit(200.0) == pytest.approx(240.0)
    assert remaining_by_120(200.0, 150.0, 0.0) == pytest.approx(90.0)


# Source: RE-wrenches list, message of 3 March 2016,
# https://go.mail-archive.com/re-wrenches@lists.re-wrenches.org/msg21261.html (centre-fed panel of a dwelling), and
# ABP Electrical, "120 Rule", https://abpelectrical.com/120-rule/: 200 + 40 = 240 works, 250 does not.
def test_a_200_a_bus_behind_a_200_a_main_takes_40_a_exactly() -> None:
    limit_a = bus_120_limit(200.0)
    assert remaining_by_120(200.0, 200.0, 0.0) == pytest.approx(40.0)
    assert at_most(bus_sum(source_demand([32.0]), 200.0), limit_a)
    assert not at_most(bus_sum(source_demand([40.0]), 200.0), limit_a)


# Source: Mike Holt Forum, "120% rule and end-of-busbar", page 2,
# https://forums.mikeholt.com/threads/120-rule-and-end-of-busbar.2580629/page-2 (705.12(B)(1) and (2) of 2023).
def test_64_a_of_sources_behind_200_a_need_a_bus_of_280_a_or_of_233_a_by_120_percent() -> None:
    need_a = bus_sum(source_demand([32.0, 32.0]), 200.0)
    assert need_a == pytest.approx(280.0)
    assert at_most(need_a, bus_120_limit(233.34)) and not at_most(need_a, bus_120_limit(233.0))


# Source: Mike Holt Forum, post 1709568, https://forums.mikeholt.com/goto/post?id=1709568: 120 A of sources (125 percent
# from 2014 on) and a 200 A feeder device.
def test_a_feeder_behind_200_a_with_120_a_of_sources_needs_320_a() -> None:
    assert feeder_segment_need(200.0, source_demand([96.0])) == pytest.approx(320.0)


# Source: Mike Holt Forum, "Load-Side Source Connection to a Feeder",
# https://forums.mikeholt.com/threads/load-side-source-connection-to-a-feeder.2580771/latest: (200 + 60) / 3 = 87 A, so
# 3 AWG and not 6 AWG. Checked against the current table: yes.
def test_a_25_ft_tap_of_a_60_a_source_on_a_200_a_feeder_needs_87_a_and_3_awg() -> None:
    book = open_book("2023")
    need_a = tap_need_25_ft(feeder_segment_need(200.0, source_demand([48.0])))
    assert round(need_a) == 87
    assert at_least(book.ampacity("3 AWG", "Cu", 75), need_a)
    assert not at_least(book.ampacity("4 AWG", "Cu", 75), need_a)


# Source: the same, its first poster's reading for 600 A and 200 A, 600 / 3 + 200 = 400 A. The reading that the others
# settle on adds first: (600 + 200) / 3 = 267 A. Both numbers are kept.
def test_the_tap_rule_adds_the_sources_before_it_divides() -> None:
    need_a = tap_need_25_ft(feeder_segment_need(600.0, source_demand([160.0])))
    first_posters_a = 400.0
    assert need_a == pytest.approx(800.0 / 3.0) != first_posters_a


# Source: Mike Holt Forum, "2020 705.12(B)(3)(3)", https://forums.mikeholt.com/threads/2020-705-12-b-3-3.2576650: an 80 A
# source device and four of 20 A on a 200 A bus whose feed-through supplies a 200 A panel. Readings differ on
# whether the 200 A device beyond the feed-through counts; it decides here.
def test_the_sum_of_devices_passes_without_the_device_beyond_the_feed_through_and_fails_with_it() -> None:
    on_the_bus = [80.0, 20.0, 20.0, 20.0, 20.0]
    assert at_most(bus_all_devices(on_the_bus), 200.0)
    assert not at_most(bus_all_devices([*on_the_bus, 200.0]), 200.0)


# Source: CED Greentech, answer to "I am designing a PV system with continuous output of 79 A",
# https://greentechrenewables.com/question/i-am-designing-pv-system-has-continuous-output-79-ampacity-overcurrent-protection-988.
def test_79_a_connect_ahead_of_a_200_a_service() -> None:
    assert at_most(supply_side_currents([79.0]), 200.0)
    assert source_demand([79.0]) == pytest.approx(98.75)
