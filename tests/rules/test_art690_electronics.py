"""Module-level electronics: shutdown devices within their limits, converters computed by their own ratings."""

from __future__ import annotations

import pytest

from linecalc.check import Level
from linecalc.network.records import Mode
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import MODULE, check, checks, circuit, level, studied

SHUTDOWN = {"kind": "shutdown device", "input_voltage_max": "60 V", "input_current_max": "15 A", "string_voltage_max": "1000 V"}
CONVERTER = {
    "kind": "dc-dc converter",
    "input_voltage_max": "60 V",
    "input_current_max": "15 A",
    "input_power_max": "440 W",
    "output_voltage_max": "60 V",
    "output_current": "15 A",
    "string_voltage_max": "480 V",
    "string_voltage": "400 V",
    "string_power_max": "6 kW",
    "string_count_min": 8,
    "string_count_max": 20,
}


def with_device(kind: str, device: dict[str, object], changes: dict[str, object] | None = None, edition: str | None = None) -> Study:
    module = {**MODULE, "electronics": kind, "electronics_equipment": "dev"}
    return studied({"equipment.mod": module, "equipment.dev": device, **(changes or {})}, edition=edition)


def shutdown(changes: dict[str, object] | None = None) -> Study:
    return with_device("shutdown device", SHUTDOWN, changes)


def converters(changes: dict[str, object] | None = None, edition: str | None = None) -> Study:
    return with_device("dc-dc converter", CONVERTER, changes, edition)


def string(found: Study, tag: str = "S1"):
    return next(one for one in found.sized.strings if one.tag == tag)


# --- shutdown devices -------------------------------------------------------


def test_a_shutdown_device_changes_nothing_in_the_figures_of_a_string() -> None:
    plain, fitted = studied(), shutdown()
    assert value_of(string(plain).cold_voc) == value_of(string(fitted).cold_voc) == pytest.approx(440.0)
    assert value_of(circuit(fitted, "P1").currents.of(Mode.DC).continuous) == 1.25 * 13


# Hand: 40 V x (1 + 0.0025 x 40 K) = 44 V on one device.
@pytest.mark.parametrize(("limit", "verdict"), [("44 V", Level.PASS), ("43.9 V", Level.FAIL), (None, Level.NOT_CHECKED)])
def test_the_cold_voltage_of_one_module_is_within_the_input_of_its_device(limit: str | None, verdict: Level) -> None:
    found = shutdown({"equipment.dev.input_voltage_max": limit})
    assert level(found, "listed_instructions.input_voltage_max", "S1") is verdict


def test_two_modules_on_one_device_bring_twice_the_voltage() -> None:
    found = shutdown({"equipment.dev.modules": 2})
    one = check(found, "listed_instructions.input_voltage_max", "S1")
    assert value_of(one.demand) == pytest.approx(88.0)
    assert one.level is Level.FAIL


@pytest.mark.parametrize(
    ("key", "limit", "verdict"),
    [
        ("input_current_max", "13 A", Level.PASS),
        ("input_current_max", "12.9 A", Level.FAIL),
        ("string_voltage_max", "440 V", Level.PASS),
        ("string_voltage_max", "439 V", Level.FAIL),
        ("output_current_max", "12 A", Level.FAIL),
    ],
)
def test_each_limit_of_a_shutdown_device_is_its_own_check(key: str, limit: str, verdict: Level) -> None:
    assert level(shutdown({f"equipment.dev.{key}": limit}), f"listed_instructions.{key}", "S1") is verdict


def test_electronics_that_are_not_described_are_not_checked() -> None:
    module = {**MODULE, "electronics": "shutdown device"}
    found = studied({"equipment.mod": module})
    assert check(found, "listed_instructions.electronics", "S1").needs == ("equipment.mod.electronics_equipment",)


# --- converters ---------------------------------------------------------------


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
def test_the_rated_output_of_converters_replaces_the_modules_short_circuit_current(edition: str) -> None:
    found = converters(edition=edition)
    assert value_of(circuit(found, "P1").currents.of(Mode.DC).continuous) == 15.0  # no 1.25 for irradiance
    assert value_of(circuit(found, "P1").t1_need) == 1.25 * 15
    assert value_of(string(found).design) == 1.25 * 15


def test_the_voltage_of_a_converter_string_is_what_its_instructions_say_or_the_sum_of_the_outputs() -> None:
    assert value_of(check(converters(), "pv_max_voltage", "S1").demand) == 480.0
    summed = converters({"equipment.dev.string_voltage_max": None})
    assert value_of(check(summed, "pv_max_voltage", "S1").demand) == 10 * 60.0
    neither = converters({"equipment.dev.string_voltage_max": None, "equipment.dev.output_voltage_max": None})
    assert level(neither, "pv_max_voltage", "S1") is Level.NOT_CHECKED


def test_eleven_converters_of_60_v_without_a_stated_maximum_break_600_v() -> None:
    found = converters({"equipment.dev.string_voltage_max": None, "string.S1.count": 11})
    assert level(found, "pv_max_voltage", "S1") is Level.FAIL


# Hand: 10 x 400 W / 400 V = 10 A at 400 V, 30 ft of 10 AWG Cu.
def test_the_drop_of_a_converter_string_is_taken_at_its_working_voltage() -> None:
    found = converters()
    assert value_of(circuit(found, "P1").currents.operating_a) == 10.0
    assert value_of(circuit(found, "P1").currents.base_v) == 400.0


def test_the_operating_current_never_exceeds_the_output_of_a_converter() -> None:
    found = converters({"string.S1.count": 20})
    assert value_of(circuit(found, "P1").currents.operating_a) == 15.0


@pytest.mark.parametrize(("count", "verdict"), [(7, Level.FAIL), (8, Level.PASS), (15, Level.PASS), (21, Level.FAIL)])
def test_the_number_of_converters_is_within_their_instructions(count: int, verdict: Level) -> None:
    assert level(converters({"string.S1.count": count}), "listed_instructions.string_count", "S1") is verdict


@pytest.mark.parametrize(("count", "verdict"), [(15, Level.PASS), (16, Level.FAIL)])
def test_the_power_of_a_converter_string_is_within_its_limit(count: int, verdict: Level) -> None:
    assert level(converters({"string.S1.count": count}), "listed_instructions.string_power_max", "S1") is verdict


def test_a_module_stronger_than_its_converter_fails() -> None:
    assert level(converters({"equipment.dev.input_power_max": "390 W"}), "listed_instructions.input_power_max", "S1") is Level.FAIL


def test_the_input_of_the_unit_is_held_against_the_converters_current() -> None:
    found = converters()
    assert value_of(check(found, "mppt_limit.short_circuit", "S1").demand) == 15.0


# Hand: 4000 W / 400 V = 10 A; no 1.25 for irradiance on a rated output.
def test_the_working_current_of_a_converter_string_is_its_power_at_its_voltage() -> None:
    found = converters({"equipment.unit-a.mppt_short_circuit": "15 A"})
    assert value_of(check(found, "mppt_limit.working", "S1").demand) == 10.0
    assert level(found, "mppt_limit.short_circuit", "S1") is Level.PASS
    assert not checks(found, "mppt_limit.short_circuit_raised")


def test_a_converter_without_its_rated_output_leaves_the_circuit_unchecked() -> None:
    found = converters({"equipment.dev.output_current": None})
    assert circuit(found, "P1").currents.needs == ("equipment.dev.output_current",)
    assert not [one for one in checks(found, "pv_conductor.T1", "P1") if one.level is Level.PASS]
