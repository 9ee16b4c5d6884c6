"""Overcurrent devices: given, chosen, inherited from upstream, or at the load end."""

from __future__ import annotations

from linecalc.calc.compare import largest_of
from linecalc.calc.overcurrent import device_need, largest_standard_at_or_below, next_standard_at_or_above
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.loads import term_of
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.sizing.ahead import is_branch, serves_loads
from linecalc.sizing.cooking import least_rating_a
from linecalc.sizing.motor import device_limits, device_rule, motor_behind
from linecalc.sizing.records import Device
from linecalc.term import Number, Term, label, value_of
from linecalc.units import Quantity

LEAST_DEVICE_A = 15.0
_HAS_DEVICE_KEY = {Kind.PANEL: "main", Kind.ISOLATION: "main", Kind.DISCONNECT: "device", Kind.TRANSFER: "main", Kind.GENERATOR: "device"}


def device_key(circuit: Circuit, network: Network) -> str:
    """The citation key of the article that sizes a circuit's device."""
    if circuit.system is System.PV:
        return "pv_ocpd"
    if circuit.system is System.STORAGE:
        return "ess_ocpd"
    motor = motor_behind(network, circuit)
    if motor is not None:
        return device_rule(motor)
    kind = network.nodes[circuit.down].kind
    if kind in (Kind.UNIT, Kind.INVERTER):
        return "source_ocpd"
    return "branch_continuous_ocpd" if is_branch(network, circuit) else "feeder_continuous_ocpd"


def needed_device(currents: Currents, circuit: Circuit) -> Number:
    """The least rating of a circuit's device over all modes, in amperes.

    References
    ----------
    ``source_ocpd``, ``feeder_continuous_ocpd``, ``branch_continuous_ocpd``, ``pv_ocpd``, ``ess_ocpd``.
    """
    cite = device_key(circuit, currents.network)
    found = []
    for mode, current in currents.of(circuit).modes:
        need = device_need(current.continuous, current.noncontinuous, cite)
        found.append(label(need, f"{circuit.tag}.device.{mode.value}"))
    return _largest(found)


def _largest(numbers: list[Number]) -> Number:
    """The term with the largest value; 0.0 for none."""
    return max(numbers, key=value_of) if numbers else 0.0


def size_devices(currents: Currents) -> dict[str, Device | None]:
    """The device that protects each circuit's conductors, by circuit tag.

    Upstream circuits come first, so that a circuit without a device of its own
    takes over the one above it.
    """
    network, book = currents.network, currents.book
    found: dict[str, Device | None] = {}
    for circuit in network.circuits:
        if circuit.system is not System.AC:
            found[circuit.tag] = _own(circuit, network, book, needed_device(currents, circuit), False)
    for tag in reversed(network.order):
        if tag in network.parent:
            circuit = network.parent[tag]
            found[circuit.tag] = _ac_device(circuit, currents, found)
    return found


def _ac_device(circuit: Circuit, currents: Currents, found: dict[str, Device | None]) -> Device | None:
    network, book = currents.network, currents.book
    need = needed_device(currents, circuit)
    upper = network.nodes[circuit.up]
    if network.nodes[circuit.down].kind is Kind.GENERATOR:
        return node_device(network.nodes[circuit.down], book, need)
    on_breaker = upper.kind is Kind.PANEL and not circuit.item.feed_through
    own = _own(circuit, network, book, need, on_breaker)
    if own is not None or circuit.item.breaker == "none" or (on_breaker and circuit.item.existing):
        return own
    if circuit.item.tap:
        return _load_end(network, circuit.down, book, need)
    here = None if on_breaker else node_device(upper, book, _wanted(circuit, upper, network, book, need))
    if here is not None:
        return _of_either_supply(here, upper, network, book)
    above = network.parent.get(circuit.up)
    if above is not None and found[above.tag] is not None and not found[above.tag].load_end:
        return _of_either_supply(_inherited(found[above.tag]), upper, network, book)
    return _load_end(network, circuit.down, book, need)


def _inherited(device: Device) -> Device:
    return Device(device.rating, device.kind, device.where, device.owner, device.selected, True, False, device.path)


def _of_either_supply(device: Device, upper: Node, network: Network, book: Book) -> Device:
    """The larger of the device on the utility side and that of a generator, where both feed conductors through a transfer switch."""
    if upper.kind is not Kind.TRANSFER:
        return device
    generators = (network.nodes[step.down] for step in network.children[upper.tag] if network.nodes[step.down].kind is Kind.GENERATOR)
    others = [found for node in generators if (found := node_device(node, book, 0.0)) is not None]
    larger = max([device, *others], key=lambda one: value_of(one.rating))
    return device if larger is device else _inherited(larger)


