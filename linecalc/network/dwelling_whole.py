"""The methods of Article 220 Part IV, lawful only where a bus serves the whole dwelling."""

from __future__ import annotations

from dataclasses import replace

from linecalc.calc.dwelling_optional import (
    existing_general,
    heat_pump_with_supplement,
    largest_hvac,
    measured_existing,
    optional_general,
    optional_heat,
    SEPARATE_HEAT_FROM,
)
from linecalc.calc.dwelling_load import calculated_load
from linecalc.calc.load import apparent_from_real, apparent_power, current_from_va, whole_amperes
from linecalc.codebook import Book
from linecalc.codebook.edition import MeasuredDemandBar
from linecalc.network.build import Network
from linecalc.network.dwelling_records import COOLING, HEATING, METHOD_CITE, Gathered, LoadItem, LoadLine, LoadMethod, MethodLoad, Reading, counted
from linecalc.network.dwelling_terms import NOMINAL, NOMINAL_V, together
from linecalc.network.loads import ASSUMED_POWER_FACTOR, term_of
from linecalc.network.records import Assumption, Kind
from linecalc.project.dwelling import Dwelling
from linecalc.term import Number, given, label, total, value_of

LEAST_SERVICE_A = 100.0
_PART_ONLY = "serves a part of the dwelling; this method is for the whole of it"


def optional_load(gathered: Gathered, network: Network, book: Book) -> MethodLoad:
    """220.82 on a bus that serves the whole dwelling.

    References
    ----------
    ``load_optional_dwelling``: 220.82.
    """
    method = LoadMethod.OPTIONAL
    refused = _refused(method, gathered)
    if refused is not None:
        return refused
    if network.project.service is not None and network.project.service.rating.value < LEAST_SERVICE_A:
        return MethodLoad(method, f"asks for service or feeder conductors of {LEAST_SERVICE_A:g} A at least")
    base = f"{gathered.tag}.optional"
    pooled = [item for item in gathered.items if item.kind not in (*HEATING, *COOLING, "ev")]
    lines = _pool_lines(gathered, pooled, method)
    pool = _pool(lines, base, method)
    general = label(optional_general(pool), f"{base}.S_general")
    lines.append(LoadLine("general load together", pool, general, METHOD_CITE[method], "10 kVA in full, 40 % of the rest"))
    climate, out = _climate(gathered.items, base)
    lines += climate
    lines += [LoadLine(item.text, item.va, item.va, _ev_cite(book), "100 %, outside the 40 % group") for item in _evs(gathered)]
    found = _finished(method, lines, base, out)
    evs = [item.va for item in _evs(gathered)]
    if not evs:
        return found
    inside = value_of(optional_general(float(pool) + sum(map(float, evs))))
    other = value_of(found.total_va) - value_of(general) - sum(map(float, evs)) + inside
    reading = Reading("EV supply equipment inside the 40 % group", value_of(whole_amperes(current_from_va(other, NOMINAL_V))))
    return replace(found, readings=(reading,))


def existing_load(gathered: Gathered, book: Book) -> MethodLoad:
    """220.83 on a bus that serves the whole of an existing dwelling.

    Where heating or cooling is added, the larger counts in full; where none
    is, what exists counts as an appliance among the others.

    References
    ----------
    ``load_existing_dwelling``: 220.83(A), (B).
    """
    method = LoadMethod.EXISTING
    refused = _refused(method, gathered)
    if refused is not None:
        return refused
    base = f"{gathered.tag}.existing"
    climate = [item for item in gathered.items if item.kind in HEATING + COOLING]
    others = [item for item in gathered.items if item not in climate and item.kind != "ev"]
    added = any(not item.existing for item in climate)
    room_heaters = [item for item in climate if item.kind == "heat" and item.controls]
    many = sum(item.controls for item in room_heaters) >= SEPARATE_HEAT_FROM
    apart = [item for item in climate if not (many and item in room_heaters)] if added else []
    pooled = others + [item for item in climate if item not in apart]
    lines = _pool_lines(gathered, pooled, method)
    pool = _pool(lines, base, method)
    general = label(existing_general(pool), f"{base}.S_general")
    among = "" if added or not climate else ", heating and cooling among them: none is added"
    lines.append(LoadLine(f"these together{among}", pool, general, METHOD_CITE[method], "8 kVA in full, 40 % of the rest"))
    out: tuple[str, ...] = ()
    if apart:
        line, out = _full_climate(apart, base)
        lines.append(line)
    lines += [LoadLine(item.text, item.va, item.va, _ev_cite(book), "100 %, outside the 40 % group") for item in _evs(gathered)]
    found = _finished(method, lines, base, out)
    return replace(found, readings=_existing_readings(found, climate, added, pool, general))


