"""Published examples of grounding conductors, their increase, electrode conductors and bonding jumpers."""

from pathlib import Path

import pytest

from linecalc.calc.compare import at_least
from linecalc.calc.grounding import area_of_sets, proportional_egc_area, supply_side_jumper_area
from linecalc.codebook import EDITIONS, Book, open_book
from linecalc.codebook.sizes import SIZES
from tests.tables.reader import read_table


@pytest.fixture(params=EDITIONS)
def book(request: pytest.FixtureRequest) -> Book:
    return open_book(request.param)


def smallest_of_area(book: Book, area_cmil: float) -> str:
    """The first copper size that has the area."""
    return next(size for size in SIZES if at_least(book.area_cmil(size), area_cmil))


def raised_area(book: Book, device_a: float, smallest: str, installed: str) -> float:
    """Area of the copper grounding conductor of a device, raised from ``smallest`` to ``installed``."""
    base = book.area_cmil(book.egc_size(device_a, "Cu"))
    return float(proportional_egc_area(base, book.area_cmil(installed), book.area_cmil(smallest)))


def raised_size(book: Book, device_a: float, smallest: str, installed: str) -> str:
    return smallest_of_area(book, raised_area(book, device_a, smallest, installed))


# Source: INW Industrial Training, "Code Talk Episode 32 Notes",
# https://www.inwindustrialtraining.com/post/code-talk-episode-32-notes. Checked against the current table: yes.
def test_a_300_a_circuit_raised_from_250_to_350_kcmil_takes_a_2_awg_grounding_conductor(book: Book) -> None:
    assert book.egc_size(300.0, "Cu") == "4 AWG"
    assert float(proportional_egc_area(1.0, book.area_cmil("350 kcmil"), book.area_cmil("250 kcmil"))) == pytest.approx(1.4)
    assert raised_area(book, 300.0, "250 kcmil", "350 kcmil") == pytest.approx(58436.0)
    assert raised_size(book, 300.0, "250 kcmil", "350 kcmil") == "2 AWG"


# Source: Electrical Contractor Magazine (NECA), "CQD Spotlight: Equipment Grounding",
# https://www.ecmag.com/magazine/articles/article-detail/equipment-grounding-controls--cqd-spotlight (to 6 AWG);
# Mike Holt Forum, "grounding conductor sizing", https://forums.mikeholt.com/threads/grounding-conductor-sizing.49417/latest
# (to 4 AWG), and "EGC & Voltage Drop", https://forums.mikeholt.com/threads/egc-voltage-drop.83218/ (to 10 AWG).
# Checked against the current table: yes.
@pytest.mark.parametrize("installed", ["10 AWG", "6 AWG", "4 AWG"])
def test_the_grounding_conductor_of_a_20_a_circuit_grows_with_its_12_awg_conductors(book: Book, installed: str) -> None:
    assert raised_size(book, 20.0, "12 AWG", installed) == installed


# Source: Mike Holt Forum, "Sizing EGC for Voltage Drop", https://forums.mikeholt.com/goto/post?id=1955495 (8 AWG), and
# "Oven", page 2, https://forums.mikeholt.com/threads/oven.2548368/page-2, which rounds the ratio 1.589 to 1.6 first and
# so comes to 16,608 cmil and 6 AWG. Nothing is rounded before use here. Both numbers are kept.
def test_a_40_a_circuit_raised_from_8_to_6_awg_takes_8_awg_where_a_rounded_ratio_would_take_6(book: Book) -> None:
    exact_cmil = raised_area(book, 40.0, "8 AWG", "6 AWG")
    ratio = float(proportional_egc_area(1.0, book.area_cmil("6 AWG"), book.area_cmil("8 AWG")))
    rounded_cmil = float(book.area_cmil("10 AWG")) * round(ratio, 1)
    assert round(ratio, 2) == 1.59
    assert (smallest_of_area(book, exact_cmil), smallest_of_area(book, rounded_cmil)) == ("8 AWG", "6 AWG")
    assert rounded_cmil == pytest.approx(16608.0)


