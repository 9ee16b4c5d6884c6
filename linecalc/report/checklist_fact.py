"""The answer to one question of the checklist, with its evidence."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fact:
    """The answer to one question, and the words for it."""

    holds: bool
    reason: str


def all_of(found: Iterable[object], lacking: str, told: str) -> Fact:
    """Holds where nothing is lacking; ``found`` names what lacks it."""
    names = [str(name) for name in found]
    return Fact(not names, f"{lacking}: {', '.join(names)}" if names else told)


def any_of(found: Iterable[object], lacking: str) -> Fact:
    """Holds where something is found; the first eight are named."""
    names = [str(name) for name in found]
    return Fact(bool(names), ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "") if names else lacking)
