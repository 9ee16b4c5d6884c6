"""What stands on the sheets of a set, as pure data: the template draws it, nothing else is in it.

Lengths are inches.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from linecalc.diagram.fonts import CAP_MIN_IN, text_width_in
from linecalc.report.content import Fact, Grid

#: Beside the text of a cell, with a little for rounding.
_PADDING_IN = 0.17
#: A longer word in a table cell may be broken; the template knows the same number.
_WORD_MAX = 18
_HALVINGS = 30
_AMOUNT = re.compile(r"(\d) (\S{1,5})(?![^ ,;)])")


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading below that of the sheet; ``level`` 2 and 3 are bookmarks."""

    text: str
    level: int = 2
    kind: str = "heading"


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Text, after a lead that stands out."""

    text: str
    lead: str = ""
    indent: bool = False
    kind: str = "paragraph"


@dataclass(frozen=True, slots=True)
class Listing:
    """A table with the width of each column."""

    caption: str
    columns: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    kind: str = "table"


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing of its own size."""

    svg: str
    width: float
    alt: str
    kind: str = "picture"


@dataclass(frozen=True, slots=True)
class Index:
    """The list of the sheets, made where the number of pages is known."""

    kind: str = "index"


@dataclass(frozen=True, slots=True)
class Break:
    """What follows begins on a new page if little of this one is left."""

    kind: str = "break"


@dataclass(frozen=True, slots=True)
class DrawnLabel:
    """A label at true size: header word on its ground, text with capitals of ``cap`` inches, and what it is.

    Header and title have capitals of ``header_cap`` inches.
    """

    header: str
    header_fill: str
    header_letters: str
    fill: str
    letters: str
    title: str
    text: str
    values: tuple[str, ...]
    cap: float
    header_cap: float
    width: float
    caption: str
    kind: str = "label"


Item = Heading | Paragraph | Listing | Picture | Index | Break | DrawnLabel


@dataclass(frozen=True, slots=True)
class Part:
    """Items that flow through columns of one width."""

    columns: int
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Count:
    """Where a drawing says which sheet of how many it is: middle of the baseline, cap height."""

    x: float
    y: float
    cap: float


@dataclass(frozen=True, slots=True)
class TextSheet:
    """A sheet, or as many as its items need. ``paper`` is ``ansi-b`` or ``letter``."""

    number: str
    title: str
    paper: str
    parts: tuple[Part, ...]
    kind: str = "text"


@dataclass(frozen=True, slots=True)
class DrawingSheet:
    """A sheet that is one drawing with a title block of its own."""

    number: str
    title: str
    svg: str
    alt: str
    width: float
    height: float
    count: Count | None
    kind: str = "drawing"


Sheets = tuple[TextSheet | DrawingSheet, ...]


def fact_items(facts: tuple[Fact, ...]) -> tuple[Paragraph, ...]:
    """Labelled statements, marked where their input is assumed or to be verified."""
    return tuple(Paragraph(f"{fact.text} [{fact.mark}]" if fact.mark else fact.text, fact.label) for fact in facts)


def listing(grid: Grid, room: float) -> Listing:
    """A grid as a table no wider than ``room``, its columns as wide as their texts where there is room."""
    columns = list(zip(grid.columns, *grid.rows, strict=True))
    natural = [max(_width(text) for text in cells) for cells in columns]
    least = [max(_width(word[:_WORD_MAX]) for text in cells for word in _words(text)) for cells in columns]
    return Listing(grid.caption, grid.columns, _fitted(natural, least, room), grid.rows)


def _words(text: str) -> list[str]:
    """The words of a cell, an amount with its unit as one."""
    return _AMOUNT.sub("\\1\u00a0\\2", text).split(" ") or [""]


def _width(text: str) -> float:
    return text_width_in(text, CAP_MIN_IN) + _PADDING_IN


def _fitted(natural: list[float], least: list[float], room: float) -> tuple[float, ...]:
    """Natural widths where they fit; else room is taken from the widest columns first."""
    if sum(natural) <= room:
        return tuple(round(width, 3) for width in natural)
    if sum(least) >= room:
        return tuple(round(width * room / sum(least), 3) for width in least)
    low, high = 0.0, room
    for _ in range(_HALVINGS):
        most = (low + high) / 2
        low, high = (low, most) if sum(_capped(natural, least, most)) > room else (most, high)
    return tuple(round(width - 0.0005, 3) for width in _capped(natural, least, low))


def _capped(natural: list[float], least: list[float], most: float) -> list[float]:
    """Natural widths, none above ``most`` unless its longest word is."""
    return [max(low, min(width, most)) for low, width in zip(least, natural, strict=True)]
