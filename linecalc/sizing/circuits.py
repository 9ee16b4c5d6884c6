"""One circuit at a time: conductor, neutral, grounding conductor, drop."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.compare import at_most
from linecalc.codebook.sizes import SIZES, size_index
from linecalc.errors import TableError
from linecalc.network.currents import Currents
from linecalc.network.loads import ASSUMED_POWER_FACTOR, BOTH_LEGS, legs_of
from linecalc.network.records import Assumption, Circuit, Kind, Node, System
from linecalc.project.fields import ConductorText
from linecalc.sizing.cables import cable_insulation
from linecalc.sizing.cooking import is_cooking
from linecalc.sizing.conductor import Task, Trial, dwelling_need_of, needs_of, smallest_at_terminals, smallest_passing, try_size
from linecalc.sizing.demands import demands_of
from linecalc.sizing.devices import needed_device
from linecalc.sizing.drop import assumes_power_factor, circuit_drops
from linecalc.sizing.grounding import egc_of, neutral_of
from linecalc.sizing.motor import circuit_ampacity, conductor_rule, motor_behind
from linecalc.sizing.ahead import is_branch, is_service, is_supply_side_source
from linecalc.sizing.records import Conductor, Device, Egc, Governed, SizedCircuit
from linecalc.sizing.surroundings import Place, carries_whole_dwelling, count_in, wettest
from linecalc.sizing.terminals import Terminals, terminals_of
from linecalc.term import Number, label, value_of

DEFAULT_MATERIAL = "Cu"
DEFAULT_INSULATION = "THWN-2"
FREE_AIR_INSULATION = "PV wire"
DWELLING_RANGE_A = (100.0, 400.0)
SUPPLY_SIDE_LEAST = {"Cu": "6 AWG", "Al": "4 AWG"}


@dataclass(frozen=True, slots=True)
class Surveyed:
    """What all circuits share while they are sized: places, devices, parallel sets."""

    currents: Currents
    places: dict[str, Place]
    devices: dict[str, Device | None]
    parallel: dict[str, int]


def conductor_key(circuit: Circuit, currents: Currents) -> str:
    """The citation key of the article that sizes a circuit's conductors."""
    if circuit.system is System.PV:
        return "pv_conductor"
    if circuit.system is System.STORAGE:
        return "ess_conductor"
    network = currents.network
    motor = motor_behind(network, circuit)
    if motor is not None:
        return conductor_rule(motor)
    kind = network.nodes[circuit.down].kind
    if kind in (Kind.UNIT, Kind.INVERTER):
        return "inverter_output_conductor"
    if is_branch(network, circuit):
        return "branch_continuous_conductor"
    return "service_continuous_conductor" if is_service(circuit, currents) else "feeder_continuous_conductor"


def size_circuit(circuit: Circuit, surveyed: Surveyed, assumptions: list[Assumption]) -> SizedCircuit:
    """Size one circuit: what is given stays, what is left out is the smallest that passes."""
    currents = surveyed.currents
    device = surveyed.devices[circuit.tag]
    device_need = needed_device(currents, circuit)
    wanted = _wanted(circuit, surveyed, assumptions)
    rating = value_of(device.rating) if device else value_of(device_need)
    terminals = terminals_of(currents.network, circuit, rating, assumptions)
    task, needs = _task(circuit, surveyed, wanted, terminals, device)
    trial, governed, smallest = _choose(task, wanted, surveyed, needs)
    conductor = Conductor(trial.size, wanted.material, wanted.insulation, wanted.parallel, wanted.size is None)
    neutral, neutral_need = neutral_of(circuit, currents, conductor, smallest, device)
    egc = egc_of(circuit, currents, conductor, smallest, _grounded_by(circuit, surveyed))
    drops = circuit_drops(circuit, currents, surveyed.places, conductor, neutral)
    if assumes_power_factor(circuit, currents):
        reason = "power factor of the loads not given; it only touches the voltage drop"
        assumptions.append(Assumption(f"circuit.{circuit.tag}.power_factor", f"{ASSUMED_POWER_FACTOR}", reason))
    return SizedCircuit(
        circuit=circuit,
        currents=currents.of(circuit),
        device=device,
        device_need=device_need,
        conductor=conductor,
        ungrounded=_ungrounded(circuit, currents),
        neutral=neutral,
        neutral_need=neutral_need,
        egc=egc,
        terminals_c=(terminals.from_c, terminals.to_c),
        terminals_assumed=terminals.assumed,
        terminal_column_c=task.column_c,
        insulation_c=task.insulation_c if task.insulation_known else None,
        t1_need=task.t1_need,
        t1_ampacity=trial.t1_ampacity,
        t2_need=task.t2_need,
        t2_ampacity=trial.t2_ampacity,
        run=trial.run,
        protect_a=trial.protect_a,
        protection=trial.protection,
        dwelling_need=task.dwelling_need,
        small_limit=trial.small_limit,
        demands=task.demands,
        least_size=task.least_size,
        sections=trial.sections,
        failing=trial.failing,
        governed_by=governed,
        smallest=smallest,
        selected=_selected(circuit, device, conductor, neutral, egc),
        drops=drops,
        rise_to_meter=None,
        needs=needs,
    )


