"""Article 702, generators: the transfer switch keeps them from the utility and from the sources.

References
----------
``standby_transfer`` 702.5, ``standby_capacity`` 702.4, ``generator_conductor`` 445.13,
``separately_derived`` 250.30, ``neutral_for_grounding`` 250.142.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.load import apparent_power
from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import nominal_voltage, term_of
from linecalc.network.records import Circuit, Kind, Mode, ModeCurrent, Node
from linecalc.sizing.records import Sized
from linecalc.term import Number, label, value_of


def generator_of(sized: Sized, transfer: Node) -> tuple[Node, Circuit]:
    """The generator of a transfer switch, and its circuit."""
    circuit = next(step for step in sized.network.children[transfer.tag] if sized.network.nodes[step.down].kind is Kind.GENERATOR)
    return sized.network.nodes[circuit.down], circuit


def kept_apart(sized: Sized) -> Iterator[Check]:
    """No unit or inverter hangs on the load side of a transfer switch, where the generator would meet it.

    References
    ----------
    ``standby_transfer``: 702.5.
    """
    for transfer in sized.network.of_kind(Kind.TRANSFER):
        generator, _ = generator_of(sized, transfer)
        below = [sized.network.nodes[tag] for tag in sized.network.below(transfer.tag)]
        sources = [node.tag for node in below if node.kind in (Kind.UNIT, Kind.INVERTER)]
        if sources:
            message = f"generator {generator.tag} would meet {', '.join(sources)} on the load side of {transfer.tag}: they must never feed the same conductors"
            yield remark(sized.book, "standby_transfer", transfer.tag, Level.FAIL, message)
            continue
        message = f"{transfer.tag} puts its loads on the utility side or on generator {generator.tag}, and no unit or inverter is on its load side"
        yield remark(sized.book, "standby_transfer", transfer.tag, Level.PASS, message)
    yield from _backed_up(sized)


def _backed_up(sized: Sized) -> Iterator[Check]:
    """A panel that is said to be backed up is separated from the utility in an outage, with something left to feed it."""
    network = sized.network
    for panel in network.of_kind(Kind.PANEL):
        if not panel.item.backup or panel.tag not in network.parent or network.is_standalone():
            continue
        if any(network.nodes[step.up].kind is Kind.TRANSFER for step in network.path_up(panel.tag)):
            continue
        separating = network.isolation_above(panel.tag)
        if separating is None:
            message = f"{panel.tag} is said to be backed up, but no isolation device or transfer switch separates it from the utility in an outage"
            yield remark(sized.book, "standby_transfer.backed_up", panel.tag, Level.FAIL, message)
        elif not any(network.nodes[tag].kind is Kind.UNIT for tag in network.below(separating)):
            message = f"{panel.tag} is said to be backed up, but no unit is left to feed it once {separating} has opened"
            yield remark(sized.book, "standby_transfer.backed_up", panel.tag, Level.FAIL, message)


def transfer_rating(sized: Sized) -> Iterator[Check]:
    """A transfer switch is rated for the devices ahead of it on both sides.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for transfer in sized.network.of_kind(Kind.TRANSFER):
        generator, circuit = generator_of(sized, transfer)
        rating = term_of(transfer.item.rating, "I_transfer", f"transfer.{transfer.tag}.rating", "rating of the transfer switch")
        sides = {f"the generator {generator.tag}": sized.circuit(circuit.tag).device}
        parent = sized.network.parent.get(transfer.tag)
        if parent is not None:
            sides["the utility side"] = sized.circuit(parent.tag).device
        for side, device in sides.items():
            if device is None:
                needs = (f"generator.{generator.tag}.device",) if "generator" in side else (f"the device ahead of {transfer.tag}",)
                yield not_checked(sized.book, "listed_instructions.transfer", transfer.tag, f"the device on {side} is not known", needs)
                continue
            words = f"the rating of {transfer.tag} against the {value_of(device.rating):g} A device on {side}"
            yield limit_check(sized.book, "listed_instructions.transfer", transfer.tag, device.rating, rating, "A", f"{words}: within it", f"{words}: above it")


def generator_conductors(sized: Sized) -> Iterator[Check]:
    """Conductors ahead of the first device carry 115 % of the nameplate; those behind it are protected by it.

    References
    ----------
    ``generator_conductor``: 445.13(A).
    """
    for circuit in sized.circuits:
        node = sized.network.nodes[circuit.circuit.down]
        if node.kind is not Kind.GENERATOR:
            continue
        if node.item.device is None:
            needs = (f'generator.{node.tag}.device (its breaker, or "none")',)
            yield not_checked(sized.book, "generator_conductor", circuit.tag, "whether the generator has a breaker is not given", needs)
            continue
        for demand in circuit.demands:
            if circuit.needs or circuit.protect_a is None:
                yield not_checked(sized.book, demand.cite, circuit.tag, "the ampacity of the generator's conductors is not known", circuit.needs)
                continue
            words = f"{demand.why}: {circuit.conductor.text}"
            yield limit_check(
                sized.book, demand.cite, circuit.tag, circuit.protect_a, demand.amps, "A", f"{words} reaches it", f"{words} is below it", Sense.AT_LEAST
            )


