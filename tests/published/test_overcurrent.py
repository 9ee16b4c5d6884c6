"""Published examples of device ratings: next standard size, small conductors, source circuits, compressors."""

import pytest

from linecalc.calc.ampacity import corrected_ampacity
from linecalc.calc.compare import at_least, at_most
from linecalc.calc.overcurrent import (
    ProtectionBasis,
    device_need,
    largest_standard_at_or_below,
    next_standard_at_or_above,
    protected_by_device,
)
from linecalc.calc.load import current_from_va
from linecalc.codebook import EDITIONS, Book, open_book
from linecalc.units import convert


@pytest.fixture(params=EDITIONS)
def book(request: pytest.FixtureRequest) -> Book:
    return open_book(request.param)


# Source: Mike Holt Forum, "240.4(B), can someone explain why",
# https://forums.mikeholt.com/threads/240-4-b-can-someone-explain-why.54292/latest, and ECN Forum, "240.4(B) when?",
# https://www.electrical-contractor.net/forums/ubbthreads.php/ubb/printthread/Board/2/main/8534/type/thread.html.
# Checked against the current table: yes.
def test_500_kcmil_copper_of_380_a_may_stand_behind_a_400_a_device(book: Book) -> None:
    ampacity_a = book.ampacity("500 kcmil", "Cu", 75)
    protection = protected_by_device(ampacity_a, 400.0, book.standard_ratings(), True)
    assert float(ampacity_a) == 380.0
    assert (protection.protected, protection.basis) == (True, ProtectionBasis.NEXT_SIZE_UP)
    assert not protected_by_device(ampacity_a, 450.0, book.standard_ratings(), True).protected


# Source: Mike Holt Forum, "Wire size for 200 amps service",
# https://forums.mikeholt.com/threads/wire-size-for-200-amps-service.148918/latest. Checked against the current table: yes.
@pytest.mark.parametrize(("size", "ampacity_a", "device_a"), [("2/0 AWG", 135.0, 150.0), ("4/0 AWG", 180.0, 200.0)])
def test_aluminium_service_sizes_are_protected_by_the_next_size_up(
    book: Book, size: str, ampacity_a: float, device_a: float
) -> None:
    found = book.ampacity(size, "Al", 75)
    protection = protected_by_device(found, device_a, book.standard_ratings(), True)
    assert float(found) == ampacity_a
    assert (protection.protected, float(protection.limit_a)) == (True, device_a)


# Source: Mike Holt Forum, "Derating conductors on roof", https://forums.mikeholt.com/threads/derating-conductors-on-roof.2586520.
# Checked against the current table: yes; the 131 degF are taken as given.
def test_a_30_a_device_protects_a_conductor_of_25_65_a(book: Book) -> None:
    ampacity_a = corrected_ampacity(
        book.ampacity("6 AWG", "Cu", 90), book.ambient_factor(convert(131.0, "degF", "degC"), 90), book.count_factor(30)
    )
    protection = protected_by_device(ampacity_a, 30.0, book.standard_ratings(), True)
    assert (protection.protected, protection.basis) == (True, ProtectionBasis.NEXT_SIZE_UP)


# Source: ECN Forum, post on thirty 12 AWG conductors,
# http://www.electrical-contractor.net/forums/ubbthreads.php?ubb=showflat&Number=77308:
# 13.5 A, so a 15 A device. Checked against the current table: yes. The 10 A rating of 2023 is below 13.5 and changes nothing.
def test_a_conductor_of_13_5_a_takes_a_15_a_device(book: Book) -> None:
    ampacity_a = corrected_ampacity(book.ampacity("12 AWG", "Cu", 90), book.ambient_factor(30.0, 90), book.count_factor(30))
    assert next_standard_at_or_above(book.standard_ratings(), ampacity_a) == 15.0


# Source: Mike Holt Forum, "Service Disconnect", https://forums.mikeholt.com/threads/service-disconnect.104150.
# Checked against the current table: yes.
def test_2_0_copper_of_175_a_is_protected_by_150_a_fuses(book: Book) -> None:
    ampacity_a = book.ampacity("2/0 AWG", "Cu", 75)
    protection = protected_by_device(ampacity_a, 150.0, book.standard_ratings(), True)
    assert float(ampacity_a) == 175.0
    assert protection.basis is ProtectionBasis.WITHIN_AMPACITY


# Source: IAEI Magazine, September-October 2020, "It's Always the Basics", photos 1a and 1b,
# https://iaeimagazine.org/issue/2020-september-october/its-always-the-basics/attachment/2020_09_jackson_ph1b/.
# Checked against the current table: yes.
def test_an_inverter_of_7600_w_needs_a_40_a_breaker_which_10_awg_may_not_have(book: Book) -> None:
    current_a = current_from_va(7600.0, 240.0)
    breaker_a = next_standard_at_or_above(book.standard_ratings(), device_need(current_a, 0.0))
    limit_a = book.small_conductor_limit("10 AWG", "Cu")
    assert (breaker_a, float(limit_a)) == (40.0, 30.0)
    assert not at_most(breaker_a, limit_a)


