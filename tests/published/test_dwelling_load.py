"""Published dwelling loads: worked problems of the trade press, code forums and a municipal code."""

import pytest

from linecalc.calc.cooking_load import average_rating, column_c_demand, kilowatts_over
from linecalc.calc.dwelling_load import ev_load, fixed_appliance_load, lighting_demand, neutral_cooking_dryer
from linecalc.calc.load import current_from_va, whole_amperes
from linecalc.codebook import EDITIONS, open_book
from linecalc.codebook.edition import MeasuredDemandBar
from linecalc.network.dwelling_cooking import cooking
from linecalc.term import named_terms
from tests.dwellings import bus, counted, method
from tests.published.test_dwelling_load_annex_d import D2B

each_edition = pytest.mark.parametrize("edition", EDITIONS)


# Source: JADE Learning, "Single Family Dwelling Calculation, Optional Method", 18 July 2016,
# https://www.jadelearning.com/blog/single-family-dwelling-calculation-optional-method/ (30,310 VA, 126 A), and
# Thompson Learning, "Annex D", example D2(b) of 2017, https://thompsonlearningco.com/chapter/annex-d/ (29,200 VA, 122 A).
@pytest.mark.parametrize(("load_va", "published_a"), [(30310.0, 126.0), (29200.0, 122.0)])
def test_calculated_loads_in_whole_amperes(load_va: float, published_a: float) -> None:
    assert whole_amperes(current_from_va(load_va, 240.0)) == pytest.approx(published_a)


# Source: JADE Learning, as above: 36,400 VA general, 20,560 VA after demand, heat at 65 % 9750 VA.
@each_edition
def test_an_all_electric_house_by_the_optional_method(edition: str) -> None:
    loads = {
        "RANGE": {"kind": "range", "power": "14 kW"},
        "WH": {"kind": "water heater", "power": "3 kW"},
        "DRYER": {"kind": "dryer", "power": "5 kW"},
        "DW": {"kind": "fixed appliance", "power": "1.5 kW"},
        "HEAT": {"kind": "heat", "power": "15 kW"},
        "AC": {"kind": "motor-compressor", "current": "29 A"},
    }
    found = method("optional", loads, edition, floor_area="2800 ft2")
    assert counted(found, "together") == pytest.approx(20560.0)
    assert counted(found, "heating") == pytest.approx(9750.0)
    assert float(found.total_va) == pytest.approx(30310.0)
    assert float(found.current_a) == 126.0


# Source: Centerville, Indiana, municipal code (prior code section 152.36),
# https://codelibrary.amlegal.com/codes/centervillein/latest/centerville_in/0-0-0-4255: 9000 W become 5100 W, with a
# 12 kW range 13,100 W.
@each_edition
def test_a_municipal_code_computes_the_same_general_load_and_range(edition: str) -> None:
    found = method("standard", {"RANGE": {"kind": "range", "power": "12 kW"}}, edition)
    assert float(found.total_va) == pytest.approx(13100.0)


# Source: Mike Holt Forum, "Dwelling Service Load Calculations",
# https://forums.mikeholt.com/threads/dwelling-service-load-calculations.2560180/: 6150 VA general load, dryer 5000,
# range 8000, disposal motor 800 x 1.25, two appliances not fastened 2500, heat 10,000: 32,650 VA.
@each_edition
def test_a_standard_calculation_with_a_motor_and_heat(edition: str) -> None:
    loads = {
        "HEAT": {"kind": "heat", "power": "10 kVA"},
        "RANGE": {"kind": "range", "power": "11 kVA"},
        "DRYER": {"kind": "dryer", "power": "4.5 kVA"},
        "DISP": {"kind": "motor", "power": "800 VA", "voltage": "120 V"},
        "A1": {"kind": "appliance", "power": "1.25 kVA", "voltage": "120 V"},
        "A2": {"kind": "appliance", "power": "1.25 kVA", "voltage": "120 V"},
    }
    found = method("standard", loads, edition, floor_area="2500 ft2")
    assert counted(found, "these together") == pytest.approx(6150.0)
    assert counted(found, "25 %") == pytest.approx(200.0)
    assert float(found.total_va) == pytest.approx(32650.0)


HOUSE_2680 = {
    "OVEN": {"kind": "oven", "power": "9.6 kVA"},
    "DRYER": {"kind": "dryer", "power": "5 kVA"},
    "DW": {"kind": "fixed appliance", "power": "1.2 kVA"},
    "DISP": {"kind": "fixed appliance", "power": "600 VA"},
}


