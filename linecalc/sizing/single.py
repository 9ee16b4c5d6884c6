"""One circuit without a project: what is asked of it, and what is found."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.check import Check, Step
from linecalc.codebook import Book
from linecalc.network.records import System
from linecalc.sizing.records import SizedCircuit, SizedRaceway

NO_DEVICE = "none"


@dataclass(frozen=True, slots=True)
class ConductorRequest:
    """One circuit as the command line describes it; None is left out.

    Currents are in amperes (for PV the short-circuit current of all strings in
    parallel), ``voltage`` in volts, ``length_ft`` one way, ``ambient_c`` in degC,
    ``conductors`` the current-carrying ones in the raceway, ``terminal_c`` 60 or
    75, ``rooftop_height_in`` above the roof in direct sun, ``breaker`` in
    amperes or ``none``. ``size`` asks for a check instead of a choice.
    """

    system: System = System.AC
    current_a: float | None = None
    continuous_a: float | None = None
    noncontinuous_a: float | None = None
    voltage: float | None = None
    length_ft: float | None = None
    power_factor: float | None = None
    material: str = "Cu"
    insulation: str = "THWN-2"
    wet: bool = False
    ambient_c: float | None = None
    conductors: int | None = None
    terminal_c: int | None = None
    rooftop_height_in: float | None = None
    raceway: str | None = None
    parallel: int = 1
    size: str | None = None
    breaker: float | str | None = None
    max_drop_percent: float | None = None


@dataclass(frozen=True, slots=True)
class SingleResult:
    """The circuit with its checks and steps."""

    circuit: SizedCircuit
    raceway: SizedRaceway | None
    checks: tuple[Check, ...]
    steps: tuple[Step, ...]
    book: Book


def single_circuit(request: ConductorRequest, edition: str) -> SingleResult:
    """Select or check the conductor of one circuit.

    Raises
    ------
    InputError, TableError
        The request cannot be computed.
    """
    raise NotImplementedError
