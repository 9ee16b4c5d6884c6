"""The graph of a project: its order, and what is refused with the reason."""

from __future__ import annotations

import pytest

from linecalc.errors import InputError, RefusedError
from linecalc.network.build import build_network
from linecalc.network.records import System
from tests.houses import house


def built(changes=None):
    return build_network(house(changes))


def refusal(changes) -> str:
    with pytest.raises((InputError, RefusedError)) as caught:
        built(changes)
    return str(caught.value)


def test_circuits_follow_the_flow_of_power_dc_first_then_from_the_sources_to_the_service():
    assert [circuit.tag for circuit in built().circuits] == ["P1", "C1", "C3", "C2", "C4"]


def test_every_ac_circuit_is_oriented_away_from_the_service_whichever_way_it_is_written():
    turned = built({"circuit.C1.from": "U1", "circuit.C1.to": "BP"})
    assert (turned.circuit("C1").up, turned.circuit("C1").down) == ("BP", "U1")


def test_dc_circuits_point_from_the_unit_to_the_string():
    circuit = built().circuit("P1")
    assert (circuit.system, circuit.up, circuit.down) == (System.PV, "U1", "S1")


def test_the_length_of_a_circuit_is_the_sum_of_its_sections():
    assert built({"circuit.C1.path": ["R2", "R3"]}).circuit("C1").length_ft == 20.0


def test_a_loop_is_an_error_that_names_its_members():
    message = refusal({"circuit.C5": {"from": "MP", "to": "BP", "path": ["R2"], "breaker": "20 A"}})
    assert "BP, ID, MP" in message and "loop" in message


def test_two_circuits_between_the_same_things_are_an_error():
    assert "same two things as circuit C3" in refusal({"circuit.C5": {"from": "BP", "to": "ID", "path": ["R2"]}})


def test_a_panel_that_no_circuit_reaches_is_an_error():
    assert "no circuits lead from SP" in refusal({"panel.SP": {"bus": "100 A", "main": "lugs"}})


def test_two_isolation_devices_are_refused():
    message = refusal({"isolation.I2": {"rating": "100 A"}, "circuit.C5": {"from": "MP", "to": "I2", "path": ["R2"], "breaker": "30 A"}})
    assert "more than one isolation device (I2, ID)" in message or "more than one isolation device (ID, I2)" in message


def test_a_unit_with_two_ac_circuits_is_refused():
    assert "U1 has 2 AC circuits" in refusal(
        {"panel.SP": {"bus": "100 A", "main": "lugs"}, "circuit.C5": {"from": "U1", "to": "SP", "path": ["R2"]}}
    )


def test_strings_behind_a_combiner_are_all_carried_by_its_circuit():
    network = built(
        {
            "combiner.CB": {"to": "U1", "dc_voltage": "600 V"},
            "string.S1.to": "CB",
            "string.S2": {"module": "mod", "count": 10, "to": "CB", "input": 1},
            "circuit.P1": {"from": "S1", "to": "CB", "path": ["R1"]},
            "circuit.P2": {"from": "S2", "to": "CB", "path": ["R1"]},
            "circuit.P3": {"from": "CB", "to": "U1", "path": ["R1"]},
        }
    )
    assert [node.tag for node in network.strings_behind(network.circuit("P3"))] == ["S1", "S2"]
    assert [node.tag for node in network.strings_behind(network.circuit("P2"))] == ["S2"]


def test_six_hundred_subpanels_in_a_chain_are_read_without_recursion():
    chain = {f"panel.Q{n}": {"bus": "100 A", "main": "lugs", "generation": True} for n in range(600)}
    links = {f"circuit.L{n}": {"from": f"Q{n - 1}" if n else "BP", "to": f"Q{n}", "path": ["R2"]} for n in range(600)}
    assert len(built({**chain, **links}).order) == 600 + 5
