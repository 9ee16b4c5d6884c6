"""Formats, charts and the drawing of the wall: strange texts are harmless, nothing leaves its frame, labels do not overlap."""

from __future__ import annotations

import csv
import io
import json
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from linecalc.options.as_json import options_json
from linecalc.options.charts import charge_chart, pareto_chart, starts_chart
from linecalc.options.content import Content
from linecalc.options.frame import HEIGHT, WIDTH, label_place, mark, nice, width_of
from linecalc.options.html import options_html
from linecalc.options.records import Candidate, Part, Reason
from linecalc.options.text import options_csv, options_markdown, options_text
from linecalc.options.wall import layout_drawing
from linecalc.project.options_model import Place

STRANGE = '<img src=x onerror="1">&amp;|`*_x_\x1b[31m\n# head =1+1 \\ é'


@pytest.fixture(scope="module")
def strange(storage: Content) -> Content:
    """The study with a strange text wherever a user's text comes in."""
    first = storage.answer.failing[0]
    failing = (replace(first, reasons=(Reason("x", STRANGE, STRANGE),)), *storage.answer.failing[1:])
    winner = storage.answer.winner
    bill = replace(winner.bill, parts=(*winner.bill.parts, Part("mod-420", 1, None, None, STRANGE)))
    chosen = replace(winner, bill=bill)
    results = tuple(chosen if found is winner else failing[0] if found is first else found for found in storage.answered.results)
    found = replace(storage.answer, failing=failing, winner=chosen, passing=(chosen, *storage.answer.passing[1:]))
    return replace(storage, title=STRANGE, answer=found, answered=replace(storage.answered, results=results), words=(STRANGE,))


