"""The findings: what asks most of the reader comes first, and user text is text in every format."""

from pathlib import Path

import pytest

from linecalc.check import Level
from linecalc.errors import InputError
from linecalc.report.findings import READING_ORDER, Selection, counts, grouped, interconnection, levels_of, short_citation, subjects_of
from linecalc.report.findings_markdown import findings_markdown
from linecalc.report.findings_text import findings_text
from linecalc.report.sheet import system_lines
from linecalc.project.read import read_project
from linecalc.report.wrapping import WIDTH
from linecalc.study import study
from tests.report.houses import EXAMPLES, HOSTILE, changed, example, failing_house, hostile_house, small_house

EVERYTHING = Selection(READING_ORDER)


def missing_house():
    return example(EXAMPLES / "missing.toml")


def test_not_checked_is_shown_before_passes_and_after_fails():
    assert READING_ORDER.index(Level.FAIL) < READING_ORDER.index(Level.NOT_CHECKED) < READING_ORDER.index(Level.PASS)
    text = findings_text(missing_house(), EVERYTHING)
    assert text.index("NOT CHECKED") < text.index("PASSES")


def test_the_counts_name_every_level_even_where_there_is_none():
    assert [level for level, _ in counts(small_house())] == list(READING_ORDER)
    assert "0 fail, 0 not checked" in findings_text(small_house(), Selection())


def test_passes_are_counted_but_listed_only_when_asked_for():
    assert "PASSES" not in findings_text(small_house(), Selection())
    assert "PASSES" in findings_text(small_house(), Selection((Level.PASS,)))


def test_a_fail_shows_demand_limit_margin_citation_and_rule():
    text = findings_text(failing_house(), Selection((Level.FAIL,)))
    assert "60 A > 40 A (20 A over)" in text and "[110.3(B)" in text and "FAILS" in text


def test_what_is_not_checked_names_the_inputs_it_needs():
    text = findings_text(missing_house(), Selection((Level.NOT_CHECKED,)))
    assert text.count("needs: ") == missing_house().count(Level.NOT_CHECKED)


def test_a_fix_and_a_flip_are_printed():
    found = next(check for check in small_house().checks if check.flip)
    assert found.flip in " ".join(findings_text(small_house(), EVERYTHING).split())
    fixed = grouped([found.with_fix("6 AWG Cu THWN-2")])[0][1][0]
    from linecalc.report import findings_markdown, findings_text as text

    assert any("fix: 6 AWG" in line for line in text.finding_lines(fixed))
    assert any("fix: 6 AWG" in line for line in findings_markdown.finding_lines(fixed))


def test_the_interconnection_method_is_named_with_its_arithmetic():
    [line] = [line for line in interconnection(small_house()) if line.startswith("MP")]
    assert "705.12(B)(2)" in line and "240 A <= 240 A" in line


def test_a_supply_side_connection_is_named():
    assert any("supply side" in line for line in interconnection(example(EXAMPLES / "c.toml")))


def test_a_bus_that_no_method_passes_says_so():
    lines = interconnection(changed(("panel.MP.main", "200 A"), ("panel.MP.bus", "150 A")))
    assert any(line.startswith("MP") and "no method passes" in line for line in lines)


def test_findings_of_one_subject_only():
    text = findings_text(small_house(), Selection(READING_ORDER, ("C1",)))
    assert "\n  C1 " in text and "\n  S1 " not in text
    assert f"{small_house().count(Level.PASS)} pass" in text


def test_nothing_to_show_is_said():
    assert "Nothing to show" in findings_text(small_house(), Selection((Level.FAIL,)))
    assert "Nothing to show" in findings_markdown(small_house(), Selection((Level.FAIL,)))


@pytest.mark.parametrize("text", ["fail,not_checked", "fail, not checked", "FAIL,not-checked"])
def test_levels_are_read_as_people_write_them(text):
    assert levels_of(text) == (Level.FAIL, Level.NOT_CHECKED)


@pytest.mark.parametrize("text", ["bad", "fail,", "compliant"])
def test_an_unknown_level_is_refused_with_the_known_ones(text):
    with pytest.raises(InputError) as caught:
        levels_of(text)
    assert "not_checked" in caught.value.problems[0].message


def test_an_unknown_subject_is_told_the_nearest():
    with pytest.raises(InputError) as caught:
        subjects_of("C1,U11", small_house())
    [problem] = caught.value.problems
    assert "U1" in problem.nearest


def test_lines_fit_a_terminal():
    for line in findings_text(failing_house(), EVERYTHING).splitlines():
        assert len(line) <= WIDTH


def test_the_caution_stands_on_both_formats():
    for render in (findings_text, findings_markdown):
        text = " ".join(render(small_house(), Selection()).split())
        assert "licensed electrician decide" in text and "for review by the AHJ" in text


def test_no_format_claims_a_verdict():
    for render in (findings_text, findings_markdown):
        text = render(small_house(), EVERYTHING).lower()
        assert "compliant" not in text and "approved" not in text


def test_markup_in_a_title_stays_text_in_markdown():
    first = findings_markdown(hostile_house(), Selection()).splitlines()[0]
    assert first.startswith("# a\\|b \\<img")
    assert "<img" not in first.replace("\\<img", "") and "`code`" not in first


def test_a_title_is_one_line_of_plain_text():
    assert findings_text(hostile_house(), Selection()).splitlines()[0] == " ".join(HOSTILE.split())


def test_a_citation_from_memory_says_so_even_when_short():
    assert short_citation("408.36 (section from memory, verify)") == "408.36 (from memory)"
    assert short_citation("240.4(B)") == "240.4(B)"


def project_house(name):
    return study(read_project(Path(__file__).parents[1] / "projects" / f"{name}.toml"))


def said_of(name):
    return {fact.label: fact.text for fact in system_lines(project_house(name))}


def test_the_head_names_a_generator_and_what_it_feeds():
    assert said_of("generator")["Backup"] == "generator G1 by transfer switch T1 feeds EP"


def test_a_stand_alone_system_exports_nothing_and_interconnects_with_nothing():
    assert said_of("standalone")["Conversion"].endswith("80 A continuous") and said_of("standalone")["Service"] == "none, stand-alone"
    assert interconnection(project_house("standalone")) == ("stand-alone: no utility to interconnect with",)


def test_what_is_left_on_a_bus_says_where_the_method_wants_the_breaker():
    lines = interconnection(project_house("ac_coupled"))
    assert next(line for line in lines if line.startswith("GP")).endswith("36 A of further source current is left, a 45 A breaker")
    assert next(line for line in lines if line.startswith("BP")).endswith("19 A of further source current is left at the end opposite the supply, a 20 A breaker")
