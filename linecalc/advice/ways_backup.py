"""Backed-up load, load management, storage modules and their place."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linecalc.advice.records import Candidate, Setting
from linecalc.check import Check
from linecalc.network.records import Kind, Node
from linecalc.project.wording import dotted
from linecalc.rules.art702_backup import MANAGED, backup_of
from linecalc.study import Study
from linecalc.term import value_of

LISTING = "listing of the load management, to be stated"


def _backed_up(study: Study) -> list[Node]:
    """The calculated loads behind the isolation device."""
    backup = backup_of(study.sized)
    if backup is None:
        return []
    inside = set(study.network.below(backup.isolation.tag))
    loads = [node for node in study.network.of_kind(Kind.LOAD) if node.item.panel in inside and node.item.current is not None]
    return [node for node in loads if node.item.kind == "calculated"] or loads


def _share(check: Check) -> float | None:
    """The part of the demand that the limit admits."""
    if check.demand is None or check.limit is None or value_of(check.demand) <= 0.0:
        return None
    return value_of(check.limit) / value_of(check.demand)


def less_backed_up_load(study: Study, check: Check) -> Iterator[Candidate]:
    """Less load on the backed-up panels, in whole amperes, the most that passes first."""
    loads, share = _backed_up(study), _share(check)
    if not loads or share is None:
        return
    largest = max(loads, key=lambda node: node.item.current.value)
    now = largest.item.current.value
    total = sum(node.item.current.value for node in loads)
    most = math.floor(total * share - (total - now) + 1e-9)
    for amps in range(most, max(0, most - 3), -1):
        text = f"move loads off the backed-up panels until {largest.tag} is at most {amps} A (now {now:g} A)"
        yield Candidate((Setting(dotted(("load", largest.tag, "current")), f"{amps} A"), *_parts(largest, amps)), text)


def _parts(load: Node, amps: int) -> tuple[Setting, ...]:
    """The stated parts of a load that would be above it."""
    keys = [key for key in ("continuous_part", "unbalance") if getattr(load.item, key) is not None and getattr(load.item, key).value > amps]
    return tuple(Setting(dotted(("load", load.tag, key)), f"{amps} A") for key in keys)


def load_management(study: Study, check: Check) -> Iterator[Candidate]:
    """A listed load management, set to what the units carry, in whole amperes."""
    backup = backup_of(study.sized)
    if backup is None or study.project.backup.method == MANAGED:
        return
    for amps in (math.floor(value_of(backup.firm_va) / 240.0 + 1e-9),):
        settings = (
            Setting("backup.method", MANAGED),
            Setting("backup.management_setting", f"{amps} A"),
            Setting("backup.management_listing", LISTING),
        )
        yield Candidate(settings, f"a listed load management set to at most {amps} A, its listing stated")


def less_unbalance(study: Study, check: Check) -> Iterator[Candidate]:
    """Less unbalance of the backed-up load, in whole amperes."""
    share = _share(check)
    for node in _backed_up(study):
        stated = node.item.unbalance
        if share is not None and stated is not None:
            amps = math.floor(stated.value * share + 1e-9)
            text = f"spread the 120 V loads of {node.tag} until their unbalance is at most {amps} A (now {stated.value:g} A)"
            yield Candidate((Setting(dotted(("load", node.tag, "unbalance")), f"{amps} A"),), text)


def module_to_another_unit(study: Study, check: Check) -> Iterator[Candidate]:
    """The last storage module of a unit on another unit."""
    attached = [node.tag for node in study.network.of_kind(Kind.STORAGE) if node.item.unit == check.subject]
    for unit in study.network.of_kind(Kind.UNIT):
        if attached and unit.tag != check.subject:
            text = f"{attached[-1]} on {unit.tag} (now on {check.subject})"
            yield Candidate((Setting(dotted(("storage", attached[-1], "unit")), unit.tag),), text)


def nearer_module(study: Study, check: Check) -> Iterator[Candidate]:
    """A storage module within the reach of its harness."""
    module = study.project.storage.get(check.subject)
    data = None if module is None else study.project.equipment.get(module.equipment)
    reach = getattr(data, "harness_length", None)
    if reach is not None and module.distance is not None and reach.value < module.distance.value:
        text = f"{check.subject} within {reach.value:g} ft of way of {module.unit} (now {module.distance.value:g} ft)"
        yield Candidate((Setting(dotted(("storage", check.subject, "distance")), f"{reach.value:g} ft"),), text)
