"""What a notebook shows of a study and of its diagram."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

import linecalc
from linecalc.caution import CAUTION
from linecalc.errors import RefusedError
from linecalc.variants import with_values
from tests.report.houses import EXAMPLES


@pytest.fixture(scope="module")
def failing():
    return linecalc.compute(linecalc.read_project(EXAMPLES / "d.toml"))


def test_a_study_shows_title_verdicts_findings_drawing_and_caution(failing):
    page = failing._repr_html_()
    assert failing.project.project.title in page
    assert "10 fail" in page
    assert page.count("<td style=\"text-align:left\">fail</td>") == 10
    assert "<svg" in page
    assert CAUTION in page


def test_a_study_is_also_an_svg_drawing(failing):
    assert ElementTree.fromstring(failing._repr_svg_()).tag.endswith("svg")


def test_a_diagram_shows_each_of_its_sheets(failing):
    diagram = linecalc.Diagram.of(failing)
    assert diagram._repr_html_().count("<svg") == len(diagram.scenes)
    assert diagram._repr_svg_().startswith("<svg")


def test_no_two_things_of_a_page_share_a_name(failing):
    names = re.findall(r'\bid="([^"]*)"', linecalc.Diagram.of(failing)._repr_html_())
    assert len(names) == len(set(names)) >= 4


def test_a_system_that_cannot_be_drawn_still_shows_its_findings(failing, monkeypatch):
    def refused(study):
        raise RefusedError("too large")

    monkeypatch.setattr(linecalc.Diagram, "of", refused)
    assert failing._repr_svg_() is None
    assert "too large" in failing._repr_html_()


def test_user_text_is_no_markup():
    project = with_values(linecalc.read_project(EXAMPLES / "a.toml"), [("project.title", "<script>alert(1)</script> & co")])
    page = linecalc.compute(project)._repr_html_()
    assert "<script" not in page
    assert "&lt;script&gt;" in page
