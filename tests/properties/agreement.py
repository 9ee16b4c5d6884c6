"""Holds the library against the second computation of ``reference.py``; each function raises where they differ."""

from __future__ import annotations

from hypothesis import strategies as st

from linecalc.calc.ampacity import LowerPortionBasis, Portion, governing_portion
from linecalc.codebook import open_book
from linecalc.network.build import build_network
from linecalc.network.currents import compute_currents
from linecalc.network.records import System
from linecalc.sizing import size
from linecalc.sizing.buses import bus_figures
from linecalc.sizing.records import BusVerdict, Governed
from linecalc.sizing.single import ConductorRequest, single_circuit
from linecalc.sizing.strings import string_figures
from linecalc.term import value_of
from tests.houses import BASE, house, tables
from tests.properties import reference
from tests.properties.reference import Question

NAMES = {
    Governed.T1: "T1",
    Governed.T2: "T2",
    Governed.T3: "T3",
    Governed.SMALL_CONDUCTOR: "small",
    Governed.PARALLEL: "parallel",
}
EDITIONS = st.sampled_from(["2017", "2020", "2023"])
INSULATIONS = st.sampled_from(["THWN-2", "XHHW-2", "RHW-2", "THWN", "XHHW", "THW", "TW", "THHN"])
RATINGS = st.sampled_from([15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 90.0, 100.0, 110.0, 125.0, 200.0, 225.0, 400.0, 800.0, 1000.0])


@st.composite
def questions(draw: st.DrawFn) -> Question:
    """Circuits of all kinds, whole and broken numbers, tight and roomy."""
    system = draw(st.sampled_from(["ac", "ac", "pv"]))
    amperes = st.one_of(st.floats(0.5, 400.0), st.integers(1, 320).map(float), st.sampled_from([12.0, 16.0, 24.0, 32.0, 40.0, 48.0, 64.0, 80.0, 160.0]))
    parallel = draw(st.sampled_from([1, 1, 1, 1, 2, 3]))
    return Question(
        edition=draw(EDITIONS),
        system=system,
        continuous=draw(amperes),
        noncontinuous=draw(st.one_of(st.just(0.0), amperes)) if system == "ac" else 0.0,
        material=draw(st.sampled_from(["Cu", "Al"])),
        insulation=draw(INSULATIONS),
        wet=draw(st.booleans()),
        ambient=draw(st.one_of(st.floats(-30.0, 75.0), st.integers(-10, 75).map(float))),
        conductors=2 * parallel + draw(st.integers(0, 44)),
        terminal=draw(st.sampled_from([None, 60, 75])),
        parallel=parallel,
        breaker=draw(st.one_of(st.none(), st.just("none"), RATINGS)),
        roof_height_in=draw(st.one_of(st.none(), st.none(), st.sampled_from([0.0, 0.5, 0.74, 0.75, 0.8, 0.875, 1.0, 3.5]))),
        length=draw(st.one_of(st.floats(3.0, 600.0), st.sampled_from([1.0, 2.0, 2.5]))),
        power_factor=draw(st.sampled_from([1.0, 0.85, 0.9, 0.7])),
        raceway=draw(st.sampled_from(["EMT", "RMC", "PVC40", "ENT", "FMC"])),
        drop_target=draw(st.sampled_from([None, None, 1.0, 2.0, 3.0])),
        voltage=draw(st.sampled_from([240.0, 120.0, 400.0])),
        size=draw(st.one_of(st.none(), st.sampled_from(reference.SIZES))),
    )


def request_of(question: Question) -> ConductorRequest:
    """The same circuit as the library takes it."""
    pv = question.system == "pv"
    return ConductorRequest(
        system=System.PV if pv else System.AC,
        current_a=question.continuous if pv else None,
        continuous_a=None if pv else question.continuous,
        noncontinuous_a=None if pv else question.noncontinuous,
        voltage=question.voltage,
        length_ft=question.length,
        power_factor=question.power_factor,
        material=question.material,
        insulation=question.insulation,
        wet=question.wet,
        ambient_c=question.ambient,
        conductors=question.conductors,
        terminal_c=question.terminal,
        rooftop_height_in=question.roof_height_in,
        raceway=question.raceway,
        parallel=question.parallel,
        size=question.size,
        breaker=question.breaker,
        max_drop_percent=question.drop_target,
    )


