"""Article 690, strings: cold and hot voltage.

References
----------
``pv_max_voltage`` 690.7, ``pv_voltage_table`` Table 690.7(A); the MPPT window is
the datasheet's, its use common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.electronics import electronics_of
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, System
from linecalc.sizing.records import Sized, SizedCircuit, StringFigures
from linecalc.term import Term, given, label, named, smallest, value_of

DWELLING_LIMIT_V = 600.0


def cold_voltage(sized: Sized) -> Iterator[Check]:
    """The cold voltage of a string stays within the dwelling limit and every rating of its equipment.

    The datasheet coefficient decides where it is given; else the table, for
    crystalline silicon.

    References
    ----------
    ``pv_max_voltage``: 690.7, 690.7(A)(1) to (3).
    """
    for string in sized.strings:
        voltage = string.cold_voc if string.cold_voc is not None else string.cold_voc_table
        limit, needs, lowest = _voltage_limit(sized, string)
        missing = tuple(need for need in string.needs if "voc_coefficient" in need or "low_temp" in need or "string_voltage_max" in need)
        if voltage is None or (needs and at_most(voltage, limit)):
            yield not_checked(
                sized.book, "pv_max_voltage", string.tag, "the cold voltage or one of its limits is not known", (*missing, *needs)
            )
            continue
        converting = _converting(sized, string)
        method = "by the datasheet coefficient" if string.cold_voc is not None else "by the table of cold factors"
        method = "by the converters' instructions" if converting else method
        other = () if string.cold_voc_table is None else (string.cold_voc_table,)
        yield limit_check(
            sized.book,
            "pv_max_voltage",
            string.tag,
            voltage,
            limit,
            "V",
            f"cold voltage {method} is within {lowest}",
            f"cold voltage {method} is above {lowest}",
            terms=other,
            flip=None if converting else _flip(string, voltage, limit),
        )


def _converting(sized: Sized, string: StringFigures) -> bool:
    electronics = electronics_of(sized.network.project, sized.network.nodes[string.tag])
    return electronics is not None and electronics.converts()


def _flip(string: StringFigures, voltage: object, limit: object) -> str:
    most = int(value_of(limit) / (value_of(voltage) / string.count) + 1e-9)
    return f"passes to {most} modules in series"


def _voltage_limit(sized: Sized, string: StringFigures) -> tuple[Term, tuple[str, ...], str]:
    """The lowest of all voltage limits, the ones that are missing, and the name of the lowest."""
    network = sized.network
    unit = network.nodes[string.unit]
    module = network.nodes[string.tag].data
    found: list[tuple[Term, str]] = [(given(DWELLING_LIMIT_V, "V", "V_dwelling", "rule:pv_max_voltage", "limit on a dwelling"), "600 V on a dwelling")]
    needs = []
    unit_path = f"equipment.{unit.item.equipment}.dc_voltage_max"
    if unit.data.dc_voltage_max is None:
        needs.append(unit_path)
    else:
        found.append((term_of(unit.data.dc_voltage_max, "V_unit", unit_path, "largest DC voltage of the unit"), f"the maximum of {string.unit}"))
    module_path = f"equipment.{string.module}.system_voltage"
    if module.system_voltage is None:
        needs.append(module_path)
    else:
        found.append((term_of(module.system_voltage, "V_module", module_path, "largest system voltage of the module"), "the modules' system voltage"))
    found.extend(_on_the_way(sized, string))
    needs.extend(_unrated(sized, string))
    lowest = min(found, key=lambda pair: pair[0].value)
    limit = named(smallest(*[term for term, _ in found]), "V_limit", "V", "lowest voltage limit", "pv_max_voltage")
    return label(limit, f"{string.tag}.V_limit"), tuple(needs), lowest[1]


def _on_the_way(sized: Sized, string: StringFigures) -> Iterator[tuple[Term, str]]:
    """The DC ratings stated for conductors, disconnects and combiners that the string passes."""
    network = sized.network
    for circuit in _way(sized, string):
        if circuit.circuit.item.voltage_rating is not None:
            path = f"circuit.{circuit.tag}.voltage_rating"
            yield term_of(circuit.circuit.item.voltage_rating, "V_wire", path, "insulation voltage"), f"the insulation of {circuit.tag}"
        for end in (circuit.circuit.up, circuit.circuit.down):
            node = network.nodes[end]
            if node.kind in (Kind.DISCONNECT, Kind.COMBINER) and node.item.dc_voltage is not None:
                path = f"{node.kind.value}.{end}.dc_voltage"
                yield term_of(node.item.dc_voltage, f"V_{end}", path, f"DC voltage rating of {end}"), f"the DC rating of {end}"


def _way(sized: Sized, string: StringFigures) -> list[SizedCircuit]:
    """The PV circuits that carry a string."""
    pv = (circuit for circuit in sized.circuits if circuit.circuit.system is System.PV)
    return [circuit for circuit in pv if any(node.tag == string.tag for node in sized.network.strings_behind(circuit.circuit))]


def _unrated(sized: Sized, string: StringFigures) -> list[str]:
    """The disconnects and combiners on the way whose DC voltage rating is not given."""
    ends = {end for circuit in _way(sized, string) for end in (circuit.circuit.up, circuit.circuit.down)}
    nodes = (sized.network.nodes[end] for end in sorted(ends))
    return [
        f"{node.kind.value}.{node.tag}.dc_voltage" for node in nodes if node.kind in (Kind.DISCONNECT, Kind.COMBINER) and node.item.dc_voltage is None
    ]


def table_voltage(sized: Sized) -> Iterator[Check]:
    """The table method is printed beside the coefficient; it does not decide then.

    References
    ----------
    ``pv_voltage_table``: Table 690.7(A).
    """
    for string in sized.strings:
        if string.cold_voc is None or string.cold_voc_table is None:
            continue
        message = (
            f"by the table the cold voltage would be {value_of(string.cold_voc_table):.4g} V; "
            f"the datasheet coefficient decides with {value_of(string.cold_voc):.4g} V"
        )
        yield remark(sized.book, "pv_voltage_table", string.tag, Level.NOTE, message, (string.cold_voc_table,))


def hot_voltage(sized: Sized) -> Iterator[Check]:
    """The hot working voltage stays above the lower end of the input's window; below it is a warning.

    References
    ----------
    ``mppt_window``: common practice, no source.
    """
    for string in sized.strings:
        unit = sized.network.nodes[string.unit]
        path = f"equipment.{unit.item.equipment}.mppt_window"
        if string.hot_vmp is None or unit.data.mppt_window is None:
            needs = [need for need in string.needs if "vmp" in need or "high" in need or need.endswith("string_voltage")]
            needs += [path] if unit.data.mppt_window is None else []
            yield not_checked(sized.book, "mppt_window.hot", string.tag, "the hot working voltage is not known", tuple(needs))
            continue
        low, high = unit.data.mppt_window
        yield limit_check(
            sized.book,
            "mppt_window.hot",
            string.tag,
            string.hot_vmp,
            term_of(low, "V_mppt_low", path, "lower end of the MPPT window"),
            "V",
            "hot working voltage is within the MPPT window",
            "hot working voltage falls below the MPPT window: the input stops tracking on hot days",
            Sense.AT_LEAST,
            Level.WARN,
        )
        if string.cold_vmp is not None and value_of(string.cold_vmp) > high.value:
            message = f"cold working voltage {value_of(string.cold_vmp):.4g} V is above the MPPT window ({high.value:g} V)"
            yield remark(sized.book, "mppt_window.cold", string.tag, Level.NOTE, message, (string.cold_vmp,))
