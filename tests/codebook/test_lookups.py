"""Look-ups: bands, edges, editions, and what lies outside a table."""

from __future__ import annotations

import pytest

from linecalc.codebook import EDITIONS, open_book
from linecalc.errors import InputError, TableError
from linecalc.term import Term, value_of

BOOK = open_book("2023")


def test_ampacity_is_a_term_that_names_table_row_and_column():
    found = BOOK.ampacity("6 AWG", "Cu", 75)
    assert isinstance(found, Term)
    assert (found.value, found.origin, found.cite) == (65.0, "table:310.16/6 AWG/cu_75c_a", "ampacity_table")


def test_a_look_up_is_made_once():
    assert BOOK.ampacity("6 AWG", "Cu", 75) is BOOK.ampacity("6 AWG", "Cu", 75)


def test_14_awg_aluminium_is_not_listed():
    assert BOOK.ampacity("14 AWG", "Al", 75) is None


@pytest.mark.parametrize(("ambient", "factor"), [(-40.0, 1.15), (10.0, 1.15), (10.1, 1.12), (30.0, 1.0), (30.1, 0.96), (35.0, 0.96), (35.1, 0.91), (85.0, 0.29)])
def test_ambient_bands_of_the_90_degree_column(ambient, factor):
    assert value_of(BOOK.ambient_factor(ambient, 90)) == factor


def test_above_the_ambient_table_there_is_no_factor():
    assert BOOK.ambient_factor(85.1, 90) is None
    assert BOOK.ambient_factor(56.0, 60) is None
    assert BOOK.ambient_factor(71.0, 75) is None


@pytest.mark.parametrize(("count", "factor"), [(1, 1.0), (3, 1.0), (4, 0.8), (6, 0.8), (7, 0.7), (9, 0.7), (10, 0.5), (20, 0.5), (21, 0.45), (30, 0.45), (31, 0.4), (40, 0.4), (41, 0.35), (500, 0.35)])
def test_count_bands(count, factor):
    assert value_of(BOOK.count_factor(count)) == factor


@pytest.mark.parametrize(("device", "copper", "aluminium"), [(15, "14 AWG", "12 AWG"), (16, "12 AWG", "10 AWG"), (20, "12 AWG", "10 AWG"), (21, "10 AWG", "8 AWG"), (60, "10 AWG", "8 AWG"), (61, "8 AWG", "6 AWG"), (100, "8 AWG", "6 AWG"), (200, "6 AWG", "4 AWG"), (400, "3 AWG", "1 AWG")])
def test_grounding_conductor_of_the_next_rating_up(device, copper, aluminium):
    assert (BOOK.egc_size(device, "Cu"), BOOK.egc_size(device, "Al")) == (copper, aluminium)


def test_the_grounding_table_ends_with_a_clear_error():
    with pytest.raises(TableError, match="6000 A, asked for 6001 A"):
        BOOK.egc_size(6001, "Cu")


@pytest.mark.parametrize(("edition", "size"), [("2017", "1200 kcmil"), ("2020", "1250 kcmil"), ("2023", "1250 kcmil")])
def test_aluminium_at_5000_amperes_by_edition(edition, size):
    assert open_book(edition).egc_size(5000, "Al") == size


@pytest.mark.parametrize(("edition", "has"), [("2017", False), ("2020", False), ("2023", True)])
def test_ten_amperes_is_standard_from_2023(edition, has):
    assert (10.0 in open_book(edition).standard_ratings()) is has


@pytest.mark.parametrize(("edition", "inches"), [("2017", 0.875), ("2020", 0.875), ("2023", 0.75)])
def test_rooftop_height_by_edition(edition, inches):
    height, adder = open_book(edition).rooftop()
    assert (height, value_of(adder)) == (inches, 33.0)


@pytest.mark.parametrize(("celsius", "factor"), [(24.0, 1.02), (20.0, 1.02), (19.9, 1.04), (-15.0, 1.16), (-15.1, 1.18), (-40.0, 1.25)])
def test_cold_factors_take_the_colder_band(celsius, factor):
    assert value_of(BOOK.cold_factor(celsius)) == factor


def test_colder_than_the_table_is_an_error():
    with pytest.raises(TableError, match="-40 degC, asked for -41 degC"):
        BOOK.cold_factor(-41.0)


@pytest.mark.parametrize(("size", "material", "limit"), [("14 AWG", "Cu", 15.0), ("12 AWG", "Cu", 20.0), ("10 AWG", "Cu", 30.0), ("12 AWG", "Al", 15.0), ("10 AWG", "Al", 25.0), ("8 AWG", "Cu", None)])
def test_small_conductor_limits(size, material, limit):
    found = BOOK.small_conductor_limit(size, material)
    assert (None if found is None else found.value) == limit


@pytest.mark.parametrize(("size", "jumper"), [("2 AWG", "8 AWG"), ("1/0 AWG", "6 AWG"), ("2/0 AWG", "4 AWG"), ("3/0 AWG", "4 AWG"), ("350 kcmil", "2 AWG"), ("600 kcmil", "1/0 AWG")])
def test_supply_side_jumper_by_the_ungrounded_conductor(size, jumper):
    assert BOOK.supply_side_jumper(value_of(BOOK.area_cmil(size)), "Cu", "Cu") == jumper