def _existing_readings(found: MethodLoad, climate: list[LoadItem], added: bool, pool: Number, general: Number) -> tuple[Reading, ...]:
    """The reading that existing heating or cooling counts in full although none is added."""
    if added or not climate:
        return ()
    heating = sum(float(item.va) + float(item.supplement_va or 0.0) for item in climate if item.kind in HEATING)
    cooling = sum(float(item.va) for item in climate if item.kind in COOLING)
    inside = sum(float(item.va) + float(item.supplement_va or 0.0) for item in climate)
    without = value_of(existing_general(value_of(pool) - inside))
    other = value_of(found.total_va) - value_of(general) + without + max(heating, cooling)
    return (Reading("existing heating or cooling in full, as where some is added", value_of(whole_amperes(current_from_va(other, NOMINAL_V)))),)


def measured(gathered: Gathered, network: Network, book: Book, assumptions: list[Assumption]) -> MethodLoad:
    """220.87 on a bus that serves the whole dwelling, unless the edition bars it.

    References
    ----------
    ``load_measured``: 220.87.
    """
    method = LoadMethod.MEASURED
    dwelling = network.project.dwelling or Dwelling()
    if not gathered.whole:
        return MethodLoad(method, _PART_ONLY)
    needs = tuple(f"dwelling.{key}" for key in ("measured_demand", "measured_period", "measured_source") if getattr(dwelling, key) is None)
    if needs:
        return MethodLoad(method, "what was measured, over what period and by whom is not given", needs=needs)
    barred = _barred(network, book, dwelling)
    if barred:
        return MethodLoad(method, barred)
    base = f"{gathered.tag}.measured"
    demand = _demand_va(dwelling, base, assumptions)
    new = [item for item in gathered.items if not item.existing]
    text = f"highest demand measured over {dwelling.measured_period}: {dwelling.measured_source}"
    lines = [LoadLine(text, demand, label(measured_existing(demand), f"{base}.S_125"), METHOD_CITE[method], "125 %")]
    for item in new:
        lines.append(LoadLine(f"new: {item.text}", item.va, item.va, METHOD_CITE[method], "100 %"))
        if item.supplement_va is not None:
            lines.append(LoadLine(f"new: {item.text}, supplemental heat", item.supplement_va, item.supplement_va, METHOD_CITE[method], "100 %"))
    return _finished(method, lines, base, ())


def sources_of(network: Network) -> tuple[str, ...]:
    """The units and inverters that serve the house: renewable sources, or storage that can shave the peak."""
    return tuple(node.tag for node in network.of_kind(Kind.UNIT, Kind.INVERTER))


def _barred(network: Network, book: Book, dwelling: Dwelling) -> str:
    """Why the edition does not permit measured demand here; empty where it does."""
    sources = sources_of(network)
    if not sources:
        return ""
    bar = book.wording.measured_demand_bar
    if bar is MeasuredDemandBar.THIRTY_DAYS and dwelling.measured_period == "1 year":
        return ""
    what = "this method" if bar is MeasuredDemandBar.WHOLE_METHOD else "the 30-day alternative"
    return f"the {book.edition} edition does not permit {what} where PV or storage ({', '.join(sources)}) serves the house"


def _demand_va(dwelling: Dwelling, base: str, assumptions: list[Assumption]) -> Number:
    written, path = dwelling.measured_demand, "dwelling.measured_demand"
    if written.unit == "A":
        amps = term_of(written, "I_max", path, "highest demand")
        return label(apparent_power(amps, NOMINAL, "load_measured", "highest measured demand"), f"{base}.S_max", "S_max")
    if written.unit == "VA":
        return term_of(written, "S_max", path, "highest measured demand")
    if dwelling.power_factor is None:
        reason = "measured in kilowatts without a power factor"
        assumptions.append(Assumption("dwelling.power_factor", f"{ASSUMED_POWER_FACTOR}", reason))
    factor = given(dwelling.power_factor or ASSUMED_POWER_FACTOR, "", "pf", "dwelling.power_factor", "power factor")
    power = term_of(written, "P_max", path, "highest measured demand")
    return label(apparent_from_real(power, factor, "load_measured", "highest measured demand, apparent"), f"{base}.S_max", "S_max")


def _refused(method: LoadMethod, gathered: Gathered) -> MethodLoad | None:
    if gathered.stated:
        panels = ", ".join(stated.tag for stated in gathered.stated)
        return MethodLoad(method, f"the load of {panels} is stated as a total, which does not come apart")
    if not gathered.whole:
        return MethodLoad(method, _PART_ONLY)
    if gathered.general.needs:
        return MethodLoad(method, "an input is missing", needs=gathered.general.needs)
    return None


def _ev_cite(book: Book) -> str:
    return "load_ev" if book.wording.ev_least_va else "load_optional_dwelling"


def _evs(gathered: Gathered) -> list[LoadItem]:
    return [item for item in gathered.items if item.kind == "ev"]


