"""Surge protection, rapid shutdown, emergency switches and module electronics are seen on the drawing, or said to be missing."""

from __future__ import annotations

import pytest

from linecalc.diagram import scene_checks as checks
from linecalc.diagram.plan import Feed, Style, branches_of, nodes_of
from linecalc.diagram.scene import Box, Wire
from tests.diagram.cached import block_of, drawn, label_of, node_of, planned, studied, symbols_of, words_of

A, B, C = "examples/a.toml", "examples/b.toml", "examples/c.toml"
WIRING = "tests/projects/wiring.toml"
SURGE = (("required.surge_protection", "type 2, 50 kA (invented)"), ("required.surge_protection_at", "MP"))
SOURCES = "SOURCES AND STORAGE"


def test_a_surge_protective_device_on_a_panel_is_a_branch_of_its_bus_to_ground():
    scenes = drawn(A, *SURGE)
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []
    (device,) = symbols_of(scenes, "surge protection")
    (bus,) = [item for item in symbols_of(scenes, "bus") if item.subject == "MP"]
    (wire,) = [item for item in scenes[0].of(Wire) if item.subject == "SPD"]
    assert wire.points[0][0] == pytest.approx(bus.box.x1, abs=0.002)
    assert wire.points[-1] == pytest.approx((device.box.x0, device.box.centre()[1]), abs=0.002)
    assert "SPD (N) surge protective device" in words_of(scenes)
    assert "type 2, 50 kA (invented)" in words_of(scenes)


def test_behind_a_disconnect_it_hangs_on_the_wire_that_goes_on():
    tap = next(node for node in nodes_of(planned(B).root) if node.style is Style.TAP and node.tag == "SD")
    assert [branch.node.tag for branch in tap.branches] == ["SPD", "ID"]
    assert tap.feed is Feed.LAST
    (device,) = symbols_of(drawn(B), "surge protection")
    (disconnect,) = symbols_of(drawn(B), "breaker enclosure")
    assert device.box.x0 > disconnect.box.x1 and device.box.y1 < disconnect.box.centre()[1]


def test_it_stands_in_the_legend_and_among_the_abbreviations_only_where_there_is_one():
    assert ("SPD", "surge protective device") in planned(B).abbreviations
    assert "surge protection" in words_of(drawn(B))
    assert "SPD" not in dict(planned(A).abbreviations)
    assert "surge" not in words_of(drawn(A))


def test_one_that_exists_already_is_marked_and_drawn_so():
    plan = planned(A, *SURGE, ("required.surge_protection_existing", True))
    node = node_of(plan, "SPD")
    assert node.existing and node.label[0].startswith("SPD (E)")
    assert next(branch for branch in branches_of(plan.root) if branch.node is node).existing


def test_without_a_place_it_is_named_in_a_note():
    assert "Surge protective device: type 2, 50 kA (invented), place not stated." in block_of(planned(A, SURGE[0]), SOURCES)


def test_where_it_is_asked_for_and_not_stated_the_drawing_says_so():
    assert "Surge protective device (230.67): not stated." in block_of(planned(WIRING), SOURCES)
    assert "Surge" not in block_of(planned(A), SOURCES)


def test_a_switch_without_power_that_starts_the_rapid_shutdown_has_a_symbol_below_the_service_wire_and_no_wire():
    (scene,) = drawn(A)
    (switch,) = symbols_of((scene,), "rapid shutdown")
    (meter,) = symbols_of((scene,), "meter")
    assert switch.box.y0 > meter.box.y1
    ends = [point for wire in scene.of(Wire) for point in (wire.points[0], wire.points[-1])]
    assert not any(switch.box.grown(0.01).contains(Box(x, y, x, y)) for x, y in ends)
    words = words_of((scene,))
    assert "RSD (N)" in words and "rapid shutdown switch" in words
    assert planned(A).root.apart[0].label == (
        "RSD (N) rapid shutdown switch RSS", "storage emergency shutdown", "east wall, outdoors, beside the meter",
    )


