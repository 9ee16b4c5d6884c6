"""From a file on disk to a TOML document, with a message for each way it can go wrong."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from linecalc.errors import InputError, Problem
from linecalc.project import wording
from linecalc.project.sources import Source

LARGEST_BYTES = 1_000_000
DEEPEST = 12
LONGEST_KEY = 20
_TOO_DEEP = f"is nested too deeply; the limit is {DEEPEST} levels"

_OTHER_ENCODINGS = ((b"\xff\xfe", "UTF-16"), (b"\xfe\xff", "UTF-16"))
_BOM = b"\xef\xbb\xbf"
_KEY = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')"""
_LONG_KEY = re.compile(rf"(?<![A-Za-z0-9_-]){_KEY}(?:[ \t]*+\.[ \t]*+{_KEY}){{{LONGEST_KEY},}}+")
_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")


def load(path: str | Path) -> Source:
    """The text of a project or equipment file.

    Raises
    ------
    InputError
        The file cannot be read, is larger than 1 MB, or is not UTF-8 text.
    """
    name = str(path)
    try:
        with open(path, "rb") as file:
            data = file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise _refused(name, "there is no such file") from None
    except IsADirectoryError:
        raise _refused(name, "is a directory; name the project file in it") from None
    except PermissionError:
        raise _refused(name, "cannot be read: permission denied") from None
    except (OSError, ValueError) as error:
        raise _refused(name, f"cannot be read: {getattr(error, 'strerror', None) or error}") from None
    return Source(name, decoded(data, name))


def decoded(data: bytes, name: str | None) -> str:
    """``data`` as text; line ends become plain newlines.

    Raises
    ------
    InputError
        Too large, a byte order mark, a NUL, or not UTF-8.
    """
    if len(data) > LARGEST_BYTES:
        raise _refused(name, "is larger than the limit of 1 MB a project file")
    for mark, encoding in _OTHER_ENCODINGS:
        if data.startswith(mark):
            raise _refused(name, f"is {encoding} text; save it as UTF-8")
    if data.startswith(_BOM):
        raise _refused(name, "begins with a byte order mark (BOM); save it as UTF-8 without one", 1)
    at = data.find(b"\x00")
    if at >= 0:
        raise _refused(name, "holds a NUL byte; it is no text file", _line_at(data, at))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        byte = data[error.start]
        raise _refused(name, f"byte 0x{byte:02x} is not UTF-8; save the file as UTF-8", _line_at(data, error.start)) from None
    return text.replace("\r\n", "\n")


def parse(source: Source) -> dict[str, Any]:
    """The TOML document in ``source``.

    Raises
    ------
    InputError
        A syntax error, reported alone with its line, or nesting too deep.
    """
    long_key = _LONG_KEY.search(source.text)
    if long_key:
        line = source.text.count("\n", 0, long_key.start()) + 1
        raise _refused(source.file, f"a key joins more than {LONGEST_KEY} names by dots", line)
    try:
        return tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as error:
        raise _syntax_error(source, str(error)) from None
    except RecursionError:
        raise _refused(source.file, _TOO_DEEP) from None
    except ValueError:
        raise _refused(source.file, "holds a number or date that is out of every range") from None


def _syntax_error(source: Source, report: str) -> InputError:
    place = _PLACE.search(report)
    line = source.text.count("\n") + 1
    if place and place.group(1):
        line = int(place.group(1))
    elif source.text.endswith("\n"):
        line -= 1
    said = _PLACE.sub("", report)
    return _refused(source.file, f"TOML syntax: {_in_words(said)}", max(line, 1))


def _in_words(said: str) -> str:
    """The parser's report; a key written twice is named as TOML writes it."""
    if "nested more than" in said:
        return _TOO_DEEP
    twice = re.match(r"Cannot declare \((.*)\) twice", said)
    if twice:
        parts = tuple(part.strip().strip("'\"") for part in twice.group(1).split(",") if part.strip())
        return f"[{wording.dotted(parts)}] is written twice"
    if said == "Cannot overwrite a value":
        return "this key is written twice in its table"
    return said[:1].lower() + said[1:]


def _line_at(data: bytes, offset: int) -> int:
    return data.count(b"\n", 0, offset) + 1


def _refused(name: str | None, problem: str, line: int | None = None) -> InputError:
    return InputError([Problem(wording.message(problem), file=name, line=line)])
