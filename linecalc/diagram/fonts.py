"""Measure text in the drafting font that linecalc ships.

Every width comes from the font's own advances (``font_metrics.json``, written with the font),
so a text takes the room on paper that the layout gave it.  The font has no kerning and no
ligatures: a width is the sum of its advances.  Lengths are in inches; the size of a text is its
cap height.
"""

from __future__ import annotations

import json
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

#: Smallest cap height on a drawing, and the one for what a reviewer must read, in inches.
CAP_MIN_IN = 0.1
CAP_REVIEW_IN = 0.125
#: Distance between the baselines of two lines, as a multiple of the cap height.
LINE_PITCH = 1.65
#: Drawn in place of a character that the font lacks.
MISSING = "\u25a1"
ELLIPSIS = "\u2026"
#: Units that stay on one line with their number.
_UNITS = frozenset("A kA V W kW MW VA kVA Wh kWh ft in mm m AWG kcmil °C °F % ohm".split())


@dataclass(frozen=True, slots=True)
class FontMetrics:
    """The measures of the font, in its own units."""

    family: str
    units_per_em: int
    cap_height: int
    ascent: int
    descent: int
    advances: dict[str, int]


@dataclass(frozen=True, slots=True)
class Drawable:
    """A text as it can be drawn, and the characters that had to become boxes."""

    text: str
    missing: tuple[str, ...]


def font_resource(suffix: str) -> bytes:
    """The shipped font file with this suffix: ``ttf`` or ``woff2``."""
    return (files("linecalc.diagram") / f"linecalc-drafting.{suffix}").read_bytes()


@lru_cache(maxsize=1)
def font_metrics() -> FontMetrics:
    """The metrics of the shipped font, read once."""
    raw = json.loads((files("linecalc.diagram") / "font_metrics.json").read_text("utf-8"))
    advances = {chr(int(code, 16)): units for code, units in raw["advances"].items()}
    return FontMetrics(
        family=raw["family"],
        units_per_em=raw["units_per_em"],
        cap_height=raw["cap_height"],
        ascent=raw["ascent"],
        descent=raw["descent"],
        advances=advances,
    )


def drawable(text: str) -> Drawable:
    """Reduce *text* to characters that the font has.

    The text is composed (NFC); white space of any kind becomes one space; invisible format and
    control characters are dropped; every other character that the font lacks becomes a box and
    is reported.
    """
    advances = font_metrics().advances
    kept: list[str] = []
    missing: list[str] = []
    for character in unicodedata.normalize("NFC", text):
        if character.isspace():
            kept.append(" ")
        elif character in advances:
            kept.append(character)
        elif unicodedata.category(character) not in ("Cf", "Cc", "Cs", "Mn", "Me"):
            kept.append(MISSING)
            missing.append(character)
        else:
            missing.append(character)
    return Drawable(" ".join("".join(kept).split()), tuple(dict.fromkeys(missing)))


def font_size_in(cap_height_in: float) -> float:
    """Font size (the em) in inches of a text with this cap height in inches."""
    metrics = font_metrics()
    return cap_height_in * metrics.units_per_em / metrics.cap_height


@lru_cache(maxsize=50_000)
def text_width_in(text: str, cap_height_in: float) -> float:
    """Width of one line of text in inches; a character that the font lacks counts as a box.

    Examples
    --------
    >>> round(text_width_in("240 V", 0.1), 3)
    0.294
    """
    metrics = font_metrics()
    box = metrics.advances[MISSING]
    units = sum(metrics.advances.get(character, box) for character in text)
    return units * cap_height_in / metrics.cap_height


def ascent_in(cap_height_in: float) -> float:
    """Height above the baseline of the tallest character, in inches."""
    metrics = font_metrics()
    return metrics.ascent * cap_height_in / metrics.cap_height


def descent_in(cap_height_in: float) -> float:
    """Depth below the baseline of the deepest letters, in inches."""
    metrics = font_metrics()
    return metrics.descent * cap_height_in / metrics.cap_height


def shorten(text: str, width_in: float, cap_height_in: float) -> str:
    """The text if it fits into the width, else its beginning and an ellipsis."""
    if text_width_in(text, cap_height_in) <= width_in:
        return text
    room = width_in - text_width_in(ELLIPSIS, cap_height_in)
    kept = _fitting_head(text, room, cap_height_in)
    return text[:kept].rstrip() + ELLIPSIS


@lru_cache(maxsize=20_000)
def wrap(text: str, width_in: float, cap_height_in: float) -> tuple[str, ...]:
    """Break a text into lines no wider than *width_in*; a word that is too long is cut.

    Returns at least one line, an empty one for an empty text.
    """
    lines: list[str] = []
    line = ""
    for word in _words(text):
        candidate = f"{line} {word}" if line else word
        if text_width_in(candidate, cap_height_in) <= width_in:
            line = candidate
            continue
        if line:
            lines.append(line)
        pieces = _cut_word(word, width_in, cap_height_in)
        lines.extend(pieces[:-1])
        line = pieces[-1]
    lines.append(line)
    return tuple(lines)


def _words(text: str) -> list[str]:
    """The words of a text; a number and its unit count as one word."""
    words: list[str] = []
    for word in text.split():
        if words and word.strip(",;.)") in _UNITS and words[-1][-1:].isdigit():
            words[-1] += " " + word
        else:
            words.append(word)
    return words


def wrap_to(text: str, width_in: float, cap_height_in: float, lines_max: int) -> tuple[str, ...]:
    """As `wrap`, with at most *lines_max* lines; what does not fit ends in an ellipsis."""
    lines = wrap(text, width_in, cap_height_in)
    if len(lines) <= lines_max:
        return lines
    rest = " ".join(lines[lines_max - 1 :])
    return (*lines[: lines_max - 1], shorten(rest, width_in, cap_height_in))


def _fitting_head(text: str, width_in: float, cap_height_in: float) -> int:
    """How many leading characters fit into the width."""
    metrics = font_metrics()
    box = metrics.advances[MISSING]
    room = width_in * metrics.cap_height / cap_height_in
    for count, character in enumerate(text):
        room -= metrics.advances.get(character, box)
        if room < 0:
            return count
    return len(text)


def _cut_word(word: str, width_in: float, cap_height_in: float) -> list[str]:
    """Cut one word into pieces that fit; a piece has at least one character."""
    pieces: list[str] = []
    while text_width_in(word, cap_height_in) > width_in and len(word) > 1:
        count = max(1, _fitting_head(word, width_in, cap_height_in))
        pieces.append(word[:count])
        word = word[count:]
    return [*pieces, word] if word or not pieces else pieces
