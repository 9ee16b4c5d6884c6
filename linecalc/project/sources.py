"""The files a project was read from, and where in them a key stands."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field, replace
from functools import lru_cache

from linecalc.errors import Problem
from linecalc.project import wording
from linecalc.project.wording import Fault, Path

_MOST_PROBLEMS = 200


@dataclass(frozen=True, slots=True)
class Source:
    """One text and the file it came from; None for text that has no file."""

    file: str | None
    text: str


@dataclass(frozen=True, slots=True)
class Sources:
    """The main text, and for each key that an included file added, that file and the key's path in it.

    ``main`` is None for a project made by a script.
    """

    main: Source | None = None
    included: dict[Path, tuple[Source, Path]] = field(default_factory=dict)

    def origin(self, path: Path) -> tuple[Source | None, Path]:
        """The source that states ``path``, and the path within it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.included:
                source, start = self.included[path[:length]]
                return source, (*start, *path[length:])
        return self.main, path

    def problem(self, fault: Fault) -> Problem:
        """``fault`` with its file and line."""
        source, path = self.origin(fault.path)
        return located(fault, source, path)

    def problems(self, faults: list[Fault]) -> list[Problem]:
        """All of ``faults`` with file and line, in the order in which the files read."""
        found = [self.problem(fault) for fault in faults]
        files = list(dict.fromkeys([self.main.file if self.main else None, *(problem.file for problem in found)]))
        found.sort(key=lambda problem: (files.index(problem.file), problem.line or 0))
        return found


    def placed(self, problem: Problem) -> Problem:
        """A problem found later, known only by its key, with file and line where the key stands in a file."""
        if problem.file is not None or problem.key is None:
            return problem
        found = self.problem(Fault(_path(problem.key), problem.message))
        return problem if found.line is None else replace(problem, file=found.file, line=found.line)


def _path(key: str) -> Path:
    """The path that a dotted key spells; empty where it spells none."""
    try:
        value = tomllib.loads(re.sub(r"\[\d+\]", "", key) + " = 0")
    except tomllib.TOMLDecodeError:
        return ()
    path: Path = ()
    while isinstance(value, dict):
        name, value = next(iter(value.items()))
        path = (*path, name)
    return path


def limited(problems: list[Problem]) -> list[Problem]:
    """``problems``, cut after 200 with a last entry that says how many more there are."""
    if len(problems) <= _MOST_PROBLEMS:
        return problems
    more = len(problems) - _MOST_PROBLEMS
    return [*problems[:_MOST_PROBLEMS], Problem(f"and {more} more problems", file=problems[-1].file)]


def located(fault: Fault, source: Source | None, path: Path) -> Problem:
    """``fault`` as a Problem at ``path`` of ``source``."""
    return Problem(
        message=wording.message(fault.message),
        file=source.file if source else None,
        line=_line(source.text, path) if source and path else None,
        key=wording.message(wording.dotted(fault.path)) or None,
        found=wording.message(fault.found) if fault.found is not None else None,
        expected=wording.message(fault.expected) if fault.expected is not None else None,
        nearest=fault.nearest,
    )


def _line(text: str, path: Path) -> int | None:
    from linecalc.project.lines import line_of

    return line_of(_lines_of(text), path)


@lru_cache(maxsize=8)
def _lines_of(text: str) -> dict[Path, int]:
    from linecalc.project.lines import key_lines

    return key_lines(text)
