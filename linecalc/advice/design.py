"""The design as it would be built: everything that was chosen, written in as given.

A search over an input must not let the study choose another conductor on the
way, or nothing would ever flip. So searches run on the design, fixes on the
project as the user wrote it.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.project.model import Project
from linecalc.project.wording import dotted
from linecalc.sizing.records import Governed, SizedCircuit
from linecalc.study import Study
from linecalc.term import value_of
from linecalc.variants import with_values

Setting = tuple[str, object]


def as_designed(study: Study) -> Project:
    """The project with every device, conductor, neutral, grounding conductor and raceway that was chosen written in."""
    settings = dict(setting for circuit in study.sized.circuits for setting in _of_circuit(circuit))
    for raceway in study.sized.raceways:
        if raceway.selected and raceway.size is not None:
            settings[dotted(("section", raceway.section, "size"))] = f"{raceway.size} in"
    return with_values(study.project, settings.items())


def _of_circuit(circuit: SizedCircuit) -> Iterator[Setting]:
    if circuit.device is not None and circuit.device.selected:
        yield circuit.device.path, f"{value_of(circuit.device.rating):g} A"
    if circuit.governed_by in (Governed.NOT_DETERMINED, Governed.NOTHING_PASSES):
        return
    if circuit.conductor.selected:
        yield dotted(("circuit", circuit.tag, "conductor")), circuit.conductor.text
    if circuit.neutral is not None and circuit.neutral.selected:
        yield dotted(("circuit", circuit.tag, "neutral")), circuit.neutral.text
    if circuit.egc is not None and not circuit.egc.given and circuit.egc.kind != "raceway":
        yield dotted(("circuit", circuit.tag, "egc")), f"{circuit.egc.size} {circuit.egc.material}"
