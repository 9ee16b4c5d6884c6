"""The few kinds of error that linecalc raises on purpose."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with the input, located as exactly as can be known.

    ``line`` is 1-based, or None where no line is known. ``key`` is the dotted
    key path. ``nearest`` holds the valid names closest to what was found.
    """

    message: str
    file: str | None = None
    line: int | None = None
    key: str | None = None
    found: str | None = None
    expected: str | None = None
    nearest: tuple[str, ...] = ()

    def __str__(self) -> str:
        place = self.file or ""
        if self.line is not None:
            place += f":{self.line}"
        parts = [part for part in (place, self.key) if part]
        return ": ".join([*parts, self.message])


class LinecalcError(Exception):
    """Base of every error that linecalc raises on purpose."""


class InputError(LinecalcError):
    """The project, the equipment data or an option cannot be used.

    Holds every problem found, not only the first.
    """

    def __init__(self, problems: list[Problem] | tuple[Problem, ...]):
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class QuantityError(LinecalcError):
    """A text is not one finite number with one unit from the closed list."""

    def __init__(self, message: str, expected: str):
        self.expected = expected
        super().__init__(message)


class TableError(LinecalcError):
    """A look-up left the range of a code table, or named a missing row."""


class RefusedError(LinecalcError):
    """The topology or equipment is not understood, so nothing is computed."""
