"""Laws of a whole house: more load, more source, a smaller part never make a verdict better."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from linecalc.check import Level
from linecalc.sizing.records import Sized
from linecalc.study import Study
from linecalc.term import value_of
from tests.houses import studied

FEW = settings(max_examples=12, derandomize=True, deadline=None)
SEVERITY = {Level.PASS: 0, Level.NOTE: 0, Level.WARN: 1, Level.NOT_CHECKED: 1, Level.FAIL: 2}


def failing(found: Study) -> set[tuple[str, str]]:
    """Subjects and rules that fail; the busbar methods count as one rule."""
    return {(one.subject, one.rule.split("_")[0] if one.rule.startswith("busbar") else one.rule) for one in found.checks if one.level is Level.FAIL}


def fill(found: Sized, tag: str) -> float:
    return value_of(next(one for one in found.raceways if one.section == tag).fill_percent)


@FEW
@given(st.integers(1, 80), st.integers(0, 40))
def test_more_backed_up_load_never_turns_a_failure_into_a_pass(load, more):
    def house(amps: int) -> Study:
        return studied({"load.BACKUP.current": f"{amps} A"})

    assert failing(house(load)) <= failing(house(load + more))


@FEW
@given(st.integers(5, 60), st.integers(0, 30))
def test_more_export_never_turns_a_failure_into_a_pass(current, more):
    def house(amps: int) -> Study:
        return studied({"equipment.unit-a.ac_current": f"{amps} A"})

    assert failing(house(current)) <= failing(house(current + more))


@FEW
@given(st.integers(1, 20), st.integers(0, 10))
def test_a_longer_string_never_turns_a_high_voltage_into_a_pass(count, more):
    def voltage(modules: int) -> set[tuple[str, str]]:
        return {pair for pair in failing(studied({"string.S1.count": modules})) if pair[1] == "pv_max_voltage"}

    assert voltage(count) <= voltage(count + more)


@FEW
@given(st.integers(-39, 20), st.integers(0, 19))
def test_colder_never_lowers_the_voltage(low, colder):
    def volts(celsius: int) -> float:
        return value_of(studied({"site.low_temperature": f"{celsius} degC"}).sized.strings[0].cold_voc)

    assert volts(max(-39, low - colder)) >= volts(low)


@FEW
@given(st.sampled_from(["8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG"]), st.sampled_from(["1-1/4 in", "1-1/2 in", "2 in"]))
def test_a_larger_conductor_never_fills_less(size, trade):
    sizes = ("8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG", "2/0 AWG")
    larger = sizes[sizes.index(size) + 1]
    filled = [fill(studied({"circuit.C2.conductor": f"{one} Cu THWN-2", "section.R3.size": trade}).sized, "R3") for one in (size, larger)]
    assert filled[0] <= filled[1]


@FEW
@given(st.integers(0, 10), st.integers(0, 10))
def test_adding_spare_conductors_never_raises_ampacity_nor_lowers_fill(spares, more):
    def run(count: int) -> Sized:
        return studied({"section.R3.spare_conductors": count, "section.R3.size": "2 in"}).sized

    before, after = run(spares), run(spares + more)
    assert value_of(after.circuit("C2").t2_ampacity) <= value_of(before.circuit("C2").t2_ampacity)
    assert fill(after, "R3") >= fill(before, "R3")


@FEW
@given(st.sampled_from([60, 70, 80, 90, 100, 110, 125, 150, 175, 200]), st.sampled_from([100, 125, 150, 200, 225, 400]))
def test_a_larger_bus_never_makes_a_bus_fail(main, bus):
    def house(amps: int) -> Study:
        return studied({"panel.MP.bus": f"{amps} A", "panel.MP.main": f"{main} A"})

    small, large = failing(house(bus)), failing(house(bus * 2))
    assert {pair for pair in large if pair[0] == "MP"} <= {pair for pair in small if pair[0] == "MP"}


@FEW
@given(st.sampled_from(["site.low_temperature", "site.high_temperature", "equipment.unit-a.overcurrent_max", "equipment.unit-a.backfeed_current", "section.R1.ambient", "equipment.mod.series_fuse", "equipment.mod.system_voltage", "equipment.unit-a.dc_voltage_max", "equipment.unit-a.mppt_short_circuit", "equipment.unit-a.neutral_bond", "isolation.ID.internal_bus", "isolation.ID.switches_neutral", "panel.BP.neutral_bond", "load.BACKUP", "load.BACKUP.unbalance", "equipment.unit-a.leg_current", "equipment.unit-a.neutral_rating", "equipment.unit-a.neutral"]))
def test_leaving_out_a_safety_input_is_counted_as_not_checked(path):
    whole, without = studied(), studied({path: None})
    assert without.count(Level.NOT_CHECKED) > whole.count(Level.NOT_CHECKED)


@FEW
@given(st.permutations(["C1", "C2", "C3", "C4", "P1"]))
def test_the_order_of_the_tables_changes_no_verdict(order):
    from linecalc.project.sources import Sources
    from linecalc.project.validate import validated
    from linecalc.study import study
    from tests.houses import tables

    raw = tables()
    raw["circuit"] = {tag: raw["circuit"][tag] for tag in order}
    found = [(one.rule, one.subject, one.level, one.message) for one in study(validated(raw, Sources())).checks]
    assert found == [(one.rule, one.subject, one.level, one.message) for one in studied().checks]