# Source: Mike Holt Forum, "100-Amp Equipment Ground Conductor",
# https://forums.mikeholt.com/threads/100-amp-equipment-ground-conductor.35762/post-552987: an inspector counts from
# 2 AWG and wants 6 AWG; counted from 3 AWG it would be 4 AWG. Checked against the current table: yes.
@pytest.mark.parametrize(("smallest", "grounding"), [("1 AWG", "8 AWG"), ("2 AWG", "6 AWG"), ("3 AWG", "4 AWG")])
def test_the_grounding_conductor_of_a_100_a_circuit_in_1_awg_depends_on_the_size_counted_from(
    book: Book, smallest: str, grounding: str
) -> None:
    assert raised_size(book, 100.0, smallest, "1 AWG") == grounding


# Source: RES magazine, August 2020, "RES Technical Corner", https://issuu.com./greggdowski/docs/2020_august_re/s/10806584:
# 105,600 / 83,690 = 1.26 times 16,510 cmil. The size it ends with was not at hand. Checked against the current table: yes.
def test_a_100_a_feeder_raised_from_1_to_1_0_awg_multiplies_an_8_awg_grounding_conductor_by_1_26(book: Book) -> None:
    ratio = float(proportional_egc_area(1.0, book.area_cmil("1/0 AWG"), book.area_cmil("1 AWG")))
    assert (book.egc_size(100.0, "Cu"), float(book.area_cmil("8 AWG"))) == ("8 AWG", 16510.0)
    assert round(ratio, 2) == 1.26


# Source: Mike Holt Forum, "Upsizing feeder wire and GND for voltage drop",
# https://forums.mikeholt.com/threads/upsizing-feeder-wire-and-gnd-for-voltage-drop.2584159: factor 3.57, 188,152 cmil,
# 4/0 in each conduit. Checked against the current table: yes (188,153.8 unrounded).
def test_a_400_a_feeder_raised_from_3_0_to_600_kcmil_takes_4_0_in_each_raceway(book: Book) -> None:
    assert book.egc_size(400.0, "Cu") == "3 AWG"
    assert raised_area(book, 400.0, "3/0 AWG", "600 kcmil") == pytest.approx(188152.0, abs=5.0)
    assert raised_size(book, 400.0, "3/0 AWG", "600 kcmil") == "4/0 AWG"


# Source: Loomi, "Equipment Grounding Conductor Sizing (250.122)", https://loomi.fyi/nec/egc-sizing-250-122/.
# Checked against the current table: yes.
@pytest.mark.parametrize(
    ("device_a", "size"), [(15.0, "14 AWG"), (20.0, "12 AWG"), (60.0, "10 AWG"), (100.0, "8 AWG"), (200.0, "6 AWG")]
)
def test_grounding_conductors_by_device(book: Book, device_a: float, size: str) -> None:
    assert book.egc_size(device_a, "Cu") == size


# Source: The Building Code Forum, "Sizing a supply side or main bond with parallel conductors",
# https://www.thebuildingcodeforum.com/forum/threads/sizing-a-supply-side-or-main-bond-with-parallel-conductors.26483.
# Checked against the current table: yes.
@pytest.mark.parametrize(
    ("size", "sets", "jumper"), [("250 kcmil", 1, "2 AWG"), ("250 kcmil", 3, "2/0 AWG"), ("3/0 AWG", 2, "2 AWG")]
)
def test_supply_side_bonding_jumpers_by_the_area_of_parallel_sets(book: Book, size: str, sets: int, jumper: str) -> None:
    assert book.supply_side_jumper(sets * float(book.area_cmil(size)), "Cu", "Cu") == jumper


