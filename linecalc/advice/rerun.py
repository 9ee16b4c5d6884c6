"""The study run again on a variant, reduced to its verdicts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from linecalc.advice.records import Key, Setting
from linecalc.check import Check, Level
from linecalc.codebook import Book
from linecalc.errors import LinecalcError
from linecalc.project.model import Project
from linecalc.sizing.records import Sized
from linecalc.study import verdicts
from linecalc.variants import with_values

ORDER = tuple(Level)
BAD = (Level.FAIL, Level.NOT_CHECKED, Level.WARN)
_FAMILIES = {
    "over_800": "next_size_up",
    "egc_upsize": "egc",
    "voltage_drop_feeder_note": "voltage_drop",
    "voltage_drop_branch_note": "voltage_drop",
}


@dataclass(frozen=True, slots=True)
class Run:
    """What a run of the study on a variant gave."""

    sized: Sized
    checks: tuple[Check, ...]


def variant(project: Project, book: Book, settings: Iterable[Setting]) -> Run | None:
    """The run of a project with settings changed, or None where the changed project is refused."""
    try:
        return Run(*verdicts(with_values(project, [(setting.path, setting.value) for setting in settings]), book))
    except LinecalcError:
        return None


def family(rule: str) -> str:
    """The question that a rule key answers: several keys can answer the same one, depending on what governs.

    Examples
    --------
    >>> family("busbar_120"), family("egc_upsize"), family("pv_conductor.T2")
    ('busbar', 'egc', 'pv_conductor.T2')
    """
    if rule.startswith("busbar_") and "." not in rule:
        return "busbar"
    return _FAMILIES.get(rule, rule)


@dataclass(frozen=True, slots=True)
class Found:
    """The verdict on one question, with the margin of its check where it has one."""

    level: Level
    margin: float | None


def levels(checks: Iterable[Check]) -> Mapping[Key, Level]:
    """The level of each rule key and subject; the one that asks most of the reader where there are several."""
    found: dict[Key, Level] = {}
    for check in checks:
        key = (check.rule, check.subject)
        if key not in found or worse(check.level, found[key]):
            found[key] = check.level
    return found


def found_by_family(checks: Iterable[Check]) -> Mapping[Key, Found]:
    """The verdict on each question and subject; the one that asks most of the reader where there are several."""
    found: dict[Key, Found] = {}
    for check in checks:
        key = (family(check.rule), check.subject)
        if key not in found or worse(check.level, found[key].level):
            found[key] = Found(check.level, check.margin)
    return found


def worse(level: Level, than: Level) -> bool:
    """Whether ``level`` asks more of the reader than another."""
    return ORDER.index(level) < ORDER.index(than)
