"""Where units and storage modules stand: a small packing of rows on the given walls and strips of floor.

A row is a unit with its storage modules beside it. Rows stand side by side with
their clearances, away from doors and windows, with the working space in front.
On the floor modules may be stacked where a stacking kit says so. The way of a
harness is taken along the wall from the middle of the unit to the middle of the
module, and up by what stands below it.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.network.records import Assumption
from linecalc.options.keepout import WALL_BOTTOM_IN, Space, edges_in, why_never, working_span
from linecalc.options.packing import Packed, Put, free_stretches, pack
from linecalc.options.records import Box, Candidate, Layout, Reason, Working
from linecalc.options.rows import UNIT, Item, Row, item_of, rows_of
from linecalc.project.options_model import Options, Place

__all__ = ["Item", "item_of", "layout_of"]
RULE = "placement"


def layout_of(candidate: Candidate, units: list[str], unit: Item, module: Item | None, options: Options, wanted: str | None, reach_in: float | None = None) -> Layout:
    """Place every unit with its storage modules, or say why they do not fit.

    Preferred are the mounting of the project's units, modules that are not
    stacked, and ways within the longest harness, in this order.

    Parameters
    ----------
    wanted : mounting of the project's units; where no place allows it, another that a place allows is taken.
    reach_in : the longest harness in inches; None where it is not known.
    """
    places = options.place
    needs = [f"options.place.{name}.{key}" for name, place in places.items() for key in ("height", "depth_in_front") if getattr(place, key) is None]
    first: tuple[tuple[Row, ...], ...] = ()
    stopped = False
    for reach in dict.fromkeys((reach_in, None)):
        for spaces, stack in _plans(places, options, wanted):
            groups = rows_of(candidate, units, unit, module, stack)
            first = first or groups
            near = tuple(tuple(row for row in rows if _within(row, reach)) for rows in groups)
            packed = pack(near, spaces) if all(near) else Packed(None, False)
            stopped = stopped or packed.stopped
            if packed.puts is not None:
                return _layout(packed.puts, needs)
    spaces = next(_plans(places, options, wanted))[0]
    taken = sum(rows[0].width_in for rows in first)
    if stopped:
        return Layout((), (), taken, "", (), (*needs, "a place: the search for one was stopped, give fewer or wider places"))
    return Layout((), _ways([rows[0] for rows in first]), taken, spaces[0].mounting, tuple(_why_not(first, spaces)), tuple(needs))


def _plans(places: dict[str, Place], options: Options, wanted: str | None) -> Iterator[tuple[tuple[Space, ...], int]]:
    """Mounting and stacking that are tried, in order of preference."""
    most = max((found.stack for found in options.accessory.values() if found.stack is not None), default=1)
    tried: set[tuple[tuple[str, ...], int]] = set()
    for mounting in dict.fromkeys((wanted or "floor", "floor", "wall")):
        spaces = tuple(Space(name, place, mounting if mounting in place.mounting else place.mounting[0]) for name, place in places.items())
        floors = all(space.mounting == "floor" for space in spaces)
        for stack in range(1, most + 1 if floors else 2):
            key = (tuple(space.mounting for space in spaces), stack)
            if key not in tried:
                tried.add(key)
                yield spaces, stack


def _within(row: Row, reach_in: float | None) -> bool:
    return reach_in is None or all(way <= reach_in * (1.0 + 1e-9) for _, way in row.ways_in)


def _layout(puts: tuple[Put, ...], needs: list[str]) -> Layout:
    boxes = tuple(box for put in puts for box in _boxes(put))
    working = tuple(
        Working(put.space.name, spot.item.tag, *working_span(put.space, spot.item, put.left_in + spot.right_in))
        for put in puts
        for spot in put.row.spots
        if spot.item.kind == UNIT
    )
    stacked = sum(spot.up_in > 0.0 for put in puts for spot in put.row.spots)
    taken = sum(put.row.width_in for put in puts)
    needs = [*needs, *_unknown_mass(puts)]
    return Layout(boxes, _ways([put.row for put in puts]), taken, puts[0].space.mounting, (), tuple(dict.fromkeys(needs)), stacked, working, _assumed(puts))


def _boxes(put: Put) -> Iterator[Box]:
    for spot in put.row.spots:
        item = spot.item
        left, bottom = put.left_in + spot.right_in, put.space.bottom_in + spot.up_in
        yield Box(item.tag, put.space.name, left, bottom, item.width_in, item.height_in, item.kind, item.depth_in, put.space.mounting)


def _unknown_mass(puts: tuple[Put, ...]) -> Iterator[str]:
    for put in puts:
        if put.space.mounting != "wall":
            continue
        if put.space.place.mass_max is None:
            yield f"options.place.{put.space.name}.mass_max (what the wall carries)"
        else:
            yield from (f"mass of {spot.item.tag}" for spot in put.row.spots if spot.item.mass_kg is None)


def _assumed(puts: tuple[Put, ...]) -> tuple[Assumption, ...]:
    """What was taken for a place in use."""
    found = []
    for space in dict.fromkeys(put.space.name for put in puts):
        here = next(put.space for put in puts if put.space.name == space)
        path = f"options.place.{space}"
        if here.mounting == "wall" and here.place.bottom is None:
            found.append(Assumption(f"{path}.bottom", f"{WALL_BOTTOM_IN:g} in", "not given; lower edge of what hangs on the wall (common practice, no source)"))
        for tag, obstacle in here.place.obstacle.items():
            low, high = edges_in(here, obstacle)
            if obstacle.kind != "door" and (obstacle.bottom is None or obstacle.height is None):
                upper = "the top" if obstacle.height is None else f"{high:g} in"
                found.append(Assumption(f"{path}.obstacle.{tag}", f"from {low:g} in to {upper}", "bottom or height not given; it is in the way over all of this"))
    return tuple(found)


def _why_not(groups: tuple[tuple[Row, ...], ...], spaces: tuple[Space, ...]) -> Iterator[Reason]:
    """Why nothing fits: what can stand nowhere, else the rows against the free stretches."""
    nowhere = False
    for rows in groups:
        why = [why_never(space, rows[0]) for space in spaces]
        if all(why):
            nowhere = True
            yield Reason(RULE, rows[0].unit, "; ".join(why))
    if nowhere:
        return
    wide = " and ".join(f"{rows[0].width_in:.0f}" for rows in groups)
    apart = max(item.clearance_in for rows in groups for item in rows[0].ends)
    narrow = min((rows[0] for rows in groups), key=lambda row: row.width_in)
    free = "; ".join(
        f"{space.name}: {', '.join(f'{high - low:.0f}' for low, high in free_stretches(space, narrow)) or 'none'} in" for space in spaces if not why_never(space, narrow)
    )
    over = [f"{space.name} takes {space.energy_kwh:.1f} kWh" for space in spaces if space.energy_kwh < sum(rows[0].energy_kwh for rows in groups)]
    yield Reason(RULE, "", f"does not fit: {wide} in of units and storage modules, {apart:.0f} in between, on free stretches ({'; '.join([free, *over])})")


def _ways(rows: list[Row]) -> tuple[tuple[str, float], ...]:
    return tuple(sorted((tag, way / 12.0) for row in rows for tag, way in row.ways_in))
