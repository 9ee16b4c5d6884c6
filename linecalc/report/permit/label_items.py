"""Labels drawn at true size: header word and colours by their section, our own sentences, values filled in."""

from __future__ import annotations

from linecalc.diagram.fonts import text_width_in
from linecalc.report.labels import Label
from linecalc.report.labels.records import Signal, Stock
from linecalc.report.permit.items import DrawnLabel

#: Printed colours; letters on a ground are told apart in black and white too.
COLORS = {"red": "#c8102e", "orange": "#ff7900", "yellow": "#f9e300", "blue": "#0051ba", "white": "#ffffff", "black": "#000000"}
#: Cap heights in inches of text and of the header or title, and the greatest width, by what the section asks.
_SIZES = {
    Stock.PLAIN: (0.125, 0.25, 4.75),
    Stock.BUILDING: (0.1875, 0.375, 7.5),
    Stock.REFLECTIVE: (0.375, 0.375, 15.0),
    Stock.LARGE: (0.5, 0.5, 15.0),
}
#: How many stand side by side, and how wide each may be then.
_COLUMNS = ((3, 5.1), (2, 7.8), (1, 16.0))
#: Beside the text of a label, in inches.
_MARGINS_IN = 0.34
#: Labels of one width; the others are as wide as their line.
_EQUAL = (Stock.PLAIN, Stock.BUILDING)
_CAPITALS = (Stock.REFLECTIVE, Stock.LARGE)


def columns_of(drawn: DrawnLabel) -> int:
    """How many labels of its width stand side by side on a sheet: three, two or one."""
    return next(columns for columns, width in _COLUMNS if drawn.width <= width)


def drawn_label(number: int, label: Label) -> DrawnLabel:
    """One label of the schedule with its number, place and section below it."""
    cap, header_cap, widest = _SIZES[label.stock]
    letters, ground = colors(label.color)
    header = "" if label.signal is Signal.NONE else label.signal.value
    whole = label.signal is Signal.NONE
    capitals = label.stock in _CAPITALS
    title, text = _titled(label.text) if label.stock is Stock.BUILDING else ("", label.text)
    own = "; the section has words of its own" if label.prescribed else ""
    asked_by = f"asked for by {label.citation or label.changed_by}"
    caption = f"No. {number}: {label.where}; {asked_by}; {label.stock.value}{own}; drawn at true size."
    width = widest if label.stock in _EQUAL else min(widest, text_width_in(_set(text, capitals), cap) + _MARGINS_IN)
    return DrawnLabel(
        header, ground, letters, ground if whole else COLORS["white"], letters if whole else COLORS["black"],
        title, _set(text, capitals), tuple(_set(value.text, capitals) for value in label.values), cap, header_cap, width, caption,
    )  # fmt: skip


def _titled(text: str) -> tuple[str, str]:
    """The first sentence in capitals as a title, and the rest."""
    title, stop, rest = text.partition(". ")
    return title.upper(), rest if stop else ""


def _set(text: str, capitals: bool) -> str:
    return text.upper() if capitals else text


def colors(words: str) -> tuple[str, str]:
    """Letters and ground of ``white on red``; other words give black on white.

    Examples
    --------
    >>> colors("white on red")
    ('#ffffff', '#c8102e')
    """
    letters, _, ground = words.lower().partition(" on ")
    if letters not in COLORS or ground not in COLORS:
        return COLORS["black"], COLORS["white"]
    return COLORS[letters], COLORS[ground]
