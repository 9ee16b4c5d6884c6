"""Bill of material: what a contractor buys for a design, counted or measured."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.network.records import Kind
from linecalc.project.model import SERVICE
from linecalc.report.amounts import amount
from linecalc.study import Study

_BOUGHT = (
    Kind.STRING, Kind.UNIT, Kind.INVERTER, Kind.STORAGE, Kind.ISOLATION, Kind.PANEL, Kind.DISCONNECT, Kind.COMBINER, Kind.JUNCTION,
    Kind.GENERATOR, Kind.TRANSFER,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Part:
    """One line of the bill: ``unit`` is ``each`` or ``ft``."""

    kind: str
    name: str
    quantity: float
    unit: str


def parts(study: Study) -> tuple[Part, ...]:
    """Everything new: equipment, mounting, harness kits, overcurrent devices, conductors, raceways; no waste is added."""
    found = (
        *_equipment(study), *_electronics(study), *_mountings(study), *_harnesses(study), *_surge_protection(study), *_devices(study), *_fuses(study),
        *_conductors(study), *_raceways(study),
    )  # fmt: skip
    return _summed(found)


def _summed(found: tuple[Part, ...]) -> tuple[Part, ...]:
    """Equal parts on one line, in the order of their first use; conductors and raceways by name."""
    sums: dict[tuple[str, str, str], float] = {}
    for part in found:
        key = (part.kind, part.name, part.unit)
        sums[key] = sums.get(key, 0.0) + part.quantity
    counted = [Part(kind, name, quantity, unit) for (kind, name, unit), quantity in sums.items()]
    order = list(dict.fromkeys(part.kind for part in counted))
    return tuple(sorted(counted, key=lambda part: (order.index(part.kind), part.name if part.unit == "ft" else "")))


def _equipment(study: Study) -> Iterator[Part]:
    for node in study.network.of_kind(*_BOUGHT):
        if node.item.existing or node.tag == SERVICE:
            continue
        name = getattr(node.item, "equipment", None) or getattr(node.item, "module", None)
        data = study.project.equipment.get(name or "")
        what = (data.description if data is not None else None) or node.item.description or node.kind.value
        string = node.kind is Kind.STRING
        yield Part("pv module" if string else node.kind.value, what, float(node.item.count if string else 1), "each")


def _electronics(study: Study) -> Iterator[Part]:
    """Module-level devices: one for as many modules as the device takes."""
    for node in study.network.of_kind(Kind.STRING):
        name = getattr(node.data, "electronics_equipment", None)
        data = study.project.equipment.get(name or "")
        if data is not None and not node.item.existing:
            yield Part(data.kind, data.description or name, float(-(-node.item.count // data.modules)), "each")


def _mountings(study: Study) -> Iterator[Part]:
    """The mounting of units and storage modules, floor or wall."""
    for node in study.network.of_kind(Kind.UNIT, Kind.STORAGE):
        mounting = node.item.mounting
        if mounting is not None and not node.item.existing:
            yield Part("mounting", f"{mounting} mounting of {node.item.equipment}", 1.0, "each")


def _harnesses(study: Study) -> Iterator[Part]:
    for node in study.network.of_kind(Kind.STORAGE):
        part = getattr(node.data, "harness_part", None)
        if part and node.item.harness == "factory" and not node.item.existing:
            yield Part("harness", part, 1.0, "each")


def _surge_protection(study: Study) -> Iterator[Part]:
    required = study.project.required
    if required.surge_protection and not required.surge_protection_existing:
        yield Part("surge protective device", required.surge_protection, 1.0, "each")


def _fuses(study: Study) -> Iterator[Part]:
    """The fuses of each new fused disconnect, one for every ungrounded conductor; the disconnect comes without them."""
    fused = {circuit.device.owner: circuit for circuit in study.sized.circuits if circuit.device is not None and circuit.device.kind == "fuse"}
    for node in study.network.of_kind(Kind.DISCONNECT):
        circuit = fused.get(node.tag)
        if circuit is not None and not node.item.existing:
            yield Part("overcurrent device", f"{amount(circuit.device.rating, 'A')} fuse in {node.tag}", float(circuit.ungrounded), "each")


def _devices(study: Study) -> Iterator[Part]:
    """The device of each new circuit that has one of its own; breakers of disconnects come with them."""
    for circuit in study.sized.circuits:
        device = circuit.device
        if device is None or device.inherited or device.owner != circuit.tag or circuit.circuit.item.existing or not circuit.determined:
            continue
        yield Part("overcurrent device", f"{amount(device.rating, 'A')} {device.kind} in {device.where}", 1.0, "each")


def _conductors(study: Study) -> Iterator[Part]:
    for circuit in study.sized.circuits:
        length = circuit.circuit.length_ft
        if circuit.circuit.item.existing or length is None or not circuit.determined:
            continue
        sets = circuit.conductor.parallel
        yield Part("conductor", circuit.conductor.text, circuit.ungrounded * sets * length, "ft")
        if circuit.neutral is not None:
            yield Part("conductor", circuit.neutral.text, sets * length, "ft")
        if circuit.egc is not None and circuit.egc.size:
            own = sets * (length - _shared_ft(study, circuit.circuit.sections))
            yield Part("conductor", f"{circuit.egc.size} {circuit.egc.material}, grounding", own, "ft")
    for shared in study.sized.grounding.shared:
        if shared.given_size is not None:
            yield Part("conductor", f"{shared.given_size} {shared.material}, grounding", study.project.section[shared.section].length.value, "ft")


def _shared_ft(study: Study, sections: tuple[str, ...]) -> float:
    """How much of a path has one grounding conductor for all its circuits."""
    stated = {shared.section for shared in study.sized.grounding.shared if shared.given_size is not None}
    return sum(study.project.section[tag].length.value for tag in sections if tag in stated)


def _raceways(study: Study) -> Iterator[Part]:
    new = {tag for circuit in study.network.circuits if not circuit.item.existing for tag in circuit.sections}
    for raceway in study.sized.raceways:
        if raceway.section in new and raceway.size is not None:
            yield Part("raceway", f"{raceway.method} {raceway.size} in", raceway.length_ft, "ft")
