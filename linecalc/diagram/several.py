"""Split a drawing that is too large for one sheet: panels first, sources on the following sheets."""

from __future__ import annotations

from dataclasses import replace

from linecalc.diagram.arrange import arrange_pieces, arrange_whole
from linecalc.diagram.columns import Density
from linecalc.diagram.cut import Piece, cut_sources, relabelled
from linecalc.diagram.one_sheet import legend_kinds, sheet_scene
from linecalc.diagram.plan import Plan, PlanNode, TextBlock, branches_of
from linecalc.diagram.scene import Scene
from linecalc.diagram.surround import Style, surround
from linecalc.diagram.typical import SEPARATOR


def several_sheets(plan: Plan, densities: tuple[Density, ...]) -> tuple[Scene, ...] | None:
    """The panels on the first sheet, the sources on the following ones, with matched references.

    None where the panels alone, or one source alone, do not fit on a sheet.
    """
    cut = cut_sources(plan.root, f"sheet {sheet_name(plan, 1)}")
    shares = _shares(plan, cut.pieces, densities)
    if not shares:
        return None
    for number, share in enumerate(shares, start=1):
        cut = relabelled(cut, {piece.letter for piece in share}, f"sheet {sheet_name(plan, number)}")
    count = len(shares) + 1
    scenes = [_main_sheet(_part(plan, (cut.main,), 0, count), cut.main, densities)]
    for number, share in enumerate(shares, start=1):
        part = _part(plan, tuple(piece.root for piece in share), number, count)
        scenes.append(_piece_sheet(part, share, densities))
    found = tuple(scene for scene in scenes if scene is not None)
    return found if len(found) == count else None


def _main_sheet(part: Plan, root: PlanNode, densities: tuple[Density, ...]) -> Scene | None:
    kinds = (*legend_kinds((root,), part.schedule), "reference")
    for style in (Style.COLUMN, Style.FOOT):
        around = surround(part, kinds, style)
        found = None if around is None else arrange_whole(root, around.area(), densities)
        if found is not None and around is not None:
            return sheet_scene(part, around, found)
    return None


def _piece_sheet(part: Plan, pieces: tuple[Piece, ...], densities: tuple[Density, ...]) -> Scene | None:
    kinds = legend_kinds(tuple(piece.root for piece in pieces), part.schedule)
    around = surround(part, (*kinds, "reference"), Style.COLUMN)
    found = None if around is None else arrange_pieces(pieces, around.area(), densities)
    return None if found is None or around is None else sheet_scene(part, around, found)


def _shares(plan: Plan, pieces: tuple[Piece, ...], densities: tuple[Density, ...]) -> list[tuple[Piece, ...]]:
    """The pieces shared out over sheets, as many on each as fit."""
    shares: list[tuple[Piece, ...]] = []
    current: tuple[Piece, ...] = ()
    for piece in pieces:
        longer = (*current, piece)
        part = _part(plan, tuple(found.root for found in longer), 1, 2)
        if current and _piece_sheet(part, longer, densities) is None:
            shares.append(current)
            current = (piece,)
        else:
            current = longer
    return [*shares, current] if current else shares


def sheet_name(plan: Plan, number: int) -> str:
    """``E-601`` for the first sheet, ``E-601.2`` for the second."""
    base = plan.title_block.sheet
    return base if number == 0 else f"{base}.{number + 1}"


def _part(plan: Plan, roots: tuple[PlanNode, ...], number: int, count: int) -> Plan:
    """The plan of one sheet of several: its own runs, its own number; notes on the first one only."""
    tags = {tag for root in roots for branch in branches_of(root) for tag in branch.run_tag.split(SEPARATOR)}
    rows = tuple(row for row in plan.schedule.rows if tags & set(row[0].split(SEPARATOR)))
    title = replace(
        plan.title_block, sheet=sheet_name(plan, number), sheet_count=f"sheet {number + 1} of {count}"
    )
    blocks = plan.blocks if number == 0 else (TextBlock("NOTES", (f"Notes: see sheet {sheet_name(plan, 0)}.",)),)
    return replace(plan, root=roots[0], schedule=replace(plan.schedule, rows=rows), title_block=title, blocks=blocks)
