"""Article 690, module-level electronics: shutdown devices and dc-to-dc converters within their own limits.

References
----------
``listed_instructions`` 110.3(B) for the limits; ``pv_dc_dc_voltage`` 690.7(B),
``dc_dc_converter_current`` 690.8(A).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from linecalc.calc.pv import array_power
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.electronics import Electronics, electronics_of
from linecalc.network.loads import term_of
from linecalc.network.records import Node
from linecalc.sizing.records import Sized, StringFigures
from linecalc.term import Number, given, label
from linecalc.units import Quantity

RULE = "listed_instructions"


@dataclass(frozen=True, slots=True)
class _Limit:
    """One limit of a device: the key that states it, what is held against it, and the words for both."""

    key: str
    symbol: str
    demand: Number | None
    unit: str
    words: str


def _with_electronics(sized: Sized) -> Iterator[tuple[StringFigures, Node, Electronics]]:
    for string in sized.strings:
        node = sized.network.nodes[string.tag]
        electronics = electronics_of(sized.network.project, node)
        if electronics is not None:
            yield string, node, electronics


def described(sized: Sized) -> Iterator[Check]:
    """The electronics of a string are an entry of the equipment data, so that their limits are known.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for string, _, electronics in _with_electronics(sized):
        if electronics.data is None:
            message = f"the modules have a {electronics.kind} each, whose limits are not given"
            yield not_checked(sized.book, f"{RULE}.electronics", string.tag, message, (electronics.path,))
            continue
        message = f"{electronics.devices} {electronics.kind}s, {electronics.data.modules} module(s) on each"
        yield remark(sized.book, f"{RULE}.electronics", string.tag, Level.NOTE, message)


def device_inputs(sized: Sized) -> Iterator[Check]:
    """The modules on one device stay within its input voltage, current and power.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for string, node, electronics in _with_electronics(sized):
        if electronics.data is None:
            continue
        base, module = f"equipment.{string.module}", node.data
        number = given(float(electronics.data.modules), "", "N_d", f"{electronics.path}.modules", "modules on one device")
        power = array_power(number, term_of(module.power, "P_mod", f"{base}.power", "module power"))
        limits = [
            _Limit("input_voltage_max", "V_in_max", string.device_voltage, "V", "cold voltage of the modules on one device"),
            _Limit("input_current_max", "I_in_max", term_of(module.isc, "Isc", f"{base}.isc", "module short-circuit current"), "A", "module short-circuit current"),
        ]
        if electronics.converts():
            limits.append(_Limit("input_power_max", "P_in_max", label(power, f"{string.tag}.P_device", "P_device"), "W", "module power on one device"))
        yield from _held(sized, string, electronics, limits)


def device_strings(sized: Sized) -> Iterator[Check]:
    """The string stays within what the devices permit: voltage and current, or number and power of converters.

    References
    ----------
    ``listed_instructions``: 110.3(B); ``pv_dc_dc_voltage``: 690.7(B).
    """
    for string, _, electronics in _with_electronics(sized):
        if electronics.data is None:
            continue
        if electronics.converts():
            yield from _held(sized, string, electronics, [_Limit("string_power_max", "P_string_max", string.power_w, "W", "power of the string")])
            yield _count(sized, string, electronics)
            continue
        cold = string.cold_voc if string.cold_voc is not None else string.cold_voc_table
        limits = [_Limit("string_voltage_max", "V_string_max", cold, "V", "cold voltage of the string")]
        if electronics.data.output_current_max is not None:
            limits.append(_Limit("output_current_max", "I_out_max", string.isc, "A", "current of the string"))
        yield from _held(sized, string, electronics, limits)


def _held(sized: Sized, string: StringFigures, electronics: Electronics, limits: list[_Limit]) -> Iterator[Check]:
    for limit in limits:
        stated, path = getattr(electronics.data, limit.key), f"{electronics.path}.{limit.key}"
        rule = f"{RULE}.{limit.key}"
        if not isinstance(stated, Quantity) or limit.demand is None:
            needs = (path,) if stated is None else string.needs or ("site.low_temperature",)
            yield not_checked(sized.book, rule, string.tag, f"{limit.words} against the {electronics.kind}'s limit: input missing", needs)
            continue
        yield limit_check(
            sized.book,
            rule,
            string.tag,
            limit.demand,
            term_of(stated, limit.symbol, path, f"limit of the {electronics.kind}"),
            limit.unit,
            f"{limit.words} is within the {electronics.kind}'s limit",
            f"{limit.words} is above the {electronics.kind}'s limit",
        )


def _count(sized: Sized, string: StringFigures, electronics: Electronics) -> Check:
    data, rule = electronics.data, f"{RULE}.string_count"
    missing = tuple(f"{electronics.path}.{key}" for key in ("string_count_min", "string_count_max") if getattr(data, key) is None)
    if missing:
        return not_checked(sized.book, rule, string.tag, "how many converters a string may have is not given", missing)
    level = Level.PASS if data.string_count_min <= electronics.devices <= data.string_count_max else Level.FAIL
    message = f"{electronics.devices} converters in series, {data.string_count_min} to {data.string_count_max} by their instructions"
    return remark(sized.book, rule, string.tag, level, message)
