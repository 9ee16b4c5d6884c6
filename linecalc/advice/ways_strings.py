"""Strings: fewer modules, another input, another module of the project's equipment, fuses."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.advice.records import Candidate, Setting
from linecalc.check import Check
from linecalc.network.records import Kind
from linecalc.project.equipment import PvModule
from linecalc.project.wording import dotted
from linecalc.rules.art690_inputs import Input, inputs_of_units
from linecalc.study import Study

STEPS = 12


def fewer_modules(study: Study, check: Check) -> Iterator[Candidate]:
    """The string with one module less, two less and so on."""
    string = study.project.string.get(check.subject)
    if string is None:
        return
    for count in range(string.count - 1, max(0, string.count - 1 - STEPS), -1):
        yield Candidate((_count(check.subject, count),), f"{count} modules in {check.subject} (now {string.count})")


def _count(tag: str, count: int) -> Setting:
    return Setting(dotted(("string", tag, "count")), count)


def fewer_modules_on_unit(study: Study, check: Check) -> Iterator[Candidate]:
    """Modules taken off the strings of a unit one by one, each time from the longest."""
    counts = {tag: string.count for tag, string in study.project.string.items() if string.to == check.subject}
    counts = {figures.tag: figures.count for figures in study.sized.strings if figures.unit == check.subject} or counts
    if not counts:
        return
    present = dict(counts)
    for _ in range(STEPS):
        longest = max(counts, key=lambda tag: counts[tag])
        if counts[longest] == 1:
            return
        counts[longest] -= 1
        changed = {tag: count for tag, count in counts.items() if count != present[tag]}
        words = ", ".join(f"{count} modules in {tag} (now {present[tag]})" for tag, count in changed.items())
        yield Candidate(tuple(_count(tag, count) for tag, count in changed.items()), words)


def _input_of(study: Study, subject: str) -> Input | None:
    return next((one for one in inputs_of_units(study.sized) if any(string.tag == subject for string in one.strings)), None)


def another_input(study: Study, check: Check) -> Iterator[Candidate]:
    """The last string of a crowded input, or one on an input that does not exist, on a free input of the same unit."""
    one = _input_of(study, check.subject)
    if one is None or one.unit.data.mppt is None:
        return
    if len(one.strings) < 2 and one.number <= one.unit.data.mppt:
        return
    taken = {other.number for other in inputs_of_units(study.sized) if other.unit.tag == one.unit.tag}
    moved = one.strings[-1].tag
    for number in range(1, one.unit.data.mppt + 1):
        if number not in taken:
            text = f"{moved} on the free input {number} of {one.unit.tag} (now input {one.number})"
            yield Candidate((Setting(dotted(("string", moved, "input")), number),), text)


def another_module(study: Study, check: Check) -> Iterator[Candidate]:
    """Another PV module of the project's equipment data, the one nearest in power first."""
    one = _input_of(study, check.subject)
    if one is None:
        return
    now = study.project.string[check.subject].module
    modules = {name: data for name, data in study.project.equipment.items() if isinstance(data, PvModule) and name != now}
    power = study.project.equipment[now].power.value
    for name in sorted(modules, key=lambda name: (abs(modules[name].power.value - power), name)):
        settings = tuple(Setting(dotted(("string", string.tag, "module")), name) for string in one.strings)
        yield Candidate(settings, f"module {name} for {', '.join(string.tag for string in one.strings)} (now {now})")


def string_fuses(study: Study, check: Check) -> Iterator[Candidate]:
    """A fuse in every string of an input, the smallest standard rating first."""
    one = _input_of(study, check.subject)
    if one is None:
        return
    least = 1.25 * 1.25 * max(study.network.nodes[string.tag].data.isc.value for string in one.strings)
    fitting = [rating for rating in study.book.standard_ratings() if rating >= least * (1.0 - 1e-9)]
    for rating in fitting[:2]:
        settings = tuple(Setting(dotted(("string", string.tag, "fuse")), f"{rating:g} A") for string in one.strings)
        yield Candidate(settings, f"a {rating:g} A fuse in each of {', '.join(string.tag for string in one.strings)}")


def smaller_fuse(study: Study, check: Check) -> Iterator[Candidate]:
    """The next smaller standard ratings of a string's fuse, not below 1.56 times its short-circuit current."""
    node = study.network.nodes.get(check.subject)
    if node is None or node.kind is not Kind.STRING or node.item.fuse in (None, "none"):
        return
    now, least = node.item.fuse.value, 1.25 * 1.25 * node.data.isc.value
    below = [rating for rating in study.book.standard_ratings() if least * (1.0 - 1e-9) <= rating < now]
    for rating in reversed(below):
        text = f"lower the fuse of {check.subject} to {rating:g} A (now {now:g} A)"
        yield Candidate((Setting(dotted(("string", check.subject, "fuse")), f"{rating:g} A"),), text)
