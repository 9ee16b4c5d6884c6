"""A second computation of the central chain, written from the rules and the table files, not from the library.

It reads the CSV files itself, works in plain floats and lists, and shares no
line with ``linecalc``. Where both agree over many drawn inputs, a slip in one
of them would have to be made twice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from tests.tables.reader import read_table

TABLES = Path(__file__).parents[2] / "tables"
STEEL = ("EMT", "RMC", "IMC", "FMC")
SIZES = [row["size"] for row in read_table(TABLES / "310.16.csv")[1]]
SLACK = 1e-9


@dataclass(frozen=True)
class Question:
    """One circuit: currents in amperes, ambient in degC, lengths in feet, ``breaker`` a rating, "none" or None to choose one."""

    edition: str
    system: str
    continuous: float
    noncontinuous: float
    material: str
    insulation: str
    wet: bool
    ambient: float
    conductors: int
    terminal: int | None
    parallel: int
    breaker: float | str | None
    roof_height_in: float | None
    length: float
    power_factor: float
    raceway: str
    drop_target: float | None
    voltage: float
    size: str | None


@dataclass(frozen=True)
class Answer:
    """What the reference finds; None where a value does not exist."""

    device: float | None
    size: str | None
    t1: tuple[float, float | None]
    t2: tuple[float, float | None]
    protect: float | None
    largest_device: float | None
    failing: tuple[str, ...]
    egc: str | None
    drop_percent: float | None


def rows(name: str, edition: str) -> list[dict[str, str]]:
    """The rows of a table that the edition has."""
    return _rows(name, edition)


@lru_cache(maxsize=None)
def _rows(name: str, edition: str) -> list[dict[str, str]]:
    found = read_table(TABLES / f"{name}.csv")[1]
    return [row for row in found if edition in row.get("editions", edition)]


def number(text: str) -> float | None:
    return float(text) if text else None


def within(amount: float, limit: float) -> bool:
    return amount <= limit + SLACK * max(abs(amount), abs(limit))


def ampacity(size: str, material: str, column: int) -> float | None:
    row = next(row for row in rows("310.16", "2023") if row["size"] == size)
    return number(row[f"{material.lower()}_{column}c_a"])


def insulation_column(kind: str, wet: bool) -> int | None:
    row = next(row for row in rows("insulation", "2023") if row["type"] == kind)
    text = row["wet_c" if wet else "dry_c"]
    return int(text) if text else None


def ambient_factor(ambient: float, column: int) -> float | None:
    """The band that holds the next whole degree at or above the ambient."""
    degree = math.ceil(ambient - SLACK)
    for row in rows("310.15-B-1", "2023"):
        if (not row["ambient_c_min"] or degree >= int(row["ambient_c_min"])) and degree <= int(row["ambient_c_max"]):
            return number(row[f"factor_{column}c"])
    return None


def count_factor(count: int) -> float:
    for row in rows("310.15-C-1", "2023"):
        if count >= int(row["conductors_min"]) and count <= int(row["conductors_max"] or 10**6):
            return float(row["factor"])
    return 1.0


def roof_adder(height_in: float | None, insulation: str, edition: str) -> float:
    if height_in is None or insulation == "XHHW-2":
        return 0.0
    row = rows("310.15-B-2", edition)[0]
    return float(row["adder_c"]) if height_in < float(row["height_max_in"]) else 0.0


def standard_ratings(edition: str) -> list[float]:
    return sorted(float(row["rating_a"]) for row in rows("240.6-A", edition))


def next_rating(need: float, edition: str) -> float | None:
    return next((rating for rating in standard_ratings(edition) if within(need, rating)), None)


def largest_device(protect: float, edition: str) -> float:
    """240.4(B): the ampacity itself, or the next standard size above it up to 800 A."""
    above = next_rating(protect, edition)
    return protect if above is None or above > 800.0 else max(protect, above)


def small_limit(size: str, material: str, edition: str) -> float | None:
    for row in rows("240.4-D", edition):
        if (row["size"], row["material"]) == (size, material):
            return float(row["ocpd_max_a"])
    return None


def area(size: str) -> float:
    return next(float(row["area_cmil"]) for row in rows("ch9-8", "2023") if row["size"] == size and row["stranding"] == "stranded")


def egc_by_table(device: float, material: str, edition: str) -> str:
    return next(row[f"{material.lower()}_size"] for row in rows("250.122", edition) if within(device, float(row["rating_a"])))


def currents(question: Question) -> tuple[float, float]:
    """Continuous and noncontinuous; for PV the given current is Isc, raised once by 1.25."""
    if question.system == "pv":
        return 1.25 * question.continuous, 0.0
    return question.continuous, question.noncontinuous


def device_of(question: Question) -> float | None:
    continuous, rest = currents(question)
    if question.breaker == "none":
        return None
    if question.breaker is not None:
        return float(question.breaker)
    return next_rating(max(15.0, 1.25 * continuous + rest), question.edition)


def terminal_column(question: Question, device: float | None, insulation: int) -> int:
    continuous, rest = currents(question)
    rating = device if device is not None else 1.25 * continuous + rest
    column = question.terminal or (60 if rating <= 100.0 else 75)
    return min(column, insulation)


def tested(question: Question, size: str, device: float | None) -> tuple[float | None, float | None, float | None, list[str]]:
    """T1 ampacity, T2 ampacity, what the device protects, and the tests that do not pass."""
    continuous, rest = currents(question)
    wet = question.wet or question.roof_height_in is not None
    column = insulation_column(question.insulation, wet)
    t1 = ampacity(size, question.material, terminal_column(question, device, column))
    base = ampacity(size, question.material, column)
    hot = question.ambient + roof_adder(question.roof_height_in, question.insulation, question.edition)
    factor = ambient_factor(hot, column)
    count = question.conductors if question.length > 2.0 else 1
    t2 = None if base is None or factor is None else base * factor * count_factor(count) * question.parallel
    t1 = None if t1 is None else t1 * question.parallel
    if t1 is None or t2 is None:
        return t1, t2, None, ["T1" if t1 is None else "T2"]
    protect = min(t1, t2)
    failing = []
    if not within(1.25 * continuous + rest, t1):
        failing.append("T1")
    if not within(continuous + rest, t2):
        failing.append("T2")
    if device is not None and not within(device, largest_device(protect, question.edition)):
        failing.append("T3")
    limit = small_limit(size, question.material, question.edition)
    if device is not None and limit is not None and device > limit:
        failing.append("small")
    if question.parallel > 1 and SIZES.index(size) < SIZES.index("1/0 AWG"):
        failing.append("parallel")
    return t1, t2, protect, failing


def smallest(question: Question, device: float | None) -> str | None:
    return next((size for size in SIZES if not tested(question, size, device)[3]), None)


def drop_percent(question: Question, size: str) -> float | None:
    current = question.continuous + question.noncontinuous
    if question.system == "pv":
        row = next((row for row in rows("ch9-8", "2023") if row["size"] == size and row["stranding"] == "stranded"), None)
        resistance = number(row["cu_uncoated_ohm_per_kft" if question.material == "Cu" else "al_ohm_per_kft"])
        impedance = resistance
    else:
        row = next((row for row in rows("ch9-9", "2023") if row["size"] == size), None)
        kind = "steel" if question.raceway in STEEL else "pvc"
        resistance = None if row is None else number(row[f"r_{question.material.lower()}_{kind}_ohm_per_kft"])
        if resistance is None:
            return None
        reactance = float(row["x_steel_ohm_per_kft" if kind == "steel" else "x_pvc_al_ohm_per_kft"])
        impedance = resistance * question.power_factor + reactance * math.sqrt(1.0 - question.power_factor**2)
    return 100.0 * 2.0 * question.length * current * impedance / 1000.0 / question.parallel / question.voltage


def egc_of(question: Question, size: str, least: str | None, device: float | None) -> str | None:
    """Table 250.122, raised with the conductors on AC circuits, never larger than them."""
    rating = device
    if rating is None and question.system == "pv":
        rating = next_rating(1.25 * 1.25 * question.continuous, question.edition)
    if rating is None:
        return None
    found = egc_by_table(rating, question.material, question.edition)
    if question.system != "pv" and least is not None and SIZES.index(size) > SIZES.index(least):
        target = area(found) * area(size) / area(least)
        found = next((one for one in SIZES if within(target, area(one))), SIZES[-1])
    return size if SIZES.index(found) > SIZES.index(size) else found


def answer(question: Question) -> Answer:
    """Everything about one circuit."""
    device = device_of(question)
    least = smallest(question, device)
    size = question.size or least
    if question.size is None and least is not None and question.drop_target is not None:
        larger = SIZES[SIZES.index(least) :]
        drops = {one: drop_percent(question, one) for one in larger}
        size = next((one for one in larger if drops[one] is not None and within(drops[one], question.drop_target)), least)
    continuous, rest = currents(question)
    needs = 1.25 * continuous + rest, continuous + rest
    if size is None:
        return Answer(device, None, (needs[0], None), (needs[1], None), None, None, (), None, None)
    t1, t2, protect, failing = tested(question, size, device)
    limit = None if protect is None or device is None else largest_device(protect, question.edition)
    egc = egc_of(question, size, least, device)
    return Answer(device, size, (needs[0], t1), (needs[1], t2), protect, limit, tuple(failing), egc, drop_percent(question, size))


def cold_voltage(voc: float, count: int, coefficient: float, unit: str, low: float) -> float:
    """By the datasheet coefficient, in percent or in volts a kelvin."""
    change = coefficient / 100.0 * voc if unit == "%/K" else coefficient
    return count * (voc + change * (low - 25.0))


def cold_voltage_by_table(voc: float, count: int, low: float) -> float | None:
    """By the band that holds the next whole degree at or below the temperature."""
    degree = math.floor(low + SLACK)
    for row in rows("690.7-A", "2023"):
        if int(row["ambient_c_min"]) <= degree <= int(row["ambient_c_max"]):
            return count * voc * float(row["factor"])
    return None


def bus_methods(bus: float, main: float, currents_a: list[float], devices: list[float] | None, opposite: bool) -> dict[str, bool | None]:
    """Whether each method of 705.12(B) passes on a bus; None where it is not usable."""
    sources = 1.25 * sum(currents_a)
    return {
        "busbar_sum": within(sources + main, bus),
        "busbar_120": within(sources + main, 1.2 * bus) if opposite else None,
        "busbar_all_breakers": None if devices is None else within(sum(devices), bus),
    }


def run_ampacity(portions: list[tuple[float, float]], of_whole_circuit: bool) -> float:
    """The 10 ft and 10 percent rule over (length in feet, ampacity) portions: the highest level whose lower portions keep both limits."""
    kept = []
    for _, level in portions:
        lower = sum(length for length, amps in portions if amps < level - SLACK * level)
        basis = sum(length for length, amps in portions if of_whole_circuit or amps >= level - SLACK * level)
        if within(lower, 10.0) and within(lower, 0.1 * basis):
            kept.append(level)
    return max(kept)
