"""Article 702: firm power in island mode, from the units over everything on the way to the loads.

References
----------
``standby_capacity`` 702.4; ``standalone_conductor`` 710.15(B).
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.backup import combined_discharge, combined_rating, firm_apparent_power, firm_power, real_power
from linecalc.calc.load import apparent_power
from linecalc.network.build import Network
from linecalc.network.loads import nominal_voltage, term_of
from linecalc.network.records import Circuit, Kind, Node
from linecalc.sizing.devices import node_device
from linecalc.sizing.records import Sized
from linecalc.term import Number, given, label, named, smallest, total, value_of


def firm_volt_amperes(sized: Sized, isolation: Node) -> Number:
    """The island ratings together, held down by every device, conductor and bus on the way to the loads."""
    together = _towards_loads(sized, isolation.tag, _consumers(sized.network, isolation.tag))
    ways = [
        label(apparent_power(amps, nominal_voltage(sized.network.project), "standby_capacity", "what the way to the loads passes"), f"system.S_way_{name}", f"S_{name}")
        for name, amps in _into_loads(sized, isolation.tag)
    ]
    return label(firm_apparent_power([together, *ways]), "system.S_firm")


def firm_watts(units: tuple[Node, ...], firm_va: Number, needs: list[str]) -> Number | None:
    """Firm power in watts: units' island power, storage discharge, and the way to the loads."""
    keys = ("ac_power_island", "discharge_power")
    missing = [f"equipment.{node.item.equipment}.{key}" for node in units for key in keys if getattr(node.data, key) is None]
    if missing:
        needs.extend(missing)
        return None
    discharge = label(combined_discharge([_term(node, "discharge_power", "P_dis", "continuous discharge") for node in units]), "system.P_storage")
    power = total([_term(node, "ac_power_island", "P_isl", "continuous island power") for node in units])
    ratings = label(named(power, "P_units", "W", "island power ratings together", "standalone_conductor"), "system.P_units")
    limits = [ratings, discharge]
    if value_of(firm_va) < value_of(ratings):
        limits.append(label(real_power(firm_va, given(1.0, "", "pf", "rule:standby_capacity", "power factor at the limit of the way")), "system.P_way"))
    return label(firm_power(limits), "system.P_firm")


def _term(node: Node, key: str, symbol: str, meaning: str) -> Number:
    return term_of(getattr(node.data, key), f"{symbol}_{node.tag}", f"equipment.{node.item.equipment}.{key}", meaning)


def _consumers(network: Network, tag: str) -> int:
    """How many panels with loads, and loads, hang at or below a node."""
    below = (network.nodes[found] for found in network.below(tag))
    return sum(node.kind is Kind.LOAD or (node.kind is Kind.PANEL and not node.item.generation) for node in below)


def _towards_loads(sized: Sized, tag: str, consumers: int) -> Number:
    """What the units at or below a node can send on from it, in volt-amperes."""
    node = sized.network.nodes[tag]
    if node.kind is Kind.UNIT:
        return label(apparent_power(sized.currents.sources[tag].island_a, nominal_voltage(sized.network.project), "standby_capacity", f"island rating of {tag}"), f"{tag}.S_island")
    parts = []
    for step in sized.network.children.get(tag, ()):
        part = _towards_loads(sized, step.down, consumers)
        if value_of(part) > 0.0:
            beyond = _consumers(sized.network, step.down) < consumers
            parts.append(_held(sized, step, part) if beyond else part)
    if not parts:
        return 0.0
    together = label(combined_rating(parts), f"{tag}.S_units") if len(parts) > 1 else parts[0]
    if node.kind is Kind.PANEL:
        bus = label(apparent_power(term_of(node.item.bus, "I_bus", f"panel.{tag}.bus", f"bus rating of {tag}"), nominal_voltage(sized.network.project), "standby_capacity", f"what the bus of {tag} passes"), f"{tag}.S_bus", f"S_{tag}")
        if value_of(bus) < value_of(together):
            return label(named(smallest(together, bus), "S_held", "VA", f"held down by the bus of {tag}", "standby_capacity"), f"{tag}.S_held")
    return together


def _held(sized: Sized, step: Circuit, part: Number) -> Number:
    """The power of the units on a circuit, held down by its device and its conductors."""
    limits = [label(apparent_power(amps, nominal_voltage(sized.network.project), "standby_capacity", "what the way to the loads passes"), f"system.S_way_{name}", f"S_{name}") for name, amps in _ratings(sized, step)]
    if sized.network.nodes[step.down].kind is Kind.UNIT:
        limits = [limit for limit in limits if value_of(limit) < value_of(part)]
    if not limits:
        return part
    return label(named(smallest(part, *limits), f"S_{step.tag}", "VA", f"what {step.tag} passes of its units", "standby_capacity"), f"{step.tag}.S_held")


def _ratings(sized: Sized, step: Circuit) -> Iterator[tuple[str, Number]]:
    circuit = sized.circuit(step.tag)
    if circuit.device is not None:
        yield step.tag, circuit.device.rating
    if circuit.protect_a is not None and not circuit.needs:
        yield f"{step.tag}_wire", circuit.protect_a


def _into_loads(sized: Sized, tag: str) -> Iterator[tuple[str, Number]]:
    """Devices and conductors that carry everything the loads get, with every unit on the other side."""
    network = sized.network
    everything = _consumers(network, tag)
    for step in network.children.get(tag, ()):
        if _consumers(network, step.down) < everything:
            continue
        if any(network.nodes[below].kind is Kind.UNIT for below in network.below(step.down)):
            yield from _into_loads(sized, step.down)
            continue
        yield from _ratings(sized, step)
        main = node_device(network.nodes[step.down], sized.book, 0.0)
        if main is not None:
            yield step.down, main.rating
        yield from _into_loads(sized, step.down)
