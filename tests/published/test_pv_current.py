"""Published worked examples of PV source currents and their devices."""

import pytest

from linecalc.calc.ampacity import terminal_need
from linecalc.calc.compare import at_least, at_most
from linecalc.calc.overcurrent import device_need, next_standard_at_or_above
from linecalc.calc.pv import input_short_circuit, source_current, string_protection_current
from linecalc.codebook import EDITIONS, Book, open_book


@pytest.fixture(params=EDITIONS)
def book(request: pytest.FixtureRequest) -> Book:
    return open_book(request.param)


# Source: MidNite Solar, do-it-yourself manual, p. 39,
# http://38.142.81.21:8001/manual/midnite-solar/mn5048diy/diy-manual-english/page-39.html.
def test_a_short_circuit_current_of_9_2_a_makes_11_5_and_then_14_4_a() -> None:
    maximum_a = source_current(9.2, 1)
    assert maximum_a == pytest.approx(11.5)
    assert round(terminal_need(maximum_a, 0.0), 1) == 14.4


# Source: aitefuse.com, "How to choose the right DC circuit breaker or PV fuse",
# https://aitefuse.com/news/how-to-choose-the-right-ampers-current-dc-circuit-breaker-or-pv-fuse-for-your-solar-system.
def test_a_short_circuit_current_of_8_5_a_makes_10_625_and_then_13_28_a() -> None:
    maximum_a = source_current(8.5, 1)
    assert maximum_a == pytest.approx(10.625)
    assert round(device_need(maximum_a, 0.0), 2) == 13.28


# Source: altE forum, "Panel to converter in-line fuse size?",
# https://www.altestore.com/forums/index.php/topic,1356.msg4792.html: five of 3 A, 156 percent of 15 A is 23.4 A,
# more than the 20 A that 12 AWG may have. The exact factor is 1.5625 and gives 23.44.
def test_five_modules_of_3_a_in_parallel_need_23_4_a_and_more_than_12_awg(book: Book) -> None:
    need_a = terminal_need(source_current(3.0, 5), 0.0)
    assert float(input_short_circuit(3.0, 5)) == 15.0
    assert need_a == pytest.approx(23.4, rel=0.002)
    assert not at_least(book.small_conductor_limit("12 AWG", "Cu"), need_a)


# Source: rv.decristofaro.us, "PV combiner box but no box", https://rv.decristofaro.us/2022/01/03/pv-combiner-box-but-no-box:
# 10.66 A and the factor 1.56: 16.63 A, so 20 A fuses, and 66.52 A for four. Exactly 16.66 and 66.63.
# The author then takes an 80 A breaker; the next standard rating is 70 A.
def test_strings_of_10_66_a_take_20_a_fuses_and_four_together_a_70_a_device(book: Book) -> None:
    one_a = device_need(source_current(10.66, 1), 0.0)
    four_a = device_need(source_current(10.66, 4), 0.0)
    assert (one_a, four_a) == (pytest.approx(16.63, rel=0.002), pytest.approx(66.52, rel=0.002))
    assert next_standard_at_or_above(book.standard_ratings(), one_a) == 20.0
    assert next_standard_at_or_above(book.standard_ratings(), four_a) == 70.0


# Source: the same: four in parallel give 42.64 A, above the 20 A series fuse of the module, so each needs a fuse.
def test_four_strings_of_10_66_a_with_20_a_module_fuses_need_string_protection() -> None:
    assert input_short_circuit(10.66, 4) == pytest.approx(42.64)
    assert not at_most(string_protection_current(4, 10.66, 0.0), 20.0)


# Source: Renogy, charge controller manual, p. 28, https://manualshive.com/ru/manual/renogy/rover-100a/1442919?page=29:
# 5.75 A x 1.56 = 8.97 A for one string, 17.94 A for two in parallel. Exactly 8.98 and 17.97.
@pytest.mark.parametrize(("strings", "published_a"), [(1, 8.97), (2, 17.94)])
def test_strings_of_5_75_a_need_8_97_a_each(strings: int, published_a: float) -> None:
    assert device_need(source_current(5.75, strings), 0.0) == pytest.approx(published_a, rel=0.002)


# Source: Northern Arizona Wind & Sun forum, "Fuse 35 watt system",
# https://forum.solar-electric.com/discussion/338894/fuse-35-watt-system: 10 x 0.19 x 1.25 x 1.25 = 3.0 A. It starts from
# the working current; by the short-circuit current of 0.21 A it is 3.28 A. Both numbers are kept.
@pytest.mark.parametrize(("module_a", "need_a"), [(0.19, 3.0), (0.21, 3.3)])
def test_ten_small_modules_need_3_0_a_by_working_and_3_3_a_by_short_circuit_current(module_a: float, need_a: float) -> None:
    assert round(device_need(source_current(module_a, 10), 0.0), 1) == need_a


# Source: RE-wrenches list, 14 September 2010,
# http://lists.re-wrenches.org/pipermail/re-wrenches-re-wrenches.org/attachments/20100914/54fd7aef/attachment-0004.html:
# 10 A breakers are 136 percent of 7.34 A and tripped; they were replaced by 15 A. Checked against the current table: yes.
def test_a_string_of_7_34_a_needs_15_a_where_10_a_is_136_percent(book: Book) -> None:
    need_a = device_need(source_current(7.34, 1), 0.0)
    assert round(100.0 * 10.0 / 7.34) == 136
    assert next_standard_at_or_above(book.standard_ratings(), need_a) == 15.0
