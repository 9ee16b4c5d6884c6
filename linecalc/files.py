"""Writing of files: whole or not at all."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from linecalc.errors import InputError, Problem


def write_whole(path: str | Path, data: bytes | str) -> None:
    """Write ``data`` to ``path``; a reader sees the old contents or the new, never a part.

    Text is written as UTF-8 with plain newlines. A link is followed. Something
    that is not a plain file, such as ``/dev/stdout``, is written to directly.

    Raises
    ------
    InputError
        The file cannot be written; what stood there before stands there still.
    """
    name, contents = str(path), data.encode("utf-8") if isinstance(data, str) else data
    try:
        target = Path(os.path.realpath(path))
        if target.is_dir():
            raise _unwritable(name, "is a directory; name a file in it")
        if target.exists() and not target.is_file():
            target.write_bytes(contents)
        else:
            _replace(target, contents)
    except FileNotFoundError:
        raise _unwritable(name, "cannot be written: there is no such directory") from None
    except PermissionError:
        raise _unwritable(name, "cannot be written: permission denied") from None
    except (OSError, ValueError) as error:
        raise _unwritable(name, f"cannot be written: {getattr(error, 'strerror', None) or error}") from None


def write_new(path: str | Path, data: bytes | str) -> None:
    """As :func:`write_whole`, but never over something that exists.

    Raises
    ------
    InputError
        ``path`` exists already, or cannot be written.
    """
    if os.path.lexists(path):
        raise _unwritable(str(path), "exists already; nothing is overwritten, choose another name")
    write_whole(path, data)


def _replace(target: Path, contents: bytes) -> None:
    """Write beside ``target`` and rename; the permissions of a file that is replaced are kept."""
    beside = target.with_name(f".{target.name[:100]}.{secrets.token_hex(6)}.part")
    mode = target.stat().st_mode & 0o777 if target.exists() else 0o666
    try:
        with open(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as file:
            file.write(contents)
        if mode != 0o666:
            beside.chmod(mode)
        os.replace(beside, target)
    finally:
        beside.unlink(missing_ok=True)


def _unwritable(name: str, problem: str) -> InputError:
    return InputError([Problem(problem, file=name)])
