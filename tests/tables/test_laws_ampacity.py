"""Laws that the ampacity, overcurrent, grounding and photovoltaic tables must obey.

They hold whatever the printed numbers are, so they catch a slip that two copies share.
"""

from itertools import pairwise
from math import sqrt
from pathlib import Path

import pytest

from tests.tables.reader import read_table
from tests.tables.sizes import area_cmil

TABLES = Path(__file__).resolve().parents[2] / "tables"
EDITIONS = ("2017", "2020", "2023")
AMPACITY_COLUMNS = [f"{m}_{t}c_a" for m in ("cu", "al") for t in (60, 75, 90)]
ONE_GRID_STEP_A = 5.0


def rows_of(name, edition=None):
    _, rows = read_table(TABLES / f"{name}.csv")
    return [r for r in rows if edition is None or edition in r.get("editions", edition).split()]


def column(rows, name):
    """Return [(row, value)] where the column has a value."""
    return [(row, float(row[name])) for row in rows if row[name]]


def law_factor(rated_c, ambient_c, base_c=30.0):
    """Return sqrt((Tc - Ta)/(Tc - 30)), the formula printed beside the factors."""
    return sqrt((rated_c - ambient_c) / (rated_c - base_c))


# --- ampacity -------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["310.16", "310.17"])
def test_sizes_stand_in_order_of_area_and_none_is_left_out(name):
    sizes = [row["size"] for row in rows_of(name)]
    assert sizes == sorted(sizes, key=area_cmil)
    assert (sizes[0], sizes[-1], len(sizes)) == ("14 AWG", "2000 kcmil", 28)


@pytest.mark.parametrize("name", ["310.16", "310.17"])
@pytest.mark.parametrize("col", AMPACITY_COLUMNS)
def test_ampacity_rises_with_size_and_amperes_per_area_fall(name, col):
    values = column(rows_of(name), col)
    for (small, low), (large, high) in pairwise(values):
        assert high > low
        slack = 1.0 + ONE_GRID_STEP_A / low
        assert high / area_cmil(large["size"]) < slack * low / area_cmil(small["size"])


@pytest.mark.parametrize("name", ["310.16", "310.17"])
@pytest.mark.parametrize("metal", ["cu", "al"])
def test_ampacity_rises_with_insulation_temperature(name, metal):
    for row, a60 in column(rows_of(name), f"{metal}_60c_a"):
        assert a60 < float(row[f"{metal}_75c_a"]) < float(row[f"{metal}_90c_a"])


@pytest.mark.parametrize("name", ["310.16", "310.17"])
@pytest.mark.parametrize("metal", ["cu", "al"])
def test_columns_stand_to_each_other_as_the_square_root_of_temperature_rise_over_resistance(
    name, metal
):
    zero_c = {"cu": 234.5, "al": 228.1}[metal]
    for cool, warm in ((60.0, 75.0), (75.0, 90.0)):
        law = sqrt((warm - 30.0) / (cool - 30.0) * (zero_c + cool) / (zero_c + warm))
        for row, low in column(rows_of(name), f"{metal}_{cool:.0f}c_a"):
            high = float(row[f"{metal}_{warm:.0f}c_a"])
            if area_cmil(row["size"]) > area_cmil("8 AWG"):
                assert high == pytest.approx(law * low, abs=0.03 * high + ONE_GRID_STEP_A)


@pytest.mark.parametrize("name", ["310.16", "310.17"])
@pytest.mark.parametrize("temperature", [60, 75, 90])
def test_aluminium_carries_less_than_copper_of_its_size_by_about_the_root_of_conductivity(
    name, temperature
):
    for row, al in column(rows_of(name), f"al_{temperature}c_a"):
        cu = float(row[f"cu_{temperature}c_a"])
        assert al < cu
        assert 0.70 <= al / cu <= 0.88


