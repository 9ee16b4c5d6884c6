"""Checks and steps: what a rule found, and the arithmetic behind it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from linecalc.calc.compare import at_most
from linecalc.codebook import Book
from linecalc.term import Number, Rendered, Term, inputs_of, value_of


class Level(Enum):
    """Verdicts, from the one that asks most of the reader to the one that asks least."""

    FAIL = "fail"
    NOT_CHECKED = "not checked"
    WARN = "warn"
    NOTE = "note"
    PASS = "pass"

    @property
    def key(self) -> str:
        """The level as a JSON key."""
        return self.value.replace(" ", "_")


class Sense(Enum):
    """Which way a demand is held against its limit."""

    AT_MOST = "<="
    AT_LEAST = ">="


@dataclass(frozen=True, slots=True)
class Check:
    """A rule applied to a subject.

    ``demand`` is held against ``limit`` in the ``sense`` given, both in
    ``unit``. ``terms`` are further terms whose steps stand behind the verdict.
    ``flip`` says at what value of an input the verdict would change, ``fix``
    the smallest change that passes, ``unfixed`` why there is none, ``needs`` the
    inputs that are missing.
    """

    rule: str
    subject: str
    level: Level
    message: str
    citation: str = ""
    demand: Number | None = None
    limit: Number | None = None
    unit: str = ""
    sense: Sense = Sense.AT_MOST
    terms: tuple[Number, ...] = ()
    needs: tuple[str, ...] = ()
    flip: str | None = None
    fix: str | None = None
    unfixed: str | None = None

    @property
    def margin(self) -> float | None:
        """How far the demand stays within the limit, in the unit of the check; negative when broken."""
        if self.demand is None or self.limit is None:
            return None
        difference = value_of(self.limit) - value_of(self.demand)
        return difference if self.sense is Sense.AT_MOST else -difference

    def roots(self) -> tuple[Term, ...]:
        """The terms whose steps stand behind this check."""
        return tuple(term for term in (self.demand, self.limit, *self.terms) if isinstance(term, Term))

    def with_fix(self, fix: str) -> Check:
        """The same check with a verified fix."""
        return replace(self, fix=fix)


@dataclass(frozen=True, slots=True)
class Step:
    """One printed line of arithmetic. Text is rendered from the term when asked for."""

    id: str
    subject: str
    term: Term
    citation: str

    def rendered(self, digits: int = 4) -> Rendered:
        """Formula, substitution and result, rendered now."""
        return Rendered(self.term, digits)

    def inputs(self) -> list[Term]:
        """The inputs and earlier steps that the line refers to."""
        return inputs_of(self.term)


def limit_check(
    book: Book,
    rule: str,
    subject: str,
    demand: Number,
    limit: Number,
    unit: str,
    passing: str,
    breaking: str,
    sense: Sense = Sense.AT_MOST,
    broken: Level = Level.FAIL,
    terms: tuple[Number, ...] = (),
    flip: str | None = None,
) -> Check:
    """A check of a demand against a limit: ``pass``, or ``broken`` (fail unless told otherwise).

    ``passing`` and ``breaking`` are the messages; both sides are appended by the reports.
    """
    holds = at_most(demand, limit) if sense is Sense.AT_MOST else at_most(limit, demand)
    level = Level.PASS if holds else broken
    message = passing if holds else breaking
    return Check(rule, subject, level, message, book.cite(rule).text, demand, limit, unit, sense, terms, flip=flip)


def not_checked(book: Book, rule: str, subject: str, message: str, needs: tuple[str, ...]) -> Check:
    """A check that could not be made, with the inputs it needs."""
    return Check(rule, subject, Level.NOT_CHECKED, message, book.cite(rule).text, needs=needs)


def remark(book: Book, rule: str, subject: str, level: Level, message: str, terms: tuple[Number, ...] = ()) -> Check:
    """A check without a limit: a note or a warning, or a plain verdict."""
    return Check(rule, subject, level, message, book.cite(rule).text, terms=terms)
