"""What a row of the checklist looks for in a study: a check, a stated key, a label, a note, an attachment, a fact."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from linecalc.check import Check, Level
from linecalc.errors import TableError
from linecalc.project.fields import ConductorText
from linecalc.report.checklist_facts import FACTS
from linecalc.report.labels import label_schedule
from linecalc.report.notes import permit_notes
from linecalc.study import Study
from linecalc.units import Quantity


class Found(Enum):
    """What the look at the study gave."""

    COMPUTED = "computed"
    SHOWN = "shown"
    ATTACHED = "attached"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Answered:
    """What was found, and the words for it: the evidence, or what is missing."""

    found: Found
    reason: str


class Answerer:
    """Answers predicates such as ``check:gec`` or ``given:project.owner`` for one study."""

    def __init__(self, study: Study):
        self._study = study
        self._labels = {label.key: label for label in label_schedule(study)}
        self._notes = {note.key: note for note in permit_notes(study)}
        self._kinds = {
            "check": self._check,
            "stated": self._stated,
            "given": self._given,
            "label": self._label,
            "note": self._note,
            "attach": self._attached,
            "fact": self._fact,
            "calc": self._calculated,
        }

    def answer(self, predicate: str) -> Answered:
        """The answer to one predicate.

        Raises
        ------
        TableError
            The predicate is of no known kind, or names a fact that does not exist.
        """
        kind, _, name = predicate.strip().partition(":")
        if kind not in self._kinds or not name:
            raise TableError(f"the checklist asks for {predicate!r}, which is of no known kind")
        return self._kinds[kind](name)

    def _checks(self, rule: str) -> list[Check]:
        return [check for check in self._study.checks if check.rule == rule or check.rule.startswith(f"{rule}.")]

    def _check(self, rule: str) -> Answered:
        """A rule that was applied, whatever its verdict; a rule that could not be is no answer."""
        checks = self._checks(rule)
        done = [check for check in checks if check.level is not Level.NOT_CHECKED]
        if done:
            return Answered(Found.COMPUTED, _told(done))
        return self._without(rule, checks)

    def _stated(self, rule: str) -> Answered:
        """A device that a rule found: a note that it is not asked for is no answer."""
        checks = self._checks(rule)
        done = [check for check in checks if check.level not in (Level.NOT_CHECKED, Level.NOTE)]
        if done:
            return Answered(Found.SHOWN, _told(done))
        notes = [check for check in checks if check.level is Level.NOTE]
        return Answered(Found.NOTHING, notes[0].message) if notes else self._without(rule, checks)

    def _without(self, rule: str, checks: list[Check]) -> Answered:
        if checks:
            needs = ", ".join(dict.fromkeys(need for check in checks for need in check.needs))
            return Answered(Found.NOTHING, f"not checked, needs {needs}")
        return Answered(Found.NOTHING, f"rule {rule} finds nothing to check in this design")

    def _given(self, path: str) -> Answered:
        value: object = self._study.project
        for key in path.split("."):
            value = getattr(value, key, None)
        if value is None or value == () or value == "":
            return Answered(Found.NOTHING, f"not stated: {path}")
        return Answered(Found.SHOWN, _written(value))

    def _label(self, key: str) -> Answered:
        label = self._labels.get(key)
        if label is None:
            return Answered(Found.NOTHING, f"the design needs no label {key}, or its inputs are missing")
        return Answered(Found.SHOWN, f"label {key} {label.where}")

    def _note(self, key: str) -> Answered:
        note = self._notes.get(key)
        return Answered(Found.SHOWN, note.text) if note is not None else Answered(Found.NOTHING, f"not stated: {key} among the facts of the project")

    def _attached(self, key: str) -> Answered:
        text = getattr(self._study.project.attachments, key)
        return Answered(Found.ATTACHED, text) if text else Answered(Found.NOTHING, f"not stated: attachments.{key}")

    def _fact(self, name: str) -> Answered:
        return self._looked(name, Found.SHOWN)

    def _calculated(self, name: str) -> Answered:
        return self._looked(name, Found.COMPUTED)

    def _looked(self, name: str, found: Found) -> Answered:
        if name not in FACTS:
            raise TableError(f"the checklist asks for the fact {name!r}, which does not exist")
        fact = FACTS[name](self._study)
        return Answered(found if fact.holds else Found.NOTHING, fact.reason)


def _told(checks: list[Check]) -> str:
    subjects = list(dict.fromkeys(check.subject for check in checks))
    named = ", ".join(subjects[:6]) + (f" and {len(subjects) - 6} more" if len(subjects) > 6 else "")
    return f"{checks[0].rule.split('.')[0]} on {named} [{checks[0].citation}]"


def _written(value: object) -> str:
    if isinstance(value, (Quantity, ConductorText)):
        return value.as_written
    if isinstance(value, tuple):
        return "; ".join(_written(part) for part in value)
    return str(getattr(value, "description", value))