@pytest.mark.parametrize("col", AMPACITY_COLUMNS)
def test_free_air_carries_more_than_a_raceway(col):
    raceway = {r["size"]: v for r, v in column(rows_of("310.16"), col)}
    free = {r["size"]: v for r, v in column(rows_of("310.17"), col)}
    assert raceway.keys() == free.keys()
    assert all(free[size] > raceway[size] for size in raceway)


@pytest.mark.parametrize("name", ["310.16", "310.17"])
def test_every_ampacity_is_a_multiple_of_five(name):
    for col in AMPACITY_COLUMNS:
        assert all(value % 5 == 0 for _, value in column(rows_of(name), col))


# --- factors --------------------------------------------------------------------------

# (table, edition, insulation temperatures); the code takes the warm end of each band.
FACTOR_TABLES = [
    ("310.15-B-1", "2023", (60, 75, 90)),
    ("690.31", "2017", (60, 75, 90, 105)),
    ("690.31", "2023", (105, 125)),
]


@pytest.mark.parametrize(("name", "edition", "ratings"), FACTOR_TABLES)
def test_a_factor_is_the_law_at_the_upper_end_of_its_band(name, edition, ratings):
    exceptions = {}
    for rated in ratings:
        for row, factor in column(rows_of(name, edition), f"factor_{rated}c"):
            if abs(factor - law_factor(rated, float(row["ambient_c_max"]))) > 0.005 + 1e-9:
                exceptions[rated, row["ambient_c_max"]] = factor
    assert exceptions == {}


@pytest.mark.parametrize(("name", "edition", "ratings"), FACTOR_TABLES)
def test_a_factor_is_given_exactly_where_the_band_lies_below_the_rating(name, edition, ratings):
    for rated in ratings:
        for row in rows_of(name, edition):
            assert bool(row[f"factor_{rated}c"]) == (float(row["ambient_c_max"]) < rated)


@pytest.mark.parametrize(("name", "edition", "ratings"), FACTOR_TABLES)
def test_ambient_bands_follow_one_another_without_gap(name, edition, ratings):
    rows = rows_of(name, edition)
    assert rows[0]["ambient_c_min"] == ""
    for lower, upper in pairwise(rows):
        assert float(upper["ambient_c_min"]) == float(lower["ambient_c_max"]) + 1


def test_pv_wire_of_90_degrees_has_in_2017_the_factors_of_the_general_table():
    general = {r["ambient_c_max"]: r for r in rows_of("310.15-B-1")}
    for row in rows_of("690.31", "2017"):
        for rated in (60, 75, 90):
            col = f"factor_{rated}c"
            assert row[col] == general[row["ambient_c_max"]][col]


def test_adjustment_falls_with_the_count_and_the_counts_follow_one_another():
    rows = rows_of("310.15-C-1")
    assert rows[0]["conductors_min"] == "4" and rows[-1]["conductors_max"] == ""
    for few, many in pairwise(rows):
        assert int(many["conductors_min"]) == int(few["conductors_max"]) + 1
        assert 0.0 < float(many["factor"]) < float(few["factor"]) < 1.0


def test_the_rooftop_adder_is_one_value_and_the_height_only_falls():
    per_edition = [rows_of("310.15-B-2", edition) for edition in EDITIONS]
    assert all(len(rows) == 1 and rows[0]["adder_c"] == "33" for rows in per_edition)
    heights = [float(rows[0]["height_max_in"]) for rows in per_edition]
    assert heights == [0.875, 0.875, 0.75]


# --- overcurrent ----------------------------------------------------------------------


@pytest.mark.parametrize(("edition", "count"), [("2017", 37), ("2020", 37), ("2023", 38)])
def test_standard_ratings_strictly_rise_to_6000_amperes(edition, count):
    ratings = [int(row["rating_a"]) for row in rows_of("240.6-A", edition)]
    assert all(low < high for low, high in pairwise(ratings))
    assert len(ratings) == count and ratings[-1] == 6000
    assert ratings[0] == (10 if edition == "2023" else 15)


