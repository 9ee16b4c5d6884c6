"""Cooking appliances by Table 220.55: every lawful way, the lowest counts."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.cooking_load import average_rating, column_c_demand, column_demand, cooking_load, kilowatts_over, rating_in_kilowatts
from linecalc.codebook import Book
from linecalc.network.dwelling_records import COOKING, LoadItem
from linecalc.network.dwelling_terms import together
from linecalc.term import Number, label, value_of

LEAST_VA = 1750.0
COLUMN_A_BELOW_VA = 3500.0
COLUMN_B_TO_VA = 8750.0
MOST_VA = 27000.0
MOST_APPLIANCES = 25


@dataclass(frozen=True, slots=True)
class Cooking:
    """The cooking load of a bus and how the lowest lawful demand came about."""

    load_va: Number
    how: str


def cooking(base: str, items: tuple[LoadItem, ...], book: Book) -> Cooking | None:
    """The cooking load of a bus, its steps under ``base``; None where nothing cooks.

    Column C for all appliances, or by Note 3 columns A and B for those up to
    8.75 kW beside column C for the larger ones, or the nameplates.

    References
    ----------
    ``load_range``: 220.55, Table 220.55.
    """
    appliances = [item for item in items if item.kind in COOKING]
    if not appliances:
        return None
    covered = [item for item in appliances if LEAST_VA < value_of(item.va) <= MOST_VA]
    beside = [item.va for item in appliances if item not in covered]
    if not covered:
        return Cooking(together(beside, "S_cook", "VA", "cooking load at nameplate", "load_range", base), "nameplate")
    ratings = {item.tag: _rating(item, base) for item in covered}
    ways = [("nameplate", together(list(ratings.values()), "P_plate", "kW", "ratings together", "load_range", base))]
    if len(covered) <= MOST_APPLIANCES:
        ways.append(("column C", _column_c(covered, ratings, book, f"{base}.all")))
        ways += _note_3(covered, ratings, book, base)
    load = label(cooking_load([demand for _, demand in ways], beside), f"{base}.S_cook")
    lowest = min(ways, key=lambda way: value_of(way[1]))
    return Cooking(load, f"lowest lawful: {lowest[0]}")


def _rating(item: LoadItem, base: str) -> Number:
    return label(rating_in_kilowatts(item.va, f"rating of {item.text}"), f"{base}.P_{item.tag}", f"P_{item.tag}")


def _column_c(items: list[LoadItem], ratings: dict[str, Number], book: Book, base: str) -> Number:
    average = label(average_rating([ratings[item.tag] for item in items]), f"{base}.P_avg")
    over = label(kilowatts_over(average), f"{base}.n_over")
    return label(column_c_demand(book.cooking_kilowatts(len(items)), over), f"{base}.P_C")


def _note_3(items: list[LoadItem], ratings: dict[str, Number], book: Book, base: str) -> list[tuple[str, Number]]:
    """Note 3: columns A and B for what they hold, column C for the rest; no way where they hold nothing."""
    column_a = [item for item in items if value_of(item.va) < COLUMN_A_BELOW_VA]
    column_b = [item for item in items if COLUMN_A_BELOW_VA <= value_of(item.va) <= COLUMN_B_TO_VA]
    larger = [item for item in items if value_of(item.va) > COLUMN_B_TO_VA]
    parts: list[Number] = []
    names: list[str] = []
    for letter, held in (("a", column_a), ("b", column_b)):
        if held:
            percent = book.cooking_percent(len(held), letter)
            demand = column_demand([ratings[item.tag] for item in held], percent)
            parts.append(label(demand, f"{base}.P_{letter.upper()}", f"P_{letter.upper()}"))
            names.append(f"column {letter.upper()}")
    if not parts:
        return []
    if larger:
        parts.append(_column_c(larger, ratings, book, f"{base}.larger"))
        names.append("column C for those over 8.75 kW")
    return [(" and ".join(names), together(parts, "P_note3", "kW", "demand by Note 3", "load_range", base))]
