"""One sheet: what stands around, the diagram, and what its empty corners hold."""

from __future__ import annotations

from linecalc.diagram.arrange import Arrangement, Spread, place_arrangement
from linecalc.diagram.balloons import SEPARATOR
from linecalc.diagram.blocks import used_symbols
from linecalc.diagram.plan import Plan, PlanNode, Table, nodes_of
from linecalc.diagram.scene import Outline, Scene
from linecalc.diagram.surround import Surround, surround_items
from linecalc.diagram.voids import fill_voids


def sheet_scene(plan: Plan, around: Surround, found: Arrangement) -> Scene | None:
    """The scene of one sheet; None if the groups left for its empty corners find no room there."""
    spread = Spread.TOP if around.inside else Spread.EVEN
    diagram = place_arrangement(found, around.area(), spread)
    corners = fill_voids(diagram, around.area(), around.inside)
    if corners is None:
        return None
    items = (*surround_items(around), *diagram, *corners)
    block = plan.title_block
    return Scene(items, f"{block.title}: {block.sheet_title}", plan.description, block.sheet, notes=plan.notes)


def legend_kinds(roots: tuple[PlanNode, ...], schedule: Table) -> tuple[str, ...]:
    """What the legend has to explain."""
    kinds = [kind for root in roots for kind in used_symbols(root)]
    nodes = [node for root in roots for node in nodes_of(root)]
    if schedule.rows:
        kinds.append("run tag")
    existing = {node.existing for node in nodes}
    if True in existing:
        kinds.append("existing")
    if False in existing:
        kinds.append("new")
    if any(node.boundary for node in nodes):
        kinds.append("boundary")
    return tuple(dict.fromkeys(kinds))


def run_tags(scene: Scene) -> tuple[str, ...]:
    """Tags of the conductor runs that the scene shows."""
    shown = [item.subject for item in scene.of(Outline) if item.kind == "run tag" and item.subject != "legend"]
    return tuple(dict.fromkeys(tag for subject in shown for tag in subject.split(SEPARATOR)))
