"""Fixes: for each finding that fails, the smallest change that passes, each tried on the real study."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from linecalc.advice.limits import objection
from linecalc.advice.records import Candidate, Fix, Key, NoFix, Setting
from linecalc.advice.rerun import BAD, Run, levels, variant
from linecalc.advice.ways import ways_of
from linecalc.check import Check, Level
from linecalc.project.wording import dotted
from linecalc.study import Study

NO_WAY = "no single change is known for it; it rests on equipment or arrangement"
SHOWN = 2


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
    """The candidate if it stands the test, alone or with raceway, neutral and grounding conductor following; else why not."""
    run = variant(study.project, study.book, candidate.settings)
    if run is None:
        return None, "the project does not allow it"
    why = objection(study, run, target)
    if not why:
        return candidate, ""
    following = _following(study, candidate, run)
    if following is None:
        return None, why
    again = variant(study.project, study.book, following.settings)
    if again is None or objection(study, again, target):
        return None, why
    return following, ""


def _following(study: Study, candidate: Candidate, run: Run) -> Candidate | None:
    """The candidate with those given sizes raised that only the change itself made too small."""
    then = levels(study.checks)
    new = [check for check in run.checks if check.level in BAD and then.get((check.rule, check.subject)) not in BAD]
    paths = list(dict.fromkeys(path for check in new if (path := _given_size(study, check))))
    if not paths:
        return None
    freed = variant(study.project, study.book, (*candidate.settings, *(Setting(path, None) for path in paths)))
    if freed is None:
        return None
    chosen = [pair for path in paths if (pair := _chosen(freed, path)) is not None]
    settings = tuple(setting for setting, _ in chosen)
    return Candidate((*candidate.settings, *settings), ", with ".join([candidate.text, *(words for _, words in chosen)]))


def _given_size(study: Study, check: Check) -> str:
    """The key of a given size that a finding is about; empty where it is about something else."""
    if check.rule == "raceway_fill" and study.project.section[check.subject].size is not None:
        return dotted(("section", check.subject, "size"))
    circuit = study.project.circuit.get(check.subject)
    if circuit is not None and check.rule in ("egc", "egc_upsize", "pv_egc") and circuit.egc not in (None, "none", "raceway"):
        return dotted(("circuit", check.subject, "egc"))
    if circuit is not None and check.rule in ("neutral_of_source", "load_neutral") and circuit.neutral not in (None, "none"):
        return dotted(("circuit", check.subject, "neutral"))
    return ""


def _chosen(run: Run, path: str) -> tuple[Setting, str] | None:
    """The size that the study chose for a key that was freed, and how it is told."""
    for raceway in run.sized.raceways:
        if path == dotted(("section", raceway.section, "size")) and raceway.size is not None:
            return Setting(path, f"{raceway.size} in"), f"{raceway.method} {raceway.size} in for {raceway.section}"
    for circuit in run.sized.circuits:
        if path == dotted(("circuit", circuit.tag, "egc")) and circuit.egc is not None:
            size = f"{circuit.egc.size} {circuit.egc.material}"
            return Setting(path, size), f"{size} as grounding conductor of {circuit.tag}"
        if path == dotted(("circuit", circuit.tag, "neutral")) and circuit.neutral is not None:
            return Setting(path, circuit.neutral.text), f"neutral {circuit.neutral.size} in {circuit.tag}"
    return None
