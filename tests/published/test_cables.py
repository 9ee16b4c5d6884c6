"""Cables against worked examples of trade articles."""

from __future__ import annotations

import pytest

from linecalc.calc.load import current_from_va
from linecalc.codebook import open_book
from linecalc.codebook.sizes import SIZES
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import circuit, studied


def smallest(need_a: float, column_c: int) -> str:
    """The smallest copper size whose ampacity at a column reaches the need."""
    book = open_book("2023")
    return next(size for size in SIZES if (found := book.ampacity(size, "Cu", column_c)) is not None and found.value >= need_a)


# Source: EC&M, "Change 338.10, 2002 NEC", http://ecmweb.com/print/code-basics/change-33810-2002-nec: a 10 kW heater with
# a 3 A blower needs (10,000 W / 240 V + 3 A) x 125 %, at least 56 A: 4 AWG NM cable or 6 AWG SE cable.
# Checked against the current table: yes.
def test_a_10_kw_heater_with_a_3_a_blower_takes_4_awg_nm_or_6_awg_se() -> None:
    need = 1.25 * (value_of(current_from_va(10_000.0, 240.0)) + 3.0)
    assert need == pytest.approx(55.83, abs=0.01)
    assert smallest(need, 60) == "4 AWG"
    assert smallest(need, 75) == "6 AWG"


def heated(method: str, conductor: str) -> Study:
    """A heater of 10 kW and 3 A on the main panel, 44.7 A continuous, by cable."""
    changes = {
        "load.HEAT": {"panel": "MP", "kind": "heat", "voltage": "240 V", "current": "44.667 A", "continuous": True, "power_factor": 1.0},
        "circuit.C9": {"from": "MP", "to": "HEAT", "path": ["R9"], "breaker": "60 A", "conductor": conductor, "terminals_to": "75 degC"},
        "section.R9": {"method": method, "place": "wall cavity", "moisture": "dry", "ambient": "30 degC", "length": "20 ft"},
    }
    return studied(changes)


# The same source, through the whole path: 60 A devices protect 6 AWG SE (65 A at 75 degC), and NM only from 4 AWG.
@pytest.mark.parametrize(
    ("method", "conductor", "amps"), [("SER", "6 AWG Cu SE", 65.0), ("NM-B", "6 AWG Cu NM-B", 55.0), ("NM-B", "4 AWG Cu NM-B", 70.0)]
)
def test_the_ampacities_of_that_heater_circuit(method: str, conductor: str, amps: float) -> None:
    assert value_of(circuit(heated(method, conductor), "C9").t2_ampacity) == amps


# Source: Electrical License Renewal, "338.10(B)(4) Installation Methods for Branch Circuits and Feeders" (NEC 2017 and 2020),
# https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=895: a 2 AWG
# aluminum SE cable of XHHW-2 conductors in an insulated wall, 75 degC terminals at both ends; only 10 AWG and smaller are
# held to 60 degC. The article states no ampere figure; 90 A is Table 310.16 at 75 degC. Checked against the current table: yes.
@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_a_2_awg_aluminum_se_cable_in_insulation_keeps_its_75_degc_ampacity(edition: str) -> None:
    changes = {"section.R2.method": "SER", "section.R2.thermal_insulation": True, "circuit.C1.conductor": "2 AWG Al XHHW-2"}
    found = circuit(studied(changes, edition=edition), "C1")
    assert value_of(found.t1_ampacity) == 90.0
    assert value_of(found.t2_ampacity) == 100.0
    assert value_of(found.protect_a) == 90.0


# Source: the same article, 2017 change: "10 AWG and smaller Type SE cables, installed in thermal insulation" go by the
# 60 degC column. Checked against the current table: yes.
@pytest.mark.parametrize(("size", "amps"), [("12 AWG", 15.0), ("10 AWG", 25.0)])
def test_aluminum_se_cable_of_10_awg_and_smaller_in_insulation_goes_by_60_degc(size: str, amps: float) -> None:
    changes = {"section.R2.method": "SER", "section.R2.thermal_insulation": True, "circuit.C1.conductor": f"{size} Al XHHW-2"}
    assert value_of(circuit(studied(changes), "C1").t2_ampacity) == amps
