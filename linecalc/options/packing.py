"""The search for an arrangement of rows: every order of rows on every place, each row as far left as it can be.

With the order of rows on a place fixed, pushing every row to the left loses
nothing, so the search is exact. A part of it that failed once is not tried
again from a point further right.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from linecalc.options.keepout import Space, Span, forbidden, why_never
from linecalc.options.rows import Item, Row, apart_in

MOST_TRIES = 20_000
_TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Put:
    """A row on a place, with the position of its left end in inches."""

    row: Row
    space: Space
    left_in: float


@dataclass(frozen=True, slots=True)
class Packed:
    """What the search found; ``stopped`` where it ended before every arrangement was tried."""

    puts: tuple[Put, ...] | None
    stopped: bool


@dataclass(slots=True)
class _Search:
    """What one search remembers: stretches already worked out, dead ends, tries."""

    spaces: tuple[Space, ...]
    most: int
    spans: dict[tuple[int, tuple[tuple[float, ...], ...]], tuple[Span, ...] | None] = field(default_factory=dict)
    dead: dict[tuple[object, ...], float] = field(default_factory=dict)
    tries: int = 0

    def allowed(self, place: int, row: Row) -> tuple[Span, ...] | None:
        """Where the row may not begin on a place; None where it can stand nowhere on it."""
        key = (place, row.shape)
        if key not in self.spans:
            space = self.spaces[place]
            self.spans[key] = None if why_never(space, row) else forbidden(space, row)
        return self.spans[key]


def pack(groups: tuple[tuple[Row, ...], ...], spaces: tuple[Space, ...], most: int = MOST_TRIES) -> Packed:
    """Put one row of every group somewhere.

    Parameters
    ----------
    groups : for every unit the rows it may form, the preferred one first.
    most : tries after which the search gives up.
    """
    search = _Search(spaces, most)
    order = sorted(groups, key=lambda rows: (-rows[0].width_in, rows[0].unit))
    found = _next(search, tuple(order), 0, None, 0.0, 0.0)
    return Packed(None if found is None else tuple(sorted(found, key=lambda put: (put.space.name, put.left_in))), search.tries > most)


def _next(search: _Search, groups: tuple[tuple[Row, ...], ...], place: int, before: Item | None, end_in: float, used_kwh: float) -> tuple[Put, ...] | None:
    if not groups:
        return ()
    if place == len(search.spaces):
        return None
    key = (place, tuple(rows[0].shape for rows in groups), before and (before.kind, before.clearance_in, before.depth_in), round(used_kwh, 6))
    if search.dead.get(key, float("inf")) <= end_in + _TINY:
        return None
    seen: set[tuple[tuple[float, ...], ...]] = set()
    for index, rows in enumerate(groups):
        if rows[0].shape in seen:
            continue
        seen.add(rows[0].shape)
        found = _each_row(search, rows, (*groups[:index], *groups[index + 1 :]), place, before, end_in, used_kwh)
        if found is not None or search.tries > search.most:
            return found
    found = _next(search, groups, place + 1, None, 0.0, 0.0)
    if found is None:
        search.dead[key] = min(search.dead.get(key, float("inf")), end_in)
    return found


def _each_row(
    search: _Search, rows: tuple[Row, ...], rest: tuple[tuple[Row, ...], ...], place: int, before: Item | None, end_in: float, used_kwh: float
) -> tuple[Put, ...] | None:
    """The rest of the search with one of these rows put next on the place."""
    space = search.spaces[place]
    for row in rows:
        search.tries += 1
        spans = search.allowed(place, row)
        if search.tries > search.most:
            return None
        if spans is None or used_kwh + row.energy_kwh > space.energy_kwh * (1.0 + _TINY):
            continue
        least = end_in + apart_in(before, row.ends[0]) if before is not None else 0.0
        left = leftmost(spans, least)
        if left is None:
            continue
        found = _next(search, rest, place, row.ends[1], left + row.width_in, used_kwh + row.energy_kwh)
        if found is not None:
            return (Put(row, space, left), *found)
    return None


def leftmost(spans: tuple[Span, ...], least: float) -> float | None:
    """The first position at or right of ``least`` outside every stretch; None where there is none.

    Examples
    --------
    >>> leftmost(((float("-inf"), 12.0), (20.0, 50.0), (90.0, float("inf"))), 30.0)
    50.0
    """
    at = least
    for low, high in spans:
        if low + _TINY < at < high - _TINY or (low == float("-inf") and at < high):
            at = high
    return None if at == float("inf") else at


def free_stretches(space: Space, row: Row) -> tuple[Span, ...]:
    """The stretches of a place that a row of its own may take, from its left end to its right end."""
    edge: float | None = None
    found = []
    for low, high in forbidden(space, row):
        if edge is not None and low >= edge - _TINY:
            found.append((edge, low + row.width_in))
        edge = high
    return tuple(found)
