"""How each printed figure of a candidate comes about: formula, inputs with where they are from, value and unit."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.options.answer import dc_ac, measure, used_a_year_kwh
from linecalc.options.context import Context
from linecalc.options.records import Bill, Plant, Result
from linecalc.project.equipment import StorageData, UnitData


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: formula in words, the same with numbers, value and unit, and where its inputs stand."""

    name: str
    formula: str
    numbers: str
    value: float
    unit: str
    origin: str


def figures_of(context: Context, result: Result) -> tuple[Figure, ...]:
    """The figures of one candidate in the order in which they build on each other."""
    if result.plant is None:
        return ()
    return (*_plant_figures(result.plant, _usable_numbers(context, result)), *_hours_figures(context, result), *_cost_figures(context, result))


def _usable_numbers(context: Context, result: Result) -> str:
    """The sum by kind where all units and all storage modules are alike, else by unit."""
    plant, base = result.plant, context.base
    assert plant is not None
    choice = context.options.storage_module
    stored = choice.equipment if choice is not None else next((item.equipment for item in base.storage.values()), None)
    kinds = [(result.candidate.units, next(iter(base.unit.values())).equipment), (result.candidate.storage_modules, stored)]
    counted = [(number, usable_of(base.equipment[tag])) for number, tag in kinds if number and tag is not None]
    if abs(sum(number * kwh for number, kwh in counted) - plant.usable_kwh) > 1e-6:
        return " + ".join(f"{unit.usable_kwh:g}" for unit in plant.units)
    return " + ".join(f"{number} x {kwh:g}" for number, kwh in counted)


def usable_of(data: object) -> float:
    """Usable energy of a unit or storage module in kilowatt-hours, the nominal one where it is not given."""
    if not isinstance(data, UnitData | StorageData):
        return 0.0
    return data.usable_energy.value if data.usable_energy is not None else data.energy.value


def _plant_figures(plant: Plant, usable: str) -> list[Figure]:
    rating = sum(unit.ac_export_w for unit in plant.units)
    charge = " + ".join(f"{unit.charge_w / 1000:g}" for unit in plant.units)
    return [
        Figure("usable energy, new", "sum over units, each with its storage modules", usable, plant.usable_kwh, "kWh", "equipment.*.usable_energy"),
        Figure(
            "continuous backup without sun", "the smaller of AC output in island mode and discharge power at the AC side",
            f"min({plant.ac_island_w / 1000:g}, {plant.discharge_w / 1000:g})", plant.firm_w / 1000.0, "kW", "equipment.*.ac_power_island, discharge_power",
        ),
        Figure("array power at STC", "modules x power of a module", f"{plant.pv_dc_w:g} W / 1000", plant.pv_dc_w / 1000.0, "kW", "options.array, equipment.*.power"),
        Figure("DC/AC ratio", "array power at STC / AC rating", f"{plant.pv_dc_w / 1000:g} / {rating / 1000:g}", dc_ac(plant), "", "equipment.*.ac_power"),
        Figure(
            "array power usable with room in the storage", "AC output, export limit kept, + DC charge power (common practice, no source)",
            f"{plant.ac_export_w / 1000:g} + {charge}", plant.usable_array_room_w / 1000.0, "kW", "equipment.*.ac_power, charge_power; service.export_limit",
        ),
        Figure("array power usable, storage full", "AC output, export limit kept", f"{plant.ac_export_w / 1000:g}", plant.ac_export_w / 1000.0, "kW", "equipment.*.ac_power; service.export_limit"),
    ]


def _hours_figures(context: Context, result: Result) -> list[Figure]:
    settings, plant = context.settings, result.plant
    hours = result.carried(settings.sun, True)
    if not hours or plant is None:
        return []
    worst = min(hours, key=lambda found: found.least_h)
    start = min(range(len(worst.by_start_h)), key=lambda hour: (worst.by_start_h[hour], hour))
    peak = max(result.power, key=lambda found: found.peak_w)
    day = context.profile.day_kwh(worst.season)
    aged = plant.usable_kwh * settings.aged
    return [
        Figure("usable energy, aged", "usable energy x aged fraction", f"{plant.usable_kwh:g} x {settings.aged:g}", aged, "kWh", "options.aged"),
        Figure("peak of the load", f"all loads of the hour at once: {peak.season}, {hour_span(peak.hour)}", f"{peak.peak_w:g} W / 1000", peak.peak_w / 1000.0, "kW", "options.use"),
        Figure(f"energy of the load in a day, {worst.season}", "sum over hours of power x duty", f"{day:.2f}", day, "kWh", "options.use"),
        Figure(
            "hours carried, least", f"steps of 15 min until a load is not served; the worst is {worst.season}, start at {start} h",
            f"least of {len(worst.by_start_h)} starts x {len(hours)} seasons", worst.least_h, "h", "options.outages, reserve, restart, efficiency; standby power",
        ),
    ]


def _cost_figures(context: Context, result: Result) -> list[Figure]:
    bill, settings, money = result.bill, context.settings, context.options.currency
    if bill.low is None or bill.high is None or bill.middle is None:
        return []
    found = [
        Figure("cost, least", "sum of count x least price", _sum(bill, 0), bill.low, money, "options.price, options.accessory"),
        Figure("cost, most", "sum of count x most price", _sum(bill, 1), bill.high, money, "options.price, options.accessory"),
        Figure("cost, middle", "half way between least and most", f"({bill.low:,.0f} + {bill.high:,.0f}) / 2", bill.middle, money, ""),
    ]
    if settings.value_of_kwh_a_year:
        used, score = used_a_year_kwh(result), measure(result, settings).cost
        assert score is not None
        days = "weather file, whole year" if any(lost.label == "year" for lost in result.lost) else f"mean of {len(result.lost)} days x 365, best case"
        worth = settings.value_of_kwh_a_year * used
        found += [
            Figure("array energy used in a year", days, f"{used:,.0f}", used, "kWh", "options.array, latitude or weather"),
            Figure("value of that energy", "energy x value of a kilowatt-hour over the years counted", f"{used:,.0f} x {settings.value_of_kwh_a_year:g}", worth, money, "options.energy_value x options.years"),
            Figure("what candidates are ranked by", "cost, middle - value of the energy", f"{bill.middle:,.0f} - {worth:,.0f}", score, money, ""),
        ]
    return found


def _sum(bill: Bill, end: int) -> str:
    return " + ".join(f"{part.count} x {part.price[end]:g}" for part in bill.parts if part.price is not None)


def hour_span(hour: int) -> str:
    """``17 to 18 h``."""
    return f"{hour} to {hour + 1} h"
