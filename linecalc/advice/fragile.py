"""Fragile assumptions: assumed inputs whose change within a plausible range turns a verdict."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from linecalc.advice.design import as_designed
from linecalc.advice.plausible import BASIS, range_of
from linecalc.advice.records import Fragile, Key, Setting, Turn
from linecalc.advice.rerun import BAD, levels, variant
from linecalc.check import Level
from linecalc.project.model import Project
from linecalc.report.inputs import MARKED, Input, inputs_of_study
from linecalc.study import Study


def doubtful_inputs(study: Study) -> tuple[Input, ...]:
    """The inputs that are assumed or to be verified in the field, and that have a plausible range."""
    return tuple(item for item in inputs_of_study(study) if item.basis in MARKED and "#" not in item.path and range_of(item.path) is not None)


def fragile_assumptions(study: Study) -> tuple[Fragile, ...]:
    """The doubtful inputs that turn a verdict, those that make something fail first, then by how many they turn."""
    project = as_designed(study)
    before = levels(study.checks)
    tried = (_tried(study, project, item, before) for item in doubtful_inputs(study))
    found = [fragile for fragile in tried if fragile is not None and fragile.turns]
    return tuple(sorted(found, key=lambda fragile: (not fragile.breaks, -len({(turn.rule, turn.subject) for turn in fragile.turns}))))


def _tried(study: Study, project: Project, item: Input, before: Mapping[Key, Level]) -> Fragile | None:
    found = range_of(item.path)
    if found is None:
        return None
    values = found.tried(item)
    turns = tuple(turn for value in values for turn in _turns(study, project, item, value, before))
    return Fragile(item.path, item.as_written or "not stated", item.basis, tuple(_shown(value) for value in values), f"{found.name}: {BASIS}", turns)


def _shown(value: str | bool | float) -> str:
    return {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else f"{value}"


def _turns(study: Study, project: Project, item: Input, value: str | bool | float, before: Mapping[Key, Level]) -> Iterator[Turn]:
    run = variant(project, study.book, (Setting(item.path, value),))
    if run is None:
        return
    after = levels(run.checks)
    for key in [*after, *(key for key in before if key not in after)]:
        then, now = before.get(key, Level.PASS), after.get(key, Level.PASS)
        if then is not now and (then in BAD or now in BAD):
            yield Turn(*key, then, now, _shown(value))