# Source: the same, for two 3/0 in aluminium; 2 x 167,800 = 335,600 cmil is printed there.
def test_two_3_0_copper_take_a_1_0_aluminium_jumper(book: Book) -> None:
    assert 2.0 * float(book.area_cmil("3/0 AWG")) == 335600.0
    assert book.supply_side_jumper(335600.0, "Cu", "Al") == "1/0 AWG"


# Source: NEC Digest example quoted in Mike Holt Forum, https://forums.mikeholt.com/threads/electrician.27781.
# Checked against the current table: yes.
def test_four_500_kcmil_sets_take_a_bonding_jumper_of_250_kcmil(book: Book) -> None:
    ungrounded_cmil = 4.0 * float(book.area_cmil("500 kcmil"))
    assert book.supply_side_jumper(ungrounded_cmil, "Cu", "Cu") == ""
    assert float(supply_side_jumper_area(ungrounded_cmil)) == pytest.approx(250000.0)
    assert smallest_of_area(book, float(supply_side_jumper_area(ungrounded_cmil))) == "250 kcmil"


# Source: CED Greentech, answer to "I am designing a PV system with continuous output of 79 A",
# https://greentechrenewables.com/question/i-am-designing-pv-system-has-continuous-output-79-ampacity-overcurrent-protection-988.
# Checked against the current table: yes.
def test_a_supply_side_connection_in_3_awg_takes_an_8_awg_grounded_conductor(book: Book) -> None:
    assert book.supply_side_jumper(float(book.area_cmil("3 AWG")), "Cu", "Cu") == "8 AWG"


# Source: EC&M, "Code Quiz" (5 kV service disconnect), http://www.ecmweb.com/quizzes/code-quiz-106?page=4.
# Checked against the current table: yes.
def test_a_350_kcmil_service_takes_a_2_awg_electrode_conductor(book: Book) -> None:
    assert book.electrode_conductor(float(book.area_cmil("350 kcmil")), "Cu", "Cu") == "2 AWG"


# Source: EC&M, "Proper Size Grounding Electrode Conductor",
# https://www.ecmweb.com/code-quiz-day/proper-size-grounding-electrode-conductor. Checked against the current table: yes.
def test_no_copper_electrode_conductor_need_be_larger_than_3_0(book: Book) -> None:
    assert book.electrode_conductor(4.0 * float(book.area_cmil("500 kcmil")), "Cu", "Cu") == "3/0 AWG"


# Source: EC&M, "Sizing a Supply-Side Bonding Jumper" (code quiz),
# https://www.ecmweb.com/code-quiz-day/sizing-supply-side-bonding-jumper-0. Checked against the current table: yes.
def test_4_0_aluminum_service_conductors_take_a_4_awg_copper_bonding_jumper(book: Book) -> None:
    assert book.supply_side_jumper(float(book.area_cmil("4/0 AWG")), "Al", "Cu") == "4 AWG"


# Source: EC&M, "Quizzes on the Code: Grounding, Art. 250", answers by Stallcup,
# http://ecmweb.com/content/quizzes-code-39?quicktabs_11=2, read from Table 250-66, of which Table 250.102(C)(1) is the
# successor for jumpers and grounded conductors. Checked against the current tables: yes.
def test_a_250_kcmil_service_takes_2_awg_for_neutral_jumper_and_water_pipe_and_6_awg_for_its_rod(book: Book) -> None:
    area_cmil = float(book.area_cmil("250 kcmil"))
    assert book.supply_side_jumper(area_cmil, "Cu", "Cu") == "2 AWG"
    assert book.electrode_conductor(area_cmil, "Cu", "Cu") == "2 AWG"
    assert book.electrode_limit("rod", "Cu") == "6 AWG"