# Source: Mike Holt Forum, "Help with service calculation", https://forums.mikeholt.com/threads/help-with-service-calculation.108600/:
# 31,440 VA general, 25 kVA of heat at 40 %: 28,576 VA, 119 A; then 49,340 VA general, 25 kVA at 65 %: 41,986 VA, 175 A.
@pytest.mark.parametrize(
    ("more", "controls", "general", "total", "amperes"),
    [
        ({"WH": {"kind": "water heater", "power": "2.5 kVA"}}, 4, 18576.0, 28576.0, 119.0),
        (
            {
                "WH": {"kind": "water heater", "power": "4.5 kVA"},
                "WELL": {"kind": "motor", "power": "2.4 kVA"},
                "TOP": {"kind": "cooktop", "power": "4.5 kVA"},
                "VAC1": {"kind": "fixed appliance", "power": "4.5 kVA"},
                "VAC2": {"kind": "fixed appliance", "power": "4.5 kVA"},
            },
            None,
            25736.0,
            41986.0,
            175.0,
        ),
    ],
)
def test_an_electrically_heated_house_by_the_optional_method(
    more: dict, controls: int | None, general: float, total: float, amperes: float
) -> None:
    heat = {"kind": "heat", "power": "25 kVA", **({"separately_controlled": controls} if controls else {})}
    found = method("optional", {**HOUSE_2680, **more, "HEAT": heat}, floor_area="2680 ft2")
    assert counted(found, "together") == pytest.approx(general)
    assert float(found.total_va) == pytest.approx(total)
    assert float(found.current_a) == amperes


# Source: Mike Holt Forum, "EV chargers, Article 220.83, Article 310.12 ...", page 3,
# https://forums.mikeholt.com/threads/ev-chargers-article-220-83-article-310-12-another-residential-idiot-arguing-with-the-ahj.2581798/page-3:
# example D2(b) with 11,520 VA of EV supply equipment inside the 40 % group gives 33,808 VA; outside it 29,200 + 11,520.
@each_edition
def test_both_readings_of_ev_supply_equipment_in_the_optional_method(edition: str) -> None:
    loads = {**D2B, "EV": {"kind": "ev", "current": "48 A", "voltage": "240 V"}}
    found = method("optional", loads, edition)
    assert float(found.total_va) == pytest.approx(29200.0 + 11520.0)
    inside = next(reading for reading in found.readings if "40 %" in reading.text)
    assert float(inside.current_a) == whole_amperes(33808.0 / 240.0) == 141.0


# Source: ExpertCE, "How to Calculate EVSE Load Requirements per NEC 2023?",
# https://expertce.com/courses/electricians-guide-for-nec-2023/lessons/how-to-calculate-evse-load-requirements-per-nec-2023
@pytest.mark.parametrize(("nameplate", "load"), [(5000.0, 7200.0), (14400.0, 14400.0)])
def test_ev_supply_equipment_counts_7200_va_at_least(nameplate: float, load: float) -> None:
    assert ev_load(nameplate, open_book("2023").wording.ev_least_va) == load


# Source: as above: the section did not exist in 2020.
@pytest.mark.parametrize("edition", ["2017", "2020"])
def test_before_2023_ev_supply_equipment_counts_by_its_nameplate(edition: str) -> None:
    found = method("standard", {"EV": {"kind": "ev", "power": "5 kVA"}}, edition)
    assert counted(found, "EV") == pytest.approx(5000.0)


# Source: Course Hero, "Blank Residential Load Calc", https://www.coursehero.com/file/46301068/Blank-Residential-Load-Calcxlsx/:
# 2800 ft2: 12,900 VA become 6465 VA; 1200, 1032, 960 and 1127 VA at 75 %: 900, 774, 720, 845.25 VA.
@each_edition
def test_a_work_sheet_of_lighting_and_four_fastened_appliances(edition: str) -> None:
    assert float(lighting_demand(12900.0, open_book(edition).lighting_bands())) == pytest.approx(6465.0)
    assert fixed_appliance_load([1200.0, 1032.0, 960.0, 1127.0]) == pytest.approx(900.0 + 774.0 + 720.0 + 845.25)


