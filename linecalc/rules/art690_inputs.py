"""Article 690, inputs of a unit: currents, string protection, array power.

References
----------
``mppt_limit``, ``array_power_limit``, ``usable_array_power``: datasheet limits
and common practice; ``pv_ocpd_not_required`` 690.9(A).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.calc.pv import (
    input_short_circuit,
    input_short_circuit_raised,
    input_working_current,
    string_protection_current,
    string_working_current,
    usable_array_power,
)
from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.build import natural
from linecalc.network.electronics import Electronics, electronics_of
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Node, System
from linecalc.project.equipment import UnitData
from linecalc.sizing.records import Sized, StringFigures
from linecalc.term import Number, Term, given, label, named, smallest, total, value_of


@dataclass(frozen=True, slots=True)
class Input:
    """One MPPT input with the strings on it."""

    unit: Node
    number: int
    strings: tuple[StringFigures, ...]

    @property
    def name(self) -> str:
        """As printed, e.g. ``U1 input 2``."""
        return f"{self.unit.tag} input {self.number}"


def inputs_of_units(sized: Sized) -> tuple[Input, ...]:
    """Every input that has a string with a known input number; a single input needs no number."""
    found: dict[tuple[str, int], list[StringFigures]] = {}
    for string in sized.strings:
        number = input_number(sized, string)
        if number is not None:
            found.setdefault((string.unit, number), []).append(string)
    order = sorted(found, key=lambda key: (natural(key[0]), key[1]))
    return tuple(Input(sized.network.nodes[unit], number, tuple(found[unit, number])) for unit, number in order)


def input_number(sized: Sized, string: StringFigures) -> int | None:
    """The input of a string: stated, or the only one that the unit has."""
    if string.input is not None:
        return string.input
    return 1 if sized.network.nodes[string.unit].data.mppt == 1 else None


def input_known(sized: Sized) -> Iterator[Check]:
    """Every string names an input that its unit has.

    References
    ----------
    ``mppt_limit``.
    """
    for string in sized.strings:
        unit = sized.network.nodes[string.unit]
        if input_number(sized, string) is None:
            needs = (f"string.{string.tag}.input",)
            yield not_checked(sized.book, "mppt_limit", string.tag, f"the input of {string.unit} is not given", needs)
        elif unit.data.mppt is not None and input_number(sized, string) > unit.data.mppt:
            message = f"{string.unit} has {unit.data.mppt} inputs, not {string.input}"
            yield remark(sized.book, "mppt_limit.input", string.tag, Level.FAIL, message)


def _module_term(sized: Sized, one: Input, key: str, symbol: str, meaning: str) -> Term:
    """The largest of a figure over the strings of an input; of converters their rated output current."""
    converter = _converter(sized, one)
    if converter is not None and converter.data is not None and converter.data.output_current is not None:
        return term_of(converter.data.output_current, "I_conv", f"{converter.path}.output_current", "rated output current of a converter")
    string = max(one.strings, key=lambda found: getattr(sized.network.nodes[found.tag].data, key).value)
    return term_of(getattr(sized.network.nodes[string.tag].data, key), symbol, f"equipment.{string.module}.{key}", meaning)


def _converter(sized: Sized, one: Input) -> Electronics | None:
    """The converters of an input's strings, or None where its modules are in series without any."""
    found = (electronics_of(sized.network.project, sized.network.nodes[string.tag]) for string in one.strings)
    return next((electronics for electronics in found if electronics is not None and electronics.converts()), None)


def _n(one: Input) -> Term:
    return given(float(len(one.strings)), "", "n", f"string.{one.strings[0].tag}", f"strings on {one.name}")


def short_circuit_current(sized: Sized) -> Iterator[Check]:
    """The short-circuit current of an input's strings against its rating, at STC and raised by 1.25.

    References
    ----------
    ``mppt_limit``: the limit is the datasheet's.
    """
    for one in inputs_of_units(sized):
        data, path = one.unit.data, f"equipment.{one.unit.item.equipment}.mppt_short_circuit"
        subject, prefix = one.strings[0].tag, f"{one.unit.tag}.input{one.number}"
        if data.mppt_short_circuit is None:
            yield not_checked(sized.book, "mppt_limit.short_circuit", subject, f"short-circuit rating of {one.name} is not given", (path,))
            continue
        isc = _module_term(sized, one, "isc", "Isc", "module short-circuit current")
        limit = term_of(data.mppt_short_circuit, "I_sc_max", path, "largest short-circuit current of an input")
        yield limit_check(
            sized.book,
            "mppt_limit.short_circuit",
            subject,
            label(input_short_circuit(isc, _n(one)), f"{prefix}.I_sc"),
            limit,
            "A",
            f"short-circuit current on {one.name} is within its rating",
            f"short-circuit current on {one.name} is above its rating",
        )
        if data.mppt_short_circuit_basis == "STC" or _converter(sized, one) is not None:
            continue
        raised = label(input_short_circuit_raised(isc, _n(one)), f"{prefix}.I_sc_raised")
        if not at_most(raised, limit):
            stated = data.mppt_short_circuit_basis is not None
            words = "the instructions say that the rating is for 1.25 Isc" if stated else "the instructions do not say that the rating is at STC"
            message = f"1.25 times the short-circuit current on {one.name}, {value_of(raised):.4g} A, is above its rating of {limit.value:g} A; {words}"
            level = Level.FAIL if stated else Level.WARN
            yield remark(sized.book, "mppt_limit.short_circuit_raised", subject, level, message, (raised,))


