"""How far an assumed input may plausibly be off, by its kind. All of it is common practice, no source.

The ranges say what a site visit or a letter commonly brings to light; they are
no limits of any code.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from linecalc.report.inputs import Input

BASIS = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Range:
    """The values to try for one kind of input: differences, factors or words.

    ``keys`` matches the whole path of the input.
    """

    name: str
    keys: str
    differences: tuple[float, ...] = ()
    factors: tuple[float, ...] = ()
    words: tuple[str | bool, ...] = ()

    def holds(self, path: str) -> bool:
        """Whether an input is of this kind."""
        return re.fullmatch(self.keys, path) is not None

    def tried(self, item: Input) -> tuple[str | bool | float, ...]:
        """The values to write in place of the present one, without it."""
        if self.words:
            present = (item.as_written or "").lower()
            return tuple(word for word in self.words if str(word).lower() != present)
        if item.value is None:
            return ()
        values = [item.value + difference for difference in self.differences] + [item.value * factor for factor in self.factors]
        return tuple(_written(value, item.unit) for value in values)


def _written(value: float, unit: str) -> str | float:
    """As a project file would hold it, thousands of amperes or watts with their prefix."""
    if unit in ("A", "W", "VA") and abs(value) >= 1000.0:
        return f"{value / 1000.0:.6g} k{unit}"
    return f"{value:.6g} {unit}" if unit else float(f"{value:.6g}")


RANGES = (
    Range("ambient of a section, 10 K either way", r"section\..+\.ambient", differences=(-10.0, 10.0)),
    Range("design temperature, 5 K either way", r"site\.(low|high)_temperature", differences=(-5.0, 5.0)),
    Range("available fault current, half to double", r"service\.fault_current", factors=(0.5, 2.0)),
    Range("ratio of reactance to resistance, half to double", r"service\.x_over_r", factors=(0.5, 2.0)),
    Range("length, 20 % less to 25 % more", r".+\.(length|distance)", factors=(0.8, 1.25)),
    Range("terminal marking, 60 or 75 degC", r".+\.terminals(_from|_to)?", words=("60 degC", "75 degC")),
    Range("moisture of a place", r"section\..+\.moisture", words=("dry", "damp", "wet")),
    Range("height above the roof, on it to 6 in", r"section\..+\.height_above_roof", words=("0 in", "6 in")),
    Range("sun on a raceway", r"section\..+\.sun", words=(True, False)),
    Range("power factor, 0.8 to 1", r".+\.power_factor", words=("0.8", "1")),
    Range("leg of a 120 V load", r"load\..+\.legs", words=("L1", "L2")),
    Range("mounting of an array", r"(string\..+|site)\.mounting", words=("close to roof", "rack", "ground")),
    Range("charging from the utility", r"unit\..+\.grid_charging", words=("yes", "no")),
    Range("any other amount, 20 % less to 25 % more", r".+", factors=(0.8, 1.25)),
)
CHOSEN = re.compile(r".+\.(conductor|neutral|egc|breaker|insulation|material)")


def range_of(path: str) -> Range | None:
    """The plausible range of an input; None where it is a choice of the designer and nothing to verify on site."""
    if CHOSEN.fullmatch(path):
        return None
    return next(found for found in RANGES if found.holds(path))