# Source: Electrical License Renewal, "Revised code section on appliance demand factors" (2017 and 2020 text of 220.53),
# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=836
@pytest.mark.parametrize(("edition", "demand"), [("2017", 0.75 * 6400.0), ("2020", 6400.0), ("2023", 6400.0)])
def test_since_2020_an_appliance_below_500_watts_is_not_one_of_the_four(edition: str, demand: float) -> None:
    sizes = {"WH": "4.5 kVA", "DW": "1.2 kVA", "DISP": "500 VA", "FAN": "200 VA"}
    loads = {tag: {"kind": "fixed appliance", "power": size} for tag, size in sizes.items()}
    found = method("standard", loads, edition)
    general = counted(found, "these together")
    assert float(found.total_va) - general == pytest.approx(demand)


# Source: Mike Holt Forum, "Notes for table 220.55", https://forums.mikeholt.com/threads/notes-for-table-220-55.40564/latest:
# a 3 kW cooktop, a 6 kW oven and a 14 kW range: 2.4 + 4.8 + 8.8 = 16 kW. Column C for all three is lower, each below 12 kW
# taken as 12 kW (Note 2, as Mike Holt Forum, "T.220.55 notes and example calculation",
# https://forums.mikeholt.com/threads/t-220-55-notes-and-example-calculation.2576655, reads it): 14 x 1.05 = 14.7 kW.
@each_edition
def test_cooking_appliances_of_three_sizes_take_the_lower_of_note_3_and_column_c(edition: str) -> None:
    loads = {
        "TOP": {"kind": "cooktop", "power": "3 kW"},
        "OVEN": {"kind": "oven", "power": "6 kW"},
        "RANGE": {"kind": "range", "power": "14 kW"},
    }
    load = cooking("MP.standard", bus(loads, edition).items, open_book(edition)).load_va
    assert float(load) == pytest.approx(14700.0)
    assert {term.symbol: term.value for term in named_terms(load)}["P_note3"] == pytest.approx(16.0)


# Source: Lauren Olivos, "Dwelling Units More Than 150 m2" (an example of the Philippine Electrical Code, whose table is the
# same), https://scribd.com/document/615021927/Dwelling-Units-More-Than150m2: two 4 kW ovens and an 8 kW range by column B
# 16,000 x 0.55 = 8800 VA, a 12 kW range by column C 8000 VA.
@each_edition
def test_column_b_for_three_and_column_c_for_a_larger_range(edition: str) -> None:
    loads = {
        "O1": {"kind": "oven", "power": "4 kW"},
        "O2": {"kind": "oven", "power": "4 kW"},
        "R8": {"kind": "range", "power": "8 kW"},
        "R12": {"kind": "range", "power": "12 kW"},
    }
    found = method("standard", loads, edition)
    assert counted(found, "cooking") == pytest.approx(16800.0)


# Sources: EC&M, "Code Quiz: Electric Ranges Demand Load Requirement", 20 November 2025,
# https://www.ecmweb.com/national-electrical-code/quizzes/article/55331465/code-quiz-electric-ranges-demand-load-requirement (ten of 14 kW: 27.5 kW);
# high-tech-guide.com, "What is a NEC demand factor?", https://high-tech-guide.com/article/what-is-a-nec-demand-factor (fifteen of 15 kW: 34.5 kW);
# elightinformation.com, "Cooking Calculations", http://www.elightinformation.com/cooking-calcs-2/ (two of 10 kW: 11 kW);
# sciemce.com, https://sciemce.com/qa/g0CLQ1jC7Xm5 (one of 14 kW: 8.8 kW).
@each_edition
@pytest.mark.parametrize(("number", "rating_kw", "demand_kw"), [(10, 14.0, 27.5), (15, 15.0, 34.5), (2, 10.0, 11.0), (1, 14.0, 8.8)])
def test_ranges_of_one_rating_by_column_c(edition: str, number: int, rating_kw: float, demand_kw: float) -> None:
    over = kilowatts_over(average_rating([rating_kw] * number))
    assert column_c_demand(float(open_book(edition).cooking_kilowatts(number)), over) == pytest.approx(demand_kw)


# Source: Electrical Knowhow, "Receptacle Branch Circuit Design Calculations", example 1,
# http://www.electrical-knowhow.com/2013/02/receptacle-branch-circuit-design_24.html: a 3 kW oven 2.4 kW by column A.
@each_edition
def test_one_small_oven_by_column_a(edition: str) -> None:
    assert counted(method("standard", {"OVEN": {"kind": "oven", "power": "3 kW"}}, edition), "OVEN") == pytest.approx(2400.0)


