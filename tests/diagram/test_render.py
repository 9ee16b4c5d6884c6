"""Renderings are the sheet's size, the same bytes every time, and safe with any text."""

from __future__ import annotations

import subprocess
import sys
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pytest

from linecalc.diagram.fonts import drawable, font_size_in
from linecalc.diagram.raster import render_pdf, render_png
from linecalc.diagram.svg import render_svg
from linecalc.diagram.scene import Box, Outline, Scene, Text, Wire
from tests.diagram.symbol_sheet import symbol_sheet

SVG = "{http://www.w3.org/2000/svg}"
ODD = (
    "x" * 80,
    "quotes \" ' and <b>&amp;</b> & more",
    "# $5 and $6 are not mathematics $",
    "roof \U0001f600 \u202eright to left שמש\u200d",
    "]]> <!-- --> \\n %s {} ${a} &#0;",
)


def texts(svg):
    return [element.text for element in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def odd_scene():
    lines = tuple(drawable(text).text for text in ODD)
    return Scene((Outline("frame", Box(0.5, 0.5, 16.5, 10.5)), Text(1, 1, lines, 0.125)), title=ODD[1])


def test_the_drawing_has_exactly_the_size_of_the_sheet():
    root = ElementTree.fromstring(render_svg(symbol_sheet()))
    assert (root.get("width"), root.get("height")) == ("17in", "11in")
    assert root.get("viewBox") == "0 0 1224 792"


def test_two_renderings_are_the_same_bytes():
    assert render_svg(symbol_sheet()) == render_svg(symbol_sheet())
    assert render_png(symbol_sheet()) == render_png(symbol_sheet())
    assert render_pdf(symbol_sheet()) == render_pdf(symbol_sheet())


def test_another_process_renders_the_same_bytes():
    program = (
        "import sys, hashlib\n"
        "from linecalc.diagram.svg import render_svg\n"
        "from linecalc.diagram.raster import render_png\n"
        "from tests.diagram.symbol_sheet import symbol_sheet\n"
        "scene = symbol_sheet()\n"
        "print(hashlib.sha256(render_svg(scene).encode() + render_png(scene)).hexdigest())\n"
    )
    root = Path(__file__).parents[2]
    runs = [
        subprocess.run(
            [sys.executable, "-c", program], cwd=root, env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            capture_output=True, text=True, check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs[0] == runs[1] and len(runs[0].strip()) == 64


def test_text_is_text_escaped_and_unchanged():
    svg = render_svg(odd_scene())
    assert texts(svg) == [drawable(text).text for text in ODD]
    assert "<b>" not in svg and "<!--" not in svg
    assert ElementTree.fromstring(svg).find(f"{SVG}title").text == ODD[1]


def test_a_title_with_characters_that_xml_forbids_still_gives_a_document():
    scene = Scene((Text(1, 1, ("ok",), 0.1),), title="a\x00b\x0bc\ud800\ufffe", description="d\x1f")
    ElementTree.fromstring(render_svg(scene).encode("utf-8"))


def test_odd_text_renders_to_png_and_pdf():
    assert render_png(odd_scene()).startswith(b"\x89PNG")
    assert render_pdf(odd_scene()).startswith(b"%PDF")


def test_png_has_the_pixels_of_the_sheet_at_its_resolution():
    png = render_png(symbol_sheet(), ppi=100)
    size = int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")
    assert size == (1700, 1100)


def test_pdf_carries_the_drafting_font_and_searchable_text():
    pypdf = pytest.importorskip("pypdf")
    page = pypdf.PdfReader(BytesIO(render_pdf(symbol_sheet()))).pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (1224.0, 792.0)
    assert "fused disconnect" in page.extract_text()
    fonts = {str(font.get_object()["/BaseFont"]) for font in _fonts(page)}
    assert fonts and all("LinecalcDrafting" in name for name in fonts)


def _fonts(page):
    pending, found = [page["/Resources"].get_object()], []
    while pending:
        resources = pending.pop()
        found.extend(resources.get("/Font", {}).values())
        for external in resources.get("/XObject", {}).values():
            inner = external.get_object().get("/Resources")
            if inner is not None:
                pending.append(inner.get_object())
    return found


def test_no_reference_leaves_the_file():
    svg = render_svg(symbol_sheet())
    assert "http" not in svg.replace("http://www.w3.org/2000/svg", "")
    assert "clip" not in svg and "data:font/woff2;base64," in svg


def test_the_font_size_gives_the_cap_height():
    svg = render_svg(Scene((Text(1, 1, ("H",), 0.1),)))
    element = ElementTree.fromstring(svg).find(f"{SVG}text")
    assert float(element.get("font-size")) == pytest.approx(font_size_in(0.1) * 72, abs=0.001)
    assert font_size_in(0.1) == pytest.approx(0.1 * 2048 / 1456)


def test_what_exists_is_thin_and_dashed_and_what_is_new_is_solid():
    def stroke(existing):
        svg = render_svg(Scene((Wire(((1, 1), (3, 1)), "C1", existing),)))
        return ElementTree.fromstring(svg).find(f"{SVG}path").get("style")

    assert "dasharray" in stroke(True) and "stroke-width:0.75" in stroke(True)
    assert "dasharray" not in stroke(False) and "stroke-width:1.25" in stroke(False)