# Source: EC&M, "Code Calculations" (grounded conductor of a 400 A service), http://www.ecmweb.com/nec/code-calculations-3:
# 3 AWG for 100 A of unbalance, yet 1/0 AWG for fault current. Read there from Table 250.66, now Table 250.102(C)(1).
# Checked against the current tables: yes.
def test_the_neutral_of_a_500_kcmil_service_is_1_0_for_fault_current_where_3_awg_would_carry_its_load(book: Book) -> None:
    assert float(book.ampacity("3 AWG", "Cu", 75)) == 100.0
    assert book.supply_side_jumper(float(book.area_cmil("500 kcmil")), "Cu", "Cu") == "1/0 AWG"


# Source: ECN Forum, "400 A service entrance neutral wire size?",
# https://www.electrical-contractor.net/forums/ubbthreads.php/ubb/printthread/Board/2/main/22058/type/thread.html.
# Checked against the current table: yes.
def test_500_mcm_copper_in_one_raceway_allows_a_1_0_grounded_conductor(book: Book) -> None:
    assert book.supply_side_jumper(500000.0, "Cu", "Cu") == "1/0 AWG"


# Source: Mike Holt Enterprises, "250.30 Grounding and Bonding of Separately Derived AC Systems",
# http://www.mikeholt.com/videodisplaynew.php?pageid=4393: 3/0 secondary conductors. Checked against the current table: yes.
def test_a_separately_derived_system_in_3_0_takes_a_4_awg_system_bonding_jumper(book: Book) -> None:
    assert book.supply_side_jumper(float(book.area_cmil("3/0 AWG")), "Cu", "Cu") == "4 AWG"


# Source: ExpertCE, "NEC 250.66 Grounding Electrode Conductor Sizing (2023 Update)",
# https://expertce.com/learn-articles/nec-250-66-grounding-electrode-conductor. Checked against the current table: yes.
def test_a_500_kcmil_copper_service_takes_a_1_0_electrode_conductor(book: Book) -> None:
    assert book.electrode_conductor(500000.0, "Cu", "Cu") == "1/0 AWG"


# Source: Mike Holt Forum, "main bonding jumper", https://forums.mikeholt.com/threads/main-bonding-jumper.4852: 600 kcmil
# aluminum, 3/0 aluminum or 1/0 copper to the water pipe. Checked against the current table: yes.
@pytest.mark.parametrize(("material", "size"), [("Al", "3/0 AWG"), ("Cu", "1/0 AWG")])
def test_600_kcmil_aluminum_service_conductors_take_3_0_aluminum_or_1_0_copper_to_a_water_pipe(
    book: Book, material: str, size: str
) -> None:
    assert book.electrode_conductor(600000.0, "Al", material) == size


# Source: Mike Holt Forum, "Delete Section 250.66", https://forums.mikeholt.com/threads/delete-section-250-66.24805: with a
# 600 kcmil service a water pipe takes 2/0, rods only 6 AWG. The table puts 600 kcmil copper in the row that ends there:
# 1/0 AWG. Both numbers are kept; the rod agrees.
def test_a_600_kcmil_service_takes_1_0_where_a_forum_post_has_2_0_and_6_awg_to_rods(book: Book) -> None:
    assert book.electrode_conductor(600000.0, "Cu", "Cu") == "1/0 AWG"
    assert book.electrode_conductor(600001.0, "Cu", "Cu") == "2/0 AWG"
    assert book.electrode_limit("rod", "Cu") == "6 AWG"


# Source: EC&M, "Code Quiz: Copper Grounding Electrode Sizing" (2023 NEC), 2026-01-02,
# https://www.ecmweb.com/national-electrical-code/quizzes/article/55340858/code-quiz-copper-grounding-electrode-sizing; and
# ECN Forum, "250.66 and Ufer",
# https://www.electrical-contractor.net/forums/ubbthreads.php/ubb/printthread/Board/2/main/22314/type/thread.html: 400 A
# service, concrete-encased electrode alone. Checked against the current text: yes.
def test_a_conductor_to_a_concrete_encased_electrode_need_not_exceed_4_awg(book: Book) -> None:
    assert book.electrode_limit("concrete-encased", "Cu") == "4 AWG"
    assert book.electrode_conductor(500000.0, "Cu", "Cu") == "1/0 AWG"


