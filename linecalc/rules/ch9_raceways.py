"""Chapter 9: raceway fill.

References
----------
``raceway_fill`` Chapter 9 Table 1 and notes.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.raceway import jam_ratio, wires_by_note_7
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.sizing.records import Sized, SizedRaceway
from linecalc.term import label, sqrt, value_of

JAM_BAND = (2.8, 3.2)
JAM_COUNT = 3


def fill(sized: Sized) -> Iterator[Check]:
    """Every raceway holds its conductors, grounding conductors included, by area.

    References
    ----------
    ``raceway_fill``: Chapter 9 Table 1; Note 7 as the alternative for one size.
    """
    for raceway in sized.raceways:
        if raceway.needs:
            yield not_checked(sized.book, "raceway_fill", raceway.section, "an area in this raceway, or what sizes its conductors, is not known", raceway.needs)
        elif raceway.size is None:
            message = f"no trade size of {raceway.method} holds these conductors"
            yield remark(sized.book, "raceway_fill", raceway.section, Level.FAIL, message)
        else:
            yield _fill(sized, raceway)


def _fill(sized: Sized, raceway: SizedRaceway) -> Check:
    name = f"{raceway.method} {raceway.size} in"
    by_area = limit_check(
        sized.book,
        "raceway_fill",
        raceway.section,
        raceway.fill_percent,
        raceway.limit_percent,
        "percent",
        f"{name} holds its conductors",
        f"{name} is overfilled",
    )
    if by_area.level is Level.PASS:
        return by_area
    return _by_count(sized, raceway, name) or by_area


def _by_count(sized: Sized, raceway: SizedRaceway, name: str) -> Check | None:
    """Note 7: conductors of one size may be counted with a decimal of 0.8 raised."""
    areas = {value_of(held.area_in2) for held in raceway.held}
    if len(areas) != 1:
        return None
    number = sum(held.count for held in raceway.held)
    counted = wires_by_note_7(raceway.internal_in2, raceway.held[0].area_in2, raceway.limit_percent)
    if number > counted.wires:
        return None
    message = f"{name} holds {counted.wires} conductors of this size by Note 7; by area it would be over"
    return remark(sized.book, "raceway_fill", raceway.section, Level.PASS, message, (counted.quotient, raceway.fill_percent))


def jamming(sized: Sized) -> Iterator[Check]:
    """Three conductors of one size in a raceway between 2.8 and 3.2 times their diameter can jam.

    References
    ----------
    ``raceway_notes``: Chapter 9 Table 1, informational note.
    """
    for raceway in sized.raceways:
        if raceway.internal_in2 is None or raceway.needs:
            continue
        for held in raceway.held:
            number = sum(other.count for other in raceway.held if other.area_in2 is held.area_in2)
            if number != JAM_COUNT or held.area_in2 is None:
                continue
            ratio = label(jam_ratio(sqrt(raceway.internal_in2), sqrt(held.area_in2)), f"{raceway.section}.jam")
            if JAM_BAND[0] <= value_of(ratio) <= JAM_BAND[1]:
                message = f"{JAM_COUNT} conductors {held.size} can jam: diameter ratio {value_of(ratio):.2f}"
                yield remark(sized.book, "raceway_notes", raceway.section, Level.NOTE, message, (ratio,))
                break
