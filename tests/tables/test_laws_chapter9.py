"""Laws the chapter 9 and motor tables keep, and the places where the book's numbers break them.

No outside source: geometry, arithmetic and the tables' own footnotes. The
stranding factors are those of concentric strands of equal round wires; the
temperatures at which copper and aluminium would lose their resistance are from
memory.
"""

from itertools import pairwise
from math import acos, floor, pi, sin, sqrt
from pathlib import Path

import pytest

from tests.tables.reader import read_table

ROOT = Path(__file__).resolve().parents[2]
EDITIONS = ("2017", "2020", "2023")
FILLS = {
    "fill_60_in2": 0.60,
    "fill_1wire_53_in2": 0.53,
    "fill_2wire_31_in2": 0.31,
    "fill_over2_40_in2": 0.40,
}
LAY_FACTORS = {1: 1, 7: 3, 19: 5, 37: 7, 61: 9, 91: 11, 127: 13}
COVER_ADDS_IN = {
    "14 AWG": 0.030,
    "8 AWG": 0.060,
    "1 AWG": 0.090,
    "250 kcmil": 0.130,
    "1250 kcmil": 0.190,
}
POWER_FACTOR = 0.85
Row = dict[str, str]


def rows_of(name: str) -> list[Row]:
    return read_table(ROOT / "tables" / f"{name}.csv")[1]


RACEWAYS = rows_of("ch9-4")
INSULATED = [row for row in rows_of("ch9-5") if row["area_in2"]]
COMPACT = rows_of("ch9-5A")
CONDUCTORS = rows_of("ch9-8")
IMPEDANCES = rows_of("ch9-9")
MOTORS = rows_of("430.248")
LETTERS = rows_of("430.7-B")
RACEWAY_NAMES = list(dict.fromkeys(row["raceway"] for row in RACEWAYS))
INSULATION_NAMES = list(dict.fromkeys(row["insulation"] for row in INSULATED))
SIZES = list(dict.fromkeys(row["size"] for row in INSULATED))


