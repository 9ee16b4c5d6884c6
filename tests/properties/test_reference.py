"""The library and a second computation written from the rules agree on drawn circuits, strings and buses.

``python -m tests.properties.long_run 5000`` draws many more.
"""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from tests.properties import agreement, reference
from tests.properties.reference import Question

FEW = settings(max_examples=100, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))


@FEW
@given(agreement.questions().filter(agreement.is_answerable))
def test_circuits_agree_with_the_second_computation(question):
    agreement.circuits_agree(question)


@settings(FEW, max_examples=60)
@given(agreement.strings())
def test_cold_voltages_agree_with_the_second_computation(drawn):
    agreement.strings_agree(drawn)


@settings(FEW, max_examples=30)
@given(agreement.buses())
def test_methods_on_a_bus_agree_with_the_second_computation(drawn):
    agreement.buses_agree(drawn)


@settings(FEW, max_examples=40)
@given(agreement.runs())
def test_runs_through_several_places_agree_with_the_second_computation(drawn):
    agreement.runs_agree(drawn)


KNOWN = Question(
    edition="2023", system="ac", continuous=40.0, noncontinuous=0.0, material="Cu", insulation="THWN-2", wet=False, ambient=30.0, conductors=2,
    terminal=75, parallel=1, breaker=None, roof_height_in=None, length=100.0, power_factor=1.0, raceway="EMT", drop_target=None, voltage=240.0, size=None,
)  # fmt: skip


# 1.25 x 40 = 50 A; 8 AWG Cu at 75 degC: 50 A; Table 250.122 at 60 A: 10 AWG; Table 9: 0.78 ohm, 2 x 100 x 40 x 0.78 / 1000 / 240 = 2.6 %.
def test_the_second_computation_gives_what_is_worked_by_hand():
    found = reference.answer(KNOWN)
    assert (found.device, found.size, found.t1, found.egc) == (50.0, "8 AWG", (50.0, 50.0), "10 AWG")
    assert found.drop_percent == pytest.approx(2.6)


def test_the_comparison_can_fail(monkeypatch):
    agreement.circuits_agree(KNOWN)
    monkeypatch.setattr(reference, "count_factor", lambda count: 0.5)
    with pytest.raises(AssertionError):
        agreement.circuits_agree(KNOWN)