# Source: CED Greentech, answer to "I am designing a PV system with continuous output of 79 A",
# https://greentechrenewables.com/question/i-am-designing-pv-system-has-continuous-output-79-ampacity-overcurrent-protection-988.
# Checked against the current table: yes.
def test_79_a_of_inverter_current_need_98_75_a_3_awg_and_a_100_a_device(book: Book) -> None:
    need_a = device_need(79.0, 0.0)
    assert need_a == pytest.approx(98.75)
    assert float(book.ampacity("3 AWG", "Cu", 75)) == 100.0
    assert at_least(book.ampacity("3 AWG", "Cu", 75), need_a) and not at_least(book.ampacity("4 AWG", "Cu", 75), need_a)
    assert next_standard_at_or_above(book.standard_ratings(), need_a) == 100.0


# Source: VoltExam, "Conductors & Ampacity Practice Questions", question 1,
# https://www.voltexam.com/questions/electrician/conductors-and-ampacity. Checked against the current table: yes.
def test_10_awg_thhn_has_40_a_but_a_device_of_30_a_at_most(book: Book) -> None:
    assert float(book.ampacity("10 AWG", "Cu", int(book.insulation("THHN").dry_c))) == 40.0
    assert float(book.small_conductor_limit("10 AWG", "Cu")) == 30.0


# Source: EC&M, "Code Q&A: Air Conditioner Calculations" (2011),
# https://www.ecmweb.com/national-electrical-code/qa/article/20899028/code-qa-air-conditioner-calculations.
# Conductor 24 x 1.25 = 30 A, 10 AWG; device 24 x 1.75 = 42, next down 40 A, at most 24 x 2.25 = 54, next down 50 A.
# It says "10 AWG, rated 30A at 75C": 30 A is the 60 degC value, at 75 degC the table has 35. Both numbers are kept.
def test_a_compressor_of_24_a_takes_10_awg_and_a_device_of_40_or_at_most_50_a(book: Book) -> None:
    need_a = device_need(24.0, 0.0)
    assert need_a == pytest.approx(30.0)
    assert (float(book.ampacity("10 AWG", "Cu", 60)), float(book.ampacity("10 AWG", "Cu", 75))) == (30.0, 35.0)
    assert at_least(book.ampacity("10 AWG", "Cu", 60), need_a)
    ratings = book.standard_ratings()
    assert largest_standard_at_or_below(ratings, 24.0 * 1.75) == 40.0
    assert largest_standard_at_or_below(ratings, 24.0 * 2.25) == 50.0


# Source: EC&M, "Stumped by the Code? NEC Requirements for Sizing Branch Circuit Conductors for a Single
# Motor Compressor", 5 April 2022, https://ecmweb.com/national-electrical-code/qa/article/21237517/.
# Checked against the current table: yes.
def test_a_compressor_of_18_a_takes_10_awg_at_60_degc_and_a_device_of_30_or_at_most_40_a(book: Book) -> None:
    need_a = device_need(18.0, 0.0)
    assert need_a == pytest.approx(22.50)
    assert float(book.ampacity("12 AWG", "Cu", 60)) < need_a <= float(book.ampacity("10 AWG", "Cu", 60)) == 30.0
    ratings = book.standard_ratings()
    assert largest_standard_at_or_below(ratings, 18.0 * 1.75) == 30.0
    assert largest_standard_at_or_below(ratings, 18.0 * 2.25) == 40.0


# Source: EC&M, "Code Quiz" (hermetic compressor of 38 A, branch-circuit selection current 40 A),
# http://ecmweb.com/print/nec/code-quiz-33. Checked against the current table: yes.
def test_a_selection_current_of_40_a_gives_a_standard_device_of_70_a(book: Book) -> None:
    assert largest_standard_at_or_below(book.standard_ratings(), 40.0 * 1.75) == 70.0


# Source: EC&M, "Code Q&A" (air conditioner marked 44 A minimum circuit, 60 A maximum device),
# http://ecmweb.com/print/nec/code-qa-42?page=17. Checked against the current table: yes.
def test_a_marked_circuit_ampacity_of_44_a_takes_8_awg_at_75_degc(book: Book) -> None:
    assert at_least(book.ampacity("8 AWG", "Cu", 75), 44.0) and not at_least(book.ampacity("10 AWG", "Cu", 75), 44.0)
    assert float(book.ampacity("8 AWG", "Cu", 75)) == 50.0
    assert largest_standard_at_or_below(book.standard_ratings(), 60.0) == 60.0
