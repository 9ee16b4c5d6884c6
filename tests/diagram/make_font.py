"""Make the drafting font that linecalc ships (run by hand, not by the tests).

The source is Roboto Condensed (SIL Open Font License 1.1, no reserved name), the variable
TrueType file of the PyPI package ``fontpkg-roboto-condensed``.  The font is made static at
weight 400, cut down to the characters a drawing needs, narrowed to 92 % (a drafting width
factor), given four arrows and a box, and renamed.  Layout features and hinting are dropped, so
that the width of a text is the sum of its advances in every renderer.

Usage::

    python tests/diagram/make_font.py "RobotoCondensed[wght].ttf" OFL_TEXT linecalc/diagram
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

FAMILY = "Linecalc Drafting"
STEM = "linecalc-drafting"
WEIGHT = 400
WIDTH_FACTOR = 0.92
BOX = 0x25A1
FIXED_TIME = 3786912000  # 2024-01-01 in the font's epoch: the same bytes every run

RANGES = (
    (0x20, 0x7E), (0xA0, 0x17F), (0x391, 0x3A9), (0x3B1, 0x3C9), (0x2010, 0x2027),
    (0x2030, 0x203A), (0x2044, 0x2044), (0x20AC, 0x20AC), (0x2122, 0x2122), (0x215B, 0x215E),
    (0x2126, 0x2126), (0x2200, 0x22FF), (0x25CA, 0x25CA), (0x2153, 0x215A), (0x2070, 0x2089),
)
#: Code points whose glyph stands in for another one of the same look.
ALIASES = {0x2011: 0x2010, 0x202F: 0x20, 0x2126: 0x3A9, 0x2206: 0x394}
LICENCE_HEAD = (
    "Linecalc Drafting is made from Roboto Condensed: made static at weight 400, reduced to part\n"
    "of its characters, narrowed to 92 %, given arrows and a box, renamed. It stays under the same\n"
    "licence. (The name table of the source also names the Apache License, Version 2.0.)\n\n"
)


def static_subset(source: Path) -> TTFont:
    """Return the font at one weight, with only the wanted characters and no layout features."""
    font = instantiateVariableFont(TTFont(source), {"wght": WEIGHT})
    wanted = {code for first, last in RANGES for code in range(first, last + 1)}
    options = Options()
    options.layout_features = []
    options.hinting = False
    options.name_IDs = [0, 13, 14]
    options.notdef_outline = True
    options.drop_tables += ["GDEF", "GPOS", "GSUB", "STAT", "MVAR", "HVAR", "DSIG", "gasp", "meta"]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=wanted | set(ALIASES.values()))
    subsetter.subset(font)
    return font


def narrow(font: TTFont) -> None:
    """Scale every glyph and advance to the width factor; composites become outlines."""
    glyphs = font["glyf"]
    glyph_set = font.getGlyphSet()
    drawn = {}
    for name in font.getGlyphOrder():
        recording = DecomposingRecordingPen(glyph_set)
        glyph_set[name].draw(recording)
        pen = TTGlyphPen(None)
        recording.replay(TransformPen(pen, (WIDTH_FACTOR, 0, 0, 1, 0, 0)))
        drawn[name] = pen.glyph()
    for name, glyph in drawn.items():
        glyphs[name] = glyph
        glyph.recalcBounds(glyphs)
        advance, _ = font["hmtx"][name]
        left = glyph.xMin if glyph.numberOfContours else 0
        font["hmtx"][name] = (round(advance * WIDTH_FACTOR), left)


def arrow_contours() -> dict[int, tuple[tuple[int, int], ...]]:
    """Outlines of the four arrows, in font units of 2048 to the em."""
    right = ((90, 655), (730, 655), (730, 400), (1110, 728), (730, 1056), (730, 801), (90, 801))
    left = tuple((1200 - x, y) for x, y in right)
    up = tuple((y - 228 + 100, x + 120) for x, y in right)
    down = tuple((x, 1456 - y) for x, y in up)
    return {0x2190: left, 0x2191: up, 0x2192: right, 0x2193: down}


def box_contours() -> tuple[tuple[tuple[int, int], ...], ...]:
    """Outline of the box that stands for a character the font lacks: outer and inner ring."""
    outer = ((90, 0), (90, 1456), (910, 1456), (910, 0))
    inner = ((210, 120), (790, 120), (790, 1336), (210, 1336))
    return outer, inner


def signed_area(points: tuple[tuple[int, int], ...]) -> float:
    """Twice the signed area of a polygon: negative when it runs clockwise."""
    following = points[1:] + points[:1]
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, following))


def add_polygon(font: TTFont, code: int, advance: int, contours: tuple) -> None:
    """Add one character made of straight contours, which keep their direction."""
    name = f"uni{code:04X}"
    pen = TTGlyphPen(None)
    for points in contours:
        pen.moveTo(points[0])
        for point in points[1:]:
            pen.lineTo(point)
        pen.closePath()
    glyph = pen.glyph()
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"][name] = glyph
    glyph.recalcBounds(font["glyf"])
    font["hmtx"][name] = (advance, glyph.xMin)
    for table in font["cmap"].tables:
        table.cmap[code] = name


def add_own_characters(font: TTFont) -> None:
    """Add the four arrows and the box, drawn as plain polygons."""
    for code, points in arrow_contours().items():
        clockwise = points if signed_area(points) < 0 else points[::-1]
        add_polygon(font, code, 1200 if code in (0x2190, 0x2192) else 1000, (clockwise,))
    add_polygon(font, BOX, 1000, box_contours())


def add_aliases(font: TTFont) -> None:
    """Map code points that share a look to the glyph that exists."""
    best = font.getBestCmap()
    for code, twin in ALIASES.items():
        if code not in best and twin in best:
            for table in font["cmap"].tables:
                table.cmap[code] = best[twin]


def rename(font: TTFont) -> None:
    """Give the font its own name; the source's copyright and licence entries stay."""
    names = {1: FAMILY, 2: "Regular", 3: f"{STEM} 1", 4: FAMILY, 5: "Version 1.000",
             6: "LinecalcDrafting-Regular"}
    for name_id, text in names.items():
        font["name"].setName(text, name_id, 3, 1, 0x409)
    font["OS/2"].usWeightClass = 400
    font["OS/2"].usWidthClass = 5
    font["OS/2"].fsSelection = 0x40
    font["head"].macStyle = 0
    font["head"].created = font["head"].modified = FIXED_TIME
    font["head"].fontRevision = 1.0


