"""Article 710: systems without a utility service.

References
----------
``standalone_capacity`` 710.15(A), ``standalone_conductor`` 710.15(B),
``panel_protection`` 408.36, ``separately_derived`` 250.30.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.backup import largest_single_load
from linecalc.calc.load import apparent_power
from linecalc.calc.interconnection import bus_all_devices
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.loads import BOTH_LEGS, legs_of, load_current, nominal_voltage, term_of
from linecalc.network.records import Kind, Node
from linecalc.rules.art702_backup import DIFFER, LARGEST, backup_of
from linecalc.sizing.records import Sized
from linecalc.term import Number, given, label, value_of

LEG_V = 120.0


def largest_load(sized: Sized) -> Iterator[Check]:
    """The supply carries the largest single load; the calculated load is printed beside it.

    For a system with a utility service only where that method is chosen.

    References
    ----------
    ``standalone_capacity``: 710.15(A).
    """
    chosen = sized.network.project.backup.method == LARGEST
    backup = backup_of(sized) if chosen or sized.network.is_standalone() else None
    if backup is None:
        return
    if not sized.network.is_standalone():
        yield _scope(sized)
    inside = set(sized.network.below(backup.isolation.tag)) if backup.isolation is not None else None
    loads = [node for node in sized.network.of_kind(Kind.LOAD) if node.item.kind != "calculated" and (inside is None or node.item.panel in inside)]
    if not loads:
        needs = ("the loads themselves, the largest at least",)
        yield not_checked(sized.book, "standalone_capacity", "system", "no single load is described", needs)
    else:
        largest = label(largest_single_load([_power(sized, node) for node in loads]), "system.S_largest")
        yield limit_check(
            sized.book,
            "standalone_capacity",
            "system",
            largest,
            backup.firm_va,
            "VA",
            "the units carry the largest single load",
            "the units do not carry the largest single load",
        )
    yield _whole_load(sized, backup.load_a, backup.firm_va)


def _scope(sized: Sized) -> Check:
    """Whether the edition's article covers an island behind a utility service."""
    if sized.book.wording.island_is_stand_alone:
        message = f"largest single load chosen as the method for the island; {DIFFER}"
        return remark(sized.book, "standalone_capacity.scope", "system", Level.NOTE, message)
    message = (
        "largest single load chosen as the method, but this edition's article on stand-alone systems no longer covers the island "
        "of a system with a utility service: 702.4 asks for the full load or a load management; ask the AHJ"
    )
    return remark(sized.book, "standalone_capacity.scope", "system", Level.WARN, message)


def _power(sized: Sized, node: Node) -> Number:
    volts = nominal_voltage(sized.network.project)
    if legs_of(node.item) != BOTH_LEGS:
        volts = given(LEG_V, "V", "V_leg", volts.origin, "nominal voltage of a leg")
    return label(apparent_power(load_current(node.tag, node.item, []), volts, "standalone_capacity", f"load {node.tag}"), f"{node.tag}.S_load", f"S_{node.tag}")


def _whole_load(sized: Sized, load_a: Number, firm_va: Number) -> Check:
    """The calculated load may exceed what stand-alone units carry; the reader is told."""
    whole = label(apparent_power(load_a, nominal_voltage(sized.network.project), "standalone_capacity", "all loads together"), "system.S_load", "S_load")
    share = f"all loads together {value_of(whole) / 1000:.4g} kVA, the units carry {value_of(firm_va) / 1000:.4g} kVA"
    more = "; loads must be chosen by hand" if value_of(whole) > value_of(firm_va) * (1 + 1e-9) else ""
    return remark(sized.book, "standalone_capacity.whole", "system", Level.NOTE, f"{share}{more}", (whole, firm_va))


def sources_on_bus(sized: Sized) -> Iterator[Check]:
    """The bus where the units come together is rated for the devices of all of them.

    References
    ----------
    ``panel_protection``: 408.36; ``standalone_conductor``: 710.15(B).
    """
    network = sized.network
    if not network.is_standalone():
        return
    feeding = [step for step in network.children.get(network.root, ()) if any(tag in sized.currents.sources for tag in network.below(step.down))]
    unknown = [step.tag for step in feeding if sized.circuit(step.tag).device is None]
    if unknown or not feeding:
        needs = tuple(f"circuit.{tag}.breaker" for tag in unknown)
        yield not_checked(sized.book, "panel_protection.sources", network.root, "a device between the units and their bus is not known", needs)
        return
    devices = label(bus_all_devices([sized.circuit(step.tag).device.rating for step in feeding]), f"{network.root}.source_devices")
    bus = term_of(network.nodes[network.root].item.bus, "I_bus", f"panel.{network.root}.bus", f"bus rating of {network.root}")
    yield limit_check(
        sized.book,
        "panel_protection.sources",
        network.root,
        devices,
        bus,
        "A",
        "the devices of all units together are within the bus that they feed",
        "the devices of all units together are above the bus that they feed",
    )


def one_bond(sized: Sized) -> Iterator[Check]:
    """Stand-alone, the neutral is bonded at exactly one place, with an electrode.

    References
    ----------
    ``separately_derived``: 250.30.
    """
    network = sized.network
    if not network.is_standalone():
        return
    units = network.of_kind(Kind.UNIT)
    places = network.of_kind(Kind.PANEL, Kind.DISCONNECT)
    unknown = [f"equipment.{node.item.equipment}.neutral_bond" for node in units if node.data.neutral_bond is None]
    unknown += [f"{node.kind.value}.{node.tag}.neutral_bond" for node in places if node.kind is Kind.PANEL and node.item.neutral_bond is None]
    if unknown:
        yield not_checked(sized.book, "separately_derived", "system", "where the neutral is bonded is not given", tuple(dict.fromkeys(unknown)))
        return
    bonded = [node.tag for node in places if node.item.neutral_bond] + [node.tag for node in units if node.data.neutral_bond != "none"]
    level = Level.PASS if len(bonded) == 1 else Level.FAIL
    where = ", ".join(bonded) or "nothing"
    message = f"stand-alone: the neutral is bonded in {where}; exactly one bond is needed, with an electrode"
    yield remark(sized.book, "separately_derived", "system", level, message)
