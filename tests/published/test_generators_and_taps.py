"""Generator conductors and feeder taps against published questions and answers."""

from __future__ import annotations

import pytest

from linecalc.calc.interconnection import tap_feeding_devices, tap_need_25_ft
from linecalc.calc.load import current_from_va
from linecalc.calc.source import generator_conductor_need
from linecalc.codebook import open_book
from linecalc.codebook.sizes import SIZES


def smallest(need_a: float) -> str:
    """The smallest copper size whose 75 degC ampacity reaches the need."""
    book = open_book("2023")
    return next(size for size in SIZES if (found := book.ampacity(size, "Cu", 75)) is not None and found.value >= need_a)


# Source: Mike Holt Enterprises, forum, "Residential generators", https://forums.mikeholt.com/threads/residential-generators.47484/latest:
# a 20 kW set of 83.3 A needs conductors of 83.3 x 1.15 = 95.795 A. Checked: yes.
def test_a_20_kw_generator_needs_conductors_of_95_8_a() -> None:
    assert generator_conductor_need(83.3) == pytest.approx(95.795)
    assert current_from_va(20_000.0, 240.0) == pytest.approx(83.33, abs=0.01)
    assert smallest(generator_conductor_need(83.3)) == "3 AWG"


# Source: Mike Holt Enterprises, forum, "445.13", https://forums.mikeholt.com/threads/445-13.12989: 60 kVA, single-phase 240 V,
# 250 A; 115 % is 287.5 A, not smaller than 350 kcmil. Checked against the current table: yes (300 kcmil has 285 A).
def test_a_60_kva_generator_needs_350_kcmil() -> None:
    assert generator_conductor_need(60_000.0 / 240.0) == pytest.approx(287.5)
    assert smallest(287.5) == "350 kcmil"


# The same source: with a 200 A breaker inside, the 115 % end at it; at 100 % (250 A) 250 kcmil would do.
def test_at_100_percent_the_same_generator_takes_250_kcmil() -> None:
    assert smallest(250.0) == "250 kcmil"


# Source: Mike Holt Enterprises, forum, "Load-Side Source Connection to a Feeder" (NEC 2023 705.12(A)(3)),
# https://forums.mikeholt.com/threads/load-side-source-connection-to-a-feeder.2580771/latest: a 60 A source between a 200 A
# meter-main and a 200 A panel: (200 + 60) / 3 = 87 A, 3 AWG copper in place of 6 AWG. Checked against the current table: yes.
def test_a_60_a_source_tapped_onto_a_200_a_feeder_takes_3_awg() -> None:
    need = tap_need_25_ft(tap_feeding_devices(200.0, [60.0]))
    assert round(need) == 87
    assert (smallest(need), smallest(60.0)) == ("3 AWG", "6 AWG")


# The same thread: 200 A of sources on a 600 A feeder. The thread's first reading asks for 200 + 200 = 400 A; the rule as
# the answer reads it, a third of the sum, gives (600 + 200) / 3 = 267 A. We compute the answer's.
def test_a_200_a_source_on_a_600_a_feeder_by_the_answers_reading() -> None:
    assert tap_need_25_ft(tap_feeding_devices(600.0, [200.0])) == pytest.approx(266.67, abs=0.01)
