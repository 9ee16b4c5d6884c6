"""Steps as printed lines, each number with the place it comes from."""

from __future__ import annotations

from linecalc.check import Step
from linecalc.codebook import Book
from linecalc.report.amounts import amount
from linecalc.report.content import Line, Use
from linecalc.report.findings import short_citation
from linecalc.report.inputs import Inputs
from linecalc.report.cells import is_cell, table_name
from linecalc.report.origins import Origins
from linecalc.term import Term
from linecalc.units import unit_text


class LineWriter:
    """Writes steps as lines, with the inputs, tables and earlier steps they refer to."""

    def __init__(self, book: Book, steps: tuple[Step, ...], inputs: Inputs):
        self._book = book
        self._inputs = inputs
        self._origins = Origins(steps, inputs)

    def line(self, step: Step) -> Line:
        """One step as a printed line."""
        rendered = step.rendered()
        result = f"{rendered.result} {unit_text(step.term.unit)}".strip()
        parts = tuple(dict.fromkeys((rendered.formula, rendered.substitution, result)))
        uses = tuple(self._use(term, step.subject) for term in step.inputs())
        return Line(step.id, step.term.symbol, step.term.meaning, parts, short_citation(step.citation), uses)

    def _use(self, term: Term, subject: str) -> Use:
        symbol, value = term.symbol, amount(term, term.unit)
        origin = self._origins.of(term, subject)
        if term.op:
            return Use(symbol, value, term.meaning, step=origin)
        if is_cell(origin):
            return Use(symbol, value, f"{self._book.table(table_name(origin)).number}, {term.meaning}")
        path, _, counted = origin.partition("#")
        mark = self._inputs.mark(origin)
        if path.startswith("rule:"):
            cited = short_citation(self._book.cite(path.removeprefix("rule:")).text)
            return Use(symbol, value, f"{term.meaning} [{cited}]", mark=mark)
        return Use(symbol, value, term.meaning or path if counted else path, mark=mark, path=path)
