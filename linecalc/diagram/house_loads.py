"""Loads of a dwelling that have no circuit on the drawing: one symbol for all of a panel."""

from __future__ import annotations

from linecalc.diagram.phrases import status
from linecalc.diagram.plan import PlanNode, Style
from linecalc.network.records import Node
from linecalc.report.amounts import amount
from linecalc.study import Study

FROM = 2


def house_loads(study: Study, panel: str, loads: list[Node]) -> PlanNode | None:
    """One leaf for the loads of ``panel`` that are only part of its load calculation; None where each is drawn."""
    bus = study.currents.dwelling.at(panel)
    if bus is None or len(loads) < FROM:
        return None
    existing = all(load.item.existing for load in loads)
    tags = ", ".join(load.tag for load in loads)
    lines = [f"{panel} {status(existing)} house loads", tags]
    if bus.used is not None:
        lines.append(f"{amount(bus.used.current_a, 'A')} calculated")
    return PlanNode(loads[0].tag, Style.LEAF, "load", tuple(lines), existing, end=False)
