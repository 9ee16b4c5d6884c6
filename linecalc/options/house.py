"""From a candidate to a project: units, storage modules and strings taken out or copied in."""

from __future__ import annotations

from typing import Any

from linecalc.errors import InputError, Problem
from linecalc.network.build import natural
from linecalc.options.candidates import AS_DRAWN, fed_by, options_of, unit_strings
from linecalc.options.chains import (
    Chain,
    House,
    Table,
    chain_from,
    circuits_at,
    copy_chain,
    free_tag,
    is_taken,
    kind_of,
    prune_sections,
    remove_chain,
    sections_only_in,
)
from linecalc.options.records import Candidate, Layout
from linecalc.options.standing import stand
from linecalc.project.model import Project
from linecalc.project.options_model import Change, Options
from linecalc.variants import with_values

_CHANGED = ("unit", "storage", "string", "junction", "disconnect", "panel", "circuit", "section", "power_control", "load", "isolation")
_OF_HOST = (
    "mounting", "location", "space", "door_distance", "vehicle_protection", "wall_capacity", "clearance", "building", "enclosure", "working_width", "working_depth", "working_height"
)
_LANDINGS = ("panel", "isolation", "transfer", "service")


def project_of(base: Project, candidate: Candidate, layout: Layout | None = None) -> Project:
    """The project of one candidate, validated; it holds no ``[options]``.

    Units and strings beyond those of the project are copies of its last one,
    with circuits, boxes and sections of their own; sections that several
    circuits share stay shared. Ways of harnesses and the spacing come from ``layout``
    where it knows them.

    Raises
    ------
    InputError, RefusedError
        The candidate cannot be built from this project.
    """
    options = options_of(base)
    house: House = base.model_dump(by_alias=True, exclude_unset=True)
    for kind in ("unit", "storage", "string", "junction", "disconnect", "circuit", "section", "panel"):
        house[kind] = {tag: dict(keys) for tag, keys in house.get(kind, {}).items()}
    units = _units(house, candidate.units)
    _storages(base, house, units, candidate.modules, dict(layout.ways_ft) if layout is not None else {})
    _space_out(house, options, layout)
    if layout is not None:
        stand(house, options, layout, units)
    _strings(base, house, units, candidate)
    changes = [change for change in options.change if _applies(change, candidate)]
    for change in changes:
        _without(house, change.without)
    prune_sections(house)
    _covers(house)
    settings: list[tuple[str, Any]] = [(kind, house[kind]) for kind in _CHANGED if kind in house]
    settings += [(path, value) for change in changes for path, value in change.set.items()]
    return with_values(base, [("options", None), *settings])


def unit_tags(base: Project, count: int) -> list[str]:
    """The tags of the first ``count`` units, those of the project first."""
    house: House = base.model_dump(by_alias=True, exclude_unset=True)
    known = sorted(base.unit, key=natural)
    return (known + _new_tags(house, known[-1], len(known), count))[:count]


def _new_tags(house: House, last: str, present: int, count: int) -> list[str]:
    stem = last.rstrip("0123456789") or "U"
    tags: list[str] = []
    number = present + 1
    while present + len(tags) < count:
        if not is_taken(house, f"{stem}{number}"):
            tags.append(f"{stem}{number}")
        number += 1
    return tags


def _units(house: House, count: int) -> list[str]:
    """Keep, remove or copy units until there are ``count``; returns their tags in order."""
    known = sorted(house["unit"], key=natural)
    for tag in known[count:]:
        for circuit in _ac_circuits(house, tag):
            remove_chain(house, chain_from(house, tag, circuit))
        del house["unit"][tag]
    pattern = known[-1]
    new = _new_tags(house, pattern, len(known), count)
    chains = [chain_from(house, pattern, circuit) for circuit in _ac_circuits(house, pattern)] if new else []
    for number, tag in enumerate(new, start=len(known) + 1):
        _copy_unit(house, pattern, chains, tag, number)
    return (known + new)[:count]


def _ac_circuits(house: House, unit: str) -> list[str]:
    """The circuits between a unit and the house's AC side."""
    found = []
    for circuit in circuits_at(house, unit):
        chain = chain_from(house, unit, circuit)
        if kind_of(house, chain.lands_on) in _LANDINGS:
            found.append(circuit)
    return found


def _copy_unit(house: House, pattern: str, chains: list[Chain], tag: str, number: int) -> None:
    names: dict[str, str] = {}
    for chain in chains:
        names |= copy_chain(house, chain, tag, number, sections_only_in(house, chain.circuits))
    keys = {key: names.get(value, value) if isinstance(value, str) else value for key, value in house["unit"][pattern].items()}
    keys.pop("existing", None)
    house["unit"][tag] = keys


def _storages(base: Project, house: House, units: list[str], modules: tuple[int, ...], ways_ft: dict[str, float]) -> None:
    """Give every unit its storage modules; copies follow the project's own, or ``[options.storage_module]``."""
    present = {unit: sorted((tag for tag, keys in house["storage"].items() if keys["unit"] == unit), key=natural) for unit in units}
    pattern = _pattern(base)
    for tag in list(house["storage"]):
        unit = house["storage"][tag]["unit"]
        if unit not in units or present[unit].index(tag) >= modules[units.index(unit)]:
            for circuit in circuits_at(house, tag):
                remove_chain(house, chain_from(house, tag, circuit))
            del house["storage"][tag]
    for unit, count in zip(units, modules, strict=True):
        for place in range(len(present[unit]), count):
            if pattern is None:
                raise InputError([Problem("storage modules are asked for, but the project has none to copy; give [options.storage_module]", key="options.storage_module")])
            tag = _storage_tag(house, unit, place + 1)
            house["storage"][tag] = _storage(base, house, pattern, unit, place)
        for place, tag in enumerate(_of_unit(house, unit), start=1):
            way = ways_ft.get(f"{unit}-B{place}")
            if way is not None and "harness" in house["storage"][tag]:
                house["storage"][tag]["distance"] = {"value": f"{way:.2f} ft", "basis": "computed", "source": "from the layout of the study"}


