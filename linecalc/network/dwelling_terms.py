"""Terms that the load calculations share: the nominal voltage, and sums that name their parts."""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.term import Number, given, label, named, total

NOMINAL_V = 240.0
NOMINAL = given(NOMINAL_V, "V", "V_nom", "rule:load_total", "nominal voltage between the legs")


def together(parts: Sequence[Number], symbol: str, unit: str, meaning: str, cite: str, base: str) -> Number:
    """The sum of ``parts`` as a step ``base.symbol``; a single part is itself, none is 0."""
    if not parts:
        return 0.0
    if len(parts) == 1:
        return parts[0]
    return label(named(total(tuple(parts)), symbol, unit, meaning, cite), f"{base}.{symbol}")
