"""Article 240 and what limits an overcurrent device: need, maximum, protection of the conductor, bus."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.overcurrent import ProtectionBasis
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Circuit, Kind, Node, System
from linecalc.sizing.devices import device_key, node_device
from linecalc.sizing.motor import motor_behind
from linecalc.sizing.records import Device, Governed, Sized, SizedCircuit
from linecalc.term import Number, value_of


def device_large_enough(sized: Sized) -> Iterator[Check]:
    """A device carries 125 % of the continuous current plus the rest.

    References
    ----------
    ``source_ocpd``, ``feeder_continuous_ocpd``, ``branch_continuous_ocpd``, ``pv_ocpd``, ``ess_ocpd``.
    """
    for circuit in sized.circuits:
        if circuit.device is None or _is_motor(sized, circuit.circuit):
            continue
        rule = device_key(circuit.circuit, sized.network)
        if circuit.currents.needs:
            yield not_checked(sized.book, rule, circuit.tag, "the current is not known", circuit.currents.needs)
            continue
        yield limit_check(
            sized.book,
            rule,
            circuit.tag,
            circuit.device.rating,
            circuit.device_need,
            "A",
            f"{_named(circuit.device)} is large enough",
            f"{_named(circuit.device)} is below 125 % of the continuous current plus the rest",
            Sense.AT_LEAST,
        )


def _named(device: Device) -> str:
    return f"{value_of(device.rating):g} A {device.kind} in {device.where}"


def _is_motor(sized: Sized, circuit: Circuit) -> bool:
    return motor_behind(sized.network, circuit) is not None


def device_maximum(sized: Sized) -> Iterator[Check]:
    """A device does not exceed the listed maximum of what it protects; never rounded up.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for circuit in sized.circuits:
        if circuit.device is None:
            continue
        node = sized.network.nodes[circuit.circuit.down]
        if node.kind in (Kind.UNIT, Kind.INVERTER):
            yield _unit_maximum(sized, circuit, f"equipment.{node.item.equipment}.overcurrent_max", node.data.overcurrent_max)


def _unit_maximum(sized: Sized, circuit: SizedCircuit, path: str, maximum: object) -> Check:
    if maximum is None:
        return not_checked(sized.book, "listed_instructions.breaker", circuit.tag, "the unit's maximum overcurrent device is not given", (path,))
    limit = term_of(maximum, "I_ocpd_max", path, "maximum overcurrent device of the unit")
    return limit_check(
        sized.book,
        "listed_instructions.breaker",
        circuit.tag,
        circuit.device.rating,
        limit,
        "A",
        f"{_named(circuit.device)} is within the unit's maximum",
        f"{_named(circuit.device)} is above the unit's maximum",
    )


def conductor_protected(sized: Sized) -> Iterator[Check]:
    """T3: the device protects the conductor by 240.4.

    References
    ----------
    ``next_size_up``: 240.4(B); ``over_800``: 240.4(C).
    """
    for circuit in sized.circuits:
        if circuit.device is None or circuit.dwelling_need is not None or _is_motor(sized, circuit.circuit):
            continue
        if circuit.needs or circuit.protection is None:
            needs = circuit.needs or (f"circuit.{circuit.tag}.conductor",)
            yield not_checked(sized.book, "next_size_up", circuit.tag, "the ampacity to be protected (T3) is not known", needs)
            continue
        protection = circuit.protection
        ampacity = "" if circuit.protect_a is None else f" of {value_of(circuit.protect_a):.4g} A"
        by = f"as the next standard size above its ampacity{ampacity}" if protection.basis is ProtectionBasis.NEXT_SIZE_UP else f"within its ampacity{ampacity}"
        yield limit_check(
            sized.book,
            protection.cite,
            circuit.tag,
            circuit.device.rating,
            protection.limit_a,
            "A",
            f"T3: {_named(circuit.device)} protects {circuit.conductor.text}, {by}",
            f"T3: {_named(circuit.device)} does not protect {circuit.conductor.text}",
            terms=() if circuit.protect_a is None else (circuit.protect_a,),
        )


def small_conductors(sized: Sized) -> Iterator[Check]:
    """The device limits of small conductors, for source circuits too; motor circuits excepted.

    References
    ----------
    ``small_conductors``: 240.4(D).
    """
    for circuit in sized.circuits:
        if circuit.small_limit is None or circuit.device is None or circuit.governed_by is Governed.NOT_DETERMINED:
            continue
        yield limit_check(
            sized.book,
            "small_conductors",
            circuit.tag,
            circuit.device.rating,
            circuit.small_limit,
            "A",
            f"{_named(circuit.device)} is within the limit of {circuit.conductor.size}",
            f"{_named(circuit.device)} is above the limit of {circuit.conductor.size}",
        )


