"""The worked line of a rule: its own kernel on small invented numbers, remembered by Terms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from linecalc.calc.compare import at_most
from linecalc.check import Sense
from linecalc.explain.texts import Amount, RuleText
from linecalc.report.amounts import against
from linecalc.term import Number, Rendered, Term, given, named_terms, value_of
from linecalc.units import unit_text

INVENTED = "invented"


@dataclass(frozen=True, slots=True)
class WorkedLine:
    """One line of arithmetic: symbol, formula, substitution, result; ``expression`` is plain arithmetic."""

    symbol: str
    meaning: str
    formula: str
    substitution: str
    expression: str
    result: str
    value: float
    unit: str

    @property
    def text(self) -> str:
        """``I_max = 1.25 x Isc x n = 1.25 x 13.9 A x 1 = 17.38 A``."""
        return " = ".join(dict.fromkeys((self.symbol, self.formula, self.substitution, self.result)))


@dataclass(frozen=True, slots=True)
class Worked:
    """The lines of a rule, and the comparison at their end where there is one."""

    lines: tuple[WorkedLine, ...]
    comparison: str
    holds: bool | None


def worked(text: RuleText) -> Worked | None:
    """The worked lines of a rule; None where it compares nothing that can be counted."""
    result = None if text.kernel is None else _computed(text.kernel, text.numbers)
    demand = result if text.demand is None else _term(text.demand)
    lines = () if result is None else tuple(_line(term) for term in named_terms(result))
    if demand is None or text.limit is None:
        return Worked(lines, "", None) if lines else None
    limit = _term(text.limit)
    sense = Sense(text.sense)
    held = against(demand, limit, limit.unit, sense)
    holds = at_most(demand, limit) if sense is Sense.AT_MOST else at_most(limit, demand)
    return Worked(lines, held.text, holds)


def _computed(kernel: str, numbers: Sequence[tuple[Any, ...]]) -> Number:
    """The result of a kernel such as ``pv.source_current``; of a record, its first number."""
    module, _, name = kernel.partition(".")
    found = getattr(import_module(f"linecalc.calc.{module}"), name)(**dict(_argument(number) for number in numbers))
    return found if isinstance(found, Term | float) else _number_of(found)


def _number_of(record: Any) -> Number:
    return next(value for value in (getattr(record, name) for name in record.__dataclass_fields__) if isinstance(value, Term))


def _argument(number: tuple[Any, ...]) -> tuple[str, Any]:
    """A parameter and its value: a Term, a list of Terms, or the plain value."""
    if len(number) == 4:
        return number[0], _term((number[1], float(number[2]), number[3]))
    if isinstance(number[1], list):
        return number[0], [_term((symbol, float(value), unit)) for symbol, value, unit in number[1]]
    return number[0], number[1]


def _term(amount: Amount) -> Term:
    symbol, value, unit = amount
    return given(value, unit, symbol, INVENTED)


def _line(term: Term) -> WorkedLine:
    rendered = Rendered(term)
    result = f"{rendered.result} {unit_text(term.unit)}".strip()
    return WorkedLine(term.symbol, term.meaning, rendered.formula, rendered.substitution, rendered.expression, result, value_of(term), term.unit)
