"""What stands below a thing where the neutral is bonded or the electrodes are connected."""

from __future__ import annotations

from linecalc.network.records import Node
from linecalc.sizing.grounding_records import LISTED, BondingJumper, BondPoint, BondRole, ElectrodeNeed
from linecalc.study import Study

_JUMPERS = {BondRole.SERVICE: "MBJ", BondRole.SOURCE: "SBJ", BondRole.BUILDING: "bonding jumper"}
_PLAIN = {"concrete-encased": "concrete-encased electrode", "structural metal": "structural metal"}


def bond_of(study: Study, node: Node) -> str | None:
    """The text of the neutral bond of a thing, None where it has none."""
    point = study.sized.grounding.point(node.tag)
    bonded = getattr(node.item, "neutral_bond", None) is True or (point is not None and point.jumper is not None)
    if not bonded:
        return None
    return "neutral bonded to ground" if point is None or point.jumper is None else _jumper(point, point.jumper)


def electrode_of(study: Study, node: Node) -> str | None:
    """The text below the electrodes of a thing, None where none are connected."""
    point = study.sized.grounding.point(node.tag)
    if point is None:
        return None
    mark = "(E) " if electrode_existing(study, node) else ""
    kinds = ", ".join(_kind(need) for need in point.electrode.electrodes) or "electrodes, kinds not stated"
    conductor = f"GEC {point.electrode.size} {point.electrode.material} to {mark}{kinds}"
    return conductor if point.jumper is None else f"{conductor}; {_jumper(point, point.jumper)}"


def electrode_existing(study: Study, node: Node) -> bool:
    """Whether the electrodes of a thing are those of the dwelling, and exist already."""
    point = study.sized.grounding.point(node.tag)
    return point is not None and point.role is BondRole.SERVICE and study.project.grounding.existing


def _kind(need: ElectrodeNeed) -> str:
    name = _PLAIN.get(need.kind, need.kind)
    return f"{need.count} {name}s" if need.count > 1 else name


def _jumper(point: BondPoint, jumper: BondingJumper) -> str:
    return f"{_JUMPERS[point.role]} {'listed' if jumper.kind == LISTED else f'{jumper.size} {jumper.material}'}"
