"""Printed amounts: numbers with units, and a demand beside its limit."""

from __future__ import annotations

import math
from dataclasses import dataclass

from linecalc.calc.compare import at_most
from linecalc.check import Check, Sense
from linecalc.term import Number, shortest, value_of
from linecalc.units import convert, unit_text

UNKNOWN = "not known"
_DIGITS = 4
_MOST_DIGITS = 15
_SECOND_UNIT = {"ft": "m", "degC": "degF", "in": "mm", "kg": "lb", "ft2": "m2"}


def amount(number: Number, unit: str, digits: int = _DIGITS) -> str:
    """A number with its unit, whole numbers in full.

    Examples
    --------
    >>> amount(17.375, "A")
    '17.38 A'
    >>> amount(12500.0, "W")
    '12500 W'
    """
    value = value_of(number)
    return f"{shortest(value, digits)} {unit_text(unit)}".strip() if math.isfinite(value) else UNKNOWN


def both(number: Number, unit: str) -> str:
    """A length, temperature or mass in its own unit and in the other system's.

    Examples
    --------
    >>> both(34.0, "ft")
    '34 ft (10.4 m)'
    """
    other = _SECOND_UNIT.get(unit)
    if other is None or not math.isfinite(value_of(number)):
        return amount(number, unit)
    return f"{amount(number, unit)} ({amount(convert(value_of(number), unit, other), other, 3)})"


def json_number(number: Number | None) -> float | int | None:
    """A number as JSON carries it: ten significant digits, whole numbers without a point; None where unknown."""
    if number is None or not math.isfinite(value_of(number)):
        return None
    rounded = float(f"{value_of(number):.10g}")
    return int(rounded) if rounded == int(rounded) and abs(rounded) < 1e15 else rounded


@dataclass(frozen=True, slots=True)
class Held:
    """A demand held against its limit, as printed: never a relation that the digits deny."""

    demand: str
    sign: str
    limit: str
    margin: str

    @property
    def relation(self) -> str:
        """``200.4 A > 200 A``."""
        return f"{self.demand} {self.sign} {self.limit}"

    @property
    def text(self) -> str:
        """The relation with its margin."""
        return f"{self.relation} ({self.margin})"


def held(check: Check) -> Held | None:
    """The printed comparison of a check; None where it compares nothing."""
    if check.demand is None or check.limit is None:
        return None
    return against(check.demand, check.limit, check.unit, check.sense)


def against(demand: Number, limit: Number, unit: str, sense: Sense = Sense.AT_MOST) -> Held:
    """``demand`` beside ``limit``, with as many digits as keep the printed relation true.

    Examples
    --------
    >>> against(200.04, 200.0, "A").text
    '200.04 A > 200 A (0.04 A over)'
    """
    left, right = value_of(demand), value_of(limit)
    holds = at_most(left, right) if sense is Sense.AT_MOST else at_most(right, left)
    digits = next((n for n in range(_DIGITS, _MOST_DIGITS) if _tells(left, right, sense, holds, n)), _MOST_DIGITS)
    within = "<=" if sense is Sense.AT_MOST else ">="
    beyond = ">" if sense is Sense.AT_MOST else "<"
    sign, margin = within if holds else beyond, _margin(left, right, unit, sense, holds)
    return Held(amount(left, unit, digits), sign, amount(right, unit, digits), margin)


def _tells(left: float, right: float, sense: Sense, holds: bool, digits: int) -> bool:
    """Whether the values, printed with so many digits, stand in the relation that the values have."""
    shown_left, shown_right = float(shortest(left, digits)), float(shortest(right, digits))
    shown = shown_left <= shown_right if sense is Sense.AT_MOST else shown_left >= shown_right
    return shown is holds


def _margin(left: float, right: float, unit: str, sense: Sense, holds: bool) -> str:
    if holds and at_most(left, right) and at_most(right, left):
        return "exactly at the limit"
    size = shortest(abs(right - left), 3)
    word = "to spare" if holds else "over" if sense is Sense.AT_MOST else "short"
    return f"{size} {unit_text(unit)}".strip() + f" {word}"
