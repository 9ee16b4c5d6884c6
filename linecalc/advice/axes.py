"""The inputs that a flip point is searched along: how each is changed, whom it touches, how it is told.

An axis is one input, or one proportion of several, with its values from the
present one outwards. ``touches`` and ``watches`` name parts of the design
(``wire:C4``, ``drop:C4``, ``bus:MP``, ``string:S1``): two axes may be tried in
one run of the study where neither touches what the other watches.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import Enum

from linecalc.advice.records import Setting
from linecalc.network.build import Network
from linecalc.network.records import Circuit, Kind, System
from linecalc.project.wording import dotted
from linecalc.sizing.records import Device, SizedCircuit
from linecalc.study import Study
from linecalc.term import value_of
from linecalc.units import Quantity

AMBIENT_TABLES = ("310.15-B-1", "690.31")
HOTTEST_C, COLDEST_C = 85, -40
LONGEST_FT = 2000
MOST_CARRYING = 40
MOST_MODULES = 30
BREAKER_STEPS = 8

CONDITIONS = ("T2", "next_size_up", "dwelling_83pct", "feeder_connection")
DROPS = ("voltage_drop", "voltage_drop.rise")
LENGTHS = ("T2", *DROPS)
DEVICES = ("ocpd", "next_size_up", "listed_instructions.breaker", "hermetic_nameplate", "small_conductors", "egc", "dwelling_83pct")
BUSES = ("busbar", "panel_protection")
COLD, HOT = ("pv_max_voltage",), ("mppt_window.hot",)
INTERRUPTING = ("interrupting_rating", "interconnection_fault_ratings")
FAULTS = frozenset({"fault:"})
HIGHEST_FAULT_KA = 65


class Leads(Enum):
    """Which verdicts may turn along an axis: good ones that break, bad ones that mend, or either."""

    TO_BREAKING = "breaking"
    TO_MENDING = "mending"
    EITHER_WAY = "either"


@dataclass(frozen=True, slots=True)
class Axis:
    """One input with the values it may take, beginning at the present one.

    ``rules`` are families, or the last part of a rule key (``T2``, ``ocpd``);
    ``subjects`` the subjects whose checks are looked at. ``what`` tells a value.
    """

    input: str
    leads: Leads
    values: tuple[float, ...]
    settings: Callable[[float], tuple[Setting, ...]]
    what: Callable[[float], str]
    rules: tuple[str, ...]
    subjects: frozenset[str]
    touches: frozenset[str]
    watches: frozenset[str]

    def looks_at(self, rule: str, subject: str) -> bool:
        """Whether a check, by the family of its rule, is one that this axis is about."""
        return subject in self.subjects and any(rule == name or rule.endswith((f".{name}", f"_{name}")) for name in self.rules)

    def told(self, passing: float, broken: float) -> str:
        """The largest or the smallest value that passes, in words."""
        return f"passes {'to' if passing < broken else 'down to'} {self.what(passing)}"


def axes_of(study: Study) -> Iterator[Axis]:
    """Every axis of a design, in both directions."""
    yield from _ambients(study)
    yield from _counts(study)
    yield from _lengths(study)
    yield from _breakers(study)
    yield from _temperatures(study)
    yield from _modules(study)
    yield from _faults(study)


def _zones(word: str, tags: frozenset[str]) -> frozenset[str]:
    return frozenset(f"{word}:{tag}" for tag in tags)


def _through(study: Study, section: str) -> frozenset[str]:
    return frozenset(circuit.tag for circuit in study.sized.circuits if section in circuit.circuit.sections)


def _ambients(study: Study) -> Iterator[Axis]:
    present = {place.section: value_of(place.ambient_c) for circuit in study.sized.circuits for place in circuit.sections}
    raised = {place.section: value_of(place.adder_c) for circuit in study.sized.circuits for place in circuit.sections if place.adder_c is not None}
    bands = _band_tops(study)
    for tag, hottest in present.items():
        if hottest != hottest:
            continue
        adder = raised.get(tag, 0.0)
        now = hottest - adder
        tops = sorted(top - adder for top in bands if top <= HOTTEST_C)
        zone = _zones("wire", _through(study, tag))
        path = dotted(("section", tag, "ambient"))
        rising = (now, *(top for top in tops if top > now))
        falling = (now, *(top for top in reversed(tops) if top < now))
        for leads, values in _harmful(rising, falling):
            yield Axis(path, leads, values, _celsius(path), _words("{:g} degC ambient in " + tag), CONDITIONS, _through(study, tag), zone, zone)


def _band_tops(study: Study) -> set[float]:
    """The temperatures up to which the tables of ambient factors hold one factor; between two of them no verdict changes."""
    return {top for name in AMBIENT_TABLES for top in study.book.table(name).floats("ambient_c_max") if top is not None}


def _harmful(worse: tuple[float, ...], better: tuple[float, ...]) -> tuple[tuple[Leads, tuple[float, ...]], ...]:
    """Both directions of an input that can only harm the one way."""
    return (Leads.TO_BREAKING, worse), (Leads.TO_MENDING, better)


def _celsius(path: str) -> Callable[[float], tuple[Setting, ...]]:
    return lambda value: (Setting(path, f"{value:.10g} degC"),)


def _words(form: str) -> Callable[[float], str]:
    return form.format


def _rising(now: float, last: int) -> tuple[float, ...]:
    """The present value and every whole number above it."""
    return (now, *(float(value) for value in range(int(now) - 1, last + 1) if value > now))


def _falling(now: float, last: int) -> tuple[float, ...]:
    """The present value and every whole number below it."""
    return (now, *(float(value) for value in range(int(now) + 1, last - 1, -1) if value < now))


def _counts(study: Study) -> Iterator[Axis]:
    carrying = {place.section: place.current_carrying for circuit in study.sized.circuits for place in circuit.sections if place.method != "free air"}
    for tag, count in carrying.items():
        spare = study.project.section[tag].spare_conductors
        path = dotted(("section", tag, "spare_conductors"))
        zone = _zones("wire", _through(study, tag))
        what = _words("{:g} current-carrying conductors in " + tag)
        ends = (float(end) for end in ("3", *study.book.table("310.15-C-1").texts("conductors_max")) if end)
        values = (float(count), *(end for end in ends if count < end <= MOST_CARRYING))
        yield Axis(path, Leads.TO_BREAKING, values, _spares(path, spare - count), what, CONDITIONS, _through(study, tag), zone, zone)


def _spares(path: str, offset: int) -> Callable[[float], tuple[Setting, ...]]:
    return lambda value: (Setting(path, int(value) + offset),)


def _lengths(study: Study) -> Iterator[Axis]:
    """The length of each path at fixed proportions, for the circuits that take exactly this path."""
    paths: dict[tuple[str, ...], list[SizedCircuit]] = {}
    for circuit in study.sized.circuits:
        if circuit.circuit.sections and circuit.circuit.length_ft:
            paths.setdefault(circuit.circuit.sections, []).append(circuit)
    for sections, circuits in paths.items():
        here = frozenset(circuit.tag for circuit in circuits)
        touched = frozenset(tag for section in sections for tag in _through(study, section))
        rises = touched | frozenset(below for tag in touched for below in _below(study.network, tag))
        touches = _zones("wire", touched) | _zones("drop", touched) | _zones("rise", rises) | FAULTS
        watches = _zones("wire", here) | _zones("drop", here) | _zones("rise", here)
        now = circuits[0].circuit.length_ft
        what = _words("{:g} ft" if len(sections) == 1 else "{:g} ft of the same proportions")
        name = " + ".join(dotted(("section", tag, "length")) for tag in sections)
        scale = _scaled(study, sections, now)
        yield Axis(name, Leads.TO_BREAKING, _rising(now, LONGEST_FT), scale, what, LENGTHS, here, touches, watches)
        yield Axis(name, Leads.TO_MENDING, _falling(now, 1), scale, what, DROPS, here, touches, watches)


def _below(network: Network, tag: str) -> Iterator[str]:
    """The AC circuits farther from the service than a circuit."""
    circuit = network.circuit(tag)
    if circuit.system is System.AC:
        yield from (network.parent[node].tag for node in network.below(circuit.down) if node in network.parent)


def _scaled(study: Study, sections: tuple[str, ...], now: float) -> Callable[[float], tuple[Setting, ...]]:
    present = [(dotted(("section", tag, "length")), study.project.section[tag].length.value) for tag in sections]
    return lambda value: tuple(Setting(path, f"{length * value / now:.10g} ft") for path, length in present)


def _breakers(study: Study) -> Iterator[Axis]:
    ratings = study.book.standard_ratings()
    owners: dict[str, list[SizedCircuit]] = {}
    devices: dict[str, Device] = {}
    for circuit in study.sized.circuits:
        if circuit.device is not None and circuit.circuit.system is System.AC:
            owners.setdefault(circuit.device.path, []).append(circuit)
            devices[circuit.device.path] = circuit.device
    for path, device in devices.items():
        now = value_of(device.rating)
        up = tuple(rating for rating in ratings if rating > now)[:BREAKER_STEPS]
        down = tuple(rating for rating in reversed(ratings) if rating < now)[:BREAKER_STEPS]
        tags = frozenset(circuit.tag for circuit in owners[path])
        panels = frozenset(_panels(study.network, owners[path]))
        touches = _zones("wire", tags) | _zones("bus", panels)
        own = frozenset(panel for panel in panels if panel == device.owner)
        watches = _zones("wire", tags) | _zones("bus", own)
        what = _rated(device.kind if device.owner in tags else f"{device.kind} in {device.where}")
        for values in ((now, *up), (now, *down)):
            yield Axis(path, Leads.EITHER_WAY, values, _amperes(path), what, (*DEVICES, *BUSES), tags | own, touches, watches)


def _rated(kind: str) -> Callable[[float], str]:
    return lambda value: f"{'an' if f'{value:g}'.startswith('8') else 'a'} {value:g} A {kind}"


def _amperes(path: str) -> Callable[[float], tuple[Setting, ...]]:
    return lambda value: (Setting(path, f"{value:g} A"),)


def _panels(network: Network, circuits: list[SizedCircuit]) -> Iterator[str]:
    """The panels at the ends of circuits."""
    for circuit in circuits:
        yield from (end for end in (circuit.circuit.up, circuit.circuit.down) if network.nodes[end].kind is Kind.PANEL)


def _temperatures(study: Study) -> Iterator[Axis]:
    strings = frozenset(figures.tag for figures in study.sized.strings)
    zone = _zones("string", strings)
    site = study.project.site
    if isinstance(site.low_temperature, Quantity):
        low = site.low_temperature.value
        path, what = "site.low_temperature", _words("{:g} degC")
        for leads, values in _harmful(_falling(low, COLDEST_C), _rising(low, 25)):
            yield Axis(path, leads, values, _celsius(path), what, COLD, strings, zone, zone)
    if isinstance(site.high_temperature, Quantity):
        high = site.high_temperature.value
        taken = frozenset(circuit.tag for circuit in study.sized.circuits if any(study.project.section[tag].ambient is None for tag in circuit.circuit.sections))
        path, what = "site.high_temperature", _words("{:g} degC in the shade")
        for leads, values in _harmful(_rising(high, 60), _falling(high, 0)):
            yield Axis(path, leads, values, _celsius(path), what, HOT, strings, zone | _zones("wire", taken), zone)


def _modules(study: Study) -> Iterator[Axis]:
    for figures in study.sized.strings:
        tags = frozenset((figures.tag,))
        wires = frozenset(circuit.tag for circuit in study.sized.circuits if _carries(study.network, circuit.circuit, figures.tag))
        touches = _zones("string", tags) | _zones("drop", wires)
        path = dotted(("string", figures.tag, "count"))
        count = figures.count
        more = tuple(float(number) for number in range(count, MOST_MODULES + 1))
        fewer = tuple(float(number) for number in range(count, 0, -1))
        for values in (more, fewer):
            yield Axis(path, Leads.EITHER_WAY, values, _number(path), _words("{:g} modules in series"), (*COLD, *HOT), tags, touches, _zones("string", tags))


def _number(path: str) -> Callable[[float], tuple[Setting, ...]]:
    return lambda value: (Setting(path, int(value)),)


def _carries(network: Network, circuit: Circuit, string: str) -> bool:
    return circuit.system is System.PV and any(node.tag == string for node in network.strings_behind(circuit))


def _faults(study: Study) -> Iterator[Axis]:
    stated = None if study.project.service is None else study.project.service.fault_current
    if not isinstance(stated, Quantity):
        return
    path = "service.fault_current"
    subjects = frozenset(check.subject for check in study.checks if check.rule.split(".")[0] in INTERRUPTING)
    present = stated.value / 1000.0
    for leads, values in _harmful(_rising(present, HIGHEST_FAULT_KA), _falling(present, 1)):
        yield Axis(path, leads, values, lambda value: (Setting(path, f"{value:.10g} kA"),), _words("{:g} kA at the service"), INTERRUPTING, subjects, FAULTS, FAULTS)
