"""What changes between designs, or between adopted codes: verdicts, sizes, devices, figures, sections; nothing else."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from linecalc.advice.rerun import levels
from linecalc.check import Check, Level
from linecalc.codebook.citations import COMMON_PRACTICE
from linecalc.report.amounts import amount
from linecalc.report.cells import is_cell, table_name
from linecalc.report.findings import counts
from linecalc.report.inputs import inputs_of_project
from linecalc.sizing.records import BusVerdict
from linecalc.study import Study
from linecalc.term import Number, value_of

ABSENT = "-"
_DIGITS = 4
_MOST_DIGITS = 12


class Group(Enum):
    """What kind of thing changes, in the order in which it is told."""

    INPUTS = "Inputs"
    VERDICTS = "Verdicts"
    METHODS = "Interconnection methods"
    DEVICES = "Overcurrent devices"
    SIZES = "Conductors and raceways"
    LIMITS = "Limits"
    FIGURES = "Figures"
    SECTIONS = "Sections"


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its unit, compared by value."""

    value: float
    unit: str


Value = str | Amount
Place = tuple[Group, str, str]


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is not the same in all designs; ``values`` stand in the order of the designs."""

    group: Group
    subject: str
    what: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Designs by name, their counts of verdicts, and everything that differs."""

    names: tuple[str, ...]
    counts: tuple[tuple[tuple[Level, int], ...], ...]
    differences: tuple[Difference, ...]


def compare(studies: Sequence[tuple[str, Study]]) -> Comparison:
    """Compare two or more studies, each with the name that it is told by."""
    found = [dict(_facets(study)) for _, study in studies]
    places = sorted(dict.fromkeys(place for facets in found for place in facets), key=lambda place: list(Group).index(place[0]))
    differences = (_difference(place, [facets.get(place) for facets in found]) for place in places)
    names = tuple(name for name, _ in studies)
    return Comparison(names, tuple(counts(study) for _, study in studies), tuple(item for item in differences if item is not None))


def _difference(place: Place, values: list[Value | None]) -> Difference | None:
    group, subject, what = place
    if group is Group.SECTIONS and None in values:
        return None
    if all(_same(values[0], other) for other in values[1:]):
        return None
    return Difference(group, subject, what, _told(values))


def _same(one: Value | None, other: Value | None) -> bool:
    if isinstance(one, Amount) and isinstance(other, Amount):
        return one.unit == other.unit and math.isclose(one.value, other.value, rel_tol=1e-9, abs_tol=1e-12)
    return one == other


def _told(values: Sequence[Value | None]) -> tuple[str, ...]:
    """The values as printed, with as many digits as tell different ones apart."""
    for digits in range(_DIGITS, _MOST_DIGITS):
        texts = tuple(_text(value, digits) for value in values)
        pairs = [(first, second) for first in range(len(values)) for second in range(first)]
        if all((texts[first] == texts[second]) is _same(values[first], values[second]) for first, second in pairs):
            return texts
    return texts


def _text(value: Value | None, digits: int) -> str:
    if value is None:
        return ABSENT
    return amount(value.value, value.unit, digits) if isinstance(value, Amount) else value


def _facets(study: Study) -> Iterator[tuple[Place, Value]]:
    """Everything that is compared, each under its place."""
    yield from _inputs(study)
    yield from _verdicts(study)
    yield from _methods(study)
    yield from _sizes(study)
    yield from _numbers(study)
    yield from _strings(study)
    for key in _cited(study):
        yield (Group.SECTIONS, key, ""), study.book.cite(key).section or COMMON_PRACTICE


def _cited(study: Study) -> Iterator[str]:
    """The keys of the citation map that checks, their arithmetic and its table cells stand on, each once."""
    keys = [check.rule.split(".")[0] for check in study.checks]
    for step in study.steps:
        keys += [step.term.cite.split(".")[0]] if step.term.cite else []
        keys += [study.book.table(table_name(term.origin)).header.rule_key for term in step.inputs() if is_cell(term.origin)]
    yield from dict.fromkeys(keys)


def _inputs(study: Study) -> Iterator[tuple[Place, Value]]:
    for item in inputs_of_project(study.project):
        stated = item.as_written if item.as_written is not None else str(item.value)
        yield (Group.INPUTS, item.path, ""), f"{stated} [{item.basis}]" if item.basis != "given" else stated


def _verdicts(study: Study) -> Iterator[tuple[Place, Value]]:
    for (rule, subject), level in levels(study.checks).items():
        yield (Group.VERDICTS, subject, rule), level.value


def _methods(study: Study) -> Iterator[tuple[Place, Value]]:
    for bus in study.sized.buses:
        if bus.used is not None:
            yield (Group.METHODS, bus.tag, "method used"), bus.used.key
        for method in bus.methods:
            usable = "not usable" if method.verdict is BusVerdict.NOT_USABLE else method.verdict.value
            yield (Group.METHODS, bus.tag, method.key), usable
        if bus.left_a is not None:
            yield (Group.METHODS, bus.tag, "source current left"), Amount(value_of(bus.left_a), "A")


def _sizes(study: Study) -> Iterator[tuple[Place, Value]]:
    for circuit in study.sized.circuits:
        if circuit.device is not None:
            yield (Group.DEVICES, circuit.tag, "device"), f"{value_of(circuit.device.rating):g} A {circuit.device.kind} in {circuit.device.where}"
        sets = f"{circuit.conductor.parallel} sets of " if circuit.conductor.parallel > 1 else ""
        yield (Group.SIZES, circuit.tag, "conductor"), f"{sets}{circuit.conductor.text}"
        yield (Group.SIZES, circuit.tag, "neutral"), "none" if circuit.neutral is None else circuit.neutral.text
        if circuit.egc is not None:
            size = "the raceway" if circuit.egc.kind == "raceway" else f"{circuit.egc.size} {circuit.egc.material}"
            yield (Group.SIZES, circuit.tag, "grounding conductor"), size
    for raceway in study.sized.raceways:
        yield (Group.SIZES, raceway.section, "raceway"), f"{raceway.method} {raceway.size or 'no size'} in"


def _numbers(study: Study) -> Iterator[tuple[Place, Value]]:
    """Demand and limit of every check; of a remark, the figures that it tells."""
    seen: dict[tuple[str, str], int] = {}
    for check in study.checks:
        key = (check.rule, check.subject)
        seen[key] = seen.get(key, 0) + 1
        what = check.rule if seen[key] == 1 else f"{check.rule} ({seen[key]})"
        if check.demand is not None and check.limit is not None:
            yield (Group.FIGURES, check.subject, what), Amount(value_of(check.demand), check.unit)
            yield (Group.LIMITS, check.subject, what), Amount(value_of(check.limit), check.unit)
        else:
            yield from _told_figures(check, what)


def _told_figures(check: Check, what: str) -> Iterator[tuple[Place, Value]]:
    for term in check.roots():
        if term.op:
            yield (Group.FIGURES, check.subject, f"{what}: {term.meaning or term.symbol}"), Amount(term.value, term.unit)


def _strings(study: Study) -> Iterator[tuple[Place, Value]]:
    for figures in study.sized.strings:
        named: dict[str, tuple[Number | None, str]] = {
            "cold voltage": (figures.cold_voc, "V"),
            "cold voltage by the table": (figures.cold_voc_table, "V"),
            "hot working voltage": (figures.hot_vmp, "V"),
            "maximum current": (figures.max_current, "A"),
        }
        for what, (number, unit) in named.items():
            if number is not None:
                yield (Group.FIGURES, figures.tag, what), Amount(value_of(number), unit)
