"""Studies and advice that these tests share; each is made once."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from linecalc.advice import Advice, advise
from linecalc.advice.records import Setting
from linecalc.advice.rerun import family
from linecalc.check import Check, Level
from linecalc.project.model import Project
from linecalc.project.read import read_project
from linecalc.study import Study, study
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
BAD = (Level.FAIL, Level.NOT_CHECKED, Level.WARN)


@lru_cache(maxsize=8)
def example(name: str) -> Study:
    """The study of an example."""
    return study(read_project(EXAMPLES / f"{name}.toml"))


@lru_cache(maxsize=8)
def advised(name: str) -> Advice:
    """Advice on an example."""
    return advise(example(name))


def run_with(project: Project, settings: tuple[Setting, ...], edition: str) -> Study:
    """The study of a project with settings of a fix or flip."""
    return study(with_values(project, [(setting.path, setting.value) for setting in settings]), edition)


def worst(found: Study, rule: str, subject: str) -> Level:
    """The level of a question about a subject; a pass where it no longer arises."""
    matching = [check.level for check in found.checks if family(check.rule) == family(rule) and check.subject == subject]
    return min(matching, key=list(Level).index, default=Level.PASS)


def bad(checks: tuple[Check, ...]) -> set[tuple[str, str, str]]:
    """The findings that must be acted on: level, rule, subject."""
    return {(check.level.value, check.rule, check.subject) for check in checks if check.level in BAD}
