"""Merging of included files: shared equipment data and local amendments."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from linecalc.errors import InputError, Problem
from linecalc.project import toml_text, wording
from linecalc.project.sources import Source, Sources, located
from linecalc.project.wording import Fault

SHARED_TABLES = ("equipment",)
SHARED_LISTS = ("amendments",)
DEEPEST_INCLUDE = 8


@dataclass(slots=True)
class Merge:
    """A document that grows by what its includes add, and the problems met on the way."""

    raw: dict[str, Any]
    sources: Sources
    problems: list[Problem] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)

    def follow(self, document: dict[str, Any], source: Source, chain: tuple[str, ...]) -> None:
        """Merge what the ``include`` list of ``document`` names; ``chain`` leads from the project file to it."""
        named = document.get("include", [])
        if not isinstance(named, list) or not all(isinstance(name, str) for name in named):
            self._problem(source, ("include",), 'is not a list of file names, like ["equipment.toml"]')
            return
        if source.file is None and named:
            self._problem(source, ("include",), "needs a project file: included names are relative to it")
            return
        for index, name in enumerate(named):
            self._include(name, index, source, chain)

    def _include(self, name: str, index: int, source: Source, chain: tuple[str, ...]) -> None:
        place = ("include", index)
        if not name.isprintable() or not name:
            self._problem(source, place, f"{wording.quoted(name)} is not a file name")
            return
        path = Path(source.file or "").parent / name
        real = _real(path)
        if real in chain:
            loop = " -> ".join(Path(step).name for step in (*chain[chain.index(real) :], real))
            self._problem(source, place, f"{wording.quoted(name)} includes itself: {loop}")
            return
        if len(chain) > DEEPEST_INCLUDE:
            self._problem(source, place, f"includes are nested more than {DEEPEST_INCLUDE} deep")
            return
        if real in self.seen:
            return
        self.seen.add(real)
        try:
            added = toml_text.load(path)
            document = toml_text.parse(added)
        except InputError as error:
            self._unusable(error.problems[0], name, place, source)
            return
        self._merge(document, added)
        self.follow(document, added, (*chain, real))

    def _unusable(self, problem: Problem, name: str, place: wording.Path, source: Source) -> None:
        """A file that cannot be read is reported where it is named, an error inside it where it stands."""
        if problem.line is None:
            self._problem(source, place, f"{wording.quoted(name)} {problem.message}")
        else:
            self.problems.append(problem)

    def _merge(self, document: dict[str, Any], source: Source) -> None:
        for key, value in document.items():
            if key in SHARED_TABLES and isinstance(value, dict):
                self._merge_table(key, value, source)
            elif key in SHARED_LISTS and isinstance(value, list):
                self._merge_list(key, value, source)
            elif key != "include":
                allowed = wording.alternatives((*SHARED_TABLES, *SHARED_LISTS, "include"))
                self._problem(source, (key,), f"cannot stand in an included file; only {allowed} can")

    def _merge_table(self, key: str, added: dict[str, Any], source: Source) -> None:
        table = self.raw.setdefault(key, {})
        if not isinstance(table, dict):
            return
        for tag, value in added.items():
            if tag in table:
                first, _ = self.sources.origin((key, tag))
                where = f" in {first.file}" if first and first.file else ""
                self._problem(source, (key, tag), f"is written twice; it also stands{where}")
            else:
                table[tag] = value
                self.sources.included[(key, tag)] = (source, (key, tag))

    def _merge_list(self, key: str, added: list[Any], source: Source) -> None:
        entries = self.raw.setdefault(key, [])
        if not isinstance(entries, list):
            return
        for index, value in enumerate(added):
            self.sources.included[(key, len(entries))] = (source, (key, index))
            entries.append(value)

    def _problem(self, source: Source, path: wording.Path, message: str) -> None:
        self.problems.append(located(Fault(path, message), source, path))


def merged(raw: dict[str, Any], source: Source) -> Merge:
    """``raw`` without its ``include`` key, and with what the included files hold."""
    result = Merge({key: value for key, value in raw.items() if key != "include"}, Sources(source))
    start = (_real(Path(source.file)),) if source.file is not None else ()
    result.follow(raw, source, start)
    return result


def _real(path: Path) -> str:
    return os.path.realpath(path)
