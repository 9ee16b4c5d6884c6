"""Questions of the checklist about circuits, their sections and devices."""

from __future__ import annotations

from linecalc.network.records import Kind, System
from linecalc.report.amounts import amount
from linecalc.report.checklist_fact import Fact, all_of, any_of
from linecalc.sizing.records import SizedCircuit
from linecalc.study import Study
from linecalc.term import value_of

SIMPLE_BREAKER_A = 60.0


def _circuits(study: Study, system: System | None = None) -> list[SizedCircuit]:
    return [circuit for circuit in study.sized.circuits if system in (None, circuit.circuit.system)]


def _determined(circuits: list[SizedCircuit]) -> Fact:
    return all_of((circuit.tag for circuit in circuits if not circuit.determined), "not determined", f"{len(circuits)} circuits in the schedule")


def pv_conductors(study: Study) -> Fact:
    """Size, kind and number of the conductors of every PV run."""
    return _determined(_circuits(study, System.PV))


def conductors(study: Study) -> Fact:
    """Every conductor in the schedule."""
    return _determined(_circuits(study))


def pv_raceways(study: Study) -> Fact:
    """Kind and size of every raceway with PV conductors."""
    tags = {tag for circuit in _circuits(study, System.PV) for tag in circuit.circuit.sections}
    return _sized_raceways(study, tags)


def raceways(study: Study) -> Fact:
    """Kind and size of every raceway."""
    return _sized_raceways(study, {tag for circuit in _circuits(study) for tag in circuit.circuit.sections})


def _sized_raceways(study: Study, tags: set[str]) -> Fact:
    inside = [raceway for raceway in study.sized.raceways if raceway.section in tags]
    if not inside:
        return Fact(False, "no raceway is described")
    return all_of((raceway.section for raceway in inside if raceway.size is None), "no size", f"{len(inside)} raceways, sizes given or chosen")


def held(study: Study) -> Fact:
    """The conductors in every raceway."""
    return all_of(
        (raceway.section for raceway in study.sized.raceways if not raceway.held),
        "contents not known",
        "conductors held and current-carrying conductors, in each raceway's block",
    )


def ends(study: Study) -> Fact:
    """Both ends of every run."""
    return any_of((f"{circuit.tag} {circuit.circuit.item.from_} to {circuit.circuit.item.to}" for circuit in _circuits(study)), "no circuits")


def lengths(study: Study) -> Fact:
    """The length of every run."""
    return all_of((circuit.tag for circuit in _circuits(study) if circuit.circuit.length_ft is None), "length not stated", "in the conductor schedule")


def neutrals(study: Study) -> Fact:
    """The neutral of every AC circuit, or that it has none."""
    with_neutral = [circuit.tag for circuit in _circuits(study, System.AC) if circuit.neutral is not None]
    return Fact(bool(_circuits(study, System.AC)), f"neutral in {', '.join(with_neutral) or 'no circuit'}; the others have none")


def devices(study: Study) -> Fact:
    """The overcurrent device of every circuit."""
    return any_of((f"{circuit.tag} {amount(circuit.device.rating, 'A')}" for circuit in _circuits(study) if circuit.device is not None), "no device")


def grounding_conductors(study: Study) -> Fact:
    """The grounding conductor of every run; service conductors are bonded through the neutral."""
    lacking = [circuit.tag for circuit in _circuits(study) if circuit.egc is None and circuit.circuit.up != "service" and not _is_supply(study, circuit)]
    return all_of(lacking, "no grounding conductor", "in the conductor schedule")


def _is_supply(study: Study, circuit: SizedCircuit) -> bool:
    return circuit.tag in {point.circuit for point in study.sized.grounding.points}


def terminals(study: Study) -> Fact:
    """Terminal temperature ratings of every circuit."""
    assumed = [circuit.tag for circuit in _circuits(study) if circuit.terminals_assumed]
    return Fact(True, f"in each circuit's block; assumed at {', '.join(assumed)}" if assumed else "in each circuit's block")


def terminal_limits(study: Study) -> Fact:
    """Ampacity held to the terminal temperature."""
    return any_of((f"{circuit.tag} {circuit.terminal_column_c} degC" for circuit in _circuits(study)), "no circuits")


def feeders(study: Study) -> Fact:
    """Feeders and taps by tag."""
    found = [circuit.tag for circuit in _circuits(study, System.AC) if study.network.nodes[circuit.circuit.down].kind in (Kind.PANEL, Kind.ISOLATION, Kind.DISCONNECT)]
    return any_of(found, "no feeder")


def ambient_factors(study: Study) -> Fact:
    """The temperature factor of every section."""
    return _sections(study, "ambient_factor")


def count_factors(study: Study) -> Fact:
    """The factor for the number of conductors in every section."""
    return _sections(study, "count_factor")


def _sections(study: Study, key: str) -> Fact:
    found = [section for circuit in _circuits(study) for section in circuit.sections if getattr(section, key) is not None]
    return Fact(bool(found), f"in {len(found)} sections of the circuits" if found else "no section has a factor")


def rooftop(study: Study) -> Fact:
    """The rooftop adder, or that the height above the roof spares it."""
    lacking = [tag for tag, section in study.project.section.items() if section.sun and section.method != "free air" and section.height_above_roof is None]
    adders = [section.section for circuit in _circuits(study) for section in circuit.sections if section.adder_c is not None]
    told = f"added in {', '.join(dict.fromkeys(adders))}" if adders else "no section lies low enough above the roof"
    return all_of(lacking, "height above the roof not stated", told)


def source_breakers(study: Study) -> Fact:
    """Rating and place of every backfed breaker."""
    buses = {bus.tag for bus in study.sized.buses if bus.sources}
    sources = {node.tag for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER)}
    found = []
    for circuit in _circuits(study, System.AC):
        feeds = sources & set(study.network.below(circuit.circuit.down))
        if feeds and circuit.device is not None and circuit.device.where in buses:
            found.append(f"{circuit.tag} {amount(circuit.device.rating, 'A')} in {circuit.device.where}, {circuit.circuit.item.bus_position or 'place not stated'}")
    return any_of(found, "no source breaker in a panel")


def source_breaker(study: Study) -> Fact:
    """Source breakers against the 60 A of a simple path."""
    sources = {node.tag for node in study.network.of_kind(Kind.UNIT, Kind.INVERTER)}
    rated = {circuit.tag: value_of(circuit.device.rating) for circuit in _circuits(study, System.AC) if circuit.circuit.down in sources and circuit.device is not None}
    within = all(rating <= SIMPLE_BREAKER_A for rating in rated.values())
    told = ", ".join(f"{tag} {rating:g} A" for tag, rating in rated.items())
    return Fact(bool(rated), f"{told}: {'within' if within else 'above'} 60 A" if rated else "no source breaker")
