"""Article 705: a listed power control setting, and what it does and does not stand for.

References
----------
``pcs`` 705.13; ``ems`` 750.30.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.compare import at_most
from linecalc.check import Check, Level, remark
from linecalc.network.records import Kind
from linecalc.sizing.power_control import covers, setting_of
from linecalc.sizing.records import BusFigures, BusVerdict, Sized
from linecalc.term import value_of


def setting(sized: Sized) -> Iterator[Check]:
    """The control with its listing, its setting, and the buses and conductors that it covers.

    References
    ----------
    ``pcs``: 705.13; NEC 2017 has no such rule, and every source counts at full rating there.
    """
    control = sized.network.project.power_control
    if control is None:
        return
    named = ", ".join(control.covers)
    if not sized.book.wording.power_control:
        message = f"NEC {sized.book.edition} has no rule for a power control setting: {named} count every source at full rating"
        yield remark(sized.book, "pcs", "system", Level.WARN, message)
        return
    message = (
        f"power control ({control.listing}) set to {control.setting.as_written} stands for the source current on {named}; "
        "all other buses and conductors count every source at full rating; only qualified persons may change the setting"
    )
    yield remark(sized.book, "pcs", "system", Level.NOTE, message, (setting_of(sized.network.project),))
    yield from _not_covered(sized)


def _not_covered(sized: Sized) -> Iterator[Check]:
    """Names that a setting cannot stand for."""
    for tag in sized.network.project.power_control.covers:
        node = sized.network.nodes.get(tag)
        circuit = next((found for found in sized.circuits if found.tag == tag), None)
        if node is not None and node.kind not in (Kind.PANEL, Kind.ISOLATION):
            message = f"{tag} is a {node.kind.value}: a setting covers buses and conductors, so it changes nothing there"
            yield remark(sized.book, "pcs.covers", tag, Level.WARN, message)
        elif circuit is not None and sized.network.nodes[circuit.circuit.down].kind in (Kind.UNIT, Kind.INVERTER):
            message = f"{tag} is the circuit of one source: its conductors and device keep the full rating"
            yield remark(sized.book, "pcs.covers", tag, Level.WARN, message)


def other_reading(sized: Sized) -> Iterator[Check]:
    """Covered buses: the setting counts at 125 % here; some readers add it as it is.

    References
    ----------
    ``pcs``: 705.13.
    """
    for bus in sized.buses:
        summing = bus.used is not None and bus.used.key in ("busbar_sum", "busbar_120", "busbar_center_fed")
        if covers(sized.network.project, sized.book, bus.tag) and bus.protected_by is not None and summing:
            yield _reading(sized, bus)


def _reading(sized: Sized, bus: BusFigures) -> Check:
    plain = value_of(bus.source_demand) / 1.25 + value_of(bus.protected_by)
    verdict = "within" if at_most(plain, bus.used.limit) else "above"
    usual = "passes" if bus.used.verdict is BusVerdict.PASS else "does not pass"
    message = (
        f"{bus.tag} {usual} with the setting counted at 125 %; readers who add the setting as it is find {plain:.5g} A, "
        f"{verdict} the {value_of(bus.used.limit):.5g} A of the same method"
    )
    return remark(sized.book, "pcs.reading", bus.tag, Level.NOTE, message, (bus.source_demand,))
