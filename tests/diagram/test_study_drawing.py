"""From a study to its drawing: the texts, odd input, every topology, and the browser's view of it."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest

from linecalc.diagram import draw, render_pdf, render_png, render_svg
from linecalc.diagram import scene_checks as checks
from linecalc.diagram.one_sheet import run_tags
from linecalc.diagram.plan import branches_of, nodes_of
from linecalc.diagram.scene import Outline, Scene, Symbol, Text, Wire
from linecalc.diagram.schedule import COLUMNS, merged_rows, schedule_rows
from linecalc.diagram.study_plan import plan_of
from linecalc.diagram.texts import KNOWN
from linecalc.project.read import read_project
from linecalc.study import study
from linecalc.variants import with_value, with_values
from tests.houses import BASE, studied

EXAMPLES = Path(__file__).parents[2] / "examples"
CLEAN = ("a", "b", "c")
ODD = 'quotes " \' <b>&amp;</b> # $x$ \U0001f600 שמש ' + "long" * 10


@pytest.fixture(scope="module")
def example_a():
    return study(read_project(EXAMPLES / "a.toml"))


def words_of(scene: Scene) -> str:
    return " ".join(line for text in scene.of(Text) for line in text.lines)


def faults(scenes) -> list[str]:
    return [fault for scene in scenes for fault in checks.all_faults(scene)]


@pytest.mark.parametrize("name", sorted(path.stem for path in EXAMPLES.glob("*.toml") if path.stem != "equipment"))
def test_every_example_is_drawn_without_a_fault(name):
    found = study(read_project(EXAMPLES / f"{name}.toml"))
    scenes = draw(found)
    assert faults(scenes) == []
    assert {tag for scene in scenes for tag in run_tags(scene)} == {c.tag for c in found.network.circuits}


@pytest.mark.parametrize("name", CLEAN)
def test_the_clean_examples_fit_on_one_or_two_sheets_with_nothing_cut(name):
    scenes = draw(study(read_project(EXAMPLES / f"{name}.toml")))
    assert len(scenes) <= {"a": 1, "b": 2, "c": 1}[name]
    assert "…" not in " ".join(words_of(scene) for scene in scenes)


def test_each_device_says_tag_mark_ratings_and_place(example_a):
    words = words_of(draw(example_a)[0])
    for said in ("MP (E) main panel", "200 A bus, 200 A main", "BP (N) backup subpanel", "125 A bus, main lugs",
                 "ID (N) isolation device", "garage, interior", "U1 (N) 7.6 kW inverter-battery unit", "S1 (N) 9 x mod-420"):
        assert said.split()[0] in words and said.replace("inverter-battery unit", "") .strip() in words, said


def test_a_bus_shows_its_method_with_the_arithmetic_of_the_study(example_a):
    words = words_of(draw(example_a)[0])
    for bus in example_a.sized.buses:
        assert example_a.book.cite(bus.used.key).section in words
    assert "40 A + 200 A = 240 A <= 1.2 x 200 A = 240 A" in words


def test_a_supply_side_connection_shows_its_arithmetic_at_the_tap():
    found = study(read_project(EXAMPLES / "c.toml"))
    scene = draw(found)[0]
    said = " ".join(line for text in scene.of(Text) if text.subject == found.sized.supply_side.junction for line in text.lines)
    assert "Supply side 705.11:" in said and "<=" in said


def test_a_failing_bus_shows_that_the_demand_is_above_the_limit():
    found = study(read_project(EXAMPLES / "d.toml"))
    words = words_of(draw(found)[0])
    assert " > 1.2 x 225 A" in words and "THIS DESIGN FAILS CHECKS" in words


def test_missing_inputs_are_said_on_the_drawing():
    assert "CHECKS COULD NOT BE MADE" in words_of(draw(study(read_project(EXAMPLES / "missing.toml")))[0])


def test_the_schedule_has_a_row_for_every_circuit_with_the_figures_of_the_study(example_a):
    rows = {row[0]: row for row in schedule_rows(example_a)}
    assert set(rows) == {circuit.tag for circuit in example_a.sized.circuits}
    for circuit in example_a.sized.circuits:
        row = dict(zip((column.heading for column in COLUMNS), rows[circuit.tag]))
        assert circuit.conductor.text in row["Conductors"]
        assert row["Length"] == f"{circuit.circuit.length_ft:g} ft"


def test_rows_that_differ_in_run_and_ends_only_are_put_together():
    rows = (("C1", "A - B", "x"), ("C2", "A - C", "x"), ("C3", "A - D", "y"))
    assert merged_rows(rows) == (("C1, C2", "A - B, C", "x"), ("C3", "A - D", "y"))
    many = tuple((f"C{n}", f"A - B{n}", "x") for n in range(9))
    assert merged_rows(many) == ((", ".join(f"C{n}" for n in range(9)), "A - B0 to B8", "x"),)


def test_only_abbreviations_that_are_used_are_listed(example_a):
    listed = {short for short, _ in plan_of(example_a).abbreviations}
    assert {"AHJ", "AWG", "EGC", "Voc"} <= listed
    assert not {"LRA", "MOCP", "SSBJ"} & listed
    assert listed <= {short for short, _ in KNOWN}


def test_loads_without_a_circuit_hang_on_their_panel_and_every_node_is_in_the_plan(example_a):
    plan = plan_of(example_a)
    tags = {node.tag for node in nodes_of(plan.root)}
    assert tags == set(example_a.network.nodes)
    runs = [branch.run_tag for branch in branches_of(plan.root) if branch.run_tag]
    assert sorted(runs) == sorted(circuit.tag for circuit in example_a.network.circuits)


def test_neutral_bond_and_electrode_are_drawn_where_the_study_has_them(example_a):
    scene = draw(example_a)[0]
    bonds = {item.subject for item in scene.of(Symbol) if item.kind.startswith("neutral bond")} - {""}
    electrodes = {item.subject for item in scene.of(Symbol) if item.kind == "electrode"} - {""}
    assert bonds == {"MP"}
    assert electrodes == {point.tag for point in example_a.sized.grounding.points}
    point = example_a.sized.grounding.points[0]
    assert f"GEC {point.electrode.size} {point.electrode.material}" in words_of(scene)


def test_what_exists_is_marked_in_text_and_in_line(example_a):
    scene = draw(example_a)[0]
    main = next(item for item in scene.of(Outline) if item.kind == "enclosure" and item.subject == "MP")
    unit = next(item for item in scene.of(Outline) if item.kind == "enclosure" and item.subject == "U1")
    assert main.existing and not unit.existing
    assert all(wire.existing for wire in scene.of(Wire) if wire.subject == "C4")


def test_odd_text_neither_breaks_nor_overflows_and_is_noted():
    paths = ("project.title", "project.address", "project.scope", "panel.MP.description", "panel.MP.location",
             "unit.U1.location", "load.HOUSE.description", "string.S1.location", "junction.JB1.description")
    found = with_values(read_project(EXAMPLES / "a.toml"), [(path, ODD) for path in paths])
    scenes = draw(study(found))
    assert faults(scenes) == []
    assert any("U+1F600" in note for note in scenes[0].notes)
    for scene in scenes:
        assert render_svg(scene).startswith("<?xml")
        assert render_png(scene, 50).startswith(b"\x89PNG")
        assert render_pdf(scene).startswith(b"%PDF")


def test_text_of_four_hundred_characters_is_cut_short_rather_than_lost_or_overflowing():
    found = read_project(EXAMPLES / "a.toml")
    for path in ("panel.BP.description", "unit.U1.location", "string.S1.description", "load.BACKUP.description"):
        found = with_value(found, path, "word " * 79)
    scenes = draw(study(found))
    assert faults(scenes) == []


def test_a_conductor_is_tapped_inside_its_box_and_the_tap_leaves_it_from_below():
    scene = draw(study(read_project(EXAMPLES / "c.toml")))[0]
    box = next(item.box for item in scene.of(Symbol) if item.kind == "tap box" and item.subject == "TB")
    tap = next(wire for wire in scene.of(Wire) if wire.subject == "C2" and wire.points[0][1] == box.y1)
    assert tap.points[0][0] == pytest.approx(box.centre()[0])
    ahead = next(wire for wire in scene.of(Wire) if wire.subject == "C4" and wire.points[0][0] == box.x1)
    assert ahead.points[0][1] == pytest.approx(box.centre()[1], abs=0.002)
    assert ahead.existing and not tap.existing


def without(base: dict, *paths: str) -> dict:
    """The base with some keys taken out."""
    found = copy.deepcopy(base)
    for path in paths:
        *way, key = path.split(".")
        table = found
        for name in way:
            table = table[name]
        del table[key]
    return found


def test_a_generator_reaches_its_transfer_switch_from_below_and_nothing_else():
    found = studied({
        "generator.G1": {"power": "18 kW", "current": "75 A", "device": "80 A", "start": "automatic"},
        "transfer.TS": {"rating": "100 A", "start": "automatic", "switches_neutral": False},
        "panel.EP": {"bus": "100 A", "main": "lugs"},
        "load.L9": {"panel": "EP", "kind": "appliance", "power": "3 kW", "continuous": False},
        "circuit.C10": {"from": "MP", "to": "TS", "path": ["R2"], "breaker": "80 A"},
        "circuit.C11": {"from": "TS", "to": "EP", "path": ["R2"]},
        "circuit.C12": {"from": "G1", "to": "TS", "path": ["R2"]},
    })
    scenes = draw(found)
    assert faults(scenes) == []
    symbols = {item.subject: item for item in scenes[0].of(Symbol) if item.kind in ("transfer switch", "generator")}
    wire = next(w for w in scenes[0].of(Wire) if w.subject == "C12" and w.points[0][1] == symbols["TS"].box.y1)
    assert wire.points[-1][1] == pytest.approx(symbols["G1"].box.centre()[1], abs=0.002)


def test_a_unit_with_built_in_transfer_shows_the_transfer_ahead_of_unit_and_backed_up_panel():
    base = without(BASE, "isolation", "circuit.C2", "circuit.C3", "circuit.C1", "section.R4")
    base["circuit"]["C1"] = {"from": "MP", "to": "U1", "path": ["R2"], "breaker": "50 A", "port": "grid"}
    base["circuit"]["C5"] = {"from": "U1", "to": "BP", "path": ["R3"], "port": "backup"}
    scenes = draw(studied(base=base))
    assert faults(scenes) == []
    assert "U1 (N) transfer" in words_of(scenes[0]) and "BACKED-UP PART (behind U1)" in words_of(scenes[0])
    assert [s.kind for s in scenes[0].of(Symbol) if s.subject == "U1"].count("isolation device") == 1


def test_a_stand_alone_system_starts_at_its_panel():
    base = without(BASE, "isolation", "service", "backup", "panel.MP", "load.HOUSE", "circuit.C2", "circuit.C3",
                   "circuit.C4", "section.R3", "section.R4", "section.R5")
    base["panel"]["BP"]["neutral_bond"] = True
    scenes = draw(studied(base=base))
    assert faults(scenes) == []
    assert not [item for item in scenes[0].of(Symbol) if item.kind in ("utility", "meter")]
    assert "Stand-alone" in words_of(scenes[0])
