"""One circuit without a project: what is asked of it, and what is found."""

from __future__ import annotations

from dataclasses import dataclass, replace

import networkx as nx

from linecalc.calc.overcurrent import next_standard_at_or_above
from linecalc.calc.pv import source_current
from linecalc.check import Check, Step
from linecalc.codebook import Book, open_book
from linecalc.errors import InputError, Problem
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.records import Assumption, Circuit, CircuitCurrents, Kind, Mode, ModeCurrent, Node, System
from linecalc.project.fields import ConductorText
from linecalc.project.model import Circuit as CircuitItem
from linecalc.project.model import Panel, Project, ProjectInfo, Section, Service
from linecalc.rules import RULES
from linecalc.sizing.circuits import Surveyed, size_circuit
from linecalc.sizing.devices import LEAST_DEVICE_A, needed_device
from linecalc.sizing.raceways import size_raceways
from linecalc.sizing.grounding_records import GroundingSystem
from linecalc.sizing.records import Device, Sized, SizedCircuit, SizedRaceway
from linecalc.sizing.surroundings import CARRYING_PER_SET, place_of
from linecalc.steps import steps_behind
from linecalc.term import given, label, value_of
from linecalc.units import Quantity

TAG, SECTION, NEAR, FAR = "C", "R", "supply", "far-end"
DEFAULT_RACEWAY = "EMT"
DEFAULT_VOLTAGE = 240.0
UNKNOWN_LENGTH_FT = 100.0
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
    assumptions: tuple[Assumption, ...]
    book: Book


def single_circuit(request: ConductorRequest, edition: str) -> SingleResult:
    """Select or check the conductor of one circuit.

    The circuit is put into a network of two nodes and goes the same way as
    those of a project, so that both give the same numbers.

    Raises
    ------
    InputError, TableError
        The request cannot be computed.
    """
    book = open_book(edition)
    _refuse_nonsense(request)
    network = _network(request)
    circuit = network.circuits[0]
    currents = Currents(network, book, {TAG: _currents(request, circuit)}, {}, ())
    assumptions = _assumptions(request)
    places = {SECTION: place_of(network, book, SECTION, assumptions)}
    devices = {TAG: _device(request, circuit, currents)}
    sized = size_circuit(circuit, Surveyed(currents, places, devices, {TAG: request.parallel}), assumptions)
    if request.length_ft is None:
        sized = replace(sized, drops=())
    raceways = size_raceways(network, book, (sized,)) if request.raceway and request.conductors is None else ()
    assumptions = [found for found in map(_as_option, assumptions) if request.length_ft is not None or found.path != "--pf"]
    whole = Sized(network, currents, book, (sized,), raceways, (), (), None, GroundingSystem((), (), ()), tuple(assumptions))
    checks = tuple(_worded(check) for rule in RULES for check in rule(whole) if _concerns(check, request))
    shown = sized if request.length_ft is not None else _without_length(sized)
    return SingleResult(shown, raceways[0] if raceways else None, checks, steps_behind(book, checks), whole.assumptions, book)


def _without_length(sized: SizedCircuit) -> SizedCircuit:
    """The circuit as reported where no length was given: the length it was sized with is nobody's."""
    sections = tuple(replace(section, length_ft=float("nan")) for section in sized.sections)
    return replace(sized, circuit=replace(sized.circuit, length_ft=None), sections=sections)


def _as_option(found: Assumption) -> Assumption:
    """The assumption under the name of the option that would give the value."""
    return replace(found, path="--pf") if found.path == f"circuit.{TAG}.power_factor" else found


def _concerns(check: Check, request: ConductorRequest) -> bool:
    """Whether a check is about this circuit; without a length nothing is said of its drop."""
    if request.length_ft is None and check.rule.startswith("voltage_drop"):
        return False
    return check.subject in (TAG, SECTION)


def _worded(check: Check) -> Check:
    """The check with what it needs said for one circuit, which has no strings behind it."""
    if check.rule != "insulation_rating.voltage" or not check.needs:
        return check
    return replace(check, needs=("the strings on this circuit, in a project file",))


def _refuse_nonsense(request: ConductorRequest) -> None:
    problems = []
    parts = [request.current_a, request.continuous_a, request.noncontinuous_a]
    if all(part is None for part in parts):
        problems.append(Problem("no current given; use --current, or --continuous and --noncontinuous", key="--current"))
    if request.current_a is not None and (request.continuous_a is not None or request.noncontinuous_a is not None):
        problems.append(Problem("give --current, or --continuous and --noncontinuous, not both", key="--current"))
    least = CARRYING_PER_SET * request.parallel
    if request.conductors is not None and request.conductors < least:
        problems.append(Problem(f"{request.conductors} current-carrying conductors; this circuit alone has {least}", key="--conductors"))
    if request.max_drop_percent is not None and request.length_ft is None:
        problems.append(Problem("a drop target needs --length", key="--max-drop"))
    if request.max_drop_percent is not None and request.system is not System.AC and request.voltage is None:
        problems.append(Problem("a drop target on a DC circuit needs --voltage", key="--max-drop"))
    if problems:
        raise InputError(problems)


