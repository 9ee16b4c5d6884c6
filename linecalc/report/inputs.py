"""Every input of a project with its path, basis and source: the places that printed numbers come from."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from pydantic import BaseModel

from linecalc.network.build import natural
from linecalc.network.records import Assumption
from linecalc.project.fields import ConductorText
from linecalc.project.model import TAGGED, Project
from linecalc.project.problems import keys_of, model_at
from linecalc.study import Study
from linecalc.term import Term
from linecalc.units import Quantity

MARKED = ("assumed", "field verify")
_TAGGED = (*TAGGED, "circuit", "section")


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


def inputs_of_study(study: Study) -> dict[str, Input]:
    """All inputs by path: those of the project, what was assumed, what was counted from the project."""
    found = {item.path: item for item in inputs_of_project(study.project)}
    for assumption in study.assumptions:
        found.setdefault(assumption.path, _assumed(assumption))
    for step in study.steps:
        for term in step.inputs():
            if not term.op and is_table(term.origin):
                found.setdefault(place_of(term), _counted(term))
    return found


def is_table(origin: str) -> bool:
    """Whether an origin names a whole table of the project, such as ``circuit.C4``: a number counted from it.

    Examples
    --------
    >>> is_table("circuit.C4"), is_table("string.S1.count"), is_table("service.rating")
    (True, False, False)
    """
    table, _, rest = origin.partition(".")
    return table in _TAGGED and bool(rest) and rest.rpartition(".")[2].partition("[")[0] not in _keys(table)


@lru_cache(maxsize=32)
def _keys(table: str) -> frozenset[str]:
    """The keys that an entry of one of the project's tables may have."""
    model = model_at((table, "any"))
    return frozenset(keys_of(model)) if model is not None else frozenset()


def place_of(term: Term) -> str:
    """The path of an input term; a number counted from a table has its symbol in it, ``circuit.C4#n``."""
    return f"{term.origin}#{term.symbol}" if is_table(term.origin) else term.origin


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


def _counted(term: Term) -> Input:
    return Input(place_of(term), term.value, term.unit, None, "computed", f"counted from the project: {term.meaning}")
