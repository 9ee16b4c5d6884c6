"""Where the numbers of a step come from: an input path, a cell of a code table, an earlier step."""

from __future__ import annotations

from linecalc.check import Check, Step
from linecalc.report.inputs import Inputs
from linecalc.term import Term, named_terms


class Origins:
    """Looks up the step that computed a term.

    A term that equals a kept step (same id, or the same key without one, and
    the same value) is that step: the list of steps keeps one of several equal terms.
    """

    def __init__(self, steps: tuple[Step, ...], inputs: Inputs):
        self._inputs = inputs
        self._by_identity = {id(step.term): step.id for step in steps}
        self._by_value: dict[tuple[str, float], str] = {}
        for step in steps:
            for name in (step.id.split("~")[0], step.term.key):
                self._by_value.setdefault((name, step.term.value), step.id)

    def of(self, term: Term, subject: str) -> str:
        """The origin of ``term`` as used under ``subject``; empty where none is known."""
        if not term.op:
            return self._inputs.path_of(term)
        return self.step_id(term, subject)

    def step_id(self, term: Term, subject: str) -> str:
        """The id of the step that computed ``term``; empty where there is none."""
        known = self._by_identity.get(id(term))
        if known is not None:
            return known
        wanted = [term.id] if term.id else [f"{subject}.{term.key}", term.key]
        return next((found for name in wanted if (found := self._by_value.get((name, term.value)))), "")

    def steps_behind(self, check: Check) -> list[str]:
        """The ids of all steps behind a check, arguments before results."""
        found = (self.step_id(term, check.subject) for root in check.roots() for term in named_terms(root))
        return list(dict.fromkeys(step_id for step_id in found if step_id))
