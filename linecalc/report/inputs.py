"""Every input of a project with its path, basis and source: the places that printed numbers come from."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from pydantic import BaseModel

from linecalc.check import Step
from linecalc.network.build import natural
from linecalc.network.records import Assumption
from linecalc.project.fields import ConductorText
from linecalc.project.model import Project
from linecalc.report.cells import is_cell
from linecalc.study import Study
from linecalc.term import Term
from linecalc.units import Quantity

OPTION = "--"
MARKED = ("assumed", "field verify")


class Input(NamedTuple):
    """One input. ``value`` is in ``unit``, or None for a word or a conductor; ``source`` says where it is from."""

    path: str
    value: float | None
    unit: str
    as_written: str | None
    basis: str
    source: str | None


def inputs_of_project(project: Project) -> tuple[Input, ...]:
    """Every quantity, count and conductor that the project states, in the order of the model, tags in natural order."""
    return tuple(_walk(project, ""))


class Inputs:
    """All inputs by path, and the path of every input that a step uses.

    A number that is not itself stated (a length added up over a path, a count
    of strings, a constant of a rule) has an entry of its own, basis
    ``computed``, under the place it was taken from: ``circuit.C4.path#L``. An
    option of the command line (``--current``) is given and stands under its name.
    """

    def __init__(self, stated: Iterable[Input], steps: Iterable[Step], paths: Mapping[str, tuple[str, ...]] = MappingProxyType({})):
        self._path_sections = paths
        self._by_path = {item.path: item for item in stated}
        self._path: dict[int, str] = {}
        for step in steps:
            for term in step.inputs():
                if not term.op and term.origin and not is_cell(term.origin):
                    self._path[id(term)] = self._settled(term)

    def __iter__(self) -> Iterator[Input]:
        return iter(self._by_path.values())

    def get(self, path: str) -> Input | None:
        """The input at a path, None where nothing is stated there."""
        return self._by_path.get(path)

    def path_of(self, term: Term) -> str:
        """The path of an input term of one of the steps; a cell of a table keeps its own place."""
        return self._path.get(id(term), term.origin)

    def mark(self, path: str) -> str:
        """``assumed`` or ``field verify`` where the input at a path is one; empty otherwise."""
        found = self._by_path.get(path)
        return found.basis if found is not None and found.basis in MARKED else ""

    def _settled(self, term: Term) -> str:
        """The path of a term, entered where it is not stated with that value."""
        for path in (term.origin, f"{term.origin}#{term.symbol}", f"{term.origin}#{term.symbol}={term.value:.10g}"):
            known = self._by_path.get(path)
            if known is not None and known.value is not None and math.isclose(known.value, term.value, rel_tol=1e-9, abs_tol=1e-12):
                return path
            if known is None and path.startswith(OPTION):
                self._by_path[path] = Input(path, term.value, term.unit, None, "given", term.meaning or None)
                return path
            if known is None and path != term.origin:
                self._by_path[path] = Input(path, term.value, term.unit, None, self._basis(term.origin), _derived(term))
                return path
        return term.origin

    def _basis(self, origin: str) -> str:
        """``computed``, unless what it is taken from is assumed or to be verified."""
        marks = [self.mark(path) for path in (origin, *self._sections(origin))]
        return next((found for found in marks if found), "computed")

    def _sections(self, origin: str) -> list[str]:
        """The lengths that a length of a path is the sum of."""
        sections = self._path_sections.get(origin, ())
        return [f"section.{tag}.length" for tag in sections]


def _derived(term: Term) -> str:
    return f"taken from {term.origin}: {term.meaning}" if term.meaning else f"taken from {term.origin}"


def inputs_of_single(steps: Iterable[Step], assumptions: Iterable[Assumption]) -> Inputs:
    """The inputs of a single circuit: its options and what was assumed."""
    return Inputs([_assumed(assumption) for assumption in assumptions], steps)


def inputs_of_study(study: Study) -> Inputs:
    """The inputs of a study: what the project states, what was assumed, what was counted or added up."""
    stated = {item.path: item for item in inputs_of_project(study.project)}
    for assumption in study.assumptions:
        stated.setdefault(assumption.path, _assumed(assumption))
    return Inputs(stated.values(), study.steps, {f"circuit.{tag}.path": item.path for tag, item in study.project.circuit.items()})


def _walk(value: object, path: str) -> Iterator[Input]:
    match value:
        case Quantity():
            yield Input(path, value.value, value.unit, value.as_written, value.basis, value.source)
        case ConductorText():
            yield Input(path, None, "", value.as_written, "given", None)
        case bool() | None:
            return
        case int() | float():
            yield Input(path, float(value), "", f"{value:g}", "given", None)
        case BaseModel():
            for name, info in type(value).model_fields.items():
                key = info.alias or name
                yield from _walk(getattr(value, name), f"{path}.{key}" if path else key)
        case dict():
            for tag in sorted(value, key=natural):
                yield from _walk(value[tag], f"{path}.{tag}")
        case tuple():
            for index, item in enumerate(value):
                yield from _walk(item, f"{path}[{index}]")


def _assumed(assumption: Assumption) -> Input:
    number, _, unit = assumption.value.partition(" ")
    try:
        value = float(number)
    except ValueError:
        return Input(assumption.path, None, "", assumption.value, "assumed", assumption.reason)
    return Input(assumption.path, value, _canonical(unit), assumption.value, "assumed", assumption.reason)


def _canonical(unit: str) -> str:
    return {"%": "percent"}.get(unit, unit)