def test_no_standard_rating_steps_by_more_than_half_below_1200_amperes():
    ratings = [int(row["rating_a"]) for row in rows_of("240.6-A", "2023")]
    assert all(high <= 1.5 * low for low, high in pairwise(ratings) if high <= 1200)


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_small_conductor_limit_is_a_standard_rating_and_not_above_its_60_degree_ampacity(edition):
    ratings = {row["rating_a"] for row in rows_of("240.6-A", edition)}
    raceway = {row["size"]: row for row in rows_of("310.16")}
    for row in rows_of("240.4-D", edition):
        if row["size"] in raceway:
            assert row["ocpd_max_a"] in ratings
            ampacity = raceway[row["size"]]["cu_60c_a" if row["material"] == "Cu" else "al_60c_a"]
            assert not ampacity or int(row["ocpd_max_a"]) <= int(ampacity)


@pytest.mark.parametrize("edition", EDITIONS)
def test_small_conductor_limits_rise_with_size_and_copper_leads(edition):
    limits = {(r["material"], r["size"]): int(r["ocpd_max_a"]) for r in rows_of("240.4-D", edition)}
    assert len(limits) == (10 if edition == "2023" else 9)
    for material in ("Cu", "Al", "CCA"):
        of_it = [(area_cmil(size), amps) for (m, size), amps in limits.items() if m == material]
        assert all(low < high for (_, low), (_, high) in pairwise(sorted(of_it)))
    for (material, size), amps in limits.items():
        assert amps <= limits["Cu", size]


# --- grounding ------------------------------------------------------------------------


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("col", ["cu_size", "al_size"])
def test_an_equipment_grounding_conductor_never_falls_with_rating(edition, col):
    rows = rows_of("250.122", edition)
    assert len(rows) == 19
    for small, large in pairwise(rows):
        assert int(small["rating_a"]) < int(large["rating_a"])
        assert area_cmil(small[col]) <= area_cmil(large[col])


@pytest.mark.parametrize("edition", EDITIONS)
def test_an_aluminium_grounding_conductor_is_about_1_6_times_the_copper_area(edition):
    for row in rows_of("250.122", edition):
        assert 1.40 <= area_cmil(row["al_size"]) / area_cmil(row["cu_size"]) <= 1.80


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_rating_of_the_grounding_table_is_a_standard_rating(edition):
    ratings = {row["rating_a"] for row in rows_of("240.6-A", edition)}
    assert {row["rating_a"] for row in rows_of("250.122", edition)} <= ratings


def test_only_the_aluminium_of_5000_and_6000_amperes_changed_after_2017():
    old, new = rows_of("250.122", "2017"), rows_of("250.122", "2020")
    changed = {
        (a["rating_a"], col, a[col], b[col])
        for a, b in zip(old, new, strict=True)
        for col in ("rating_a", "cu_size", "al_size")
        if a[col] != b[col]
    }
    assert changed == {(r, "al_size", "1200 kcmil", "1250 kcmil") for r in ("5000", "6000")}


@pytest.mark.parametrize(
    ("name", "kind"), [("250.66", "gec"), ("250.102-C-1", "jumper")]
)
@pytest.mark.parametrize("metal", ["cu", "al"])
def test_an_electrode_conductor_or_jumper_rises_with_the_conductor_and_stays_below_it(
    name, kind, metal
):
    sized = [row for row in rows_of(name) if row["cu_max"] and row[f"{kind}_{metal}"]]
    for small, large in pairwise(sized):
        assert area_cmil(small[f"{metal}_max"]) < area_cmil(large[f"{metal}_max"])
        assert area_cmil(small[f"{kind}_{metal}"]) < area_cmil(large[f"{kind}_{metal}"])
    for row in sized:
        assert area_cmil(row[f"{kind}_{metal}"]) < area_cmil(row[f"{metal}_max"])


