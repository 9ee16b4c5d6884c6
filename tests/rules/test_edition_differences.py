"""What the editions change, and nothing else.

``edition_differences.csv`` says for example (b) what is expected to differ and
why. Rule differences that (b) does not touch are shown on small changes of it.
"""

import csv
from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.codebook.citations import citations
from linecalc.codebook.edition import EDITIONS
from linecalc.comparison import Group, compare
from linecalc.study import study
from linecalc.variants import with_values
from tests.houses import SUPPLY_SIDE, house, studied
from tests.report.houses import EXAMPLES, example

B = EXAMPLES / "b.toml"
with (Path(__file__).parent / "edition_differences.csv").open(newline="") as _file:
    EXPECTED = list(csv.DictReader(_file))


def under_editions(project):
    return compare([(f"NEC {year}", study(project, year)) for year in EDITIONS])


def changed(*settings):
    """Example (b) with values changed, under every edition."""
    return under_editions(with_values(example(B).project, settings))


def found_in(found, group, subject):
    return {item.what: item.values for item in found.differences if item.group is group and item.subject == subject}


def test_the_editions_change_exactly_what_the_table_says():
    found = {(item.group.name.lower(), item.subject, item.what): item.values for item in under_editions(example(B).project).differences}
    table = {(row["group"], row["subject"], row["about"]): tuple(row[f"nec_{year}"] for year in EDITIONS) for row in EXPECTED}
    assert found == table


def test_every_expected_difference_says_why():
    assert all(len(row["expected"]) > 15 for row in EXPECTED)


def test_no_section_is_listed_that_reads_alike_in_all_editions():
    for row in EXPECTED:
        if row["group"] == "sections":
            assert len({citations(year)[row["subject"]].section for year in EDITIONS}) > 1


def test_no_size_device_or_limit_of_b_depends_on_the_edition():
    assert not {row["group"] for row in EXPECTED} & {"inputs", "devices", "sizes", "limits", "figures"}


# 0.8 in lies below the 7/8 in of 2017 and 2020 and above the 3/4 in of 2023: 33 K more in the two older editions.
def test_a_raceway_0_8_in_above_the_roof_is_hot_in_2017_and_2020_only():
    found = changed(("section.R1.height_above_roof", "0.8 in"))
    verdicts = found_in(found, Group.VERDICTS, "P2")
    assert verdicts["rooftop_adder"] == ("warn", "-", "-")
    sizes_or_figures = {**found_in(found, Group.SIZES, "P2"), **found_in(found, Group.FIGURES, "P2")}
    assert sizes_or_figures and all(values[0] == values[1] != values[2] for values in sizes_or_figures.values())


def test_supply_side_sources_are_held_against_another_limit_from_2020():
    found = under_editions(house({}, SUPPLY_SIDE))
    limits = found_in(found, Group.LIMITS, "J")
    assert limits["supply_side"][0] == "200 A" and limits["supply_side"][1] == limits["supply_side"][2] != "200 A"


def test_supply_side_conductors_have_a_least_size_from_2020():
    found = under_editions(house({"circuit.C2.conductor": "8 AWG Cu THWN-2"}, SUPPLY_SIDE))
    assert found_in(found, Group.VERDICTS, "C2")["supply_side_conductor"] == ("-", "fail", "fail")


def test_a_missing_bond_at_a_supply_side_disconnect_fails_from_2020():
    found = under_editions(house({"disconnect.D.neutral_bond": False}, SUPPLY_SIDE))
    assert found_in(found, Group.VERDICTS, "D")["supply_side_grounding"] == ("warn", "fail", "fail")


def test_small_vehicle_charging_counts_7200_va_in_a_feeder_in_2023():
    changes = {"load.EV": {"panel": "MP", "kind": "ev", "voltage": "240 V", "power": "4.8 kVA"}, "load.HOUSE": None}
    currents = [study(house(changes), year).sized.circuit("C4").currents for year in EDITIONS]
    supply = [next(found for mode, found in current.modes if mode.value == "supply") for current in currents]
    amps = [float(current.continuous) + float(current.noncontinuous) for current in supply]
    assert amps[0] == amps[1] and amps[2] - amps[1] == pytest.approx((7200 - 4800) / 240)


def test_2017_has_no_feed_through_method():
    methods = {year: {method.key for bus in example(B, year).sized.buses for method in bus.methods} for year in EDITIONS}
    assert "busbar_feed_through" not in methods["2017"] and "busbar_feed_through" in methods["2020"] & methods["2023"]


def test_editions_do_not_share_a_verdict_that_depends_on_devices_asked_for_later():
    levels = {year: {(check.rule, check.level) for check in example(B, year).checks} for year in EDITIONS}
    assert ("surge_protection", Level.PASS) in levels["2020"] - levels["2017"]


def test_an_edition_may_be_a_number_or_its_text():
    assert studied(edition=2020).book.edition == studied(edition="2020").book.edition == "2020"