# Source: Electrical License Renewal, "250.66(A) Size of Alternating-Current Grounding Electrode Conductor",
# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1000.
# Checked against the current text: yes.
@pytest.mark.parametrize("electrode", ["rod", "pipe", "plate"])
def test_a_conductor_to_rods_pipes_or_plates_need_not_exceed_6_awg_copper_or_4_awg_aluminum(book: Book, electrode: str) -> None:
    assert (book.electrode_limit(electrode, "Cu"), book.electrode_limit(electrode, "Al")) == ("6 AWG", "4 AWG")


# Source: NEC Digest example quoted in Mike Holt Forum, https://forums.mikeholt.com/threads/electrician.27781: aluminum sets
# of 750 kcmil, printed as "2 sets" and computed with three: 2,250,000 cmil. One eighth of it is 281,250 cmil.
# Checked against the current table: yes, above 1750 kcmil aluminum.
def test_three_750_kcmil_aluminum_sets_are_beyond_the_table(book: Book) -> None:
    area_cmil = float(area_of_sets(750000.0, 3.0))
    assert area_cmil == 2250000.0
    assert book.supply_side_jumper(area_cmil, "Al", "Al") == ""
    assert float(supply_side_jumper_area(area_cmil)) == 281250.0


# Source: VoltageLab, "GEC sizing quick quiz", question 5,
# https://www.voltagelab.com/quiz-explorer/electrical/power-systems/gec-sizing-quick-quiz/9166/: four sets of 350 kcmil are
# 1400 kcmil. Checked against the current table: 3/0 AWG, the most it ever asks for.
def test_four_sets_of_350_kcmil_are_1400_kcmil(book: Book) -> None:
    area_cmil = float(area_of_sets(350000.0, 4.0))
    assert area_cmil == 1400000.0
    assert book.electrode_conductor(area_cmil, "Cu", "Cu") == "3/0 AWG"


# Source: Examzify, "ICC Residential Electrical Inspectors Practice Exam",
# https://iccresidentialelectricalinspectors.examzify.com/question/what-is-the-minimum-size-593b8ef4edabdd79, gives 1/0 copper
# for a service in 250 kcmil aluminum. The table has 4 AWG copper for aluminum up to 250 kcmil. Both are kept.
def test_a_250_kcmil_aluminum_service_takes_4_awg_copper_where_a_practice_exam_has_1_0(book: Book) -> None:
    assert book.electrode_conductor(250000.0, "Al", "Cu") == "4 AWG"


# Source: Examzify, "ICC Residential Building Inspector", https://iccresidentialbldginspector.examzify.com/question/
# if-a-service-line-is-3faa4b2b68249835: 4 AWG copper or smaller takes 8 AWG copper. Checked against the current table: yes.
def test_a_4_awg_copper_service_takes_an_8_awg_electrode_conductor(book: Book) -> None:
    assert book.electrode_conductor(float(book.area_cmil("4 AWG")), "Cu", "Cu") == "8 AWG"


COPIES = Path(__file__).parent / "copies"
ELECTRODES = {row["electrode"]: row for row in read_table(Path(__file__).parents[2] / "tables" / "250.66-electrodes.csv")[1]}


# Sources: Electrical License Renewal, 250.66(A), and the Mike Holt Forum, Grounding Ring; addresses in the copies' headers.
@pytest.mark.parametrize("name", ["electrical-license-renewal", "mike-holt-forum"])
def test_the_largest_conductor_to_each_kind_of_electrode_is_that_of_the_copies(name: str) -> None:
    rows = read_table(COPIES / f"250.66-electrodes--{name}.csv")[1]
    assert rows and all(ELECTRODES[row["electrode"]] == row for row in rows)