def test_jumpers_are_the_electrode_conductors_up_to_the_last_size_then_a_percentage():
    electrode, jumper = rows_of("250.66"), rows_of("250.102-C-1")
    header, _ = read_table(TABLES / "250.102-C-1.csv")
    assert [list(r.values()) for r in electrode[:-1]] == [list(r.values()) for r in jumper[:-1]]
    assert set(jumper[-1].values()) == {""}
    assert header["over_percent_of_area"] == 12.5


@pytest.mark.parametrize("metal", ["cu", "al"])
def test_the_percentage_takes_over_where_the_table_leaves_off(metal):
    for row in rows_of("250.102-C-1")[:-1]:
        share = area_cmil(row[f"jumper_{metal}"]) / area_cmil(row[f"{metal}_max"])
        assert share > 0.12
    assert share == pytest.approx(0.125, abs=0.005)


# --- dwelling services ----------------------------------------------------------------


@pytest.mark.parametrize("metal", ["cu", "al"])
def test_a_dwelling_size_is_the_smallest_whose_75_degree_ampacity_reaches_83_percent(metal):
    ampacities = column(rows_of("310.16"), f"{metal}_75c_a")
    standard = {row["rating_a"] for row in rows_of("240.6-A", "2017")}
    for row in rows_of("310.12"):
        assert row["rating_a"] in standard
        need = 0.83 * int(row["rating_a"])
        fitting = [r["size"] for r, ampacity in ampacities if ampacity >= need]
        assert row[f"{metal}_size"] == fitting[0]


# --- photovoltaic voltage -------------------------------------------------------------


def test_voltage_factors_rise_with_cold_over_bands_of_five_degrees_from_24_to_minus_40():
    rows = rows_of("690.7-A")
    assert (rows[0]["ambient_c_max"], rows[-1]["ambient_c_min"]) == ("24", "-40")
    for warm, cold in pairwise(rows):
        assert int(cold["ambient_c_max"]) == int(warm["ambient_c_min"]) - 1
        assert int(cold["ambient_c_max"]) - int(cold["ambient_c_min"]) == 4
        assert 0.0 < float(cold["factor"]) - float(warm["factor"]) <= 0.0201


def test_voltage_factors_lie_between_0_38_and_0_41_percent_per_kelvin_at_the_cold_end():
    for row in rows_of("690.7-A"):
        per_kelvin = (float(row["factor"]) - 1.0) / (25.0 - float(row["ambient_c_min"]))
        assert 0.0038 <= per_kelvin <= 0.0041


# --- insulation -----------------------------------------------------------------------


def test_no_insulation_is_rated_warmer_in_a_wetter_place():
    for row in rows_of("insulation"):
        dry, damp, wet = (float(row[c] or 0.0) for c in ("dry_c", "damp_c", "wet_c"))
        assert dry >= damp >= wet >= 0.0 and dry > 0.0


def test_a_type_ending_in_2_is_rated_90_everywhere():
    twos = [row for row in rows_of("insulation") if row["type"].endswith("-2")]
    assert len(twos) == 6
    assert all(row[c] == "90" for row in twos for c in ("dry_c", "damp_c", "wet_c"))


def test_a_wire_type_goes_in_wet_places_exactly_when_its_letters_say_so():
    cables = {"UF", "USE", "USE-2", "SE", "NM-B", "PV wire"}
    for row in rows_of("insulation"):
        if row["type"] not in cables:
            assert bool(row["wet_c"]) == ("W" in row["type"])


def test_every_note_of_an_insulation_is_explained_in_the_header():
    header, rows = read_table(TABLES / "insulation.csv")
    assert {row["note_key"] for row in rows} - {""} == set(header["notes"])


def test_every_insulation_temperature_has_its_ampacity_column():
    for row in rows_of("insulation"):
        for c in ("dry_c", "damp_c", "wet_c"):
            assert row[c] in ("", "60", "75", "90")
