"""The file a command writes: its suffix says the format."""

from __future__ import annotations

import os

from linecalc.errors import InputError, Problem


def suffix_of(path: str, possible: tuple[str, ...], later: dict[str, str]) -> str:
    """The suffix of ``path`` in lower case, one of ``possible``.

    Parameters
    ----------
    later : what to say of suffixes that are understood but not written yet.

    Raises
    ------
    InputError
        Another suffix, or none; the possible ones are named.
    """
    suffix = os.path.splitext(path)[1].lower()
    if suffix in possible:
        return suffix
    expected = ", ".join(possible)
    found = f"ends in {suffix}" if suffix else "has no suffix"
    message = later.get(suffix, f"{found}, which says no format; write one of {expected}")
    raise InputError([Problem(message, file=path, key="--output", found=suffix or None, expected=expected)])


def missing_package(error: ModuleNotFoundError, extra: str, suffix: str) -> InputError:
    """A format whose package is not installed: what to install."""
    message = f"{suffix} needs the package {error.name}; install it with: pip install 'linecalc[{extra}]'"
    return InputError([Problem(message, key="--output", found=suffix)])
