"""The three tests of a conductor, and the smallest size that passes them.

T1: terminal column, no factors. T2: insulation column after factors, over the
whole run. T3: the device protects the lower of the two.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from linecalc.calc.ampacity import (
    GoverningPortion,
    Portion,
    conditions_need,
    dwelling_ampacity_need,
    governing_portion,
    parallel_ampacity,
    terminal_need,
)
from linecalc.calc.compare import at_least, at_most
from linecalc.calc.overcurrent import Protection, ampacity_to_protect, protected_by_device
from linecalc.codebook import Book
from linecalc.codebook.sizes import SIZES, SMALLEST_PARALLEL, size_index
from linecalc.network.records import Circuit, Demand
from linecalc.sizing.records import Governed, Surroundings
from linecalc.sizing.surroundings import Place, surroundings_of
from linecalc.term import Number, Term, label, value_of


_DEMANDS = {"segment": Governed.SEGMENT, "tap": Governed.TAP, "generator": Governed.GENERATOR}


@dataclass(frozen=True, slots=True)
class Task:
    """Everything that a conductor of one circuit must satisfy, and where it lies."""

    book: Book
    circuit: Circuit
    places: tuple[Place, ...]
    counts: tuple[int, ...]
    material: str
    insulation: str
    insulation_c: int
    insulation_known: bool
    column_c: int
    parallel: int
    t1_need: Number
    t2_need: Number
    device_a: Number | None
    next_size_up: bool
    motor: bool
    dwelling_need: Number | None
    demands: tuple[Demand, ...]
    least_size: str | None


@dataclass(frozen=True, slots=True)
class Trial:
    """One size tried: its ampacities, and the tests it does not pass in the order T1, T2, T3, others."""

    size: str
    t1_ampacity: Number | None
    t2_ampacity: Number | None
    run: GoverningPortion | None
    protect_a: Number | None
    protection: Protection | None
    small_limit: Number | None
    sections: tuple[Surroundings, ...]
    failing: tuple[Governed, ...]


def needs_of(cite: str, tag: str, modes: Sequence[tuple[str, Number, Number]]) -> tuple[Number, Number]:
    """T1 and T2 needs, each in its own worst mode; ``modes`` holds name, continuous and noncontinuous amperes."""
    t1 = [label(terminal_need(c, n, cite), f"{tag}.T1.{mode}") for mode, c, n in modes]
    t2 = [label(conditions_need(c, n, cite), f"{tag}.T2.{mode}") for mode, c, n in modes]
    return max(t1, key=value_of, default=0.0), max(t2, key=value_of, default=0.0)


def try_size(task: Task, size: str) -> Trial:
    """Run all tests on one size."""
    book, tag = task.book, task.circuit.tag
    sections = tuple(
        surroundings_of(book, place, task.circuit, size, task.material, task.insulation, task.insulation_c, count)
        for place, count in zip(task.places, task.counts, strict=True)
    )
    terminal = _in_parallel(book.ampacity(size, task.material, task.column_c), task.parallel, f"{tag}.T1.ampacity", "I_sets_T1")
    run, sections = _run(task, sections)
    conditions = _in_parallel(None if run is None else run.ampacity_a, task.parallel, f"{tag}.T2.ampacity", "I_sets_T2")
    if terminal is None or conditions is None:
        missing = (Governed.T1,) if terminal is None else (Governed.T2,)
        return Trial(size, terminal, conditions, run, None, None, None, sections, missing)
    protect = label(ampacity_to_protect(terminal, conditions), f"{tag}.T3.ampacity")
    protection = None
    if task.device_a is not None:
        protection = protected_by_device(protect, task.device_a, book.standard_ratings(), task.next_size_up)
        protection = replace(protection, limit_a=label(protection.limit_a, f"{tag}.T3"))
    small = None if task.motor else book.small_conductor_limit(size, task.material)
    failing = tuple(_failing(task, size, terminal, conditions, protect, protection, small))
    return Trial(size, terminal, conditions, run, protect, protection, small, sections, failing)


def _in_parallel(single: Number | None, sets: int, step_id: str, symbol: str) -> Number | None:
    if single is None:
        return None
    if sets == 1:
        return label(single, step_id) if isinstance(single, Term) else single
    return label(parallel_ampacity(single, float(sets)), step_id, symbol)


def _run(task: Task, sections: tuple[Surroundings, ...]) -> tuple[GoverningPortion | None, tuple[Surroundings, ...]]:
    """The ampacity of the whole run by the 10 ft and 10 percent rule, with the portions set aside marked."""
    if not sections or any(section.ampacity is None for section in sections):
        return None, sections
    portions = [Portion(section.section, section.length_ft, section.ampacity) for section in sections]
    run = governing_portion(portions, task.book.wording.lower_portion)
    run = replace(run, ampacity_a=label(run.ampacity_a, f"{task.circuit.tag}.run"))
    marked = tuple(replace(section, set_aside=section.section in run.set_aside) for section in sections)
    return run, marked


def _failing(
    task: Task,
    size: str,
    terminal: Number,
    conditions: Number,
    protect: Number,
    protection: Protection | None,
    small: Number | None,
):
    if not at_least(terminal, task.t1_need):
        yield Governed.T1
    if not at_least(conditions, task.t2_need):
        yield Governed.T2
    if task.dwelling_need is not None:
        if not at_least(protect, task.dwelling_need):
            yield Governed.DWELLING
    elif protection is not None and not protection.protected and not task.motor:
        yield Governed.T3
    if small is not None and task.device_a is not None and not at_most(task.device_a, small):
        yield Governed.SMALL_CONDUCTOR
    yield from (_DEMANDS.get(demand.key, Governed.SEGMENT) for demand in task.demands if not at_least(protect, demand.amps))
    if task.parallel > 1 and size_index(size) < size_index(SMALLEST_PARALLEL):
        yield Governed.PARALLEL
    if task.least_size is not None and size_index(size) < size_index(task.least_size):
        yield Governed.SUPPLY_SIDE


def smallest_passing(task: Task) -> tuple[Trial, Governed]:
    """The smallest size that passes every test, and the test that the next smaller one does not.

    Where no size passes, the largest size tried is returned with
    ``NOTHING_PASSES``; where the place leaves no ampacity to any, the smallest
    that passes T1.
    """
    reason = Governed.SMALLEST
    last = None
    for size in SIZES:
        if task.book.ampacity(size, task.material, 75) is None:
            continue
        if not _passes_terminals(task, size):
            reason = Governed.T1
            continue
        last = try_size(task, size)
        if not last.failing:
            return last, reason
        reason = last.failing[0]
    if last is None or last.t2_ampacity is None:
        return smallest_at_terminals(task), Governed.NOTHING_PASSES
    return last, Governed.NOTHING_PASSES


def _passes_terminals(task: Task, size: str) -> bool:
    """T1 in plain numbers, so that sizes too small for it need no further test."""
    terminal = task.book.ampacity(size, task.material, task.column_c)
    return terminal is not None and at_least(terminal.value * task.parallel, task.t1_need)


def smallest_at_terminals(task: Task) -> Trial:
    """The smallest size that passes T1, where the conditions for the other tests are not known."""
    listed = [size for size in SIZES if task.book.ampacity(size, task.material, task.column_c) is not None]
    for size in listed:
        if _passes_terminals(task, size):
            return try_size(task, size)
    return try_size(task, listed[-1])


def dwelling_need_of(rating: Number, tag: str) -> Number:
    """83 percent of the rating that carries the whole load of the dwelling, in amperes."""
    return label(dwelling_ampacity_need(rating), f"{tag}.I_83")
