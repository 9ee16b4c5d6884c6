"""The HTML sheet: one file that works alone, for every reader, with user text as text."""

import re

import pytest

from linecalc.cli.sheet import sheet_as
from linecalc.report.html import sheet_html
from linecalc.report.html_drawing import no_drawing
from linecalc.report.sheet import sheet
from tests.report.houses import EXAMPLES, HOSTILE, example, example_files, failing_house, hostile_house, small_house
from tests.report.page import read

CASES = [pytest.param(path, id=path.stem) for path in example_files()]


@pytest.fixture(scope="module")
def page():
    return read(sheet_as(small_house(), ".html"))


@pytest.mark.parametrize("path", CASES)
def test_every_link_leads_somewhere_and_every_anchor_is_one(path):
    found = read(sheet_as(example(path), ".html"))
    ids = [element.attributes["id"] for element in found.all() if "id" in element.attributes]
    assert len(ids) == len(set(ids))
    for link in found.all("a"):
        assert link.attributes["href"].startswith("#") and link.attributes["href"][1:] in ids


def test_nothing_is_fetched_and_nothing_runs(page):
    for element in page.all():
        assert element.name not in ("script", "link", "iframe", "object", "embed", "img", "base", "form")
        for key, value in element.attributes.items():
            assert not key.startswith("on")
            if key in ("src", "href", "xlink:href"):
                assert value.startswith(("#", "data:"))
    for style in page.all("style"):
        assert all(url.startswith("data:") for url in re.findall(r"url\(['\"]?([^)'\"]+)", style.text()))
        assert "@import" not in style.text()
    policy = next(meta for meta in page.all("meta") if meta.attributes.get("http-equiv") == "Content-Security-Policy")
    assert "default-src 'none'" in policy.attributes["content"]


def test_a_screen_reader_finds_its_way(page):
    assert page.all("html")[0].attributes["lang"] == "en"
    assert [len(page.all(name)) for name in ("h1", "main", "header", "footer")] == [1, 1, 1, 1]
    assert page.all("a")[0].text().startswith("Skip") and page.all("a")[0].attributes["href"] == "#findings"
    for nav in page.all("nav"):
        assert nav.attributes["aria-label"]
    for section in page.all("section", "article"):
        label = section.attributes["aria-labelledby"]
        assert any(heading.attributes.get("id") == label for heading in section.all("h2", "h3"))