def working_current(sized: Sized) -> Iterator[Check]:
    """The working current of an input's strings against its working current; above it, the input clips.

    References
    ----------
    ``mppt_limit``.
    """
    for one in inputs_of_units(sized):
        data, path = one.unit.data, f"equipment.{one.unit.item.equipment}.mppt_current"
        subject = one.strings[0].tag
        if data.mppt_current is None:
            yield not_checked(sized.book, "mppt_limit.working", subject, f"working current of {one.name} is not given", (path,))
            continue
        imp = _working(sized, one)
        if imp is None:
            needs = tuple(dict.fromkeys(need for string in one.strings for need in string.needs))
            yield not_checked(sized.book, "mppt_limit.working", subject, f"working current of the converters on {one.name} is not known", needs)
            continue
        yield limit_check(
            sized.book,
            "mppt_limit.working",
            subject,
            label(input_working_current(imp, _n(one)), f"{one.unit.tag}.input{one.number}.I_mp"),
            term_of(data.mppt_current, "I_mppt", path, "working current of an input"),
            "A",
            f"working current on {one.name} is within its range",
            f"working current on {one.name} is above its range: the input clips",
            broken=Level.WARN,
        )


def _working(sized: Sized, one: Input) -> Number | None:
    """The working current of one string: of its modules, or of converters what the string's power gives at its working voltage."""
    if _converter(sized, one) is None:
        return _module_term(sized, one, "imp", "Imp", "module working current")
    known = [string for string in one.strings if string.hot_vmp is not None]
    if len(known) < len(one.strings):
        return None
    string = max(known, key=lambda found: value_of(found.power_w))
    return label(string_working_current(string.power_w, string.hot_vmp), f"{string.tag}.I_work")


def equal_strings(sized: Sized) -> Iterator[Check]:
    """Paralleled strings on an input are alike.

    References
    ----------
    ``mppt_limit``: common practice.
    """
    for one in inputs_of_units(sized):
        if len({(string.module, string.count) for string in one.strings}) > 1:
            message = f"strings {', '.join(string.tag for string in one.strings)} on {one.name} differ in module or count"
            yield remark(sized.book, "mppt_limit.equal", one.strings[0].tag, Level.WARN, message)


def string_protection(sized: Sized) -> Iterator[Check]:
    """String fuses may be left out only if what flows into a faulted string stays within the module's fuse rating.

    References
    ----------
    ``pv_ocpd_not_required``: 690.9(A)(1), 690.9(A) Exception in 2017.
    """
    for one in inputs_of_units(sized):
        subject = one.strings[0].tag
        fused = [sized.network.nodes[string.tag].item.fuse for string in one.strings]
        if all(fuse not in (None, "none") for fuse in fused):
            yield from _fuses(sized, one)
            continue
        module = sized.network.nodes[subject].data
        needs = []
        if module.series_fuse is None:
            needs.append(f"equipment.{one.strings[0].module}.series_fuse")
        if one.unit.data.backfeed_current is None:
            needs.append(f"equipment.{one.unit.item.equipment}.backfeed_current")
        if needs:
            yield not_checked(sized.book, "pv_ocpd_not_required", subject, f"whether strings on {one.name} need fuses is not known", tuple(needs))
            continue
        yield _without_fuses(sized, one)


