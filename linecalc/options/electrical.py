"""The electrical study of a candidate, through the same rules as a permit, reduced to what the answer needs."""

from __future__ import annotations

from functools import lru_cache

from linecalc.check import Check, Level
from linecalc.codebook import Book, open_book
from linecalc.errors import LinecalcError
from linecalc.options.records import BusLoad, CircuitChoice, Electrical, PlaceEnergy, RacewayChoice, Reason
from linecalc.project.model import Project
from linecalc.sizing.records import BusFigures, Sized, SizedCircuit
from linecalc.study import verdicts
from linecalc.term import Number, value_of

PLACE = "ess_energy.place"


@lru_cache(maxsize=8)
def _book(edition: str) -> Book:
    return open_book(edition)


def electrical(project: Project, edition: str | None = None) -> Electrical:
    """Every rule over one candidate's project.

    A project that the rules refuse is a candidate that fails, with the refusal as its reason.
    """
    try:
        sized, checks = verdicts(project, _book(edition or project.project.code))
    except LinecalcError as error:
        return Electrical((Reason("refused", "", str(error)),), (), 0, (), ())
    return Electrical(
        _reasons(checks, Level.FAIL),
        _reasons(checks, Level.NOT_CHECKED),
        sum(check.level is Level.WARN for check in checks),
        tuple(_circuit(found) for found in sized.circuits),
        tuple(_bus(found, sized) for found in sized.buses),
        tuple(RacewayChoice(found.section, found.method, found.size) for found in sized.raceways),
        tuple(_place(check) for check in checks if check.rule == PLACE and check.demand is not None and check.limit is not None),
    )


def _reasons(checks: tuple[Check, ...], level: Level) -> tuple[Reason, ...]:
    return tuple(Reason(check.rule, check.subject, _message(check)) for check in checks if check.level is level)


def _message(check: Check) -> str:
    if check.demand is None or check.limit is None:
        return check.message
    return f"{check.message} ({value_of(check.demand):.6g} against {value_of(check.limit):.6g} {check.unit})".replace(" )", ")")


def _place(check: Check) -> PlaceEnergy:
    assert check.demand is not None and check.limit is not None
    return PlaceEnergy(check.subject, value_of(check.demand), value_of(check.limit), check.level is not Level.WARN, check.message)


def _circuit(found: SizedCircuit) -> CircuitChoice:
    device = None if found.device is None else value_of(found.device.rating)
    parallel = f"{found.conductor.parallel} x " if found.conductor.parallel > 1 else ""
    return CircuitChoice(found.tag, f"{found.circuit.up} to {found.circuit.down}", device, parallel + found.conductor.text, found.circuit.length_ft)


def _bus(found: BusFigures, sized: Sized) -> BusLoad:
    used = found.used
    method = sized.book.cite(used.key).text if used is not None else ""
    return BusLoad(found.tag, method, _number(used.demand) if used else None, _number(used.limit) if used else None, _number(found.left_a))


def _number(found: Number | None) -> float | None:
    return None if found is None else value_of(found)