def test_above_the_jumper_table_the_size_is_left_to_the_twelve_and_a_half_percent():
    assert BOOK.supply_side_jumper(1_200_000.0, "Cu", "Cu") == ""


@pytest.mark.parametrize(("rating", "copper", "aluminium"), [(100.0, "4 AWG", "2 AWG"), (150.0, "1 AWG", "2/0 AWG"), (200.0, "2/0 AWG", "4/0 AWG"), (400.0, "400 kcmil", "600 kcmil")])
def test_dwelling_table(rating, copper, aluminium):
    assert (BOOK.dwelling_size(rating, "Cu"), BOOK.dwelling_size(rating, "Al")) == (copper, aluminium)


@pytest.mark.parametrize("rating", [100.0, 110.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0])
@pytest.mark.parametrize("material", ["Cu", "Al"])
def test_the_dwelling_table_is_the_83_percent_rule_at_75_degrees(rating, material):
    size = BOOK.dwelling_size(rating, material)
    assert value_of(BOOK.ampacity(size, material, 75)) >= 0.83 * rating


@pytest.mark.parametrize(("conductors", "length", "percent"), [(1, 10.0, 53.0), (2, 10.0, 31.0), (3, 10.0, 40.0), (30, 10.0, 40.0), (3, 2.0, 60.0), (1, 1.0, 60.0)])
def test_fill_limits(conductors, length, percent):
    assert value_of(BOOK.fill_limit(conductors, length)) == percent


def test_resistance_and_reactance_by_the_raceway():
    assert value_of(BOOK.reactance("6 AWG", "EMT")) == value_of(BOOK.reactance("6 AWG", "RMC")) == 0.064
    assert value_of(BOOK.reactance("6 AWG", "PVC40")) == value_of(BOOK.reactance("6 AWG", "ENT")) == 0.051
    assert (value_of(BOOK.ac_resistance("1 AWG", "Cu", "EMT")), value_of(BOOK.ac_resistance("1 AWG", "Cu", "PVC80"))) == (0.16, 0.15)


def test_direct_current_resistance_is_stranded_and_uncoated():
    assert value_of(BOOK.dc_resistance("10 AWG", "Cu")) == 1.24
    assert value_of(BOOK.dc_resistance("10 AWG", "Al")) == 2.04


def test_sizes_that_table_9_lacks_have_no_impedance():
    assert BOOK.ac_resistance("700 kcmil", "Cu", "EMT") is None
    assert BOOK.reactance("1250 kcmil", "EMT") is None


def test_pv_wire_has_no_area_of_its_own():
    assert BOOK.conductor_area_in2("10 AWG", "PV wire") is None
    assert value_of(BOOK.conductor_area_in2("10 AWG", "THWN-2")) == 0.0211
    assert BOOK.conductor_area_in2("10 AWG", "no such") is None


def test_insulation_by_place():
    assert [BOOK.insulation("XHHW").in_place(place) for place in ("dry", "damp", "wet")] == [90, 90, 75]
    assert BOOK.insulation("THHN").in_place("wet") is None
    with pytest.raises(TableError, match='"THHH" is not in the table'):
        BOOK.insulation("THHH")


def test_a_row_that_no_table_has_is_an_error():
    with pytest.raises(TableError, match="no row"):
        BOOK.raceway_area_in2("EMT", "7")


@pytest.mark.parametrize("written", ["2023", "NEC 2023"])
def test_an_edition_is_opened_by_either_name_and_only_once(written):
    assert open_book(written).edition == "2023"


def test_another_edition_is_an_error_that_names_those_held():
    with pytest.raises(InputError, match="2017, 2020, 2023"):
        open_book("2014")


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_rule_that_a_house_prints_has_its_citation(edition):
    from tests.houses import SUPPLY_SIDE, studied

    for base in ({}, SUPPLY_SIDE):
        found = studied({}, base, edition) if base else studied(edition=edition)
        assert all(check.citation for check in found.checks)


def test_sections_known_from_memory_say_so():
    from_memory = [key for key in ("listed_instructions", "panel_protection") if BOOK.cite(key).evidence.startswith("M")]
    assert from_memory
    assert all("from memory, verify" in BOOK.cite(key).text for key in from_memory)
    assert "memory" not in BOOK.cite("busbar_sum").text


def test_a_suffix_takes_the_citation_of_its_rule_and_an_unknown_key_is_an_error():
    assert BOOK.cite("pv_conductor.T1").section == BOOK.cite("pv_conductor").section
    with pytest.raises(TableError, match="no citation row"):
        BOOK.cite("no_such_rule")


def test_before_2023_feeders_and_branches_cite_the_clause_of_either_conductor_test():
    """(a) holds 125 percent before any factor, (b) the load after factors."""
    for edition in ("2017", "2020"):
        book = open_book(edition)
        assert book.cite("feeder_continuous_conductor").section == "215.2(A)(1)(a), (b)"
        assert book.cite("branch_continuous_conductor").section == "210.19(A)(1)(a), (b)"
