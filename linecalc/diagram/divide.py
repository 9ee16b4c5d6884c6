"""Divide a tree that is too large for one sheet into parts that each fit on one: at its panels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from linecalc.diagram.cut import Cut, Piece, cut_at, feeder_runs, input_runs, load_runs, panel_runs, source_runs
from linecalc.diagram.plan import PlanNode, Style, nodes_of

#: Parts that stand on one sheet.
Share = tuple[Piece, ...]
Fits = Callable[[Share], bool]


class Supply(Enum):
    """Whether a panel stays with what supplies it, such as the meter, or may be cut from it as a last resort."""

    KEPT = "kept"
    CUT = "cut"


def divided(root: PlanNode, fits: Fits, supply: Supply = Supply.KEPT) -> Share | None:
    """The parts of a tree, each of which fits on a sheet; the first starts at the utility.

    None where one thing with what must stay beside it is larger than a sheet.
    """
    waiting = [Piece("", root)]
    found: list[Piece] = []
    letters = 0
    while waiting:
        piece = waiting.pop(0)
        cut = cut_to_fit(piece, letters, fits, supply)
        if cut is None:
            return None
        found.append(Piece(piece.letter, cut.main, piece.boundary))
        waiting = [*cut.pieces, *waiting]
        letters += len(cut.pieces)
    return tuple(found)


def cut_to_fit(piece: Piece, first: int, fits: Fits, supply: Supply = Supply.KEPT) -> Cut | None:
    """The least cut after which a piece fits on a sheet, as a drafter would choose it.

    Nothing; else one feeder, where both parts then fit whole; else sources, as many as needed;
    else a feeder with all beyond it, and sources; else strings and storage modules of one unit.
    """
    if fits((piece,)):
        return Cut(piece.root, ())
    work = Division(piece, first, fits, panel_runs(piece.root) if supply is Supply.CUT else ())
    if work.is_hopeless():
        return None
    return work.at_one_feeder() or work.at_sources(()) or work.at_feeders() or work.at_inputs()


@dataclass(frozen=True, slots=True)
class Division:
    """A piece to divide; letters of references are counted from ``first``.

    ``supplies`` are runs from what supplies a panel, that may be cut as a last resort.
    """

    piece: Piece
    first: int
    fits: Fits
    supplies: tuple[str, ...] = ()

    def is_hopeless(self) -> bool:
        """Whether not even what stays where every run is cut that may be fits, so that no way has to be tried."""
        root = self.piece.root
        runs = (*feeder_runs(root), *source_runs(root), *load_runs(root))
        if not runs or any(node.style is Style.UNIT for node in nodes_of(self.cut(runs).main)):
            return False
        ways = (runs, (*runs, *self.supplies), self.supplies)
        return not any(self.fits((self.main(self.cut(way)),)) for way in ways)

    def at_one_feeder(self) -> Cut | None:
        """Two parts that fit whole, the most alike in size."""
        for run in self.feeders_by_balance():
            cut = self.cut((run,))
            if self.fits((self.main(cut),)) and self.fits(cut.pieces):
                return cut
        return None

    def at_sources(self, feeders: tuple[str, ...]) -> Cut | None:
        """As many sources as possible stay, the first ones; *feeders* are cut in any case."""
        rest = cut_at(self.piece, frozenset(feeders)).main
        sources = source_runs(rest)
        best: Cut | None = None
        low, high = 0, len(sources)
        while low <= high:
            kept = (low + high) // 2
            cut = self.cut((*feeders, *sources[kept:]))
            if cut.pieces and self.fits((self.main(cut),)):
                best, low = cut, kept + 1
            else:
                high = kept - 1
        return best

    def at_feeders(self) -> Cut | None:
        """One feeder, or all of them, or loads too that have something ahead of them; and sources as needed.

        At last a panel is cut from what supplies it.
        """
        feeders = self.feeders_by_balance()
        loads = (*feeders, *load_runs(self.piece.root))
        for runs in (*((run,) for run in feeders), feeders, loads, self.supplies):
            cut = self.at_sources(runs) if runs else None
            if cut is not None:
                return cut
        return None

    def at_inputs(self) -> Cut | None:
        """Half of the strings and storage modules stay, or as many as fit."""
        inputs = input_runs(self.piece.root)
        for kept in range((len(inputs) + 1) // 2, 0, -1):
            cut = self.cut(inputs[kept:])
            if self.fits((self.main(cut),)):
                return cut
        return None

    def cut(self, runs: tuple[str, ...]) -> Cut:
        """The piece cut at these runs."""
        return cut_at(self.piece, frozenset(runs), self.first)

    def main(self, cut: Cut) -> Piece:
        """What stays together of the piece."""
        return Piece(self.piece.letter, cut.main, self.piece.boundary)

    def feeders_by_balance(self) -> tuple[str, ...]:
        """Feeders, the one first that divides the piece most evenly."""
        half = size(self.piece.root) / 2
        weights = {run: size(self.cut((run,)).pieces[0].root) for run in feeder_runs(self.piece.root)}
        return tuple(sorted(weights, key=lambda run: abs(weights[run] - half)))


def size(root: PlanNode) -> int:
    """How many lines a tree takes, about: its ends, and a line for the text of every thing with several branches."""
    return sum(1 for node in nodes_of(root) if len(node.branches) != 1)
