"""Fragile assumptions in words: what to verify on site first, and why."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from linecalc.check import Level

if TYPE_CHECKING:
    from linecalc.advice.records import Fragile, Turn

_NUMBERS = ("nothing", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_BECOMES = {
    Level.FAIL: "fails",
    Level.NOT_CHECKED: "cannot be checked",
    Level.WARN: "is a warning",
    Level.NOTE: "passes with a note",
    Level.PASS: "passes",
}
NONE = "No assumed input turns a verdict within its plausible range."


@dataclass(frozen=True, slots=True)
class Verify:
    """An input to verify on site: what was taken for it, what turns at which other value, what was tried."""

    path: str
    taken: str
    turns: tuple[str, ...]
    tried: str


def verify_first(fragile: Iterable[Fragile]) -> tuple[Verify, ...]:
    """The inputs to verify, in the order given."""
    return tuple(
        Verify(found.path, f"{found.value} [{found.basis}]", tuple(_turns(found.turns)), f"tried {', '.join(found.tried)}; {found.range_basis}")
        for found in fragile
    )


def heading(number: int) -> str:
    """``Verify these three on site``."""
    if number == 1:
        return "Verify this one on site"
    return f"Verify these {_NUMBERS[number] if number < len(_NUMBERS) else number} on site"


def _turns(turns: tuple[Turn, ...]) -> list[str]:
    """One line for each value and rule, its subjects together."""
    groups: dict[tuple[str, Level, str], list[str]] = {}
    for turn in turns:
        groups.setdefault((turn.at, turn.after, turn.rule), []).append(turn.subject)
    return [f"at {at}: {rule} {_BECOMES[level]} on {', '.join(dict.fromkeys(subjects))}" for (at, level, rule), subjects in groups.items()]