def standard_rating(sized: Sized) -> Iterator[Check]:
    """Given devices that are not of a standard rating are pointed out.

    References
    ----------
    ``standard_ocpd``: 240.6(A).
    """
    ratings = sized.book.standard_ratings()
    for circuit in sized.circuits:
        device = circuit.device
        if device is None or device.inherited or device.selected or value_of(device.rating) in ratings:
            continue
        message = f"{_named(device)} is not a standard rating of this edition"
        yield remark(sized.book, "standard_ocpd", circuit.tag, Level.WARN, message)


def missing_device(sized: Sized) -> Iterator[Check]:
    """An AC or storage circuit that no device protects at either end.

    References
    ----------
    ``feeder_continuous_ocpd``, ``source_ocpd``, ``ess_ocpd``.
    """
    for circuit in sized.circuits:
        if circuit.circuit.system is System.PV or circuit.device is not None:
            continue
        unread = circuit.circuit.item.existing and circuit.circuit.item.breaker is None
        message = "no overcurrent device protects this circuit at either end"
        message = "the overcurrent device of this existing circuit is not given: read it on site" if unread else message
        yield not_checked(sized.book, device_key(circuit.circuit, sized.network), circuit.tag, message, (f"circuit.{circuit.tag}.breaker",))


def panel_protected(sized: Sized) -> Iterator[Check]:
    """The device that protects a panel does not exceed its bus rating.

    References
    ----------
    ``panel_protection``: 408.36.
    """
    for node in sized.network.of_kind(Kind.PANEL):
        device = protecting_device(sized, node.tag)
        if device is None and sized.network.is_standalone() and node.tag == sized.network.root:
            continue
        if device is None:
            needs = (f"panel.{node.tag}.main",)
            yield not_checked(sized.book, "panel_protection", node.tag, "nothing is known to protect this bus", needs)
            continue
        bus = term_of(node.item.bus, "I_bus", f"panel.{node.tag}.bus", f"bus rating of {node.tag}")
        yield limit_check(
            sized.book,
            "panel_protection",
            node.tag,
            device.rating,
            bus,
            "A",
            f"the bus is protected by the {_named(device)}",
            f"the {_named(device)} is above the bus rating",
        )


def protecting_device(sized: Sized, panel: str) -> Device | None:
    """The main of a panel, or with main lugs the device upstream."""
    own = node_device(sized.network.nodes[panel], sized.book, 0.0)
    if own is not None:
        return own
    parent = sized.network.parent.get(panel)
    return None if parent is None else sized.circuit(parent.tag).device



def switch_ratings(sized: Sized) -> Iterator[Check]:
    """A disconnect or isolation device is rated for the device that protects it, or for its current where there is none.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for node in sized.network.of_kind(Kind.DISCONNECT, Kind.ISOLATION):
        against = _through(sized, node)
        if against is None:
            needs = (f"the device or the current of the circuits at {node.tag}",)
            yield not_checked(sized.book, "listed_instructions.rating", node.tag, "what passes through is not known", needs)
            continue
        table = node.kind.name.lower()
        yield limit_check(
            sized.book,
            "listed_instructions.rating",
            node.tag,
            against,
            term_of(node.item.rating, "I_rated", f"{table}.{node.tag}.rating", f"rating of {node.tag}"),
            "A",
            f"{node.tag} is rated for what protects or passes it",
            f"{node.tag} is rated below what protects or passes it",
        )


def _through(sized: Sized, node: Node) -> Number | None:
    """The device in a switch or ahead of it; on DC circuits without one the largest current through it."""
    own = node_device(node, sized.book, 0.0) if not _chosen(node) else None
    touching = [circuit for circuit in sized.circuits if node.tag in (circuit.circuit.up, circuit.circuit.down)]
    devices = [own] if own is not None else [circuit.device for circuit in touching if circuit.circuit.down == node.tag]
    devices = [device for device in devices if device is not None]
    if not devices:
        devices = [circuit.device for circuit in touching if circuit.device is not None and circuit.device.where == node.tag]
    if devices:
        return max((device.rating for device in devices), key=value_of)
    currents = [current.continuous for circuit in touching for _, current in circuit.currents.modes if value_of(current.continuous)]
    return max(currents, key=value_of, default=None)


def _chosen(node: Node) -> bool:
    """Whether the device in a disconnect is left out and chosen, so that it must be looked up on its circuit."""
    return node.kind is Kind.DISCONNECT and node.item.device is None