def load_side_protected(sized: Sized) -> Iterator[Check]:
    """Conductors on the load side of the switch are protected while the generator feeds them, too.

    Where its device is the larger one, it is the device of these conductors: T3 holds it against them.

    References
    ----------
    ``next_size_up``: 240.4(B).
    """
    for transfer in sized.network.of_kind(Kind.TRANSFER):
        generator, own = generator_of(sized, transfer)
        device = sized.circuit(own.tag).device
        if device is None:
            continue
        for step in sized.network.children[transfer.tag]:
            circuit = sized.circuit(step.tag)
            if step.tag == own.tag or circuit.device is None or circuit.device.owner == generator.tag:
                continue
            if at_most(device.rating, circuit.device.rating):
                message = f"the {value_of(device.rating):g} A device of {generator.tag} is not above the {value_of(circuit.device.rating):g} A device that protects {circuit.tag} from the utility side"
                yield remark(sized.book, "next_size_up.generator", circuit.tag, Level.PASS, message)
            elif circuit.protect_a is None or circuit.needs:
                yield not_checked(sized.book, "next_size_up.generator", circuit.tag, "the ampacity to be protected is not known", circuit.needs or (f"circuit.{circuit.tag}.conductor",))
            else:
                words = f"the device of {generator.tag} and {circuit.conductor.text}"
                yield limit_check(
                    sized.book, "next_size_up.generator", circuit.tag, device.rating, circuit.protect_a, "A", f"{words}: within its ampacity", f"{words}: above its ampacity"
                )


def generator_capacity(sized: Sized) -> Iterator[Check]:
    """The load that is connected automatically is within the generator's rating; by hand the user chooses.

    References
    ----------
    ``standby_capacity``: 702.4; ``standby_capacity_manual``.
    """
    for transfer in sized.network.of_kind(Kind.TRANSFER):
        generator, _ = generator_of(sized, transfer)
        starts = (transfer.item.start, generator.item.start)
        if "manual" in starts:
            message = f"{generator.tag} is connected by hand: the user chooses the loads"
            yield remark(sized.book, "standby_capacity_manual", generator.tag, Level.NOTE, message)
            continue
        if "automatic" not in starts:
            needs = (f"transfer.{transfer.tag}.start",)
            yield not_checked(sized.book, "standby_capacity.generator", generator.tag, "whether the loads are connected automatically is not given", needs)
            continue
        yield _capacity(sized, transfer, generator)


def _capacity(sized: Sized, transfer: Node, generator: Node) -> Check:
    missing = [panel for step in sized.network.children[transfer.tag] for panel in sized.circuit(step.tag).currents.loads_not_given]
    parent = sized.network.parent.get(transfer.tag)
    supply = None if parent is None else sized.circuit(parent.tag).currents.of(Mode.SUPPLY)
    if missing or supply is None:
        needs = tuple(f"a load, or a calculated load, on panel {panel}" for panel in missing)
        return not_checked(sized.book, "standby_capacity.generator", generator.tag, "the load of the generator is not given", needs)
    load = label(apparent_power(_whole(supply), nominal_voltage(sized.network.project), "standby_capacity", "load of the generator"), f"{generator.tag}.S_load", "S_load")
    key = "VA" if generator.item.power.unit == "VA" else "W"
    rating = term_of(generator.item.power, "S_gen" if key == "VA" else "P_gen", f"generator.{generator.tag}.power", "rating of the generator")
    words = "the full load behind the transfer switch against the generator's rating"
    words += "" if key == "VA" else " in watts, at power factor 1"
    return limit_check(
        sized.book, "standby_capacity.generator", generator.tag, load, rating, "VA", f"{words}: it carries the load", f"{words}: it does not carry the load"
    )


def _whole(current: ModeCurrent) -> Number:
    if value_of(current.noncontinuous) == 0.0:
        return current.continuous
    return current.noncontinuous if value_of(current.continuous) == 0.0 else current.continuous + current.noncontinuous


def generator_bond(sized: Sized) -> Iterator[Check]:
    """Neutral not switched: no bond at the generator; switched: separately derived, with its bond and electrode.

    References
    ----------
    ``separately_derived``: 250.30; ``neutral_for_grounding``: 250.142.
    """
    for transfer in sized.network.of_kind(Kind.TRANSFER):
        generator, _ = generator_of(sized, transfer)
        needs = [f"transfer.{transfer.tag}.switches_neutral"] if transfer.item.switches_neutral is None else []
        needs += [f"generator.{generator.tag}.neutral_bond"] if generator.item.neutral_bond is None else []
        if needs:
            yield not_checked(sized.book, "separately_derived", generator.tag, "the neutral of the generator is not described", tuple(needs))
        elif transfer.item.switches_neutral == generator.item.neutral_bond:
            what = "separately derived, bonded at the generator, which needs its electrode" if generator.item.neutral_bond else "not separately derived, no bond at the generator"
            switched = "switched" if transfer.item.switches_neutral else "not switched"
            yield remark(sized.book, "separately_derived", generator.tag, Level.PASS, f"the neutral is {switched} by {transfer.tag}: {what}")
        elif generator.item.neutral_bond:
            message = f"{transfer.tag} does not switch the neutral, yet {generator.tag} bonds it: a second bond beside that of the service"
            yield remark(sized.book, "neutral_for_grounding", generator.tag, Level.FAIL, message)
        else:
            message = f"{transfer.tag} switches the neutral, yet {generator.tag} does not bond it: no bond is left while it runs"
            yield remark(sized.book, "separately_derived", generator.tag, Level.FAIL, message)
