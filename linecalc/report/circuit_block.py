"""What a sheet says about one circuit: conductors, device, tests, path, currents in every mode."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from linecalc.check import Level, Sense
from linecalc.codebook.sizes import size_index
from linecalc.network.records import Mode, System
from linecalc.report.amounts import UNKNOWN, against, amount, both
from linecalc.report.content import Fact, Grid
from linecalc.report.inputs import Inputs
from linecalc.sizing.records import Conductor, Device, Egc, Governed, SizedCircuit, SizedRaceway, Surroundings
from linecalc.term import Number, value_of

SYSTEM_WORDS = {System.AC: "AC circuit", System.PV: "PV circuit", System.STORAGE: "storage DC circuit"}
MODE_WORDS = {
    Mode.EXPORT: "export to the utility",
    Mode.SUPPLY: "supply from the utility",
    Mode.CHARGE: "supply and charging",
    Mode.ISLAND: "island",
    Mode.DC: "dc",
}
_NOTHING = "-"


def circuit_title(circuit: SizedCircuit) -> str:
    """``C4: U1 to BP, AC circuit``."""
    item = circuit.circuit.item
    return f"{circuit.tag}: {item.from_} to {item.to}, {SYSTEM_WORDS[circuit.circuit.system]}"


def circuit_facts(circuit: SizedCircuit, inputs: Inputs) -> tuple[Fact, ...]:
    """Conductor, neutral, grounding conductor, device, terminals and length."""
    facts = [
        Fact("Conductors", f"{_count(circuit)} {circuit.conductor.text}, {_why(circuit)}"),
        Fact("Overcurrent device", _device(circuit.device)),
        Fact("Neutral", _neutral(circuit.neutral)) if circuit.circuit.system is System.AC else None,
        Fact("Grounding conductor", _egc(circuit.egc)),
        Fact("Terminals", _terminals(circuit)),
        _length(circuit, inputs),
        Fact("Inputs missing", ", ".join(circuit.needs)) if circuit.needs else None,
    ]
    return tuple(fact for fact in facts if fact is not None)


def _count(circuit: SizedCircuit) -> str:
    sets = f"{circuit.conductor.parallel} sets of " if circuit.conductor.parallel > 1 else ""
    return f"{sets}{circuit.ungrounded} x"


def _why(circuit: SizedCircuit) -> str:
    if circuit.governed_by is Governed.GIVEN:
        smallest = f"; the smallest that passes is {circuit.smallest}" if circuit.smallest else "; no size passes"
        return f"given{smallest}"
    if circuit.governed_by is Governed.NOTHING_PASSES:
        return "chosen, but no size passes"
    return f"chosen, set by {circuit.governed_by.value}"


def _device(device: Device | None) -> str:
    if device is None:
        return "none"
    how = "chosen" if device.selected else "given"
    where = f"in {device.where}"
    if device.inherited:
        where += f", the device of {device.owner}"
    if device.load_end:
        where += ", at the load end"
    return f"{amount(device.rating, 'A')} {device.kind} {where}, {how}"


def _neutral(neutral: Conductor | None) -> str:
    if neutral is None:
        return "none"
    return f"{neutral.text}, {'chosen' if neutral.selected else 'given'}"


def _egc(egc: Egc | None) -> str:
    if egc is None:
        return "none"
    if egc.kind == "raceway":
        return f"the metal raceway (a wire would be {egc.needed_size} {egc.material})"
    kind = "" if egc.kind == "wire" else f" {egc.kind}"
    return f"{egc.size} {egc.material}{kind}, {'given' if egc.given else 'chosen'}{_egc_base(egc)}"


def _egc_base(egc: Egc) -> str:
    """How the table size came to differ from the size needed."""
    if egc.needed_size == egc.base_size:
        return ""
    if size_index(egc.needed_size) > size_index(egc.base_size):
        return f"; {egc.base_size} in the table, {egc.needed_size} with the increase in proportion"
    return f"; {egc.base_size} in the table, not larger than the circuit's own conductors"


def _terminals(circuit: SizedCircuit) -> str:
    item = circuit.circuit.item
    start, end = circuit.terminals_c
    return f"{start} degC at {item.from_}, {end} degC at {item.to}; {circuit.terminal_column_c} degC column used"


def _length(circuit: SizedCircuit, inputs: Inputs) -> Fact:
    length = circuit.circuit.length_ft
    if length is None:
        return Fact("Length", "not given")
    paths = [f"section.{tag}.length" for tag in circuit.circuit.sections] or [f"circuit.{circuit.tag}.length"]
    marks = [found for path in paths if (found := inputs.mark(path))]
    return Fact("Length", both(length, "ft"), marks[0] if marks else "")


def circuit_grids(circuit: SizedCircuit, raceways: tuple[SizedRaceway, ...], inputs: Inputs) -> tuple[Grid, ...]:
    """The tests, the path and the currents of a circuit; empty tables are left out."""
    grids = (_tests(circuit), _path(circuit, raceways, inputs), _modes(circuit))
    return tuple(grid for grid in grids if grid.rows)


def _tests(circuit: SizedCircuit) -> Grid:
    rows = [
        ("T1 terminals, no factors", f"{_amps(circuit.t1_need)} needed", f"{_amps(circuit.t1_ampacity)} ampacity"),
        ("T2 after ambient and count factors", f"{_amps(circuit.t2_need)} needed", f"{_amps(circuit.t2_ampacity)} ampacity"),
    ]
    if circuit.device is not None:
        device, protect = _amps(circuit.device.rating), _amps(circuit.protect_a)
        rows.append(("T3 device protects the conductor", f"{device} device", f"{protect} to protect"))
    return Grid("Conductor tests", ("Test", "Against", "Conductor"), tuple(rows))


def _amps(number: Number | None) -> str:
    return _NOTHING if number is None else amount(number, "A")


def _path(circuit: SizedCircuit, raceways: tuple[SizedRaceway, ...], inputs: Inputs) -> Grid:
    sizes = {raceway.section: raceway for raceway in raceways}
    rows = tuple(_section(section, sizes.get(section.section), inputs) for section in circuit.sections)
    columns = ("Section", "Method", "Place", "Length", "Ambient", "f_amb", "Count", "f_count", "Ampacity", "Fill")
    return Grid("Path (count: conductors that carry current)", columns, rows)


def _section(section: Surroundings, raceway: SizedRaceway | None, inputs: Inputs) -> tuple[str, ...]:
    size = f" {raceway.size} in" if raceway is not None and raceway.size else ""
    ampacity = _amps(section.ampacity) + (" (set aside)" if section.set_aside else "")
    return (
        section.section,
        section.method + size,
        f"{section.place}, {section.moisture}",
        both(section.length_ft, "ft"),
        _ambient(section, inputs),
        _plain(section.ambient_factor),
        str(section.current_carrying),
        _plain(section.count_factor),
        ampacity,
        _fill(raceway),
    )


def _ambient(section: Surroundings, inputs: Inputs) -> str:
    adder = f", {amount(section.adder_c, 'K')} roof adder included" if section.adder_c is not None and value_of(section.adder_c) else ""
    mark = inputs.mark(f"section.{section.section}.ambient")
    return both(section.ambient_c, "degC") + adder + (f" [{mark}]" if mark else "")


def _plain(number: Number | None) -> str:
    return _NOTHING if number is None else amount(number, "")


def _fill(raceway: SizedRaceway | None) -> str:
    if raceway is None or raceway.fill_percent is None:
        return _NOTHING
    return f"{amount(raceway.fill_percent, 'percent', 3)} of {amount(raceway.limit_percent, 'percent')}"


def _modes(circuit: SizedCircuit) -> Grid:
    drops = {drop.mode: drop for drop in circuit.drops}
    rows = []
    for mode, current in circuit.currents.modes:
        drop = drops.get(mode)
        rows.append(
            (
                MODE_WORDS[mode],
                amount(current.continuous, "A"),
                amount(current.noncontinuous, "A"),
                amount(current.neutral, "A"),
                _drop(drop.drop_v, drop.percent, drop.base_v) if drop else _NOTHING,
            )
        )
    drop_word = "Drop, or rise in export"
    return Grid("Currents by operating mode", ("Mode", "Continuous", "Noncontinuous", "Neutral", drop_word), tuple(rows))


def _drop(volts: Number, percent: Number, base: Number) -> str:
    return f"{amount(volts, 'V', 3)}, {amount(percent, 'percent', 3)} of {amount(base, 'V')}"


def schedule_grid(circuits: Iterable[SizedCircuit], levels: Mapping[str, Level | None]) -> Grid:
    """All circuits at a glance, the level of each that asks most of the reader at the end."""
    rows = tuple(_scheduled(circuit, levels.get(circuit.tag)) for circuit in circuits)
    columns = ("Circuit", "From, to", "Device", "Conductors", "Neutral", "EGC", "T1", "T2", "Set by", "Worst")
    return Grid("Circuits at a glance (T1: terminals, T2: after ambient and count factors)", columns, rows)


def _scheduled(circuit: SizedCircuit, level: Level | None) -> tuple[str, ...]:
    item, egc = circuit.circuit.item, circuit.egc
    return (
        circuit.tag,
        f"{item.from_}, {item.to}",
        _amps(circuit.device.rating) if circuit.device else "none",
        f"{_count(circuit)} {circuit.conductor.text}",
        circuit.neutral.size if circuit.neutral else "none",
        "none" if egc is None else "raceway" if egc.kind == "raceway" else egc.size,
        _carries(circuit.t1_ampacity, circuit.t1_need),
        _carries(circuit.t2_ampacity, circuit.t2_need),
        circuit.governed_by.value,
        level.value if level else "no checks",
    )


def _carries(ampacity: Number | None, need: Number) -> str:
    return UNKNOWN if ampacity is None else against(ampacity, need, "A", Sense.AT_LEAST).relation