def _wanted(circuit: Circuit, upper: Node, network: Network, book: Book, need: Number) -> Number:
    """What a device chosen for a disconnect must reach: the need, or the rating that a motor behind it asks for."""
    if upper.kind is not Kind.DISCONNECT or motor_behind(network, circuit) is None:
        return need
    return chosen_rating(circuit, network, book, need, upper.item.device_kind) or need


def _own(circuit: Circuit, network: Network, book: Book, need: Number, needed_here: bool) -> Device | None:
    """The breaker or fuse that the circuit itself states, or that is chosen for it."""
    if circuit.system is System.PV and circuit.item.breaker is None:
        return _string_fuse(circuit, network)
    written, path = circuit.item.breaker, f"circuit.{circuit.tag}.breaker"
    where = circuit.up
    if isinstance(written, Quantity):
        rating = term_of(written, "I_ocpd", path, f"overcurrent device of {circuit.tag}")
        return Device(rating, "breaker", where, circuit.tag, False, False, False, path)
    if written == "none" or not needed_here or circuit.item.existing:
        return None
    rating = chosen_rating(circuit, network, book, need, "breaker")
    if rating is None:
        return None
    term = Term(rating, "A", symbol="I_ocpd", meaning=f"overcurrent device of {circuit.tag}, selected", origin=f"table:240.6-A/{rating:g}/rating_a")
    return Device(term, "breaker", where, circuit.tag, True, False, False, path)


def _string_fuse(circuit: Circuit, network: Network) -> Device | None:
    """The fuse of the one string that a PV circuit carries, at the end towards the unit."""
    strings = network.strings_behind(circuit)
    if len(strings) != 1 or not isinstance(strings[0].item.fuse, Quantity):
        return None
    path = f"string.{strings[0].tag}.fuse"
    rating = term_of(strings[0].item.fuse, "I_fuse", path, f"fuse of string {strings[0].tag}")
    return Device(rating, "fuse", circuit.up, strings[0].tag, False, False, False, path)


def chosen_rating(circuit: Circuit, network: Network, book: Book, need: Number, device_kind: str) -> float | None:
    """The standard rating that is chosen where none is given; for a motor the largest that its article allows without further reason.

    References
    ----------
    ``standard_ocpd``; ``cooking_circuit`` for ranges; ``hermetic_nameplate``, ``hermetic_ocpd``, ``motor_ocpd`` for motors.
    """
    ratings = book.standard_ratings()
    motor = motor_behind(network, circuit)
    limits = None if motor is None else device_limits(motor, book, device_kind)
    if limits is not None:
        return largest_standard_at_or_below(ratings, limits.usual)
    return next_standard_at_or_above(ratings, largest_of([LEAST_DEVICE_A, least_rating_a(network, circuit), value_of(need)]))


def node_device(node: Node, book: Book, need: Number) -> Device | None:
    """The device inside a node that protects what is connected to it."""
    key = _HAS_DEVICE_KEY.get(node.kind)
    if key is None:
        return None
    written = getattr(node.item, key)
    path = f"{_TABLE[node.kind]}.{node.tag}.{key}"
    kind = node.item.device_kind if node.kind is Kind.DISCONNECT else _WORDS.get(node.kind, "main")
    if isinstance(written, Quantity):
        rating = term_of(written, f"I_{node.tag}", path, f"device in {node.tag}")
        return Device(rating, "main" if kind == "none" else kind, node.tag, node.tag, False, False, False, path)
    if node.kind is Kind.DISCONNECT and written is None and kind != "none":
        chosen = next_standard_at_or_above(book.standard_ratings(), largest_of([LEAST_DEVICE_A, value_of(need)]))
        if chosen is None:
            return None
        term = Term(chosen, "A", symbol=f"I_{node.tag}", meaning=f"device in {node.tag}, selected", origin=f"table:240.6-A/{chosen:g}/rating_a")
        return Device(term, kind, node.tag, node.tag, True, False, False, path)
    return None


_TABLE = {
    Kind.PANEL: "panel",
    Kind.ISOLATION: "isolation",
    Kind.DISCONNECT: "disconnect",
    Kind.TRANSFER: "transfer",
    Kind.GENERATOR: "generator",
}


_WORDS = {Kind.GENERATOR: "breaker"}


def _load_end(network: Network, tag: str, book: Book, need: Number) -> Device | None:
    """The device at the far end of conductors that have none at their supply.

    Behind a junction, or an isolation device without a main, it is the one of
    the only branch that serves loads; a branch that only connects sources does
    not protect what is ahead.
    """
    node = network.nodes[tag]
    device = node_device(node, book, need)
    if device is None and node.kind in (Kind.JUNCTION, Kind.ISOLATION):
        branches = [step for step in network.children.get(tag, ()) if serves_loads(network, step.down)]
        return _load_end(network, branches[0].down, book, need) if len(branches) == 1 else None
    if device is None:
        return None
    return Device(device.rating, device.kind, device.where, device.owner, device.selected, False, True, device.path)
