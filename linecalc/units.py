"""Quantities with units: one closed list, one pattern, pint for conversion.

A quantity is one finite number, one space, one unit (``"42 ft"``). Text is
matched by our own pattern and never reaches pint's expression parser.
Each dimension has one canonical unit, which the kernels use.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from linecalc.errors import QuantityError

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_PATTERN = re.compile(rf"\s*({_NUMBER})\s+(\S(?:.*\S)?)\s*")
_BARE_NUMBER = re.compile(rf"\s*{_NUMBER}\s*")
_MAX_TEXT = 200


@dataclass(frozen=True, slots=True)
class Dimension:
    """A kind of quantity: canonical unit, accepted spellings, allowed range."""

    name: str
    canonical: str
    aliases: tuple[tuple[str, str], ...]
    lowest: float
    highest: float
    example: str

    def unit_of(self, text: str) -> str | None:
        """The unit that ``text`` spells, or None where it is not of this kind."""
        return dict(self.aliases).get(text)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in its dimension's canonical unit, and where it came from.

    ``basis`` is one of given, assumed, computed, field verify.
    """

    value: float
    unit: str
    as_written: str
    basis: str = "given"
    source: str | None = None

    def with_basis(self, basis: str, source: str | None) -> Quantity:
        """The same quantity with another basis and source."""
        return replace(self, basis=basis, source=source)


def _same(*names: str) -> tuple[tuple[str, str], ...]:
    return tuple((name, name) for name in names)


_LENGTH = _same("ft", "in", "m", "cm", "mm") + (("feet", "ft"), ("foot", "ft"), ("inch", "in"), ("inches", "in"))
_PERCENT = (("%", "percent"), ("percent", "percent"))

LENGTH = Dimension("length", "ft", _LENGTH, 0.0, 20_000.0, "34 ft")
SMALL_LENGTH = Dimension("dimension", "in", _LENGTH, 0.0, 10_000.0, "30 in")
TEMPERATURE = Dimension(
    "temperature",
    "degC",
    (("degC", "degC"), ("°C", "degC"), ("C", "degC"), ("degF", "degF"), ("°F", "degF"), ("F", "degF")),
    -90.0,
    150.0,
    "36 degC",
)
VOLTAGE = Dimension("voltage", "V", _same("V", "kV", "mV") + (("Vac", "V"), ("Vdc", "V")), 0.0, 2_000.0, "240 V")
CURRENT = Dimension("current", "A", _same("A", "kA", "mA"), 0.0, 200_000.0, "40 A")
POWER = Dimension("power", "W", _same("W", "kW", "MW"), 0.0, 1_000_000.0, "9.6 kW")
APPARENT_POWER = Dimension("apparent power", "VA", _same("VA", "kVA"), 0.0, 2_000_000.0, "5.2 kVA")
ENERGY = Dimension("energy", "kWh", _same("kWh", "Wh"), 0.0, 10_000.0, "10.4 kWh")
TIME = Dimension("time", "s", _same("s", "ms", "min", "h"), 0.0, 1e7, "3 s")
MASS = Dimension("mass", "kg", _same("kg", "lb"), 0.0, 100_000.0, "120 kg")
AREA = Dimension("area", "ft2", (("ft2", "ft2"), ("sq ft", "ft2"), ("m2", "m2"), ("sq m", "m2")), 0.0, 1e6, "2100 ft2")
PERCENT = Dimension("percentage", "percent", _PERCENT, 0.0, 100.0, "2 %")
RELATIVE_COEFFICIENT = Dimension(
    "temperature coefficient",
    "percent/K",
    (("%/K", "percent/K"), ("%/degC", "percent/K"), ("%/°C", "percent/K"), ("%/C", "percent/K")),
    -2.0,
    2.0,
    "-0.26 %/K",
)
VOLTAGE_COEFFICIENT = Dimension(
    "voltage temperature coefficient",
    "V/K",
    (("V/K", "V/K"), ("V/degC", "V/K"), ("V/°C", "V/K"), ("V/C", "V/K"))
    + (("mV/K", "mV/K"), ("mV/degC", "mV/K"), ("mV/°C", "mV/K"), ("mV/C", "mV/K")),
    -2.0,
    2.0,
    "-99 mV/K",
)

DIMENSIONS = (
    LENGTH,
    SMALL_LENGTH,
    TEMPERATURE,
    VOLTAGE,
    CURRENT,
    POWER,
    APPARENT_POWER,
    ENERGY,
    TIME,
    MASS,
    AREA,
    PERCENT,
    RELATIVE_COEFFICIENT,
    VOLTAGE_COEFFICIENT,
)

_DEFINITIONS = """
percent = [] = %
volt = [voltage] = V
ampere = [current] = A
watt = [power] = W
voltampere = [apparent_power] = VA
watthour = [energy] = Wh
second = [time] = s
gram = [mass] = g
meter = [length] = m
kelvin = [temperature]; offset: 0 = K
kilo- = 1e3 = k-
mega- = 1e6 = M-
milli- = 1e-3 = m-
centi- = 1e-2 = c-
minute = 60 s = min
hour = 3600 s = h
inch = 2.54 cm = in
foot = 12 in = ft
square_foot = ft ** 2 = ft2
square_meter = m ** 2 = m2
pound = 453.59237 g = lb
degree_Celsius = kelvin; offset: 273.15 = degC
degree_Fahrenheit = 5 / 9 * kelvin; offset: 459.67 * 5 / 9 = degF
"""


