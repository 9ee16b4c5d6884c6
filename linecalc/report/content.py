"""The records of a calculation sheet: what every output format renders, and nothing of how."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.check import Level
from linecalc.report.findings import Finding
from linecalc.report.verify import Verify


@dataclass(frozen=True, slots=True)
class Fact:
    """A labelled statement. ``mark`` is ``assumed`` or ``field verify`` where its input is one."""

    label: str
    text: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """A small table of texts, the first column heading its rows."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Use:
    """A number that a line of arithmetic uses: what it is or where it is from.

    ``step`` is the line that computed it, ``path`` the input it is taken from,
    if it is one or the other.
    """

    symbol: str
    value: str
    source: str
    step: str = ""
    mark: str = ""
    path: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of arithmetic. ``parts`` are formula, substitution and result, equal neighbours once."""

    id: str
    symbol: str
    meaning: str
    parts: tuple[str, ...]
    citation: str
    uses: tuple[Use, ...]

    @property
    def arithmetic(self) -> str:
        """``I_max = 1.25 x Isc = 1.25 x 13.9 A = 17.38 A``."""
        return " = ".join((self.symbol, *self.parts))

    @property
    def marked(self) -> tuple[Use, ...]:
        """The assumed and field-verify inputs of the line."""
        return tuple(use for use in self.uses if use.mark)


@dataclass(frozen=True, slots=True)
class Block:
    """Everything about one subject."""

    tag: str
    title: str
    facts: tuple[Fact, ...]
    grids: tuple[Grid, ...]
    lines: tuple[Line, ...]
    findings: tuple[Finding, ...]

    @property
    def worst(self) -> Level | None:
        """The level of its findings that asks most of the reader."""
        order = list(Level)
        return min((item.level for item in self.findings), key=order.index, default=None)


@dataclass(frozen=True, slots=True)
class Doubt:
    """An input that was assumed or must be verified on site, and the subjects that use it."""

    path: str
    value: str
    basis: str
    reason: str
    used_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TableUse:
    """A code table that the sheet used, and what its numbers were compared with."""

    number: str
    title: str
    checked: tuple[str, ...]
    from_memory: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A calculation sheet: in the order in which it is read."""

    title: str
    job: tuple[Fact, ...]
    checked_against: str
    system: tuple[Fact, ...]
    basis: tuple[Fact, ...]
    counts: tuple[tuple[Level, int], ...]
    interconnection: tuple[str, ...]
    findings: tuple[tuple[Level, tuple[Finding, ...]], ...]
    schedule: Grid
    blocks: tuple[Block, ...]
    doubts: tuple[Doubt, ...]
    tables: tuple[TableUse, ...]
    memory: tuple[str, ...]
    local: tuple[Fact, ...]
    caution: str
    verify: tuple[Verify, ...] = ()
    schedules: tuple[Grid, ...] = ()
    labels: Grid | None = None
    notes: tuple[Fact, ...] = ()
