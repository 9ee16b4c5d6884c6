"""Where the numbers of a step come from: an input path, an earlier step, a cell of a code table."""

from __future__ import annotations

from linecalc.check import Check, Step
from linecalc.codebook import Book
from linecalc.report.inputs import place_of
from linecalc.term import Term, named_terms


class Origins:
    """Looks up the step that computed a term.

    A term that equals a kept step (same id, same value) is that step: the
    list of steps keeps one of several equal terms.
    """

    def __init__(self, steps: tuple[Step, ...]):
        self._by_identity = {id(step.term): step.id for step in steps}
        self._by_value: dict[tuple[str, float], str] = {}
        for step in steps:
            self._by_value.setdefault((step.id.split("~")[0], step.term.value), step.id)

    def of(self, term: Term, subject: str) -> str:
        """The origin of ``term`` as used under ``subject``; empty where none is known."""
        if not term.op:
            return place_of(term)
        return self.step_id(term, subject)

    def step_id(self, term: Term, subject: str) -> str:
        """The id of the step that computed ``term``; empty where there is none."""
        known = self._by_identity.get(id(term))
        if known is not None:
            return known
        wanted = term.id or f"{subject}.{term.key}"
        return self._by_value.get((wanted, term.value), "")

    def steps_behind(self, check: Check) -> list[str]:
        """The ids of all steps behind a check, arguments before results."""
        found = (self.step_id(term, check.subject) for root in check.roots() for term in named_terms(root))
        return list(dict.fromkeys(step_id for step_id in found if step_id))


def is_cell(origin: str) -> bool:
    """Whether an origin is a cell of a code table."""
    return origin.startswith("table:")


def table_name(origin: str) -> str:
    """The name of the table that an origin ``table:NAME/row/column`` points into.

    Examples
    --------
    >>> table_name("table:310.16/1/0 AWG/cu_75c_a")
    '310.16'
    """
    return origin.removeprefix("table:").split("/")[0]


def cell_text(book: Book, origin: str) -> str | None:
    """The text of the cell that ``origin`` points at; None where it points at nothing.

    ``table:NAME`` alone stands for the table as a whole and gives its number.
    """
    name, *rest = origin.removeprefix("table:").split("/")
    table = book.table(name)
    if not rest:
        return table.number
    *parts, column = rest
    if column not in table.columns:
        return None
    at, row = table.columns.index(column), "/".join(parts)
    return next((cells[at] for cells in table.rows if _names_row(cells, row)), None)


def _names_row(cells: tuple[str, ...], row: str) -> bool:
    """Whether ``row`` is the leading cells of a row, joined by strokes (sizes such as 1/0 hold one too)."""
    return any("/".join(cells[:width]) == row for width in range(1, len(cells) + 1))
