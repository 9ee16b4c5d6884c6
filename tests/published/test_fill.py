"""Published worked examples of raceway fill."""

import pytest

from linecalc.calc.compare import at_most
from linecalc.calc.raceway import conductor_area, fill_percent, group_area, wires_by_note_7
from linecalc.codebook import EDITIONS, Book, open_book

LONG_FT = 10.0
NIPPLE_FT = 2.0


@pytest.fixture(params=EDITIONS)
def book(request: pytest.FixtureRequest) -> Book:
    return open_book(request.param)


def area_of(book: Book, insulation: str, wires: dict[str, int]) -> float:
    """Area of all conductors, in square inches; ``wires`` gives the count of each size."""
    groups = [group_area(count, book.conductor_area_in2(size, insulation)) for size, count in wires.items()]
    return float(conductor_area(groups))


def smallest_raceway(book: Book, raceway: str, area_in2: float, conductors: int, length_ft: float) -> str:
    """The first trade size whose fill keeps the limit."""
    limit = book.fill_limit(conductors, length_ft)
    for trade_size in book.raceway_sizes(raceway):
        if at_most(fill_percent(area_in2, book.raceway_area_in2(raceway, trade_size)), limit):
            return trade_size
    raise AssertionError(f"no {raceway} is large enough")


# Source: EC&M, "Code Calculations", 24 August 2004, example 1, http://ecmweb.com/nec/code_calc_082404/.
# Checked against the current table: yes.
def test_three_500_one_250_kcmil_and_one_3_awg_thhn_need_3_in_pvc(book: Book) -> None:
    area = area_of(book, "THHN", {"500 kcmil": 3, "250 kcmil": 1, "3 AWG": 1})
    assert area == pytest.approx(2.6162)
    assert smallest_raceway(book, "PVC40", area, 5, LONG_FT) == "3"


# Source: the same, example 2: the areas 0.8037, 0.1562 and 0.0507 are printed there; the size it gives was not
# at hand, so only the areas are compared. Checked against the current table: yes.
def test_the_areas_of_3_0_1_and_6_awg_thhn_are_those_of_the_nipple_example(book: Book) -> None:
    assert area_of(book, "THHN", {"3/0 AWG": 3}) == pytest.approx(0.8037)
    assert area_of(book, "THHN", {"1 AWG": 1}) == pytest.approx(0.1562)
    assert area_of(book, "THHN", {"6 AWG": 1}) == pytest.approx(0.0507)


# Source: Goodheart-Willcox, "Modern Commercial Wiring" (2018), sample problem 6-8, p. 100,
# https://www.g-wonlinetextbooks.com/modern-commercial-wiring-2018/114. Checked against the current table: yes.
def test_one_12_one_10_and_three_8_awg_thhn_need_3_4_in_rmc(book: Book) -> None:
    area = area_of(book, "THHN", {"12 AWG": 1, "10 AWG": 1, "8 AWG": 3})
    assert area == pytest.approx(0.1442)
    assert smallest_raceway(book, "RMC", area, 5, LONG_FT) == "3/4"


# Source: Mike Holt Forum, "Conduit and Nipples - 60% Rule",
# https://forums.mikeholt.com/threads/conduit-and-nipples-60-rule.2573770: 553.9 mm2 within 561 mm2 of 1-1/4 in PVC,
# from the metric columns; in square inches 553.8 within 562.6. Checked against the current table: yes.
def test_two_4_0_and_one_2_0_xhhw_just_fit_a_1_1_4_in_pvc_nipple_but_not_a_run(book: Book) -> None:
    area = area_of(book, "XHHW", {"4/0 AWG": 2, "2/0 AWG": 1})
    assert area * 645.16 == pytest.approx(553.9, abs=0.2)
    assert smallest_raceway(book, "PVC40", area, 3, NIPPLE_FT) == "1-1/4"
    assert smallest_raceway(book, "PVC40", area, 3, LONG_FT) != "1-1/4"


# Source: Mike Holt Forum, "Correct conduit size calculation?", http://forums.mikeholt.com/showthread.php?t=113294:
# 0.742 + 0.0507 = 0.7927 within 0.814. It prints 0.1885 for one 1/0 conductor, two digits swapped: its sum uses
# 0.1855, as the table has. Checked against the current table: yes.
def test_four_1_0_and_one_6_awg_thhn_fit_1_1_2_in_emt(book: Book) -> None:
    assert area_of(book, "THHN", {"1/0 AWG": 4}) == pytest.approx(0.742)
    area = area_of(book, "THHN", {"1/0 AWG": 4, "6 AWG": 1})
    assert area == pytest.approx(0.7927)
    assert smallest_raceway(book, "EMT", area, 5, LONG_FT) == "1-1/2"


