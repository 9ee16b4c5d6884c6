"""What each step buys, in words that follow from the numbers; each unit on the AC side; figures with their formula."""

from __future__ import annotations

from dataclasses import replace

import pytest

from linecalc.options.content import Content, figures_rows, step_title
from linecalc.options.differences import bus_text, circuit_changes, device_text, raceway_changes, unit_steps
from linecalc.options.figures import figures_of, hour_span
from linecalc.options.records import BusLoad, Lost, Result
from linecalc.options.words import count, step_words


def named(content: Content, name: str) -> Result:
    """The result of one candidate."""
    return next(found for found in content.answered.results if found.candidate.name == name)


def line(content: Content, name: str) -> str:
    """The words about one candidate."""
    return next(words for words in content.words if f"({name})" in words)


def test_the_first_line_names_the_first_choice_with_power_energy_and_cost(storage: Content):
    first = storage.words[0]
    assert first.startswith("1u2m-A18: 1 unit, 2 storage modules, 18 PV modules (7.56 kW, DC/AC 0.99), 28,940 to 30,340 USD.")
    assert "24 h are asked" in first and "Continuous backup without sun is 7.6 kW; the load peaks at 1.1 kW (winter, 8 to 9 h)" in first


def test_a_unit_in_place_of_a_module_is_said_to_help_by_its_energy_only(storage: Content):
    """Both hold 3 x 9.8 kWh; 33,220 to 35,220 against 28,940 to 30,340: 4,580 more by their middles."""
    words = line(storage, "2u1m-A18")
    assert "from 7.6 to 15.2 kW; the load peaks at 1.1 kW, so only its energy helps" in words
    assert "a storage module gives the same 9.8 kWh for 4,580 USD less and needs no new circuit" in words
    assert "by the standby draw of one unit more" in words and "new circuit: C1-2 BP to U2" in words and words.endswith("Passes too.")


def test_a_unit_more_is_weighed_by_the_price_of_a_usable_kilowatt_hour(storage: Content):
    """6,200 / 9.8 = 633, 10,780 / 9.8 = 1,100; a third module is beyond the unit's maximum."""
    assert "for less (633 instead of 1,100 USD a usable kWh) and needs no new circuit, but no further one can be added" in line(storage, "2u2m-A18")


def test_where_a_further_module_can_be_added_that_is_not_denied(array: Content):
    words = line(array, "2u0m-A12")
    assert "633 instead of 1,100 USD" in words and "no further" not in words


def test_a_unit_less_that_does_not_carry_the_peak_is_said_to_end_at_once(units: Content):
    words = line(units, "1u2m-A18")
    assert "the load peaks at 11.1 kW, which that does not carry: the outage ends at once, however large the storage" in words
    assert "Fails: " in words and "(10560 against 7680 VA)" in words


def test_an_array_is_weighed_by_cost_and_value_in_one_sum(array: Content):
    """Six modules more cost 2,520; the value is the energy more x 0.06 x 10 years; worse by the difference."""
    figures = {name: {found.name: found.value for found in figures_of(array.answered.context, named(array, name))} for name in ("1u0m-A12", "1u0m-A18")}
    more = figures["1u0m-A18"]["array energy used in a year"] - figures["1u0m-A12"]["array energy used in a year"]
    words = line(array, "1u0m-A18")
    assert f"{more:,.0f} kWh more of its energy used in a year, worth {0.6 * more:,.0f} USD" in words
    assert f"costs 2,520 USD more: {2520 - 0.6 * more:,.0f} USD worse in all" in words


def test_a_module_less_names_the_energy_the_hours_and_why_it_fails(units: Content):
    words = line(units, "2u1m-A18")
    assert "usable energy 39.2 to 29.4 kWh" in words and "costs 6,200 USD less. Fails: carries" in words


def test_of_many_arrays_the_nearest_sizes_are_spoken_of_each_with_its_best(array: Content):
    """Twelve further arrays of 13 to 18 modules, two of each size: four sizes nearest to 12, the better tilt of each."""
    winner = array.answer.winner
    plan = winner.candidate.array
    others = []
    for size in range(13, 19):
        for worse, used in enumerate((8000.0, 7000.0)):
            candidate = replace(winner.candidate, array=replace(plan, name=f"B{size}{'ab'[worse]}", strings=(size,)))
            others.append(replace(winner, candidate=candidate, lost=(Lost("year", 9000.0, used, 0.0, 0.0, 0.0),)))
    context = array.answered.context
    said = [words for words in step_words(context, (winner, *others), context.settings, winner) if words.startswith("Array ")]
    assert [words.split()[1] for words in said] == ["B13a", "B14a", "B15a", "B16a"]


