"""Draw plain branch circuits of a crowded panel together: one branch of its bus for several of one rating."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum
from itertools import groupby

from linecalc.diagram.balloons import SEPARATOR, in_ranges, names_all
from linecalc.diagram.phrases import status
from linecalc.diagram.plan import Branch, Merging, Plan, PlanNode, Style, TextBlock
from linecalc.network.build import natural

_NOTE = "6 x 20 A: six branch circuits drawn together, each with a breaker of its own; the schedule lists them."
_RANGES_NOTE = "Runs on one row of the schedule: least to largest length, current and drop."
#: Up to so many ratings stand above a wire.
_RATINGS_MAX = 2
_LOAD, _MOTOR, _EV = "load", "motor", "ev equipment"
_EVERY = (_LOAD, _MOTOR, _EV)
_NAMES = {_LOAD: "branch circuits", _MOTOR: "motors", _EV: "EV equipment circuits"}


class Naming(Enum):
    """What the text of a group says of each load: all that stood beside it, or its tag."""

    WHOLE = "whole"
    TAG = "tag"


class Likeness(Enum):
    """What circuits of one symbol have in common that are drawn together.

    Rating and marks of run and load; or the mark of the run; or nothing else.
    """

    RATING = "rating"
    MARK = "mark"
    SYMBOL = "symbol"


@dataclass(frozen=True, slots=True)
class Grouping:
    """Which circuits are drawn together.

    Those of one symbol in panels with ``crowd`` circuits or more of these ``symbols``, in groups of at least ``least``.
    """

    crowd: int
    least: int
    symbols: tuple[str, ...]
    naming: Naming
    likeness: Likeness = Likeness.RATING
    merging: Merging = Merging.EQUAL


#: The one first that leaves the most circuits to themselves.
GROUPINGS = (
    Grouping(8, 3, (_LOAD,), Naming.WHOLE),
    Grouping(4, 2, _EVERY, Naming.WHOLE),
    Grouping(2, 2, _EVERY, Naming.TAG),
    Grouping(2, 2, _EVERY, Naming.TAG, merging=Merging.RANGES),
    Grouping(2, 2, _EVERY, Naming.TAG, Likeness.MARK),
    Grouping(2, 2, _EVERY, Naming.TAG, Likeness.MARK, Merging.RANGES),
    Grouping(2, 2, _EVERY, Naming.TAG, Likeness.SYMBOL, Merging.RANGES),
)


def plans_with_groups(plan: Plan) -> Iterator[Plan]:
    """The plan with ever more circuits drawn together, each way that changes it.

    At last rows of its schedule are put together that differ in length, current and drop.
    """
    before = plan
    for grouping in GROUPINGS:
        notes = (_NOTE,) if grouping.merging is Merging.EQUAL else (_NOTE, _RANGES_NOTE)
        found = replace(
            plan, root=with_groups(plan.root, grouping), blocks=_with_notes(plan.blocks, notes), merging=grouping.merging,
        )
        if found.root != plan.root and found != before:
            before = found
            yield found


def with_groups(root: PlanNode, grouping: Grouping) -> PlanNode:
    """The tree with plain branch circuits of equal rating, kind and mark drawn together."""
    branches = tuple(replace(branch, node=with_groups(branch.node, grouping)) for branch in root.branches)
    if root.style is Style.BUS and sum(_is_plain(branch, grouping) for branch in branches) >= grouping.crowd:
        stretches = groupby(branches, key=lambda branch: branch.node.style is Style.LEAF)
        branches = tuple(found for _, stretch in stretches for found in _gathered(tuple(stretch), grouping))
    return replace(root, branches=branches)


def _is_plain(branch: Branch, grouping: Grouping) -> bool:
    """Whether a branch is a load at the end of a circuit of its own."""
    return branch.node.style is Style.LEAF and branch.node.symbol in grouping.symbols and bool(branch.run_tag)


def _gathered(branches: tuple[Branch, ...], grouping: Grouping) -> Iterator[Branch]:
    """The branches between two that lead further; a group stands where the first of it stood."""
    groups: dict[tuple[object, ...], list[Branch]] = {}
    for number, branch in enumerate(branches):
        groups.setdefault(_likeness(branch, grouping.likeness) if _is_plain(branch, grouping) else (number,), []).append(branch)
    for found in groups.values():
        if len(found) < grouping.least:
            yield from found
        else:
            yield _together(sorted(found, key=lambda branch: natural(branch.run_tag)), grouping.naming)


def _likeness(branch: Branch, likeness: Likeness) -> tuple[object, ...]:
    if likeness is Likeness.MARK:
        return branch.device, branch.existing, branch.node.symbol
    if likeness is Likeness.SYMBOL:
        return branch.device, branch.node.symbol
    return branch.device, branch.rating, branch.existing, branch.node.existing, branch.node.symbol


def _together(found: list[Branch], naming: Naming) -> Branch:
    """One branch for all of them, with every tag of its loads and its runs."""
    first = found[0]
    run_tag = SEPARATOR.join(branch.run_tag for branch in found)
    marks = {branch.node.existing for branch in found}
    mark = f" {status(first.node.existing)}" if len(marks) == 1 else ""
    node = replace(
        first.node, tag=SEPARATOR.join(branch.node.tag for branch in found), circuits=len(found),
        existing=all(marks), label=(f"{len(found)}{mark} {_NAMES[first.node.symbol]}", *_entries(found, naming, run_tag)),
    )
    existing = all(branch.existing for branch in found)
    return replace(first, node=node, run_tag=run_tag, rating=_ratings(found), existing=existing)


def _ratings(found: list[Branch]) -> str:
    """``6 x 20 A``; of several ratings each with its quantity, or the first and the last where these are many."""
    counts = Counter(branch.rating for branch in sorted(found, key=lambda branch: natural(branch.rating)) if branch.rating)
    if len(counts) <= _RATINGS_MAX:
        return SEPARATOR.join(f"{count} x {rating}" for rating, count in counts.items())
    first, *_, last = counts
    return f"{len(found)} x {first} to {last}"


def _entries(found: list[Branch], naming: Naming, run_tag: str) -> tuple[str, ...]:
    """What is said of each circuit; ahead of it the tag of its run where the balloon has no room for all, or their marks differ."""
    run_marks = len({branch.existing for branch in found}) > 1
    named = names_all(run_tag) and not run_marks
    mixed = len({branch.node.existing for branch in found}) > 1
    several = len({branch.rating for branch in found}) > 1
    if naming is Naming.TAG and named and not mixed and not several:
        return (in_ranges(tuple(branch.node.tag for branch in found)),)
    return tuple(
        ("" if named else f"{branch.run_tag}{f' {status(branch.existing)}' if run_marks else ''}: ")
        + (branch.node.tag if naming is Naming.TAG else _whole(branch.node))
        + (f" {status(branch.node.existing)}" if mixed else "")
        + (f", {branch.rating}" if several else "")
        for branch in found
    )


def _whole(node: PlanNode) -> str:
    """All that stands beside a load, on one line without its mark."""
    return SEPARATOR.join((node.label[0].replace(f" {status(node.existing)}", "", 1), *node.label[1:]))


def _with_notes(blocks: tuple[TextBlock, ...], notes: tuple[str, ...]) -> tuple[TextBlock, ...]:
    first, *further = blocks
    return (replace(first, paragraphs=(*first.paragraphs, *notes)), *further)
