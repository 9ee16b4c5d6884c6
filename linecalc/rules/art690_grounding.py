"""Article 690: bonding of the array, its electrodes, ground-fault protection stays with the devices.

References
----------
``pv_equipment_grounding`` 690.43, ``pv_grounding_electrode`` 690.47.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.network.records import Kind, System
from linecalc.sizing.records import Sized

SUBJECT = "system"


def array_bonding(sized: Sized) -> Iterator[Check]:
    """Frames and rails are bonded by a method that is stated, with listed devices.

    References
    ----------
    ``pv_equipment_grounding``: 690.43.
    """
    if not sized.strings:
        return
    stated = sized.network.project.grounding
    needs = tuple(f"grounding.{key}" for key in ("array_bonding", "array_listing") if getattr(stated, key) is None)
    if needs:
        yield not_checked(sized.book, "pv_equipment_grounding", SUBJECT, "how frames and rails are bonded is not given", needs)
        return
    message = f"frames and rails: {stated.array_bonding}; listing: {stated.array_listing}"
    yield remark(sized.book, "pv_equipment_grounding", SUBJECT, Level.PASS, message)


def array_electrode(sized: Sized) -> Iterator[Check]:
    """The grounding conductors of the array lead to the electrodes of the building it stands on.

    References
    ----------
    ``pv_grounding_electrode``: 690.47.
    """
    if not sized.strings:
        return
    open_ends = _without_ground(sized)
    if open_ends:
        message = f"no grounding conductor in {', '.join(open_ends)}, so the array is not connected to the electrodes"
        yield remark(sized.book, "pv_grounding_electrode", SUBJECT, Level.FAIL, message)
        return
    stated = sized.network.project.grounding.array_electrode
    if stated is None:
        needs = ("grounding.array_electrode",)
        yield not_checked(sized.book, "pv_grounding_electrode", SUBJECT, "which electrodes the array uses is not given", needs)
        return
    if stated == "none":
        yield remark(sized.book, "pv_grounding_electrode", SUBJECT, Level.FAIL, "the structure that carries the array has no electrode")
        return
    also = "; the electrode beside the array is additional and bonded to it" if stated != "building" else ""
    message = f"the grounding conductors lead from the array through the units to the electrodes of the building{also}"
    yield remark(sized.book, "pv_grounding_electrode", SUBJECT, Level.PASS, message)


def _without_ground(sized: Sized) -> list[str]:
    """The PV circuits, and the circuits from units with strings to the service, that have no grounding conductor."""
    hosts = {found.unit for found in sized.strings}
    units = [node.tag for node in sized.network.of_kind(Kind.UNIT, Kind.INVERTER) if node.tag in hosts]
    wanted = {step.tag for unit in units for step in sized.network.path_up(unit)}
    wanted |= {circuit.tag for circuit in sized.network.circuits if circuit.system is System.PV}
    return [circuit.tag for circuit in sized.circuits if circuit.tag in wanted and circuit.circuit.item.egc == "none"]