def is_answerable(question: Question) -> bool:
    """Whether the insulation is allowed in the place, a standard device reaches the need, and the size given is listed."""
    column = reference.insulation_column(question.insulation, question.wet or question.roof_height_in is not None)
    if column is None or (question.breaker is None and reference.device_of(question) is None):
        return False
    return question.size is None or reference.ampacity(question.size, question.material, column) is not None


def alike(ours: object, theirs: float | None) -> bool:
    """Whether two amounts are the same but for binary representation, or both missing."""
    if ours is None or theirs is None:
        return ours is None and theirs is None
    return abs(value_of(ours) - theirs) <= 1e-9 * max(1.0, abs(theirs))


def circuits_agree(question: Question) -> None:
    """T1, T2, T3, device, size, grounding conductor and drop of one circuit."""
    expected = reference.answer(question)
    ours = single_circuit(request_of(question), question.edition).circuit
    if expected.size is None:
        assert ours.governed_by is Governed.NOTHING_PASSES, f"we chose {ours.conductor.size}, the reference none"
        return
    assert ours.governed_by is not Governed.NOTHING_PASSES or question.size is not None
    assert ours.conductor.size == expected.size
    assert alike(None if ours.device is None else ours.device.rating, expected.device), "device"
    assert alike(ours.t1_need, expected.t1[0]) and alike(ours.t1_ampacity, expected.t1[1]), "T1"
    assert alike(ours.t2_need, expected.t2[0]) and alike(ours.t2_ampacity, expected.t2[1]), "T2"
    assert alike(ours.protect_a, expected.protect), "ampacity to protect"
    assert alike(None if ours.protection is None else ours.protection.limit_a, expected.largest_device), "largest device"
    assert {NAMES[one] for one in ours.failing} == set(expected.failing)
    assert (None if ours.egc is None else ours.egc.needed_size) == expected.egc, "grounding conductor"
    assert alike(ours.drops[0].percent if ours.drops else None, expected.drop_percent), "drop"


@st.composite
def strings(draw: st.DrawFn) -> dict[str, object]:
    """Modules in series and a lowest ambient."""
    unit = draw(st.sampled_from(["%/K", "V/K"]))
    size_ = draw(st.floats(0.15, 0.45)) if unit == "%/K" else draw(st.floats(0.05, 0.2))
    return {
        "voc": round(draw(st.floats(20.0, 70.0)), 2),
        "count": draw(st.integers(1, 24)),
        "coefficient": -round(size_, 4),
        "unit": unit,
        "low": draw(st.one_of(st.integers(-40, 24).map(float), st.floats(-40.0, 24.9).map(lambda value: round(value, 1)))),
    }


def strings_agree(drawn: dict[str, object]) -> None:
    """Cold voltage by coefficient and by table."""
    voc, count, coefficient, unit, low = (drawn[key] for key in ("voc", "count", "coefficient", "unit", "low"))
    changes = {
        "equipment.mod.voc": f"{voc} V",
        "equipment.mod.vmp": f"{0.8 * voc:g} V",
        "equipment.mod.voc_coefficient": f"{coefficient} {unit}",
        "string.S1.count": count,
        "site.low_temperature": f"{low} degC",
    }
    ours = string_figures(build_network(house(changes)), open_book("2023"), [])[0]
    assert alike(ours.cold_voc, reference.cold_voltage(voc, count, coefficient, unit, low)), "by coefficient"
    assert alike(ours.cold_voc_table, reference.cold_voltage_by_table(voc, count, low)), "by table"


@st.composite
def buses(draw: st.DrawFn) -> dict[str, object]:
    """A main panel with units on it."""
    return {
        "edition": draw(EDITIONS),
        "bus": draw(st.sampled_from([100.0, 125.0, 150.0, 200.0, 225.0, 320.0, 400.0])),
        "main": draw(st.sampled_from([60.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0])),
        "units": draw(st.lists(st.one_of(st.floats(5.0, 60.0).map(lambda value: round(value, 1)), st.sampled_from([16.0, 32.0, 40.0])), min_size=1, max_size=3)),
        "opposite": draw(st.lists(st.booleans(), min_size=3, max_size=3)),
        "feed": draw(st.sampled_from(["top", "bottom", None])),
        "others": draw(st.one_of(st.none(), st.lists(st.sampled_from([15.0, 20.0, 30.0, 50.0]), max_size=6))),
    }


