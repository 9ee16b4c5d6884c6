"""Article 220: loads that nothing states, and the neutral of feeders and services.

References
----------
``load_neutral`` 220.61; ``feeder_continuous_conductor`` 215.2; ``service_grounding`` 250.24(C).
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.calc.dwelling_load import calculated_load
from linecalc.calc.dwelling_optional import optional_general
from linecalc.calc.load import apparent_power, continuous_share, current_from_va
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.codebook.sizes import size_index
from linecalc.network.loads import is_continuous, load_current, load_voltage, nominal_voltage, term_of, unbalance_not_given
from linecalc.network.records import Kind, Node, System
from linecalc.rules.demand_checks import neutral_ampacity
from linecalc.sizing.ahead import is_service
from linecalc.sizing.circuits import conductor_key
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.term import label, value_of


def loads_given(sized: Sized) -> Iterator[Check]:
    """Every panel states its load; else what its feeders must carry in supply mode is not known.

    References
    ----------
    ``feeder_continuous_conductor``, ``service_continuous_conductor``.
    """
    for circuit in sized.circuits:
        missing = circuit.currents.loads_not_given
        if missing:
            needs = tuple(f"a load, or a calculated load, on panel {panel}" for panel in missing)
            rule = f"{conductor_key(circuit.circuit, sized.currents)}.load"
            yield not_checked(sized.book, rule, circuit.tag, f"the load of {', '.join(missing)} is not given", needs)
    yield from _calculated_loads(sized)


def _calculated_loads(sized: Sized) -> Iterator[Check]:
    """A calculated load that is below what is named downstream of it, which it stands for."""
    network = sized.network
    loads = network.of_kind(Kind.LOAD)
    for node in loads:
        if node.item.kind != "calculated":
            continue
        below = set(network.below(node.item.panel))
        inside = [other for other in loads if other is not node and other.item.panel in below]
        own = load_current(node.tag, node.item, [])
        larger = [(other, amps) for other in inside if not at_most(amps := load_current(other.tag, other.item, []), own)]
        for other, amps in larger:
            message = (
                f"calculated load {node.tag} of {node.item.panel}, {value_of(own):.4g} A, is below {other.tag}, {value_of(amps):.4g} A, "
                "which it stands for: verify the calculation"
            )
            yield remark(sized.book, "load_total.inside", node.tag, Level.WARN, message, (own, amps))
        yield from _named_together(sized, node, inside)
        yield from _continuous_part(sized, node, inside)


def _named_together(sized: Sized, node: Node, inside: list[Node]) -> Iterator[Check]:
    """A calculated load that is below 10 kVA and 40 percent of the rest of what is named downstream, as no method but a measurement gives it."""
    named = [other for other in inside if other.item.kind != "calculated"]
    if len(named) < 2:
        return
    volt_amperes = [apparent_power(load_current(other.tag, other.item, []), load_voltage(other.tag, other.item)) for other in named]
    volts = nominal_voltage(sized.network.project)
    least = label(current_from_va(optional_general(calculated_load(volt_amperes)), volts), f"{node.tag}.I_least", f"I_least_{node.tag}")
    own = load_current(node.tag, node.item, [])
    if at_most(least, own):
        return
    message = (
        f"calculated load {node.tag} of {node.item.panel}, {value_of(own):.4g} A, is below {value_of(least):.4g} A, 10 kVA and 40 % of the rest of the "
        f"{len(named)} loads named downstream, which it stands for: verify the calculation, unless it is a measured demand"
    )
    yield remark(sized.book, "load_total.named", node.tag, Level.WARN, message, (own, least))


def _continuous_part(sized: Sized, node: Node, inside: list[Node]) -> Iterator[Check]:
    """A stated continuous part that is below the continuous loads named downstream."""
    running = [other for other in inside if other.item.kind != "calculated" and is_continuous(other.item)]
    if node.item.continuous_part is None or not running:
        return
    stated = term_of(node.item.continuous_part, f"I_cont_{node.tag}", f"load.{node.tag}.continuous_part", "continuous part of the calculated load")
    together = label(continuous_share([load_current(other.tag, other.item, []) for other in running]), f"{node.tag}.I_continuous")
    if at_most(together, stated):
        return
    message = (
        f"the continuous part of {node.tag}, {value_of(stated):.4g} A, is below the continuous loads downstream "
        f"({', '.join(other.tag for other in running)}), {value_of(together):.4g} A: their 25 % is missing from conductors and devices"
    )
    yield remark(sized.book, "load_total.continuous", node.tag, Level.WARN, message, (stated, together))


def feeder_neutrals(sized: Sized) -> Iterator[Check]:
    """A neutral that is given carries the neutral load, and is not below what the circuit's grounding asks of it.

    References
    ----------
    ``load_neutral``: 220.61; ``egc`` on feeders; ``service_grounding``: 250.24(C) on service conductors.
    """
    for circuit in sized.circuits:
        kind = sized.network.nodes[circuit.circuit.down].kind
        if circuit.circuit.system is not System.AC or kind in (Kind.UNIT, Kind.INVERTER):
            continue
        if circuit.neutral is None:
            yield from _without(sized, circuit)
        elif not circuit.neutral.selected:
            yield _load(sized, circuit)
            yield _least(sized, circuit)


def _without(sized: Sized, circuit: SizedCircuit) -> Iterator[Check]:
    if is_service(circuit.circuit, sized.currents):
        message = "no neutral: a grounded conductor must run to each service disconnect"
        yield remark(sized.book, "service_grounding", circuit.tag, Level.FAIL, message)
    elif value_of(circuit.neutral_need) > 0.0:
        message = f"no neutral, but the loads need {value_of(circuit.neutral_need):.4g} A of it"
        yield remark(sized.book, "load_neutral", circuit.tag, Level.FAIL, message, (circuit.neutral_need,))


def _load(sized: Sized, circuit: SizedCircuit) -> Check:
    neutral = circuit.neutral
    unknown = unbalance_not_given(sized.network, circuit.circuit.down)
    same = neutral.material == circuit.conductor.material and size_index(neutral.size) >= size_index(circuit.conductor.size)
    if unknown and not same:
        return not_checked(sized.book, "load_neutral", circuit.tag, "the neutral load is not known", unknown)
    return limit_check(
        sized.book,
        "load_neutral",
        circuit.tag,
        neutral_ampacity(sized, circuit),
        circuit.neutral_need,
        "A",
        f"neutral {neutral.size} {neutral.material} carries the neutral load",
        f"neutral {neutral.size} {neutral.material} does not carry the neutral load",
        Sense.AT_LEAST,
    )


def _least(sized: Sized, circuit: SizedCircuit) -> Check:
    """The least size of a neutral: that of the grounding conductor, or of the service's grounded conductor."""
    book, neutral = sized.book, circuit.neutral
    if is_service(circuit.circuit, sized.currents):
        area = value_of(book.area_cmil(circuit.conductor.size)) * circuit.conductor.parallel
        least = book.supply_side_jumper(area, circuit.conductor.material, neutral.material)
        rule, words = "service_grounding", "the grounded conductor of a service of this size"
    elif circuit.device is not None:
        least = book.egc_size(value_of(circuit.device.rating), neutral.material)
        rule, words = "load_neutral.least", "the grounding conductor by its device"
    else:
        needs = (f"circuit.{circuit.tag}.breaker",)
        return not_checked(book, "load_neutral.least", circuit.tag, "the neutral has no device to go by", needs)
    return limit_check(
        book,
        rule,
        circuit.tag,
        book.area_cmil(neutral.size),
        book.area_cmil(least or neutral.size),
        "cmil",
        f"neutral {neutral.size} is not below {words}, {least}",
        f"neutral {neutral.size} is below {words}, {least}",
        Sense.AT_LEAST,
    )