def _pool_lines(gathered: Gathered, items: list[LoadItem], method: LoadMethod) -> list[LoadLine]:
    """General load and the nameplates of ``items``, each a line."""
    lines = gathered.general.lines()
    for item in items:
        lines.append(LoadLine(item.text, item.va, None, METHOD_CITE[method], "nameplate"))
        if item.supplement_va is not None:
            lines.append(LoadLine(f"{item.text}, supplemental heat", item.supplement_va, None, METHOD_CITE[method], "nameplate"))
    return lines


def _pool(lines: list[LoadLine], base: str, method: LoadMethod) -> Number:
    """The lines summed before the percentages."""
    parts = [line.connected_va for line in lines]
    return together(parts, "S_pool", "VA", "general load and nameplates together", METHOD_CITE[method], base)


def _climate(items: tuple[LoadItem, ...], base: str) -> tuple[list[LoadLine], tuple[str, ...]]:
    """Heating or cooling by 220.82(C), the larger."""
    cite = METHOD_CITE[LoadMethod.OPTIONAL]
    heating = _heating_parts(items, base)
    cooling = [item.va for item in items if item.kind in COOLING]
    sides = []
    if heating:
        sides.append(("heating", together(heating, "S_heating", "VA", "electric heating after its factors", cite, base)))
    if cooling:
        sides.append(("cooling", together(cooling, "S_cooling", "VA", "cooling", cite, base)))
    if not sides:
        return [], ()
    demand = sides[0][1] if len(sides) == 1 else label(largest_hvac([amount for _, amount in sides]), f"{base}.S_hvac")
    chosen = max(sides, key=lambda side: value_of(side[1]))[0]
    kinds = HEATING if chosen == "heating" else COOLING
    concerned = [item for item in items if item.kind in HEATING + COOLING]
    names = ", ".join(item.text for item in concerned if item.kind in kinds)
    out = tuple(item.tag for item in concerned if item.kind not in kinds)
    nameplates = [part for item in concerned if item.kind in kinds for part in _nameplates(item, chosen)]
    connected = together(nameplates, "S_hvac_conn", "VA", f"{chosen}, connected", cite, base)
    how = "100 %" if chosen == "cooling" else "65 % of electric heat, 40 % of four or more separately controlled"
    return [LoadLine(f"{chosen}: {names}", connected, demand, cite, how)], out


def _nameplates(item: LoadItem, season: str) -> list[Number]:
    return [item.va] if season == "cooling" or item.supplement_va is None else [item.va, item.supplement_va]


def _heating_parts(items: tuple[LoadItem, ...], base: str) -> list[Number]:
    central = [item.va for item in items if item.kind == "heat" and not item.controls]
    rooms = [item for item in items if item.kind == "heat" and item.controls]
    parts: list[Number] = []
    if central:
        parts.append(label(optional_heat(total(central), 0), f"{base}.S_heat_central"))
    if rooms:
        number = sum(item.controls for item in rooms)
        parts.append(label(optional_heat(total([item.va for item in rooms]), number), f"{base}.S_heat_rooms"))
    for item in items:
        if item.kind == "heat pump" and item.supplement_va is not None:
            compressor = 0.0 if item.interlocked else item.va
            parts.append(label(heat_pump_with_supplement(compressor, item.supplement_va), f"{base}.S_pump_{item.tag}"))
        elif item.kind == "heat pump":
            parts.append(item.va)
    return parts


def _full_climate(apart: list[LoadItem], base: str) -> tuple[LoadLine, tuple[str, ...]]:
    """Heating or cooling in full by 220.83(B), the larger."""
    cite = METHOD_CITE[LoadMethod.EXISTING]
    heating = [part for item in apart if item.kind in HEATING for part in (item.va, item.supplement_va) if part is not None]
    cooling = [item.va for item in apart if item.kind in COOLING]
    sides = []
    if heating:
        sides.append(together(heating, "S_heating", "VA", "heating in full", cite, base))
    if cooling:
        sides.append(together(cooling, "S_cooling", "VA", "cooling in full", cite, base))
    demand = sides[0] if len(sides) == 1 else label(largest_hvac(sides, cite), f"{base}.S_hvac")
    warm = bool(heating) and value_of(demand) == value_of(sides[0])
    kinds = HEATING if warm else COOLING
    names = ", ".join(item.text for item in apart if item.kind in kinds)
    out = tuple(item.tag for item in apart if item.kind not in kinds)
    return LoadLine(f"{'heating' if warm else 'cooling'}: {names}", demand, demand, cite, "100 %, the larger of heating and cooling"), out


def _finished(method: LoadMethod, lines: list[LoadLine], base: str, left_out: tuple[str, ...]) -> MethodLoad:
    whole = label(calculated_load(counted(lines)), f"{base}.S_total")
    exact = label(current_from_va(whole, NOMINAL), f"{base}.I_load")
    current = label(whole_amperes(exact), f"{base}.I_220")
    return MethodLoad(method, "", tuple(lines), whole, current, (exact,), left_out=left_out)
