"""The conductor schedule on the sheet: one row a run, as the study sized it."""

from __future__ import annotations

from dataclasses import replace

from linecalc.diagram.balloons import in_ranges
from linecalc.diagram.phrases import figure
from linecalc.diagram.plan import Column, Merging, Table
from linecalc.network.build import natural
from linecalc.network.records import System
from linecalc.sizing.records import SizedCircuit
from linecalc.study import Study
from linecalc.term import value_of

COLUMNS = (
    Column("Run", shrink=True),
    Column("From - to", shrink=True),
    Column("Conductors"),
    Column("Neutral"),
    Column("EGC"),
    Column("Raceway", shrink=True),
    Column("Length"),
    Column("Device"),
    Column("Current"),
    Column("Drop"),
)
TITLE = "CONDUCTOR SCHEDULE"
NONE = "-"
#: A schedule with more rows puts those together that say the same.
ROWS_BEFORE_MERGING = 14
_ENDS_MAX = 3
_BETWEEN_ENDS = " - "
#: Columns of length, current and drop.
_RANGED = (6, 8, 9)


def schedule_rows(study: Study) -> tuple[tuple[str, ...], ...]:
    """All rows, in the order of power flow."""
    raceways = {raceway.section: _raceway_text(raceway.method, raceway.size) for raceway in study.sized.raceways}
    return tuple(_row(circuit, raceways) for circuit in study.sized.circuits)


def merged_rows(rows: tuple[tuple[str, ...], ...]) -> tuple[tuple[str, ...], ...]:
    """Rows that differ in run and ends only, put together: ``C5, C7``."""
    found: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    for row in rows:
        found.setdefault(row[2:], []).append(row)
    for same in found.values():
        same.sort(key=lambda row: natural(row[0]))
    return tuple(
        (", ".join(row[0] for row in same), _ends([row[1] for row in same]), *rest)
        for rest, same in found.items()
    )


def shortened(table: Table, merging: Merging = Merging.EQUAL) -> Table:
    """The table with rows put together where it is long."""
    if len(table.rows) <= ROWS_BEFORE_MERGING:
        return table
    merge = merged_rows if merging is Merging.EQUAL else ranged_rows
    return replace(table, rows=merge(table.rows))


def ranged_rows(rows: tuple[tuple[str, ...], ...]) -> tuple[tuple[str, ...], ...]:
    """Rows of runs that differ in length, current and drop put together: ``C5, C7``, ``15 to 40 ft``."""
    found: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    for row in rows:
        alike = tuple(cell if number not in _RANGED or cell == NONE else "" for number, cell in enumerate(row))
        found.setdefault(alike[2:], []).append(row)
    return tuple(_ranged(sorted(same, key=lambda row: natural(row[0]))) for same in found.values())


def _ranged(same: list[tuple[str, ...]]) -> tuple[str, ...]:
    run, ends, *rest = merged_rows(tuple((*row[:2], *same[0][2:]) for row in same))[0]
    cells = (_range([row[number] for row in same]) if number in _RANGED else cell for number, cell in enumerate(rest, 2))
    return (run, ends, *cells)


def _range(cells: list[str]) -> str:
    """The least and the largest of figures with one unit."""
    ordered = sorted(set(cells), key=lambda cell: float(cell.split()[0]) if cell != NONE else 0.0)
    return ordered[0] if len(ordered) == 1 else f"{ordered[0].split()[0]} to {ordered[-1]}"


def _ends(ends: list[str]) -> str:
    """The ends of runs: one end once where it is that of all, of many others the first and last."""
    starts, stops = zip(*(end.split(_BETWEEN_ENDS, 1) for end in ends))
    if len(ends) > 1 and len(set(starts)) == 1:
        return f"{starts[0]}{_BETWEEN_ENDS}{in_ranges(stops)}"
    if len(ends) > 1 and len(set(stops)) == 1:
        return f"{in_ranges(starts)}{_BETWEEN_ENDS}{stops[0]}"
    return ", ".join(ends) if len(ends) <= _ENDS_MAX else f"{ends[0]} to {ends[-1]}"


def schedule_table(rows: tuple[tuple[str, ...], ...]) -> Table:
    """The rows as a table."""
    return Table(TITLE, COLUMNS, rows)


def _row(sized: SizedCircuit, raceways: dict[str, str]) -> tuple[str, ...]:
    circuit = sized.circuit
    source, target = (circuit.down, circuit.up) if circuit.system is not System.AC else (circuit.up, circuit.down)
    return (
        sized.tag,
        f"{source}{_BETWEEN_ENDS}{target}",
        _conductors(sized),
        _neutral(sized),
        _egc(sized),
        _raceways(sized, raceways),
        NONE if circuit.length_ft is None else f"{circuit.length_ft:g} ft",
        NONE if sized.device is None else figure(sized.device.rating, "A"),
        _current(sized),
        _drop(sized),
    )


def _conductors(sized: SizedCircuit) -> str:
    sets = f"{sized.conductor.parallel} sets of " if sized.conductor.parallel > 1 else ""
    return f"{sets}{sized.ungrounded} x {sized.conductor.text}"


def _neutral(sized: SizedCircuit) -> str:
    if sized.neutral is None:
        return NONE
    same = sized.neutral.material == sized.conductor.material
    return sized.neutral.size if same else f"{sized.neutral.size} {sized.neutral.material}"


def _egc(sized: SizedCircuit) -> str:
    if sized.egc is None:
        return NONE
    if sized.egc.kind == "raceway":
        return "raceway"
    short = "SSBJ " if sized.egc.kind == "supply-side bonding jumper" else ""
    return f"{short}{sized.egc.size} {sized.egc.material}"


def _raceway_text(method: str, size: str | None) -> str:
    return f"{size} in {method}" if size else method


def _raceways(sized: SizedCircuit, raceways: dict[str, str]) -> str:
    texts = [raceways.get(section.section, section.method) for section in sized.sections]
    return ", ".join(dict.fromkeys(texts)) or NONE


def _current(sized: SizedCircuit) -> str:
    totals = [value_of(mode.continuous) + value_of(mode.noncontinuous) for _, mode in sized.currents.modes]
    return figure(max(totals), "A") if totals else NONE


def _drop(sized: SizedCircuit) -> str:
    drops = [value_of(drop.percent) for drop in sized.drops]
    return f"{max(drops):.2f} %" if drops else NONE
