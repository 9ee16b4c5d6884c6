"""Compose the sheets of a plan: on one sheet wherever it fits, else divided, else with branch circuits drawn together."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from linecalc.diagram.arrange import CLEAR, PACKED, ROOMY, SMALL, TIGHT, Arrangement, arrange_cut, arrange_whole
from linecalc.diagram.columns import Density
from linecalc.diagram.one_sheet import legend_kinds, sheet_scene
from linecalc.diagram.plan import Plan, PlanNode, nodes_of
from linecalc.diagram.scene import Box, Scene
from linecalc.diagram.schedule import shortened
from linecalc.diagram.several import notes_further_on, several_sheets
from linecalc.diagram.surround import Style, Surround, surround
from linecalc.diagram.together import plans_with_groups
from linecalc.diagram.typical import grouped
from linecalc.errors import RefusedError

#: A thing with more branches is higher than a sheet in any setting.
_BRANCHES_MAX = 26
Arrange = Callable[[PlanNode, Box, tuple[Density, ...]], Arrangement | None]
Attempt = tuple[PlanNode, Surround | None, Arrange, tuple[Density, ...]]


def compose(plan: Plan) -> tuple[Scene, ...]:
    """Set a plan on one sheet, or on several when it is too large for one.

    Where not even several sheets hold it, branch circuits of its crowded panels are drawn together, no more than it takes;
    texts are cut short only where that does not help.

    Raises
    ------
    RefusedError
        The content does not fit at the smallest text size.
    """
    plans = tuple(found for found in (plan, *plans_with_groups(plan)) if _most_branches(found) <= _BRANCHES_MAX)
    for attempt in (_whole, _shortened):
        for way in plans:
            found = attempt(way)
            if found is not None:
                return found
    raise RefusedError(f"the single-line diagram does not fit on 17 x 11 in sheets with text of 0.1 in{_crowded(plan)}")


def _whole(plan: Plan) -> tuple[Scene, ...] | None:
    """The sheets with all texts whole: one, else several with the notes on the first of them or on a further one."""
    every = (*ROOMY, *CLEAR, *SMALL)
    together = replace(plan, schedule=shortened(plan.schedule, plan.merging))
    return (
        one_sheet(together, _attempts(together))
        or several_sheets(plan, every)
        or several_sheets(plan, every, (0, 1, 2))
        or notes_further_on(plan, (*every, *PACKED))
    )


def _shortened(plan: Plan) -> tuple[Scene, ...] | None:
    """The sheets with texts cut short."""
    together = replace(plan, schedule=shortened(plan.schedule, plan.merging))
    return one_sheet(together, _cut_short(together)) or several_sheets(plan, TIGHT)


def _most_branches(plan: Plan) -> int:
    return max(len(node.branches) for node in nodes_of(plan.root))


def _crowded(plan: Plan) -> str:
    """What is drawn with the most branches, for a message."""
    most = max(nodes_of(plan.root), key=lambda node: len(node.branches))
    return f"; {most.tag} has {len(most.branches)} branches"


def one_sheet(plan: Plan, attempts: Iterator[Attempt]) -> tuple[Scene, ...] | None:
    """The first attempt that fits, None if none does."""
    for root, around, arrange, densities in attempts:
        if around is None:
            continue
        for chosen in _choices(around, densities):
            found = arrange(root, around.area(), chosen)
            scene = None if found is None else sheet_scene(plan, around, found)
            if scene is not None:
                return (scene,)
    return None


def _choices(around: Surround, densities: tuple[Density, ...]) -> tuple[tuple[Density, ...], ...]:
    """Settings to try together; one by one where the empty corners must hold something too."""
    return tuple((density,) for density in densities) if around.inside else (densities,)


def _attempts(plan: Plan) -> Iterator[Attempt]:
    """Ways to set everything on one sheet with its texts whole, the best to read first."""
    kinds = legend_kinds((plan.root,), plan.schedule)
    column = surround(plan, kinds, Style.COLUMN)
    yield plan.root, column, arrange_whole, (*ROOMY, *CLEAR[:5])
    foot = surround(plan, kinds, Style.FOOT)
    yield plan.root, foot, arrange_whole, CLEAR[:5]
    yield plan.root, column, arrange_whole, CLEAR[5:]
    yield plan.root, foot, arrange_whole, CLEAR[5:]
    together = grouped(plan.root)
    if not _has_room(together, surround(plan, kinds, Style.FOOT, 2)):
        return
    marked = surround(plan, (*kinds, "reference"), Style.FOOT)
    yield plan.root, marked, arrange_cut, CLEAR[3:]
    yield together, foot, arrange_whole, CLEAR[7:]
    yield together, marked, arrange_cut, CLEAR[5:]
    for inside in (1, 2):
        yield together, surround(plan, kinds, Style.FOOT, inside), arrange_whole, (*CLEAR[5:], *SMALL)
        corner = surround(plan, (*kinds, "reference"), Style.FOOT, inside)
        yield together, corner, arrange_cut, (*CLEAR[5:], *SMALL)
    yield together, foot, arrange_whole, SMALL
    yield together, marked, arrange_cut, SMALL


def _has_room(root: PlanNode, around: Surround | None) -> bool:
    """Whether the tree fits in the smallest settings where the most room is left to it: if not, no further way helps."""
    if around is None:
        return False
    return any(arrange(root, around.area(), SMALL) is not None for arrange in (arrange_whole, arrange_cut))


def _cut_short(plan: Plan) -> Iterator[Attempt]:
    """Ways to set everything on one sheet with texts cut short."""
    kinds = legend_kinds((plan.root,), plan.schedule)
    together = grouped(plan.root)
    yield together, surround(plan, kinds, Style.FOOT), arrange_whole, TIGHT
    yield together, surround(plan, (*kinds, "reference"), Style.FOOT), arrange_cut, TIGHT
