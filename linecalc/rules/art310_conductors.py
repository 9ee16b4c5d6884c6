"""Article 310 and the articles that size conductors: terminals, conditions, insulation, parallel sets."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.ampacity import Portion, governing_portion
from linecalc.calc.compare import same
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.codebook.sizes import SMALLEST_PARALLEL, size_index
from linecalc.project.model import RACEWAYS
from linecalc.sizing.cables import is_inside
from linecalc.sizing.circuits import conductor_key
from linecalc.sizing.motor import motor_behind
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.sizing.surroundings import low_over_roof, reads_as_wet
from linecalc.sizing.terminals import wire_range_of
from linecalc.term import value_of

USE_TYPES = ("USE", "USE-2")


def terminal_test(sized: Sized) -> Iterator[Check]:
    """T1: the terminal column, without factors, carries 125 % of the continuous current plus the rest.

    References
    ----------
    ``pv_conductor``, ``inverter_output_conductor``, ``feeder_continuous_conductor``,
    ``service_continuous_conductor``, ``branch_continuous_conductor``, ``ess_conductor``.
    """
    for circuit in sized.circuits:
        rule = f"{conductor_key(circuit.circuit, sized.currents)}.T1"
        if not circuit.determined or circuit.currents.needs or circuit.t1_ampacity is None:
            needs = circuit.currents.needs or circuit.needs or (f"circuit.{circuit.tag}.conductor",)
            yield not_checked(sized.book, rule, circuit.tag, "the terminal test (T1) has no current, no size or no listed ampacity", needs)
            continue
        column = f"{circuit.terminal_column_c} degC terminals"
        motor = motor_behind(sized.network, circuit.circuit)
        asked = "125 % of the continuous current" if motor is None else "the least ampacity of the motor circuit"
        yield limit_check(
            sized.book,
            rule,
            circuit.tag,
            circuit.t1_ampacity,
            circuit.t1_need,
            "A",
            f"T1: {circuit.conductor.text} at {column} carries {asked}",
            f"T1: {circuit.conductor.text} at {column} is too small before any factor",
            Sense.AT_LEAST,
        )


def conditions_test(sized: Sized) -> Iterator[Check]:
    """T2: the insulation column after ambient and count factors carries the current.

    References
    ----------
    As :func:`terminal_test`; ``ampacity_rules``, ``ambient_correction``, ``ccc_adjustment``.
    """
    for circuit in sized.circuits:
        rule = f"{conductor_key(circuit.circuit, sized.currents)}.T2"
        if circuit.needs:
            yield not_checked(sized.book, rule, circuit.tag, "the conditions of use (T2) are not fully known", circuit.needs)
            continue
        if circuit.t2_ampacity is None:
            hot = ", ".join(section.section for section in circuit.sections if section.ampacity is None)
            message = f"T2: {circuit.conductor.text} has no ampacity in {hot}: not listed there, or too hot for its insulation"
            yield remark(sized.book, rule, circuit.tag, Level.FAIL, message, (circuit.t2_need,))
            continue
        aside = f"; {', '.join(circuit.run.set_aside)} set aside by the 10 ft and 10 % rule" if circuit.run.set_aside else ""
        where = f"in {circuit.run.tag}{aside}"
        yield limit_check(
            sized.book,
            rule,
            circuit.tag,
            circuit.t2_ampacity,
            circuit.t2_need,
            "A",
            f"T2: {circuit.conductor.text} carries the current after factors, lowest {where}",
            f"T2: {circuit.conductor.text} is too small after factors, {where}",
            Sense.AT_LEAST,
            flip=_ambient_flip(circuit),
        )


def _ambient_flip(circuit: SizedCircuit) -> str | None:
    """The smallest factor at which the governing section would still pass."""
    section = next((found for found in circuit.sections if found.section == circuit.run.tag), None)
    if section is None or section.ambient_factor is None or value_of(circuit.t2_ampacity) == 0.0:
        return None
    factor = value_of(section.ambient_factor) * value_of(circuit.t2_need) / value_of(circuit.t2_ampacity)
    return f"passes while the ambient factor in {section.section} is at least {factor:.3f}"


def other_reading_of_lower_portion(sized: Sized) -> Iterator[Check]:
    """Where readers of an edition differ on the 10 percent, the other reading's result.

    References
    ----------
    ``ampacity_rules``.
    """
    basis = sized.book.wording.lower_portion_other_reading
    if basis is None:
        return
    for circuit in sized.circuits:
        if circuit.run is None or not circuit.run.set_aside:
            continue
        portions = [Portion(section.section, section.length_ft, section.ampacity) for section in circuit.sections]
        other = governing_portion(portions, basis)
        if not same(other.ampacity_a, circuit.run.ampacity_a):
            message = (
                f"10 % taken of the circuit; taken of the {basis.value}, as editions to 2014 worded it, "
                f"{other.tag} would govern with {value_of(other.ampacity_a):.4g} A"
            )
            yield remark(sized.book, "ampacity_rules", circuit.tag, Level.WARN, message, (other.ampacity_a,))


def insulation_in_place(sized: Sized) -> Iterator[Check]:
    """The insulation is permitted in the wettest place of the run.

    References
    ----------
    ``insulation_rating``, ``wire_in_wet_place``.
    """
    for circuit in sized.circuits:
        if not circuit.sections:
            continue
        moisture = max((section.moisture for section in circuit.sections), key=("dry", "damp", "wet").index)
        if circuit.insulation_c is None:
            message = f"{circuit.conductor.insulation} has no rating in a {moisture} place"
            yield remark(sized.book, "wire_in_wet_place", circuit.tag, Level.FAIL, message)
        else:
            message = f"{circuit.conductor.insulation} is rated {circuit.insulation_c} degC in the wettest place ({moisture})"
            yield remark(sized.book, "insulation_rating", circuit.tag, Level.PASS, message)


def underground_service_entrance(sized: Sized) -> Iterator[Check]:
    """USE-2 marked with no other type is not for the inside of a building.

    References
    ----------
    ``se_cable_uses``: 338.12(B)(1).
    """
    for circuit in sized.circuits:
        inside = [tag for tag in circuit.circuit.sections if is_inside(sized.network.project.section[tag])]
        if circuit.conductor.insulation in USE_TYPES and inside:
            kind = circuit.conductor.insulation
            message = f"{kind} in {', '.join(inside)}, inside the building: {kind} that carries no other mark may not be used there; state RHW or RHW-2 where it is marked so too"
            yield remark(sized.book, "se_cable_uses.use", circuit.tag, Level.WARN, message)


def stated_moisture(sized: Sized) -> Iterator[Check]:
    """A raceway stated as dry in a place that reads as outdoors or underground is pointed out.

    References
    ----------
    ``wire_in_wet_place``: 300.5(B), 300.9.
    """
    for tag, section in sized.network.project.section.items():
        if section.moisture == "dry" and section.method in RACEWAYS and reads_as_wet(section):
            message = f'{tag} is stated as dry, but "{section.place}" reads as outdoors or underground, where a raceway is wet inside'
            yield remark(sized.book, "wire_in_wet_place", tag, Level.WARN, message)


def terminal_temperature(sized: Sized) -> Iterator[Check]:
    """Terminal temperatures that had to be assumed are said.

    References
    ----------
    ``terminal_temperature``: 110.14(C)(1).
    """
    for circuit in sized.circuits:
        low, high = circuit.terminals_c
        words = f"terminals {low} and {high} degC, column {circuit.terminal_column_c} degC"
        level = Level.NOTE if circuit.terminals_assumed else Level.PASS
        suffix = "; an end not given is assumed, verify the markings" if circuit.terminals_assumed else ""
        yield remark(sized.book, "terminal_temperature", circuit.tag, level, words + suffix)


def terminal_wire_range(sized: Sized) -> Iterator[Check]:
    """A conductor has a size that the terminals at its ends are marked for, where the marking is stated.

    References
    ----------
    ``terminal_wire_range``: 110.3(B), 110.14(A).
    """
    for circuit in sized.circuits:
        for end, tag in (("from", circuit.circuit.item.from_), ("to", circuit.circuit.item.to)):
            marked = wire_range_of(circuit.circuit, sized.network.nodes[tag], end)
            if marked is None:
                continue
            size = circuit.conductor.size
            fits = size_index(marked.smallest) <= size_index(size) <= size_index(marked.largest)
            words = f"{size} {'is' if fits else 'is not'} within {marked.smallest} to {marked.largest}, which the terminals of {tag} are marked for"
            yield remark(sized.book, "terminal_wire_range", circuit.tag, Level.PASS if fits else Level.FAIL, words)


def rooftop_height(sized: Sized) -> Iterator[Check]:
    """The edition that asks for a height above the roof as such: a warning below it.

    References
    ----------
    ``rooftop_adder``: 310.15(B)(3)(c) in 2017.
    """
    if not sized.book.wording.rooftop_height_required:
        return
    trigger, _ = sized.book.rooftop()
    for circuit in sized.circuits:
        for tag in circuit.circuit.sections:
            if low_over_roof(sized.book, sized.network.project.section[tag]):
                message = f"{tag} lies lower than {trigger:g} in above the roof, which this edition asks to avoid"
                yield remark(sized.book, "rooftop_adder", circuit.tag, Level.WARN, message)


def parallel_sets(sized: Sized) -> Iterator[Check]:
    """Parallel conductors are 1/0 AWG or larger; equal lengths are assumed and said.

    References
    ----------
    ``parallel_conductors``.
    """
    for circuit in sized.circuits:
        if circuit.conductor.parallel == 1:
            continue
        large_enough = size_index(circuit.conductor.size) >= size_index(SMALLEST_PARALLEL)
        level = Level.PASS if large_enough else Level.FAIL
        message = f"{circuit.conductor.parallel} sets of {circuit.conductor.size}, equal lengths assumed"
        message += "" if large_enough else f"; parallel conductors start at {SMALLEST_PARALLEL}"
        yield remark(sized.book, "parallel_conductors", circuit.tag, level, message)


def supply_side_least_size(sized: Sized) -> Iterator[Check]:
    """Conductors of a supply-side source connection reach the edition's least size.

    References
    ----------
    ``supply_side_conductor``: 705.11(B) in 2020 and 2023.
    """
    for circuit in sized.circuits:
        if circuit.least_size is None:
            continue
        area = sized.book.area_cmil(circuit.conductor.size)
        least = sized.book.area_cmil(circuit.least_size)
        yield limit_check(
            sized.book,
            "supply_side_conductor",
            circuit.tag,
            area,
            least,
            "cmil",
            f"at least {circuit.least_size} on the supply side",
            f"smaller than {circuit.least_size} on the supply side",
            Sense.AT_LEAST,
        )


def whole_dwelling(sized: Sized) -> Iterator[Check]:
    """A conductor that carries the whole load of the dwelling: 83 % of the rating.

    References
    ----------
    ``dwelling_83pct``: 310.12, 310.15(B)(7) in 2017.
    """
    for circuit in sized.circuits:
        if circuit.dwelling_need is None:
            continue
        if circuit.needs or circuit.protect_a is None:
            yield not_checked(sized.book, "dwelling_83pct", circuit.tag, "the ampacity after factors is not known", circuit.needs)
            continue
        yield limit_check(
            sized.book,
            "dwelling_83pct",
            circuit.tag,
            circuit.protect_a,
            circuit.dwelling_need,
            "A",
            f"{circuit.conductor.text} reaches 83 % of the rating that carries the whole dwelling",
            f"{circuit.conductor.text} is below 83 % of the rating that carries the whole dwelling",
            Sense.AT_LEAST,
        )


def given_length(sized: Sized) -> Iterator[Check]:
    """A circuit without a path has no surroundings, so nothing about it passes.

    References
    ----------
    ``ampacity_rules``.
    """
    for circuit in sized.circuits:
        if not circuit.sections:
            yield not_checked(
                sized.book, "ampacity_rules", circuit.tag, "no path: ambient, count, fill and drop are not known", (f"circuit.{circuit.tag}.path",)
            )


