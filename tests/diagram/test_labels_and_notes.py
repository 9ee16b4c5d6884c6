"""What a reviewer looks for beside each thing, and in the notes of the drawing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from linecalc.diagram import scene_checks as checks
from linecalc.diagram.plan import branches_of
from linecalc.diagram.scene import Symbol, Wire
from linecalc.diagram.texts import abbreviations
from linecalc.report.checklist_things import production_meter
from linecalc.term import value_of
from tests.diagram.cached import block_of, drawn, label_of, node_of, planned, studied, words_of

A, B, C, D = "examples/a.toml", "examples/b.toml", "examples/c.toml", "examples/d.toml"
GENERATOR, WIRING, TAP = (f"tests/projects/{name}.toml" for name in ("generator", "wiring", "tap"))
SOURCES = "SOURCES AND STORAGE"


def test_every_device_with_a_stated_interrupting_rating_shows_it():
    for tag, rating in (("MP", "22 kA AIC"), ("BP", "10 kA AIC"), ("ID", "22 kA AIC")):
        assert rating in label_of(planned(A), tag)
    assert "100 kA AIC" in label_of(planned(C), "DS")
    assert "AIC" not in label_of(planned(TAP), "SD")
    changed = planned(GENERATOR, ("generator.G1.interrupting", "10 kA"), ("transfer.T1.interrupting", "14 kA"))
    assert "10 kA AIC" in label_of(changed, "G1") and "14 kA AIC" in label_of(changed, "T1")


def test_a_series_rating_names_the_device_it_is_with():
    found = planned(A, ("panel.BP.series_rating", "22 kA"), ("panel.BP.series_with", "MP"))
    assert "22 kA series rated with MP" in label_of(found, "BP")


def test_the_interrupting_rating_of_a_breaker_stands_at_the_breaker():
    assert "60 A, 10 kA AIC" in words_of(drawn(A, ("circuit.C2.interrupting", "10 kA")))


def test_panels_say_on_which_side_of_the_isolation_device_they_are():
    assert "ahead of ID" in label_of(planned(A), "MP")
    assert "ahead of" not in label_of(planned(A), "BP")
    assert "ahead of" not in label_of(planned(C), "MP")
    assert node_of(planned(A), "ID").boundary == "BACKED-UP PART (behind ID)"


def test_an_isolation_device_in_the_meter_socket_says_so():
    assert "in the meter socket" in label_of(planned("tests/projects/meter_socket.toml"), "ID")
    assert "meter socket" not in label_of(planned(A), "ID")


def test_a_disconnect_says_its_purposes_and_features_once():
    found = label_of(planned(C), "DS")
    for said in ("60 A, 50 A fuse", "utility disconnect", "4 ft from the meter", "visible break", "lockable", "west wall, outdoors"):
        assert found.count(said) == 1, said


def test_a_switch_without_fuses_says_so_and_a_dc_switch_its_voltage():
    changed = planned(TAP, ("disconnect.DS.device_kind", "none"), ("disconnect.DS.device", "none"), ("disconnect.DS.dc_voltage", "600 V"))
    assert "60 A, no fuses, 600 V DC" in label_of(changed, "DS")


def test_an_enclosed_breaker_of_the_rating_of_its_enclosure_says_it_once():
    assert " / 200 A breaker, 22 kA AIC / " in label_of(planned(B), "SD")
    assert "200 A, 150 A breaker" in label_of(planned(B, ("disconnect.SD.device", "150 A")), "SD")


def test_meter_and_service_say_number_wires_and_place_once():
    utility, meter = planned(A).root.stack
    assert utility.label[1] == "240 V, 1-phase, 3-wire"
    assert meter.label == ("Meter (E)", "no. EX-east-0001", "200 A service", "east wall, outdoors")


def test_a_box_has_its_description_in_its_head_and_no_place_that_this_says_already():
    assert node_of(planned(A), "JB1").label == ("JB1 (N) roof box, string 1",)
    assert node_of(planned(TAP), "J").label[0] == "J (N) junction box"


def test_a_calculated_load_bears_no_mark_and_looks_like_its_panel():
    house = node_of(planned(A), "HOUSE")
    assert house.label[0] == "HOUSE calculated load" and house.existing
    assert not node_of(planned(A), "BACKUP").existing
    (scene,) = drawn(A)
    assert all(wire.existing for wire in scene.of(Wire) if wire.subject == "HOUSE")


def test_existing_electrodes_and_bonds_are_drawn_existing_and_marked():
    (scene,) = drawn(A)
    drawn_existing = {item.kind: item.existing for item in scene.of(Symbol) if item.subject == "MP"}
    assert drawn_existing["electrode"] and drawn_existing["neutral bond"]
    assert "to (E) concrete-encased electrode, rod" in (node_of(planned(A), "MP").electrode or "")
    (scene,) = drawn(C)
    new = {item.kind: item.existing for item in scene.of(Symbol) if item.subject == "DS"}
    assert new["electrode"] and not new["neutral bond below"]


def test_the_electrode_text_counts_equal_electrodes_and_names_the_kind_of_jumper():
    assert node_of(planned(C), "DS").electrode == "GEC 8 AWG Cu to (E) 2 rods; MBJ 8 AWG Cu"
    assert "kinds not stated" in (node_of(planned(TAP), "SD").electrode or "")
    assert node_of(planned("tests/projects/detached.toml"), "GP").electrode == "GEC 8 AWG Cu to rod"


def test_a_neutral_bond_below_a_disconnect_is_wired_to_it():
    (scene,) = drawn(C)
    box = next(item.box for item in scene.of(Symbol) if item.kind == "fused disconnect" and item.subject)
    bond = next(item.box for item in scene.of(Symbol) if item.kind == "neutral bond below" and item.subject)
    wires = [wire.points for wire in scene.of(Wire) if wire.subject == "DS" and wire.role == "ground"]
    assert any(points[0][1] == pytest.approx(box.y1, abs=0.002) and points[-1][1] == pytest.approx(bond.y0, abs=0.002) for points in wires)


def test_storage_modules_on_a_factory_harness_say_so():
    assert "factory harness" in label_of(planned(B), "U1-B1")
    assert "harness" not in label_of(planned("tests/projects/storage_circuit.toml"), "B1")


def test_the_load_side_note_names_each_source_breaker_and_its_place_on_the_bus():
    assert "Load-side interconnection: C1 40 A in BP, C2 60 A in MP, opposite end of the bus." in block_of(planned(A), SOURCES)
    assert "tapped at J" in block_of(planned(TAP), SOURCES)


def test_the_supply_side_note_names_where_the_conductors_join_and_what_they_are_ahead_of():
    assert "Supply-side interconnection: joined at TB, ahead of MP." in block_of(planned(C), SOURCES)


def test_a_power_control_is_named_beside_the_bus_it_covers_and_in_the_notes():
    assert "power control set to 32 A" in label_of(planned(WIRING), "MP")
    assert "power control" not in label_of(planned(WIRING), "BP")
    assert "Power control setting 32 A" in block_of(planned(WIRING), SOURCES)


def test_a_generator_note_says_that_no_source_runs_beside_it():
    note = block_of(planned(GENERATOR), SOURCES)
    assert "G1 supplies through T1 only; PV and storage stay on the utility side" in note
    assert "neutral not bonded" in label_of(planned(GENERATOR), "G1")


def test_the_array_is_counted_by_model_with_its_power_at_standard_test_conditions():
    watts = sum(value_of(string.power_w) for string in studied(D).sized.strings)
    assert watts == pytest.approx(38 * 420 + 11 * 560)
    assert "PV array: 38 x mod-420 (420 W), 11 x mod-560 (560 W); 22.12 kW DC" in block_of(planned(D), SOURCES)


def test_facts_of_the_project_stand_in_the_notes_and_nothing_stands_there_without_them():
    note = block_of(planned(A), SOURCES)
    for said in ("Metering: one net meter", "Monitoring: current transformers", "Interlocks: ID closes only", "UL 2703"):
        assert said in note
    bare = block_of(planned(WIRING), SOURCES)
    assert not any(word in bare for word in ("Metering", "Monitoring", "Interlocks"))


def test_a_design_temperature_that_is_not_stated_is_said_to_be_missing():
    assert "Design temperatures: lowest -14 °C, highest 36 °C." in block_of(planned(A), "NOTES")
    assert "lowest NOT STATED, highest 36 °C." in block_of(planned(A, ("site.low_temperature", None)), "NOTES")


def test_the_condition_of_existing_panels_is_said_or_said_to_be_missing():
    assert "Existing panels: MP single bus, no recall known (invented)." in block_of(planned(A), "NOTES")
    assert "MP condition not stated; SP condition not stated" in block_of(planned(D), "NOTES")
    assert "Existing panels" not in block_of(planned(TAP), "NOTES")


def test_grounding_conductors_are_said_to_be_in_every_run_though_not_drawn():
    assert "Each run has the EGC of the schedule; EGCs are not drawn." in block_of(planned(B), "NOTES")


def test_the_modes_give_the_service_current_of_the_study():
    modes = block_of(planned(A), "OPERATING MODES")
    assert "Export: no loads, every source at its rating: C4 32 A." in modes
    assert "Island, utility lost: ID open, U1 carries the backed-up part." in modes
    assert "transfer of U1 open" in block_of(planned("tests/projects/built_in_transfer.toml"), "OPERATING MODES")


def test_the_tag_of_a_thing_is_no_abbreviation():
    plan = planned(B)
    assert node_of(plan, "AC").label[0] == "AC (N) four-ton air conditioner"
    silent = replace(plan, root=node_of(plan, "AC"), schedule=replace(plan.schedule, rows=()), blocks=())
    assert {"AC", "EV"} & set(dict(abbreviations(silent))) == set()
    assert {"AC", "GEC", "SPD"} <= set(dict(plan.abbreviations))


METER = ("circuit.C1.meter", "production meter, revenue grade (invented)")


def test_a_meter_stated_in_a_run_stands_in_its_wire_before_the_thing_it_leads_to():
    scenes = drawn(A, METER)
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []
    (meter,) = [item for scene in scenes for item in scene.of(Symbol) if item.kind == "meter" and item.subject == "C1"]
    (unit,) = [item for scene in scenes for item in scene.of(Symbol) if item.kind == "inverter" and item.subject == "U1"]
    assert meter.box.x1 < unit.box.x0 and meter.box.centre()[1] == pytest.approx(unit.box.centre()[1], abs=0.002)
    assert label_of(planned(A, METER), "C1") == "C1 (N) meter / production meter, revenue grade (invented)"


def test_loads_between_a_production_meter_and_its_source_are_found_by_the_checklist():
    assert production_meter(studied(A, METER)).holds
    found = production_meter(studied(A, ("circuit.C2.meter", "production meter")))
    assert not found.holds and "BACKUP behind the meter in C2" in found.reason
    assert "circuit.TAG.meter" in production_meter(studied(A)).reason


def test_a_device_of_one_pole_is_marked_and_the_others_are_said_to_have_two():
    changes = (("load.AC.voltage", "120 V"), ("load.AC.legs", "L1"))
    branch = next(branch for branch in branches_of(planned(B, *changes).root) if branch.run_tag == "C7")
    assert branch.rating.endswith(" 1P")
    assert not any("1P" in branch.rating for branch in branches_of(planned(B).root))
    assert "two-pole unless marked 1P" in block_of(planned(B), "NOTES")
