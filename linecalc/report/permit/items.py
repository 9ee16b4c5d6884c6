"""What stands on the sheets of a set, as pure data: the template draws it, nothing else is in it.

Lengths are inches.
"""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.report.content import Fact


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


@dataclass(frozen=True, slots=True)
class Lines:
    """A paragraph broken into lines, each of runs of text with whether they stand out; ``sticky`` stays with what follows."""

    lines: tuple[tuple[tuple[str, bool], ...], ...]
    sticky: bool = False
    kind: str = "lines"


@dataclass(frozen=True, slots=True)
class Listing:
    """A table with the width of each column; the lines of a cell stand below each other. ``whole`` is never broken over columns."""

    caption: str
    columns: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    whole: bool = False
    kind: str = "table"


@dataclass(frozen=True, slots=True)
class Facts:
    """Labelled statements, one after the other in one paragraph; ``sticky`` stays with what follows."""

    facts: tuple[tuple[str, str], ...]
    sticky: bool = False


@dataclass(frozen=True, slots=True)
class Shelf:
    """Stacks of tables, side by side."""

    stacks: tuple[tuple[Listing, ...], ...]
    whole: bool = False
    kind: str = "shelf"


@dataclass(frozen=True, slots=True)
class NewPage:
    """What follows begins on a new page."""

    kind: str = "new page"


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


Item = Heading | Paragraph | Lines | Listing | Facts | Shelf | NewPage | Picture | Index | DrawnLabel


@dataclass(frozen=True, slots=True)
class Flow:
    """Items that flow through columns, from page to page; ``spare`` inches at the foot of each page are left free."""

    columns: int
    items: tuple[Item, ...]
    spare: float
    kind: str = "flow"


@dataclass(frozen=True, slots=True)
class Sections:
    """Groups of items in two columns; a group stays whole, and the columns are cut where they are most alike."""

    groups: tuple[tuple[Item, ...], ...]
    kind: str = "sections"


@dataclass(frozen=True, slots=True)
class Rows:
    """Items side by side, so many in a row."""

    columns: int
    items: tuple[Item, ...]
    kind: str = "rows"


@dataclass(frozen=True, slots=True)
class Together:
    """Rows that stand on one page where it has the room."""

    parts: tuple[Rows, ...]
    kind: str = "together"


Part = Flow | Sections | Rows | Together


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
    """Labelled statements, each on a line of its own."""
    return tuple(Paragraph(_marked(fact), fact.label) for fact in facts)


def run_of_facts(facts: tuple[Fact, ...]) -> tuple[Facts, ...]:
    """Labelled statements in one paragraph; nothing where there are none."""
    return (Facts(tuple((fact.label, _marked(fact)) for fact in facts)),) if facts else ()


def _marked(fact: Fact) -> str:
    """The statement, marked where its input is assumed or to be verified."""
    return f"{fact.text} [{fact.mark}]" if fact.mark else fact.text
