"""How problems name keys and values: paths, values as the user wrote them, nearest names."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

Path = tuple[str | int, ...]

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SHOWN_LENGTH = 60
_MESSAGE_LENGTH = 600
_NAMES_LISTED = 40
_SHORT_TAG = 3


@dataclass(frozen=True, slots=True)
class Fault:
    """A problem at a key path, before file and line are known."""

    path: Path
    message: str
    found: str | None = None
    expected: str | None = None
    nearest: tuple[str, ...] = ()


def dotted(path: Path) -> str:
    """The key path as TOML writes it: ``circuit.C4.path[1]``, odd keys quoted."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part}]"
            continue
        key = part if _BARE_KEY.fullmatch(part) else quoted(part)
        text += f".{key}" if text else key
    return text


def quoted(text: str) -> str:
    """``text`` in double quotes on one line, control characters escaped, long text cut."""
    cut = text if len(text) <= _SHOWN_LENGTH else text[: _SHOWN_LENGTH - 3] + "..."
    return '"' + printable(cut.replace("\\", "\\\\").replace('"', '\\"')) + '"'


def printable(text: str) -> str:
    """``text`` with every character that does not print replaced by its escape."""
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() else _escape(char) for char in text)


def _escape(char: str) -> str:
    short = {"\n": "\\n", "\t": "\\t", "\r": "\\r"}.get(char)
    return short or (f"\\u{ord(char):04x}" if ord(char) < 0x10000 else f"\\U{ord(char):08x}")


def message(text: str) -> str:
    """``text`` fit for one line of a terminal."""
    text = printable(text)
    return text if len(text) <= _MESSAGE_LENGTH else text[: _MESSAGE_LENGTH - 3] + "..."


def shown(value: Any) -> str:
    """A value as the file would write it, shortened."""
    match value:
        case str():
            return quoted(value)
        case bool():
            return "true" if value else "false"
        case int():
            return str(value) if abs(value) < 10**18 else "a whole number of more than 18 digits"
        case float():
            return repr(value)
        case datetime.datetime() | datetime.date() | datetime.time():
            return value.isoformat()
        case dict():
            return "a table of keys"
        case list() | tuple():
            return "a list"
    return f"a Python {type(value).__name__}"


def nearest(found: str, names: Iterable[str]) -> tuple[str, ...]:
    """Up to three of ``names`` that ``found`` may have meant, closest first."""
    import difflib

    known = {name.lower(): name for name in names}
    plain = found.lower()[:_SHOWN_LENGTH].replace(" ", "_")
    alike = 0.6 if len(plain) > _SHORT_TAG else 0.5
    close = difflib.get_close_matches(plain, known, n=3, cutoff=alike)
    spaced = difflib.get_close_matches(plain.replace("_", " "), known, n=3, cutoff=alike)
    return tuple(dict.fromkeys(known[name] for name in [*close, *spaced]))[:3]


def suggestion(close: tuple[str, ...], names: Iterable[str]) -> str:
    """What to write instead: the closest names, else all of them; empty where there are none."""
    listed = list(names)
    if close:
        return "did you mean " + alternatives(close) + "?"
    if not listed:
        return ""
    more = f" and {len(listed) - _NAMES_LISTED} more" if len(listed) > _NAMES_LISTED else ""
    return "one of: " + ", ".join(listed[:_NAMES_LISTED]) + more


def alternatives(names: Iterable[str]) -> str:
    """``"a", "b" or "c"``."""
    marked = [quoted(name) for name in names]
    return marked[0] if len(marked) == 1 else ", ".join(marked[:-1]) + " or " + marked[-1]
