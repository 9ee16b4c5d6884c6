"""What a study found, once: levels, counts, the interconnection method, and each finding in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from linecalc.check import Check, Level
from linecalc.errors import InputError, Problem
from linecalc.network.records import Kind
from linecalc.report.amounts import Held, against, amount, held
from linecalc.sizing.records import BusFigures, BusVerdict, SupplySideFigures
from linecalc.study import Study, subjects_in_order

READING_ORDER = (Level.FAIL, Level.NOT_CHECKED, Level.WARN, Level.NOTE, Level.PASS)
WORTH_READING = READING_ORDER[:-1]
HEADINGS = {
    Level.FAIL: "Fails",
    Level.NOT_CHECKED: "Not checked: inputs are missing",
    Level.WARN: "Warnings: depend on the AHJ, the utility or an assumed input",
    Level.NOTE: "Notes",
    Level.PASS: "Passes",
}


@dataclass(frozen=True, slots=True)
class Finding:
    """One check in words. ``held`` is the printed comparison, where there is one."""

    level: Level
    subject: str
    rule: str
    message: str
    held: Held | None
    citation: str
    needs: tuple[str, ...]
    flip: str | None
    fix: str | None
    unfixed: str | None = None

    @property
    def advice(self) -> tuple[tuple[str, str], ...]:
        """What is needed, what would flip it, what puts it right: a lead word and a text each."""
        needs = ", ".join(self.needs)
        found = (("needs: ", needs), ("", self.flip), ("fix: ", self.fix), ("no fix: ", self.unfixed))
        return tuple((word, text) for word, text in found if text)


@dataclass(frozen=True, slots=True)
class Selection:
    """Which checks are asked for; empty ``subjects`` means all of them."""

    levels: tuple[Level, ...] = WORTH_READING
    subjects: tuple[str, ...] = ()

    def of(self, checks: Iterable[Check]) -> tuple[Check, ...]:
        """The checks that the selection asks for."""
        return tuple(
            check for check in checks if check.level in self.levels and (not self.subjects or check.subject in self.subjects)
        )


def finding(check: Check) -> Finding:
    """One check in words."""
    return Finding(
        check.level, check.subject, check.rule, check.message, held(check), check.citation, check.needs, check.flip, check.fix, check.unfixed
    )


def short_finding(check: Check) -> Finding:
    """A check in words, its citation as short as a sheet repeats it."""
    found = finding(check)
    return replace(found, citation=short_citation(found.citation))


def short_citation(text: str) -> str:
    """A citation as a sheet repeats it: that it is from memory in two words, since the sheet lists those sections.

    Examples
    --------
    >>> short_citation("690.9(A)(1) (section from memory, verify)")
    '690.9(A)(1) (from memory)'
    """
    return text.replace("(section from memory, verify)", "(from memory)")


def grouped(checks: Iterable[Check]) -> tuple[tuple[Level, tuple[Finding, ...]], ...]:
    """The findings by level, the level that asks most of the reader first; empty levels left out."""
    found = [finding(check) for check in checks]
    groups = ((level, tuple(item for item in found if item.level is level)) for level in READING_ORDER)
    return tuple((level, group) for level, group in groups if group)


def counts(study: Study) -> tuple[tuple[Level, int], ...]:
    """How many checks have each level, the level that asks most of the reader first."""
    return tuple((level, study.count(level)) for level in READING_ORDER)


def counts_text(found: tuple[tuple[Level, int], ...]) -> str:
    """Counts in one line: ``2 fail, 1 not checked, 3 warn, 4 note, 61 pass``."""
    return ", ".join(f"{count} {level.value}" for level, count in found)


def interconnection(study: Study) -> tuple[str, ...]:
    """Which method each bus and the supply-side connection is judged by, one line each."""
    lines = [_supply_side(study, study.sized.supply_side)] if study.sized.supply_side else []
    lines += [_bus(study, bus) for bus in study.sized.buses if bus.sources]
    if lines:
        return tuple(lines)
    if study.network.of_kind(Kind.UNIT, Kind.INVERTER):
        if study.network.is_standalone():
            return ("stand-alone: no utility to interconnect with",)
        return ("no busbar or service conductor carries the current of a source",)
    return ("no source is connected",)


def _supply_side(study: Study, figures: SupplySideFigures) -> str:
    section = study.book.cite("supply_side").text
    head = f"{figures.junction}: connection on the supply side of the service disconnect [{section}]"
    if figures.limit is None:
        return f"{head}: not checked"
    return f"{head}: {against(figures.demand, figures.limit, 'A').text}, held against {figures.limit_meaning}"


def _bus(study: Study, bus: BusFigures) -> str:
    if bus.used is None:
        return f"{bus.tag}: no busbar method could be judged"
    citation = study.book.cite(bus.used.key)
    head = f"{bus.tag}: {citation.description} [{citation.text}]"
    if bus.used.demand is None or bus.used.limit is None:
        return f"{head}: {bus.used.why}" if bus.used.why else head
    verdict = "" if bus.used.verdict is BusVerdict.PASS else ", no method passes"
    return f"{head}: {against(bus.used.demand, bus.used.limit, 'A').text}{verdict}{_left(bus)}"


def _left(bus: BusFigures) -> str:
    if bus.left_a is None or bus.used is None or bus.used.verdict is not BusVerdict.PASS:
        return ""
    if bus.largest_breaker_a is None:
        return f"; {amount(bus.left_a, 'A')} of further source current is left, less than the smallest breaker allows"
    anywhere = any(method.left_a is bus.left_a for method in bus.methods if method.key != "busbar_120")
    where = "" if anywhere else " at the end opposite the supply"
    return f"; {amount(bus.left_a, 'A')} of further source current is left{where}, a {amount(bus.largest_breaker_a, 'A')} breaker"


def levels_of(text: str) -> tuple[Level, ...]:
    """The levels named in a comma-separated list.

    Raises
    ------
    InputError
        A name that is no level.
    """
    known = {level.key: level for level in READING_ORDER}
    found = []
    for name in text.split(","):
        plain = name.strip()
        level = known.get(plain.lower().replace(" ", "_").replace("-", "_"))
        if level is None:
            expected = ", ".join(known)
            raise InputError([Problem(f'no level "{plain}"; one of {expected}', key="--only", found=plain, expected=expected)])
        found.append(level)
    return tuple(found)


def subjects_of(text: str, study: Study) -> tuple[str, ...]:
    """The subjects named in a comma-separated list.

    Raises
    ------
    InputError
        A name that is no tag of the project; the nearest are given.
    """
    known = subjects_in_order(study.network)
    names = tuple(name.strip() for name in text.split(","))
    problems = [_no_subject(name, known) for name in names if name not in known]
    if problems:
        raise InputError(problems)
    return names


def _no_subject(name: str, known: tuple[str, ...]) -> Problem:
    from linecalc.project.wording import nearest, quoted, suggestion

    close = nearest(name, known)
    return Problem(
        f"no tag {quoted(name)} in the project; {suggestion(close, known)}",
        key="--subject", found=name, expected=", ".join(known), nearest=close,
    )  # fmt: skip
