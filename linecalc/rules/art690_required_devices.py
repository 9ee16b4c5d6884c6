"""Article 690: what must be present beside the conductors: rapid shutdown, arc-fault and ground-fault protection, disconnects.

References
----------
``rapid_shutdown`` 690.12, ``pv_arc_fault`` 690.11, ``pv_system_grounding`` 690.41(B),
``pv_disconnect`` 690.13, ``pv_equipment_disconnect`` 690.15.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Node
from linecalc.rules.art690_inputs import Input, inputs_of_units
from linecalc.sizing.holders import Holder, holder_of, is_outdoors, sources_with_strings
from linecalc.sizing.records import Sized
from linecalc.term import Number, label, largest, named, total, value_of

SYSTEM = "system"
ARC_FAULT_FROM_V = 80.0
NOT_PRESENT = "none"
INSIDE = {
    "80 V": "brought to 80 V or less within 30 s inside the array boundary",
    "listed array": "the array is listed as a hazard control system",
    "no exposed metal": "no exposed wiring or metal parts inside the array boundary",
}


def rapid_shutdown(sized: Sized) -> Iterator[Check]:
    """What starts it, what lowers the voltage, and what happens inside the array boundary.

    References
    ----------
    ``rapid_shutdown``: 690.12.
    """
    if not sized.strings:
        return
    stated = sized.network.project.rapid_shutdown
    if stated.exempt is not None:
        yield remark(sized.book, "rapid_shutdown", SYSTEM, Level.NOTE, f"rapid shutdown is not asked for: {stated.exempt}; the AHJ decides")
        return
    yield _initiator(sized)
    needs = tuple(f"rapid_shutdown.{key}" for key in ("equipment", "listing") if getattr(stated, key) is None)
    if needs:
        yield not_checked(sized.book, "rapid_shutdown", SYSTEM, "what lowers the voltage of the PV circuits is not given", needs)
    else:
        message = f"outside the array boundary 30 V or less within 30 s by {stated.equipment}; listing: {stated.listing}"
        yield remark(sized.book, "rapid_shutdown", SYSTEM, Level.PASS, message)
    if stated.inside is None:
        needs = ("rapid_shutdown.inside",)
        yield not_checked(sized.book, "rapid_shutdown.inside", SYSTEM, "what happens inside the array boundary is not given", needs)
    else:
        yield remark(sized.book, "rapid_shutdown.inside", SYSTEM, Level.PASS, INSIDE[stated.inside])


def _initiator(sized: Sized) -> Check:
    stated, rule = sized.network.project.rapid_shutdown, "rapid_shutdown.initiator"
    holder = holder_of(sized, stated.initiator, SYSTEM)
    location = stated.location or (holder.location if holder else None)
    outdoors = stated.outdoors if stated.outdoors is not None else is_outdoors(location)
    values = (("initiator", holder), ("location", location), ("outdoors", outdoors))
    needs = tuple(f"rapid_shutdown.{key}" for key, value in values if value is None)
    if needs:
        return not_checked(sized.book, rule, SYSTEM, "what starts the rapid shutdown, and where it is, is not given", needs)
    if not outdoors:
        message = f"the initiation device {holder.name} is indoors ({location}); at a dwelling it must be readily accessible outdoors"
        return remark(sized.book, rule, SYSTEM, Level.FAIL, message)
    return remark(sized.book, rule, SYSTEM, Level.PASS, f"started by {holder.name}, {location}, outdoors")


def arc_fault(sized: Sized) -> Iterator[Check]:
    """Strings of 80 V or more have listed dc arc-fault protection.

    References
    ----------
    ``pv_arc_fault``: 690.11.
    """
    for node in sources_with_strings(sized):
        volts = [string.cold_voc for string in sized.strings if string.unit == node.tag and string.cold_voc is not None]
        if volts and value_of(largest(*volts)) < ARC_FAULT_FROM_V:
            message = f"no string of {node.tag} reaches {ARC_FAULT_FROM_V:g} V: arc-fault protection is not asked for"
            yield remark(sized.book, "pv_arc_fault", node.tag, Level.NOTE, message, tuple(volts))
            continue
        yield _stated(sized, node, "arc_fault", "pv_arc_fault", "dc arc-fault protection")


def ground_fault(sized: Sized) -> Iterator[Check]:
    """PV circuits have dc ground-fault detection that interrupts and indicates.

    References
    ----------
    ``pv_system_grounding``: 690.41(B).
    """
    for node in sources_with_strings(sized):
        yield _stated(sized, node, "ground_fault", "pv_system_grounding", "dc ground-fault protection")


def _stated(sized: Sized, node: Node, key: str, rule: str, name: str) -> Check:
    found = getattr(node.data, key)
    if found is None:
        return not_checked(sized.book, rule, node.tag, f"{name} of {node.tag} is not given", (f"equipment.{node.item.equipment}.{key}",))
    if found.strip().lower() == NOT_PRESENT:
        return remark(sized.book, rule, node.tag, Level.FAIL, f"{node.tag} has no {name}, and its strings need it")
    return remark(sized.book, rule, node.tag, Level.PASS, f"{name}: {found}")


def pv_disconnects(sized: Sized) -> Iterator[Check]:
    """Each unit with strings has a PV disconnect, and a switch inside it is rated for voltage and current.

    References
    ----------
    ``pv_disconnect``: 690.13.
    """
    for node in sources_with_strings(sized):
        holder = holder_of(sized, node.item.pv_disconnect, node.tag)
        if holder is None:
            needs = (f"{node.kind.name.lower()}.{node.tag}.pv_disconnect",)
            yield not_checked(sized.book, "pv_disconnect", node.tag, f"what disconnects the PV circuits of {node.tag} is not given", needs)
            continue
        yield remark(sized.book, "pv_disconnect", node.tag, Level.PASS, f"PV circuits are disconnected by {holder.text}")
        if holder.integral:
            yield from _integral_ratings(sized, node)


def _integral_ratings(sized: Sized, node: Node) -> Iterator[Check]:
    path = f"equipment.{node.item.equipment}"
    inputs = [one for one in inputs_of_units(sized) if one.unit.tag == node.tag]
    volts = tuple(string.cold_voc for string in sized.strings if string.unit == node.tag)
    amps = tuple(_input_current(one) for one in inputs)
    for key, rule, unit, demands, symbol in (
        ("dc_switch_voltage", "pv_disconnect.voltage", "V", volts, "V_switch"),
        ("dc_switch_current", "pv_disconnect.current", "A", amps, "I_switch"),
    ):
        rating = getattr(node.data, key)
        if rating is None or not demands or None in demands:
            needs = (f"{path}.{key}",) if rating is None else ("site.low_temperature",)
            yield not_checked(sized.book, rule, node.tag, f"the rating of the switch inside {node.tag} is not compared", needs)
            continue
        limit = term_of(rating, symbol, f"{path}.{key}", "rating of the switch inside the unit")
        yield _rated(sized, node, rule, unit, demands, limit)


def _input_current(one: Input) -> Number:
    """Maximum current of the strings on one input together, in amperes."""
    together = total([string.max_current for string in one.strings])
    if len(one.strings) == 1:
        return together
    return label(named(together, "I_in", "A", f"maximum current of {one.name}", "pv_disconnect"), f"{one.unit.tag}.I_in{one.number}")


def _rated(sized: Sized, node: Node, rule: str, unit: str, demands: tuple[Number, ...], limit: Number) -> Check:
    what = "highest DC voltage" if unit == "V" else "largest current"
    return limit_check(
        sized.book, rule, node.tag, max(demands, key=value_of), limit, unit,
        f"the switch inside {node.tag} is rated for the {what}", f"the switch inside {node.tag} is rated below the {what}", Sense.AT_MOST,
    )  # fmt: skip


def equipment_disconnects(sized: Sized) -> Iterator[Check]:
    """Each unit can be isolated from its PV and AC circuits within sight.

    References
    ----------
    ``pv_equipment_disconnect``: 690.15.
    """
    for node in sources_with_strings(sized):
        holders = {key: holder_of(sized, getattr(node.item, key), node.tag) for key in ("pv_disconnect", "ac_disconnect")}
        yield _in_sight(sized, node, holders)


def _in_sight(sized: Sized, node: Node, holders: dict[str, Holder | None]) -> Check:
    rule, base = "pv_equipment_disconnect", f"{node.kind.name.lower()}.{node.tag}"
    needs, far = [], []
    for key, holder in holders.items():
        if holder is None:
            needs.append(f"{base}.{key}")
        elif not holder.integral and getattr(node.item, f"{key}_in_sight") is None:
            needs.append(f"{base}.{key}_in_sight")
        elif not holder.integral and not getattr(node.item, f"{key}_in_sight"):
            far.append(holder.text)
    if needs:
        return not_checked(sized.book, rule, node.tag, f"whether {node.tag} can be isolated within sight is not known", tuple(needs))
    if far:
        message = f"not within sight of {node.tag}: {'; '.join(far)}; it must be lockable open where the edition allows that, ask the AHJ"
        return remark(sized.book, rule, node.tag, Level.WARN, message)
    told = " and ".join(holder.text for holder in holders.values() if holder is not None)
    return remark(sized.book, rule, node.tag, Level.PASS, f"isolated within sight or inside: {told}")
