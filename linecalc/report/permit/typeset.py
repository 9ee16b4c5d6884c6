"""Items of the sheets broken into lines by the measures of the drafting font, with the height they take.

A number stays with its unit, and lines break between words only; a word that
is longer than a line is cut. Lengths are inches.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from linecalc.diagram.fonts import CAP_MIN_IN, drawable, font_size_in, text_width_in
from linecalc.report.permit.items import Facts, Item, Lines, Paragraph

#: Text and whether it stands out.
Run = tuple[str, bool]
_EM_IN = font_size_in(CAP_MIN_IN)
#: Distance of two baselines; the template has the same leading.
LINE_IN = CAP_MIN_IN + 0.47 * _EM_IN
HANGING_IN = 0.25
#: What typst may find wider than we do.
_ROUNDING_IN = 0.01
_AFTER_LEAD, _BETWEEN_FACTS = "  ", "      "
_JOINED = "\u00a0"
_AMOUNT = re.compile(r"(?<=\d) (?=(?:%|(?:k?[AVW]|MW|k?VA|k?Wh|ft|in2?|mm?|AWG|kcmil|cmil|deg[CF]|K|ohm)\b))")
_Token = tuple[str, str, bool]


@lru_cache(maxsize=20_000)
def words(text: str) -> tuple[str, ...]:
    """The words of a text as it can be drawn, a number and its unit as one.

    Examples
    --------
    >>> words("at most 10.4 kWh each")
    ('at', 'most', '10.4 kWh', 'each')
    """
    return tuple(word.replace(_JOINED, " ") for word in _AMOUNT.sub(_JOINED, drawable(text).text).split(" "))


def cell_lines(text: str, width: float) -> tuple[str, ...]:
    """The lines of a table cell of this width."""
    tokens = [(" ", word, False) for word in words(text)]
    return tuple("".join(run for run, _ in line) for line in _filled(tokens, width, width))


def in_lines(items: Iterable[Item], width: float) -> tuple[Item, ...]:
    """The items with every paragraph broken into lines for a column of this width."""
    return tuple(_in_lines(item, width) for item in items)


def _in_lines(item: Item, width: float) -> Item:
    if isinstance(item, Paragraph):
        return Lines(_paragraph([(item.lead, item.text)], width))
    if isinstance(item, Facts):
        return Lines(_paragraph(item.facts, width), item.sticky)
    return item


def _paragraph(parts: Iterable[tuple[str, str]], width: float) -> tuple[tuple[Run, ...], ...]:
    """Leads and texts one after the other, further lines set in by ``HANGING_IN``."""
    return _filled(list(_tokens(parts)), width, width - HANGING_IN)


def _tokens(parts: Iterable[tuple[str, str]]) -> Iterator[_Token]:
    """Each word with the space before it."""
    before = ""
    for lead, text in parts:
        for kind, strong in ((lead, True), (text, False)):
            for word in words(kind) if kind else ():
                yield before, word, strong
                before = " "
            before = _AFTER_LEAD if lead else ""
        before = _BETWEEN_FACTS


def _filled(tokens: list[_Token], first: float, further: float) -> tuple[tuple[Run, ...], ...]:
    """Lines as full as their width allows."""
    lines: list[list[_Token]] = [[]]
    room = first - _ROUNDING_IN
    for before, word, strong in tokens:
        width = text_width_in(word, CAP_MIN_IN)
        if lines[-1] and width + (space := _space_in(before)) <= room:
            lines[-1].append((before, word, strong))
            room -= width + space
            continue
        if lines[-1]:
            lines.append([])
            room = further - _ROUNDING_IN
        for at, piece in enumerate(_cut(word, room, further - _ROUNDING_IN)):
            if at:
                lines.append([])
                room = further - _ROUNDING_IN
            lines[-1].append(("", piece, strong))
            room -= text_width_in(piece, CAP_MIN_IN)
    return tuple(_runs(line) for line in lines)


@lru_cache(maxsize=8)
def _space_in(before: str) -> float:
    return text_width_in(before, CAP_MIN_IN)


def _cut(word: str, room: float, further: float) -> list[str]:
    """The word, cut where it is longer than the line it stands on and the lines after it."""
    if text_width_in(word, CAP_MIN_IN) <= room:
        return [word]
    pieces, start, used = [], 0, 0.0
    for at, character in enumerate(word):
        width = text_width_in(character, CAP_MIN_IN)
        if used + width > room and at > start:
            pieces.append(word[start:at])
            start, used, room = at, 0.0, further
        used += width
    return [*pieces, word[start:]]


def _runs(line: list[_Token]) -> tuple[Run, ...]:
    """Neighbours that look alike as one run."""
    runs: list[list] = []
    for before, word, strong in line:
        if runs and runs[-1][1] is strong:
            runs[-1][0] += before + word
        else:
            runs.append([before + word, strong])
    return tuple((text, strong) for text, strong in runs)
