"""Article 220 Part III on one bus, and the neutral load."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from linecalc.calc.dwelling_load import (
    FIXED_APPLIANCES_FROM,
    calculated_load,
    dryer_demand,
    dryer_load,
    fixed_appliance_load,
    fixed_appliance_part,
    leg_load_current,
    lighting_demand,
    motor_addition,
    motor_addition_current,
    neutral_beyond_200,
    neutral_cooking_dryer,
    neutral_load_current,
)
from linecalc.calc.load import current_from_va, whole_amperes
from linecalc.codebook import Book
from linecalc.network.dwelling_cases import Case, cases
from linecalc.network.dwelling_cooking import cooking
from linecalc.network.dwelling_records import (
    COOKING,
    EVEN,
    FASTENED,
    Gathered,
    LoadItem,
    LoadLine,
    LoadMethod,
    MethodLoad,
    NeutralLoad,
    Reading,
    counted,
)
from linecalc.network.dwelling_terms import NOMINAL, NOMINAL_V, together
from linecalc.network.loads import BOTH_LEGS
from linecalc.term import Number, label, named, value_of

LEGS = ("L1", "L2")
MOST_DRYERS = 11


@dataclass(slots=True)
class _Sheet:
    """The lines of one case as they are written down."""

    base: str
    lines: list[LoadLine] = field(default_factory=list)
    on_leg: dict[str, list[Number]] = field(default_factory=lambda: {"L1": [], "L2": []})
    neutral: list[LoadLine] = field(default_factory=list)
    motors: list[LoadItem] = field(default_factory=list)

    def add(self, line: LoadLine) -> None:
        self.lines.append(line)

    def id(self, symbol: str) -> str:
        return f"{self.base}.{symbol}"


@dataclass(frozen=True, slots=True)
class StandardLoad:
    """Part III on one bus with its neutral."""

    method: MethodLoad
    neutral: NeutralLoad | None


def standard_load(gathered: Gathered, book: Book) -> StandardLoad:
    """The load of a bus by Part III, the largest of its noncoincident cases.

    References
    ----------
    ``load_total`` 220.40; ``load_noncoincident`` 220.60; ``load_neutral`` 220.61.
    """
    if gathered.general.needs:
        return StandardLoad(MethodLoad(LoadMethod.STANDARD, "an input is missing", needs=gathered.general.needs), None)
    found = [_case(gathered, case, book, number) for number, case in enumerate(cases(gathered.items))]
    largest = max(found, key=lambda load: (value_of(load.method.current_a), value_of(load.method.total_va)))
    if not book.wording.left_out_motor_reading:
        return largest
    return StandardLoad(_with_left_out_motor(largest.method, gathered.items), largest.neutral)


def _with_left_out_motor(method: MethodLoad, items: tuple[LoadItem, ...]) -> MethodLoad:
    """The reading that a motor left out still counts as the largest motor, where it is the largest.

    References
    ----------
    ``load_noncoincident``: 220.60 since 2020; readers differ.
    """
    motors = [item for item in items if item.motor_va is not None]
    left = [item for item in motors if item.tag in method.left_out]
    running = max((value_of(item.motor_va) for item in motors if item not in left), default=0.0)
    largest = max(left, key=lambda item: value_of(item.motor_va), default=None)
    if largest is None or value_of(largest.motor_va) <= running:
        return method
    added = current_from_va(motor_addition([value_of(largest.motor_va) - running]), NOMINAL_V)
    current = whole_amperes(max(map(value_of, method.legs_a)) + added)
    text = f"25 % of {largest.text} added as the largest motor although it never runs with the loads counted"
    return replace(method, readings=(Reading(text, value_of(current)),))


def _case(gathered: Gathered, case: Case, book: Book, number: int) -> StandardLoad:
    sheet = _Sheet(f"{gathered.tag}.standard" + (f".case{number + 1}" if number else ""))
    _general(sheet, gathered, book)
    running = case.items + case.heating + case.cooling
    _fixed(sheet, case.items, book)
    _dryers(sheet, case.items, book)
    _cooking(sheet, case.items, book)
    for item in case.items:
        if item.kind not in (*COOKING, *FASTENED, "dryer"):
            _single(sheet, item, "load_ev" if item.kind == "ev" and book.wording.ev_least_va else "load_total")
    _climate(sheet, case)
    for stated in gathered.stated:
        sheet.add(LoadLine(f"load stated for {stated.tag}", stated.va, stated.va, "load_total", "a total does not come apart; all of it added"))
    sheet.motors = [item for item in running if item.motor_va is not None]
    method = _totalled(sheet, case)
    return StandardLoad(method, _neutral(sheet, gathered))


def _general(sheet: _Sheet, gathered: Gathered, book: Book) -> None:
    parts = gathered.general.lines()
    if not parts:
        return
    sheet.lines += parts
    amounts = [part.connected_va for part in parts]
    connected = together(amounts, "S_conn", "VA", "lighting, small-appliance and laundry load", "load_small_appliance", sheet.base)
    demand = label(lighting_demand(connected, book.lighting_bands()), sheet.id("S_general"))
    line = LoadLine("these together", connected, demand, "load_lighting_demand", "demand by portions")
    sheet.add(line)
    text = "lighting, receptacles, small-appliance and laundry circuits"
    sheet.neutral.append(LoadLine(text, connected, demand, "load_lighting_demand", "after demand"))


def _fixed(sheet: _Sheet, items: tuple[LoadItem, ...], book: Book) -> None:
    fastened = [item for item in items if item.kind in FASTENED]
    least = book.wording.fixed_appliance_least_va
    eligible = [item for item in fastened if value_of(item.va) >= least]
    many = len(eligible) >= FIXED_APPLIANCES_FROM
    if eligible:
        demand = label(fixed_appliance_load([item.va for item in eligible]), sheet.id("S_fixed"))
        sizes = [item.va for item in eligible]
        connected = together(sizes, "S_fastened", "VA", "appliances fastened in place, connected", "load_appliance_75", sheet.base)
        how = f"75 % of {len(eligible)}" if many else f"{len(eligible)}, fewer than four: all of them"
        sheet.add(LoadLine(_titled("appliances fastened in place", eligible), connected, demand, "load_appliance_75", how))
    for item in eligible:
        part = label(fixed_appliance_part(item.va, len(eligible)), sheet.id(f"S_part_{item.tag}"), f"S_{item.tag}_f") if many else item.va
        _on_neutral(sheet, item, part)
    for item in fastened:
        if item not in eligible:
            _single(sheet, item, "load_total", f"under {least:g} VA: no 75 %")


def _titled(title: str, items: list[LoadItem]) -> str:
    names = ", ".join(item.text for item in items)
    return names if len(items) == 1 else f"{title}: {names}"


def _dryers(sheet: _Sheet, items: tuple[LoadItem, ...], book: Book) -> None:
    dryers = [item for item in items if item.kind == "dryer"]
    if not dryers:
        return
    each = [label(dryer_load(item.va), sheet.id(f"S_dryer_{item.tag}"), f"S_{item.tag}_d") for item in dryers]
    demand = label(dryer_demand(each, book.dryer_percent(len(each) if len(each) <= MOST_DRYERS else 1)), sheet.id("S_dryers"))
    connected = together([item.va for item in dryers], "S_dry_conn", "VA", "dryers, connected", "load_dryer", sheet.base)
    sheet.add(LoadLine(_titled("clothes dryers", dryers), connected, demand, "load_dryer", "5000 VA at least each"))
    _seventy(sheet, "clothes dryer", demand, "S_N_dryer")


def _cooking(sheet: _Sheet, items: tuple[LoadItem, ...], book: Book) -> None:
    found = cooking(sheet.base, items, book)
    if found is None:
        return
    appliances = [item for item in items if item.kind in COOKING]
    connected = together([item.va for item in appliances], "S_cook_conn", "VA", "cooking appliances, connected", "load_range", sheet.base)
    sheet.add(LoadLine(_titled("cooking", appliances), connected, found.load_va, "load_range", found.how))
    _seventy(sheet, "cooking", found.load_va, "S_N_cook")


def _seventy(sheet: _Sheet, text: str, demand: Number, symbol: str) -> None:
    part = label(neutral_cooking_dryer(demand), sheet.id(symbol), symbol)
    sheet.neutral.append(LoadLine(text, demand, part, "load_neutral", "70 %"))


def _single(sheet: _Sheet, item: LoadItem, cite: str, how: str = "100 %") -> None:
    sheet.add(LoadLine(item.text, item.va, item.va, cite, how))
    _on_neutral(sheet, item, item.va)


def _on_neutral(sheet: _Sheet, item: LoadItem, demand: Number) -> None:
    """A 120 V load counts on its leg and on the neutral; one without a leg on both alike."""
    if item.legs in LEGS:
        sheet.on_leg[item.legs].append(demand)
    elif item.legs == EVEN:
        sheet.neutral.append(LoadLine(item.text, item.va, demand, "load_neutral", "120 V, leg not stated"))


def _climate(sheet: _Sheet, case: Case) -> None:
    for item in case.heating:
        if item.kind == "heat":
            _single(sheet, item, "load_heat")
        else:
            _heat_pump(sheet, item)
    for item in case.cooling:
        _single(sheet, item, "load_motor", "100 %")


def _heat_pump(sheet: _Sheet, item: LoadItem) -> None:
    _single(sheet, item, "load_motor")
    if item.supplement_va is not None:
        sheet.add(LoadLine(f"{item.text}, supplemental heat", item.supplement_va, item.supplement_va, "load_heat", "100 %"))


def _totalled(sheet: _Sheet, case: Case) -> MethodLoad:
    """The total in volt-amperes and the current of each leg."""
    motors = [item.motor_va for item in sheet.motors]
    parts = counted(sheet.lines)
    lines = list(sheet.lines)
    if motors:
        addition = label(motor_addition(motors), sheet.id("S_motor"))
        largest = max(sheet.motors, key=lambda item: value_of(item.motor_va))
        lines.append(LoadLine(f"25 % of the largest motor, {largest.text}", largest.motor_va, addition, "load_motor", "25 %"))
    without = label(calculated_load(parts), sheet.id("S_parts"), "S_parts") if parts else 0.0
    whole = label(calculated_load(counted(lines)), sheet.id("S_total")) if lines else 0.0
    if any(sheet.on_leg.values()):
        legs = tuple(_leg(sheet, without, leg) for leg in LEGS)
    else:
        legs = (label(current_from_va(whole, NOMINAL), sheet.id("I_load")),)
    more = max(legs, key=value_of)
    current = label(whole_amperes(more), sheet.id("I_220"))
    return MethodLoad(LoadMethod.STANDARD, "", tuple(lines), whole, current, legs, left_out=case.left_out)


def _leg(sheet: _Sheet, without_motor: Number, leg: str) -> Number:
    """The current of one leg: what both legs share, its own 120 V loads, its own largest motor."""
    shared = without_motor
    for name in LEGS:
        if sheet.on_leg[name]:
            shared = shared - _on(sheet, name)
    even = label(named(shared, "S_even", "VA", "load on both legs alike", "load_total"), sheet.id("S_even"))
    motors = [_motor_current(item) for item in sheet.motors if item.legs in (leg, BOTH_LEGS, EVEN)]
    addition = label(motor_addition_current(motors), sheet.id(f"I_motor_{leg}")) if motors else 0.0
    single = _on(sheet, leg)
    return label(leg_load_current(even, single, addition), sheet.id(f"I_{leg}"), f"I_{leg}")


def _on(sheet: _Sheet, leg: str) -> Number:
    """The 120 V loads on one leg alone."""
    return together(sheet.on_leg[leg], f"S_{leg}", "VA", f"120 V loads on {leg}", "load_total", sheet.base)


def _motor_current(item: LoadItem) -> Number:
    return item.motor_va / (120.0 if item.legs in LEGS else 240.0)


def _neutral(sheet: _Sheet, gathered: Gathered) -> NeutralLoad:
    """The neutral load: the larger of the loads between neutral and each leg.

    References
    ----------
    ``load_neutral``: 220.61(A), (B). An unbalance stated downstream is added as it is.
    """
    lines = list(sheet.neutral)
    common = together(counted(lines), "S_N", "VA", "120 V load spread over both legs", "load_neutral", sheet.base)
    found = []
    for leg in LEGS:
        motors = [_motor_current(item) for item in sheet.motors if item.legs in (leg, EVEN)]
        addition = label(motor_addition_current(motors), sheet.id(f"I_N_motor_{leg}")) if motors else 0.0
        single = _on(sheet, leg)
        if value_of(single):
            lines.append(LoadLine(f"120 V loads on {leg}", single, single, "load_neutral", f"on {leg} alone"))
        if value_of(common) or value_of(single) or value_of(addition):
            found.append(label(neutral_load_current(common, single, addition), sheet.id(f"I_N_{leg}"), f"I_N_{leg}"))
    current: Number = max(found, key=value_of) if found else 0.0
    reduced = neutral_beyond_200(current)
    if reduced is not current:
        current = label(reduced, sheet.id("I_N_200"), "I_N_200")
    for stated in gathered.stated:
        current = current + stated.load.unbalance
    if gathered.stated:
        current = label(named(current, "I_N", "A", "neutral load with the unbalance stated downstream", "load_neutral"), sheet.id("I_N"))
    return NeutralLoad(tuple(lines), current)
