"""A project as the text of a project file."""

from __future__ import annotations

import json
import re
from typing import Any

from linecalc.project.model import Project

_BARE = re.compile(r"[A-Za-z0-9_-]+")


def project_toml(project: Project, comment: str) -> str:
    """The project file that reads back as the same project.

    Parameters
    ----------
    comment : one line that stands at the top.
    """
    raw = project.model_dump(by_alias=True, exclude_unset=True)
    lines = [f"# {comment}", ""]
    for name, value in raw.items():
        if value is not None:
            _table((name,), value, lines)
    return "\n".join(lines).rstrip("\n") + "\n"


def _table(path: tuple[str, ...], value: Any, lines: list[str]) -> None:
    """A table, a list of tables, or a plain key at the top."""
    if isinstance(value, list | tuple):
        for entry in value:
            lines += [f"[[{_dotted(path)}]]", *_keys(entry), ""]
        return
    plain = {key: inner for key, inner in value.items() if inner is not None and not _is_table(inner)}
    tables = {key: inner for key, inner in value.items() if _is_table(inner)}
    if plain or not tables:
        lines += [f"[{_dotted(path)}]", *_keys(plain), ""]
    for key, inner in tables.items():
        _table((*path, key), inner, lines)


def _is_table(value: Any) -> bool:
    """Whether a value gets a heading of its own: tables but quantities, and lists of tables."""
    if isinstance(value, dict):
        return "value" not in value
    return isinstance(value, list | tuple) and bool(value) and all(isinstance(entry, dict) and "value" not in entry for entry in value)


def _keys(table: dict[str, Any]) -> list[str]:
    return [f"{_key(key)} = {_value(value)}" for key, value in table.items() if value is not None]


def _dotted(path: tuple[str, ...]) -> str:
    return ".".join(_key(part) for part in path)


def _key(text: str) -> str:
    return text if _BARE.fullmatch(text) else json.dumps(text, ensure_ascii=False)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_value(inner)}" for key, inner in value.items() if inner is not None) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value(inner) for inner in value) + "]"
    return repr(value)
