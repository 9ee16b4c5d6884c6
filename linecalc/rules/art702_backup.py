"""Article 702: backup capacity, each leg and the neutral in island mode.

References
----------
``standby_capacity`` 702.4, ``standby_capacity_manual``, ``load_neutral`` 220.61,
``neutral_of_source``. Reviewers differ on which article governs a system with
storage behind an isolation device; the method used is printed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.calc.backup import real_power, source_neutral_need
from linecalc.calc.load import apparent_power
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import nominal_voltage, term_of, unbalance_not_given
from linecalc.network.records import Kind, Mode, Node
from linecalc.rules.art702_firm_power import firm_volt_amperes, firm_watts
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.term import Number, given, label, named, smallest, total, value_of

FULL, MANAGED, LARGEST, MANUAL = "full load", "load management", "largest single load", "manual"
DIFFER = "reviewers differ on 702.4 and 710.15 here"


@dataclass(frozen=True, slots=True)
class Backup:
    """The islanded part: what separates it, its units, load current of the worse leg, unbalance, firm power.

    ``isolation`` is the isolation device, a unit with built-in transfer, or
    stand-alone the panel where the units come together.
    """

    isolation: Node
    units: tuple[Node, ...]
    load_a: Number
    unbalance_a: Number
    firm_va: Number
    firm_w: Number | None
    power_factor: Number | None
    needs: tuple[str, ...]


def backup_of(sized: Sized) -> Backup | None:
    """The figures of the islanded part, or None where nothing can be backed up."""
    network = sized.network
    if network.island is None:
        return None
    isolation = network.nodes[network.island]
    inside = set(network.below(isolation.tag))
    units = tuple(node for node in network.of_kind(Kind.UNIT) if node.tag in inside)
    if not units:
        return None
    below = [sized.circuit(circuit.tag) for circuit in network.children.get(isolation.tag, ())]
    supply = [sized.currents.island_load] if network.is_standalone() else [circuit.currents.of(Mode.SUPPLY) for circuit in below]
    load = label(named(total([_current(found) for found in supply]), "I_backup", "A", "backed-up load on the more loaded leg", "standby_capacity"), "system.I_backup")
    unbalance = total([found.neutral for found in supply if value_of(found.neutral) > 0.0])
    firm_va = firm_volt_amperes(sized, isolation)
    needs: list[str] = []
    firm_w = firm_watts(units, firm_va, needs)
    return Backup(isolation, units, load, unbalance, firm_va, firm_w, _power_factor(sized, inside, needs), tuple(dict.fromkeys(needs)))


def _current(found: object) -> Number:
    if value_of(found.noncontinuous) == 0.0:
        return found.continuous
    return found.noncontinuous if value_of(found.continuous) == 0.0 else found.continuous + found.noncontinuous


def _power_factor(sized: Sized, inside: set[str], needs: list[str]) -> Number | None:
    loads = [node for node in sized.network.of_kind(Kind.LOAD) if node.item.panel in inside]
    calculated = [node for node in loads if node.item.kind == "calculated"]
    if not calculated and sized.network.project.dwelling is not None:
        return _of_dwelling(sized, needs)
    counted = calculated or loads
    known = [node for node in counted if node.item.power_factor is not None]
    if not counted or len(known) < len(counted):
        needs.extend(f"load.{node.tag}.power_factor" for node in counted if node not in known)
        return None
    worst = max(known, key=lambda node: node.item.power_factor)
    return given(worst.item.power_factor, "", "pf", f"load.{worst.tag}.power_factor", "power factor of the backed-up load")


def _of_dwelling(sized: Sized, needs: list[str]) -> Number | None:
    """The power factor of a computed load, which holds lighting and receptacles beside the named loads."""
    stated = sized.network.project.dwelling.power_factor
    if stated is None:
        needs.append("dwelling.power_factor")
        return None
    return given(stated, "", "pf", "dwelling.power_factor", "power factor of the dwelling's load")


def capacity(sized: Sized) -> Iterator[Check]:
    """The backed-up load against firm power, by the method chosen, in kVA and in kW.

    References
    ----------
    ``standby_capacity``: 702.4(A)(2) in 2023, 702.4(B)(2) before; ``standby_capacity_manual``.
    """
    backup = backup_of(sized)
    if backup is None or sized.network.is_standalone():
        return
    method = sized.network.project.backup.method or FULL
    if method == LARGEST:
        return
    if method == MANUAL:
        yield remark(sized.book, "standby_capacity_manual", "system", Level.NOTE, f"loads are connected by hand: the user chooses them; {DIFFER}", (backup.firm_va,))
        return
    if method == MANAGED:
        yield from _managed(sized, backup)
        return
    missing = _panels_without_load(sized, backup)
    if missing:
        needs = tuple(f"a load, or a calculated load, on panel {panel}" for panel in missing)
        yield not_checked(sized.book, "standby_capacity", "system", f"the backed-up load of {', '.join(missing)} is not given", needs)
        return
    if value_of(backup.load_a) == 0.0:
        needs = ("a load, or a calculated load, on a backed-up panel",)
        yield not_checked(sized.book, "standby_capacity", "system", "the backed-up load is not given", needs)
        return
    yield from _full(sized, backup)


def _panels_without_load(sized: Sized, backup: Backup) -> tuple[str, ...]:
    below = sized.network.children.get(backup.isolation.tag, ())
    return tuple(panel for step in below for panel in sized.circuit(step.tag).currents.loads_not_given)


def _full(sized: Sized, backup: Backup) -> Iterator[Check]:
    load_va = label(apparent_power(backup.load_a, nominal_voltage(sized.network.project), "standby_capacity", "backed-up load"), "system.S_load", "S_load")
    chosen = "" if sized.network.project.backup.method else " (no method chosen: the strictest is taken)"
    words = f"full backed-up load against firm power{chosen}; {DIFFER}"
    yield limit_check(
        sized.book,
        "standby_capacity",
        "system",
        load_va,
        backup.firm_va,
        "VA",
        f"{words}: the units carry it",
        f"{words}: the units do not carry it",
    )
    yield _kilowatts(sized, backup, load_va, "P_load", "backed-up load")


def _kilowatts(sized: Sized, backup: Backup, volt_amperes: Number, symbol: str, words: str) -> Check:
    """A load in watts, by its power factor, against the firm power of units and storage."""
    if backup.needs or backup.firm_w is None or backup.power_factor is None:
        return not_checked(sized.book, "standby_capacity.kw", "system", f"kilowatts of the {words} are not known", backup.needs)
    return limit_check(
        sized.book,
        "standby_capacity.kw",
        "system",
        label(real_power(volt_amperes, backup.power_factor), f"system.{symbol}"),
        backup.firm_w,
        "W",
        f"{words} in kilowatts is within the firm power of units and storage",
        f"{words} in kilowatts is above the firm power of units and storage",
    )


def _managed(sized: Sized, backup: Backup) -> Iterator[Check]:
    chosen = sized.network.project.backup
    needs = [f"backup.{key}" for key in ("management_setting", "management_listing") if getattr(chosen, key) is None]
    if needs:
        yield not_checked(sized.book, "standby_capacity", "system", "load management needs its setting and listing", tuple(needs))
        return
    setting = _setting(sized)
    set_va = label(apparent_power(setting, nominal_voltage(sized.network.project), "standby_capacity", "setting of the load management"), "system.S_set", "S_set")
    yield limit_check(
        sized.book,
        "standby_capacity",
        "system",
        set_va,
        backup.firm_va,
        "VA",
        f"load management ({chosen.management_listing}) limits the load within firm power; {DIFFER}",
        f"the setting of the load management is above firm power; {DIFFER}",
    )
    yield _kilowatts(sized, backup, set_va, "P_set", "setting of the load management")


def _setting(sized: Sized) -> Number:
    return term_of(sized.network.project.backup.management_setting, "I_set", "backup.management_setting", "setting of the load management")


def ac_coupled(sized: Sized) -> Iterator[Check]:
    """PV inverters inside the backup boundary stay within what the units are stated to control.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    backup = backup_of(sized)
    if backup is None:
        return
    inside = set(sized.network.below(backup.isolation.tag))
    inverters = [node for node in sized.network.of_kind(Kind.INVERTER) if node.tag in inside]
    if not inverters:
        return
    missing = [f"equipment.{node.item.equipment}.ac_coupled_max" for node in backup.units if node.data.ac_coupled_max is None]
    if missing:
        message = f"what the units can control of {', '.join(node.tag for node in inverters)} is not given"
        yield not_checked(sized.book, "listed_instructions.ac_coupled", "system", message, tuple(dict.fromkeys(missing)))
        return
    power = total([term_of(node.data.ac_power, f"P_{node.tag}", f"equipment.{node.item.equipment}.ac_power") for node in inverters])
    most = total([term_of(node.data.ac_coupled_max, f"P_max_{node.tag}", f"equipment.{node.item.equipment}.ac_coupled_max") for node in backup.units])
    yield limit_check(
        sized.book,
        "listed_instructions.ac_coupled",
        "system",
        label(named(power, "P_ac_coupled", "W", "PV inverters inside the backup boundary", "listed_instructions"), "system.P_ac_coupled"),
        label(named(most, "P_ac_coupled_max", "W", "what the units can control", "listed_instructions"), "system.P_ac_coupled_max"),
        "W",
        "PV inverters inside the backup boundary are within what the units can control",
        "PV inverters inside the backup boundary are above what the units can control",
    )