def _without_fuses(sized: Sized, one: Input) -> Check:
    subject = one.strings[0].tag
    backfeed = term_of(one.unit.data.backfeed_current, "I_back", f"equipment.{one.unit.item.equipment}.backfeed_current", "backfeed of the unit")
    isc = _module_term(sized, one, "isc", "Isc", "module short-circuit current")
    current = label(string_protection_current(_n(one), isc, backfeed), f"{one.unit.tag}.input{one.number}.I_rev")
    path = f"equipment.{one.strings[0].module}.series_fuse"
    fuse = term_of(sized.network.nodes[subject].data.series_fuse, "I_fuse", path, "largest series fuse of the module")
    limits = [fuse, *_string_ampacities(sized, one)]
    limit = named(smallest(*limits), "I_string", "A", "fuse rating of the module and ampacity of the string's conductors", "pv_ocpd_not_required")
    return limit_check(
        sized.book,
        "pv_ocpd_not_required",
        subject,
        current,
        label(limit, f"{one.unit.tag}.input{one.number}.I_string") if len(limits) > 1 else fuse,
        "A",
        f"strings on {one.name} need no fuses",
        f"strings on {one.name} need fuses: the others can push more than the module's fuse rating or the string's conductors carry",
    )


def _string_ampacities(sized: Sized, one: Input) -> list[Number]:
    """Ampacities of the conductors that carry one string of an input alone, where others are beside it."""
    if len(one.strings) == 1:
        return []
    tags = {string.tag for string in one.strings}
    pv = (circuit for circuit in sized.circuits if circuit.circuit.system is System.PV and circuit.protect_a is not None)
    behind = ((circuit, sized.network.strings_behind(circuit.circuit)) for circuit in pv)
    return [circuit.protect_a for circuit, strings in behind if len(strings) == 1 and strings[0].tag in tags]


def _fuses(sized: Sized, one: Input) -> Iterator[Check]:
    for string in one.strings:
        node = sized.network.nodes[string.tag]
        fuse = term_of(node.item.fuse, "I_fuse", f"string.{string.tag}.fuse", "string fuse")
        if node.data.series_fuse is None:
            needs = (f"equipment.{string.module}.series_fuse",)
            yield not_checked(sized.book, "pv_ocpd", string.tag, "the module's largest series fuse is not given", needs)
            continue
        limit = term_of(node.data.series_fuse, "I_fuse_max", f"equipment.{string.module}.series_fuse", "largest series fuse of the module")
        yield limit_check(
            sized.book, "pv_ocpd", string.tag, fuse, limit, "A", "the string fuse is within the module's rating", "the string fuse is above the module's rating"
        )


def array_power(sized: Sized) -> Iterator[Check]:
    """Array power against the stated maximum, and against what the unit can use.

    References
    ----------
    ``array_power_limit``: datasheet; ``usable_array_power``: common practice, no source.
    """
    for unit in sized.network.of_kind(Kind.UNIT, Kind.INVERTER):
        strings = [string for string in sized.strings if string.unit == unit.tag]
        if not strings:
            continue
        power = label(named(total([string.power_w for string in strings]), "P_unit", "W", "array power on the unit at STC", "array_power_limit"), f"{unit.tag}.P_array")
        path = f"equipment.{unit.item.equipment}"
        if unit.data.array_power_max is not None:
            yield limit_check(
                sized.book,
                "array_power_limit",
                unit.tag,
                power,
                term_of(unit.data.array_power_max, "P_max", f"{path}.array_power_max", "largest array power of the unit"),
                "W",
                "array power is within the unit's stated maximum",
                "array power is above the unit's stated maximum",
            )
        if isinstance(unit.data, UnitData):
            yield _usable(sized, unit, power, path)
    yield from _input_power(sized)


def _usable(sized: Sized, unit: Node, power: object, path: str) -> Check:
    ac = term_of(unit.data.ac_power, "P_ac", f"{path}.ac_power", "continuous AC rating")
    charge = term_of(unit.data.charge_power, "P_chg", f"{path}.charge_power", "DC charge rate of the storage")
    usable = label(usable_array_power(ac, charge), f"{unit.tag}.P_use")
    return limit_check(
        sized.book,
        "usable_array_power",
        unit.tag,
        power,
        usable,
        "W",
        f"usable array power {value_of(usable) / 1000:.4g} kW while the storage has room, {ac.value / 1000:.4g} kW with it full",
        f"more array than the unit can use: {value_of(usable) / 1000:.4g} kW while the storage has room, {ac.value / 1000:.4g} kW with it full",
        broken=Level.WARN,
    )


def _input_power(sized: Sized) -> Iterator[Check]:
    for one in inputs_of_units(sized):
        if one.unit.data.input_power_max is None:
            continue
        power = named(total([string.power_w for string in one.strings]), "P_input", "W", f"array power on {one.name}", "array_power_limit")
        limit = term_of(one.unit.data.input_power_max, "P_in_max", f"equipment.{one.unit.item.equipment}.input_power_max", "largest power of an input")
        yield limit_check(
            sized.book,
            "array_power_limit.input",
            one.strings[0].tag,
            label(power, f"{one.unit.tag}.input{one.number}.P"),
            limit,
            "W",
            f"array power on {one.name} is within its maximum",
            f"array power on {one.name} is above its maximum",
        )