@lru_cache(maxsize=1)
def registry() -> Any:
    """The one pint registry, holding only the units of the closed list."""
    import pint

    ureg = pint.UnitRegistry(None)
    for line in _DEFINITIONS.strip().splitlines():
        ureg.define(line)
    return ureg


_PREFIXES = {"k": 1e3, "M": 1e6, "m": 1e-3, "c": 1e-2}
#: The second unit of a printed amount, by the definition of the inch and the pound: factor and what is added.
_PRINTED = {
    ("ft", "m"): (0.3048, 0.0),
    ("in", "mm"): (25.4, 0.0),
    ("ft2", "m2"): (0.09290304, 0.0),
    ("kg", "lb"): (1 / 0.45359237, 0.0),
    ("degC", "degF"): (1.8, 32.0),
}


def convert(value: float, unit: str, to: str) -> float:
    """``value`` in ``unit`` as a plain float in the unit ``to``.

    Decimal prefixes and the second units of printed amounts need no registry;
    everything else is pint's work, which is loaded only then.
    """
    if unit == to:
        return value
    if (unit, to) in _PRINTED:
        factor, added = _PRINTED[unit, to]
        return value * factor + added
    if unit[1:] == to and unit[0] in _PREFIXES:
        return value * _PREFIXES[unit[0]]
    if unit.endswith("/K"):
        return float(registry().Quantity(value, unit[:-2]).to(to[:-2]).magnitude)
    return float(registry().Quantity(value, unit).to(to).magnitude)


def parse_quantity(text: str, *dimensions: Dimension) -> Quantity:
    """Read ``text`` as a quantity of the first of ``dimensions`` that knows its unit.

    Raises
    ------
    QuantityError
        No unit, an unknown unit, a number that is not finite or out of range.
    """
    example = " or ".join(f'"{dimension.example}"' for dimension in dimensions)
    expected = " or ".join(dimension.name for dimension in dimensions) + f", like {example}"
    if len(text) > _MAX_TEXT:
        raise QuantityError(f"text of {len(text)} characters is no quantity (limit {_MAX_TEXT})", expected)
    match = _PATTERN.fullmatch(text)
    if match is None:
        raise QuantityError(_why_no_match(text, dimensions), expected)
    number = float(match.group(1))
    for dimension in dimensions:
        unit = dimension.unit_of(match.group(2))
        if unit is not None:
            return _in_range(number, unit, text, dimension, expected)
    known = ", ".join(alias for dimension in dimensions for alias, _ in dimension.aliases)
    raise QuantityError(f'unknown unit "{match.group(2)}" in "{text}"; one of: {known}', expected)


def _why_no_match(text: str, dimensions: tuple[Dimension, ...]) -> str:
    if _BARE_NUMBER.fullmatch(text):
        unit = dimensions[0].canonical
        wanted = [unit_text(choice) for choice in (unit, _OTHER_SPELLING.get(unit)) if choice]
        written = " or ".join(f'"{text.strip()} {choice}"' for choice in wanted)
        return f'"{text}" has no unit; write {written}'
    return f'"{text}" is not a number, a space and a unit'


def _in_range(number: float, unit: str, text: str, dimension: Dimension, expected: str) -> Quantity:
    value = convert(number, unit, dimension.canonical)
    if not math.isfinite(value):
        raise QuantityError(f'"{text}" is not a finite number', expected)
    if not dimension.lowest <= value <= dimension.highest:
        limit = f"{dimension.lowest:g} to {dimension.highest:g} {dimension.canonical}"
        raise QuantityError(f'"{text}" is outside the accepted range, {limit}', expected)
    return Quantity(value, dimension.canonical, text.strip())


_SHOWN = {"degC": "degC", "percent": "%", "percent/K": "%/K", "ft2": "ft2"}
_SECOND = {"ft": "m", "degC": "degF", "in": "mm", "kg": "lb", "ft2": "m2"}
_OTHER_SPELLING = {**_SECOND, "W": "kW", "VA": "kVA"}


def unit_text(unit: str) -> str:
    """The unit as printed."""
    return _SHOWN.get(unit, unit)


def format_quantity(value: float, unit: str, digits: int = 4) -> str:
    """``value`` with at most ``digits`` significant digits and its unit."""
    number = f"{value:.{digits}g}"
    if "e" in number:
        number = f"{value:.0f}"
    return f"{number} {unit_text(unit)}".strip()


def both_units(value: float, unit: str, digits: int = 4) -> str:
    """The quantity in its own unit and, where a reviewer would want it, the other system's."""
    own = format_quantity(value, unit, digits)
    other = _SECOND.get(unit)
    if other is None:
        return own
    return f"{own} ({format_quantity(convert(value, unit, other), other, 3)})"
