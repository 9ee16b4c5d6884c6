"""Field types of the project model: quantities, conductors and choices.

Each type accepts the text a user writes and keeps it, so that reports can show
the value as written beside the canonical one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic_core import PydanticCustomError, core_schema

from linecalc import units
from linecalc.codebook.sizes import SIZES
from linecalc.errors import QuantityError
from linecalc.units import Dimension, Quantity

BASES = ("given", "assumed", "computed", "field verify")
_KEYS = {"value", "basis", "source"}


@dataclass(frozen=True, slots=True)
class QuantityField:
    """Validator of a quantity: text with a unit, or a table of value, basis, source.

    ``words`` are texts accepted instead of a quantity, such as ``lugs``.
    """

    dimensions: tuple[Dimension, ...]
    words: tuple[str, ...] = ()

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        return core_schema.no_info_plain_validator_function(
            self.validate, serialization=core_schema.plain_serializer_function_ser_schema(_written)
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        text = {"type": "string", "description": self.expected, "examples": [self.dimensions[0].example, *self.words]}
        table = {
            "type": "object",
            "properties": {"value": text, "basis": {"enum": list(BASES)}, "source": {"type": "string"}},
            "required": ["value"],
            "additionalProperties": False,
        }
        return {"anyOf": [text, table]}

    @property
    def expected(self) -> str:
        """What the field accepts, in words."""
        kinds = " or ".join(f'{dimension.name}, like "{dimension.example}"' for dimension in self.dimensions)
        return " or ".join([kinds, *(f'"{word}"' for word in self.words)])

    def validate(self, found: Any) -> Quantity | str:
        """The quantity (or word) that ``found`` says."""
        if isinstance(found, Quantity) or (isinstance(found, str) and found in self.words):
            return found
        if isinstance(found, str):
            return self._parse(found)
        if isinstance(found, dict):
            return self._table(found)
        raise _error("has no unit; write it as text" if _is_number(found) else "is not text", found, self.expected)

    def _parse(self, text: str) -> Quantity:
        try:
            return units.parse_quantity(text, *self.dimensions)
        except QuantityError as error:
            raise PydanticCustomError(
                "quantity", "{problem}", {"problem": str(error), "expected": self.expected}
            ) from None

    def _table(self, found: dict[str, Any]) -> Quantity:
        unknown = sorted(set(found) - _KEYS)
        if unknown or not isinstance(found.get("value"), str):
            raise _error("needs the keys value, and if wanted basis and source", found, self.expected)
        basis, source = found.get("basis", "given"), found.get("source")
        if basis not in BASES:
            raise _error(f"has an unknown basis {basis!r}; one of {', '.join(BASES)}", found, self.expected)
        if source is not None and not isinstance(source, str):
            raise _error("has a source that is not text", found, self.expected)
        return self._parse(found["value"]).with_basis(basis, source)


def _is_number(found: Any) -> bool:
    return isinstance(found, int | float) and not isinstance(found, bool)


def _error(problem: str, found: Any, expected: str) -> PydanticCustomError:
    return PydanticCustomError("quantity", "{found} {problem}", {"problem": problem, "found": repr(found), "expected": expected})


def _written(found: Quantity | str) -> Any:
    if isinstance(found, str):
        return found
    if found.basis == "given" and found.source is None:
        return found.as_written
    return {"value": found.as_written, "basis": found.basis, "source": found.source}


Length = Annotated[Quantity, QuantityField((units.LENGTH,))]
SmallLength = Annotated[Quantity, QuantityField((units.SMALL_LENGTH,))]
Temperature = Annotated[Quantity, QuantityField((units.TEMPERATURE,))]
Voltage = Annotated[Quantity, QuantityField((units.VOLTAGE,))]
Current = Annotated[Quantity, QuantityField((units.CURRENT,))]
Power = Annotated[Quantity, QuantityField((units.POWER,))]
LoadPower = Annotated[Quantity, QuantityField((units.POWER, units.APPARENT_POWER))]
ApparentPower = Annotated[Quantity, QuantityField((units.APPARENT_POWER,))]
Energy = Annotated[Quantity, QuantityField((units.ENERGY,))]
Time = Annotated[Quantity, QuantityField((units.TIME,))]
Mass = Annotated[Quantity, QuantityField((units.MASS,))]
Area = Annotated[Quantity, QuantityField((units.AREA,))]
Percent = Annotated[Quantity, QuantityField((units.PERCENT,))]
VoltageCoefficient = Annotated[Quantity, QuantityField((units.RELATIVE_COEFFICIENT, units.VOLTAGE_COEFFICIENT))]
RelativeCoefficient = Annotated[Quantity, QuantityField((units.RELATIVE_COEFFICIENT,))]
CurrentOrLugs = Annotated[Quantity | str, QuantityField((units.CURRENT,), ("lugs",))]
CurrentOrNone = Annotated[Quantity | str, QuantityField((units.CURRENT,), ("none",))]
CurrentOrPower = Annotated[Quantity, QuantityField((units.CURRENT, units.POWER, units.APPARENT_POWER))]

MATERIALS = ("Cu", "Al")
_CONDUCTOR = re.compile(r"\s*(\d+(?:/0)?\s+(?:AWG|kcmil))(?:\s+(Cu|Al))?(?:\s+(\S.*?))?\s*")
_CONDUCTOR_EXAMPLE = 'a conductor, like "6 AWG Cu THWN-2"'


@dataclass(frozen=True, slots=True)
class ConductorText:
    """A conductor as written: size, and material and insulation where stated."""

    size: str
    material: str | None
    insulation: str | None
    as_written: str


@dataclass(frozen=True, slots=True)
class ConductorField:
    """Validator of a conductor such as ``6 AWG Cu THWN-2``; ``words`` are accepted as they are."""

    words: tuple[str, ...] = ()

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        return core_schema.no_info_plain_validator_function(
            self.validate, serialization=core_schema.plain_serializer_function_ser_schema(_as_written)
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        return {"type": "string", "examples": ["6 AWG Cu THWN-2", *self.words]}

    def validate(self, found: Any) -> ConductorText | str:
        """The conductor (or word) that ``found`` says."""
        if isinstance(found, ConductorText) or (isinstance(found, str) and found in self.words):
            return found
        expected = " or ".join([_CONDUCTOR_EXAMPLE, *(f'"{word}"' for word in self.words)])
        match = _CONDUCTOR.fullmatch(found) if isinstance(found, str) and len(found) < 80 else None
        size = " ".join(match.group(1).split()) if match else ""
        if match is None or size not in SIZES:
            problem = f"has a size that is not one of {SIZES[0]} to {SIZES[-1]}" if match else "is not a conductor"
            raise PydanticCustomError(
                "conductor", "{found} {problem}", {"found": repr(found), "problem": problem, "expected": expected}
            )
        return ConductorText(size, match.group(2), match.group(3), found.strip())


def _as_written(found: ConductorText | str) -> str:
    return found if isinstance(found, str) else found.as_written


Conductor = Annotated[ConductorText, ConductorField()]
ConductorOrNone = Annotated[ConductorText | str, ConductorField(("none",))]
ConductorOrListed = Annotated[ConductorText | str, ConductorField(("listed",))]
ConductorOrRaceway = Annotated[ConductorText | str, ConductorField(("raceway", "none"))]

TRADE_SIZES = ("3/8", "1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4", "5", "6")


@dataclass(frozen=True, slots=True)
class TradeSizeField:
    """Validator of a raceway trade size such as ``1 in`` or ``1-1/4 in``."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        return core_schema.no_info_plain_validator_function(
            self.validate, serialization=core_schema.plain_serializer_function_ser_schema(str)
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        return {"type": "string", "examples": ["1 in", "1-1/4 in"]}

    def validate(self, found: Any) -> str:
        """The trade size without its unit."""
        text = found.removesuffix("in").strip().replace(" ", "-") if isinstance(found, str) else ""
        if text not in TRADE_SIZES:
            expected = f'a trade size, like "1 in"; one of {", ".join(TRADE_SIZES)} in'
            raise PydanticCustomError("trade_size", "{found} is not a trade size", {"found": repr(found), "expected": expected})
        return text


TradeSize = Annotated[str, TradeSizeField()]
