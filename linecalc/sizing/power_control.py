"""A listed power control setting: where it takes the place of source current, and where it does not.

References
----------
``pcs``: 705.13; NEC 2017 has no such rule.
"""

from __future__ import annotations

from collections.abc import Sequence

from linecalc.calc.interconnection import controlled_current, sources_together
from linecalc.codebook import Book
from linecalc.network.loads import term_of
from linecalc.project.model import Project
from linecalc.term import Number, Term, label


def setting_of(project: Project) -> Term | None:
    """The setting of the control, in amperes; None where the project has none."""
    control = project.power_control
    return None if control is None else term_of(control.setting, "I_set", "power_control.setting", "setting of the power control")


def covers(project: Project, book: Book, tag: str) -> bool:
    """Whether the setting takes the place of source current on a bus or circuit in this edition."""
    control = project.power_control
    return control is not None and book.wording.power_control and tag in control.covers


def source_currents(project: Project, book: Book, tag: str, currents_a: Sequence[Number]) -> list[Number]:
    """The source currents that count on a bus or circuit: all of them, or the setting where it covers it."""
    found = list(currents_a)
    if not found or not covers(project, book, tag):
        return found
    together = found[0] if len(found) == 1 else label(sources_together(found), f"{tag}.I_sources")
    return [label(controlled_current(together, setting_of(project)), f"{tag}.I_pcs")]
