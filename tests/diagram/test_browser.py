"""A browser gives the text on the drawing the room that the scene measured for it, and so the drawing has no faults there either."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from dataclasses import dataclass, field, replace

import pytest

from linecalc.diagram.fonts import drawable, text_width_in
from linecalc.diagram.scene import Box, Scene, Text, hull
from linecalc.diagram.scene_checks import all_faults
from linecalc.diagram.svg import render_svg
from tests.diagram.cached import drawn

PT_PER_IN = 72.0
#: A browser rounds the height of a line of text to whole pixels.
PIXEL_IN = 1 / 96

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)
SCRIPT = """
<pre id="out"></pre><script>
document.fonts.ready.then(() => {
  const sheets = [...document.querySelectorAll("svg")].map(svg => [...svg.querySelectorAll("text")].map(t => {
    const b = t.getBBox(); return [t.textContent, b.x, b.y, b.width, b.height, t.getComputedTextLength()];
  }));
  document.getElementById("out").textContent = "@@" + JSON.stringify(sheets) + "@@";
});
</script>
"""


def browser_texts(scenes, tmp_path):
    """For each scene its texts with the box (x, y, width, height in points) that the browser gives them."""
    page = tmp_path / "page.html"
    drawn = "".join(render_svg(scene).split("?>", 1)[1] for scene in scenes)
    page.write_text(f"<!doctype html><meta charset=utf-8><body>{drawn}{SCRIPT}", encoding="utf-8")
    done = subprocess.run(
        [CHROMIUM, *FLAGS, f"--user-data-dir={tmp_path / 'profile'}", "--virtual-time-budget=4000",
         "--dump-dom", page.as_uri()],
        capture_output=True, text=True, timeout=120, check=True,
    )
    found = re.search(r"@@(.*?)@@</pre>", done.stdout, re.DOTALL)
    return json.loads(found.group(1).replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&"))


@dataclass(frozen=True)
class Measured(Text):
    """A text with the room that a browser gives it."""

    measured: Box = field(default=Box(0, 0, 0, 0))

    def box(self):
        return self.measured


def as_measured(scene, rows):
    """The scene with every text as large as the browser draws it; texts stand in the rows in the order of the scene, line by line."""
    left = iter(rows)
    items = []
    for item in scene.items:
        if isinstance(item, Text):
            boxes = [_row_box(next(left), line) for line in item.lines if line]
            item = Measured(item.x, item.y, item.lines, item.cap_in, item.anchor, item.subject, item.role, hull(boxes)) if boxes else item
        items.append(item)
    return replace(scene, items=tuple(items))


def _row_box(row, line):
    text, x, y, width, height, _ = row
    assert text == line
    top, bottom = y / PT_PER_IN + PIXEL_IN, (y + height) / PT_PER_IN - PIXEL_IN
    return Box(x / PT_PER_IN, top, (x + width) / PT_PER_IN, bottom)


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
def test_a_browser_draws_the_texts_of_the_examples_within_their_boxes_and_their_sheets_have_no_fault_so(tmp_path):
    scenes = [scene for name in ("a", "b", "c", "d") for scene in drawn(f"examples/{name}.toml")]
    sheets = browser_texts(scenes, tmp_path)
    assert len(sheets) == len(scenes) >= 4
    for scene, rows in zip(scenes, sheets, strict=True):
        seen = as_measured(scene, rows)
        assert len(seen.of(Measured)) > 50
        for text, found in zip((text for text in scene.of(Text) if any(text.lines)), seen.of(Measured), strict=True):
            box = text.box().grown(0.02)
            assert box.x0 <= found.box().x0 and found.box().x1 <= box.x1, text.lines
        assert all_faults(seen) == ()


def test_a_text_that_a_browser_draws_wider_would_be_found():
    scene = Scene((Text(1, 1, ("one",), 0.1), Text(1.3, 1, ("two",), 0.1)))
    (rows,) = [[["one", 72.0, 64.8, 60.0, 9.0, 60.0], ["two", 93.6, 64.8, 12.0, 9.0, 12.0]]]
    assert any("overlaps" in fault for fault in all_faults(as_measured(scene, rows)))


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
def test_text_extents_in_a_browser_are_those_measured(tmp_path):
    samples = (
        "Disconnect, 60 A, 240 V, NEMA 3R, (N) garage wall", "120 % rule: 80 A + 150 A <= 225 A",
        "AV To WA Ty fi ffl", drawable("odd \U0001f600 & <x> → ≤ Ω").text, "i" * 60, "W" * 60,
    )
    scene = Scene(tuple(Text(1, 1 + i * 0.5, (s,), 0.1 + 0.025 * (i % 2)) for i, s in enumerate(samples)))
    (rows,) = browser_texts((scene,), tmp_path)
    assert [row[0] for row in rows] == list(samples)
    for text, row in zip(scene.of(Text), rows):
        width_in = text_width_in(text.lines[0], text.cap_in)
        assert row[5] / 72 == pytest.approx(width_in, rel=0.005, abs=0.003)
