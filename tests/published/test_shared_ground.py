"""Published statements on one grounding conductor for several circuits of a raceway, and on former service panels."""

from __future__ import annotations

from linecalc.check import Level
from tests.houses import checks, level, studied
from tests.rules.test_art250_former_service import DONE, moved

def load(number: int) -> dict:
    """A load of 10 A on a 20 A circuit of its own, in the conduit R9."""
    circuit = {"from": "MP", "to": f"L{number}", "path": ("R9",), "breaker": "20 A", "conductor": "12 AWG Cu THWN-2"}
    appliance = {"panel": "MP", "kind": "appliance", "voltage": "240 V", "current": "10 A", "power_factor": 1.0}
    return {f"load.L{number}": appliance, f"circuit.C{number}": circuit}


TWENTY_AMPERES = {
    **load(8),
    **load(9),
    "section.R9": {"method": "PVC40", "place": "underground", "moisture": "wet", "ambient": "30 degC", "length": "200 ft"},
}


def shared(changes):
    return next(one for one in studied(changes).sized.grounding.shared if one.section == "R9")


# Source: Mike Holt Forum, "Common EGC", https://forums.mikeholt.com/threads/common-egc.57512/latest: circuits of 20 A in one
# conduit with a single 12 AWG grounding conductor.
def test_circuits_of_20_a_in_one_conduit_share_a_12_awg_grounding_conductor() -> None:
    assert shared(TWENTY_AMPERES).needed_size == "12 AWG"


# Source: Mike Holt Forum, "250.122(B) & 250.122(C) contradiction",
# https://forums.mikeholt.com/threads/250-122-b-250-122-c-contradiction.8690/latest: circuits of 20 A in one conduit, one of
# them raised to 4 AWG for voltage drop: one 4 AWG grounding conductor serves them all.
def test_a_circuit_of_20_a_raised_to_4_awg_decides_for_the_whole_conduit() -> None:
    found = shared({**TWENTY_AMPERES, "circuit.C9.conductor": "4 AWG Cu THWN-2"})
    assert (found.by_circuit, found.needed_size) == ("C9", "4 AWG")


# Source: Mike Holt Forum, post 1684527, quoting a state's electrical newsletter, "Changing an Existing 3-wire Service into a
# 4-wire Sub-Panel & Existing 3-Wire Circuits", https://forums.mikeholt.com/goto/post?id=1684527: existing three-wire range and
# dryer circuits no longer meet the exception of 250.140 once the service panel is a subpanel.
def test_three_wire_ranges_and_dryers_of_a_former_service_panel_are_warned_about() -> None:
    found = moved({**DONE, "panel.MP.three_wire": ("range", "dryer")})
    assert [one.level for one in checks(found, "range_dryer_frames", "MP")] == [Level.WARN, Level.WARN]


# Source: the same: the neutral may not be bonded again downstream of the new service disconnect.
def test_a_bond_left_in_the_former_service_panel_fails() -> None:
    assert level(moved({**DONE, "panel.MP.neutral_bond": True}), "neutral_for_grounding", "MP") is Level.FAIL
