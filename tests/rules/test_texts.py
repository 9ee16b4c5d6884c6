"""Every rule that a check can carry is explained, and its worked line is the kernel's own arithmetic."""

import math

import pytest

from linecalc.codebook.citations import citations
from linecalc.codebook.edition import EDITIONS
from linecalc.errors import InputError
from linecalc.explain.rule import explain_rule
from linecalc.explain.texts import rule_names, rule_texts, text_of
from linecalc.explain.worked import worked
from linecalc.project.read import read_project
from linecalc.report.inputs import OPTION
from linecalc.study import study
from linecalc.term import evaluate
from tests.report.houses import EXAMPLES, example_files
from tests.rules.emitted_keys import keys_in_source

NAMES = sorted(rule_texts())
CLAIMS = ("compliant", "approved", "certified", "guarantee")


@pytest.fixture(scope="module")
def emitted():
    """Every rule key that the examples show, in every edition."""
    return {check.rule for path in example_files() for edition in EDITIONS for check in study(read_project(path), edition).checks}


def test_every_rule_that_the_examples_show_has_a_text(emitted):
    assert len(emitted) > 90
    assert emitted - set(NAMES) == set()


def test_every_rule_key_in_the_source_of_the_rules_has_a_text():
    found = keys_in_source()
    assert len(found) > 100
    assert found - set(NAMES) == set()


def test_a_text_stands_on_the_citation_map():
    assert [name for name in NAMES if name.split(".")[0] not in citations("2023")] == []


def test_a_text_is_a_few_plain_sentences():
    for name in NAMES:
        asks = rule_texts()[name].asks
        assert asks.endswith(".") and 30 < len(asks) < 420, name
        assert not any(claim in asks.lower() for claim in CLAIMS), name
        assert "shall" not in asks.split(), f"{name}: that is how codes speak, not we"


@pytest.mark.parametrize("name", [name for name in NAMES if rule_texts()[name].kernel])
def test_a_worked_line_is_true_as_printed(name):
    found = worked(rule_texts()[name])
    assert found is not None and found.lines
    for line in found.lines:
        assert math.isclose(evaluate(line.expression), line.value, rel_tol=1e-9)
        assert line.text.startswith(line.symbol) and " = " in line.text


@pytest.mark.parametrize("name", [name for name in NAMES if rule_texts()[name].limit])
def test_the_invented_numbers_pass(name):
    found = worked(rule_texts()[name])
    assert found.holds is True and ("<=" in found.comparison or ">=" in found.comparison)


def test_every_edition_is_named_with_its_evidence():
    for name in NAMES:
        places = explain_rule(name).places
        assert [place.edition for place in places] == list(EDITIONS), name
        assert all(place.section and place.evidence for place in places), name


def test_a_section_from_memory_says_so():
    places = {place.edition: place for place in explain_rule("pv_conductor.T2").places}
    assert places["2017"].mark == "T" and places["2023"].evidence == "from memory, verify"


def test_common_practice_says_so():
    assert {place.section for place in explain_rule("mppt_window.hot").places} == {"common practice, no source"}


def test_an_edition_without_the_rule_says_so():
    places = {place.edition: place for place in explain_rule("emergency_disconnect").places}
    assert places["2017"].evidence == "the edition has no such rule"


def test_the_worked_line_of_a_string_is_hand_worked():
    # 38.1 V x 11 x (1 - 0.0026 x (-14 - 25)) = 38.1 x 11 x 1.1014 = 461.6 V
    found = worked(rule_texts()["pv_max_voltage"])
    assert found.lines[-1].value == pytest.approx(461.597, abs=0.001)
    assert found.comparison.startswith("461.6 V <= 600 V")


def test_other_checks_of_the_same_sections_are_named():
    assert {"pv_conductor.T1", "pv_conductor"} <= set(explain_rule("pv_conductor.T2").beside)


def test_a_key_of_the_map_without_a_text_says_what_the_map_says():
    assert text_of("ampacity_table").asks == citations("2023")["ampacity_table"].description


def test_every_key_of_the_map_can_be_explained():
    assert set(citations("2023")) <= set(rule_names())


@pytest.mark.parametrize(("wrong", "meant"), [("pv_condutor.T2", "pv_conductor.T2"), ("busbar", "busbar_sum"), ("690.7", "pv_max_voltage"), ("705.12(B)(2)", "busbar_120")])
def test_a_wrong_name_is_told_its_nearest_or_the_rules_of_the_section(wrong, meant):
    with pytest.raises(InputError) as caught:
        explain_rule(wrong)
    assert meant in caught.value.problems[0].nearest


def test_an_option_is_no_rule():
    with pytest.raises(InputError):
        explain_rule(OPTION)


def test_the_examples_are_where_they_are_looked_for():
    assert EXAMPLES.is_dir()
