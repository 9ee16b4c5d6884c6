"""Small dwellings for tests of the load calculation: one service, one panel, loads as plain tables."""

from __future__ import annotations

from typing import Any

from linecalc.codebook import open_book
from linecalc.network.build import build_network
from linecalc.network.currents import Currents, compute_currents
from linecalc.network.dwelling_records import BusLoad, LoadMethod, MethodLoad
from linecalc.project.model import Project
from linecalc.project.sources import Sources
from linecalc.project.validate import validated

ALL_METHODS = ["standard", "optional"]


def project(loads: dict[str, dict[str, Any]], more: dict[str, Any] | None = None, **dwelling: Any) -> Project:
    """A dwelling with one panel, 1500 ft2 and three 1500 VA circuits unless told otherwise; ``more`` adds tables."""
    raw: dict[str, Any] = {
        "project": {"title": "Test dwelling", "code": "NEC 2023"},
        "service": {"voltage": "240 V", "rating": "200 A"},
        "dwelling": {"floor_area": "1500 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1, **dwelling},
        "panel": {"MP": {"bus": "225 A", "main": "200 A"}},
        "circuit": {"C1": {"from": "service", "to": "MP", "length": "10 ft"}},
        "load": {tag: {"panel": "MP", **keys} for tag, keys in loads.items()},
    }
    for name, table in (more or {}).items():
        raw[name] = {**raw.get(name, {}), **table}
    raw["dwelling"] = {key: value for key, value in raw["dwelling"].items() if value is not None}
    return validated(raw, Sources())


def currents(found: Project, edition: str = "2023") -> Currents:
    """The currents of a project."""
    return compute_currents(build_network(found), open_book(edition))


def bus(
    loads: dict[str, dict[str, Any]], edition: str = "2023", tag: str = "MP", more: dict[str, Any] | None = None, **dwelling: Any
) -> BusLoad:
    """The load of one bus of a dwelling."""
    found = currents(project(loads, more, **dwelling), edition).dwelling.at(tag)
    assert found is not None
    return found


def method(
    name: str, loads: dict[str, dict[str, Any]], edition: str = "2023", more: dict[str, Any] | None = None, **dwelling: Any
) -> MethodLoad:
    """One method on the whole dwelling, asked for alone."""
    found = bus(loads, edition, more=more, methods=[name], **dwelling).of(LoadMethod(name))
    assert found is not None
    return found


def counted(found: MethodLoad, text: str) -> float:
    """What the line that holds ``text`` counts for, in volt-amperes."""
    lines = [line for line in found.lines if text in line.text and line.counted_va is not None]
    assert len(lines) == 1, [line.text for line in found.lines]
    return float(lines[0].counted_va)