# Source: electriciantalk.com, "Calculating neutral size": a 5500 W dryer puts 3850 VA on the neutral.
def test_a_dryer_on_the_neutral() -> None:
    assert neutral_cooking_dryer(5500.0) == pytest.approx(3850.0)


# Source: Electrical Contractor magazine, "Branch-Circuit, Feeder and Service Calculations, Part LVI", October 2010,
# https://www.ecmag.com/magazine/articles/article-detail/codes-standards-branch-circuit-feeder-and-service-calculations-part-lvi:
# a heat pump of 26.8, 5.8 and 2.6 A at 240 V is 8448 VA; where its 15 kW of heat can run with it, both count.
@each_edition
def test_a_heat_pump_counts_with_all_the_heat_that_can_run_with_it(edition: str) -> None:
    loads = {"HP": {"kind": "heat pump", "rla": "26.8 A", "fan": "8.4 A", "supplemental_heat": "15 kVA"}}
    found = method("standard", loads, edition)
    lines = {line.text: float(line.counted_va) for line in found.lines if line.counted_va is not None}
    assert lines["HP"] == pytest.approx(8448.0)
    assert lines["HP, supplemental heat"] == pytest.approx(15000.0)


# Source: Mike Holt Forum, "2022 NEC 220.87 Exception" (the 2020 text in the California code of 2022),
# https://forums.mikeholt.com/threads/2022-nec-220-87-exception.2580398: not permitted where the service has renewable energy.
def test_the_2020_edition_bars_measured_demand_where_there_is_pv() -> None:
    assert open_book("2020").wording.measured_demand_bar is MeasuredDemandBar.WHOLE_METHOD


# Source: Symmetry Air Conditioning, "NEC Code Requirement", https://symmetryace.com/electrical/nec-code-requirement
# (the text of 220.87): the maximum demand at 125 percent plus the new load. The numbers are hand-worked.
def test_measured_demand_at_125_percent_plus_the_new_load() -> None:
    loads = {
        "RANGE": {"kind": "range", "power": "12 kW", "existing": True},
        "EV": {"kind": "ev", "power": "9.6 kVA"},
    }
    measured = {"measured_demand": "50 A", "measured_period": "1 year", "measured_source": "utility record (invented)"}
    found = method("measured", loads, **measured)
    assert float(found.total_va) == pytest.approx(1.25 * 50.0 * 240.0 + 9600.0)
    assert float(found.current_a) == 103.0


# Source: NFPA Community, answer to "220.83(A) does not address directly how to calculate the load for existing
# air-conditioning and heating", 31 October 2016, https://community.nfpa.org/thread/26525: both count as appliances at 40 %
# where the rest is above 8 kVA, nothing is left out. The numbers are hand-worked.
def test_existing_heating_and_cooling_are_appliances_where_none_is_added() -> None:
    loads = {
        "AC": {"kind": "motor-compressor", "current": "20 A", "existing": True},
        "HEAT": {"kind": "heat", "power": "10 kVA", "existing": True},
        "DRYER": {"kind": "dryer", "power": "5 kVA"},
    }
    found = method("existing", loads, existing=True)
    pool = 4500.0 + 3000.0 + 1500.0 + 4800.0 + 10000.0 + 5000.0
    assert float(found.total_va) == pytest.approx(8000.0 + 0.4 * (pool - 8000.0))
    assert found.left_out == ()


# Source: Electrical Construction & Maintenance, "Adding central A/C to existing dwelling service",
# http://ecmweb.com/print/content/adding-central-c-existing-dwelling-service: the added air conditioner counts in full, the
# smaller of heating and cooling is dropped. The numbers are hand-worked.
def test_an_added_air_conditioner_counts_in_full() -> None:
    loads = {
        "AC": {"kind": "motor-compressor", "current": "20 A"},
        "HEAT": {"kind": "heat", "power": "3 kVA", "existing": True},
        "DRYER": {"kind": "dryer", "power": "5 kVA", "existing": True},
    }
    found = method("existing", loads, existing=True)
    pool = 4500.0 + 3000.0 + 1500.0 + 5000.0
    assert float(found.total_va) == pytest.approx(8000.0 + 0.4 * (pool - 8000.0) + 4800.0)
    assert found.left_out == ("HEAT",)