def _assumptions(request: ConductorRequest) -> list[Assumption]:
    found = []
    if request.ambient_c is None:
        found.append(Assumption("--ambient", "30 degC", "ambient not given; the base of the ampacity table"))
    if request.raceway is None:
        found.append(Assumption("--raceway", DEFAULT_RACEWAY, "raceway not given; it touches only the voltage drop"))
    if request.conductors is None:
        found.append(Assumption("--conductors", str(CARRYING_PER_SET * request.parallel), "only this circuit in the raceway"))
    return found


def _network(request: ConductorRequest) -> Network:
    spare = 0 if request.conductors is None else request.conductors - CARRYING_PER_SET * request.parallel
    section = Section(
        method=request.raceway or DEFAULT_RACEWAY,
        place="roof" if request.rooftop_height_in is not None else "interior",
        moisture="wet" if request.wet or request.rooftop_height_in is not None else "dry",
        sun=request.rooftop_height_in is not None,
        height_above_roof=None if request.rooftop_height_in is None else _quantity(request.rooftop_height_in, "in"),
        ambient=_quantity(30.0, "degC", "assumed") if request.ambient_c is None else _quantity(request.ambient_c, "degC"),
        length=_quantity(UNKNOWN_LENGTH_FT if request.length_ft is None else request.length_ft, "ft"),
        spare_conductors=spare,
    )
    dc = request.system is not System.AC
    item = CircuitItem(
        from_=FAR if dc else NEAR,
        to=NEAR if dc else FAR,
        path=(SECTION,),
        conductor=None if request.size is None else ConductorText(request.size, request.material, request.insulation, request.size),
        material=request.material,
        insulation=request.insulation,
        terminals_from=None if request.terminal_c is None else _quantity(request.terminal_c, "degC"),
        terminals_to=None if request.terminal_c is None else _quantity(request.terminal_c, "degC"),
        drop_target=None if request.max_drop_percent is None else _quantity(request.max_drop_percent, "percent"),
        power_factor=request.power_factor,
        parallel=request.parallel,
    )
    project = Project(
        project=ProjectInfo(title="one circuit", code="NEC 2023"),
        service=Service(voltage=_quantity(request.voltage or DEFAULT_VOLTAGE, "V"), rating=_quantity(200.0, "A")),
        section={SECTION: section},
        circuit={TAG: item},
    )
    panel = Panel(bus=_quantity(10_000.0, "A"), main="lugs")
    nodes = {NEAR: Node(NEAR, Kind.PANEL, panel), FAR: Node(FAR, Kind.PANEL, panel)}
    circuit = Circuit(TAG, request.system, NEAR, FAR, item, (SECTION,), section.length.value)
    parent, children = ({}, {}) if dc else ({FAR: circuit}, {NEAR: (circuit,)})
    return Network(project, nodes, (circuit,), nx.Graph([(NEAR, FAR)]), parent, children, (FAR, NEAR))


def _quantity(value: float, unit: str, basis: str = "given") -> Quantity:
    return Quantity(float(value), unit, f"{value:g} {unit}", basis)


def _currents(request: ConductorRequest, circuit: Circuit) -> CircuitCurrents:
    if request.system is System.AC:
        return CircuitCurrents(((Mode.SUPPLY, _parts(request)),))
    base = None if request.voltage is None else given(request.voltage, "V", "V_base", "--voltage", "circuit voltage")
    if request.system is System.STORAGE:
        parts = _parts(request)
        return CircuitCurrents(((Mode.DC, parts),), parts.continuous + parts.noncontinuous, base)
    isc = given(request.current_a or request.continuous_a or 0.0, "A", "Isc", "--current", "short-circuit current of all strings")
    current = label(source_current(isc, 1.0), f"{TAG}.I_max")
    return CircuitCurrents(((Mode.DC, ModeCurrent(current, 0.0, 0.0)),), isc, base)


def _parts(request: ConductorRequest) -> ModeCurrent:
    """Continuous and noncontinuous current; a plain ``--current`` is taken as continuous."""
    if request.current_a is not None:
        return ModeCurrent(given(request.current_a, "A", "I", "--current", "current, taken as continuous"), 0.0, 0.0)
    continuous = given(request.continuous_a or 0.0, "A", "I_c", "--continuous", "continuous current")
    rest = given(request.noncontinuous_a or 0.0, "A", "I_n", "--noncontinuous", "noncontinuous current")
    return ModeCurrent(continuous, rest, 0.0)


def _device(request: ConductorRequest, circuit: Circuit, currents: Currents) -> Device | None:
    """The device given, or the next standard size at or above the design current, 15 A at least."""
    if request.breaker == NO_DEVICE:
        return None
    if request.breaker is not None:
        rating = given(float(request.breaker), "A", "I_ocpd", "--breaker", "overcurrent device")
        return Device(rating, "breaker", NEAR, TAG, False, False, False, "--breaker")
    need = value_of(needed_device(currents, circuit))
    chosen = next_standard_at_or_above(currents.book.standard_ratings(), max(LEAST_DEVICE_A, need))
    if chosen is None:
        raise InputError([Problem(f"no standard device reaches {need:g} A", key="--current")])
    rating = given(chosen, "A", "I_ocpd", f"table:240.6-A/{chosen:g}/rating_a", "overcurrent device, selected")
    return Device(rating, "breaker", NEAR, TAG, True, False, False, "--breaker")