# Source: Mike Holt Forum, "Nipple fill 60%", https://forums.mikeholt.com/threads/nipple-fill-60.2585679.
# Checked against the current table: yes.
@pytest.mark.parametrize(("length_ft", "wires"), [(LONG_FT, 266), (NIPPLE_FT, 399)])
def test_3_in_emt_takes_266_wires_of_12_awg_thhn_and_a_nipple_399(book: Book, length_ft: float, wires: int) -> None:
    found = wires_by_note_7(
        book.raceway_area_in2("EMT", "3"), book.conductor_area_in2("12 AWG", "THHN"), book.fill_limit(3, length_ft)
    )
    assert found.wires == wires


# Source: Mike Holt Forum, "Annex C1 error", https://forums.mikeholt.com/threads/annex-c1-error.133481: eight 8 AWG THW
# take .3496 of the .346 in2 allowed in 1 in EMT, yet Annex C lists eight. By area seven, by Note 7 eight: both kept.
# Checked against the current table: yes.
def test_eight_8_awg_thw_in_1_in_emt_pass_by_note_7_and_not_by_area(book: Book) -> None:
    area = area_of(book, "THW", {"8 AWG": 8})
    limit = book.fill_limit(8, LONG_FT)
    internal = book.raceway_area_in2("EMT", "1")
    assert area == pytest.approx(0.3496)
    assert not at_most(fill_percent(area, internal), limit)
    assert wires_by_note_7(internal, book.conductor_area_in2("8 AWG", "THW"), limit).wires == 8


# Source: Mike Holt Forum, "conductor volume", https://forums.mikeholt.com/threads/conductor-volume.2567806:
# 0.598 / 0.1562 = 3.83, listed as 4 by Note 7, and nothing may be added to the four. Checked against the current table: yes.
def test_four_1_awg_thhn_in_1_1_4_in_emt_pass_by_note_7_and_a_6_awg_beside_them_does_not_fit(book: Book) -> None:
    internal, limit = book.raceway_area_in2("EMT", "1-1/4"), book.fill_limit(4, LONG_FT)
    found = wires_by_note_7(internal, book.conductor_area_in2("1 AWG", "THHN"), limit)
    assert (round(float(found.quotient), 2), found.wires) == (3.83, 4)
    with_6_awg = area_of(book, "THHN", {"1 AWG": 4, "6 AWG": 1})
    assert with_6_awg == pytest.approx(0.6755)
    assert not at_most(fill_percent(with_6_awg, internal), limit)


# Source: Steel Tube Institute, "THHN Conductors and RMC", https://steeltubeinstitute.org/resources/thhn-conductors-and-rmc/
# (RMC), and Journal of Light Construction, "3/4-Inch Conduit Capacity",
# http://www.jlconline.com/wiring-and-cable/q-a--3-4-inch-conduit-capacity.aspx (EMT). Checked against the current table: yes.
@pytest.mark.parametrize("raceway", ["RMC", "EMT"])
def test_a_3_4_in_raceway_takes_sixteen_12_awg_thhn(book: Book, raceway: str) -> None:
    found = wires_by_note_7(
        book.raceway_area_in2(raceway, "3/4"), book.conductor_area_in2("12 AWG", "THHN"), book.fill_limit(16, LONG_FT)
    )
    assert found.wires == 16


# Source: IEC year 4 practice question (Passetra), https://iecyear4.passetra.com/question/a-112-rmc-nipple-with-dcac89668a9c1a58.
# Checked against the current table: yes.
def test_a_1_1_2_in_rmc_nipple_may_be_filled_to_1_243_in2(book: Book) -> None:
    limit = float(book.fill_limit(3, NIPPLE_FT))
    assert round(float(book.raceway_area_in2("RMC", "1-1/2")) * limit / 100.0, 3) == 1.243


# Source: Journeyman practice question (Examzify),
# https://journeymanelectricianstudyguide.examzify.com/question/what-is-the-required-minimum-61a1885ba3cd43e4.
# It names no insulation; THHN is taken, and only its answer is compared. Checked against the current table: yes.
def test_three_2_four_6_and_three_10_awg_need_1_1_2_in_emt(book: Book) -> None:
    area = area_of(book, "THHN", {"2 AWG": 3, "6 AWG": 4, "10 AWG": 3})
    assert smallest_raceway(book, "EMT", area, 10, LONG_FT) == "1-1/2"


# Source: fundamental code calculations practice question (Examzify),
# https://fundcodecalc.examzify.com/question/what-is-the-minimum-size-fa99b238f261b40d. Checked against the current table: yes.
def test_eight_12_awg_thw_and_their_grounding_conductor_need_3_4_in_emt(book: Book) -> None:
    assert smallest_raceway(book, "EMT", area_of(book, "THW", {"12 AWG": 9}), 9, LONG_FT) == "3/4"