def half_unit(text: str) -> float:
    """Half of the last printed place: how far rounding may have moved the number."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


def circle_in2(diameter: str) -> float:
    return pi * float(diameter) ** 2 / 4


def rises(numbers: list[float]) -> bool:
    return all(one < other for one, other in pairwise(numbers))


def by_size(rows: list[Row], column: str, **where: str) -> dict[str, float]:
    """Return one column by conductor size, from the rows that have the given labels."""
    return {
        row["size"]: float(row[column])
        for row in rows
        if row[column] and all(row[name] == word for name, word in where.items())
    }


def test_the_fill_shares_are_those_of_the_fill_columns() -> None:
    shares = {row["conductors"]: float(row["fill_percent"]) / 100 for row in rows_of("ch9-1")}
    assert shares == {
        "1": FILLS["fill_1wire_53_in2"],
        "2": FILLS["fill_2wire_31_in2"],
        "3 or more": FILLS["fill_over2_40_in2"],
        "nipple": FILLS["fill_60_in2"],
    }


def test_a_raceway_area_is_the_circle_of_its_inside_diameter_but_for_one() -> None:
    off = [
        (row["raceway"], row["trade_size"])
        for row in RACEWAYS
        if abs(float(row["total_in2"]) - circle_in2(row["internal_diameter_in"]))
        > half_unit(row["total_in2"]) + 1e-9
    ]
    assert off == [("IMC", "2")]


@pytest.mark.parametrize("column", FILLS)
def test_a_fill_area_is_its_share_of_the_total_to_rounding(column: str) -> None:
    for row in RACEWAYS:
        slack = half_unit(row[column]) + FILLS[column] * half_unit(row["total_in2"]) + 1e-9
        share = FILLS[column] * float(row["total_in2"])
        assert float(row[column]) == pytest.approx(share, abs=slack)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("raceway", RACEWAY_NAMES)
def test_a_raceway_area_rises_with_trade_size(raceway: str, edition: str) -> None:
    rows = [r for r in RACEWAYS if r["raceway"] == raceway and edition in r["editions"].split()]
    rows.sort(key=lambda row: int(row["metric_designator"]))
    assert len(rows) >= 6
    for column in ("internal_diameter_in", "total_in2", *FILLS):
        assert rises([float(row[column]) for row in rows])


def test_a_trade_size_has_one_metric_designator_in_every_raceway() -> None:
    pairs = {(row["trade_size"], row["metric_designator"]) for row in RACEWAYS}
    assert len(pairs) == len(dict(pairs)) == 13


@pytest.mark.parametrize(("thicker", "thinner"), [("RMC", "IMC"), ("PVC80", "PVC40")])
def test_a_thicker_wall_leaves_less_room(thicker: str, thinner: str) -> None:
    areas = {(r["raceway"], r["trade_size"]): float(r["total_in2"]) for r in RACEWAYS}
    shared = [size for name, size in areas if name == thicker and (thinner, size) in areas]
    assert len(shared) >= 12
    assert all(areas[thicker, size] < areas[thinner, size] for size in shared)


def test_only_ent_has_other_dimensions_in_2023_and_they_are_larger() -> None:
    areas: dict[tuple[str, str], list[float]] = {}
    for row in RACEWAYS:
        areas.setdefault((row["raceway"], row["trade_size"]), []).append(float(row["total_in2"]))
    changed = {key: found for key, found in areas.items() if len(found) > 1}
    assert {raceway for raceway, _ in changed} == {"ENT"}
    assert all(rises(found) for found in changed.values())


def test_an_insulated_area_is_the_circle_of_its_diameter_but_for_one() -> None:
    off = [
        (row["size"], row["insulation"])
        for row in INSULATED
        if abs(float(row["area_in2"]) - circle_in2(row["diameter_in"]))
        > half_unit(row["area_in2"]) + 1e-9
    ]
    assert off == [("1500 kcmil", "XHH, XHHW, XHHW-2")]


@pytest.mark.parametrize("insulation", INSULATION_NAMES)
def test_an_insulated_diameter_rises_with_size(insulation: str) -> None:
    found = by_size(INSULATED, "diameter_in", insulation=insulation)
    assert list(found) == SIZES[: len(found)]
    assert rises(list(found.values()))


@pytest.mark.parametrize("insulation", INSULATION_NAMES)
def test_an_insulated_conductor_is_wider_than_the_bare_one(insulation: str) -> None:
    bare = by_size(CONDUCTORS, "diameter_in", stranding="stranded")
    for size, diameter in by_size(INSULATED, "diameter_in", insulation=insulation).items():
        assert diameter > bare[size] + 0.03


def test_an_outer_covering_adds_the_same_within_each_run_of_sizes() -> None:
    with_cover = by_size(INSULATED, "diameter_in", insulation="RHH, RHW, RHW-2 with cover")
    without = by_size(INSULATED, "diameter_in", insulation="RHH, RHW, RHW-2 without cover")
    adds = 0.0
    for size in SIZES:
        adds = COVER_ADDS_IN.get(size, adds)
        assert with_cover[size] - without[size] == pytest.approx(adds, abs=1e-9)


def test_without_a_cover_rhw_differs_from_thw_up_to_8_awg_only() -> None:
    rhw = by_size(INSULATED, "diameter_in", insulation="RHH, RHW, RHW-2 without cover")
    thw = by_size(INSULATED, "diameter_in", insulation="TW, THW, THHW, THW-2")
    small = SIZES[: SIZES.index("6 AWG")]
    for size in SIZES:
        assert rhw[size] - thw[size] == pytest.approx(0.030 if size in small else 0.0, abs=1e-9)


def test_use_2_takes_the_numbers_of_rhw_2_without_cover_and_is_marked_doubtful() -> None:
    rows = [row for row in INSULATED if row["insulation"] == "USE-2"]
    rhw = by_size(INSULATED, "area_in2", insulation="RHH, RHW, RHW-2 without cover")
    assert by_size(rows, "area_in2") == rhw
    assert {row["note"] for row in rows} == {"doubtful"}


def test_pv_wire_has_no_numbers_because_they_are_the_makers() -> None:
    rows = [row for row in rows_of("ch9-5") if row["insulation"] == "PV wire"]
    assert [row["size"] for row in rows] == SIZES
    assert {(row["diameter_in"], row["area_in2"], row["note"]) for row in rows} == {
        ("", "", "maker-dependent")
    }


def test_a_compact_area_is_its_circle_cut_at_the_fourth_place_but_for_one() -> None:
    rounded = []
    for row in COMPACT:
        if row["area_in2"]:
            if float(row["area_in2"]) != floor(circle_in2(row["diameter_in"]) * 1e4) / 1e4:
                rounded.append((row["size"], row["insulation"]))
                assert float(row["area_in2"]) == round(circle_in2(row["diameter_in"]), 4)
    assert rounded == [("900 kcmil", "XHHW")]


@pytest.mark.parametrize("insulation", ["bare", "THW, THHW", "THHN", "XHHW"])
def test_a_compact_diameter_rises_with_size(insulation: str) -> None:
    assert rises(list(by_size(COMPACT, "diameter_in", insulation=insulation).values()))


@pytest.mark.parametrize(
    ("compact", "round_one"),
    [
        ("THW, THHW", "TW, THW, THHW, THW-2"),
        ("THHN", "THHN, THWN, THWN-2"),
        ("XHHW", "XHH, XHHW, XHHW-2"),
    ],
)
def test_a_compact_conductor_is_narrower_but_for_small_thw(compact: str, round_one: str) -> None:
    wide = by_size(INSULATED, "diameter_in", insulation=round_one)
    found = by_size(COMPACT, "diameter_in", insulation=compact)
    exceptions = {size for size in found if found[size] >= wide[size]}
    assert exceptions == ({"8 AWG"} if compact == "THW, THHW" else set())


def test_a_compact_bare_conductor_is_narrower_than_the_stranded_one() -> None:
    wide = by_size(CONDUCTORS, "diameter_in", stranding="stranded")
    compact = by_size(COMPACT, "diameter_in", insulation="bare")
    assert len(compact) == 19
    assert all(0.89 * wide[size] < compact[size] < 0.93 * wide[size] for size in compact)


@pytest.mark.parametrize("row", CONDUCTORS, ids=lambda row: f"{row['size']} {row['stranding']}")
def test_strands_and_diameters_follow_from_the_circular_mils(row: Row) -> None:
    strands = int(row["strands"])
    exact_mil = sqrt(float(row["area_cmil"]) / strands)
    printed = row["strand_diameter_in"] or row["diameter_in"]
    assert 1000 * float(printed) == pytest.approx(exact_mil, abs=0.6)
    overall_mil = LAY_FACTORS[strands] * exact_mil
    assert 1000 * float(row["diameter_in"]) == pytest.approx(overall_mil, abs=0.85)


def test_a_bare_area_is_its_circle_but_for_two_rows() -> None:
    off = [
        (row["size"], row["stranding"])
        for row in CONDUCTORS
        if abs(float(row["area_in2"]) - circle_in2(row["diameter_in"]))
        > half_unit(row["area_in2"]) + 1e-9
    ]
    assert off == [("12 AWG", "stranded"), ("800 kcmil", "stranded")]


@pytest.mark.parametrize(
    ("stranding", "column", "low", "high"),
    [
        ("solid", "cu_uncoated_ohm_per_kft", 12.55, 12.63),
        ("stranded", "cu_uncoated_ohm_per_kft", 12.82, 12.94),
        ("solid", "al_ohm_per_kft", 20.70, 20.85),
        ("stranded", "al_ohm_per_kft", 21.10, 21.30),
    ],
)
def test_dc_resistance_goes_as_one_over_the_area(
    stranding: str, column: str, low: float, high: float
) -> None:
    resistances = by_size(CONDUCTORS, column, stranding=stranding)
    areas = by_size(CONDUCTORS, "area_cmil", stranding=stranding)
    assert all(low < resistances[size] * areas[size] / 1000 < high for size in areas)


def test_aluminium_has_the_resistance_of_copper_over_61_percent() -> None:
    for row in CONDUCTORS:
        ratio = float(row["al_ohm_per_kft"]) / float(row["cu_uncoated_ohm_per_kft"])
        assert ratio == pytest.approx(1 / 0.61, rel=0.01)


def test_a_coating_adds_two_to_seven_percent() -> None:
    for row in CONDUCTORS:
        ratio = float(row["cu_coated_ohm_per_kft"]) / float(row["cu_uncoated_ohm_per_kft"])
        assert 1.02 < ratio < 1.07


@pytest.mark.parametrize("metal", ["cu", "al"])
@pytest.mark.parametrize("conduit", ["pvc", "al", "steel"])
def test_ac_resistance_is_no_less_than_dc_to_rounding(metal: str, conduit: str) -> None:
    column = {"cu": "cu_uncoated_ohm_per_kft", "al": "al_ohm_per_kft"}[metal]
    direct = by_size(CONDUCTORS, column, stranding="stranded")
    for row in IMPEDANCES:
        printed = row[f"r_{metal}_{conduit}_ohm_per_kft"]
        if printed:
            assert float(printed) + half_unit(printed) >= direct[row["size"]] - 1e-9


@pytest.mark.parametrize("metal", ["cu", "al"])
@pytest.mark.parametrize("conduit", ["al", "steel"])
def test_metal_conduit_never_lowers_the_resistance(metal: str, conduit: str) -> None:
    plain = by_size(IMPEDANCES, f"r_{metal}_pvc_ohm_per_kft")
    shielded = by_size(IMPEDANCES, f"r_{metal}_{conduit}_ohm_per_kft")
    assert plain.keys() == shielded.keys()
    assert all(shielded[size] >= plain[size] for size in plain)


def test_steel_conduit_raises_the_reactance_by_a_quarter() -> None:
    plain = by_size(IMPEDANCES, "x_pvc_al_ohm_per_kft")
    steel = by_size(IMPEDANCES, "x_steel_ohm_per_kft")
    assert all(steel[size] == pytest.approx(1.25 * plain[size], abs=0.00125) for size in plain)


@pytest.mark.parametrize("column", [name for name in IMPEDANCES[0] if name[:2] in ("r_", "z_")])
def test_resistance_and_impedance_never_rise_with_size(column: str) -> None:
    found = list(by_size(IMPEDANCES, column).values())
    assert all(one >= other for one, other in pairwise(found))


@pytest.mark.parametrize(
    ("column", "risers"),
    [
        ("x_pvc_al_ohm_per_kft", ["8 AWG", "1 AWG"]),
        ("x_steel_ohm_per_kft", ["8 AWG", "250 kcmil"]),
    ],
)
def test_reactance_falls_with_size_but_where_insulation_thickens(
    column: str, risers: list[str]
) -> None:
    found = by_size(IMPEDANCES, column)
    assert [two for one, two in pairwise(found) if found[two] > found[one]] == risers


@pytest.mark.parametrize("metal", ["cu", "al"])
@pytest.mark.parametrize("conduit", ["pvc", "al", "steel"])
def test_effective_impedance_is_r_cos_plus_x_sin_to_rounding(metal: str, conduit: str) -> None:
    sine = sin(acos(POWER_FACTOR))
    reactance = "x_steel_ohm_per_kft" if conduit == "steel" else "x_pvc_al_ohm_per_kft"
    for row in IMPEDANCES:
        printed = row[f"z_{metal}_{conduit}_ohm_per_kft"]
        if not printed:
            assert (row["size"], metal) == ("14 AWG", "al")
            continue
        r, x = row[f"r_{metal}_{conduit}_ohm_per_kft"], row[reactance]
        slack = half_unit(printed) + POWER_FACTOR * half_unit(r) + sine * half_unit(x)
        expected = POWER_FACTOR * float(r) + sine * float(x)
        assert float(printed) == pytest.approx(expected, abs=slack)


def test_motor_current_rises_with_power_and_falls_with_voltage() -> None:
    columns = [name for name in MOTORS[0] if name != "hp"]
    assert all(rises([float(row[name]) for row in MOTORS]) for name in columns)
    assert all(rises([-float(row[name]) for name in columns]) for row in MOTORS)


@pytest.mark.parametrize(
    ("column", "factor"),
    [("flc_115v_a", 2.0), ("flc_200v_a", 1.15), ("flc_208v_a", 1.10)],
)
def test_motor_currents_are_fixed_multiples_of_the_230_volt_ones(
    column: str, factor: float
) -> None:
    for row in MOTORS:
        assert float(row[column]) == pytest.approx(factor * float(row["flc_230v_a"]), abs=0.0501)


def test_code_letters_run_without_gap_or_overlap() -> None:
    assert "".join(row["letter"] for row in LETTERS) == "ABCDEFGHJKLMNPRSTUV"
    assert float(LETTERS[0]["kva_per_hp_min"]) == 0
    assert LETTERS[-1]["kva_per_hp_max"] == ""
    for one, two in pairwise(LETTERS):
        assert float(two["kva_per_hp_min"]) == pytest.approx(float(one["kva_per_hp_max"]) + 0.01)


@pytest.mark.parametrize(("metal", "zero_c"), [("Cu", -234.5), ("Al", -228.1)])
def test_the_temperature_coefficient_is_that_of_the_metal_at_75_c(
    metal: str, zero_c: float
) -> None:
    row = next(row for row in rows_of("resistance") if row["material"] == metal)
    assert row["base_c"] == "75"
    assert float(row["alpha_per_c"]) == pytest.approx(1 / (75 - zero_c), abs=5.1e-6)
