"""Chapter 3, wiring methods: single conductors outside raceways, exposed PV conductors, raceways in places that are not theirs.

References
----------
``conductors_in_methods`` 300.3(A); ``pv_wiring_methods`` 690.31(C); ``raceway_uses`` 348.12, 362.12.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, remark
from linecalc.network.records import System
from linecalc.sizing.ahead import is_service
from linecalc.sizing.records import Sized

FREE_AIR = "free air"
EXPOSED_PV = ("PV wire", "USE-2")


def single_conductors(sized: Sized) -> Iterator[Check]:
    """Single conductors of AC and storage circuits lie in a raceway or cable; an overhead service apart.

    References
    ----------
    ``conductors_in_methods``: 300.3(A).
    """
    for circuit in sized.circuits:
        bare = [section.section for section in circuit.sections if section.method == FREE_AIR]
        if not bare or circuit.circuit.system is System.PV or is_service(circuit.circuit, sized.currents):
            continue
        message = f"single conductors of {circuit.tag} in free air in {', '.join(bare)}: they run in a raceway or as a cable"
        yield remark(sized.book, "conductors_in_methods", circuit.tag, Level.FAIL, message)


def exposed_pv_conductors(sized: Sized) -> Iterator[Check]:
    """PV conductors in free air are PV wire or USE-2.

    References
    ----------
    ``pv_wiring_methods``: 690.31(C)(1).
    """
    for circuit in sized.circuits:
        bare = [section.section for section in circuit.sections if section.method == FREE_AIR]
        if not bare or circuit.circuit.system is not System.PV or circuit.conductor.insulation in EXPOSED_PV:
            continue
        message = f"{circuit.conductor.insulation} in free air in {', '.join(bare)}: exposed single conductors of an array are PV wire or USE-2"
        yield remark(sized.book, "pv_wiring_methods.exposed", circuit.tag, Level.FAIL, message)


def raceway_places(sized: Sized) -> Iterator[Check]:
    """FMC stays out of wet places; ENT stays out of the sun unless it is identified for it.

    References
    ----------
    ``raceway_uses``: 348.12(1), 362.12.
    """
    for raceway in sized.raceways:
        section = sized.network.project.section[raceway.section]
        moisture = [found.moisture for circuit in sized.circuits for found in circuit.sections if found.section == raceway.section]
        if section.method == "FMC" and "wet" in moisture:
            message = f"FMC in {raceway.section} ({section.place}): it may not be used in wet places; LFMC may"
            yield remark(sized.book, "raceway_uses", raceway.section, Level.FAIL, message)
        if section.method == "ENT" and section.sun:
            message = f"ENT in {raceway.section} ({section.place}) in direct sun: only where it is identified as sunlight resistant"
            yield remark(sized.book, "raceway_uses", raceway.section, Level.WARN, message)
