"""Notes for the permit: what a set says in words, each with its section, computed from the study where it can be."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from linecalc.network.records import Kind, System
from linecalc.project.model import SERVICE
from linecalc.report.amounts import amount
from linecalc.report.content import Fact
from linecalc.sizing.holders import units_with_storage
from linecalc.study import Study
from linecalc.units import Quantity

METAL = ("EMT", "IMC", "RMC", "FMC", "LFMC", "MC")
INDOOR_PLACES = ("attic", "garage", "interior", "inside", "room", "hall", "basement", "closet")


@dataclass(frozen=True, slots=True)
class PermitNote:
    """One note. ``citation`` is empty where no section asks for it."""

    key: str
    text: str
    citation: str = ""


def permit_notes(study: Study) -> tuple[PermitNote, ...]:
    """All notes that apply to a design, in the order in which a set prints them."""
    return tuple(note for writer in _WRITERS for note in writer(study))


def _cited(study: Study, key: str, rule: str, text: str) -> PermitNote:
    return PermitNote(key, text, study.book.cite(rule).text)


def _always(study: Study) -> Iterator[PermitNote]:
    yield _cited(study, "instructions", "listed_instructions", "Equipment is installed and used by the instructions of its listing; where they ask for more than this set, they govern.")
    yield _cited(study, "torque", "terminal_torque", "Terminals are tightened to the torque marked or instructed, with a torque tool or a device that shows the torque, and marked.")
    yield _cited(study, "label_stock", "label_stock", "Labels are permanent, suited to sun and weather where they hang, and not hand-written; header words and colors by ANSI Z535.4 unless a section asks otherwise.")
    yield _cited(study, "directory", "panel_directory", "The circuit directory of every panel is completed and legible, spare positions too.")


def _operation(study: Study) -> Iterator[PermitNote]:
    """Which mode the system is made for, and what happens when the utility fails and returns."""
    if not study.network.of_kind(Kind.UNIT, Kind.INVERTER):
        return
    yield PermitNote("operating_type", f"Operating type: {operating_type(study)}.")
    isolation = next(iter(study.network.of_kind(Kind.ISOLATION)), None)
    normal = "Normal: the units run beside the utility; PV feeds the house, charges storage and exports what is left."
    if isolation is None:
        text = f"{normal} Utility lost: the units stop. Utility back: they reconnect after the delay of their listing."
    else:
        text = (
            f"{normal} Utility lost: {isolation.tag} opens and separates what is behind it, then the units feed that part alone. "
            f"Utility back: the units match it, {isolation.tag} closes."
        )
    yield _cited(study, "sequence", "interactive_listing", text)
    interlocks = study.project.facts.interlocks
    if interlocks:
        yield PermitNote("interlocks", f"Interlocks: {interlocks}.")


def operating_type(study: Study) -> str:
    """Grid-tied, hybrid or stand-alone, and how storage is coupled."""
    if study.project.service is None:
        return "stand-alone"
    backup = bool(study.network.of_kind(Kind.ISOLATION))
    coupling = "DC-coupled storage" if study.network.of_kind(Kind.UNIT) else "no storage"
    ac = ", AC-coupled PV inverters" if study.network.of_kind(Kind.UNIT) and study.network.of_kind(Kind.INVERTER) else ""
    return f"{'hybrid, grid-tied with backup' if backup else 'grid-tied, no backup'}; {coupling}{ac}"


def _wiring(study: Study) -> Iterator[PermitNote]:
    """How PV conductors run inside the building, and what the communication cables are."""
    inside = [
        (tag, section)
        for tag, section in study.project.section.items()
        if _carries_pv(study, tag) and any(word in section.place.lower() for word in INDOOR_PLACES)
    ]
    if inside:
        metal = all(section.method in METAL for _, section in inside)
        told = ", ".join(f"{tag} {section.method}, {section.place}" for tag, section in inside)
        how = "run in metal raceway" if metal else "do not all run in metal raceway"
        yield _cited(study, "dc_inside", "pv_wiring_methods", f"PV DC conductors inside the building {how}: {told}.")
    if study.project.facts.communication:
        yield PermitNote("communication", f"Control and communication: {study.project.facts.communication}.")


def _carries_pv(study: Study, section: str) -> bool:
    return any(circuit.system is System.PV and section in circuit.sections for circuit in study.network.circuits)


def _service(study: Study) -> Iterator[PermitNote]:
    """Whether the service or a main is changed."""
    service = study.project.service
    if service is None:
        return
    rating = service.rating.value
    reduced = [
        f"{node.tag} {amount(node.item.main.value, 'A')}"
        for node in study.network.of_kind(Kind.PANEL)
        if isinstance(node.item.main, Quantity) and node.item.main.value < min(rating, node.item.bus.value) and _is_first_panel(study, node.tag)
    ]
    kept = "New service equipment" if _new_equipment(study) else "No service upgrade"
    main = f"main breaker below the service rating: {', '.join(reduced)}" if reduced else "no main breaker is reduced"
    yield PermitNote("service_change", f"{kept}; service rating {amount(rating, 'A')}; {main}.")


def _is_first_panel(study: Study, tag: str) -> bool:
    """Whether no other panel lies between a panel and the service."""
    ahead = [study.network.nodes[circuit.up].kind for circuit in study.network.path_up(tag)]
    return bool(ahead) and Kind.PANEL not in ahead


def _new_equipment(study: Study) -> bool:
    return any(not study.network.nodes[circuit.down].item.existing for circuit in study.network.children.get(SERVICE, ()))


def _storage(study: Study) -> Iterator[PermitNote]:
    """How many units stand where, and how far apart."""
    units = units_with_storage(study.sized)
    if not units:
        return
    modules = study.network.of_kind(Kind.STORAGE)
    energy = sum(node.data.energy.value for node in (*units, *modules))
    apart = study.project.facts.separation or "spacing not stated"
    yield PermitNote("separation", f"Storage: {len(units)} with inverter, {len(modules)} without, {amount(energy, 'kWh')} nominal together; {apart}.")


def _stated(study: Study) -> Iterator[PermitNote]:
    """Notes that only the project can give."""
    facts = study.project.facts
    if facts.contractor_license:
        yield PermitNote("contractor_license", f"Work by a contractor of license class {facts.contractor_license}" + (f", {facts.contractor}." if facts.contractor else "."))
    for key, lead in (("fire_inspection", "Fire department: "), ("zoning", "Zoning: "), ("alarm", "Alarms: ")):
        text = getattr(facts, key)
        if text:
            yield PermitNote(key, f"{lead}{text}.")


def _attached(study: Study) -> Iterator[PermitNote]:
    """The papers that go with the sheets."""
    attachments = study.project.attachments
    found = [(name, getattr(attachments, name)) for name in type(attachments).model_fields]
    stated = [f"{name.replace('_', ' ')}: {text}" for name, text in found if text]
    if stated:
        yield PermitNote("attachments", f"Attached: {'; '.join(stated)}.")


_WRITERS: tuple[Callable[[Study], Iterator[PermitNote]], ...] = (_always, _operation, _wiring, _service, _storage, _stated, _attached)


def stated_facts(study: Study) -> tuple[Fact, ...]:
    """What offices ask a sheet to say, as the project states it."""
    facts, service = study.project.facts, study.project.service
    found = [
        ("Governing codes", "; ".join((f"NEC {study.book.edition}", *facts.codes)) if facts.codes else None),
        ("Contractor", facts.contractor),
        ("Contractor license", facts.contractor_license),
        ("Seal", facts.seal),
        ("Meter", service.meter if service is not None else None),
        ("Meter number", service.meter_number if service is not None else None),
        ("Metering", facts.metering),
        ("Monitoring", facts.monitoring),
        ("State equipment list", facts.state_list),
        ("Use in a year", f"{facts.yearly_use:g} kWh" if facts.yearly_use else None),
    ]
    return tuple(Fact(label, text) for label, text in found if text)
