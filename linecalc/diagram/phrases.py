"""Short texts put together without saying a thing twice."""

from __future__ import annotations

import re

from linecalc.network.records import Node
from linecalc.term import Number, Rendered, Term, value_of
from linecalc.units import Quantity, unit_text

_LEADS = ("on the ", "at the ", "in the ")


def amount(quantity: Quantity | str | None) -> str:
    """A quantity of the project as the user wrote it, marked where it is assumed; empty for none."""
    if quantity is None:
        return ""
    if isinstance(quantity, str):
        return quantity
    written = quantity.as_written.replace(" degC", " °C").replace(" degF", " °F")
    if quantity.basis == "given":
        return written
    return f"{written} ({quantity.basis})"


def figure(number: Number, unit: str, digits: int = 3) -> str:
    """A computed figure with its unit, rounded for reading."""
    value = value_of(number)
    text = f"{value:.{digits}g}" if abs(value) < 1000 else f"{value:.0f}"
    return f"{float(text):g} {unit_text(unit)}".strip()


def arithmetic(number: Number, unit: str) -> str:
    """``40 A + 200 A = 240 A``, or only the figure where nothing was computed."""
    if not isinstance(number, Term) or not number.op:
        return figure(number, unit)
    line = Rendered(number)
    result = f"{line.result} {unit_text(unit)}"
    return result if line.substitution == result else f"{line.substitution} = {result}"


def status(existing: bool) -> str:
    """The mark of what exists already or is new."""
    return "(E)" if existing else "(N)"


def joined(*parts: str) -> str:
    """The parts that say something, with commas."""
    return ", ".join(part for part in parts if part)


def listed(words: tuple[str, ...] | list[str]) -> str:
    """``A``, ``A and B``, ``A, B and C``."""
    return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)


def head_of(node: Node, fallback: str) -> str:
    """Tag, mark and name of a thing."""
    name = node.item.description or (node.data.description if node.data is not None else None) or fallback
    return f"{node.tag} {status(node.item.existing)} {name}"


def place_of(node: Node) -> str:
    """Where a thing is, without what its description says already."""
    return unsaid(node.item.location or "", node.item.description or "")


def unsaid(text: str, said: str) -> str:
    """Those parts of a text, between commas, that *said* does not hold.

    Examples
    --------
    >>> unsaid("roof, outdoors", "roof box, string 1")
    'outdoors'
    """
    return ", ".join(part for part in text.split(", ") if part and not holds(said, part))


def holds(text: str, words: str) -> bool:
    """Whether a text holds these words, one after the other."""
    return re.search(rf"(?<!\w){re.escape(words)}(?!\w)", text, re.IGNORECASE) is not None


def place_once(first: str | None, second: str | None) -> str:
    """Two descriptions of one place together, each part once.

    Examples
    --------
    >>> place_once("on the east wall", "east wall, outdoors")
    'east wall, outdoors'
    """
    lead = first or ""
    for word in _LEADS:
        if lead.startswith(word) and holds(second or "", lead.removeprefix(word)):
            return second or ""
    return joined(lead, unsaid(second or "", lead))


def names_device(text: str, name: str) -> bool:
    """Whether a text names the device that *name* is, by its tag or a designation such as RSS in capitals."""
    designations = [word for word in re.findall(r"[A-Za-z0-9_.\-]+", name) if word == word.upper() and len(word) > 1]
    return any(re.search(rf"(?<![\w.\-]){re.escape(word)}(?![\w\-]|\.\w)", text) for word in designations or [name])
