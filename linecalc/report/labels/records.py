"""Records of the label schedule, and the signal words with their colours."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from linecalc.report.amounts import amount
from linecalc.study import Study
from linecalc.term import Number


class Signal(Enum):
    """Header words of ANSI Z535.4, each with the colours that go with it."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"
    NONE = "none"

    @property
    def color(self) -> str:
        """Letters and ground of the header."""
        return _COLORS[self]


_COLORS = {
    Signal.DANGER: "white on red",
    Signal.WARNING: "black on orange",
    Signal.CAUTION: "black on yellow",
    Signal.NOTICE: "white on blue",
    Signal.NONE: "black on white",
}


class Stock(Enum):
    """What a label is made of where a section says so."""

    PLAIN = "permanent, suited to its place, not hand-written"
    REFLECTIVE = "permanent, reflective, capitals of at least 3/8 in"
    LARGE = "permanent, capitals of at least 1/2 in"
    BUILDING = "permanent, title capitals of at least 3/8 in, the rest at least 3/16 in; a simple diagram of the building is asked for too (from memory), not drawn here"


@dataclass(frozen=True, slots=True)
class LabelValue:
    """A computed or given value that a label shows; ``number`` is None where ``needs`` says what is missing."""

    name: str
    number: Number | None
    unit: str
    needs: str = ""

    @property
    def text(self) -> str:
        """``Highest DC voltage 464.9 V``, or a gap to be filled in."""
        shown = f"____ {self.unit} (needs {self.needs})" if self.number is None else amount(self.number, self.unit)
        return f"{self.name} {shown}"


@dataclass(frozen=True, slots=True)
class Label:
    """One label of the schedule.

    ``key`` is what ``[label.KEY]`` of a project changes. ``prescribed`` says
    that the section gives words of its own; ours carry the same sense.
    ``changed_by`` is the source of a change, empty where nothing was changed.
    """

    key: str
    where: str
    signal: Signal
    color: str
    text: str
    rule: str
    citation: str
    values: tuple[LabelValue, ...] = ()
    stock: Stock = Stock.PLAIN
    prescribed: bool = False
    changed_by: str = ""

    @property
    def wording(self) -> str:
        """The sentences and the values as they stand on the label."""
        return ". ".join([self.text, *(value.text for value in self.values)]) + "."


def label_of(
    study: Study,
    key: str,
    rule: str,
    where: str,
    signal: Signal,
    text: str,
    values: tuple[LabelValue, ...] = (),
    color: str = "",
    stock: Stock = Stock.PLAIN,
    prescribed: bool = False,
) -> Label:
    """A label with the section of the study's edition."""
    citation = study.book.cite(rule).text
    return Label(key, where, signal, color or signal.color, text, rule, citation, values, stock, prescribed)
