"""The measures of the drafting font are those of the font file itself."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from linecalc.diagram import fonts

DIAGRAM = Path(fonts.__file__).parent
LINE = "Disconnect, 60 A, 240 V, NEMA 3R, (N): 120 % rule 80 A + 150 A <= 225 A → ≤ Ω é Ł"


@pytest.fixture(scope="module")
def font_file():
    ttlib = pytest.importorskip("fontTools.ttLib")
    return ttlib.TTFont(DIAGRAM / "linecalc-drafting.ttf")


def test_every_advance_is_that_of_the_font_file(font_file):
    cmap = font_file.getBestCmap()
    advances = fonts.font_metrics().advances
    assert {chr(code) for code in cmap} == set(advances)
    for code, name in cmap.items():
        assert advances[chr(code)] == font_file["hmtx"][name][0]


def test_cap_height_and_extremes_are_those_of_the_outlines(font_file):
    metrics = fonts.font_metrics()
    glyphs = font_file["glyf"]
    assert metrics.cap_height == glyphs["H"].yMax == font_file["OS/2"].sCapHeight
    for name in font_file.getBestCmap().values():
        assert getattr(glyphs[name], "yMax", 0) <= metrics.ascent
    assert metrics.descent == -glyphs["p"].yMin


def test_width_is_the_sum_of_advances_at_the_cap_height(font_file):
    cmap, hmtx = font_file.getBestCmap(), font_file["hmtx"]
    units = sum(hmtx[cmap[ord(character)]][0] for character in LINE)
    expected = units * 0.125 / font_file["glyf"]["H"].yMax
    assert fonts.text_width_in(LINE, 0.125) == pytest.approx(expected, rel=1e-12)


def test_the_font_has_no_kerning_and_no_ligatures_that_would_change_a_width(font_file):
    assert not {"GPOS", "GSUB", "kern"} & set(font_file.keys())


def test_the_font_is_small_and_carries_its_licence():
    assert (DIAGRAM / "linecalc-drafting.ttf").stat().st_size < 120_000
    licence = (DIAGRAM / "linecalc-drafting-LICENSE.txt").read_text("utf-8")
    assert "SIL OPEN FONT LICENSE" in licence and "Roboto Project Authors" in licence


def test_metrics_file_names_the_family_that_the_font_file_carries(font_file):
    raw = json.loads((DIAGRAM / "font_metrics.json").read_text("utf-8"))
    assert font_file["name"].getDebugName(1) == raw["family"] == fonts.font_metrics().family


def test_the_web_font_is_the_same_font(font_file):
    pytest.importorskip("brotli")
    from fontTools.ttLib import TTFont

    web = TTFont(DIAGRAM / "linecalc-drafting.woff2")
    assert web.getBestCmap() == font_file.getBestCmap()
    assert web["hmtx"].metrics == font_file["hmtx"].metrics


def test_latin_greek_arrows_and_signs_are_there():
    for character in "AZaz09 éñÄłŐ αβφΩΔ ←↑→↓ ≤≥≠≈×÷±−√∞ °²³½¼¾⅜ –—…•“”’ §%‰€™□":
        assert character in fonts.font_metrics().advances, character


def test_a_character_the_font_lacks_becomes_a_box_and_is_reported():
    found = fonts.drawable("roof \U0001f600 שמש")
    assert found.text == "roof □ □□□"
    assert found.missing == ("\U0001f600", "ש", "מ")


def test_invisible_and_control_characters_are_dropped_and_reported():
    found = fonts.drawable("a\u202eb\x00c\u200d")
    assert found.text == "abc"
    assert found.missing == ("\u202e", "\x00", "\u200d")


def test_white_space_of_any_kind_becomes_one_space_and_accents_are_composed():
    assert fonts.drawable("  a\t\n b\u00a0c ").text == "a b c"
    assert fonts.drawable("e\u0301").text == "é"


@pytest.mark.parametrize("width", [0.05, 0.3, 1.0, 2.5])
def test_wrapped_lines_fit_and_lose_nothing(width):
    text = "Two 10 AWG PV wires under the array " + "x" * 80 + " then EMT"
    lines = fonts.wrap(text, width, 0.1)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    for line in lines:
        assert fonts.text_width_in(line, 0.1) <= width or len(line) == 1


def test_wrapping_nothing_gives_one_empty_line():
    assert fonts.wrap("", 1.0, 0.1) == ("",)


def test_a_text_that_fits_is_not_shortened_and_one_that_does_not_ends_in_an_ellipsis():
    assert fonts.shorten("60 A", 1.0, 0.1) == "60 A"
    short = fonts.shorten("W" * 80, 1.0, 0.1)
    assert short.endswith("…") and fonts.text_width_in(short, 0.1) <= 1.0
    longer = short[:-1] + "W…"
    assert fonts.text_width_in(longer, 0.1) > 1.0


def test_wrapping_to_a_number_of_lines_keeps_the_beginning_and_says_there_is_more():
    lines = fonts.wrap_to("one two three four five six seven", 0.5, 0.1, 2)
    assert len(lines) == 2 and lines[0].startswith("one") and lines[1].endswith("…")
    assert fonts.wrap_to("one two", 2.0, 0.1, 2) == ("one two",)