def _ungrounded(circuit: Circuit, currents: Currents) -> int:
    """Ungrounded conductors of a set: one for a 120 V load, else two."""
    node = currents.network.nodes[circuit.down]
    return 1 if node.kind is Kind.LOAD and legs_of(node.item) != BOTH_LEGS else 2


def _grounded_by(circuit: Circuit, surveyed: Surveyed) -> Device | None:
    """The device that the grounding conductor goes by: a circuit's own; of a tap that of its feeder.

    References
    ----------
    ``egc``: 250.122(A); 250.122(G) for taps.
    """
    above = surveyed.currents.network.parent.get(circuit.up)
    if circuit.item.tap and above is not None and surveyed.devices[above.tag] is not None:
        return surveyed.devices[above.tag]
    return surveyed.devices[circuit.tag]


def _selected(
    circuit: Circuit, device: Device | None, conductor: Conductor, neutral: Conductor | None, egc: Egc | None
) -> tuple[str, ...]:
    """The keys of the circuit that were left out and are chosen."""
    chosen = {
        "breaker": device is not None and device.selected and not device.inherited,
        "conductor": conductor.selected,
        "neutral": neutral is not None and neutral.selected,
        "egc": egc is not None and not egc.given,
    }
    return tuple(key for key, is_chosen in chosen.items() if is_chosen)


def _choose(
    task: Task, wanted: _Wanted, surveyed: Surveyed, needs: tuple[str, ...]
) -> tuple[Trial, Governed, str | None]:
    """The trial of the given or chosen size, what governed, and the smallest size that passes T1 to T3."""
    if needs:
        trial = smallest_at_terminals(task) if wanted.size is None else try_size(task, wanted.size)
        return trial, Governed.NOT_DETERMINED if wanted.size is None else Governed.GIVEN, None
    trial, governed = smallest_passing(task)
    smallest = None if governed is Governed.NOTHING_PASSES else trial.size
    if wanted.size is not None:
        return try_size(task, wanted.size), Governed.GIVEN, smallest
    target = task.circuit.item.drop_target or getattr(surveyed.currents.network.project.service, "drop_target", None)
    if target is None or smallest is None:
        return trial, governed, smallest
    for size in SIZES[size_index(smallest) :]:
        if _keeps(target.value, task, size, smallest, surveyed):
            return (trial, governed, smallest) if size == smallest else (try_size(task, size), Governed.DROP, smallest)
    return trial, governed, smallest


def _keeps(target: float, task: Task, size: str, smallest: str, surveyed: Surveyed) -> bool:
    """Whether a size keeps the drop target in every mode; a size whose drop is not known does not."""
    conductor = Conductor(size, task.material, task.insulation, task.parallel, True)
    neutral, _ = neutral_of(task.circuit, surveyed.currents, conductor, smallest, surveyed.devices[task.circuit.tag])
    drops = circuit_drops(task.circuit, surveyed.currents, surveyed.places, conductor, neutral)
    carries = any(value_of(current.continuous) + value_of(current.noncontinuous) > 0.0 for _, current in surveyed.currents.of(task.circuit).modes)
    return (bool(drops) or not carries) and all(at_most(drop.percent, target) for drop in drops)


@dataclass(frozen=True, slots=True)
class _Wanted:
    size: str | None
    material: str
    insulation: str
    parallel: int