def test_headings_never_skip_a_level(page):
    levels = [int(heading.name[1]) for heading in page.all("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in zip(levels, levels[1:], strict=False))


def test_every_table_has_a_caption_and_heads_of_rows_and_columns(page):
    assert page.all("table")
    for table in page.all("table"):
        assert table.all("caption")[0].text()
        assert {head.attributes["scope"] for head in table.all("th")} == {"col", "row"}
        width = len(table.all("thead")[0].all("th"))
        for row in table.all("tbody")[0].all("tr"):
            assert len(row.all("th", "td")) == width


def test_what_scrolls_can_be_reached_and_is_named(page):
    scrolling = [element for element in page.all("div") if element.attributes.get("class") == "scroll"]
    assert scrolling
    for element in scrolling:
        assert element.attributes["tabindex"] == "0" and element.attributes["role"] == "region" and element.attributes["aria-label"]


def test_every_link_has_a_name(page):
    for link in page.all("a"):
        assert link.text().strip() or link.attributes.get("aria-label")


def test_the_page_fits_a_phone(page):
    [viewport] = [meta for meta in page.all("meta") if meta.attributes.get("name") == "viewport"]
    assert "width=device-width" in viewport.attributes["content"]


def test_levels_are_words_not_only_colours(page):
    for element in page.all("span"):
        if "level" in element.attributes.get("class", "").split():
            assert re.search(r"fail|not checked|warn|note|pass", element.text())


def test_the_drawing_stands_before_the_findings_with_a_link_on_each_tag(page):
    hot = [link for link in page.all("a") if link.attributes.get("class") == "hot"]
    names = {link.attributes["href"] for link in hot}
    assert {"#at-U1", "#at-MP", "#at-C1", "#at-S1"} <= names and len(names) == len(hot)
    for link in hot:
        places = [float(found) for found in re.findall(r"([\d.-]+)%", link.attributes["style"])]
        left, top, width, height = places
        assert 0 <= left and 0 <= top and left + width <= 100 and top + height <= 100 and width > 0.5 and height > 0.5
    html = sheet_as(small_house(), ".html")
    assert html.index('id="drawing"') < html.index('id="findings"')


def test_calculations_lead_back_to_the_drawing(page):
    hot = {link.attributes["id"] for link in page.all("a") if link.attributes.get("class") == "hot"}
    back = {link.attributes["href"][1:] for link in page.all("a") if link.attributes["href"].startswith("#drawn-")}
    assert back == hot


def test_a_number_that_is_a_step_leads_to_that_step(page):
    step = next(element for element in page.all("li") if element.attributes.get("id") == "step-P1.T1.dc")
    assert any(link.attributes["href"] == "#step-P1.I_max" for link in step.all("a"))


def test_a_sheet_without_a_drawing_is_still_a_sheet():
    for found in (sheet_html(sheet(small_house())), sheet_html(sheet(small_house()), no_drawing("it does not fit <on> a sheet"))):
        page = read(found)
        assert not [link for link in page.all("a") if link.attributes.get("class") == "hot"]
        assert "#drawn-" not in found
    assert "it does not fit &lt;on&gt; a sheet" in found


def test_user_text_is_text():
    html = sheet_as(hostile_house(), ".html")
    page = read(html)
    shown = " ".join(HOSTILE.split())
    assert page.all("h1")[0].text() == shown
    assert page.all("title")[0].text().startswith(shown)
    assert not page.all("img", "script") and "<script" not in html and "onerror=alert(1)>" not in html
    assert len(page.all("style")) == len(read(sheet_as(small_house(), ".html")).all("style"))


def test_a_fail_is_at_the_top_and_in_its_block():
    page = read(sheet_as(failing_house(), ".html"))
    [findings] = [section for section in page.all("section") if section.attributes["aria-labelledby"] == "findings"]
    assert "60 A > 40 A" in findings.text()
    [block] = [article for article in page.all("article") if article.attributes["id"] == "at-C1"]
    assert "60 A > 40 A" in block.text() and "fail" in block.all("h3")[0].text()


def test_assumed_inputs_are_marked_where_they_are_used(page):
    [block] = [article for article in page.all("article") if article.attributes["id"] == "at-P3"]
    assert "52 degC (126 degF) [assumed]" in block.text()
    [assumed] = [section for section in page.all("section") if section.attributes["aria-labelledby"] == "assumed"]
    assert "section.R2.ambient" in assumed.text() and "attic in summer" in assumed.text()


def test_the_caution_is_on_the_page_twice_and_no_verdict_is_claimed(page):
    text = page.text()
    assert text.count("a licensed electrician decide") >= 2 and "for review by the AHJ" in text
    assert "compliant" not in text.lower() and "approved" not in text.lower()


def _luminance(colour):
    channels = [int(colour[position : position + 2], 16) / 255 for position in (1, 3, 5)]
    linear = [channel / 12.92 if channel <= 0.03928 else ((channel + 0.055) / 1.055) ** 2.4 for channel in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(first, second):
    light, dark = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _six(colour):
    return colour if len(colour) == 7 else "#" + "".join(2 * digit for digit in colour[1:])


def test_text_stands_out_from_its_ground():
    """At least 4.5 to 1 for every pair of text and ground that the style sheet sets (WCAG 2.1, 1.4.3)."""
    from importlib.resources import files

    css = (files("linecalc.report") / "sheet.css").read_text("utf-8")
    names = dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})", css))
    resolved = re.sub(r"var\(--(\w+)\)", lambda found: names[found[1]], css)
    pairs = re.findall(r"\{ (?:[^}]*; )?background: (#[0-9a-f]{3,6}); color: (#[0-9a-f]{3,6})", resolved)
    pairs += [("#fff", names[name]) for name in ("ink", "soft", "link")] + [(names["tint"], names["ink"]), ("#fff3d6", names["soft"])]
    assert len(pairs) >= 10
    for ground, ink in pairs:
        assert _contrast(_six(ground), _six(ink)) >= 4.5, (ground, ink)


def test_every_focus_is_seen():
    from importlib.resources import files

    css = (files("linecalc.report") / "sheet.css").read_text("utf-8")
    assert ":focus-visible" in css and "outline: 3px solid" in css and "outline: none" not in css


def test_a_long_house_still_has_one_block_for_each_subject():
    found = sheet(example(EXAMPLES / "b.toml"))
    tags = [block.tag for block in found.blocks]
    assert len(tags) == len(set(tags)) and tags[-1] == "system"
