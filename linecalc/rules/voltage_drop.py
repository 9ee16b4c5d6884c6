"""Voltage drop and rise: informational notes of the code, or the user's own targets.

References
----------
``voltage_drop_feeder_note``, ``voltage_drop_branch_note``; ``voltage_drop`` for targets.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.calc.drop import longest_length
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.network.records import Mode, System
from linecalc.sizing.ahead import is_branch
from linecalc.sizing.records import ModeDrop, Sized, SizedCircuit
from linecalc.term import given, label, value_of

INFORMATIONAL_PERCENT = 3.0


def worst_drop(circuit: SizedCircuit) -> ModeDrop | None:
    """The mode with the largest drop."""
    return max(circuit.drops, key=lambda drop: value_of(drop.percent), default=None)


def drops(sized: Sized) -> Iterator[Check]:
    """The largest drop of each circuit: a note above 3 %, a warning above the user's target.

    References
    ----------
    ``voltage_drop_feeder_note``, ``voltage_drop_branch_note``, ``voltage_drop``.
    """
    for circuit in sized.circuits:
        worst = worst_drop(circuit)
        if worst is not None and circuit.determined:
            yield _judged(sized, circuit, worst)
        elif circuit.sections and circuit.determined and _carries(circuit):
            needs = (f"circuit.{circuit.tag}: a conductor listed in Chapter 9 Table 9, and for DC its voltage",)
            yield not_checked(sized.book, "voltage_drop", circuit.tag, "the voltage drop cannot be computed", needs)


def _carries(circuit: SizedCircuit) -> bool:
    return any(value_of(current.continuous) + value_of(current.noncontinuous) > 0.0 for _, current in circuit.currents.modes)


def _judged(sized: Sized, circuit: SizedCircuit, worst: ModeDrop) -> Check:
    target = circuit.circuit.item.drop_target or getattr(sized.network.project.service, "drop_target", None)
    word = "rise" if worst.mode is Mode.EXPORT else "drop"
    mode = "at operating current" if worst.mode is Mode.DC else f"in {worst.mode.value} mode"
    if target is not None:
        owner = f"circuit.{circuit.tag}" if circuit.circuit.item.drop_target else "service"
        limit = term_of(target, "target", f"{owner}.drop_target", "the user's target")
        return _against(sized, circuit, worst, f"{word} {mode}", "voltage_drop", limit, Level.WARN)
    limit = given(INFORMATIONAL_PERCENT, "percent", "note", "rule:voltage_drop_feeder_note", "informational 3 %")
    return _against(sized, circuit, worst, f"{word} {mode}", _note_key(sized, circuit), limit, Level.NOTE)


def _note_key(sized: Sized, circuit: SizedCircuit) -> str:
    if circuit.circuit.system is not System.AC:
        return "voltage_drop"
    branch = is_branch(sized.network, circuit.circuit)
    return "voltage_drop_branch_note" if branch else "voltage_drop_feeder_note"


def _against(sized: Sized, circuit: SizedCircuit, worst: ModeDrop, words: str, rule: str, limit: object, broken: Level) -> Check:
    flip = None
    if value_of(worst.percent) > 0.0 and circuit.circuit.length_ft:
        most = longest_length(circuit.circuit.length_ft, value_of(worst.percent), value_of(limit))
        flip = f"within it to {most:.4g} ft of the same proportions"
    kind = "the user's target" if rule == "voltage_drop" and broken is Level.WARN else "the informational 3 %"
    return limit_check(
        sized.book,
        rule,
        circuit.tag,
        worst.percent,
        limit,
        "percent",
        f"{words} is within {kind}",
        f"{words} is above {kind}",
        broken=broken,
        terms=tuple(drop.percent for drop in circuit.drops if drop is not worst),
        flip=flip,
    )


def rises(sized: Sized) -> Iterator[Check]:
    """The voltage rise from each source to the meter, service conductors included.

    References
    ----------
    ``voltage_drop``: a target of the utility or the user, else informational.
    """
    target = getattr(sized.network.project.service, "rise_target", None)
    for circuit in sized.circuits:
        if circuit.rise_to_meter is None:
            continue
        message = f"rise from {circuit.circuit.down} to the meter {value_of(circuit.rise_to_meter):.3g} %, service conductors included"
        if target is None:
            yield remark(sized.book, "voltage_drop.rise", circuit.tag, Level.NOTE, message, (circuit.rise_to_meter,))
            continue
        limit = term_of(target, "target", "service.rise_target", "rise target")
        level = Level.PASS if at_most(circuit.rise_to_meter, limit) else Level.WARN
        yield Check(
            "voltage_drop.rise",
            circuit.tag,
            level,
            message,
            sized.book.cite("voltage_drop").text,
            label(circuit.rise_to_meter, f"{circuit.tag}.rise"),
            limit,
            "percent",
        )