def _wanted(circuit: Circuit, surveyed: Surveyed, assumptions: list[Assumption]) -> _Wanted:
    """The conductor as written; material and insulation left out are chosen and listed."""
    item = circuit.item
    written = item.conductor or _service_conductor(circuit, surveyed.currents)
    size = written.size if written else None
    material = (written.material if written else None) or item.material
    insulation = (written.insulation if written else None) or item.insulation
    path = f"circuit.{circuit.tag}.conductor"
    insulation, why = cable_insulation([surveyed.places[tag].item.method for tag in circuit.sections], insulation)
    if why:
        assumptions.append(Assumption(path, insulation, why))
    if material is None:
        material = DEFAULT_MATERIAL
        assumptions.append(Assumption(path, material, "conductor material not given; copper chosen"))
    if insulation is None:
        free_air = any(surveyed.places[tag].item.method == "free air" for tag in circuit.sections)
        insulation = FREE_AIR_INSULATION if free_air and circuit.system is System.PV else DEFAULT_INSULATION
        assumptions.append(Assumption(path, insulation, "insulation not given; chosen for the wiring method"))
    return _Wanted(size, material, insulation, surveyed.parallel[circuit.tag])


def _service_conductor(circuit: Circuit, currents: Currents) -> ConductorText | None:
    if circuit.up != "service" or circuit.system is not System.AC:
        return None
    return currents.network.project.service.conductor


def _task(
    circuit: Circuit, surveyed: Surveyed, wanted: _Wanted, terminals: Terminals, device: Device | None
) -> tuple[Task, tuple[str, ...]]:
    """The task of the circuit, and the inputs without which its safety rules cannot be checked."""
    currents = surveyed.currents
    network, book = currents.network, currents.book
    places = tuple(surveyed.places[tag] for tag in circuit.sections)
    needs = [need for place in places for need in place.needs]
    if not places:
        needs.append(f"circuit.{circuit.tag}.path")
    if circuit.item.existing and wanted.size is None:
        needs.append(f"circuit.{circuit.tag}.conductor (existing: read its size on site)")
    needs.extend(currents.of(circuit).needs)
    insulation_c = _insulation_c(circuit, surveyed, wanted, needs)
    motor = motor_behind(network, circuit)
    t1, t2 = _needs(circuit, currents, motor)
    beside = [place.item.spare_conductors + place.item.bundled_conductors for place in places]
    demands = demands_of(circuit, surveyed.currents, surveyed.devices)
    joined = any(demand.key in ("segment", "tap") for demand in demands)
    counts = tuple(count_in(network, place.tag, other, surveyed.parallel) for place, other in zip(places, beside, strict=True))
    task = Task(
        book,
        circuit,
        places,
        counts,
        wanted.material,
        wanted.insulation,
        insulation_c or 60,
        insulation_c is not None,
        terminals.column_c if insulation_c is None else min(terminals.column_c, insulation_c),
        wanted.parallel,
        t1,
        t2,
        None if device is None else device.rating,
        not (circuit.item.receptacles or circuit.item.tap or is_cooking(network, circuit)),
        motor is not None,
        None if joined else _dwelling_need(circuit, currents, device),
        demands,
        _least_size(circuit, currents, wanted.material),
    )
    return task, tuple(dict.fromkeys(needs))


def _insulation_c(circuit: Circuit, surveyed: Surveyed, wanted: _Wanted, needs: list[str]) -> int | None:
    book = surveyed.currents.book
    moisture = wettest(surveyed.places[tag] for tag in circuit.sections)
    try:
        found = book.insulation(wanted.insulation).in_place(moisture)
    except TableError as error:
        needs.append(f"circuit.{circuit.tag}.conductor ({error})")
        return None
    return None if found is None else int(found)


def _needs(circuit: Circuit, currents: Currents, motor: Node | None) -> tuple[Number, Number]:
    if motor is not None:
        need = label(circuit_ampacity(motor), f"{circuit.tag}.MCA")
        return need, need
    cite = conductor_key(circuit, currents)
    modes = [(mode.value, current.continuous, current.noncontinuous) for mode, current in currents.of(circuit).modes]
    return needs_of(cite, circuit.tag, modes)


def _dwelling_need(circuit: Circuit, currents: Currents, device: Device | None) -> Number | None:
    low, high = DWELLING_RANGE_A
    if circuit.system is not System.AC or device is None or not low <= value_of(device.rating) <= high:
        return None
    if currents.network.nodes[circuit.down].kind in (Kind.UNIT, Kind.INVERTER, Kind.LOAD):
        return None
    if not carries_whole_dwelling(currents.network, circuit):
        return None
    return dwelling_need_of(device.rating, circuit.tag)


def _least_size(circuit: Circuit, currents: Currents, material: str) -> str | None:
    """The supply-side minimum of the edition for conductors of a supply-side source connection."""
    if not currents.book.wording.supply_side_minimum_size or not is_supply_side_source(circuit, currents):
        return None
    return SUPPLY_SIDE_LEAST[material]