def metrics(font: TTFont) -> dict[str, object]:
    """The figures that linecalc measures text with: font units, and advance by code point."""
    cmap = font.getBestCmap()
    return {
        "family": FAMILY,
        "file": f"{STEM}.ttf",
        "units_per_em": font["head"].unitsPerEm,
        "cap_height": font["glyf"]["H"].yMax,
        "ascent": max(font["glyf"][n].yMax for n in cmap.values() if hasattr(font["glyf"][n], "yMax")),
        "descent": -font["glyf"]["p"].yMin,
        "missing_advance": font["hmtx"][".notdef"][0],
        "advances": {f"{code:04X}": font["hmtx"][name][0] for code, name in sorted(cmap.items())},
    }


def main(source: Path, licence: Path, target: Path) -> None:
    """Write the TrueType font, its WOFF2 twin, its metrics and its licence into *target*."""
    font = static_subset(source)
    narrow(font)
    add_own_characters(font)
    add_aliases(font)
    rename(font)
    font.recalcTimestamp = False
    font.save(target / f"{STEM}.ttf")
    made = TTFont(target / f"{STEM}.ttf", recalcTimestamp=False)
    text = json.dumps(metrics(made), indent=0, ensure_ascii=True)
    (target / "font_metrics.json").write_text(text + "\n", encoding="utf-8")
    made.flavor = "woff2"
    made.save(target / f"{STEM}.woff2")
    licence_text = LICENCE_HEAD + licence.read_text(encoding="utf-8")
    (target / f"{STEM}-LICENSE.txt").write_text(licence_text, encoding="utf-8")


if __name__ == "__main__":
    main(*(Path(argument) for argument in sys.argv[1:4]))
