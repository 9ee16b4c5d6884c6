"""Article 210: the circuits of household cooking appliances.

References
----------
``cooking_circuit`` 210.19(A)(3), 210.19(C) in 2023; ``cooking_circuit_load`` Table 220.55, Note 4.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.dwelling_load import range_neutral_need
from linecalc.check import Check, Level, Sense, limit_check, remark
from linecalc.codebook.sizes import size_index
from linecalc.network.branches import RANGE, cooking_behind
from linecalc.network.loads import load_current
from linecalc.network.records import Mode
from linecalc.rules.demand_checks import neutral_ampacity
from linecalc.sizing.cooking import NEUTRAL_LEAST, least_rating_a
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.term import given, label, value_of


def ranges(sized: Sized) -> Iterator[Check]:
    """A range of 8.75 kW or more has a circuit of 40 A at least, a smaller neutral at least 70 % of it and 10 AWG.

    References
    ----------
    ``cooking_circuit``: 210.19(A)(3) and its Exception No. 2.
    """
    for circuit in sized.circuits:
        least = least_rating_a(sized.network, circuit.circuit)
        if circuit.device is None or not cooking_behind(sized.network, circuit.circuit):
            continue
        if least:
            yield limit_check(
                sized.book,
                "cooking_circuit",
                circuit.tag,
                circuit.device.rating,
                given(least, "A", "I_least", "rule:cooking_circuit", "least rating of the circuit of a range"),
                "A",
                "the circuit of a range of 8.75 kW or more is rated at least 40 A",
                "the circuit of a range of 8.75 kW or more is rated below 40 A",
                Sense.AT_LEAST,
            )
        if circuit.neutral is not None and size_index(circuit.neutral.size) < size_index(circuit.conductor.size):
            yield _neutral(sized, circuit)


def _neutral(sized: Sized, circuit: SizedCircuit) -> Check:
    """A neutral smaller than the ungrounded conductors of a cooking appliance."""
    rule, neutral = "cooking_circuit.neutral", circuit.neutral
    if size_index(neutral.size) < size_index(NEUTRAL_LEAST):
        message = f"neutral {neutral.size} is smaller than {NEUTRAL_LEAST}, the least for a reduced neutral of a cooking appliance"
        return remark(sized.book, rule, circuit.tag, Level.FAIL, message)
    need = label(range_neutral_need(circuit.device.rating), f"{circuit.tag}.I_N70")
    return limit_check(
        sized.book,
        rule,
        circuit.tag,
        neutral_ampacity(sized, circuit),
        need,
        "A",
        f"reduced neutral {neutral.size} carries 70 % of the circuit's rating",
        f"reduced neutral {neutral.size} carries less than 70 % of the circuit's rating",
        Sense.AT_LEAST,
    )


def loads(sized: Sized) -> Iterator[Check]:
    """Where the circuit of a range counts less than its nameplates, by how much.

    References
    ----------
    ``cooking_circuit_load``: Table 220.55, Note 4.
    """
    for circuit in sized.circuits:
        fed = cooking_behind(sized.network, circuit.circuit)
        supply = circuit.currents.of(Mode.SUPPLY)
        if supply is None or not fed or (len(fed) == 1 and fed[0].item.kind != RANGE):
            continue
        nameplate = sum(value_of(load_current(node.tag, node.item, [])) for node in fed)
        if value_of(supply.noncontinuous) < nameplate:
            message = f"one range by Table 220.55: {value_of(supply.noncontinuous):.4g} A instead of {nameplate:.4g} A by the nameplates"
            yield remark(sized.book, "cooking_circuit_load", circuit.tag, Level.NOTE, message, (supply.noncontinuous,))