def _of_unit(house: House, unit: str) -> list[str]:
    return sorted((tag for tag, keys in house["storage"].items() if keys["unit"] == unit), key=natural)


def _storage_tag(house: House, unit: str, place: int) -> str:
    wanted = f"{unit}-B{place}"
    return free_tag(house, wanted, 2) if is_taken(house, wanted) else wanted


def _pattern(base: Project) -> Table | None:
    """The storage module that copies follow: the project's last, else the one that the options name."""
    choice = options_of(base).storage_module
    if choice is not None:
        found: Table = {"equipment": choice.equipment}
        if choice.harness is not None:
            found["harness"] = choice.harness
        if choice.mounting is not None:
            found["mounting"] = choice.mounting
        return found
    if not base.storage:
        return None
    last = sorted(base.storage, key=natural)[-1]
    return base.storage[last].model_dump(by_alias=True, exclude_unset=True)


def _storage(base: Project, house: House, pattern: Table, unit: str, place: int) -> Table:
    choice = options_of(base).storage_module
    keys = {key: value for key, value in pattern.items() if key != "existing"} | {"unit": unit}
    host = house["unit"][unit]
    for key in _OF_HOST:
        if key not in keys and key in host:
            keys[key] = host[key]
    if choice is not None and place < len(choice.distance):
        keys["distance"] = choice.distance[place]
    return keys


def _space_out(house: House, options: Options, layout: Layout | None) -> None:
    """State the distance between neighbours, by the layout or by ``options.spacing``, wherever several stand."""
    everything = [*house["unit"].values(), *house["storage"].values()]
    spacing: Any = options.spacing
    if layout is not None and layout.spacing_in is not None:
        spacing = {"value": f"{layout.spacing_in:g} in", "basis": "computed", "source": "from the layout of the study"}
    if len(everything) < 2 or spacing is None:
        return
    for keys in everything:
        keys["spacing"] = spacing


def _strings(base: Project, house: House, units: list[str], candidate: Candidate) -> None:
    """Put the strings of the array on the units in turn, each on the next input; as drawn they stay where they are."""
    known = unit_strings(base)
    counts = candidate.array.strings
    if candidate.array.name == AS_DRAWN and all(fed_by(base, house["string"][tag]["to"]) in units for tag in known):
        return
    chains = {tag: _string_chain(house, tag) for tag in known}
    for tag in known[len(counts) :]:
        if chains[tag] is not None:
            remove_chain(house, chains[tag])
        del house["string"][tag]
    if not counts:
        return
    if not known:
        raise InputError([Problem("an array is asked for, but no string of the project feeds a unit", key="options.array")])
    tags = known[: len(counts)]
    last, own = known[-1], set()
    if chains[last] is not None and len(counts) > len(known):
        own = sections_only_in(house, chains[last].circuits)
    for number in range(len(known) + 1, len(counts) + 1):
        tag = _string_tag(house, last, number)
        house["string"][tag] = dict(house["string"][last])
        if chains[last] is not None:
            copied = copy_chain(house, chains[last], tag, number, own)
            chains[tag] = Chain(tag, tuple((kind, copied[node]) for kind, node in chains[last].nodes), tuple(copied[name] for name in chains[last].circuits), chains[last].lands_on)
        tags.append(tag)
    for index, tag in enumerate(tags):
        _land(house, tag, chains.get(tag), units[index % len(units)])
        house["string"][tag] |= {"count": counts[index], "input": index // len(units) + 1}
        if candidate.array.module is not None:
            house["string"][tag]["module"] = candidate.array.module


def _string_chain(house: House, tag: str) -> Chain | None:
    circuits = circuits_at(house, tag)
    if kind_of(house, house["string"][tag]["to"]) == "combiner":
        raise InputError([Problem(f"string {tag} goes through combiner {house['string'][tag]['to']}, whose strings belong together; other arrays and fewer units than drawn need strings that go to their unit alone", key=f"string.{tag}.to")])
    return chain_from(house, tag, circuits[0]) if circuits else None


def _string_tag(house: House, last: str, number: int) -> str:
    wanted = f"{last.rstrip('0123456789') or 'S'}{number}"
    return free_tag(house, wanted, 2) if is_taken(house, wanted) else wanted


def _land(house: House, tag: str, chain: Chain | None, unit: str) -> None:
    """Let a string and its last circuit end at ``unit``."""
    house["string"][tag]["to"] = unit
    if chain is None:
        return
    keys = house["circuit"][chain.circuits[-1]]
    end = "to" if keys["to"] == chain.lands_on else "from"
    keys[end] = unit


def _applies(change: Change, candidate: Candidate) -> bool:
    return (
        (change.units is None or change.units == candidate.units)
        and (change.units_min is None or candidate.units >= change.units_min)
        and (change.modules_min is None or candidate.storage_modules >= change.modules_min)
    )


def _without(house: House, tags: tuple[str, ...]) -> None:
    for tag in tags:
        for table in house.values():
            if isinstance(table, dict):
                table.pop(tag, None)


def _covers(house: House) -> None:
    """A power control setting covers only what is still there."""
    control = house.get("power_control")
    if control is not None:
        kept = tuple(tag for tag in control["covers"] if tag == "service" or is_taken(house, tag))
        house["power_control"] = {**control, "covers": kept}
