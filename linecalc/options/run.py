"""The study of every candidate, on all cores; the result is the same for any number of workers."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from linecalc.calc.compare import at_least
from linecalc.options.build import Built, build
from linecalc.options.candidates import AS_DRAWN
from linecalc.options.context import Context, Settings, context_of
from linecalc.options.profile import Profile
from linecalc.options.records import Candidate, Reason, Result
from linecalc.project.model import Project
from linecalc.workers import shared_out

CHUNK = 24
Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class Answered:
    """All results in the order of the candidates, with what they were computed from."""

    context: Context
    builts: tuple[Built, ...]
    results: tuple[Result, ...]

    def built(self, result: Result) -> Built:
        """What a result was built from."""
        return next(found for found in self.builts if found.candidate == result.candidate)


def run_options(project: Project, folder: str = ".", workers: int | None = None, progress: Progress | None = None) -> Answered:
    """Study every candidate of a project.

    Parameters
    ----------
    folder : where files named by the project are looked for.
    workers : processes; all cores where left out, none beside this one for 1.
    progress : called with the number of candidates done since the last call.

    Raises
    ------
    InputError, RefusedError
        The project or its options cannot be used.
    """
    context = context_of(project, folder)
    chunks = [context.candidates[first : first + CHUNK] for first in range(0, len(context.candidates), CHUNK)]
    count = min(workers or os.cpu_count() or 1, len(chunks))
    found: list[tuple[list[Built], list[Result]]] = []
    for done, chunk in zip(_each(context, chunks, count), chunks, strict=True):
        found.append(done)
        if progress is not None:
            progress(len(chunk))
    return Answered(context, tuple(built for builts, _ in found for built in builts), tuple(result for _, results in found for result in results))


def _each(context: Context, chunks: list[tuple[Candidate, ...]], workers: int) -> Iterator[tuple[list[Built], list[Result]]]:
    """The chunks in order, each as soon as it is done."""
    if workers <= 1:
        yield from (_chunk(context, chunk) for chunk in chunks)
        return
    yield from shared_out(_of_worker, chunks, workers, partial(_begin, context))


class _Worker:
    """What a worker process was given at its start."""

    context: Context | None = None


def _begin(context: Context) -> None:
    _Worker.context = context


def _of_worker(chunk: tuple[Candidate, ...]) -> tuple[list[Built], list[Result]]:
    assert _Worker.context is not None
    return _chunk(_Worker.context, chunk)


def _chunk(context: Context, chunk: tuple[Candidate, ...]) -> tuple[list[Built], list[Result]]:
    builts = built_of(context, chunk)
    return builts, results_of(context, builts, context.settings, context.profile)


def built_of(context: Context, candidates: tuple[Candidate, ...]) -> list[Built]:
    """Candidates built; those that differ in the tilt and azimuth of their array only share one electrical study, layout and bill."""
    known: dict[tuple[object, ...], Built] = {}
    found = []
    for candidate in candidates:
        array = candidate.array
        key = (candidate.units, candidate.modules, array.strings, array.module, array.name == AS_DRAWN)
        if key not in known:
            known[key] = build(context, candidate)
        found.append(replace(known[key], candidate=candidate))
    return found


def results_of(context: Context, builts: list[Built], settings: Settings, profile: Profile) -> list[Result]:
    """The results of candidates under given settings and loads; what was built is used as it is."""
    from linecalc.options.energy import energies

    possible = [built for built in builts if built.plant is not None]
    found = dict(zip((built.candidate.name for built in possible), energies(context, possible, settings, profile), strict=True)) if possible else {}
    results = []
    for built in builts:
        energy = found.get(built.candidate.name)
        result = Result(built.candidate, built.plant, built.electrical, built.layout, built.bill, reasons=built.reasons, assumptions=built.assumptions)
        if energy is not None:
            result = Result(
                built.candidate, built.plant, built.electrical, built.layout, built.bill, energy.power, energy.hours, energy.lost, energy.recharge_share,
                assumptions=built.assumptions,
            )
            result = judged(context, built, result, settings)
        results.append(result)
    return results


def judged(context: Context, built: Built, result: Result, settings: Settings) -> Result:
    """Every reason why a candidate does not pass, the electrical ones first, and what leaves it unsettled."""
    reasons = list(built.reasons)
    reasons += [Reason("backup_power", found.season, found.why) for found in result.power if not found.carried]
    least = result.least_hours(settings.sun)
    if settings.asked_h is not None and least is not None and not at_least(least, settings.asked_h):
        reasons.append(Reason("hours", "", f"carries {least:.1f} h of the {settings.asked_h:g} h asked ({sun_words(settings.sun)}, aged storage)"))
    budget, bill = context.options.budget, result.bill
    unsettled: list[Reason] = list(built.electrical.not_checked) if built.electrical is not None else []
    if budget is not None and bill.low is not None and bill.high is not None:
        if bill.low > budget:
            reasons.append(Reason("budget", "", f"costs {bill.low:,.0f} {context.options.currency} at least, the budget is {budget:,.0f}"))
        elif bill.high > budget:
            unsettled.append(Reason("budget", "", f"costs {bill.low:,.0f} to {bill.high:,.0f} {context.options.currency}, the budget is {budget:,.0f}"))
    elif budget is not None:
        unsettled.append(Reason("budget", "", f"no price of {', '.join(bill.unpriced)}"))
    if result.layout is not None and result.layout.needs:
        unsettled.append(Reason("placement", "", f"not given: {', '.join(result.layout.needs)}"))
    if built.electrical is not None:
        unsettled += [Reason("ess_energy.place", found.subject, f"{found.message} ({found.energy_kwh:.1f} against {found.limit_kwh:g} kWh)") for found in built.electrical.places if not found.within]
    unsettled += _unknown_power(built, result)
    return Result(
        result.candidate, result.plant, result.electrical, result.layout, result.bill, result.power, result.hours, result.lost, result.recharge_share,
        tuple(reasons), tuple(unsettled), result.assumptions,
    )


def _unknown_power(built: Built, result: Result) -> list[Reason]:
    """Ratings that the peak could not be held against."""
    assert built.plant is not None
    found = []
    if built.plant.leg_a is None and result.power:
        found.append(Reason("backup_power", "", "leg_current of the unit is not given; the legs were not checked"))
    if built.plant.start_a is None and any(check.start_demand_a is not None for check in result.power):
        found.append(Reason("backup_power", "", "start_current of the unit is not given; motor starts were not checked"))
    return found


def sun_words(sun: str) -> str:
    """A kind of day in words."""
    return {"none": "no sun", "clear": "clear sky", "p10": "10th-percentile day", "median": "median day"}[sun]
