"""A small valid project file, and the problems of a text."""

from __future__ import annotations

import linecalc

HOUSE = """\
[project]
title = "Test house"
code = "NEC 2023"

[site]
low_temperature = "-14 degC"

[service]
voltage = "240 V"
rating = "200 A"

[equipment.mod]
kind = "pv module"
power = "420 W"
voc = "38.1 V"
isc = "13.9 A"
vmp = "31.9 V"
imp = "13.2 A"
voc_coefficient = "-0.26 %/K"

[equipment.unit-a]
kind = "unit"
ac_power = "9.6 kW"
ac_current = "40 A"
energy = "10.4 kWh"
charge_power = "4.2 kW"
mppt = 4
mppt_window = ["90 V", "520 V"]

[equipment.store]
kind = "storage module"
energy = "10.4 kWh"

[equipment.inv]
kind = "inverter"
ac_power = "3.8 kW"
ac_current = "16 A"

[panel.MP]
bus = "225 A"
main = "200 A"

[unit.U1]
equipment = "unit-a"

[inverter.I1]
equipment = "inv"

[storage.B1]
equipment = "store"
unit = "U1"

[string.S1]
module = "mod"
count = 11
to = "U1"
input = 1

[load.L1]
panel = "MP"
kind = "appliance"
power = "4.5 kW"

[circuit.C1]
from = "service"
to = "MP"
length = "34 ft"
path = ["R1", "R2"]

[circuit.C2]
from = "U1"
to = "MP"

[section.R1]
method = "EMT"
place = "attic"
length = "20 ft"

[section.R2]
method = "EMT"
place = "garage"
length = "14 ft"
"""


def problems(text: str, file: str | None = "house.toml") -> tuple[linecalc.Problem, ...]:
    """The problems of a project text; empty where it reads."""
    try:
        linecalc.read_text(text, file)
    except linecalc.InputError as error:
        return error.problems
    return ()


def changed(old: str, new: str) -> str:
    """The house with one stretch of text replaced, which must occur in it."""
    assert old in HOUSE, f"{old!r} is not in the house"
    return HOUSE.replace(old, new, 1)


def only_problem(old: str, new: str) -> linecalc.Problem:
    """The one problem that the house has after the change."""
    found = problems(changed(old, new))
    assert len(found) == 1, "\n".join(map(str, found))
    return found[0]


def said(old: str, new: str) -> str:
    """The one problem that the house has after the change, as printed."""
    return str(only_problem(old, new))


def line_with(text: str) -> int:
    """The line of the house that reads ``text``."""
    return HOUSE.splitlines().index(text) + 1