def legs(sized: Sized) -> Iterator[Check]:
    """The more loaded leg against the units' leg rating, and the unbalance against their neutral rating.

    References
    ----------
    ``load_neutral``: 220.61; ``standby_capacity``.
    """
    backup = backup_of(sized)
    if backup is None or sized.network.project.backup.method == MANUAL or value_of(backup.load_a) == 0.0:
        return
    missing = [f"equipment.{node.item.equipment}.leg_current" for node in backup.units if node.data.leg_current is None]
    if missing:
        yield not_checked(sized.book, "standby_capacity.leg", "system", "the leg rating of a unit is not given", tuple(dict.fromkeys(missing)))
    elif sized.network.project.backup.method != LARGEST:
        rating = _sum_of(backup.units, "leg_current", "I_leg_max", "leg ratings together")
        balanced = " (a calculated load counts as balanced between the legs)" if _calculated(sized, backup) else ""
        yield limit_check(
            sized.book,
            "standby_capacity.leg",
            "system",
            _leg_load(sized, backup),
            label(rating, "system.I_leg_max"),
            "A",
            f"the more loaded leg is within the units' leg ratings{balanced}",
            f"the more loaded leg is above the units' leg ratings{balanced}",
        )
    yield from _neutral(sized, backup)


def _leg_load(sized: Sized, backup: Backup) -> Number:
    """The current of the more loaded leg, within the setting of the load management where there is one."""
    chosen = sized.network.project.backup
    if chosen.method != MANAGED or chosen.management_setting is None or chosen.management_listing is None:
        return backup.load_a
    within = smallest(backup.load_a, _setting(sized))
    return label(named(within, "I_leg", "A", "more loaded leg within the load management", "standby_capacity"), "system.I_leg")


