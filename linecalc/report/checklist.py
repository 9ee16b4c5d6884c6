"""The coverage report: what permit offices ask for, and where this design answers it."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from importlib.resources import files

from linecalc.errors import TableError
from linecalc.report.checklist_answers import Answerer, Answered, Found
from linecalc.report.checklist_conditions import CONDITIONS
from linecalc.study import Study

OTHER_PARTS = ("site plan", "attachment")


class Coverage(Enum):
    """How an item is answered."""

    COMPUTED = "computed"
    SHOWN = "shown"
    ATTACHED = "attachment note"
    NOT_COVERED = "not covered"
    NOT_APPLICABLE = "does not apply"

    @property
    def key(self) -> str:
        """The coverage as a JSON key."""
        return self.value.replace(" ", "_")


_OF_FOUND = {Found.COMPUTED: Coverage.COMPUTED, Found.SHOWN: Coverage.SHOWN, Found.ATTACHED: Coverage.ATTACHED, Found.NOTHING: Coverage.NOT_COVERED}
COVERED = (Coverage.COMPUTED, Coverage.SHOWN, Coverage.ATTACHED)


@dataclass(frozen=True, slots=True)
class Item:
    """One row of the checklist table.

    ``part`` is where a set has it, ``sheet`` the sheet, ``applies`` a condition
    of the design, ``answer`` what is looked for.
    """

    id: int
    item: str
    part: str
    office: str
    sheet: str
    applies: str
    answer: str


@dataclass(frozen=True, slots=True)
class Covered:
    """An item with its answer for one design, and why."""

    item: Item
    coverage: Coverage
    reason: str

    @property
    def text(self) -> str:
        """``shown on E-601``, ``computed, E-603``, or the coverage alone."""
        if self.coverage is Coverage.SHOWN:
            return f"shown on {self.item.sheet}"
        return f"computed, {self.item.sheet}" if self.coverage is Coverage.COMPUTED else self.coverage.value


@dataclass(frozen=True, slots=True)
class Checklist:
    """All items of one design."""

    title: str
    edition: str
    rows: tuple[Covered, ...]

    def count(self, coverage: Coverage) -> int:
        """How many items are answered that way."""
        return sum(row.coverage is coverage for row in self.rows)

    @property
    def covered(self) -> int:
        """How many items are answered at all."""
        return sum(row.coverage in COVERED for row in self.rows)

    @property
    def covered_on_sheets(self) -> int:
        """How many of those that are neither of the site plan nor attachments are answered."""
        return sum(row.coverage in COVERED for row in self.on_sheets)

    @property
    def on_sheets(self) -> tuple[Covered, ...]:
        """The items that are neither of the site plan nor attachments."""
        return tuple(row for row in self.rows if row.item.part not in OTHER_PARTS)


@lru_cache(maxsize=1)
def items() -> tuple[Item, ...]:
    """The shipped checklist.

    Raises
    ------
    TableError
        A row names a condition that does not exist.
    """
    lines = (files("linecalc.tables") / "checklist.csv").read_text("utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    found = tuple(Item(int(row["id"]), *(row[key] for key in ("item", "part", "office", "sheet", "applies", "answer"))) for row in rows)
    for item in found:
        if item.applies and item.applies not in CONDITIONS:
            raise TableError(f"checklist item {item.id} has no condition {item.applies}")
    return found


def checklist(study: Study) -> Checklist:
    """Every item with its answer for one design.

    Raises
    ------
    TableError
        A row of the table asks for something that is not known.
    """
    answerer = Answerer(study)
    rows = tuple(_covered(study, answerer, item) for item in items())
    return Checklist(study.project.project.title, study.book.edition, rows)


def _covered(study: Study, answerer: Answerer, item: Item) -> Covered:
    if item.applies:
        condition = CONDITIONS[item.applies]
        if not condition.holds(study):
            return Covered(item, Coverage.NOT_APPLICABLE, condition.otherwise)
    answered = _any_of(answerer, item)
    return Covered(item, _OF_FOUND[answered.found], answered.reason)


def _any_of(answerer: Answerer, item: Item) -> Answered:
    """The first alternative that holds; else the first of those that do not, with its reason."""
    tried = [_all_of(answerer, alternative) for alternative in item.answer.split(" or ")]
    return next((answered for answered in tried if answered.found is not Found.NOTHING), tried[0])


def _all_of(answerer: Answerer, alternative: str) -> Answered:
    parts = [answerer.answer(predicate) for predicate in alternative.split(" and ")]
    missing = next((answered for answered in parts if answered.found is Found.NOTHING), None)
    if missing is not None:
        return missing
    return Answered(parts[0].found, "; ".join(dict.fromkeys(answered.reason for answered in parts)))
