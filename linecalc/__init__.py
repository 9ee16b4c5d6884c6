"""linecalc: a home's solar-and-storage system, computed and checked for a permit.

The names below are the public interface; each is loaded when it is first used.

>>> import linecalc
>>> project = linecalc.read_text('[project]\\ntitle = "A house"\\ncode = "NEC 2023"')
>>> project.project.code
'NEC 2023'
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from linecalc._version import __version__

if TYPE_CHECKING:
    from linecalc.advice import Advice, advise
    from linecalc.check import Check, Level, Step
    from linecalc.comparison import compare
    from linecalc.diagram.notebook import Diagram
    from linecalc.errors import InputError, LinecalcError, Problem, RefusedError, TableError
    from linecalc.project.builder import ProjectBuilder
    from linecalc.project.model import Project
    from linecalc.project.read import read_project, read_text
    from linecalc.project.schema import project_schema
    from linecalc.report.results_json import results_json
    from linecalc.study import Study
    from linecalc.study import study as compute

__all__ = [
    "Advice",
    "Check",
    "Diagram",
    "InputError",
    "Level",
    "LinecalcError",
    "Problem",
    "Project",
    "ProjectBuilder",
    "RefusedError",
    "Step",
    "Study",
    "TableError",
    "__version__",
    "advise",
    "compare",
    "compute",
    "project_schema",
    "read_project",
    "read_text",
    "results_json",
]

_HOMES = {
    "Advice": ("linecalc.advice", "Advice"),
    "Check": ("linecalc.check", "Check"),
    "Diagram": ("linecalc.diagram.notebook", "Diagram"),
    "InputError": ("linecalc.errors", "InputError"),
    "Level": ("linecalc.check", "Level"),
    "LinecalcError": ("linecalc.errors", "LinecalcError"),
    "Problem": ("linecalc.errors", "Problem"),
    "Project": ("linecalc.project.model", "Project"),
    "ProjectBuilder": ("linecalc.project.builder", "ProjectBuilder"),
    "RefusedError": ("linecalc.errors", "RefusedError"),
    "Step": ("linecalc.check", "Step"),
    "Study": ("linecalc.study", "Study"),
    "TableError": ("linecalc.errors", "TableError"),
    "advise": ("linecalc.advice", "advise"),
    "compare": ("linecalc.comparison", "compare"),
    "compute": ("linecalc.study", "study"),
    "project_schema": ("linecalc.project.schema", "project_schema"),
    "read_project": ("linecalc.project.read", "read_project"),
    "read_text": ("linecalc.project.read", "read_text"),
    "results_json": ("linecalc.report.results_json", "results_json"),
}


def __getattr__(name: str) -> Any:
    """Load a public name on first use."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    module, attribute = _HOMES[name]
    found = getattr(import_module(module), attribute)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    """The public names, loaded or not."""
    return sorted({*globals(), *_HOMES})
