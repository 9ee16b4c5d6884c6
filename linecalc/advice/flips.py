"""Flip points: the value of an input at which a verdict changes, found on the real study.

Each axis is first run at its far end. Where a verdict has changed there, the
change is found between by halving; one run of the study serves every axis of
a group at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from linecalc.advice.axes import Axis, Leads, axes_of
from linecalc.advice.design import as_designed
from linecalc.advice.records import Flip, Key
from linecalc.advice.rerun import Found, family, found_by_family, variant, worse
from linecalc.check import Check, Level
from linecalc.codebook import Book
from linecalc.project.model import Project
from linecalc.study import Study


class _Search:
    """The change of one verdict between two positions of an axis: unchanged at ``low``, changed at ``high``.

    Positions are tried where a straight line between the margins crosses zero
    and halfway, in turn: the first finds linear limits at once, the second
    bounds the number of runs for stepped ones.
    """

    __slots__ = ("axis", "key", "before", "low", "high", "refused", "_margins", "_turns")

    def __init__(self, axis: Axis, key: Key, before: Found, far: Found):
        self.axis = axis
        self.key = key
        self.before = before.level
        self.low, self.high = 0, len(axis.values) - 1
        self.refused = False
        self._margins = [before.margin, far.margin]
        self._turns = 0

    @property
    def settled(self) -> bool:
        """Whether the change lies between two neighbouring values."""
        return self.high - self.low == 1

    def middle(self) -> int:
        """The position to try next."""
        self._turns += 1
        low, high = self._margins
        if self._turns % 2 and low is not None and high is not None and low != high and (low < 0.0) != (high < 0.0):
            values = self.axis.values
            crossing = values[self.low] + (values[self.high] - values[self.low]) * low / (low - high)
            return next(
                (at - 1 for at in range(self.low + 2, self.high) if (values[at] - crossing) * (values[self.high] - values[self.low]) > 0.0),
                self.high - 1,
            )
        return (self.low + self.high) // 2

    def take(self, position: int, found: Found | None) -> None:
        """Narrow the search by what was found at a position; None is a refused variant."""
        if not self.low < position < self.high:
            return
        if found is None or _changed(self.before, found.level):
            self.high, self.refused = position, found is None
            self._margins[1] = None if found is None else found.margin
        else:
            self.low = position
            self._margins[0] = found.margin


def _changed(before: Level, after: Level) -> bool:
    """Whether a verdict has turned: a good one for the worse, a bad one for the better."""
    if before in (Level.FAIL, Level.WARN):
        return after in (Level.PASS, Level.NOTE)
    return worse(after, before)


def flip_points(study: Study, checks: Iterable[Check]) -> tuple[Flip, ...]:
    """The flip points of the checks given, in the order of the axes."""
    before = found_by_family(study.checks)
    keys = sorted({(family(check.rule), check.subject) for check in checks if check.level is not Level.NOT_CHECKED})
    wanted = {key: before[key] for key in keys}
    rules = {(family(check.rule), check.subject): check.rule for check in study.checks}
    project = as_designed(study)
    found: list[Flip] = []
    for group in _groups(axis for axis in axes_of(study) if _worth_trying(axis, wanted)):
        runs = _Runs(project, study.book)
        found.extend(_flip(search, rules[search.key]) for search in _searched(group, wanted, runs) if not search.refused)
    return tuple(found)


def _worth_trying(axis: Axis, wanted: Mapping[Key, Found]) -> bool:
    return len(axis.values) > 1 and any(_may_turn(axis, key, now) for key, now in wanted.items())


def _may_turn(axis: Axis, key: Key, now: Found) -> bool:
    bad = now.level in (Level.FAIL, Level.WARN)
    leads = (Leads.EITHER_WAY, Leads.TO_MENDING if bad else Leads.TO_BREAKING)
    return axis.leads in leads and axis.looks_at(*key)


def _groups(axes: Iterable[Axis]) -> list[list[Axis]]:
    """Axes that may be tried in one run together."""
    groups: list[list[Axis]] = []
    for axis in axes:
        fitting = next((group for group in groups if all(_apart(axis, other) for other in group)), None)
        if fitting is None:
            groups.append([axis])
        else:
            fitting.append(axis)
    return groups


def _apart(one: Axis, other: Axis) -> bool:
    if set(one.input.split(" + ")) & set(other.input.split(" + ")):
        return False
    return not (one.touches & other.watches or other.touches & one.watches)


class _Runs:
    """Runs of the study with every axis of a group at a position of its own."""

    def __init__(self, project: Project, book: Book):
        self._project = project
        self._book = book

    def at(self, positions: Sequence[tuple[Axis, int]]) -> list[Mapping[Key, Found] | None]:
        """What each axis sees; None where the variant is refused."""
        settings = [setting for axis, position in positions for setting in axis.settings(axis.values[position])]
        ran = variant(self._project, self._book, settings)
        if ran is not None:
            return [found_by_family(ran.checks)] * len(positions)
        if len(positions) == 1:
            return [None]
        return [self.at([one])[0] for one in positions]


def _searched(group: list[Axis], wanted: Mapping[Key, Found], runs: _Runs) -> list[_Search]:
    """The searches of a group, each settled to neighbouring values."""
    ends = [(axis, len(axis.values) - 1) for axis in group]
    searches = [
        _Search(axis, key, now, far[key])
        for (axis, _), far in zip(ends, runs.at(ends), strict=True)
        for key, now in wanted.items()
        if far is not None and key in far and _may_turn(axis, key, now) and _changed(now.level, far[key].level)
    ]
    while unsettled := [search for search in searches if not search.settled]:
        first = {id(search.axis): search for search in reversed(unsettled)}
        places = [(search.axis, search.middle()) for search in first.values()]
        for (axis, position), found in zip(places, runs.at(places), strict=True):
            for search in unsettled:
                if search.axis is axis:
                    search.take(position, None if found is None else found.get(search.key, wanted[search.key]))
    return searches


def _flip(search: _Search, rule: str) -> Flip:
    axis = search.axis
    good_now = search.before not in (Level.FAIL, Level.WARN)
    near, far = axis.values[search.low], axis.values[search.high]
    passing, broken = (near, far) if good_now else (far, near)
    return Flip(
        rule,
        search.key[1],
        axis.input,
        passing,
        broken,
        axis.settings(passing),
        axis.settings(broken),
        axis.told(passing, broken),
    )


def texts_by_check(flips: Iterable[Flip]) -> Mapping[Key, str]:
    """All flip points of a check in one line."""
    found: dict[Key, list[str]] = {}
    for flip in flips:
        found.setdefault((family(flip.rule), flip.subject), []).append(flip.text)
    return {key: "; ".join(_joined(texts)) for key, texts in found.items()}


def _joined(texts: list[str]) -> Iterator[str]:
    """Texts each once; the verb said once."""
    for index, text in enumerate(dict.fromkeys(texts)):
        yield text if index == 0 else text.removeprefix("passes ")