def _calculated(sized: Sized, backup: Backup) -> bool:
    inside = set(sized.network.below(backup.isolation.tag))
    return any(node.item.kind == "calculated" and node.item.panel in inside for node in sized.network.of_kind(Kind.LOAD))


def _sum_of(units: tuple[Node, ...], key: str, symbol: str, meaning: str) -> Number:
    terms = [term_of(getattr(node.data, key), f"{symbol}_{node.tag}", f"equipment.{node.item.equipment}.{key}") for node in units]
    return named(total(terms), symbol, "A", meaning, "standby_capacity")


def _neutral(sized: Sized, backup: Backup) -> Iterator[Check]:
    unknown = unbalance_not_given(sized.network, backup.isolation.tag)
    if unknown:
        yield not_checked(sized.book, "load_neutral", "system", "the unbalance of the backed-up load is not given", unknown)
        return
    if value_of(backup.unbalance_a) == 0.0:
        return
    feeding = _feeding_a_neutral(backup)
    if not feeding:
        return
    missing = [f"equipment.{node.item.equipment}.neutral_rating" for node in feeding if node.data.neutral_rating is None]
    if missing:
        yield not_checked(sized.book, "load_neutral", "system", "the neutral rating of a unit is not given", tuple(dict.fromkeys(missing)))
        return
    yield limit_check(
        sized.book,
        "load_neutral",
        "system",
        backup.unbalance_a,
        label(_sum_of(feeding, "neutral_rating", "I_N_max", "neutral ratings together"), "system.I_N_max"),
        "A",
        "the unbalance of the backed-up load is within the units' neutral ratings",
        "the unbalance of the backed-up load is above the units' neutral ratings",
    )


