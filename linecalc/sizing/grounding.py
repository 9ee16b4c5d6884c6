"""Neutral and equipment grounding conductor of a circuit.

References
----------
``egc`` Table 250.122, ``egc_upsize`` 250.122(B), ``pv_egc`` 690.45,
``ssbj`` Table 250.102(C)(1), ``load_neutral`` 220.61, ``neutral_of_source``.
"""

from __future__ import annotations

from linecalc.calc.grounding import proportional_egc_area, supply_side_jumper_area
from linecalc.calc.overcurrent import device_need, next_standard_at_or_above
from linecalc.codebook import Book
from linecalc.codebook.sizes import SIZES, larger_size, size_index
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.loads import BOTH_LEGS, NEUTRAL_KINDS, legs_of
from linecalc.network.records import Circuit, Kind, Mode, System
from linecalc.project.equipment import UnitData
from linecalc.sizing.ahead import is_service, is_supply_side_source
from linecalc.sizing.cables import egc_in_cable
from linecalc.sizing.records import Conductor, Device, Egc
from linecalc.term import Number, Term, given, label, value_of


def egc_of(
    circuit: Circuit, currents: Currents, conductor: Conductor, smallest: str | None, device: Device | None
) -> Egc | None:
    """The grounding conductor of a circuit; on the supply side the bonding jumper where one is needed."""
    if is_service(circuit, currents):
        return _jumper(circuit, currents, conductor)
    book, material = currents.book, _material(circuit, conductor)
    rating = device.rating if device is not None else assumed_device(circuit, currents)
    if rating is None:
        return None
    base = book.egc_size(value_of(rating), material)
    area, needed = None, base
    if circuit.system is not System.PV and smallest is not None:
        area, needed = _increased(book, circuit, conductor, smallest, base)
    if size_index(needed) > size_index(conductor.size) and material == conductor.material:
        needed = conductor.size
    methods = [currents.network.project.section[tag].method for tag in circuit.sections]
    held = egc_in_cable(book, methods, conductor.size, conductor.material)
    return _given_or(circuit, held or needed, base, needed, material, rating, area, "wire")


def _material(circuit: Circuit, conductor: Conductor) -> str:
    written = circuit.item.egc
    if written is not None and not isinstance(written, str) and written.material:
        return written.material
    return conductor.material


def _given_or(
    circuit: Circuit, chosen: str, base: str, needed: str, material: str, rating: Number, area: Number | None, kind: str
) -> Egc | None:
    written = circuit.item.egc
    if written == "none":
        return None
    if written == "raceway":
        return Egc("raceway", "", base, needed, material, rating, area, True)
    if written is not None:
        return Egc(kind, written.size, base, needed, material, rating, area, True)
    return Egc(kind, chosen, base, needed, material, rating, area, False)


def _increased(book: Book, circuit: Circuit, conductor: Conductor, smallest: str, base: str) -> tuple[Number | None, str]:
    """The area after the proportional increase, and the size that has it."""
    if size_index(conductor.size) <= size_index(smallest):
        return None, base
    area = proportional_egc_area(book.area_cmil(base), book.area_cmil(conductor.size), book.area_cmil(smallest))
    area = label(area, f"{circuit.tag}.egc_area")
    return area, size_of_area(book, value_of(area))


def size_of_area(book: Book, area_cmil: float) -> str:
    """The smallest listed size of at least an area in circular mils."""
    for size in SIZES:
        if book.area_cmil(size).value >= area_cmil * (1.0 - 1e-9):
            return size
    return SIZES[-1]


def _jumper(circuit: Circuit, currents: Currents, conductor: Conductor) -> Egc | None:
    """The supply-side bonding jumper by the ungrounded conductors of the circuit.

    Service conductors to the disconnect that serves the house are bonded
    through the grounded conductor: there a jumper is scheduled only where one
    is stated. A supply-side source disconnect has one.
    """
    book = currents.book
    area = book.area_cmil(conductor.size) * float(conductor.parallel)
    material = _material(circuit, conductor)
    size = book.supply_side_jumper(value_of(area), conductor.material, material)
    needed = size or size_of_area(book, value_of(supply_side_jumper_area(area)))
    if circuit.item.egc is None and not is_supply_side_source(circuit, currents):
        return None
    rating = given(0.0, "A", "I_none", "", "no device on the supply side")
    return _given_or(circuit, needed, needed, needed, material, rating, None, "supply-side bonding jumper")


def assumed_device(circuit: Circuit, currents: Currents) -> Number | None:
    """The device assumed for the grounding conductor of a DC circuit without one, in amperes."""
    current = currents.of(circuit).of(Mode.DC)
    if current is None:
        return None
    need = label(device_need(current.continuous, 0.0, "pv_egc"), f"{circuit.tag}.egc_device")
    found = next_standard_at_or_above(currents.book.standard_ratings(), need)
    if found is None:
        return None
    return Term(found, "A", symbol="I_assumed", meaning="device assumed for the grounding conductor", origin=f"table:240.6-A/{found:g}/rating_a")


def neutral_of(
    circuit: Circuit, currents: Currents, conductor: Conductor, smallest: str | None, device: Device | None
) -> tuple[Conductor | None, Number]:
    """The neutral of a circuit and the current it must carry, in amperes."""
    network = currents.network
    need = _neutral_need(circuit, currents)
    written = circuit.item.neutral
    if written == "none":
        return None, need
    if written is not None:
        material = written.material or conductor.material
        return Conductor(written.size, material, written.insulation or conductor.insulation, conductor.parallel, False), need
    if circuit.system is not System.AC or not _needs_neutral(circuit, network):
        return None, need
    size = smallest or conductor.size
    if _sensing_only(circuit, network):
        size = currents.book.egc_size(value_of(device.rating), conductor.material) if device else conductor.size
    elif smallest is not None and size_index(smallest) > size_index(conductor.size):
        size = conductor.size
    if device is not None and not device.load_end:
        least = currents.book.egc_size(value_of(device.rating), conductor.material)
        size = larger_size(size, min(least, conductor.size, key=size_index))
    return Conductor(size, conductor.material, conductor.insulation, conductor.parallel, True), need


def _neutral_need(circuit: Circuit, currents: Currents) -> Number:
    found = [current.neutral for _, current in currents.of(circuit).modes]
    return max(found, key=value_of, default=0.0)


def _needs_neutral(circuit: Circuit, network: Network) -> bool:
    node = network.nodes[circuit.down]
    if node.kind is Kind.LOAD:
        return legs_of(node.item) != BOTH_LEGS or node.item.kind in NEUTRAL_KINDS
    if node.kind is Kind.INVERTER:
        return False
    return not (isinstance(node.data, UnitData) and node.data.neutral == "none")


def _sensing_only(circuit: Circuit, network: Network) -> bool:
    data = network.nodes[circuit.down].data
    return isinstance(data, UnitData) and data.neutral == "sensing"
