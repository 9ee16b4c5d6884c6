"""What every rule about an ampacity that no mode shows has in common."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Sense, limit_check, not_checked
from linecalc.sizing.records import Sized


def demand_checks(sized: Sized, key: str, unknown: str) -> Iterator[Check]:
    """The ampacity of each circuit against its demands of one key.

    ``unknown`` is the message where the ampacity is not known.
    """
    for circuit in sized.circuits:
        for demand in circuit.demands:
            if demand.key != key:
                continue
            if circuit.needs or circuit.protect_a is None:
                yield not_checked(sized.book, demand.cite, circuit.tag, unknown, circuit.needs)
                continue
            yield limit_check(
                sized.book,
                demand.cite,
                circuit.tag,
                circuit.protect_a,
                demand.amps,
                "A",
                f"{demand.why}: the conductors carry it",
                f"{demand.why}: the conductors do not carry it",
                Sense.AT_LEAST,
            )
