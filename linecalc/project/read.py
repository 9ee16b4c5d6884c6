"""Reading of project files."""

from __future__ import annotations

from os import PathLike
from typing import TYPE_CHECKING

from linecalc.errors import InputError
from linecalc.project import include, toml_text
from linecalc.project.sources import Source
from linecalc.project.validate import validated

if TYPE_CHECKING:
    from linecalc.project.model import Project


def read_project(path: str | PathLike[str]) -> Project:
    """The project that the file at ``path`` describes.

    Raises
    ------
    InputError
        All problems of the file and its includes, each with file, line and key.
        A syntax error is reported alone.
    """
    return _project(toml_text.load(path))


def read_text(text: str, file: str | None = None) -> Project:
    """The project that ``text`` describes.

    Parameters
    ----------
    text : a project file's contents.
    file : the name used in messages; includes are relative to it.

    Raises
    ------
    InputError
        As :func:`read_project`.

    Examples
    --------
    >>> read_text('[project]\\ntitle = "A house"\\ncode = "NEC 2023"').project.title
    'A house'
    """
    data = text.encode("utf-8", errors="surrogatepass")
    return _project(Source(file, toml_text.decoded(data, file)))


def _project(source: Source) -> Project:
    merge = include.merged(toml_text.parse(source), source)
    return validated(merge.raw, merge.sources, merge.problems)


def placed(error: InputError, path: str | PathLike[str]) -> InputError:
    """``error``, found after reading, with the line of each key in the project file at ``path``.

    The graph reports cycles and dangling parts by key alone; this names file and line as well.
    """
    source = toml_text.load(path)
    merge = include.merged(toml_text.parse(source), source)
    return InputError([merge.sources.placed(problem) for problem in error.problems])