class _Tags(HTMLParser):
    """Every tag of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.add(tag)


def test_html_shows_strange_text_as_text(strange: Content):
    page = options_html(strange)
    tags = _Tags()
    tags.feed(page)
    assert "img" not in tags.found and "script" not in tags.found
    assert "&lt;img src=x onerror=&quot;1&quot;&gt;&amp;amp;" in page


def test_markdown_keeps_tables_and_headings_whole(strange: Content):
    text = options_markdown(strange)
    assert "<img" not in text.replace("\\<img", "") and "\x1b" not in text
    lines = text.splitlines()
    for first, second in zip(lines, lines[1:], strict=False):
        if first.startswith("|") and second.startswith("|"):
            assert len(re.findall(r"(?<!\\)\|", first)) == len(re.findall(r"(?<!\\)\|", second))
    assert not any(line.startswith("# head") for line in lines)


def test_plain_text_holds_no_control_characters(strange: Content):
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", options_text(strange))


def test_csv_holds_strange_text_in_one_cell_that_no_spreadsheet_computes(strange: Content):
    rows = list(csv.DictReader(io.StringIO(options_csv(strange))))
    assert any(STRANGE in row["first_reason"] for row in rows)
    formula = replace(strange, answered=replace(strange.answered, results=(replace(strange.answer.failing[0], reasons=(Reason("x", "", "=1+1"),)),)))
    assert next(csv.DictReader(io.StringIO(options_csv(formula))))["first_reason"] == "'=1+1"


def test_json_holds_strange_text_unchanged(strange: Content):
    assert json.loads(options_json(strange))["words"] == [STRANGE]


@pytest.mark.parametrize("render", [options_text, options_markdown, options_html, options_json])
def test_every_format_says_what_it_was_checked_against_and_claims_no_more(units: Content, render):
    text = render(units)
    assert "2023" in text and "Calculation aid only" in text
    assert not re.search(r"\b(compliant|approved|guaranteed)\b", text, re.IGNORECASE)
    if render is not options_json:
        assert "checked against NEC 2023, for review by the AHJ" in text


def test_json_traces_every_candidate_with_figures_places_and_steps(storage: Content):
    found = json.loads(options_json(storage))
    built = [candidate for candidate in found["candidates"] if candidate["usable_kwh"] is not None]
    assert built and all({"name", "formula", "numbers", "value", "unit", "origin"} == set(figure) for candidate in built for figure in candidate["figures"])
    assert all(candidate["figures"] and candidate["raceways"] and candidate["storage_by_place"] for candidate in built)
    assert found["ac_side"][0]["rows"] and found["later"][0]["blocked"]
    assert {"what", "basis", "now", "low", "high", "at_low", "at_high", "flips", "changed", "decides"} == set(found["sensitivity"][0])


def charts(content: Content) -> list[str]:
    """All drawings of a study."""
    found = content.answer.winner
    drawn = [charge_chart(content, found), starts_chart(content, found), pareto_chart(content)]
    return [*drawn, layout_drawing(found.layout, content.answered.context.options.place)]


@pytest.mark.parametrize("name", ["storage", "units", "array"])
def test_every_drawing_is_well_formed_named_and_within_its_frame(name: str, request):
    for drawing in charts(request.getfixturevalue(name)):
        root = ElementTree.fromstring(drawing)
        width, height = (float(part) for part in root.attrib["viewBox"].split()[2:])
        space = "{http://www.w3.org/2000/svg}"
        assert root.find(f"{space}title").text
        for text in root.iter(f"{space}text"):
            x, y, wide = float(text.attrib["x"]), float(text.attrib["y"]), width_of(text.text or "")
            if "transform" in text.attrib or "font-size" in text.attrib:
                continue
            left = {"middle": x - wide / 2.0, "end": x - wide}.get(text.attrib.get("text-anchor", ""), x)
            assert -1.0 <= left and left + wide <= width + 1.0 and 0.0 < y <= height, text.text
        for box in root.iter(f"{space}rect"):
            x, y, wide, high = (float(box.attrib[key]) for key in ("x", "y", "width", "height"))
            assert 0.0 <= x and x + wide <= width + 0.1 and 0.0 <= y and y + high <= height + 0.1


@pytest.mark.parametrize("chart, words", [(charge_chart, ("hours since the outage began", "stored energy, kWh")), (starts_chart, ("hour of the day at which the outage begins", "hours carried"))])
def test_every_axis_is_named_with_its_unit(storage: Content, chart, words: tuple[str, ...]):
    drawing = chart(storage, storage.answer.winner)
    assert all(f">{word}<" in drawing for word in words)
    assert ">cost, middle of its range, USD<" in pareto_chart(storage)


def test_curves_that_lie_on_each_other_are_drawn_once_under_all_their_names(storage: Content):
    drawing = starts_chart(storage, storage.answer.winner)
    assert drawing.count("<polyline") == 2 and ">spring, summer, fall<" in drawing


def test_stored_energy_begins_at_the_aged_usable_energy(storage: Content):
    """29.4 kWh x 0.7 = 20.58 kWh on an axis that ends at 24 kWh."""
    first = re.search(r'points="[\d.]+,([\d.]+)', charge_chart(storage, storage.answer.winner))
    from linecalc.options.frame import at

    assert float(first.group(1)) == pytest.approx(at(0.0, 20.58, 72.0, 24.0)[1], abs=0.06)


def test_labels_of_the_pareto_chart_do_not_overlap(array: Content):
    root = ElementTree.fromstring(pareto_chart(array))
    names = {found.candidate.name for found in array.answer.front}
    labels = [(float(text.attrib["x"]), float(text.attrib["y"]), width_of(text.text)) for text in root.iter("{http://www.w3.org/2000/svg}text") if text.text in names]
    assert labels
    for number, (x, y, wide) in enumerate(labels):
        assert all(x + wide <= other_x or other_x + other <= x or abs(y - other_y) >= 13.0 for other_x, other_y, other in labels[number + 1 :])


def test_a_label_without_room_is_left_out():
    assert label_place(200.0, 150.0, "1u1m-A18", [(0.0, 0.0, WIDTH, HEIGHT)]) is None
    taken: list = []
    assert label_place(200.0, 150.0, "1u1m-A18", taken) is not None and len(taken) == 1


def test_the_wall_is_drawn_to_scale_with_boxes_obstacles_and_working_space(storage: Content):
    found = storage.answer.winner.layout
    places = storage.answered.context.options.place
    root = ElementTree.fromstring(layout_drawing(found, places))
    rects = [{key: float(rect.attrib[key]) for key in ("x", "y", "width", "height")} for rect in root.iter("{http://www.w3.org/2000/svg}rect")]
    scale = rects[0]["width"] / 312.0
    for box in found.boxes:
        assert any(abs(rect["width"] / scale - box.width_in) < 0.2 and abs(rect["height"] / scale - box.height_in) < 0.2 and abs((rect["x"] - 14.0) / scale - box.left_in) < 0.2 for rect in rects)
    text = ElementTree.tostring(root, encoding="unicode")
    assert "garage-wall: 312 in wide, 108 in high" in text and "side-door" in text and "working space before a unit" in text


def test_a_strange_name_of_a_place_is_text_in_the_drawing(storage: Content):
    place = Place.model_validate({"width": "20 ft"})
    assert "<b>" not in layout_drawing(storage.answer.winner.layout, {"<b>": place})


@pytest.mark.parametrize("most, end", [(0.0, 1.0), (50.0, 60.0), (71.9, 80.0), (24.0, 24.0), (1.0, 1.0), (36_400.0, 40_000.0)])
def test_an_axis_ends_at_a_round_number_above_the_largest_value(most: float, end: float):
    assert nice(most) == pytest.approx(end)


def test_marks_are_short():
    assert (mark(15_000.0), mark(0.25), mark(18.0)) == ("15,000", "0.25", "18")


def test_candidate_names_are_short_enough_for_a_label(storage: Content):
    longest = Candidate(12, (4,) * 12, storage.answer.winner.candidate.array).name
    assert width_of(longest) < WIDTH / 4.0


def test_many_candidates_are_drawn_smaller(array: Content):
    """24 candidates are drawn with a radius of 4.5, more than a hundred with 2.5."""
    many = replace(array, answered=replace(array.answered, results=array.answered.results * 5))
    assert 'r="4.5" fill="#fff"' in pareto_chart(array) and 'r="2.5"' not in pareto_chart(array)
    assert 'r="2.5" fill="#fff"' in pareto_chart(many)
    assert array.answer.winner.candidate.name in pareto_chart(many)
