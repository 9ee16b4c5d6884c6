"""Set a drawing that is too large for one sheet on several, with matched references."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache, partial

from linecalc.diagram.arrange import Arrangement, arrange_pieces, arrange_whole
from linecalc.diagram.balloons import SEPARATOR
from linecalc.diagram.columns import Density
from linecalc.diagram.cut import Piece, with_sheets
from linecalc.diagram.divide import Fits, Share, Supply, divided, size
from linecalc.diagram.notes_sheet import notes_scene
from linecalc.diagram.one_sheet import legend_kinds, sheet_scene
from linecalc.diagram.plan import Branch, Plan, PlanNode, Style as NodeStyle, TextBlock, branches_of, nodes_of
from linecalc.diagram.scene import Box, Scene
from linecalc.diagram.schedule import shortened
from linecalc.diagram.surround import Style, Surround, surround
from linecalc.diagram.texts import abbreviations

#: While parts are tried, their references name a sheet of this number: none will be longer.
_TRIED = 11
#: Settings tried in both ways before the tighter ones.
_FIRST = 8
#: What fits in any setting fits in one of the tightest.
_TIGHTEST = 4


def several_sheets(
    plan: Plan, densities: tuple[Density, ...], inside: tuple[int, ...] = (0,)
) -> tuple[Scene, ...] | None:
    """The tree divided at its panels, its parts on as few sheets as hold them, the notes on the first.

    *inside* are numbers of groups that the first sheet may hold in the empty corners of its diagram, to be tried
    in this order.  None where one thing with what must stay beside it does not fit on a sheet.
    """
    shares = _shares(plan, densities, inside, 0)
    return None if shares is None else _scenes(plan, shares, densities, inside, 0)


def notes_further_on(plan: Plan, densities: tuple[Density, ...]) -> tuple[Scene, ...] | None:
    """As `several_sheets`, the first sheet left to its part of the tree and the notes on a further one, or one of their own."""
    shares = _shares(plan, densities, (0,), 1)
    if shares is None:
        return None
    tried = (_scenes(plan, shares, densities, (0,), number) for number in range(len(shares) + 1))
    return next((found for found in tried if found is not None), None)


def _shares(plan: Plan, densities: tuple[Density, ...], inside: tuple[int, ...], notes: int) -> tuple[Share, ...] | None:
    """The parts of the tree by the sheet on which they stand; None where one does not fit on any."""
    known: dict[Share, bool] = {}

    def fits(share: Share) -> bool:
        if share not in known:
            known[share] = may_stand_together(plan, share, densities[-_TIGHTEST:], inside, notes)
        return known[share]

    pieces = divided(plan.root, fits, Supply.KEPT if notes == 0 else Supply.CUT)
    return None if pieces is None else shared_out(pieces, fits)


def _scenes(
    plan: Plan, shares: tuple[Share, ...], densities: tuple[Density, ...], inside: tuple[int, ...], notes: int
) -> tuple[Scene, ...] | None:
    """Every sheet, the notes on that of number *notes*; None where one does not hold what it must."""
    found: list[Scene] = []
    count = max(len(shares), notes + 1)
    for number, share in enumerate(with_names(plan, shares)):
        scene = share_scene(part_of(plan, share, number, count, notes), share, densities, inside)
        if scene is None:
            return None
        found.append(scene)
    if notes < len(shares):
        return tuple(found)
    apart = notes_scene(part_of(plan, (), notes, count, notes), _kinds(plan, (Piece("", plan.root),)))
    return None if apart is None else (*found, apart)


def may_stand_together(
    plan: Plan, share: Share, densities: tuple[Density, ...], inside: tuple[int, ...], notes: int = 0
) -> bool:
    """Whether a sheet holds these parts, with references of the longest name; the notes are on sheet *notes*.

    A sheet after the first is tried with the legend and abbreviations of the whole drawing, which are set only once;
    with its own where the first one has no room for the notes.
    """
    number = 0 if share[0].letter == "" else _TRIED
    letters = {node.symbol for piece in share for node in nodes_of(piece.root) if node.style is NodeStyle.REFERENCE}
    sheets = {letter: sheet_name(plan, _TRIED + 1) for letter in letters}
    named = tuple(
        replace(piece, root=with_sheets(piece.root, sheet_name(plan, number), sheets, sheets)) for piece in share
    )
    part = part_of(plan, named, number, _TRIED + 1, notes)
    kinds = _kinds(part, named)
    if number > 0 and notes == 0:
        part, kinds = replace(part, abbreviations=plan.abbreviations), (*_kinds(plan, (Piece("", plan.root),)), "reference")
    settings = _settings(part, named, kinds, densities, inside)
    return any(not room.inside or sheet_scene(part, room, found) is not None for room, found in settings)


def share_scene(part: Plan, share: Share, densities: tuple[Density, ...], inside: tuple[int, ...]) -> Scene | None:
    """The parts of one sheet, in the roomiest way that fits: beside a column of notes, or above them."""
    for room, found in _settings(part, share, _kinds(part, share), densities, inside):
        scene = sheet_scene(part, room, found)
        if scene is not None:
            return scene
    return None


def _kinds(part: Plan, share: Share) -> tuple[str, ...]:
    """What the legend of a sheet with these parts has to explain."""
    bordered = any(piece.boundary for piece in share)
    return (*legend_kinds(tuple(piece.root for piece in share), part.schedule), *(("boundary",) if bordered else ()))


def _settings(
    part: Plan, share: Share, kinds: tuple[str, ...], densities: tuple[Density, ...], inside: tuple[int, ...]
) -> Iterator[tuple[Surround, Arrangement]]:
    """Ways to set parts on a sheet, the roomiest first; only the first sheet has groups inside its diagram."""
    around = lru_cache(partial(surround, part, kinds))
    for groups in inside if share[0].letter == "" else (0,):
        together = (densities[:_FIRST], densities[_FIRST:]) if groups == 0 else tuple((one,) for one in densities)
        for chosen in together:
            for style in (Style.COLUMN, Style.FOOT):
                room = around(style, groups)
                found = None if room is None else _arranged(share, room.area(), chosen)
                if room is not None and found is not None:
                    yield room, found


def _arranged(share: Share, area: Box, densities: tuple[Density, ...]) -> Arrangement | None:
    if len(share) == 1 and not share[0].boundary:
        return arrange_whole(share[0].root, area, densities)
    return arrange_pieces(share, area, densities)


def shared_out(pieces: Share, fits: Fits) -> tuple[Share, ...]:
    """The parts on as few sheets as hold them, and these filled as evenly as they can be."""
    sizes = [size(piece.root) for piece in pieces]
    fullest = _filled(pieces, fits, sum(sizes))
    least = sum(sizes) / len(fullest)
    stretches = {sum(sizes[i:j]) for i in range(len(sizes)) for j in range(i + 1, len(sizes) + 1)}
    for limit in sorted(stretch for stretch in stretches if stretch >= least):
        shares = _filled(pieces, fits, limit)
        if len(shares) <= len(fullest):
            return shares
    return fullest


def _filled(pieces: Share, fits: Fits, limit: int) -> tuple[Share, ...]:
    """Each part on the first sheet that holds it beside what is there already, in *limit* lines."""
    shares: list[Share] = []
    for piece in pieces:
        for number, share in enumerate(shares):
            longer = tuple(sorted((*share, piece), key=lambda found: (len(found.letter), found.letter)))
            if sum(size(found.root) for found in longer) <= limit and fits(longer):
                shares[number] = longer
                break
        else:
            shares.append((piece,))
    return tuple(shares)


def with_names(plan: Plan, shares: tuple[Share, ...]) -> tuple[Share, ...]:
    """The same parts, every reference naming the sheet of its partner."""
    starts: dict[str, str] = {}
    ends: dict[str, str] = {}
    for number, share in enumerate(shares):
        for node in (node for piece in share for node in nodes_of(piece.root) if node.style is NodeStyle.REFERENCE):
            (starts if node.branches else ends)[node.symbol] = sheet_name(plan, number)
    return tuple(
        tuple(replace(piece, root=with_sheets(piece.root, sheet_name(plan, number), ends, starts)) for piece in share)
        for number, share in enumerate(shares)
    )


def sheet_name(plan: Plan, number: int) -> str:
    """``E-601`` for the first sheet, ``E-601.2`` for the second."""
    base = plan.title_block.sheet
    return base if number == 0 else f"{base}.{number + 1}"


def part_of(plan: Plan, share: Share, number: int, count: int, notes: int = 0) -> Plan:
    """The plan of one sheet of several: its own runs, its own number; the notes on sheet *notes* only."""
    runs = (branch.run_tag for piece in share for branch in branches_of(piece.root))
    tags = {tag for run in runs for tag in run.split(SEPARATOR)}
    rows = tuple(row for row in plan.schedule.rows if row[0] in tags)
    title = replace(
        plan.title_block, sheet=sheet_name(plan, number), sheet_count=f"sheet {number + 1} of {count}"
    )
    elsewhere = (TextBlock("NOTES", (f"Notes: see sheet {sheet_name(plan, notes)}.",)),)
    blocks = plan.blocks if number == notes else elsewhere
    part = replace(
        plan, root=PlanNode("", NodeStyle.TURN, "", (), branches=tuple(Branch(piece.root) for piece in share)),
        schedule=shortened(replace(plan.schedule, rows=rows), plan.merging), title_block=title, blocks=blocks,
    )
    used = {short for short, _ in abbreviations(part)}
    return replace(part, abbreviations=tuple(pair for pair in plan.abbreviations if pair[0] in used))


