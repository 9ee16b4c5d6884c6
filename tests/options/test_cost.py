"""The bill of materials: parts by kind, mounting, stack and way of the harness; the budget."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from linecalc.options.content import Content
from linecalc.options.cost import bill_of
from linecalc.options.house import project_of
from linecalc.options.records import Bill, Box, Candidate, Layout, Result, Verdict
from linecalc.options.run import judged
from linecalc.project.options_model import Accessory, Options
from linecalc.project.read import read_project
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
BASE = read_project(EXAMPLES / "options_storage.toml")


def named(content: Content, name: str) -> Result:
    """The result of one candidate."""
    return next(found for found in content.answered.results if found.candidate.name == name)


def bill(content: Content, name: str, accessory: dict[str, dict], layout: Layout | None = None) -> dict[str, int]:
    """Counts of the accessories of a candidate."""
    found = named(content, name)
    options = Options.model_validate({"accessory": accessory})
    base = BASE.model_copy(update={"options": options})
    project = project_of(BASE, found.candidate, found.layout)
    parts = bill_of(options, base, project, found.candidate, layout or found.layout).parts
    return {part.item: part.count for part in parts if part.item in accessory}


def test_the_bill_counts_parts_and_harnesses_by_their_way(storage: Content):
    found = named(storage, "2u1m-A18").bill
    count = {part.item: part.count for part in found.parts}
    assert count == {"mod-420": 18, "store-104": 1, "unit-76": 2, "mount-kit": 2, "stacking-kit": 1, "harness-short": 1, "unit-circuit": 1}
    assert found.low == 18 * 420 + 5600 + 2 * 9200 + 2 * 180 + 240 + 160 + 900
    assert next(part for part in found.parts if part.item == "mount-kit").order_with == "unit-76"


@pytest.mark.parametrize(
    "per, count", [("project", 1), ("unit", 2), ("added unit", 1), ("storage module", 3), ("pv module", 18), ("string", 2), ("stacked module", None)]
)
def test_an_accessory_is_counted_by_what_it_goes_with(storage: Content, per: str, count: int | None):
    assert bill(storage, "2u3m-A18", {"part": {"price": 1, "per": per}}).get("part") == count


def test_a_kit_for_one_mounting_is_counted_for_the_boxes_that_have_it(storage: Content):
    found = named(storage, "2u1m-A18").layout
    hung = replace(found, boxes=tuple(replace(box, mounting="wall") if box.tag == "U2" else box for box in found.boxes))
    kits = {"wall-kit": {"price": 1, "per": "unit", "mounting": "wall"}, "floor-kit": {"price": 1, "per": "unit", "mounting": "floor"}}
    assert bill(storage, "2u1m-A18", kits) == {"floor-kit": 2}
    assert bill(storage, "2u1m-A18", kits, hung) == {"wall-kit": 1, "floor-kit": 1}


def test_a_stacking_kit_is_bought_for_every_module_that_stands_on_another(storage: Content):
    found = replace(named(storage, "1u2m-A18").layout, stacked=1)
    assert bill(storage, "1u2m-A18", {"kit": {"price": 1, "per": "stacked module", "stack": 2}}, found) == {"kit": 1}


@pytest.mark.parametrize("way, parts", [("3.9 ft", {"short": 2}), ("4 ft", {"short": 2}), ("4.1 ft", {"long": 2}), ("6.1 ft", {})])
def test_the_shortest_harness_that_reaches_is_ordered(way: str, parts: dict[str, int]):
    accessory = {"short": {"price": 160, "up_to": "4 ft"}, "long": {"price": 230, "up_to": "6 ft"}}
    options = Options.model_validate({"accessory": accessory, "storage_module": {"equipment": "store-104", "harness": "factory", "distance": [way, way]}})
    base = BASE.model_copy(update={"options": options})
    candidate = Candidate(1, (2,), _array())
    found = bill_of(options, base, project_of(base, candidate), candidate, None)
    assert {part.item: part.count for part in found.parts if part.item in accessory} == parts


def _array():
    from linecalc.options.candidates import arrays_of

    return arrays_of(BASE, [])[0]


def test_what_is_there_already_is_not_bought():
    candidate = Candidate(1, (0,), _array())
    project = with_values(project_of(BASE, candidate), [("unit.U1.existing", True)])
    assert "unit-76" not in {part.item for part in bill_of(BASE.options, BASE, project, candidate, None).parts}


def test_a_price_that_is_missing_leaves_the_cost_unknown_and_a_budget_unsettled(storage: Content):
    found = named(storage, "1u2m-A18")
    options = BASE.options.model_copy(update={"price": {name: price for name, price in BASE.options.price.items() if name != "store-104"}})
    unpriced = bill_of(options, BASE, project_of(BASE, found.candidate, found.layout), found.candidate, found.layout)
    assert unpriced.middle is None and unpriced.unpriced == ("store-104",)
    again = _with_budget(storage, replace(found, bill=unpriced), 50_000.0)
    assert [reason.message for reason in again.unsettled if reason.rule == "budget"] == ["no price of store-104"]


def _with_budget(content: Content, result: Result, budget: float) -> Result:
    context = content.answered.context
    limited = replace(context, options=context.options.model_copy(update={"budget": budget}))
    return judged(limited, replace(content.answered.built(result), bill=result.bill), result, context.settings)


def test_a_budget_within_the_price_range_is_unsettled_and_below_it_fails(storage: Content):
    found = named(storage, "1u2m-A18")
    low, high = found.bill.low, found.bill.high
    verdicts = [_with_budget(storage, found, budget).verdict for budget in (high, (low + high) / 2, low - 1)]
    assert verdicts == [Verdict.PASSES, Verdict.UNSETTLED, Verdict.FAILS]


def test_a_bill_without_parts_costs_nothing_and_its_middle_is_half_way():
    assert Bill((), 0.0, 0.0, ()).middle == 0.0
    assert Bill((), 100.0, 300.0, ()).middle == 200.0


def test_an_accessory_must_name_how_many_it_stacks_within_reason():
    with pytest.raises(ValueError):
        Accessory.model_validate({"price": 1, "stack": 1})


def test_mounting_wall_and_distances_of_the_layout_stand_in_the_candidates_project(storage: Content):
    place = {"garage-wall": {"width": "26 ft", "height": "9 ft", "depth_in_front": "12 ft", "mass_max": "300 kg", "obstacle": {"door": {"kind": "door", "left": "21 ft", "width": "36 in"}}}}
    options = BASE.options.model_copy(update={"place": Options.model_validate({"place": place}).place})
    base = BASE.model_copy(update={"options": options})
    box = Box("U1", "garage-wall", 160.0, 18.0, 30.0, 44.0, "unit", 9.0, "wall")
    layout = Layout((box,), (), 30.0, "wall", (), ())
    unit = project_of(base, Candidate(1, (0,), _array()), layout).unit["U1"]
    assert (unit.mounting, unit.wall_capacity.as_written) == ("wall", "250 kg"), "what the project says of the wall is kept"
    assert unit.door_distance.value == pytest.approx(21 * 12 - 190)
