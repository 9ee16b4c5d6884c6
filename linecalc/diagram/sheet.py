"""Compose the sheets of a plan: on one sheet wherever it fits, else the sources on further ones."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from linecalc.diagram.arrange import (
    CLEAR,
    SMALL,
    TIGHT,
    Arrangement,
    Spread,
    arrange_cut,
    arrange_main,
    arrange_pieces,
    arrange_whole,
    place_arrangement,
)
from linecalc.diagram.blocks import Density, used_symbols
from linecalc.diagram.cut import Piece, cut_sources, relabelled
from linecalc.diagram.plan import Plan, PlanNode, Table, TextBlock, branches_of, nodes_of
from linecalc.diagram.scene import Box, Outline, Scene
from linecalc.diagram.surround import Style, Surround, surround, surround_items
from linecalc.diagram.typical import SEPARATOR, grouped
from linecalc.diagram.voids import fill_voids
from linecalc.errors import RefusedError

_EVERY = (*CLEAR, *SMALL, *TIGHT)


def compose(plan: Plan) -> tuple[Scene, ...]:
    """Set a plan on one sheet, or on several when it is too large for one.

    Raises
    ------
    RefusedError
        The content does not fit at the smallest text size.
    """
    for root, around, arrange, densities in _attempts(plan):
        for chosen in [densities] if around is None or not around.inside else [(found,) for found in densities]:
            scene = None if around is None else _tried(plan, root, around, arrange, chosen)
            if scene is not None:
                return (scene,)
    return _several_sheets(plan)


def _tried(
    plan: Plan, root: PlanNode, around: Surround, arrange: Arrange, densities: tuple[Density, ...]
) -> Scene | None:
    """The scene of one attempt, None if diagram or groups find no room."""
    found = arrange(root, around.area(), densities)
    return None if found is None else _scene(plan, around, found)


Arrange = Callable[[PlanNode, Box, tuple[Density, ...]], Arrangement | None]
Attempt = tuple[PlanNode, Surround | None, Arrange, tuple[Density, ...]]


def _attempts(plan: Plan) -> Iterator[Attempt]:
    """Ways to set everything on one sheet, the best to read first."""
    kinds = legend_kinds((plan.root,), plan.schedule)
    column = surround(plan, kinds, Style.COLUMN)
    foot = surround(plan, kinds, Style.FOOT)
    for densities in (CLEAR[:5], CLEAR[5:]):
        yield plan.root, column, arrange_whole, densities
        yield plan.root, foot, arrange_whole, densities
    marked = surround(plan, (*kinds, "reference"), Style.FOOT)
    together = grouped(plan.root)
    yield plan.root, marked, arrange_cut, CLEAR[3:]
    yield together, foot, arrange_whole, CLEAR[7:]
    yield together, marked, arrange_cut, CLEAR[5:]
    for inside in (1, 2):
        corner = surround(plan, kinds, Style.FOOT, inside)
        yield together, corner, arrange_whole, (*CLEAR[5:], *SMALL)
        corner = surround(plan, (*kinds, "reference"), Style.FOOT, inside)
        yield together, corner, arrange_cut, (*CLEAR[5:], *SMALL)
    for densities in (SMALL, TIGHT):
        yield together, foot, arrange_whole, densities
        yield together, marked, arrange_cut, densities


def _several_sheets(plan: Plan) -> tuple[Scene, ...]:
    """The panels on the first sheet, the sources on the following ones, with matched references.

    Raises
    ------
    RefusedError
        The panels alone, or one source alone, do not fit on a sheet.
    """
    cut = cut_sources(plan.root, f"sheet {sheet_name(plan, 1)}")
    shares = _shares(plan, cut.pieces)
    for number, share in enumerate(shares, start=1):
        cut = relabelled(cut, {piece.letter for piece in share}, f"sheet {sheet_name(plan, number)}")
    count = len(shares) + 1
    first = _part(plan, (cut.main,), 0, count)
    around = surround(first, (*legend_kinds((cut.main,), first.schedule), "reference"), Style.COLUMN)
    found = None if around is None else arrange_main(cut.main, around.area(), _EVERY)
    if found is None or around is None:
        raise RefusedError("the panels of the single-line diagram do not fit on one 17 x 11 in sheet at 0.1 in text")
    rest = (_piece_sheet(plan, share, number, count) for number, share in enumerate(shares, start=1))
    return (_scene(first, around, found), *rest)


def _piece_sheet(plan: Plan, pieces: tuple[Piece, ...], number: int, count: int) -> Scene:
    part = _part(plan, tuple(piece.root for piece in pieces), number, count)
    found, around = _apart(part, pieces)
    if found is None or around is None:
        raise RefusedError("a source with its strings and storage does not fit on one 17 x 11 in sheet at 0.1 in text")
    return _scene(part, around, found)


def _apart(part: Plan, pieces: tuple[Piece, ...]) -> tuple[Arrangement | None, Surround | None]:
    kinds = legend_kinds(tuple(piece.root for piece in pieces), part.schedule)
    around = surround(part, (*kinds, "reference"), Style.COLUMN)
    return (None if around is None else arrange_pieces(pieces, around.area(), _EVERY)), around


def _shares(plan: Plan, pieces: tuple[Piece, ...]) -> list[tuple[Piece, ...]]:
    """The pieces shared out over sheets, as many on each as fit."""
    shares: list[tuple[Piece, ...]] = []
    current: tuple[Piece, ...] = ()
    for piece in pieces:
        longer = (*current, piece)
        part = _part(plan, tuple(found.root for found in longer), 1, 2)
        if current and _apart(part, longer)[0] is None:
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


def _scene(plan: Plan, around: Surround, found: Arrangement) -> Scene | None:
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


