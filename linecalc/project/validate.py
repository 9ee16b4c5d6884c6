"""From a raw document to a Project: the one way, for files and scripts alike."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError

from linecalc.errors import InputError, Problem
from linecalc.project import plausible, problems, references, refusals
from linecalc.project.model import TAGGED, Project
from linecalc.project.sources import Sources, limited
from linecalc.project.toml_text import DEEPEST
from linecalc.project.wording import Fault, Path, quoted

MOST_TAGGED = 2_000
_COUNTED = (*TAGGED, "circuit", "section", "equipment")


def validated(raw: dict[str, Any], sources: Sources, earlier: list[Problem] | None = None) -> Project:
    """The project that ``raw`` describes.

    Parameters
    ----------
    raw : the document as TOML or a script gives it.
    sources : where its keys stand, for the messages.
    earlier : problems already known; they are reported together with those found here.

    Raises
    ------
    InputError
        Every problem found.
    """
    known = list(earlier or [])
    unusable = _unusable(raw)
    if unusable:
        raise InputError(limited([*known, *sources.problems(unusable)]))
    document = _frozen(raw)
    project, modelled = _modelled(document)
    refused = refusals.faults(document)
    named = {fault.path for fault in refused}
    faults = [*modelled, *plausible.faults(document)]
    if not known:
        faults += references.faults(document)
    faults = [*refused, *(fault for fault in faults if fault.path not in named)]
    if faults or known or project is None:
        raise InputError(limited([*known, *sources.problems(faults)]))
    return project


def _modelled(document: dict[str, Any]) -> tuple[Project | None, list[Fault]]:
    try:
        return Project.model_validate(document, strict=True), []
    except ValidationError as error:
        return None, problems.model_faults(error)


def _unusable(raw: dict[str, Any]) -> list[Fault]:
    """What makes a document unfit even to be looked at: its size, its depth, control characters."""
    count = sum(len(table) for kind in _COUNTED if isinstance(table := raw.get(kind), dict))
    if count > MOST_TAGGED:
        return [Fault((), f"{count} tagged things; the limit is {MOST_TAGGED:,} a project")]
    faults: list[Fault] = []
    waiting: list[tuple[Path, Any]] = [((), raw)]
    while waiting:
        path, value = waiting.pop()
        if len(path) > DEEPEST:
            return [Fault(path[:DEEPEST], f"is nested too deeply; the limit is {DEEPEST} levels")]
        if isinstance(value, dict):
            waiting.extend(((*path, key), inner) for key, inner in value.items())
        elif isinstance(value, list | tuple):
            waiting.extend(((*path, index), inner) for index, inner in enumerate(value))
        elif isinstance(value, str) and not value.isprintable():
            faults += _control_character(path, value)
    return faults


def _control_character(path: Path, text: str) -> list[Fault]:
    bad = next((char for char in text if _is_control(char)), None)
    if bad is None:
        return []
    return [Fault(path, f"holds the control character U+{ord(bad):04X}", found=quoted(text))]


def _is_control(char: str) -> bool:
    """Whether ``char`` has no place in text: controls, half surrogates, and marks that turn the reading direction."""
    code = ord(char)
    if char in "\n\t":
        return False
    return code < 0x20 or 0x7F <= code < 0xA0 or 0xD800 <= code < 0xE000 or 0x202A <= code <= 0x202E or 0x2066 <= code <= 0x2069


def _frozen(value: Any) -> Any:
    """``value`` with tuples for lists, so that nothing in a project can change."""
    if isinstance(value, dict):
        return {key: _frozen(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return tuple(_frozen(inner) for inner in value)
    return value
