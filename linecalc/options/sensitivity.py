"""Which assumption changes the first choice. Where a stated range of a price or length does, the answer is undecided."""

from __future__ import annotations

from linecalc.options.energy_turns import energy_turns
from linecalc.options.price_turns import price_turns
from linecalc.options.records import Result
from linecalc.options.rule_turns import rule_turns
from linecalc.options.run import Answered
from linecalc.options.turning import Turn


def turns(answered: Answered, winner: Result | None) -> tuple[Turn, ...]:
    """Stated ranges first (prices, lengths), then what is assumed about inputs, load, storage and outage.

    One assumption is moved at a time, prices and lengths also all at once.
    """
    return (*price_turns(answered, winner), *rule_turns(answered, winner), *energy_turns(answered, winner))