def test_without_prices_no_money_is_spoken_of(storage: Content):
    bare = tuple(replace(found, bill=replace(found.bill, low=None, high=None, unpriced=("x",))) for found in storage.answered.results)
    context = storage.answered.context
    said = " ".join(step_words(context, bare, context.settings, bare[4]))
    assert "cost unknown (no price of x)" in said and "USD" not in said


def test_every_further_unit_is_listed_at_circuits_raceways_buses_and_accessories(storage: Content):
    (step,) = storage.unit_steps
    rows = {where: (before, after) for where, before, after in step.rows}
    assert step_title(step) == "From 1 to 2 units (1u0m-A18 to 2u0m-A18)"
    assert rows["circuit C1-2, BP to U2"] == ("-", "40 A, 8 AWG Cu THWN-2")
    assert rows["circuit C2, MP to ID"] == ("60 A, 6 AWG Cu THWN-2", "90 A, 2 AWG Cu THWN-2")
    assert rows["raceway R4, EMT"] == ("3/4 in", "1-1/4 in")
    assert rows["bus MP"][0].startswith("190 of 200 A") and rows["bus MP"][1].startswith("230 of 240 A") and rows["bus MP"][1].endswith("8 A left for sources")
    assert rows["panel.BP.bus (options.change)"] == ("as drawn", "200 A")
    assert rows["part unit-circuit"] == ("0", "1 at 900 to 1,300 USD each")


def test_a_step_that_the_rules_stop_says_so(storage: Content):
    from linecalc.options.records import Reason

    broken = tuple(
        replace(found, electrical=replace(found.electrical, fails=(Reason("bus", "MP", "too much"),))) if found.candidate.units == 2 else found for found in storage.answered.results
    )
    (step,) = unit_steps(storage.answered.context, broken, storage.answer.winner)
    assert ("fails", "-", "MP: too much") in step.rows


def test_differences_between_equal_studies_are_none(storage: Content):
    found = storage.answer.winner.electrical
    assert circuit_changes(found, found) == ([], []) and raceway_changes(found, found) == [] and circuit_changes(None, found) == ([], [])


def test_a_bus_that_was_not_determined_shows_no_number():
    assert bus_text(BusLoad("MP", "", None, None, None)) == "not determined"
    assert device_text(None) == "no device" and device_text(40.0) == "40 A"


@pytest.mark.parametrize(
    "name, numbers, value",
    [
        ("usable energy, new", "1 x 9.8 + 2 x 9.8", 29.4),
        ("usable energy, aged", "29.4 x 0.7", 20.58),
        ("continuous backup without sun", "min(7.6, 7.6)", 7.6),
        ("DC/AC ratio", "7.56 / 7.6", 7.56 / 7.6),
        ("array power usable with room in the storage", "7.6 + 15", 22.6),
        ("cost, least", "18 x 420 + 2 x 5600 + 1 x 9200 + 1 x 180 + 2 x 240 + 2 x 160", 28940.0),
        ("cost, middle", "(28,940 + 30,340) / 2", 29640.0),
    ],
)
def test_every_figure_of_the_first_choice_shows_how_it_comes_about(storage: Content, name: str, numbers: str, value: float):
    found = next(figure for figure in figures_of(storage.answered.context, storage.answer.winner) if figure.name == name)
    assert (found.numbers, found.value) == (numbers, pytest.approx(value)) and found.formula
    assert eval(numbers.replace(",", "") if "min" not in numbers else numbers, {"min": min}) if "x" not in numbers else True  # noqa: S307
    if "x" in numbers:
        assert eval(numbers.replace("x", "*")) == pytest.approx(value)  # noqa: S307


def test_what_candidates_are_ranked_by_is_cost_less_value(storage: Content):
    found = {figure.name: figure.value for figure in figures_of(storage.answered.context, storage.answer.winner)}
    assert found["what candidates are ranked by"] == pytest.approx(found["cost, middle"] - found["value of that energy"])
    assert found["value of that energy"] == pytest.approx(1.2 * found["array energy used in a year"])


def test_figures_of_what_cannot_be_built_are_none_and_rows_have_every_column(storage: Content):
    assert figures_of(storage.answered.context, replace(storage.answer.winner, plant=None)) == ()
    assert {len(row) for row in figures_rows(storage, storage.answer.winner)} == {5}


def test_small_words():
    assert (count(1, "unit"), count(2, "unit"), hour_span(17)) == ("1 unit", "2 units", "17 to 18 h")
