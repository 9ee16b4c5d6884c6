"""Reading of printed arithmetic back into numbers."""

from __future__ import annotations

import re

from linecalc.units import unit_text


def without_units(text: str, units: set[str]) -> str:
    """A printed substitution as plain arithmetic: units after numbers dropped, ``x`` as times."""
    spelled = sorted({unit_text(unit) for unit in units if unit}, key=len, reverse=True)
    if spelled:
        alternatives = "|".join(re.escape(unit) for unit in spelled)
        text = re.sub(rf"(?<=\d) (?:{alternatives})(?=[\s),]|$)", "", text)
    return text.replace(" x ", " * ")


def half_of_last_digit(printed: str) -> float:
    """How far a value may lie from what is printed."""
    _, point, decimals = printed.partition(".")
    return 0.5 * 10.0 ** -len(decimals) if point else 0.5
