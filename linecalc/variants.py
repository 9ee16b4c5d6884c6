"""A project with something changed: the one function that all variants are made with."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from pydantic import BaseModel

from linecalc.errors import InputError, Problem
from linecalc.project.equipment import EQUIPMENT_KINDS
from linecalc.project.model import Project
from linecalc.project.problems import keys_of, model_at
from linecalc.project.sources import Sources
from linecalc.project.validate import validated
from linecalc.project.wording import Path, dotted, nearest, quoted, suggestion

_PART = re.compile(r'"((?:[^"\\]|\\.)*)"|([^."\[\]]+)|\[(\d{1,4})\]')


def with_value(project: Project, path: str, value: Any) -> Project:
    """The project with the value at ``path`` changed, validated anew.

    Parameters
    ----------
    path : dotted keys as messages print them, ``circuit.C4.breaker`` or ``circuit.C4.path[0]``.
    value : what a project file would hold there. None or the empty text removes
        the key; a table of keys may stand at a new tag.

    Raises
    ------
    InputError
        The path names nothing (the nearest names are given), or the changed
        project is not valid.
    """
    return with_values(project, [(path, value)])


def with_values(project: Project, settings: Iterable[tuple[str, Any]]) -> Project:
    """The project with several values changed in turn, validated once at the end.

    Raises
    ------
    InputError
        As :func:`with_value`.
    """
    raw: Any = project.model_dump(by_alias=True, exclude_unset=True)
    for path, value in settings:
        parts = _located(_parts(path), raw, path, isinstance(value, dict))
        raw = _removed(raw, parts) if value is None or value == "" else _changed(raw, parts, value)
    return validated(raw, Sources())


def _parts(path: str) -> list[str | int]:
    """The keys of a dotted path; quoted keys may hold points."""
    found: list[str | int] = []
    position = 0
    while position < len(path):
        match = _PART.match(path, position)
        if match is None:
            raise _wrong(path, "is not a path of keys, like circuit.C4.breaker")
        quote, bare, index = match.groups()
        found.append(int(index) if index is not None else bare.strip() if bare is not None else quote.replace('\\"', '"'))
        position = match.end()
        if position < len(path) and path[position] == ".":
            position += 1
    if not found:
        raise _wrong(path, "is empty; write a path of keys, like circuit.C4.breaker")
    return found


def _located(parts: list[str | int], raw: dict[str, Any], path: str, whole_table: bool) -> Path:
    """The key path that ``parts`` mean, since tags may hold points themselves; a whole table may have a new tag."""
    found: list[str | int] = []
    here: Any = raw
    while parts:
        part, width = _next(parts, here)
        model = model_at(tuple(found)) or _equipment_model(found, here)
        if isinstance(here, list | tuple):
            _check_index(part, here, path)
        elif not _known(part, here, model) and not (whole_table and len(found) == 1 and len(parts) == 1):
            raise _unknown(path, part, found, here, model)
        found.append(part)
        here = here[part] if isinstance(part, int) else _present(here).get(part)
        parts = parts[width:]
    return tuple(found)


def _equipment_model(found: list[str | int], here: Any) -> type[BaseModel] | None:
    """The record of an equipment entry, by its kind."""
    kind = _present(here).get("kind") if len(found) == 2 and found[0] == "equipment" else None
    return EQUIPMENT_KINDS.get(kind) if isinstance(kind, str) else None


def _known(part: str | int, here: Any, model: type[BaseModel] | None) -> bool:
    return isinstance(part, str) and (part in _present(here) or (model is not None and part in keys_of(model)))


def _next(parts: list[str | int], here: Any) -> tuple[str | int, int]:
    """The next key and how many parts it takes: the longest that is present, else one."""
    for width in range(len(parts), 1, -1):
        if all(isinstance(part, str) for part in parts[:width]):
            joined = ".".join(str(part) for part in parts[:width])
            if joined in _present(here):
                return joined, width
    return parts[0], 1


def _present(here: Any) -> dict[str, Any]:
    return here if isinstance(here, dict) else {}


def _check_index(part: str | int, here: Any, path: str) -> None:
    if not isinstance(part, int):
        raise _wrong(path, f"{quoted(part)} stands where a position in a list is needed, like [0]")
    if part >= len(here):
        raise _wrong(path, f"the list holds {len(here)} values; positions start at [0]")


def _unknown(path: str, part: str | int, found: list[str | int], here: Any, model: type[BaseModel] | None) -> InputError:
    if isinstance(part, int):
        return _wrong(path, f"{dotted(tuple(found)) or 'the project'} is not a list")
    names = [*_present(here), *(keys_of(model) if model else ())]
    known = tuple(dict.fromkeys(names))
    if not known and not isinstance(here, dict):
        return _wrong(path, f"{dotted(tuple(found))} holds no keys")
    close = nearest(part, known)
    place = f" in {dotted(tuple(found))}" if found else ""
    message = f"nothing is named {quoted(part)}{place}; {suggestion(close, known)}"
    return InputError([Problem(message, key=path, found=part, expected=", ".join(known), nearest=close)])


def _wrong(path: str, message: str) -> InputError:
    return InputError([Problem(message, key=path or None, found=path)])


def _changed(here: Any, parts: Path, value: Any) -> Any:
    """``here`` with ``value`` at ``parts``; tables on the way are made where they are missing."""
    if not parts:
        return value
    first, rest = parts[0], parts[1:]
    if isinstance(first, int):
        return tuple(_changed(item, rest, value) if index == first else item for index, item in enumerate(here))
    present = _present(here)
    return {**present, first: _changed(present.get(first), rest, value)}


def _removed(here: Any, parts: Path) -> Any:
    """``here`` without the key at ``parts``; unchanged where it is not present."""
    first, rest = parts[0], parts[1:]
    if isinstance(first, int):
        kept = [(_removed(item, rest) if index == first else item) for index, item in enumerate(here) if rest or index != first]
        return tuple(kept)
    present = _present(here)
    if not rest:
        return {key: item for key, item in present.items() if key != first}
    if first not in present:
        return here
    return {**present, first: _removed(present[first], rest)}


def read_setting(text: str) -> tuple[str, Any]:
    """Path and value of ``PATH=VALUE``. The value is read as TOML where it is a number, list, table or quoted text.

    Raises
    ------
    InputError
        There is no equals sign.
    """
    path, equals, written = text.partition("=")
    if not equals:
        raise InputError([Problem(f"{quoted(text)} is not PATH=VALUE, like circuit.C4.breaker=50 A", found=text)])
    return path.strip(), _value(written.strip())


def _value(written: str) -> Any:
    import tomllib

    if not written.startswith(("[", "{", '"', "'")) and not re.fullmatch(r"true|false|[+-]?\d[\d_]*(\.\d+)?", written):
        return written
    try:
        return tomllib.loads(f"value = {written}\n")["value"]
    except (tomllib.TOMLDecodeError, RecursionError):
        return written
