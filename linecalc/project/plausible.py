"""Values that contradict each other or mean nothing: a slip of the pen in datasheet values or lengths."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc import units
from linecalc.project import dwelling_faults
from linecalc.project.document import Document, amount, entries, quantity, texts
from linecalc.project.model import TAGGED
from linecalc.project.wording import Fault, Path, alternatives, quoted
from linecalc.units import Dimension, Quantity

_LENGTH_TOLERANCE_FT = 0.05
_BELOW: tuple[tuple[str, str, Dimension], ...] = (
    ("vmp", "voc", units.VOLTAGE),
    ("imp", "isc", units.CURRENT),
    ("voltage_min", "voltage_max", units.VOLTAGE),
)
_AT_MOST: tuple[tuple[str, str, Dimension], ...] = (("usable_energy", "energy", units.ENERGY),)
_POSITIVE: tuple[tuple[Dimension, tuple[str, ...]], ...] = (
    (
        units.VOLTAGE,
        ("voltage", "voc", "vmp", "voltage_min", "voltage_max", "dc_voltage_max", "system_voltage", "dc_voltage", "voltage_rating")
        + ("string_voltage", "string_voltage_max", "input_voltage_max", "output_voltage_max", "storage_voltage_min", "storage_voltage_max")
        + ("dc_switch_voltage", "breaker_dc_voltage"),
    ),
    (
        units.CURRENT,
        ("isc", "imp", "ac_current", "ac_current_island", "overcurrent_max", "mppt_current", "mppt_short_circuit", "series_fuse")
        + ("bus", "main", "main_before", "rating", "breaker", "device", "fuse", "rla", "lra", "mca", "mocp", "setting", "management_setting")
        + ("fault_current", "interrupting", "harness_current", "leg_current", "neutral_rating"),
    ),
    (units.POWER, ("power", "ac_power", "ac_power_island", "transformer", "runtime_load")),
    (units.APPARENT_POWER, ("power", "transformer", "runtime_load")),
    (units.ENERGY, ("energy", "usable_energy")),
    (units.PERCENT, ("efficiency", "drop_target", "rise_target", "transformer_impedance")),
    (units.LENGTH, ("length", "harness_length")),
    (units.SMALL_LENGTH, ("diameter",)),
    (units.AREA, ("floor_area",)),
)
_TABLES = (*TAGGED, "equipment", "circuit", "section")
_SINGLE_TABLES = ("site", "service", "dwelling", "backup", "power_control")
_LOAD_FIGURES = ("current", "power", "rla", "mca", "hp")
_FALLING = ("voc_coefficient", "vmp_coefficient", "pmax_coefficient")


def faults(document: Document) -> list[Fault]:
    """Every such value in ``document``."""
    found: list[Fault] = []
    for tag, keys in entries(document, "equipment"):
        found += _order(tag, keys)
        found += _signs(tag, keys)
        found += _window(tag, keys)
    for tag, keys in entries(document, "circuit"):
        found += _length(tag, keys, document)
    for tag, keys in entries(document, "load"):
        found += _load(tag, keys)
    for path, keys in _all_tables(document):
        found += _zeros(path, keys)
    return [*found, *dwelling_faults.faults(document)]


def _all_tables(document: Document) -> Iterator[tuple[Path, Document]]:
    for kind in _TABLES:
        for tag, keys in entries(document, kind):
            yield (kind, tag), keys
    for name in _SINGLE_TABLES:
        keys = document.get(name)
        if isinstance(keys, dict):
            yield (name,), keys


def _zeros(path: Path, keys: Document) -> list[Fault]:
    """Values that mean nothing when they are zero, and would be divided by."""
    found = []
    for dimension, names in _POSITIVE:
        for key in names:
            value = amount(keys, key, dimension) if key in keys else None
            if value is not None and value.value == 0.0:
                message = f"{quoted(value.as_written)} must be more than 0"
                found.append(Fault((*path, key), message, found=value.as_written, expected=f"more than 0 {dimension.canonical}"))
    return found


def _load(tag: str, keys: Document) -> list[Fault]:
    """A load says how large it is."""
    if keys.get("legs") in ("L1", "L2") and _volts(keys) == 240.0 or keys.get("legs") == "L1-L2" and _volts(keys) == 120.0:
        message = f"a load of {keys['voltage']} cannot stand on {keys['legs']}; 120 V loads stand on L1 or L2, 240 V loads on L1-L2"
        return [Fault(("load", tag, "legs"), message, found=str(keys["legs"]), expected="L1 or L2 at 120 V, L1-L2 at 240 V")]
    figures = _LOAD_FIGURES if keys.get("kind") != "calculated" else _LOAD_FIGURES[:2]
    if any(key in keys for key in figures):
        return []
    return [Fault(("load", tag), f"states no size; give {alternatives(figures)}", expected=alternatives(figures))]


def _volts(keys: Document) -> float | None:
    found = amount(keys, "voltage", units.VOLTAGE) if "voltage" in keys else None
    return None if found is None else found.value


def _order(tag: str, keys: Document) -> list[Fault]:
    found = []
    for low_key, high_key, dimension in (*_BELOW, *_AT_MOST):
        low, high = amount(keys, low_key, dimension), amount(keys, high_key, dimension)
        if low is None or high is None:
            continue
        strict = (low_key, high_key, dimension) in _BELOW
        if low.value > high.value or (strict and low.value == high.value):
            word = "below" if strict else "at most"
            message = f"{quoted(low.as_written)} must be {word} {high_key}, {quoted(high.as_written)}; are they exchanged?"
            found.append(Fault(("equipment", tag, low_key), message, found=low.as_written, expected=f"{word} {high.as_written}"))
    return found


def _signs(tag: str, keys: Document) -> list[Fault]:
    found = []
    for key in _FALLING:
        coefficient = amount(keys, key, units.RELATIVE_COEFFICIENT) or amount(keys, key, units.VOLTAGE_COEFFICIENT)
        if coefficient is not None and coefficient.value >= 0.0:
            what = "power falls" if key == "pmax_coefficient" else "voltage falls"
            message = f"{quoted(coefficient.as_written)} must be negative: {what} as a module warms"
            if coefficient.value > 0.0:
                message += f"; write {quoted('-' + coefficient.as_written.lstrip('+'))}"
            found.append(Fault(("equipment", tag, key), message, found=coefficient.as_written, expected="a negative coefficient"))
    return found


def _window(tag: str, keys: Document) -> list[Fault]:
    window = keys.get("mppt_window")
    if not isinstance(window, tuple | list) or len(window) != 2:
        return []
    low, high = (quantity(end, units.VOLTAGE) for end in window)
    if low is None or high is None or low.value < high.value:
        return []
    message = f"the lower end {quoted(low.as_written)} is not below the upper end {quoted(high.as_written)}"
    return [Fault(("equipment", tag, "mppt_window"), message, found=f"{low.as_written} to {high.as_written}")]


def _length(tag: str, keys: Document, document: Document) -> list[Fault]:
    """A stated length must be the sum of the sections of the path."""
    stated, path = amount(keys, "length", units.LENGTH), texts(keys, "path")
    if stated is None or not path:
        return []
    sections = dict(entries(document, "section"))
    parts = [amount(sections.get(name, {}), "length", units.LENGTH) for name in path]
    known = [part for part in parts if part is not None]
    total_ft = sum(part.value for part in known)
    if len(known) < len(path) or abs(total_ft - stated.value) <= _LENGTH_TOLERANCE_FT:
        return []
    message = f"{quoted(stated.as_written)} is not the length of its path, {_sum(known)}; leave the length out or correct it"
    return [Fault(("circuit", tag, "length"), message, found=stated.as_written, expected=units.format_quantity(total_ft, "ft"))]


def _sum(parts: list[Quantity]) -> str:
    total = units.format_quantity(sum(part.value for part in parts), "ft")
    return total if len(parts) == 1 else " + ".join(part.as_written for part in parts) + f" = {total}"