def _feeding_a_neutral(backup: Backup) -> tuple[Node, ...]:
    """The units whose neutral feeds loads, or that do not say what theirs does."""
    return tuple(node for node in backup.units if node.data.neutral not in ("sensing", "none"))


def island_neutral(sized: Sized) -> Iterator[Check]:
    """In an outage some unit feeds the neutral of the 120 V loads: without one their voltage is set by nothing.

    References
    ----------
    ``load_neutral``: 220.61; ``listed_instructions``: 110.3(B).
    """
    backup = backup_of(sized)
    if backup is None or _feeding_a_neutral(backup):
        return
    units = ", ".join(node.tag for node in backup.units)
    if value_of(backup.unbalance_a) > 0.0 or unbalance_not_given(sized.network, backup.isolation.tag):
        message = f"the neutral of {units} feeds no loads, but 120 V loads run in an outage: nothing forms their neutral then"
        yield remark(sized.book, "load_neutral.formed", "system", Level.FAIL, message)


def source_neutrals(sized: Sized) -> Iterator[Check]:
    """The neutral of a unit that feeds 120 V loads carries the largest unbalance at 125 %, full size unless allowed smaller.

    References
    ----------
    ``neutral_of_source``: 705.28(C), 705.95 in 2017; ``load_neutral``.
    """
    backup = backup_of(sized)
    for node in sized.network.of_kind(Kind.UNIT):
        if node.tag not in sized.network.parent or node.data.neutral == "none":
            continue
        circuit = sized.circuit(sized.network.parent[node.tag].tag)
        if node.data.neutral == "sensing":
            yield from _sensing_neutral(sized, circuit)
            continue
        if node.data.neutral is None:
            needs = (f"equipment.{node.item.equipment}.neutral",)
            yield not_checked(sized.book, "neutral_of_source", circuit.tag, "what the unit's neutral carries is not given", needs)
        elif circuit.neutral is None:
            yield remark(sized.book, "neutral_of_source", circuit.tag, Level.FAIL, "the unit feeds 120 V loads but its circuit has no neutral")
        elif backup is not None:
            yield _source_neutral(sized, circuit, node, backup)


def _sensing_neutral(sized: Sized, circuit: SizedCircuit) -> Iterator[Check]:
    """A neutral for sensing only may be reduced, not below the grounding conductor."""
    if circuit.neutral is None or circuit.device is None:
        return
    least = sized.book.egc_size(value_of(circuit.device.rating), circuit.neutral.material)
    yield limit_check(
        sized.book,
        "neutral_of_source",
        circuit.tag,
        sized.book.area_cmil(circuit.neutral.size),
        sized.book.area_cmil(least),
        "cmil",
        f"neutral {circuit.neutral.size} for sensing is not below the grounding conductor, {least}",
        f"neutral {circuit.neutral.size} for sensing is below the grounding conductor, {least}",
        Sense.AT_LEAST,
    )


def _source_neutral(sized: Sized, circuit: SizedCircuit, node: Node, backup: Backup) -> Check:
    ampacity = sized.book.ampacity(circuit.neutral.size, circuit.neutral.material, circuit.terminal_column_c)
    most = sized.currents.sources[node.tag].island_a
    unknown = unbalance_not_given(sized.network, backup.isolation.tag) or _panels_without_load(sized, backup)
    unbalance = most if unknown else smallest(backup.unbalance_a, most)
    need = label(source_neutral_need(unbalance), f"{circuit.tag}.neutral")
    full = circuit.smallest is None or sized.book.area_cmil(circuit.neutral.size).value >= sized.book.area_cmil(circuit.smallest).value
    if not full and node.data.reduced_neutral != "allowed":
        message = f"neutral {circuit.neutral.size} is smaller than {circuit.smallest} and the instructions do not allow it"
        return remark(sized.book, "neutral_of_source", circuit.tag, Level.FAIL, message, (need,))
    return limit_check(
        sized.book,
        "neutral_of_source",
        circuit.tag,
        ampacity,
        need,
        "A",
        f"neutral {circuit.neutral.size} carries the unbalance",
        f"neutral {circuit.neutral.size} does not carry the unbalance",
        Sense.AT_LEAST,
    )
