"""From the project to what a bus carries: loads at nameplate, the general load and totals stated downstream."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.calc.dwelling_load import ev_load, general_lighting, laundry_load, small_appliance_load
from linecalc.calc.load import apparent_from_real, apparent_power
from linecalc.calc.motor import running_current
from linecalc.codebook import Book
from linecalc.network.build import Network
from linecalc.network.dwelling_records import EVEN, Gathered, GeneralLoad, LoadItem, Stated
from linecalc.network.loads import ASSUMED_POWER_FACTOR, BOTH_LEGS, UNITY_KINDS, LegLoad, leg_voltage, legs_of, load_current, term_of
from linecalc.network.records import Assumption, Kind, Node
from linecalc.project.dwelling import Dwelling
from linecalc.project.model import Load
from linecalc.term import Number, Term, given, label

VA_PER_FT2 = 3.0
LEAST_CIRCUITS = {"small_appliance_circuits": 2.0, "laundry_circuits": 1.0}


def items_of(network: Network, book: Book, assumptions: list[Assumption]) -> dict[str, LoadItem]:
    """Every named load of the dwelling by tag, at nameplate."""
    nodes = (node for node in network.of_kind(Kind.LOAD) if node.item.kind != "calculated")
    return {node.tag: _item(node, book, assumptions) for node in nodes}


def _item(node: Node, book: Book, assumptions: list[Assumption]) -> LoadItem:
    load, tag = node.item, node.tag
    legs = _legs(tag, load, assumptions)
    va, motor = _nameplate(tag, load, legs)
    if load.kind == "ev" and book.wording.ev_least_va:
        least = given(book.wording.ev_least_va, "VA", "S_least", "rule:load_ev", "least load of EV supply equipment")
        va = label(ev_load(va, least), f"{tag}.load.S", f"S_{tag}")
    supplement = None
    if load.supplemental_heat is not None:
        supplement = term_of(load.supplemental_heat, f"S_sup_{tag}", f"load.{tag}.supplemental_heat", "supplemental heat")
    return LoadItem(
        tag=tag,
        kind=load.kind,
        text=load.description or tag,
        va=va,
        legs=legs,
        existing=load.existing,
        continuous=load.kind == "ev" if load.continuous is None else load.continuous,
        motor_va=motor,
        group=load.noncoincident,
        controls=load.separately_controlled or 0,
        supplement_va=supplement,
        interlocked=load.supplemental_interlocked,
    )


def _legs(tag: str, load: Load, assumptions: list[Assumption]) -> str:
    if load.legs is not None or legs_of(load) == BOTH_LEGS:
        return load.legs or BOTH_LEGS
    reason = "120 V load without a leg; half of it counted on each, as Annex D does"
    assumptions.append(Assumption(f"load.{tag}.legs", EVEN, reason))
    return EVEN


def _nameplate(tag: str, load: Load, legs: str) -> tuple[Number, Number | None]:
    """Nameplate volt-amperes at nominal voltage, and the motor in them; a circuit ampacity holds its 125 percent already."""
    base = f"load.{tag}"
    volts = given(leg_voltage(legs), "V", "V_nom", "rule:load_total", "nominal voltage of the load")
    if load.power is not None and load.rla is None and load.current is None and load.hp is None:
        return _of_power(tag, load)
    if load.rla is not None and load.current is None and load.hp is None:
        running = term_of(load.rla, f"RLA_{tag}", f"{base}.rla", "rated-load current")
        motor = _volt_amperes(running, volts, tag, "M", "compressor alone")
        if load.fan is None:
            return motor, motor
        both = running_current(running, term_of(load.fan, f"I_fan_{tag}", f"{base}.fan", "fan current"))
        return _volt_amperes(label(both, "", f"I_{tag}"), volts, tag, "S", "compressor and fan"), motor
    amps = load_current(tag, load, [])
    va = _volt_amperes(amps, volts, tag, "S", "load at nominal voltage")
    holds_it_already = load.mca is not None and load.current is None and load.hp is None
    return va, va if _is_motor(load) and not holds_it_already else None


def _is_motor(load: Load) -> bool:
    return load.kind in ("motor", "motor-compressor", "heat pump") or load.motor_driven


def _volt_amperes(amps: Number, volts: Term, tag: str, key: str, meaning: str) -> Number:
    return label(apparent_power(amps, volts, "load_total", meaning), f"{tag}.load.{key}", f"{key}_{tag}")


def _of_power(tag: str, load: Load) -> tuple[Number, Number | None]:
    """Volt-amperes of a load stated as power; the kilowatts of heating appliances count as kilovolt-amperes."""
    base = f"load.{tag}"
    alike = load.power.unit == "VA" or load.kind in UNITY_KINDS and load.power_factor is None
    power = given(load.power.value, "VA" if alike else "W", f"{'S' if alike else 'P'}_{tag}", f"{base}.power", "nameplate rating")
    if not alike:
        factor = given(load.power_factor or ASSUMED_POWER_FACTOR, "", f"pf_{tag}", f"{base}.power_factor", "power factor")
        power = label(apparent_from_real(power, factor, "load_total"), f"{tag}.load.S", f"S_{tag}")
    return power, power if _is_motor(load) else None


@dataclass(frozen=True, slots=True)
class _Share:
    """What of the general load hangs on a bus: area in square feet, and numbers of circuits."""

    floor_area_ft2: Number
    kitchen: Number
    laundry: Number


class Gatherer:
    """Gathers, bus by bus, the loads downstream; each load once, whatever lies between."""

    def __init__(self, network: Network, book: Book, calculated: dict[str, LegLoad], assumptions: list[Assumption]):
        self._network = network
        self._dwelling = network.project.dwelling or Dwelling()
        self._assumptions = assumptions
        self._items = items_of(network, book, assumptions)
        self._calculated = calculated
        self._panels = tuple(node.tag for node in network.of_kind(Kind.PANEL) if not node.item.generation)

    def gathered(self, tag: str) -> Gathered:
        """What the AC node ``tag`` carries."""
        below = self._network.below(tag)
        stated = self._stated(tag)
        hidden = {inner for panel in stated for inner in self._network.below(panel)}
        open_ = set(below) - hidden
        whole = not stated and set(self._panels) <= set(below) and all(self._is_in(item, open_) for item in self._items)
        items = tuple(item for name, item in self._items.items() if self._is_in(name, open_))
        general = self._general(tag, open_, hidden, whole)
        return Gathered(tag, items, general, tuple(self._total(panel) for panel in stated), whole)

    def _is_in(self, load: str, nodes: set[str]) -> bool:
        return load in nodes or self._network.nodes[load].item.panel in nodes

    def _stated(self, tag: str) -> tuple[str, ...]:
        """The nearest panels downstream whose load is stated as a total."""
        found: list[str] = []
        waiting = [tag]
        while waiting:
            node = waiting.pop()
            if node in self._calculated:
                found.append(node)
            else:
                waiting.extend(step.down for step in self._network.children.get(node, ()))
        return tuple(panel for panel in self._panels if panel in found)

    def _total(self, panel: str) -> Stated:
        load = self._calculated[panel]
        amps = load.leg1_continuous + load.leg1_noncontinuous
        volts = given(240.0, "V", "V_nom", "rule:load_total", "nominal voltage")
        va = label(apparent_power(amps, volts, "load_total", f"load stated for {panel}"), f"{panel}.load.S_stated", f"S_{panel}")
        return Stated(panel, load, amps, va)

    def _general(self, tag: str, open_: set[str], hidden: set[str], whole: bool) -> GeneralLoad:
        area = self._dwelling.floor_area or self._network.project.site.floor_area
        if not any(panel in open_ for panel in self._panels):
            return GeneralLoad(0.0, 0.0, 0.0)
        if area is None and (whole or not self._only_shares(open_)):
            return GeneralLoad(0.0, 0.0, 0.0, ("dwelling.floor_area",))
        share = self._whole() if whole else self._part(tag, open_, hidden)
        unit = given(VA_PER_FT2, "VA/ft2", "s", "rule:load_lighting", "unit load of dwellings")
        base = f"{tag}.load"
        return GeneralLoad(
            label(general_lighting(share.floor_area_ft2, unit), f"{base}.S_light"),
            label(small_appliance_load(share.kitchen), f"{base}.S_kitchen"),
            label(laundry_load(share.laundry), f"{base}.S_laundry"),
        )

    def _whole(self) -> _Share:
        site = self._network.project.site.floor_area
        area = self._dwelling.floor_area or site
        path = "dwelling.floor_area" if self._dwelling.floor_area is not None else "site.floor_area"
        return _Share(
            term_of(area, "A_floor", path, "floor area"),
            self._circuits("small_appliance_circuits", "n_kitchen"),
            self._circuits("laundry_circuits", "n_laundry"),
        )

    def _circuits(self, key: str, symbol: str) -> Term:
        written = getattr(self._dwelling, key)
        value = LEAST_CIRCUITS[key] if written is None else float(written)
        if written is None:
            reason = "number not given; the least that a dwelling must have"
            self._assumptions.append(Assumption(f"dwelling.{key}", f"{value:g}", reason))
        return given(value, "", symbol, f"dwelling.{key}", key.replace("_", " "))

    def _only_shares(self, open_: set[str]) -> bool:
        return all(panel in self._covered(open_) for panel in self._panels if panel in open_)

    def _covered(self, open_: set[str]) -> set[str]:
        """The panels whose part of the general load a share states, their own or one of a panel upstream."""
        shares = [panel for panel in self._dwelling.share if panel in open_]
        return {inner for panel in shares for inner in self._network.below(panel)}

    def _part(self, tag: str, open_: set[str], hidden: set[str]) -> _Share:
        """The shares stated for the panels here; for any other panel all that no share elsewhere claims."""
        outermost = [panel for panel in self._outermost() if panel in open_]
        uncovered = [panel for panel in self._panels if panel in open_ and panel not in self._covered(open_)]
        if not uncovered:
            return self._sum([self._share(panel) for panel in outermost])
        names = ", ".join(uncovered)
        reason = f"no share of the general load stated for {names}; all that is not stated elsewhere is counted there, the safe reading"
        self._assumptions.append(Assumption(f"dwelling.share.{uncovered[0]}", "all that is left", reason))
        elsewhere = [self._share(panel) for panel in self._outermost() if panel not in open_ or panel in hidden]
        whole, away = self._whole(), self._sum(elsewhere)
        return _Share(
            _less(whole.floor_area_ft2, away.floor_area_ft2),
            _less(whole.kitchen, away.kitchen),
            _less(whole.laundry, away.laundry),
        )

    def _outermost(self) -> list[str]:
        """The panels with a share that lie below no other panel with a share."""
        shares = self._dwelling.share
        inner = {found for panel in shares for found in self._network.below(panel)[1:]}
        return [panel for panel in self._panels if panel in shares and panel not in inner]

    def _share(self, panel: str) -> _Share:
        share, base = self._dwelling.share[panel], f"dwelling.share.{panel}"
        return _Share(
            term_of(share.floor_area, f"A_{panel}", f"{base}.floor_area", f"floor area served by {panel}"),
            given(float(share.small_appliance_circuits), "", f"n_kit_{panel}", f"{base}.small_appliance_circuits", "small-appliance circuits"),
            given(float(share.laundry_circuits), "", f"n_lau_{panel}", f"{base}.laundry_circuits", "laundry circuits"),
        )

    def _sum(self, shares: list[_Share]) -> _Share:
        if not shares:
            return _Share(0.0, 0.0, 0.0)
        found = shares[0]
        for share in shares[1:]:
            area, kitchen = found.floor_area_ft2 + share.floor_area_ft2, found.kitchen + share.kitchen
            found = _Share(area, kitchen, found.laundry + share.laundry)
        return found


def _less(whole: Number, part: Number) -> Number:
    return whole if isinstance(part, float) else whole - part
