"""The label schedule: which labels a design needs, with what values, by the section of the edition, as the AHJ changes them."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.errors import InputError
from linecalc.project.devices import LABEL_KEYS
from linecalc.project.read import read_project
from linecalc.report.labels import Signal, Stock, label_schedule
from linecalc.study import study
from tests.houses import BASE, SUPPLY_SIDE, house, studied
from tests.report.houses import EXAMPLES
from tests.rules.required_house import STATED


def labels(changes=None, base=BASE, edition=None):
    return label_schedule(studied({**STATED, **(changes or {})}, base, edition))


def one(key, changes=None, base=BASE, edition=None):
    found = [label for label in labels(changes, base, edition) if label.key == key]
    assert len(found) == 1, [label.key for label in labels(changes, base, edition)]
    return found[0]


def keys(found):
    return {label.key for label in found}


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
@pytest.mark.parametrize("name", ["a", "b", "c"])
def test_every_label_is_known_says_where_it_hangs_and_who_asks(name, edition):
    found = label_schedule(study(read_project(EXAMPLES / f"{name}.toml"), edition))
    assert len(found) > 12
    assert keys(found) <= set(LABEL_KEYS)
    assert all(label.where and label.text and label.citation and label.color for label in found)
    assert not [value for label in found for value in label.values if value.number is None]


def test_the_examples_together_show_every_label():
    found = set()
    for name in ("a", "b", "c"):
        found |= keys(label_schedule(study(read_project(EXAMPLES / f"{name}.toml"))))
    assert found == set(LABEL_KEYS)


@pytest.mark.parametrize("word", ["compliant", "approved", "shall"])
def test_no_label_claims_a_verdict_or_speaks_like_the_code(word):
    assert not [label for label in labels() if word in label.wording.lower()]


# 10 modules of 40 V, -0.25 %/K, 40 K below 25 degC: 40 x 1.1 x 10 = 440 V. 1.25 x 13 A = 16.25 A.
@pytest.mark.parametrize(
    ("edition", "section", "values"),
    [
        ("2017", "690.53", ("Highest DC voltage 440 V", "Highest circuit current 16.25 A")),
        ("2020", "690.53", ("Highest DC voltage 440 V",)),
        ("2023", "690.7(D)", ("Highest DC voltage 440 V",)),
    ],
)
def test_the_dc_label_shows_the_cold_voltage_and_in_2017_the_current_too(edition, section, values):
    found = one("pv_voltage", edition=edition)
    assert tuple(value.text for value in found.values) == values
    assert section in found.citation


def test_a_value_that_is_not_known_leaves_a_gap_and_names_the_input():
    found = one("storage_disconnect", {"equipment.unit-a.storage_voltage_max": None})
    assert "____ V (needs equipment.unit-a.storage_voltage_max)" in found.wording


def test_the_storage_label_takes_the_highest_voltage_of_unit_and_modules():
    module = {"kind": "storage module", "energy": "10 kWh", "voltage_max": "480 V", "harness_part": "kit", "harness_length": "5 ft"}
    found = one("storage_disconnect", {"equipment.store": module, "storage.B1": {"equipment": "store", "unit": "U1"}})
    assert "Highest DC voltage 480 V" in found.wording


@pytest.mark.parametrize(("edition", "section"), [("2017", "690.54"), ("2020", "690.54"), ("2023", "common practice")])
def test_the_rated_ac_output_is_shown_even_where_the_code_no_longer_asks(edition, section):
    found = one("source_disconnect", edition=edition)
    assert "40 A" in found.wording and "240 V" in found.wording
    assert section in found.citation


def test_a_bus_that_rests_on_opposite_ends_has_the_label_beside_the_breaker():
    # 200 A main and 1.25 x 40 A on a 225 A bus: 250 A, more than 225 A, within 270 A.
    assert "MP" in one("do_not_relocate").where
    assert "sum_of_breakers" not in keys(labels())


def test_a_bus_that_passes_by_plain_sum_needs_no_such_label():
    assert "do_not_relocate" not in keys(labels({"panel.MP.bus": "400 A"}))


def test_a_bus_that_rests_on_the_sum_of_its_breakers_shows_it():
    found = label_schedule(study(read_project(EXAMPLES / "b.toml")))
    label = next(label for label in found if label.key == "sum_of_breakers")
    assert [value.text for value in label.values] == ["Bus rating 125 A", "Breakers together now 100 A"]


def test_the_directory_names_utility_source_and_storage_shutdown_with_their_places():
    text = one("directory").text
    assert "U1, solar and storage: breaker of C1 in BP, garage, interior" in text
    assert "Storage shutdown: switch RSS" in text
    assert one("directory").signal is Signal.CAUTION


@pytest.mark.parametrize("key", ["storage_shutdown", "emergency_disconnect"])
def test_labels_of_devices_that_2017_does_not_ask_for_are_left_out(key):
    assert key not in keys(labels(edition="2017"))
    assert one(key, edition="2020").color == "white on red"
    assert one(key).stock is Stock.LARGE


@pytest.mark.parametrize(
    ("edition", "section"), [("2017", "690.56(C)(3)"), ("2020", "690.56(C)(2)"), ("2023", "690.12(D)(2)")]
)
def test_the_rapid_shutdown_switch_is_white_on_red_by_the_section_of_the_edition(edition, section):
    found = one("rapid_shutdown_switch", edition=edition)
    assert (found.color, found.stock, found.prescribed) == ("white on red", Stock.REFLECTIVE, True)
    assert section in found.citation


def test_the_bond_that_serves_the_units_in_an_outage_is_marked_only_where_the_neutral_is_not_switched():
    assert "standby_bond" in keys(labels())
    switched = {"isolation.ID.switches_neutral": True, "equipment.unit-a.neutral_bond": "island only"}
    assert "standby_bond" not in keys(labels(switched))


def test_a_design_without_backup_has_no_standby_sign_and_one_for_the_utility_its_own_label():
    supply_side = {"unit.U1.ac_disconnect": "D", "disconnect.D.location": "wall", "panel.BP.location": None}
    changes = {**{key: value for key, value in STATED.items() if not key.startswith("panel.BP")}, **supply_side}
    changes.pop("panel.BP.location")
    found = label_schedule(studied({**changes, "disconnect.D.utility_disconnect": True}, SUPPLY_SIDE))
    assert "standby" not in keys(found)
    assert {"utility_disconnect", "service_disconnect", "meter"} <= keys(found)


def test_a_change_by_the_ahj_replaces_what_it_states_and_keeps_the_values():
    change = {"label.pv_voltage": {"source": "County handout 7", "text": "PV DC", "header": "DANGER", "where": "on the cover"}}
    found = one("pv_voltage", change)
    assert (found.text, found.where, found.signal, found.color) == ("PV DC", "on the cover", Signal.DANGER, "white on red")
    assert found.changed_by == "County handout 7"
    assert "440 V" in found.wording


def test_a_label_can_be_left_out_and_another_be_added():
    assert "meter" not in keys(labels({"label.meter": {"source": "utility", "omit": True}}))
    extra = {"label.key_box": {"source": "fire department", "where": "at the gate", "text": "Key box here", "header": "NOTICE"}}
    assert (one("key_box", extra).where, one("key_box", extra).citation) == ("at the gate", "fire department")


def test_an_unknown_label_without_words_is_refused_with_the_nearest():
    with pytest.raises(InputError, match="pv_voltage"):
        house({"label.pv_voltages": {"source": "County handout 7", "header": "DANGER"}})


def test_header_colors_are_those_of_the_signal_words():
    assert [Signal(word).color for word in ("DANGER", "WARNING", "CAUTION", "NOTICE")] == [
        "white on red", "black on orange", "black on yellow", "white on blue",
    ]  # fmt: skip


def test_a_study_with_inputs_missing_still_has_its_schedule():
    found = study(read_project(EXAMPLES / "missing.toml"))
    assert found.count(Level.NOT_CHECKED) and "directory" in keys(label_schedule(found))


def test_the_standby_sign_says_whether_the_whole_house_or_a_part_is_fed():
    assert "feeds part of the house in an outage" in one("standby").text
    whole = {"load.HOUSE": None, "isolation.ID.rating": "200 A", "circuit.C2": {"from": "service", "to": "ID", "path": ["R3"]}, "circuit.C4": {"from": "ID", "to": "MP", "path": ["R5"]}, "circuit.C3": {"from": "MP", "to": "BP", "path": ["R4"], "breaker": "60 A"}}
    assert "feeds the house in an outage" in one("standby", whole).text
