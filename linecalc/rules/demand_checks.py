"""What rules about an ampacity that no mode shows, and about neutrals, have in common."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.ampacity import parallel_ampacity
from linecalc.check import Check, Sense, limit_check, not_checked
from linecalc.network.records import Demand
from linecalc.sizing.records import Sized, SizedCircuit
from linecalc.term import Number


def demand_checks(sized: Sized, key: str, unknown: str) -> Iterator[Check]:
    """The ampacity of each circuit against its demands of one key.

    ``unknown`` is the message where the ampacity is not known.
    """
    for circuit in sized.circuits:
        for demand in circuit.demands:
            if demand.key == key:
                why = f"{demand.why}: the conductors"
                yield demand_check(sized, circuit, demand, unknown, f"{why} carry it", f"{why} do not carry it")


def demand_check(sized: Sized, circuit: SizedCircuit, demand: Demand, unknown: str, passing: str, breaking: str) -> Check:
    """The ampacity of one circuit against one demand on it; ``unknown`` where it is not known."""
    if circuit.needs or circuit.protect_a is None:
        return not_checked(sized.book, demand.cite, circuit.tag, unknown, circuit.needs or (f"circuit.{circuit.tag}.conductor",))
    return limit_check(
        sized.book, demand.cite, circuit.tag, circuit.protect_a, demand.amps, "A", passing, breaking, Sense.AT_LEAST
    )


def neutral_ampacity(sized: Sized, circuit: SizedCircuit) -> Number:
    """The ampacity of a circuit's neutral at its terminals, all sets together, in amperes."""
    neutral = circuit.neutral
    single = sized.book.ampacity(neutral.size, neutral.material, circuit.terminal_column_c)
    return single if neutral.parallel == 1 else parallel_ampacity(single, float(neutral.parallel))
