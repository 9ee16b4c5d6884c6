"""What advice says: fixes, flip points, fragile assumptions."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.check import Level
from linecalc.study import Study

Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Setting:
    """One key of the project file and the value it gets; None removes it."""

    path: str
    value: object


@dataclass(frozen=True, slots=True)
class Candidate:
    """A change that may put something right: what it sets, and how it is told."""

    settings: tuple[Setting, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Fix:
    """A change that removes one finding and brings no new one, found by running the study with it."""

    rule: str
    subject: str
    settings: tuple[Setting, ...]
    text: str


@dataclass(frozen=True, slots=True)
class NoFix:
    """A finding that no single change within the rules removes, and why."""

    rule: str
    subject: str
    reason: str


@dataclass(frozen=True, slots=True)
class Flip:
    """The value of one input at which the verdict of one check changes.

    ``passing`` and ``broken`` are neighbouring values of the input between
    which it changes; ``settings`` of each are kept so that it can be run again.
    """

    rule: str
    subject: str
    input: str
    passing: float
    broken: float
    passing_settings: tuple[Setting, ...]
    broken_settings: tuple[Setting, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Turn:
    """A verdict that turns when an assumed input takes another plausible value."""

    rule: str
    subject: str
    before: Level
    after: Level
    at: str


@dataclass(frozen=True, slots=True)
class Fragile:
    """An assumed input whose change within its plausible range turns verdicts.

    ``tried`` says which values were run, ``range_basis`` where the range is from.
    """

    path: str
    value: str
    basis: str
    tried: tuple[str, ...]
    range_basis: str
    turns: tuple[Turn, ...]

    @property
    def breaks(self) -> bool:
        """Whether something fails at one of the values."""
        return any(turn.after is Level.FAIL for turn in self.turns)


@dataclass(frozen=True, slots=True)
class Advice:
    """Everything that was found by running the path again.

    ``study`` is the study it was asked about, its checks with their fixes and
    flip points.
    """

    study: Study
    fixes: tuple[Fix, ...]
    unfixed: tuple[NoFix, ...]
    flips: tuple[Flip, ...]
    fragile: tuple[Fragile, ...]
