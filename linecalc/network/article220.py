"""Article 220 over the network: at each bus the load is computed anew over all loads downstream.

Demands of Article 220 do not add. A load stated as a calculated total stands
for its panel and everything downstream; upstream it is added as it is. The
methods for whole dwellings are used only where a bus serves the whole
dwelling; of several lawful methods the lowest decides.
"""

from __future__ import annotations

from dataclasses import replace

from linecalc.calc.dwelling_load import continuous_part
from linecalc.calc.load import current_from_va, noncontinuous_share
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.dwelling_items import Gatherer
from linecalc.network.dwelling_records import BusLoad, DwellingLoads, Gathered, LoadItem, LoadMethod, MethodLoad
from linecalc.network.dwelling_standard import standard_load
from linecalc.network.dwelling_whole import existing_load, measured, optional_load
from linecalc.network.loads import LegLoad, leg_voltage
from linecalc.network.records import Assumption, Kind
from linecalc.term import Number, label, value_of

_BEYOND = {
    LoadMethod.STANDARD: "Part III has a demand for each kind of load, no 40 % of everything beyond the first kVA; heat counts in full",
    LoadMethod.OPTIONAL: "220.82 takes 10 kVA in full before its 40 %, and ranges and dryers at nameplate",
    LoadMethod.EXISTING: "220.83 takes ranges and dryers at nameplate in its 8 kVA and 40 %",
    LoadMethod.MEASURED: "220.87 raises the measured demand by a quarter and takes new loads in full",
}


def dwelling_loads(
    network: Network, book: Book, calculated: dict[str, LegLoad], assumptions: list[Assumption]
) -> DwellingLoads:
    """The load of every bus, by the ``[dwelling]`` table and the loads downstream.

    Parameters
    ----------
    calculated : loads stated as totals, by panel; their panels are not computed.
    assumptions : what had to be assumed is added here.

    References
    ----------
    ``load_total`` 220.40, ``load_optional_dwelling`` 220.82, ``load_existing_dwelling`` 220.83,
    ``load_measured`` 220.87, ``load_neutral`` 220.61, ``calc_fractions`` 220.5(B).
    """
    if network.project.dwelling is None:
        return DwellingLoads()
    gatherer = Gatherer(network, book, calculated, assumptions)
    found: dict[str, BusLoad] = {}
    empty: list[str] = []
    for tag in network.order:
        if network.nodes[tag].kind is Kind.LOAD or tag in calculated:
            continue
        known = _same_as_child(network, tag, found)
        if known is not None:
            found[known] = _with_node(found[known], tag)
            continue
        gathered = gatherer.gathered(tag)
        if _is_worth_computing(gathered):
            found[tag] = _bus_load(gathered, network, book, assumptions)
        elif not gathered.stated:
            empty.append(tag)
    return DwellingLoads(tuple(found.values()), tuple(empty))


def _same_as_child(network: Network, tag: str, found: dict[str, BusLoad]) -> str | None:
    """The bus whose loads are all that ``tag`` carries: it has one child with loads and none of its own."""
    if network.nodes[tag].kind is Kind.PANEL:
        return None
    below = [key for key, bus in found.items() for step in network.children.get(tag, ()) if step.down in bus.nodes]
    others = [step.down for step in network.children.get(tag, ()) if not any(step.down in bus.nodes for bus in found.values())]
    if len(below) != 1 or any(_has_load(network, other) for other in others):
        return None
    return below[0]


def _has_load(network: Network, tag: str) -> bool:
    below = set(network.below(tag))
    return any(node.tag in below or node.item.panel in below for node in network.of_kind(Kind.LOAD))


def _with_node(bus: BusLoad, tag: str) -> BusLoad:
    return replace(bus, nodes=(*bus.nodes, tag))


def _is_worth_computing(gathered: Gathered) -> bool:
    """Whether there is anything beside a single total stated downstream."""
    general = gathered.general
    own = gathered.items or general.needs or any(value_of(part) for part in (general.lighting_va, general.kitchen_va, general.laundry_va))
    return bool(own) or len(gathered.stated) > 1


def _bus_load(gathered: Gathered, network: Network, book: Book, assumptions: list[Assumption]) -> BusLoad:
    standard = standard_load(gathered, book)
    methods = [standard.method]
    for method in _asked(network):
        if method is LoadMethod.OPTIONAL:
            methods.append(optional_load(gathered, network, book))
        elif method is LoadMethod.EXISTING:
            methods.append(existing_load(gathered, book))
        elif method is LoadMethod.MEASURED:
            methods.append(measured(gathered, network, book, assumptions))
    asked = _counted(network, gathered, methods)
    used = min((method for method in asked if method.current_a is not None), key=lambda method: value_of(method.current_a), default=None)
    compared = tuple(_compared(method, used) for method in asked)
    if used is None:
        needs = tuple(dict.fromkeys(need for method in asked for need in method.needs))
        return BusLoad(gathered.tag, (gathered.tag,), gathered.whole, gathered.items, compared, None, None, 0.0, None, needs)
    neutral = standard.neutral
    part = _continuous(gathered, used)
    rest = noncontinuous_share(used.current_a, part) if value_of(part) else used.current_a
    if value_of(part):
        rest = label(rest, f"{gathered.tag}.load.I_rest", "I_rest")
    unbalance = 0.0 if neutral is None else neutral.current_a
    legs = LegLoad(part, rest, part, rest, unbalance)
    return BusLoad(gathered.tag, (gathered.tag,), gathered.whole, gathered.items, compared, used, neutral, part, legs, ())


def _asked(network: Network) -> tuple[LoadMethod, ...]:
    """The methods asked for; without a choice those whose inputs are given."""
    dwelling = network.project.dwelling
    if dwelling.methods:
        return tuple(dict.fromkeys(LoadMethod(name) for name in dwelling.methods))
    found = [LoadMethod.STANDARD, LoadMethod.OPTIONAL]
    if dwelling.existing:
        found.append(LoadMethod.EXISTING)
    if dwelling.measured_demand is not None:
        found.append(LoadMethod.MEASURED)
    return tuple(found)


def _counted(network: Network, gathered: Gathered, methods: list[MethodLoad]) -> list[MethodLoad]:
    """The methods asked for; Part III as well where none of them is usable on this bus."""
    asked = _asked(network)
    chosen = [method for method in methods if method.method in asked]
    if not any(method.current_a is not None for method in chosen) and LoadMethod.STANDARD not in asked:
        return [methods[0], *chosen]
    return chosen


def _compared(method: MethodLoad, used: MethodLoad | None) -> MethodLoad:
    """The method with the reason why it gives more than the one that decides."""
    if used is None or method.current_a is None or method is used:
        return method
    more = value_of(method.current_a) - value_of(used.current_a)
    why = "gives the same" if more == 0.0 else f"gives {more:g} A more: {_BEYOND[method.method]}"
    return replace(method, why=why)


def _continuous(gathered: Gathered, used: MethodLoad) -> Number:
    """The continuous part: EV supply equipment and loads stated as continuous, not those left out."""
    amps = [_amperes(item) for item in gathered.items if item.continuous and item.tag not in used.left_out]
    amps += [stated.load.leg1_continuous for stated in gathered.stated if value_of(stated.load.leg1_continuous)]
    if not amps:
        return 0.0
    return label(continuous_part(amps, used.current_a), f"{gathered.tag}.load.I_cont")


def _amperes(item: LoadItem) -> Number:
    return label(current_from_va(item.va, leg_voltage(item.legs), "load_total", f"current of {item.text}"), f"{item.tag}.load.I", f"I_{item.tag}")