def test_a_thing_that_starts_the_rapid_shutdown_says_so_and_gets_no_second_symbol():
    assert "starts the rapid shutdown" in label_of(planned(C), "DS")
    assert planned(C).root.apart == ()
    assert symbols_of(drawn(C), "rapid shutdown") == []


def test_the_breaker_of_a_circuit_starts_it_in_its_panel():
    assert "starts the rapid shutdown" in label_of(planned(A, ("rapid_shutdown.initiator", "C2")), "MP")
    assert "starts the rapid shutdown" not in label_of(planned(A), "MP")


def test_the_note_of_the_rapid_shutdown_says_what_starts_it_what_carries_it_out_and_its_listing():
    note = block_of(planned(A), SOURCES)
    for said in ("Rapid shutdown (690.12", "started by rapid shutdown switch RSS", "shutdown function of the listed array",
                 "UL 1741, hazard control by UL 3741", "array boundary: listed array"):
        assert said in note


@pytest.mark.parametrize(("key", "name"), [
    ("initiator", "initiation device"), ("equipment", "equipment"), ("listing", "listing"), ("inside", "array boundary"),
])
def test_what_is_not_stated_of_the_rapid_shutdown_is_named(key, name):
    note = block_of(planned(A, (f"rapid_shutdown.{key}", None)), SOURCES)
    assert f"NOT STATED: {name}." in note


def test_where_it_is_not_asked_for_the_reason_stands_in_its_place_and_no_switch_is_drawn():
    plan = planned(A, ("rapid_shutdown.exempt", "array on the ground, away from buildings"))
    assert "not asked for, array on the ground" in block_of(plan, SOURCES)
    assert plan.root.apart == ()


def test_without_strings_there_is_no_word_of_rapid_shutdown_or_pv():
    note = block_of(planned("tests/projects/chain.toml"), SOURCES)
    assert "Rapid shutdown" not in note and "PV" not in note


def test_emergency_disconnect_and_storage_shutdown_are_said_at_their_devices():
    assert "emergency disconnect" in label_of(planned(B), "SD")
    assert "storage emergency shutdown" in label_of(planned(C), "DS")
    assert "storage emergency shutdown" not in label_of(planned(B), "SD")


def test_module_electronics_have_symbols_of_their_own_with_number_and_model():
    assert node_of(planned(WIRING), "S1").symbol == "pv string, converters"
    assert node_of(planned(WIRING), "S2").symbol == "pv string, shutdown"
    assert "10 DC-DC converters conv-a, 60 V, 15 A" in label_of(planned(WIRING), "S1")
    assert "10 shutdown devices rsd-a" in label_of(planned(WIRING), "S2")
    assert node_of(planned(A), "S1").symbol == "pv string"
    assert len(symbols_of(drawn(WIRING), "pv string, converters")) == 1


def test_the_pv_note_gathers_disconnect_and_protection_of_units_that_agree():
    assert "disconnect U1, U2 integral, 1000 V, 30 A; arc fault UL 1699B, in the unit; ground fault UL 1741" in block_of(planned(B), SOURCES)
    assert "PV circuits: NOT STATED: disconnect, arc-fault protection, ground-fault protection." in block_of(planned(WIRING), SOURCES)


def test_the_device_of_a_storage_circuit_is_drawn_in_the_unit_that_holds_it():
    found = studied("tests/projects/storage_circuit.toml")
    assert found.sized.circuit("B1-DC").device.where == "U1"
    scenes = drawn("tests/projects/storage_circuit.toml")
    (breaker,) = [item for item in symbols_of(scenes, "breaker") if item.subject == "B1-DC"]
    (bus,) = symbols_of(scenes, "dc bus")
    assert breaker.box.x0 == pytest.approx(bus.box.x1, abs=0.002)
    assert checks.all_faults(scenes[0]) == ()
