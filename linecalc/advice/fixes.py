"""Fixes: for each finding that fails, the smallest change that passes, each tried on the real study."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from linecalc.advice.following import chosen_size, given_size
from linecalc.advice.limits import objection
from linecalc.advice.records import Candidate, Fix, Key, NoFix
from linecalc.advice.rerun import BAD, Run, levels, variant
from linecalc.advice.ways import ways_of
from linecalc.check import Check, Level
from linecalc.study import Study

NO_WAY = "no single change is known for it; it rests on equipment or arrangement"
SHOWN = 2
FOLLOWING = 3


def fixes(study: Study, checks: Iterable[Check]) -> tuple[tuple[Fix, ...], tuple[NoFix, ...]]:
    """The verified fixes of the checks that fail, and the failing checks that have none."""
    found: list[Fix] = []
    without: list[NoFix] = []
    failing = {(check.rule, check.subject): check for check in checks if check.level is Level.FAIL}
    for (rule, subject), check in failing.items():
        tried: list[str] = []
        ways = [fix for way in ways_of(study, check) if (fix := _first(study, check, way, tried)) is not None]
        found.extend(ways[:SHOWN])
        if not ways:
            without.append(NoFix(rule, subject, _reason(tried)))
    return tuple(found), tuple(without)


def _reason(tried: list[str]) -> str:
    return f"no single change passes; the nearest: {tried[0]}" if tried else NO_WAY


def _first(study: Study, check: Check, way: Iterator[Candidate], tried: list[str]) -> Fix | None:
    """The first candidate of a way that stands the test; ``tried`` collects why others do not."""
    for candidate in way:
        passing, why = _tested(study, (check.rule, check.subject), candidate)
        if passing is not None:
            return Fix(check.rule, check.subject, passing.settings, passing.text)
        tried.append(f"{candidate.text}, but {why}")
    return None


def _tested(study: Study, target: Key, candidate: Candidate) -> tuple[Candidate | None, str]:
    """The candidate if it stands the test, alone or with given sizes following it; else why not."""
    first = ""
    for _ in range(FOLLOWING):
        run = variant(study.project, study.book, candidate.settings)
        why = "the project does not allow it" if run is None else objection(study, run, target)
        if not why:
            return candidate, ""
        first = first or why
        following = None if run is None else _following(study, candidate, run)
        if following is None:
            break
        candidate = following
    return None, first


def _following(study: Study, candidate: Candidate, run: Run) -> Candidate | None:
    """The candidate with those given sizes raised that only the change itself made too small; None where there are none."""
    then = levels(study.checks)
    new = [check for check in run.checks if check.level in BAD and then.get((check.rule, check.subject)) not in BAD]
    set_already = {setting.path for setting in candidate.settings}
    given = {size.path: size for check in new if (size := given_size(study, check)) is not None and size.path not in set_already}
    if not given:
        return None
    freed = variant(study.project, study.book, (*candidate.settings, *(setting for size in given.values() for setting in size.freed)))
    if freed is None:
        return None
    chosen = [pair for path in given if (pair := chosen_size(freed, path)) is not None]
    if not chosen:
        return None
    settings = tuple(setting for setting, _ in chosen)
    joint = " and " if ", with " in candidate.text else ", with "
    return Candidate((*candidate.settings, *settings), f"{candidate.text}{joint}{', '.join(words for _, words in chosen)}")
