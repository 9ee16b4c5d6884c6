"""What a sheet and the results say about the fault current at one place."""

from __future__ import annotations

from typing import Any

from linecalc.report.amounts import amount
from linecalc.report.amounts import json_number as number
from linecalc.report.content import Grid
from linecalc.sizing.fault_records import Faults, PlaceFault
from linecalc.term import Number, total, value_of

CAPTION = "Fault current, bolted, symmetrical, with the sources"
_NONE = "no such conductors here"


def fault_grid(faults: Faults | None, tag: str) -> Grid | None:
    """Line to line, line to neutral and the sources' share at one place; None where nothing is known."""
    place = faults.at(tag) if faults is not None else None
    if place is None:
        return None
    rows = (
        ("Line to line, 240 V", _amps(place.ll)),
        ("Line to neutral, 120 V", _bracket(place)),
        ("Part of it from the sources", amount(_sources(faults), "A")),
        ("Rests on", _basis(faults)),
    )
    return Grid(CAPTION, ("Figure", "Value"), rows)


def _basis(faults: Faults) -> str:
    if faults.utility_a is None or faults.x_over_r is None:
        return "the sources alone, no utility"
    return f"{amount(faults.utility_a, 'A')} from the utility at the {faults.point}, X/R {amount(faults.x_over_r, '')}"


def _amps(found: Number | None) -> str:
    return _NONE if found is None else amount(found, "A")


def _bracket(place: PlaceFault) -> str:
    if place.ln_low is None or place.ln_high is None:
        return _NONE
    if place.ln_low is place.ln_high:
        return amount(place.ln_low, "A")
    return f"{amount(place.ln_low, 'A')} to {amount(place.ln_high, 'A')} (1.0 to 1.5 times line to line at the meter)"


def _sources(faults: Faults) -> Number:
    return value_of(total([amps for _, amps in faults.sources]))


def fault_result(faults: Faults | None, tag: str) -> dict[str, Any] | None:
    """The fault current at the far end of a circuit as JSON; None where it is not known."""
    place = faults.at(tag) if faults is not None else None
    if place is None:
        return None
    return {
        "ll_a": number(place.ll),
        "ln_a": number(place.ln_high),
        "ln_low_a": number(place.ln_low),
        "sources_a": number(_sources(faults)),
        "at": place.tag,
    }
