"""The three studied houses have different right answers, and each follows from its numbers."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest

from linecalc.options.answer import clipped_percent, pareto, rank, used_a_year_kwh
from linecalc.options.as_json import options_json
from linecalc.options.build import candidate_project
from linecalc.options.charts import charge_chart, pareto_chart, starts_chart
from linecalc.options.content import COLUMNS, Content
from linecalc.options.html import options_html
from linecalc.options.records import Result
from linecalc.options.run import run_options
from linecalc.options.text import options_csv, options_markdown, options_text
from linecalc.options.wall import layout_drawing
from linecalc.project.read import read_text
from linecalc.study import study

EXAMPLES = Path(__file__).parents[2] / "examples"


def result(content: Content, name: str) -> Result:
    """The result of one candidate."""
    return next(found for found in content.answered.results if found.candidate.name == name)


def winner(content: Content) -> Result:
    """The first choice."""
    assert content.answer.winner is not None
    return content.answer.winner


def test_where_power_suffices_one_unit_with_storage_modules_is_the_answer(storage: Content):
    assert winner(storage).candidate.name == "1u2m-A18"
    assert all(found.carried for found in result(storage, "1u0m-A18").power)
    assert "carries" in result(storage, "1u1m-A18").reasons[0].text


def test_a_second_unit_gives_the_same_energy_for_more_and_needs_a_circuit(storage: Content):
    unit, module = result(storage, "2u1m-A18"), winner(storage)
    assert unit.plant.usable_kwh == pytest.approx(module.plant.usable_kwh)
    assert unit.bill.middle > module.bill.middle
    line = next(line for line in storage.words if "2u1m-A18" in line)
    assert "new circuit: C1-2" in line and "so only its energy helps: a storage module gives the same 9.8 kWh for 4,580 USD less and needs no new circuit" in line


def test_where_the_peak_is_above_one_unit_two_units_are_the_answer(units: Content):
    assert winner(units).candidate.units == 2
    one = result(units, "1u2m-A18")
    assert one.least_hours("none") == 0.0
    assert any(reason.rule == "backup_power" for reason in one.reasons)
    assert max(found.peak_w for found in one.power) > one.plant.firm_w


def test_where_export_is_limited_and_outages_are_short_the_small_array_without_modules_is_the_answer(array: Content):
    assert winner(array).candidate.name == "1u0m-A12"
    large, small = result(array, "1u0m-A26"), winner(array)
    assert sum(found.clipped_kwh for found in large.lost) > 20 * sum(found.clipped_kwh for found in small.lost)


def test_without_the_limit_on_export_the_array_of_18_would_be_chosen(array: Content):
    from linecalc.variants import with_values

    free = with_values(array.answered.context.base, [("service.export_limit", None)])
    found = run_options(free, workers=1)
    passing = [one for one in found.results if not one.reasons]
    assert min(passing, key=lambda one: rank(one, found.context.settings)).candidate.array.name != "A12"


def test_the_balance_of_every_outage_closes(storage: Content):
    assert max(hours.residual_kwh for found in storage.answered.results for hours in found.hours) <= 1e-9


def test_new_storage_never_carries_less_than_aged(units: Content):
    for found in units.answered.results:
        for aged in (hours for hours in found.hours if hours.aged):
            new = next(hours for hours in found.hours if not hours.aged and (hours.season, hours.sun) == (aged.season, aged.sun))
            assert new.least_h >= aged.least_h - 1e-9


def test_no_candidate_of_the_pareto_front_is_beaten_by_another(storage: Content):
    front = storage.answer.front
    assert winner(storage) in front
    assert pareto(front, storage.answered.context.settings) == front


def test_the_first_choice_written_as_a_file_passes_every_rule(units: Content):
    from linecalc.options.toml_write import project_toml

    project = candidate_project(units.answered.context, winner(units).candidate)
    found = study(read_text(project_toml(project, "chosen")))
    assert not [check for check in found.checks if check.level.value in ("fail", "not checked")]


def test_two_workers_give_the_same_bytes_as_one(units: Content):
    from linecalc.options.content import content_of

    other = content_of(run_options(units.answered.context.base, workers=2), 1)
    assert options_json(other) == options_json(units)


def test_progress_counts_every_candidate(storage: Content):
    done: list[int] = []
    run_options(storage.answered.context.base, workers=1, progress=done.append)
    assert sum(done) == len(storage.answered.results)


def test_csv_has_a_line_a_candidate_and_every_column(storage: Content):
    rows = list(csv.DictReader(io.StringIO(options_csv(storage))))
    assert len(rows) == len(storage.answered.results)
    assert tuple(rows[0]) == COLUMNS
    assert float(rows[0]["usable_kwh"]) == pytest.approx(9.8)


def test_json_names_its_schema_and_has_no_missing_keys(storage: Content):
    document = json.loads(options_json(storage))
    assert document["schema"] == "linecalc/options/1"
    assert document["winner"] == "1u2m-A18"
    assert len({frozenset(candidate) for candidate in document["candidates"]}) == 1
    assert sum(document["summary"].values()) == len(document["candidates"])


@pytest.mark.parametrize("render", [options_text, options_markdown, options_html, options_json])
def test_no_format_claims_an_approval_and_each_carries_the_caution(storage: Content, render):
    text = render(storage)
    assert not re.search(r"\b(compliant|approved)\b", text, re.IGNORECASE)
    assert "Calculation aid only" in text


def test_html_needs_no_network_and_no_script_and_holds_four_charts(storage: Content):
    page = options_html(storage)
    assert "<script" not in page and "http://" not in page.replace("http://www.w3.org/2000/svg", "") and "https://" not in page
    assert page.count("<svg") == 4


def test_user_text_is_escaped_in_the_page(storage: Content):
    from dataclasses import replace

    page = options_html(replace(storage, title='<img src=x onerror="1">'))
    assert "<img" not in page


def test_charts_stay_within_their_frame(storage: Content):
    found = winner(storage)
    for chart in (charge_chart(storage, found), starts_chart(storage, found), pareto_chart(storage), layout_drawing(found.layout, storage.answered.context.options.place)):
        width, height = (float(part) for part in re.search(r'viewBox="0 0 (\d+) (\d+)"', chart).groups())
        for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", " ".join(re.findall(r'points="([^"]*)"', chart))):
            assert 0 <= float(x) <= width and 0 <= float(y) <= height


def test_every_assumption_has_a_value_and_a_reason(storage: Content):
    assert storage.assumptions
    assert all(found.value and found.reason for found in storage.assumptions)


def test_the_first_choice_written_as_a_file_becomes_a_permit_set_unchanged(units: Content, tmp_path):
    from linecalc.cli import run
    from linecalc.options.toml_write import project_toml

    file = tmp_path / "chosen.toml"
    file.write_text(project_toml(candidate_project(units.answered.context, winner(units).candidate), "chosen"), encoding="utf-8")
    assert run(["permit", str(file), "-o", str(tmp_path / "set.pdf")]) == 0
    assert (tmp_path / "set.pdf").read_bytes().startswith(b"%PDF")


def test_what_the_layout_says_stands_in_the_written_project(units: Content):
    found = winner(units)
    project = candidate_project(units.answered.context, found.candidate)
    assert {unit.mounting for unit in project.unit.values()} == {"floor"}
    assert {tag: item.distance.value for tag, item in project.storage.items()} == pytest.approx({tag: round(way, 2) for tag, way in found.layout.ways_ft})
    assert all(item.spacing.value == pytest.approx(12.0) for item in (*project.unit.values(), *project.storage.values()))


def test_the_argued_text_has_the_hours_losses_and_costs_of_the_studies(storage: Content, units: Content, array: Content):
    text = (EXAMPLES / "options.md").read_text("utf-8")
    hours = [(storage, name) for name in ("1u0m-A18", "1u1m-A18", "1u2m-A18", "2u1m-A18")] + [(units, "2u2m-A18"), (units, "2u1m-A18"), (array, "1u0m-A12")]
    assert all(f"{result(content, name).least_hours('none'):.1f} h" in text for content, name in hours)
    assert all(f"{clipped_percent(result(array, name)):.1f} %" in text for name in ("1u0m-A18", "1u0m-A26"))
    worth = 0.6 * (used_a_year_kwh(result(array, "1u0m-A18")) - used_a_year_kwh(result(array, "1u0m-A12")))
    assert f"bring energy worth {worth:,.0f} USD" in text
    assert "about 4,600 USD more" in text and result(storage, "2u1m-A18").bill.middle - winner(storage).bill.middle == pytest.approx(4580.0)
