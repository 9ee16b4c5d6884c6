"""From the file named on the command line to its study, for every command that takes a project."""

from __future__ import annotations

from typing import TYPE_CHECKING

from linecalc.errors import InputError

if TYPE_CHECKING:
    from linecalc.study import Study


def study_of(path: str, edition: str | None = None, settings: tuple[str, ...] = ()) -> Study:
    """The study of the project file at ``path``, with values changed by ``settings`` (``PATH=VALUE``).

    Raises
    ------
    InputError, RefusedError
        With file and line wherever the key at fault stands in the file.
    """
    from linecalc.project.read import placed, read_project
    from linecalc.study import study
    from linecalc.variants import read_setting, with_values

    file = project_file(path)
    project = read_project(file)
    if settings:
        project = with_values(project, [read_setting(setting) for setting in settings])
    try:
        return study(project, edition)
    except InputError as error:
        raise placed(error, file) from None


def project_file(path: str) -> str:
    """The file that an argument names: ``PATH``, or ``PATH.toml`` where only that is there."""
    from pathlib import Path

    named = Path(path)
    with_suffix = named.with_name(f"{named.name}.toml") if named.name else named
    return str(with_suffix) if not named.suffix and not named.exists() and with_suffix.exists() else path
