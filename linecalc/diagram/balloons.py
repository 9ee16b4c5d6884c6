"""What stands in the balloon of a run, or of several runs that are drawn together."""

from __future__ import annotations

import re
from dataclasses import dataclass

SEPARATOR = ", "
#: Up to so many tags stand one by one.
_ONE_BY_ONE = 2
#: A text with more characters tells how many runs there are, and their tags stand elsewhere.
_CHARACTERS_MAX = 24


@dataclass(frozen=True, slots=True)
class Numbered:
    """A tag around its last number: ``L``, 3, ``C`` for ``L3C``."""

    head: str
    number: int
    tail: str


def balloon(run_tag: str) -> str:
    """The text of a balloon: every tag, or first to last where they follow each other, or how many.

    Examples
    --------
    >>> balloon("C4, C5, C6, C9")
    'C4 to C6, C9'
    """
    tags = tuple(run_tag.split(SEPARATOR))
    return in_ranges(tags) if names_all(run_tag) else f"{len(tags)} runs"


def names_all(run_tag: str) -> bool:
    """Whether a balloon has room for every tag of its runs."""
    tags = tuple(run_tag.split(SEPARATOR))
    return len(tags) <= _ONE_BY_ONE or len(in_ranges(tags)) <= _CHARACTERS_MAX


def in_ranges(tags: tuple[str, ...]) -> str:
    """Tags with commas; three or more that follow each other as first to last.

    Examples
    --------
    >>> in_ranges(("L0C", "L1C", "L2C", "AC"))
    'L0C to L2C, AC'
    """
    parts: list[str] = []
    stretch: list[str] = []
    for tag in tags:
        if stretch and not _follows(stretch[-1], tag):
            parts.extend(_said(stretch))
            stretch = []
        stretch.append(tag)
    return SEPARATOR.join([*parts, *_said(stretch)])


def _said(stretch: list[str]) -> list[str]:
    return stretch if len(stretch) <= _ONE_BY_ONE else [f"{stretch[0]} to {stretch[-1]}"]


def _follows(before: str, tag: str) -> bool:
    first, second = _numbered(before), _numbered(tag)
    if first is None or second is None:
        return False
    return (first.head, first.number + 1, first.tail) == (second.head, second.number, second.tail)


def _numbered(tag: str) -> Numbered | None:
    found = re.fullmatch(r"(.*?)(0|[1-9][0-9]{0,8})([^0-9]*)", tag)
    return None if found is None else Numbered(found[1], int(found[2]), found[3])
