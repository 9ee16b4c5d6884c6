"""Module-level electronics of a string: shutdown devices pass its figures on, converters set their own.

References
----------
``pv_dc_dc_voltage`` 690.7(B), ``dc_dc_converter_current`` 690.8(A).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from linecalc.network.records import Node
from linecalc.project.equipment import Converter, ShutdownDevice
from linecalc.project.model import Project

CONVERTER = "dc-dc converter"


@dataclass(frozen=True, slots=True)
class Electronics:
    """What stands between the modules of a string; ``data`` is None where the project does not describe it."""

    kind: str
    data: Converter | ShutdownDevice | None
    path: str
    devices: int

    def converts(self) -> bool:
        """Whether the string's voltage and current are those of converters."""
        return self.kind == CONVERTER


def electronics_of(project: Project, string: Node) -> Electronics | None:
    """The electronics of a string, or None where its modules have none."""
    module = string.data
    if module is None or module.electronics == "none":
        return None
    name = module.electronics_equipment
    found = project.equipment.get(name) if name else None
    data = found if isinstance(found, Converter | ShutdownDevice) else None
    path = f"equipment.{name}" if name else f"equipment.{string.item.module}.electronics_equipment"
    devices = math.ceil(string.item.count / (data.modules if data is not None else 1))
    return Electronics(module.electronics, data, path, devices)


def missing_of(electronics: Electronics, keys: tuple[str, ...]) -> tuple[str, ...]:
    """The inputs among ``keys`` that are not given."""
    if electronics.data is None:
        return (electronics.path,)
    return tuple(f"{electronics.path}.{key}" for key in keys if getattr(electronics.data, key) is None)
