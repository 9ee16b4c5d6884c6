"""What a moved assumption does to the first choice: records, and the search for the value at which it changes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

STATED, ASSUMED, GIVEN, ASKED = "stated range", "assumed", "given", "asked for"
NOBODY = "no candidate"
HALVINGS = 7


@dataclass(frozen=True, slots=True)
class Flip:
    """A value of an assumption beyond which another candidate is the first choice. ``side`` is ``above`` or ``below``."""

    side: str
    value: float
    text: str
    winner: str


@dataclass(frozen=True, slots=True)
class Turn:
    """One assumption over its range: the first choice at both ends, and where it changes.

    ``decides`` marks a range that is stated, or a length that is assumed: where it
    changes the first choice, the answer is undecided.
    """

    what: str
    basis: str
    now: str
    low: str
    high: str
    at_low: str
    at_high: str
    flips: tuple[Flip, ...]
    changed: bool
    decides: bool

    @property
    def range_text(self) -> str:
        """The range in words."""
        return self.low if self.low == self.high else f"{self.low} to {self.high}"

    @property
    def change_text(self) -> str:
        """Where the first choice changes, in words."""
        if self.flips:
            return "; ".join(f"{flip.side} {flip.text}: {flip.winner}" for flip in self.flips)
        return "changes it" if self.changed else "no change"


def undecided(found: tuple[Turn, ...]) -> tuple[Turn, ...]:
    """The ranges within which the first choice is not settled."""
    return tuple(turn for turn in found if turn.changed and turn.decides)


def resting_on(found: tuple[Turn, ...]) -> tuple[Turn, ...]:
    """The inputs that were assumed, not given, and change the first choice within their plausible range."""
    return tuple(turn for turn in found if turn.changed and turn.basis == ASSUMED and not turn.decides)


@dataclass(frozen=True, slots=True)
class Moved:
    """An assumption that can be set to a value: the first choice then, whether it is still that of now, and the value in words."""

    winner_at: Callable[[float], str]
    holds_at: Callable[[float], bool]
    text: Callable[[float], str]


def halved(now: float, end: float, moved: Moved) -> Flip:
    """The value between ``now`` and ``end`` at which the first choice no longer holds, by halving.

    Where it changes several times on the way, one of the changes is found.
    """
    held, fallen = now, end
    for _ in range(HALVINGS):
        middle = (held + fallen) / 2.0
        if moved.holds_at(middle):
            held = middle
        else:
            fallen = middle
    return Flip("above" if end > now else "below", fallen, moved.text(fallen), moved.winner_at(fallen))


def figure(value: float, unit: str) -> str:
    """A number with four digits at most that count, without powers of ten.

    Examples
    --------
    >>> figure(14843.75, "A")
    '14,840 A'
    """
    text = f"{float(f'{value:.4g}'):,.10g}"
    return f"{text} {unit}".rstrip()


def turn_of(what: str, basis: str, now: float, ends: tuple[float, float], here: str, moved: Moved, decides: bool = False) -> Turn:
    """Try both ends of a range, and look for the change on each side that has one.

    Parameters
    ----------
    here : the first choice now.
    """
    found = {end: here if end == now or moved.holds_at(end) else moved.winner_at(end) for end in ends}
    flips = tuple(halved(now, end, moved) for end in ends if found[end] != here)
    low, high = ends
    return Turn(what, basis, moved.text(now), moved.text(low), moved.text(high), found[low], found[high], flips, bool(flips), decides)
