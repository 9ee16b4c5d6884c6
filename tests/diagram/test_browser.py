"""A browser gives the text on the drawing the room that the scene measured for it."""

from __future__ import annotations

import json
import re
import shutil
import subprocess

import pytest

from linecalc.diagram.fonts import drawable, text_width_in
from linecalc.diagram.svg import render_svg
from linecalc.diagram.scene import Scene, Text

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)
SCRIPT = """
<pre id="out"></pre><script>
document.fonts.ready.then(() => {
  const rows = [...document.querySelectorAll("text")].map(t => {
    const b = t.getBBox(); return [t.textContent, b.x, b.y, b.width, b.height, t.getComputedTextLength()];
  });
  document.getElementById("out").textContent = "@@" + JSON.stringify(rows) + "@@";
});
</script>
"""


def browser_texts(scene, tmp_path):
    """Each text with the box (x, y, width, height in points) that the browser gives it."""
    page = tmp_path / "page.html"
    svg = render_svg(scene).split("?>", 1)[1]
    page.write_text(f"<!doctype html><meta charset=utf-8><body>{svg}{SCRIPT}", encoding="utf-8")
    done = subprocess.run(
        [CHROMIUM, *FLAGS, f"--user-data-dir={tmp_path / 'profile'}", "--virtual-time-budget=4000",
         "--dump-dom", page.as_uri()],
        capture_output=True, text=True, timeout=120, check=True,
    )
    found = re.search(r"@@(.*?)@@</pre>", done.stdout, re.DOTALL)
    return json.loads(found.group(1).replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&"))


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
def test_text_extents_in_a_browser_are_those_measured(tmp_path):
    samples = (
        "Disconnect, 60 A, 240 V, NEMA 3R, (N) garage wall", "120 % rule: 80 A + 150 A <= 225 A",
        "AV To WA Ty fi ffl", drawable("odd \U0001f600 & <x> → ≤ Ω").text, "i" * 60, "W" * 60,
    )
    scene = Scene(tuple(Text(1, 1 + i * 0.5, (s,), 0.1 + 0.025 * (i % 2)) for i, s in enumerate(samples)))
    rows = browser_texts(scene, tmp_path)
    assert [row[0] for row in rows] == list(samples)
    for text, row in zip(scene.of(Text), rows):
        width_in = text_width_in(text.lines[0], text.cap_in)
        assert row[5] / 72 == pytest.approx(width_in, rel=0.005, abs=0.003)