def buses_agree(drawn: dict[str, object]) -> None:
    """Each method on the bus of a main panel with units on it."""
    raw = tables({}, BASE)
    currents_a = drawn["units"]
    devices = [60.0, 80.0, 100.0][: len(currents_a)]
    raw["panel"] = {"MP": {**raw["panel"]["MP"], "bus": f"{drawn['bus']:g} A", "main": f"{drawn['main']:g} A", "feed": drawn["feed"]}}
    if drawn["others"] is not None:
        raw["panel"]["MP"]["other_breakers"] = [f"{rating:g} A" for rating in drawn["others"]]
    raw["isolation"], raw["string"], raw["unit"], raw["backup"] = {}, {}, {}, {}
    raw["circuit"] = {"C4": raw["circuit"]["C4"]}
    raw["section"] = {key: raw["section"][key] for key in ("R2", "R5")}
    raw["load"] = {"HOUSE": raw["load"]["HOUSE"]}
    for number, (amps, device, opposite) in enumerate(zip(currents_a, devices, drawn["opposite"], strict=False), 1):
        raw["equipment"][f"unit-{number}"] = {**raw["equipment"]["unit-a"], "ac_current": f"{amps} A", "overcurrent_max": "125 A"}
        raw["unit"][f"U{number}"] = {"equipment": f"unit-{number}"}
        raw["circuit"][f"K{number}"] = {"from": "MP", "to": f"U{number}", "path": ["R2"], "breaker": f"{device:g} A"}
        if opposite:
            raw["circuit"][f"K{number}"]["bus_position"] = "opposite end"
    del raw["equipment"]["unit-a"], raw["equipment"]["mod"]
    raw["panel"]["MP"] = {key: value for key, value in raw["panel"]["MP"].items() if value is not None}
    sized = size(compute_currents(build_network(house({}, raw)), open_book(drawn["edition"])))
    figures = bus_figures(sized.currents, sized.circuits)[0]
    known = drawn["feed"] is not None and all(drawn["opposite"][: len(currents_a)])
    all_devices = None if drawn["others"] is None else [*devices, *drawn["others"]]
    expected = reference.bus_methods(drawn["bus"], drawn["main"], currents_a, all_devices, known)
    verdicts = {BusVerdict.PASS: True, BusVerdict.FAIL: False, BusVerdict.NOT_USABLE: None}
    assert {method.key: verdicts[method.verdict] for method in figures.methods if method.key in expected} == expected


@st.composite
def runs(draw: st.DrawFn) -> dict[str, object]:
    """A circuit through two to four places, short and long, cool and hot, empty and crowded."""
    length = st.one_of(st.floats(0.5, 12.0).map(lambda value: round(value, 1)), st.sampled_from([1.0, 5.0, 10.0, 40.0, 90.0, 100.0, 150.0]))
    place = st.tuples(length, st.integers(25, 65).map(float), st.sampled_from([0, 0, 2, 6, 20]))
    return {"edition": draw(EDITIONS), "places": draw(st.lists(place, min_size=2, max_size=4))}


def runs_agree(drawn: dict[str, object]) -> None:
    """The ampacity of a circuit that passes several places, and the kernel under both readings of the 10 percent."""
    base = reference.ampacity("6 AWG", "Cu", 90)
    changes: dict[str, object] = {"circuit.C2.path": [f"Q{number}" for number in range(len(drawn["places"]))], "circuit.C3.path": ["R3"]}
    portions = []
    for number, (length, ambient, spare) in enumerate(drawn["places"]):
        changes[f"section.Q{number}"] = {
            "method": "EMT", "place": "garage", "moisture": "dry", "ambient": f"{ambient:g} degC", "length": f"{length} ft", "spare_conductors": spare
        }  # fmt: skip
        count = 2 + spare if length > 2.0 else 1
        portions.append((length, base * reference.ambient_factor(ambient, 90) * reference.count_factor(count)))
    changes["section.R4"] = None
    network = build_network(house(changes))
    ours = next(one for one in size(compute_currents(network, open_book(drawn["edition"]))).circuits if one.tag == "C2")
    assert alike(ours.t2_ampacity, reference.run_ampacity(portions, of_whole_circuit=True))
    kernel_portions = [Portion(str(number), length, amps) for number, (length, amps) in enumerate(portions)]
    for basis, whole in ((LowerPortionBasis.OF_CIRCUIT, True), (LowerPortionBasis.OF_HIGHER, False)):
        assert alike(governing_portion(kernel_portions, basis).ampacity_a, reference.run_ampacity(portions, whole)), basis
